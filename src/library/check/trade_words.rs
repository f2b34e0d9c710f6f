//! The beginner's text explains its trade words where they first stand, or links them.

use super::{Known, Problem, Rule};
use crate::library::Library;

pub(super) static RULE: Rule =
    Rule { id: "trade-words", why: "a word that is not known stops the reader at the first sentence", run };

/// So many trade words may stand unexplained before the first heading; the program lists their meaning below the note.
const MOST: usize = 4;

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    library
        .causes
        .iter()
        .filter_map(|c| {
            let words = library.vocabulary.unexplained(c.summary());
            let list: Vec<&str> = words.iter().map(|g| g.term.as_str()).collect();
            (list.len() > MOST).then(|| {
                Problem::new(
                    &c.path,
                    0,
                    format!("{} trade words at the beginning stand unexplained: {}", list.len(), list.join(", ")),
                    "say in brackets what they mean, where they first stand",
                )
            })
        })
        .collect()
}
