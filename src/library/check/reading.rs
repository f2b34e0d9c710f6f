//! The beginner's text reads easily: a bound on the school grade of what a note is, of the whole note and of a check.

use super::{Known, Problem, Rule};
use crate::library::{Library, prose, reading_grade};

pub(super) static RULE: Rule =
    Rule { id: "reading", why: "a text that is hard to read is not followed beside a bike", run };

/// Highest grade of what a note is, the part before its first heading (common practice for the public: grade 8).
const SUMMARY: f64 = 8.5;
/// Highest grade of a whole note: its steps are shorter than its explanation.
const WHOLE: f64 = 7.0;
/// Highest grade of how a check is done. Such texts are short, so the figure sways more.
const CHECK: f64 = 9.0;

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut out = Vec::new();
    let mut read = |path: &str, what: &str, markdown: &str, most: f64| {
        let grade = reading_grade(&prose(markdown));
        if grade > most {
            out.push(Problem::new(
                path,
                0,
                format!("{what} reads at grade {grade:.1}, above {most:.1}"),
                "shorter words, shorter sentences",
            ));
        }
    };
    for c in &library.causes {
        read(&c.path, "what it is", c.summary(), SUMMARY);
        let all: Vec<&str> =
            c.sections.iter().filter(|s| s.heading != "Riders say").map(|s| s.markdown.as_str()).collect();
        read(&c.path, "the note", &all.join("\n\n"), WHOLE);
    }
    for f in &library.findings {
        read(&f.path, "the check", &f.body, CHECK);
    }
    out
}
