//! Trying a repair against asking on: expected cost of repair.
//!
//! The order by p/C is optimal for independent single-fault repairs (Kalagnanam & Henrion 1990); a question is worth
//! asking when its cost and the expected cost of repair after it are together less than that now (Heckerman, Breese &
//! Rommelse 1995).

use super::model::Model;
use super::posterior::Belief;
use crate::domain::FindingIx;

/// Hypotheses beyond this many are taken together; they hardly change the sum.
const LEADING: usize = 24;

/// The order in which repairs are best tried: by probability per minute, best first, ties by position.
#[must_use]
pub fn repair_order(p: &[f64], minutes: &[f64]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..p.len()).collect();
    order.sort_by(|a, b| (p[*b] / minutes[*b]).total_cmp(&(p[*a] / minutes[*a])).then(a.cmp(b)));
    order
}

/// Expected cost of repair in minutes when repairs are tried in that order until one cures.
///
/// `p` need not sum to 1: what is missing costs all repairs and `beyond` minutes more.
#[must_use]
pub fn cost_of_repair(p: &[f64], minutes: &[f64], beyond: f64) -> f64 {
    let total: f64 = p.iter().sum();
    let mut left = total.max(1.0);
    let mut cost = 0.0;
    for i in repair_order(p, minutes) {
        cost += left * minutes[i];
        left -= p[i];
    }
    cost + left.max(0.0) * beyond
}

/// Expected minutes if `finding` is asked now (its own `minutes` included) and repairs are tried after its answer.
///
/// `None` asks nothing: the expected cost of repair as it stands.
#[must_use]
pub fn expected_cost_after(model: &Model, belief: &Belief, finding: Option<(FindingIx, f64, f64)>) -> f64 {
    let leak = model.leak();
    let mut leading: Vec<(usize, f64)> = belief.ranked().into_iter().filter(|(c, _)| *c != leak).collect();
    leading.truncate(LEADING);
    let minutes: Vec<f64> = leading.iter().map(|(c, _)| model.minutes[*c]).collect();
    let beyond = model.minutes[leak];
    let Some((finding, cost, reliability)) = finding else {
        let p: Vec<f64> = leading.iter().map(|(_, p)| *p).collect();
        return cost_of_repair(&p, &minutes, beyond);
    };
    let table = &model.tables[finding.0];
    let listed: f64 = table.rows.iter().map(|(c, _)| belief.p[*c]).sum();
    let mut expected = cost;
    for (a, usual) in table.usual.iter().enumerate() {
        let said = |p: f64| reliability * p + (1.0 - reliability) * usual;
        let mean: f64 = table.rows.iter().map(|(c, row)| belief.p[*c] * said(row[a])).sum::<f64>()
            + (1.0 - listed).max(0.0) * usual;
        if mean <= 1e-12 {
            continue;
        }
        let p: Vec<f64> = leading.iter().map(|(c, p)| p * said(table.p(*c, a)) / mean).collect();
        expected += mean * cost_of_repair(&p, &minutes, beyond);
    }
    expected
}

#[cfg(test)]
mod tests {
    use super::*;

    /// p/C order and expected cost worked by hand: p = .5 .3 .2, C = 10 2 5 -> order 2, 1, 3 by ratio (.15, .05, .04);
    /// cost 2 + .7 * 10 + .2 * 5 = 10. Textbook arithmetic after Kalagnanam & Henrion (1990), numbers our own.
    #[test]
    fn ratio_order_and_its_cost() {
        let (p, c) = ([0.5, 0.3, 0.2], [10.0, 2.0, 5.0]);
        assert_eq!(repair_order(&p, &c), [1, 0, 2]);
        assert!((cost_of_repair(&p, &c, 100.0) - 10.0).abs() < 1e-9);
    }
}
