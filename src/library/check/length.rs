//! Notes are short enough to be read beside a bike, and the questions short enough to be answered.

use super::{Known, Problem, Rule};
use crate::library::{Library, steps};

pub(super) static RULE: Rule = Rule { id: "length", why: "a wall of text is not read with dirty hands", run };

/// Longest step in characters.
const STEP: usize = 420;
/// Longest question.
const ASK: usize = 230;
/// Longest body in words.
const BODY: usize = 900;
/// Mean words in a sentence, above which plain reading ends.
const SENTENCE: f64 = 24.0;

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut out = Vec::new();
    for f in &library.findings {
        if f.ask.chars().count() > ASK {
            out.push(Problem::new(
                &f.path,
                0,
                format!("the question has {} characters", f.ask.chars().count()),
                "one or two short sentences",
            ));
        }
    }
    for c in &library.causes {
        let mut words = 0;
        for s in c.sections.iter().filter(|s| s.heading != "Riders say") {
            words += s.markdown.split_whitespace().count();
            for step in steps(&s.markdown) {
                if step.text.chars().count() > STEP {
                    out.push(Problem::new(
                        &c.path,
                        0,
                        format!("a step of {} characters", step.text.chars().count()),
                        "split the step",
                    ));
                }
            }
        }
        if words > BODY {
            out.push(Problem::new(&c.path, 0, format!("{words} words"), "keep a note under 900 words"));
        }
        let summary = c.summary();
        let sentences = summary.matches(['.', '!', '?']).count().max(1);
        let mean = summary.split_whitespace().count() as f64 / sentences as f64;
        if mean > SENTENCE {
            out.push(Problem::new(
                &c.path,
                0,
                format!("{mean:.0} words a sentence at the beginning"),
                "shorter sentences for the beginner",
            ));
        }
    }
    out
}
