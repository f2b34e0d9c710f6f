//! The explanation, from the same arithmetic: what speaks for and against, and what each answer would do.

use super::evidence::{Evidence, Origin, What};
use super::model::Model;
use super::posterior::{Belief, shares};
use crate::domain::{AnswerIx, FindingIx};

/// How much one piece of evidence speaks for a hypothesis against all others taken together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weight {
    /// Position in the list of evidence.
    pub evidence: usize,
    /// Weight in bits: positive speaks for it, negative against.
    pub bits: f64,
}

/// Weighs each piece of evidence for `cause`, the strongest first (by size).
///
/// The weight is log2 of its likelihood under the cause over its mean likelihood under the other hypotheses, these taken
/// in the shares that they have without this piece.
#[must_use]
pub fn weights(model: &Model, evidence: &[Evidence], cause: usize) -> Vec<Weight> {
    let share = shares(model, evidence);
    let mut out: Vec<Weight> = evidence
        .iter()
        .enumerate()
        .map(|(i, e)| {
            let without: Vec<Evidence> =
                evidence.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, o)| o.clone()).collect();
            let belief = Belief::new(model, &without);
            let mut log = vec![0.0; model.len()];
            e.add_to(model, share[i], &mut log);
            let others: f64 = (1.0 - belief.p[cause]).max(1e-12);
            let mean: f64 = belief
                .p
                .iter()
                .zip(&log)
                .enumerate()
                .filter(|(c, _)| *c != cause)
                .map(|(_, (p, l))| p * l.exp())
                .sum::<f64>()
                / others;
            Weight { evidence: i, bits: (log[cause] - mean.max(1e-12).ln()) / std::f64::consts::LN_2 }
        })
        .collect();
    out.sort_by(|a, b| b.bits.abs().total_cmp(&a.bits.abs()).then(a.evidence.cmp(&b.evidence)));
    out
}

/// What one answer would do.
#[derive(Clone, Debug, PartialEq)]
pub struct AnswerEffect {
    /// The answer.
    pub answer: AnswerIx,
    /// How likely it is to be given.
    pub chance: f64,
    /// The likeliest hypothesis afterwards and its probability.
    pub then: (usize, f64),
    /// The hypothesis (of the leading ones, but not the likeliest afterwards) that loses most, with its probability after.
    pub loses: Option<(usize, f64)>,
}

/// What each answer of `finding` would do to the leading hypotheses.
#[must_use]
pub fn answer_effects(model: &Model, belief: &Belief, finding: FindingIx, reliability: f64) -> Vec<AnswerEffect> {
    let table = &model.tables[finding.0];
    let leading: Vec<usize> = belief.ranked().into_iter().take(5).map(|(c, _)| c).collect();
    (0..table.usual.len())
        .map(|a| {
            let chance: f64 = belief
                .p
                .iter()
                .enumerate()
                .map(|(c, p)| p * (reliability * table.p(c, a) + (1.0 - reliability) * table.usual[a]))
                .sum();
            let e = Evidence { what: What::Is(finding, AnswerIx(a)), reliability, origin: Origin::Answered };
            let after = belief.after(model, &e);
            let then = after.ranked()[0];
            let loses = leading
                .iter()
                .filter(|c| **c != then.0)
                .map(|c| (*c, after.p[*c] - belief.p[*c]))
                .min_by(|x, y| x.1.total_cmp(&y.1))
                .filter(|(_, d)| *d < -0.02)
                .map(|(c, _)| (c, after.p[c]));
            AnswerEffect { answer: AnswerIx(a), chance, then, loses }
        })
        .collect()
}
