//! Links, guides and calculators named by notes must exist.

use super::{Known, Problem, Rule};
use crate::library::{Library, link_targets};

pub(super) static RULE: Rule =
    Rule { id: "links", why: "a dead link leaves somebody with dirty hands and no help", run };

fn run(library: &Library, known: &Known) -> Vec<Problem> {
    let mut out = Vec::new();
    let ok = |target: &str| match target.split_once(':') {
        Some(("calc", id)) => known.calculators.contains(&id),
        Some(("source", id)) => library.source(id).is_some(),
        Some(_) => false,
        None => library.find(target).is_some(),
    };
    let mut body = |path: &str, text: &str| {
        for (_, target) in link_targets(text) {
            if !ok(&target) {
                out.push(Problem::new(
                    path,
                    0,
                    format!("dead link ({target})"),
                    "link a note's id, calc:ID or source:ID",
                ));
            }
        }
    };
    for c in &library.causes {
        for s in &c.sections {
            body(&c.path, &s.markdown);
        }
    }
    for f in &library.findings {
        body(&f.path, &f.body);
    }
    for d in &library.dangers {
        body(&d.path, &d.body);
    }
    for c in &library.causes {
        for g in &c.guides {
            if library.cause(g).is_none() {
                out.push(Problem::new(
                    &c.path,
                    1,
                    format!("names an unknown guide {g}"),
                    "mend the id or write the guide",
                ));
            }
        }
        for k in &c.calculators {
            if !known.calculators.contains(&k.as_str()) {
                out.push(Problem::new(
                    &c.path,
                    1,
                    format!("names an unknown calculator {k}"),
                    "see the list of calculators",
                ));
            }
        }
    }
    out
}
