//! Riders' sentences are whole ones, most of them without the part's name: a rider who knew it would not ask.

use std::collections::BTreeSet;

use rust_stemmers::{Algorithm, Stemmer};

use super::{Known, Problem, Rule};
use crate::library::Library;

pub(super) static RULE: Rule =
    Rule { id: "riders", why: "complaints seldom name the part; the hearing learns from these sentences", run };

/// Least number of riders' sentences that are whole, and of those that do not give the title away.
const WHOLE: usize = 10;
const BLIND: usize = 5;
/// Least words of a whole sentence.
const WORDS: usize = 4;
/// A sentence gives the title away when it holds this many of its words (or all, if there are fewer).
const NAMED: usize = 2;
/// Small words of titles that name nothing.
const SMALL: &[&str] = &[
    "the", "and", "for", "not", "too", "with", "over", "under", "its", "you", "your", "that", "when", "after",
    "nothing", "wrong", "normal", "new", "how", "set", "check", "are", "into", "out", "off", "than", "but", "while",
    "one", "two", "only", "from",
];

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut out = Vec::new();
    for c in &library.causes {
        let title = stems(&c.title);
        let names = NAMED.min(title.len()).max(1);
        let whole = c.says.iter().filter(|s| s.split_whitespace().count() >= WORDS).count();
        let blind = c.says.iter().filter(|s| stems(s).intersection(&title).count() < names).count();
        if whole < WHOLE {
            out.push(Problem::new(
                &c.path,
                0,
                format!("has only {whole} whole riders' sentences"),
                "write at least ten, as riders would type them",
            ));
        }
        if blind < BLIND {
            out.push(Problem::new(
                &c.path,
                0,
                format!("only {blind} riders' sentences do without the title's words"),
                "write what is heard, felt or seen, not what it is",
            ));
        }
    }
    out
}

/// The stems of the telling words of a text.
fn stems(text: &str) -> BTreeSet<String> {
    let stemmer = Stemmer::create(Algorithm::English);
    text.split(|c: char| !c.is_alphanumeric())
        .map(str::to_lowercase)
        .filter(|w| w.len() > 2 && !SMALL.contains(&w.as_str()))
        .map(|w| stemmer.stem(&w).into_owned())
        .collect()
}
