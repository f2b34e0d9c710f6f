//! A phrase belongs to one answer of a finding, and is more than a stray word.

use std::collections::BTreeMap;

use super::{Known, Problem, Rule};
use crate::library::Library;

pub(super) static RULE: Rule =
    Rule { id: "phrases", why: "a phrase that means two things is heard wrongly half the time", run };

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut out = Vec::new();
    for f in &library.findings {
        let mut seen: BTreeMap<String, &str> = BTreeMap::new();
        for a in &f.answers {
            for p in &a.phrases {
                let key = p.trim().to_lowercase();
                if key.chars().filter(|c| c.is_alphanumeric()).count() < 2 {
                    out.push(Problem::new(
                        &f.path,
                        0,
                        format!("the phrase \"{p}\" is too short to mean anything"),
                        "write it out",
                    ));
                }
                if let Some(other) = seen.insert(key, &a.id).filter(|o| *o != a.id) {
                    out.push(Problem::new(
                        &f.path,
                        0,
                        format!("\"{p}\" stands under {other} and {}", a.id),
                        "keep it under one answer",
                    ));
                }
            }
        }
    }
    out
}
