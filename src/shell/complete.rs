//! Completion and hints from a list of words.

use rustyline::completion::{Completer, Pair};
use rustyline::highlight::Highlighter;
use rustyline::hint::Hinter;
use rustyline::validate::Validator;
use rustyline::{Context, Helper};

/// How many completions are offered at once.
const MOST: usize = 40;

/// Offers words that begin with what has been typed: the whole line first, then its last word.
#[derive(Default)]
pub(super) struct Complete {
    pub(super) words: Vec<String>,
}

impl Complete {
    fn matching(&self, typed: &str) -> Vec<&String> {
        let t = typed.to_lowercase();
        self.words.iter().filter(|w| w.to_lowercase().starts_with(&t) && w.len() > typed.len()).take(MOST).collect()
    }
}

impl Completer for Complete {
    type Candidate = Pair;

    fn complete(&self, line: &str, pos: usize, _: &Context<'_>) -> rustyline::Result<(usize, Vec<Pair>)> {
        let typed = line.get(..pos).unwrap_or_default();
        let whole = self.matching(typed);
        let (start, found) = if whole.is_empty() {
            let start = typed.rfind(' ').map_or(0, |i| i + 1);
            (start, self.matching(&typed[start..]))
        } else {
            (0, whole)
        };
        Ok((start, found.into_iter().map(|w| Pair { display: w.clone(), replacement: w.clone() }).collect()))
    }
}

impl Hinter for Complete {
    type Hint = String;

    fn hint(&self, line: &str, pos: usize, _: &Context<'_>) -> Option<String> {
        if pos < line.len() || line.chars().count() < 2 {
            return None;
        }
        self.matching(line).first().and_then(|w| w.get(line.len()..)).map(str::to_owned)
    }
}

impl Highlighter for Complete {}
impl Validator for Complete {}
impl Helper for Complete {}
