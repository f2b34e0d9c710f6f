//! What is ridden next: one pair, or a blind series of the same two values in an order nobody but the setter knows.
//!
//! Pure. Owns how a blind series lies among the rides. Which values are compared is the bracket's choice.

use crate::trial::{Bracket, Next, Order, Pair, Stop, blind_order};

/// Pairs of a blind series. Six of six is the least that is fairly sure (sign test, 2 of 64: 3 %).
pub(super) const PAIRS: usize = 6;

/// What is ridden now.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Series {
    /// The value that stands, SI units; the one to keep when it stops.
    pub(super) stands: f64,
    /// The value that is tried, SI units.
    pub(super) tries: f64,
    /// Position of its first ride among all.
    pub(super) start: usize,
    /// Pairs of it that count so far.
    pub(super) ridden: usize,
    /// Which series it is, from 0.
    pub(super) number: u64,
    /// Nothing is left to ride.
    pub(super) stop: bool,
}

impl Series {
    /// The order of its pairs.
    pub(super) fn order(&self, seed: u64) -> Vec<Order> {
        blind_order(seed.wrapping_add(self.number), PAIRS)
    }

    /// The two values in an order.
    pub(super) fn pair(&self, order: Order) -> [f64; 2] {
        match order {
            Order::StandsFirst => [self.stands, self.tries],
            Order::TriesFirst => [self.tries, self.stands],
        }
    }
}

/// Where the rides lead: in a blind trial all pairs of a series are ridden before the bracket looks at any of them.
pub(super) fn series(bracket: &Bracket, rides: &[Pair], blind: bool) -> Series {
    let (mut start, mut number) = (0, 0);
    loop {
        let seen = if blind { &rides[..start] } else { rides };
        let (stands, tries) = match bracket.next(seen) {
            Next::Ride(r) => (r.stands, r.tries),
            Next::Stop(Stop { keep, .. }) => {
                return Series { stands: keep, tries: keep, start: rides.len(), ridden: 0, number, stop: true };
            }
        };
        let found = Series { stands, tries, start, ridden: 0, number, stop: false };
        if !blind {
            return Series { start: rides.len(), ..found };
        }
        let mut ridden = 0;
        let mut end = start;
        for p in &rides[start..] {
            end += 1;
            ridden += usize::from(p.changed.is_empty());
            if ridden == PAIRS {
                break;
            }
        }
        if ridden < PAIRS {
            return Series { ridden, ..found };
        }
        (start, number) = (end, number + 1);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trial::Felt;

    fn bracket() -> Bracket {
        Bracket::new(0.742, 0.004, 0.002, (0.7, 0.8), PAIRS as u32).unwrap()
    }

    #[test]
    fn a_series_is_ridden_to_its_end_before_it_is_looked_at() {
        let b = bracket();
        let mut rides = Vec::new();
        for n in 0..PAIRS {
            let s = series(&b, &rides, true);
            assert_eq!((s.start, s.ridden, s.number, s.stop), (0, n, 0, false));
            assert!((s.tries - 0.746).abs() < 1e-9, "the values stay while the series runs");
            let [first, second] = s.pair(s.order(7)[n]);
            // The tried value is felt to be better each time.
            rides.push(Pair::new(first, second, if second == s.tries { Felt::Second } else { Felt::First }));
        }
        let s = series(&b, &rides, true);
        assert_eq!((s.start, s.ridden, s.number), (PAIRS, 0, 1));
        assert!((s.stands - 0.746).abs() < 1e-9 && (s.tries - 0.750).abs() < 1e-9);
        assert_ne!(s.order(7), Series { number: 0, ..s.clone() }.order(7), "each series has an order of its own");
    }

    #[test]
    fn a_pair_with_another_change_is_ridden_again() {
        let b = bracket();
        let mut spoilt = Pair::new(0.742, 0.746, Felt::Second);
        spoilt.changed = vec!["pressure".into()];
        assert_eq!(series(&b, &[spoilt], true).ridden, 0);
    }

    #[test]
    fn a_trial_that_is_seen_asks_the_bracket_after_each_pair() {
        let b = Bracket::new(0.742, 0.004, 0.002, (0.7, 0.8), 1).unwrap();
        let s = series(&b, &[Pair::new(0.742, 0.746, Felt::Second)], false);
        assert!((s.stands - 0.746).abs() < 1e-9);
    }
}
