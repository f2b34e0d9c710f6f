//! A figure with a unit has a published source, or is worded as the rough practice it is.

use regex::Regex;

use super::{Known, Problem, Rule};
use crate::library::{Library, prose, sentences_of};

pub(super) static RULE: Rule = Rule { id: "numbers", why: "a bare figure is taken for a law", run };

/// Sources that allow rough figures only.
const ROUGH: &[&str] = &["common-practice", "from-memory"];

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut out = Vec::new();
    let figure = r"\b\d+([.,]\d+)?\s?(mm|cm|km/h|km|psi|bar|kg|lb|°C?|degrees?|%|per ?cent|kilometres?|metres?|ml|watts?|inches|N)(\b|\s|$)";
    let hedge = r"(?i)\b(about|around|roughly|many|most|often|usually|or so|up to|under|over|less than|more than|a few|some|typically|commonly|nearly|at most|at least|between|within|below|above|every|example|say)\b";
    let (Ok(figure), Ok(hedge)) = (Regex::new(figure), Regex::new(hedge)) else { return out };
    for c in library.causes.iter().filter(|c| c.sources.iter().all(|s| ROUGH.contains(&s.as_str()))) {
        for s in c.sections.iter().filter(|s| s.heading != "Riders say") {
            let text = prose(&s.markdown);
            for sentence in sentences_of(&text).filter(|t| !hedge.is_match(t)) {
                if let Some(m) = figure.find(sentence) {
                    out.push(Problem::new(
                        &c.path,
                        0,
                        format!("\"{}\" stands without a source", m.as_str().trim()),
                        "name the source under sources, or say \"about\" or \"many mechanics use\"",
                    ));
                }
            }
        }
    }
    out
}
