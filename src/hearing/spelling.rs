//! Typing errors: an unknown word is read as the one known word that is nearest, if it is near enough.

use std::collections::{BTreeMap, HashMap};

use strsim::osa_distance;

/// Known words, by first letter and length.
#[derive(Clone, Debug, Default)]
pub(super) struct Spelling {
    known: HashMap<String, u32>,
    shelves: BTreeMap<(char, usize), Vec<String>>,
}

impl Spelling {
    /// Learns the words of a text; words that stand often win over rare ones.
    pub(super) fn learn(&mut self, words: impl Iterator<Item = String>) {
        for w in words {
            if w.chars().any(|c| c.is_ascii_digit()) {
                continue;
            }
            let n = self.known.entry(w).or_insert(0);
            *n += 1;
        }
    }

    /// To be called once after learning.
    pub(super) fn shelve(&mut self) {
        let mut words: Vec<&String> = self.known.keys().collect();
        words.sort();
        for w in words {
            if let Some(first) = w.chars().next() {
                self.shelves.entry((first, w.chars().count())).or_default().push(w.clone());
            }
        }
    }

    /// True when the word has been learnt.
    #[must_use]
    pub(super) fn knows(&self, word: &str) -> bool {
        self.known.contains_key(word)
    }

    /// The known word that an unknown one was surely meant to be.
    ///
    /// One slip from five letters on, two from eight on; the first letter must be right; the more frequent word wins, then
    /// the alphabet.
    #[must_use]
    pub(super) fn meant(&self, word: &str) -> Option<&str> {
        let n = word.chars().count();
        let allowed = match n {
            0..=4 => return None,
            5..=7 => 1,
            _ => 2,
        };
        if self.knows(word) || word.chars().any(|c| c.is_ascii_digit()) {
            return None;
        }
        let first = word.chars().next()?;
        let mut best: Option<(usize, u32, &str)> = None;
        for len in n.saturating_sub(allowed)..=n + allowed {
            for w in self.shelves.get(&(first, len)).map(Vec::as_slice).unwrap_or_default() {
                let d = osa_distance(word, w);
                if d == 2 && other_letters(word, w) || inflected(word, w) {
                    continue;
                }
                let often = self.known.get(w).copied().unwrap_or(0);
                // A word seen only once may itself be a slip.
                if d <= allowed
                    && often >= 2
                    && best.is_none_or(|(bd, bo, bw)| (d, u32::MAX - often, w.as_str()) < (bd, u32::MAX - bo, bw))
                {
                    best = Some((d, often, w));
                }
            }
        }
        best.map(|b| b.2)
    }
}

/// Whether the shorter of two words has letters that the longer has not: another word ("shocking", "shopping"), not slips
/// such as letters left out, doubled or exchanged.
fn other_letters(a: &str, b: &str) -> bool {
    let (short, long) = if a.chars().count() <= b.chars().count() { (a, b) } else { (b, a) };
    let mut rest: Vec<char> = long.chars().collect();
    !short.chars().all(|c| rest.iter().position(|r| *r == c).map(|i| rest.swap_remove(i)).is_some())
}

/// Whether a word is the known one with an ending, or with another ending, as "grader" is of "grade": no slip at all.
fn inflected(word: &str, known: &str) -> bool {
    let endings = ["s", "r", "d", "y", "er", "ed", "ly", "es"];
    let other = |ends: [&str; 2]| {
        let [a, b] = ends.map(|e| {
            word.strip_suffix(e).is_some_and(|stem| known.strip_prefix(stem).is_some_and(|k| endings.contains(&k)))
        });
        a || b
    };
    word.strip_prefix(known).is_some_and(|end| endings.contains(&end)) || other(["ed", "er"])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_words_are_meant() {
        let mut s = Spelling::default();
        let words = ["derailleur", "squeak", "brake"];
        s.learn(words.iter().chain(words.iter()).map(|w| (*w).to_owned()));
        s.shelve();
        assert_eq!(s.meant("derailer"), Some("derailleur"));
        assert_eq!(s.meant("squaek"), Some("squeak"));
        assert_eq!(s.meant("shed"), None);
        assert_eq!(s.meant("brake"), None);
        assert_eq!(s.meant("brakes"), None);
        assert_eq!(s.meant("squirm"), None);
    }
}
