//! Every note names its sources, and a figure with a unit stands in no note without one.

use regex::Regex;

use super::{Known, Problem, Rule};
use crate::library::Library;

pub(super) static RULE: Rule = Rule { id: "sources", why: "a number without a source is a rumour", run };

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut out = Vec::new();
    let Ok(torque) = Regex::new(r"(?i)\b\d+([.,]\d+)?\s*(n\s?m|newton.?met|in.?lb|ft.?lb)\b") else { return out };
    for c in &library.causes {
        if c.sources.is_empty() {
            out.push(Problem::new(&c.path, 1, "names no source", "name a source, common-practice or from-memory"));
        }
        for s in &c.sources {
            if library.source(s).is_none() {
                out.push(Problem::new(&c.path, 1, format!("names an unknown source {s}"), "add it to sources.toml"));
            }
        }
        let sourced = c.sources.iter().any(|s| s != "common-practice" && s != "from-memory");
        for s in &c.sections {
            if let (Some(m), false) = (torque.find(&s.markdown), sourced || s.heading == "Riders say") {
                out.push(Problem::new(
                    &c.path,
                    0,
                    format!("a torque without a published source: {}", m.as_str()),
                    "write: the value printed on the part",
                ));
            }
        }
    }
    for d in &library.dangers {
        for s in &d.sources {
            if library.source(s).is_none() {
                out.push(Problem::new(&d.path, 1, format!("names an unknown source {s}"), "add it to sources.toml"));
            }
        }
    }
    out
}
