//! A finding that no cause listens to is never asked.

use super::{Known, Problem, Rule};
use crate::library::Library;

pub(super) static RULE: Rule = Rule { id: "listened", why: "a finding nobody listens to wastes a reader's time", run };

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut heard = vec![false; library.findings.len()];
    for c in &library.causes {
        for s in &c.shows {
            heard[s.finding.0] = true;
        }
        for n in &c.needs {
            heard[n.finding.0] = true;
        }
    }
    library
        .findings
        .iter()
        .zip(heard)
        .filter(|(f, heard)| !heard && !f.fact)
        .map(|(f, _)| {
            Problem::new(
                &f.path,
                0,
                "no cause listens to this finding",
                "name it under [shows] of the causes it tells apart",
            )
        })
        .collect()
}
