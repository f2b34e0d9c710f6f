//! Notes are short enough to be read beside a bike, and the questions short enough to be answered.

use super::{Known, Problem, Rule};
use crate::library::{Library, prose, sentences_of, steps};

pub(super) static RULE: Rule = Rule { id: "length", why: "a wall of text is not read with dirty hands", run };

/// Longest step in characters.
const STEP: usize = 420;
/// Longest question.
const ASK: usize = 230;
/// Longest title, form of a question for a mechanic, and answer.
const TITLE: usize = 70;
const TRADE: usize = 60;
const SAYS: usize = 70;
/// Longest body in words.
const BODY: usize = 520;
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
    for f in &library.findings {
        let answers = f.answers.iter().map(|a| (a.says.as_str(), SAYS));
        for (text, most) in answers.chain([(f.trade.as_str(), TRADE), (f.title.as_str(), TITLE)]) {
            if text.chars().count() > most {
                out.push(Problem::new(
                    &f.path,
                    1,
                    format!("\"{text}\" is longer than {most} characters"),
                    "say it shorter",
                ));
            }
        }
    }
    for c in &library.causes {
        let mut words = 0;
        for s in c.sections.iter().filter(|s| s.heading != "Riders say") {
            words += prose(&s.markdown).split_whitespace().count();
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
            out.push(Problem::new(
                &c.path,
                0,
                format!("{words} words"),
                "keep a note under 520 words, or make two of it",
            ));
        }
        if c.title.chars().count() > TITLE {
            out.push(Problem::new(
                &c.path,
                1,
                format!("a title of {} characters", c.title.chars().count()),
                "say it shorter",
            ));
        }
        let summary = prose(c.summary());
        let sentences = sentences_of(&summary).count();
        if !summary.is_empty() && sentences < 2 {
            out.push(Problem::new(&c.path, 0, "what it is takes one sentence only", "two to five plain sentences"));
        }
        let sentences = sentences.max(1);
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
