//! A rider's sentence stands in one note only.

use std::collections::BTreeMap;

use super::{Known, Problem, Rule};
use crate::library::Library;

pub(super) static RULE: Rule =
    Rule { id: "duplicates", why: "one sentence for two notes teaches the hearing to confuse them", run };

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut out = Vec::new();
    let mut seen: BTreeMap<String, &str> = BTreeMap::new();
    for c in &library.causes {
        for s in &c.says {
            let key: Vec<String> =
                s.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).map(str::to_lowercase).collect();
            if let Some(first) = seen.insert(key.join(" "), &c.id) {
                out.push(Problem::new(
                    &c.path,
                    0,
                    format!("the riders' sentence \"{s}\" stands in {first} already"),
                    "keep it where it tells most",
                ));
            }
        }
    }
    out
}
