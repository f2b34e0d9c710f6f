//! Pictures in characters fit a narrow window and every terminal, and stand beside the steps, not within one.

use super::{Known, Problem, Rule};
use crate::library::{Library, steps};

pub(super) static RULE: Rule = Rule { id: "pictures", why: "a picture that wraps or garbles says nothing", run };

/// Widest line of a picture in columns.
const WIDE: usize = 60;
/// Most lines: it is seen in one look.
const HIGH: usize = 24;

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut out = Vec::new();
    let causes = library.causes.iter().flat_map(|c| c.sections.iter().map(|s| (c.path.as_str(), s.markdown.as_str())));
    let findings = library.findings.iter().map(|f| (f.path.as_str(), f.body.as_str()));
    let dangers = library.dangers.iter().map(|d| (d.path.as_str(), d.body.as_str()));
    for (path, text) in causes.chain(findings).chain(dangers) {
        let mut say = |what: String, hint: &str| out.push(Problem::new(path, 0, what, hint));
        let mut height = None;
        for line in text.lines() {
            if line.trim_start().starts_with("```") {
                if line.starts_with(' ') {
                    say("a picture stands within a step".into(), "put it before or after the list, not indented");
                }
                if height.take().is_none() {
                    height = Some(0);
                }
            } else if let Some(n) = &mut height {
                *n += 1;
                if *n == HIGH + 1 {
                    say(format!("a picture of more than {HIGH} lines"), "draw less");
                }
                if line.chars().count() > WIDE {
                    say(format!("a picture {} columns wide", line.chars().count()), "at most 60 columns");
                }
                if let Some(c) = line.chars().find(|c| !matches!(c, ' '..='~')) {
                    say(format!("a picture with the character {c:?}"), "plain ASCII, blanks instead of tabs");
                }
            }
        }
        if height.is_some() {
            say("a picture has no end".into(), "close it with three backquotes");
        }
        if steps(text).iter().any(|s| s.text.contains("```")) {
            say("a step holds three backquotes".into(), "put the picture on lines of its own");
        }
    }
    out
}
