//! Words of frequency on exclusive answers must be possible together.

use super::{Known, Problem, Rule};
use crate::domain::CauseKind;
use crate::library::Library;

pub(super) static RULE: Rule = Rule { id: "distribution", why: "always this and always that cannot both be true", run };

/// Words may overshoot 1 a little: people round up.
const MOST: f64 = 1.25;
/// When every answer is named they must at least reach this.
const LEAST: f64 = 0.5;
/// A cause that shows fewer findings than this cannot be told from others.
const LEAST_FINDINGS: usize = 5;

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut out = Vec::new();
    for c in &library.causes {
        for s in &c.shows {
            let f = &library.findings[s.finding.0];
            let total: f64 = s.answers.iter().map(|(_, w)| w.probability()).sum();
            if total > MOST {
                out.push(Problem::new(
                    &c.path,
                    1,
                    format!("{}: words sum to {total:.2}", f.id),
                    "exclusive answers sum to about 1",
                ));
            }
            if s.answers.len() == f.answers.len() && total < LEAST {
                out.push(Problem::new(
                    &c.path,
                    1,
                    format!("{}: all answers named, sum only {total:.2}", f.id),
                    "one of them must be likely",
                ));
            }
        }
        if c.kind == CauseKind::Cause && c.shows.len() < LEAST_FINDINGS {
            out.push(Problem::new(&c.path, 1, format!("shows only {} findings", c.shows.len()), "name at least five"));
        }
    }
    out
}
