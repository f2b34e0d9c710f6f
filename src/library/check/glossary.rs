//! The glossary explains in plain words, and not with the word itself.

use super::{Known, Problem, Rule};
use crate::library::Library;

pub(super) static RULE: Rule = Rule { id: "glossary", why: "a word is not explained by harder words", run };

/// Most words of a meaning.
const WORDS: usize = 40;
/// Least words of one.
const LEAST: usize = 3;

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut out = Vec::new();
    for g in &library.vocabulary.glossary {
        let mut say = |what: String, hint: &str| out.push(Problem::new("words.toml", 0, what, hint));
        let words = g.means.split_whitespace().count();
        if !(LEAST..=WORDS).contains(&words) {
            say(format!("{} is explained in {words} words", g.term), "one plain sentence");
        }
        let term = g.term.to_lowercase();
        if g.means.to_lowercase().split(|c: char| !c.is_alphanumeric()).collect::<Vec<_>>().join(" ") == term
            || g.means.to_lowercase().starts_with(&format!("{term} "))
            || g.means.to_lowercase().starts_with(&format!("a {term} "))
            || g.means.to_lowercase().starts_with(&format!("the {term} "))
        {
            say(format!("{} is explained by itself", g.term), "say what it is and where it sits");
        }
    }
    out
}
