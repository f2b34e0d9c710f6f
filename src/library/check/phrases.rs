//! A phrase belongs to one answer of a finding, and is more than a stray word.

use std::collections::BTreeMap;

use super::answerable::exclude;
use super::separable::shares;
use super::{Known, Problem, Rule};
use crate::domain::{AnswerIx, Cause, FindingIx};
use crate::library::Library;

pub(super) static RULE: Rule =
    Rule { id: "phrases", why: "a phrase that means two things is heard wrongly half the time", run };

/// The alternations of one part of a phrase make at most so many plain sequences; the ears hear no more.
pub const MOST_SEQUENCES: usize = 256;

/// How many plain sequences the alternations of the widest part of a phrase make.
fn sequences(phrase: &str) -> usize {
    let of = |part: &str| part.split_whitespace().map(|w| w.split('|').filter(|a| !a.is_empty()).count()).product();
    phrase.split('&').map(of).max().unwrap_or(0)
}

/// Phrases with more alternatives than the ears take: the rest would be deaf without a word.
fn too_many(library: &Library) -> Vec<Problem> {
    let findings = library.findings.iter().flat_map(|f| f.answers.iter().map(|a| (&f.path, &a.phrases)));
    let dangers = library.dangers.iter().flat_map(|d| [(&d.path, &d.certain), (&d.path, &d.possible)]);
    let repairs = library.causes.iter().map(|c| (&c.path, &c.repairs));
    let all = findings.chain(dangers).chain(repairs).flat_map(|(path, phrases)| phrases.iter().map(move |p| (path, p)));
    all.filter(|(_, phrase)| sequences(phrase) > MOST_SEQUENCES)
        .map(|(path, phrase)| {
            let what = format!("the phrase \"{phrase}\" stands for {} sequences of words", sequences(phrase));
            Problem::new(path, 0, what, "make two of it, or join its parts by &")
        })
        .collect()
}

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut out = too_many(library);
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
    out.extend(at_odds(library));
    out
}

/// An answer speaks for a cause that shows it this many times as often as other bikes, and against it below the other.
const FOR: f64 = 1.3;
const AGAINST: f64 = 0.7;

/// One phrase under answers of two findings is two pieces of evidence. That does harm where no cause shows both.
fn at_odds(library: &Library) -> Vec<Problem> {
    let mut out = Vec::new();
    let mut places: BTreeMap<String, Vec<(FindingIx, AnswerIx)>> = BTreeMap::new();
    for (i, f) in library.findings.iter().enumerate() {
        for (j, a) in f.answers.iter().enumerate() {
            for p in &a.phrases {
                places.entry(p.trim().to_lowercase()).or_default().push((FindingIx(i), AnswerIx(j)));
            }
        }
    }
    for (phrase, places) in places {
        for (i, x) in places.iter().enumerate() {
            for y in places[i + 1..].iter().filter(|y| y.0 != x.0) {
                let (f, g) = (&library.findings[x.0.0], &library.findings[y.0.0]);
                let lifts: Vec<(f64, f64)> =
                    library.causes.iter().map(|c| (lift(library, c, *x), lift(library, c, *y))).collect();
                let spoken_for = lifts.iter().any(|l| l.0 > FOR) && lifts.iter().any(|l| l.1 > FOR);
                let together = lifts.iter().any(|l| (l.0 > FOR || l.1 > FOR) && l.0 >= AGAINST && l.1 >= AGAINST);
                if spoken_for && !together && !exclude(&f.needs, &g.needs) {
                    out.push(Problem::new(
                        &f.path,
                        0,
                        format!("\"{phrase}\" also stands in {}, and no cause shows both", g.id),
                        "keep it in one of the two findings",
                    ));
                }
            }
        }
    }
    out
}

/// How many times as often as on other bikes a cause shows an answer.
fn lift(library: &Library, c: &Cause, (f, a): (FindingIx, AnswerIx)) -> f64 {
    let finding = &library.findings[f.0];
    shares(c, f, finding)[a.0] / finding.answers[a.0].usual
}
