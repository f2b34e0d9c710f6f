//! Every question can be answered by somebody, on some bike, with tools that the notes know of.

use std::collections::BTreeSet;

use super::{Known, Problem, Rule};
use crate::domain::{Finding, FindingIx, How, Need, Skill};
use crate::library::Library;

pub(super) static RULE: Rule =
    Rule { id: "answerable", why: "a question nobody can answer wastes the only patience there is", run };

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut out = Vec::new();
    let known: BTreeSet<String> = library.causes.iter().flat_map(|c| &c.tools).flat_map(|t| tool_words(t)).collect();
    for (i, f) in library.findings.iter().enumerate() {
        let mut say = |what: String, hint: &str| out.push(Problem::new(&f.path, 0, what, hint));
        if f.how == How::Ask && f.skill == Skill::Workshop {
            say(
                "is only asked, yet takes a workshop to answer".into(),
                "how = \"look\" or \"measure\", or a plainer skill",
            );
        }
        if f.needs.iter().any(|n| n.finding == FindingIx(i)) {
            say("needs its own answer".into(), "a finding cannot wait for itself");
        }
        for c in library.causes.iter().filter(|c| c.shows.iter().any(|s| s.finding == FindingIx(i))) {
            if exclude(&f.needs, &c.needs) {
                say(
                    format!("is never asked on a bike that can have {}", c.id),
                    "mend the needs of one of them, or take it out of the other's [shows]",
                );
            }
        }
        for t in f.tools.iter().filter(|t| !tool_words(t).any(|w| known.contains(&w))) {
            say(format!("wants a tool that no cause or guide has: {t}"), "name it as the others do, or do without");
        }
        if f.how == How::Measure && f.quantity.is_some() && !complete(f) {
            say("its bands leave gaps or overlap".into(), "each band begins where the one below it ends");
        }
    }
    out
}

/// The telling words of a tool's name.
fn tool_words(tool: &str) -> impl Iterator<Item = String> {
    tool.split(|c: char| !c.is_alphanumeric()).filter(|w| w.len() >= 3).map(str::to_lowercase)
}

/// Whether two sets of needs can never hold on one bike.
pub(super) fn exclude(a: &[Need], b: &[Need]) -> bool {
    a.iter().any(|n| b.iter().any(|m| n.finding == m.finding && !n.allowed.iter().any(|x| m.allowed.contains(x))))
}

/// Whether the bands of a measured finding follow each other and every answer has one.
fn complete(f: &Finding) -> bool {
    let mut bands: Vec<(f64, f64)> =
        f.answers.iter().filter_map(|a| a.band.as_ref()).map(|b| (b.from, b.below)).collect();
    bands.sort_by(|a, b| a.0.total_cmp(&b.0));
    bands.len() == f.answers.len() && bands.windows(2).all(|w| (w[0].1 - w[1].0).abs() < 1e-9)
}
