//! Every note can be come to: by a link, or because something that a beginner can see speaks for it.

use std::collections::BTreeSet;

use super::separable::shares;
use super::{Known, Problem, Rule};
use crate::domain::{CauseKind, FindingIx, Skill};
use crate::library::{Library, link_targets};

pub(super) static RULE: Rule = Rule { id: "reachable", why: "a note nobody comes to helps nobody", run };

/// An answer speaks for a cause when the cause shows it this many times as often as other bikes do ...
const LIFT: f64 = 1.5;
/// ... and in this share of cases at least.
const SHARE: f64 = 0.25;
/// Findings beside the complaint itself that must speak for a cause which no note links.
const SPEAKING: usize = 2;
/// A finding tells something when one cause moves its shares by this much (half the sum of differences).
const MOVED: f64 = 0.25;

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut out = Vec::new();
    let linked = linked(library);
    for c in library.causes.iter().filter(|c| !linked.contains(c.id.as_str())) {
        let speaking = c
            .shows
            .iter()
            .filter(|s| {
                let f = &library.findings[s.finding.0];
                let p = shares(c, s.finding, f);
                f.id != "trouble"
                    && f.skill == Skill::Beginner
                    && f.answers.iter().zip(&p).any(|(a, p)| *p >= LIFT * a.usual && *p >= SHARE)
            })
            .count();
        if c.kind == CauseKind::Guide {
            out.push(Problem::new(
                &c.path,
                0,
                "no other note leads to this guide",
                "name it under guides of the causes it serves, or link it in a text",
            ));
        } else if speaking < SPEAKING {
            out.push(Problem::new(
                &c.path,
                1,
                format!("no note links it, and only {speaking} findings of a beginner speak for it"),
                "link it, or name under [shows] what is seen when it is so",
            ));
        }
    }
    for (i, f) in library.findings.iter().enumerate().filter(|(_, f)| !f.fact) {
        let ix = FindingIx(i);
        let mut moved = library
            .causes
            .iter()
            .filter(|c| c.shows.iter().any(|s| s.finding == ix))
            .map(|c| shares(c, ix, f).iter().zip(&f.answers).map(|(p, a)| (p - a.usual).abs()).sum::<f64>() / 2.0);
        let named = library.causes.iter().any(|c| c.shows.iter().any(|s| s.finding == ix));
        if named && !moved.any(|m| m >= MOVED) {
            out.push(Problem::new(
                &f.path,
                0,
                "its answers change no belief",
                "give the causes it tells apart clearly different words",
            ));
        }
    }
    out
}

/// Ids that another note links or names as its guide.
fn linked(library: &Library) -> BTreeSet<String> {
    let mut out = BTreeSet::new();
    for c in &library.causes {
        out.extend(c.guides.iter().filter(|g| **g != c.id).cloned());
        for s in &c.sections {
            out.extend(link_targets(&s.markdown).into_iter().map(|(_, t)| t).filter(|t| *t != c.id));
        }
    }
    for body in library.findings.iter().map(|f| &f.body).chain(library.dangers.iter().map(|d| &d.body)) {
        out.extend(link_targets(body).into_iter().map(|(_, t)| t));
    }
    out
}
