//! A cause says what it is, how to be sure, what to do, how to prove it, what can go wrong and what riders say.

use super::{Known, Problem, Rule};
use crate::domain::CauseKind;
use crate::library::{Library, steps};

pub(super) static RULE: Rule = Rule { id: "sections", why: "help that stops half way is no help", run };

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut out = Vec::new();
    for c in &library.causes {
        let mut wants = |heading: &str| {
            let there = c.section(heading).is_some_and(|s| !s.markdown.trim().is_empty());
            if !there {
                out.push(Problem::new(
                    &c.path,
                    0,
                    format!("lacks the section \"{heading}\""),
                    "see \"How to add a note\"",
                ));
            }
        };
        wants("Riders say");
        if c.kind == CauseKind::Cause {
            for h in ["How to be sure", "What to do", "Prove it"] {
                wants(h);
            }
            if !c.normal {
                wants("What can go wrong");
            }
        }
        if c.kind == CauseKind::Guide && c.section("What to do").is_some() {
            wants("Prove it");
        }
        if c.summary().is_empty() {
            out.push(Problem::new(
                &c.path,
                0,
                "does not begin by saying what it is",
                "two to five plain sentences under the head",
            ));
        }
        if c.kind == CauseKind::Cause && c.section("What to do").is_some_and(|s| steps(&s.markdown).is_empty()) {
            out.push(Problem::new(
                &c.path,
                0,
                "has no numbered step under \"What to do\"",
                "number the steps: 1. 2. 3.",
            ));
        }
    }
    out
}
