//! Two causes at once: considered only when the evidence fits no single cause.

use super::evidence::{Evidence, What};
use super::model::Model;

/// Two causes that together fit the evidence better than any one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// The first cause.
    pub first: usize,
    /// The second cause.
    pub second: usize,
    /// How much better the pair fits than the best single cause, in bits, after the price of a second fault.
    pub gain: f64,
}

/// What a second independent fault costs in prior odds (own estimate: one bike in thirty brings two).
const SECOND_FAULT: f64 = 1.0 / 30.0;
/// Pairs are looked for among this many leading causes.
const LEADING: usize = 12;

/// The best pair, if it beats the best single cause by at least `least` bits.
///
/// Under a pair each finding is shown by whichever of the two shows it more (noisy-or of the two).
#[must_use]
pub fn best_pair(model: &Model, evidence: &[Evidence], single: &[(usize, f64)], least: f64) -> Option<Pair> {
    let leading: Vec<usize> = single.iter().map(|(c, _)| *c).filter(|c| *c != model.leak()).take(LEADING).collect();
    let fit = |causes: &[usize]| -> f64 {
        evidence
            .iter()
            .map(|e| match &e.what {
                What::Is(f, _) | What::IsNot(f, _) | What::Among(f, _) => {
                    let table = &model.tables[f.0];
                    causes
                        .iter()
                        .map(|c| {
                            let row: Vec<f64> = (0..table.usual.len()).map(|a| table.p(*c, a)).collect();
                            e.log_likelihood(&row, &table.usual)
                        })
                        .fold(f64::NEG_INFINITY, f64::max)
                }
                What::Repair(..) | What::Likeness(_) => 0.0,
            })
            .sum()
    };
    let one = leading.iter().map(|c| fit(&[*c]) + model.prior[*c].ln()).fold(f64::NEG_INFINITY, f64::max);
    let mut best: Option<Pair> = None;
    for (i, a) in leading.iter().enumerate() {
        for b in &leading[i + 1..] {
            let both =
                fit(&[*a, *b]) + model.prior[*a].ln() + model.prior[*b].ln() + (SECOND_FAULT * model.len() as f64).ln();
            let gain = (both - one) / std::f64::consts::LN_2;
            if gain >= least && best.is_none_or(|p| gain > p.gain) {
                best = Some(Pair { first: *a, second: *b, gain });
            }
        }
    }
    best
}
