//! The posterior: how likely each hypothesis is, given all evidence.

use super::evidence::{Evidence, Origin, What};
use super::model::Model;
use crate::domain::Urgency;

/// What is heard in passing also makes the words like the notes, and phrases of one sentence hang together: it counts less
/// than an answer. Chosen on annotated messages, see "Measures" in DEVELOPERS.md.
const SAID: f64 = 0.5;

/// What a further finding of a family counts: it mostly repeats the others. Chosen so that belief stays calibrated when seven
/// answers in ten repeat the first (`tests/all/belief.rs`).
const REPEATED: f64 = 0.3;

/// Probabilities of all hypotheses; sums to 1. The last is the leak.
#[derive(Clone, Debug, PartialEq)]
pub struct Belief {
    /// Probability by hypothesis.
    pub p: Vec<f64>,
}

impl Belief {
    /// Computes the posterior. The order of evidence does not matter.
    ///
    /// Findings of one family share their weight: two that say nearly the same count as little more than one.
    #[must_use]
    pub fn new(model: &Model, evidence: &[Evidence]) -> Self {
        let mut log: Vec<f64> = model.prior.iter().map(|p| p.ln()).collect();
        for (e, share) in evidence.iter().zip(shares(model, evidence)) {
            e.add_to(model, share, &mut log);
        }
        Self { p: softmax(&log) }
    }

    /// The posterior after one more answer, given with this reliability.
    #[must_use]
    pub fn after(&self, model: &Model, e: &Evidence) -> Self {
        let mut log: Vec<f64> = self.p.iter().map(|p| p.max(1e-300).ln()).collect();
        e.add_to(model, 1.0, &mut log);
        Self { p: softmax(&log) }
    }

    /// Hypotheses from likely to unlikely, ties by position.
    #[must_use]
    pub fn ranked(&self) -> Vec<(usize, f64)> {
        let mut order: Vec<(usize, f64)> = self.p.iter().copied().enumerate().collect();
        order.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        order
    }

    /// The likeliest hypothesis that is not the leak, with its probability.
    #[must_use]
    pub fn top(&self) -> Option<(usize, f64)> {
        let causes = self.p.len().saturating_sub(1);
        self.p[..causes].iter().copied().enumerate().max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)))
    }

    /// Entropy in bits.
    #[must_use]
    pub fn entropy(&self) -> f64 {
        self.p.iter().filter(|p| **p > 0.0).map(|p| -p * p.log2()).sum()
    }

    /// Together how likely the hypotheses of this urgency are.
    #[must_use]
    pub fn mass(&self, model: &Model, urgency: Urgency) -> f64 {
        self.p.iter().zip(&model.urgency).filter(|(_, u)| **u == urgency).map(|(p, _)| p).sum()
    }
}

/// The weight of each piece of evidence: 1, or less where its family is heard more than once.
pub(super) fn shares(model: &Model, evidence: &[Evidence]) -> Vec<f64> {
    let family = |e: &Evidence| match e.what {
        What::Is(f, _) | What::IsNot(f, _) | What::Among(f, _) => model.family[f.0],
        _ => None,
    };
    evidence
        .iter()
        .map(|e| match family(e) {
            None => 1.0,
            Some(fam) => {
                let n = evidence.iter().filter(|o| family(o) == Some(fam)).count() as f64;
                (1.0 + REPEATED * (n - 1.0)) / n
            }
        })
        .zip(evidence)
        .map(|(share, e)| if e.origin == Origin::Said && e.finding().is_some() { share * SAID } else { share })
        .collect()
}

fn softmax(log: &[f64]) -> Vec<f64> {
    let top = log.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let mut p: Vec<f64> = log.iter().map(|l| (l - top).exp()).collect();
    let total: f64 = p.iter().sum();
    for x in &mut p {
        *x /= total;
    }
    p
}

/// A degree of belief in words, with a plain fraction, never with false precision.
#[must_use]
pub fn in_words(p: f64) -> &'static str {
    match p {
        p if p >= 0.95 => "almost certain",
        p if p >= 0.85 => "very likely, about 9 in 10",
        p if p >= 0.70 => "likely, about 3 in 4",
        p if p >= 0.58 => "likely, about 2 in 3",
        p if p >= 0.43 => "about even",
        p if p >= 0.28 => "possible, about 1 in 3",
        p if p >= 0.17 => "possible, about 1 in 5",
        p if p >= 0.08 => "less likely, about 1 in 10",
        p if p >= 0.03 => "unlikely, about 1 in 20",
        _ => "very unlikely",
    }
}
