//! Every two causes must be told apart by at least one finding that a beginner can answer.

use super::{Known, Problem, Rule};
use crate::domain::{Cause, CauseKind, Finding, FindingIx, Skill};
use crate::library::Library;

pub(super) static RULE: Rule = Rule { id: "separable", why: "two causes that look alike for ever are one cause", run };

/// Shares must differ by this much in one answer at least (half the sum of differences).
const LEAST: f64 = 0.30;

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut out = Vec::new();
    let causes: Vec<&Cause> = library.causes.iter().filter(|c| c.kind == CauseKind::Cause).collect();
    for (i, a) in causes.iter().enumerate() {
        for b in &causes[i + 1..] {
            if !told_apart(a, b, &library.findings) {
                out.push(Problem::new(
                    &a.path,
                    0,
                    format!("nothing that a beginner can answer separates {} from {}", a.id, b.id),
                    "give one finding clearly different words in the two, or merge them",
                ));
            }
        }
    }
    out
}

fn told_apart(a: &Cause, b: &Cause, findings: &[Finding]) -> bool {
    let asked: Vec<FindingIx> = a.shows.iter().chain(&b.shows).map(|s| s.finding).collect();
    let needs_differ = a
        .needs
        .iter()
        .any(|n| b.needs.iter().any(|m| m.finding == n.finding && !n.allowed.iter().any(|x| m.allowed.contains(x))));
    needs_differ
        || asked.into_iter().filter(|f| findings[f.0].skill == Skill::Beginner).any(|f| {
            let (x, y) = (shares(a, f, &findings[f.0]), shares(b, f, &findings[f.0]));
            x.iter().zip(&y).map(|(p, q)| (p - q).abs()).sum::<f64>() / 2.0 >= LEAST
        })
}

/// The shares that a cause's words give to the answers: named ones as named, the rest by their usual shares.
pub(super) fn shares(c: &Cause, finding: FindingIx, f: &Finding) -> Vec<f64> {
    let usual: Vec<f64> = f.answers.iter().map(|a| a.usual).collect();
    let Some(show) = c.shows.iter().find(|s| s.finding == finding) else { return usual };
    let mut p = vec![0.0; usual.len()];
    for (a, w) in &show.answers {
        p[a.0] = w.probability();
    }
    let named: f64 = p.iter().sum();
    let rest: f64 = usual.iter().zip(&p).filter(|(_, p)| **p == 0.0).map(|(u, _)| u).sum();
    let left = (1.0 - named).max(0.0);
    for (p, u) in p.iter_mut().zip(&usual) {
        if *p == 0.0 && rest > 0.0 {
            *p = left * u / rest;
        }
    }
    let total: f64 = p.iter().sum();
    p.into_iter().map(|x| x / total).collect()
}
