//! Words of a line: lower case, stemmed, with the sentence and clause they stand in.

use rust_stemmers::{Algorithm, Stemmer};

/// More words than this of one line are not looked at.
const MOST: usize = 1500;

/// Articles say nothing here; dropping them lets phrases match more freely.
const DROPPED: [&str; 6] = ["a", "an", "the", "its", "this", "that"];
/// Possessives are passed over, but "my back" is not "back".
const LIGHT: [&str; 6] = ["my", "your", "his", "her", "our", "their"];

/// Words that deny what follows in their clause.
pub(super) const NEGATORS: [&str; 22] = [
    "no", "not", "never", "without", "dont", "doesnt", "isnt", "wasnt", "cant", "wont", "didnt", "nothing", "nor",
    "aint", "havent", "hasnt", "arent", "werent", "cannot", "couldnt", "neither", "none",
];
/// Words that deny a doing, not a thing: "it won't climb to the big ring" tells of the big ring, "I can't hear a creak" of no
/// creak.
pub(super) const UNABLE: [&str; 4] = ["cant", "cannot", "couldnt", "wont"];

/// Whether a word denies the thing that it stands by.
pub(super) fn denies(word: &str) -> bool {
    NEGATORS.contains(&word) && !UNABLE.contains(&word)
}

/// A word of a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Token {
    /// The word as typed, in lower case without apostrophes.
    pub word: String,
    /// Its stem.
    pub stem: String,
    /// Number of the sentence, from 0.
    pub sentence: usize,
    /// Number of the clause, from 0, over the whole line.
    pub clause: usize,
    /// Its sentence ends in a question mark.
    pub asked: bool,
}

impl Token {
    /// A word that does not count between the words of a phrase.
    #[must_use]
    pub fn is_light(&self) -> bool {
        LIGHT.contains(&self.word.as_str())
    }
}

/// Reads the words of a line.
#[must_use]
pub fn tokens(line: &str) -> Vec<Token> {
    let stemmer = Stemmer::create(Algorithm::English);
    let mut out = Vec::new();
    let (mut sentence, mut clause) = (0, 0);
    let mut word = String::new();
    let chars: Vec<char> = line.chars().collect();
    let flush = |word: &mut String, out: &mut Vec<Token>, sentence: usize, clause: usize| {
        if !word.is_empty() && out.len() < MOST {
            if !DROPPED.contains(&word.as_str()) {
                let stem = stem(&stemmer, word);
                out.push(Token { stem, word: std::mem::take(word), sentence, clause, asked: false });
            }
            word.clear();
        }
    };
    for (i, c) in chars.iter().enumerate() {
        let digit_before = i > 0 && chars[i - 1].is_ascii_digit();
        let digit_after = chars.get(i + 1).is_some_and(char::is_ascii_digit);
        match c {
            '\'' | '’' | '‘' | '`' => {}
            '.' | ',' if digit_before && digit_after => word.push('.'),
            '.' | '!' | '?' | ';' | '\n' | '…' => {
                flush(&mut word, &mut out, sentence, clause);
                if *c == '?' {
                    out.iter_mut().rev().take_while(|t| t.sentence == sentence).for_each(|t| t.asked = true);
                }
                sentence += 1;
                clause += 1;
            }
            ',' | ':' | '(' | ')' | '–' | '—' => {
                flush(&mut word, &mut out, sentence, clause);
                clause += 1;
            }
            c if c.is_alphanumeric() => word.extend(c.to_lowercase()),
            _ => flush(&mut word, &mut out, sentence, clause),
        }
    }
    flush(&mut word, &mut out, sentence, clause);
    out
}

/// The words of a text in lower case, without stems: cheaper, for learning spellings.
pub(super) fn plain_words(text: &str) -> impl Iterator<Item = String> {
    text.split(|c: char| !(c.is_alphanumeric() || matches!(c, '\'' | '’')))
        .filter(|w| !w.is_empty())
        .map(|w| w.chars().filter(|c| !matches!(c, '\'' | '’')).flat_map(char::to_lowercase).collect())
}

fn stem(stemmer: &Stemmer, word: &str) -> String {
    // Words of riding whose stems fall together with those of parts: a tired rider is no tyre.
    match word {
        "tired" => word.to_owned(),
        "pedalling" | "pedaling" | "pedalled" | "pedaled" => "pedalling".to_owned(),
        _ => stemmer.stem(word).into_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stems_clauses() {
        let t = tokens("My brakes don't squeal, but 2.4 tyres do. Really?");
        let words: Vec<&str> = t.iter().map(|t| t.word.as_str()).collect();
        assert_eq!(words, ["my", "brakes", "dont", "squeal", "but", "2.4", "tyres", "do", "really"]);
        assert_eq!((t[1].stem.as_str(), t[4].clause, t[8].sentence), ("brake", 1, 1));
        assert!(t[8].asked && !t[7].asked);
    }
}
