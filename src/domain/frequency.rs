//! The words of frequency and the one table that maps them to probabilities.

/// How often a cause shows an answer, in a word.
///
/// The figures are this project's own, chosen near what people mean by such words and checked for calibration by the
/// simulation; Mosteller & Youtz, Statistical Science 5 (1990) 2-12, review such studies (abstract read, table not read).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Frequency {
    /// 0.01
    Never,
    /// 0.08
    Rarely,
    /// 0.30
    Sometimes,
    /// 0.62
    Often,
    /// 0.82
    Usually,
    /// 0.97
    Always,
}

impl Frequency {
    /// All words, from rare to frequent.
    pub const ALL: [Frequency; 6] = [
        Frequency::Never,
        Frequency::Rarely,
        Frequency::Sometimes,
        Frequency::Often,
        Frequency::Usually,
        Frequency::Always,
    ];

    /// The probability that the word stands for, between 0 and 1.
    #[must_use]
    pub fn probability(self) -> f64 {
        match self {
            Frequency::Never => 0.01,
            Frequency::Rarely => 0.08,
            Frequency::Sometimes => 0.30,
            Frequency::Often => 0.62,
            Frequency::Usually => 0.82,
            Frequency::Always => 0.97,
        }
    }

    /// The word itself, as it stands in notes.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Frequency::Never => "never",
            Frequency::Rarely => "rarely",
            Frequency::Sometimes => "sometimes",
            Frequency::Often => "often",
            Frequency::Usually => "usually",
            Frequency::Always => "always",
        }
    }

    /// Reads a word; `None` when it is none of the six.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|f| f.word() == word)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_round_trip_and_probabilities_rise() {
        for pair in Frequency::ALL.windows(2) {
            assert!(pair[0].probability() < pair[1].probability());
        }
        for f in Frequency::ALL {
            assert_eq!(Frequency::from_word(f.word()), Some(f));
        }
        assert_eq!(Frequency::from_word("mostly"), None);
    }
}
