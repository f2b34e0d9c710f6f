//! Trying a repair against asking on: expected cost of repair.
//!
//! The order by p/C is optimal for independent single-fault repairs (Kalagnanam & Henrion 1990, from memory). Whether a
//! question is worth asking before is looked at in `ahead`.

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

#[cfg(test)]
mod tests {
    use super::*;

    /// p/C order and expected cost worked by hand: p = .5 .3 .2, C = 10 2 5 -> order 2, 1, 3 by ratio (.15, .05, .04);
    /// cost 2 + .7 * 10 + .2 * 5 = 10. Textbook arithmetic after Kalagnanam & Henrion (1990), numbers our own; published ones are in tests/all/belief.rs.
    #[test]
    fn ratio_order_and_its_cost() {
        let (p, c) = ([0.5, 0.3, 0.2], [10.0, 2.0, 5.0]);
        assert_eq!(repair_order(&p, &c), [1, 0, 2]);
        assert!((cost_of_repair(&p, &c, 100.0) - 10.0).abs() < 1e-9);
    }
}
