//! The exact sign test, and the interval for the share of rides on which one value is better.
//!
//! Exact for any number of rides that somebody could ride: sums of the binomial distribution, no approximation.

/// Count of paired rides: how often one value was better than the other, worse, or the same.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// Better.
    pub better: u32,
    /// Worse.
    pub worse: u32,
    /// No difference; the test leaves these out (Dixon & Mood 1946).
    pub same: u32,
}

impl Tally {
    /// Pairs that tell: those with a difference.
    #[must_use]
    pub fn telling(self) -> u32 {
        self.better + self.worse
    }
}

/// The chance of at most `k` successes in `n` tries that each succeed with chance `p` (0 to 1).
///
/// Worked with logarithms, so that thousands of tries do no harm; relative error about 1e-12 times `n`.
#[must_use]
pub fn binomial_tail(n: u32, k: u32, p: f64) -> f64 {
    if k >= n || p <= 0.0 {
        return 1.0;
    }
    if p >= 1.0 {
        return 0.0;
    }
    let (lp, lq) = (p.ln(), (-p).ln_1p());
    let mut choose = 0.0; // ln of n over i
    let mut sum = 0.0;
    for i in 0..=k {
        if i > 0 {
            choose += f64::from(n - i + 1).ln() - f64::from(i).ln();
        }
        sum += (choose + f64::from(i) * lp + f64::from(n - i) * lq).exp();
    }
    sum.min(1.0)
}

/// The two-sided chance of a count as lopsided as this one, or more, if there were no difference: 0 to 1.
///
/// Without telling pairs it is 1: nothing was seen.
#[must_use]
pub fn sign_test(tally: Tally) -> f64 {
    let n = tally.telling();
    (2.0 * binomial_tail(n, tally.better.min(tally.worse), 0.5)).min(1.0)
}

/// The 95 % interval (Clopper & Pearson 1934) for the share of telling rides on which it is better; `None` without any.
#[must_use]
pub fn share_interval(tally: Tally) -> Option<(f64, f64)> {
    let (n, k) = (tally.telling(), tally.better);
    if n == 0 {
        return None;
    }
    const SIDE: f64 = 0.025;
    // At least k of n grows with p, at most k falls with it.
    let low = if k == 0 { 0.0 } else { crossing(|p| 1.0 - binomial_tail(n, k - 1, p) >= SIDE) };
    let high = if k == n { 1.0 } else { crossing(|p| binomial_tail(n, k, p) <= SIDE) };
    Some((low, high))
}

/// Where a condition that fails at 0 and holds at 1 begins to hold.
fn crossing(holds: impl Fn(f64) -> bool) -> f64 {
    let (mut no, mut yes) = (0.0, 1.0);
    for _ in 0..60 {
        let middle = f64::midpoint(no, yes);
        if holds(middle) { yes = middle } else { no = middle }
    }
    f64::midpoint(no, yes)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn of(better: u32, worse: u32) -> Tally {
        Tally { better, worse, same: 0 }
    }

    /// One-sided chances as tabulated to three decimals in Siegel, Nonparametric Statistics (1956), table D (from memory).
    #[test]
    fn chances_are_those_of_the_published_table() {
        let table = [
            (5, 0, 0.031),
            (5, 1, 0.188),
            (5, 2, 0.500),
            (8, 0, 0.004),
            (8, 1, 0.035),
            (8, 2, 0.145),
            (8, 3, 0.363),
            (8, 4, 0.637),
            (10, 1, 0.011),
            (10, 2, 0.055),
            (10, 3, 0.172),
            (12, 2, 0.019),
            (15, 3, 0.018),
            (15, 4, 0.059),
            (20, 5, 0.021),
            (25, 7, 0.022),
        ];
        for (n, k, p) in table {
            assert!((binomial_tail(n, k, 0.5) - p).abs() <= 0.0005, "{k} of {n}");
        }
    }

    /// Powers of a half: 2/32, 2/64, 2/256, and 2 * 11/1024 for one of ten.
    #[test]
    fn two_sided_chances_are_exact() {
        for (tally, p) in [(of(5, 0), 0.0625), (of(0, 6), 0.03125), (of(8, 0), 0.0078125), (of(1, 9), 22.0 / 1024.0)] {
            assert!((sign_test(tally) - p).abs() < 1e-12);
        }
        assert_eq!(sign_test(of(0, 0)), 1.0);
        assert_eq!(sign_test(of(3, 3)), 1.0);
        assert_eq!(sign_test(Tally { better: 5, worse: 0, same: 9 }), sign_test(of(5, 0)));
    }

    /// Greatest count of the rarer sign that is significant at 5 %, two-sided, as tabulated by Dixon & Mood (1946) and in
    /// handbooks since (from memory).
    #[test]
    fn critical_counts_are_those_of_the_published_table() {
        for (n, most) in [(6, 0), (9, 1), (12, 2), (15, 3), (17, 4), (20, 5), (23, 6), (25, 7)] {
            assert!(sign_test(of(most, n - most)) <= 0.05, "{n}");
            assert!(sign_test(of(most + 1, n - most - 1)) > 0.05, "{n}");
        }
        // With five rides nothing is ever significant at 5 %.
        assert!(sign_test(of(5, 0)) > 0.05);
    }

    /// Exact limits after Clopper & Pearson (1934): all of n gives 0.025^(1/n); 9 of 10: 0.5550 to 0.9975; 8 of 10: 0.4439
    /// to 0.9748 (tabulated in handbooks; from memory).
    #[test]
    fn intervals_are_those_of_the_published_table() {
        let near = |a: Option<(f64, f64)>, low: f64, high: f64| {
            let (l, h) = a.unwrap();
            assert!((l - low).abs() < 5e-5 && (h - high).abs() < 5e-5, "{l} {h}");
        };
        near(share_interval(of(8, 0)), 0.025_f64.powf(1.0 / 8.0), 1.0);
        near(share_interval(of(9, 1)), 0.5550, 0.9975);
        near(share_interval(of(8, 2)), 0.4439, 0.9748);
        assert_eq!(share_interval(of(0, 0)), None);
    }

    proptest! {
        /// Against integers: sums of binomial coefficients over a power of two.
        #[test]
        fn tails_are_exact_sums(n in 1u32..60, k in 0u32..60) {
            prop_assume!(k < n);
            let mut choose: u128 = 1;
            let mut sum: u128 = 1;
            for i in 1..=u128::from(k) {
                choose = choose * (u128::from(n) - i + 1) / i;
                sum += choose;
            }
            let exact = sum as f64 / 2f64.powi(n as i32);
            prop_assert!((binomial_tail(n, k, 0.5) - exact).abs() < 1e-10);
        }

        #[test]
        fn sides_are_alike_and_more_of_the_same_is_surer(better in 0u32..200, worse in 0u32..200) {
            let p = sign_test(of(better, worse));
            prop_assert!((0.0..=1.0).contains(&p));
            prop_assert!((p - sign_test(of(worse, better))).abs() < 1e-12);
            if better > worse {
                prop_assert!(sign_test(of(better + 1, worse)) <= p + 1e-12);
            }
        }

        #[test]
        fn the_interval_holds_the_share_seen(better in 0u32..60, worse in 0u32..60) {
            prop_assume!(better + worse > 0);
            let (low, high) = share_interval(of(better, worse)).unwrap();
            let seen = f64::from(better) / f64::from(better + worse);
            prop_assert!(low <= seen && seen <= high);
            // Significant exactly when one half lies outside.
            prop_assert_eq!(sign_test(of(better, worse)) <= 0.05, low >= 0.5 || high <= 0.5);
        }
    }
}
