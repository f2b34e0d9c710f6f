//! A blind order: somebody else sets the bike, the rider does not know which is which.
//!
//! The order comes from a seed that is passed in, so that it can be written down and read again.

use super::bracket::Felt;

/// Which of two values is ridden first in a pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// The one that stands so far.
    StandsFirst,
    /// The one that is tried.
    TriesFirst,
}

/// What a blind verdict means once the order is opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Better {
    /// The value that stands so far.
    Stands,
    /// The value that is tried.
    Tries,
    /// Neither.
    Neither,
}

/// SplitMix64 (Steele, Lea & Flood 2014; constants from memory, checked on a published sequence below).
struct SplitMix(u64);

impl SplitMix {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number below `n`, without favour for small ones.
    fn below(&mut self, n: u64) -> u64 {
        let fair = u64::MAX - u64::MAX % n;
        loop {
            let x = self.next();
            if x < fair {
                return x % n;
            }
        }
    }
}

/// The order of so many pairs: each value comes first as often as the other (one more by the draw if the number is odd), in
/// an order that the seed decides. Getting used to the track or tired then favours neither.
#[must_use]
pub fn blind_order(seed: u64, pairs: usize) -> Vec<Order> {
    let mut dice = SplitMix(seed);
    let mut order: Vec<Order> =
        (0..pairs).map(|i| if i < pairs / 2 { Order::StandsFirst } else { Order::TriesFirst }).collect();
    if pairs % 2 == 1 && dice.below(2) == 0 {
        order[pairs / 2] = Order::StandsFirst;
    }
    // Fisher & Yates.
    for i in (1..order.len()).rev() {
        let j = dice.below(i as u64 + 1) as usize;
        order.swap(i, j);
    }
    order
}

/// The lines for whoever sets the bike. `stands` and `tries` as a person reads them.
#[must_use]
pub fn sheet(order: &[Order], stands: &str, tries: &str) -> Vec<String> {
    let line = |(i, o): (usize, &Order)| {
        let (first, second) = match o {
            Order::StandsFirst => (stands, tries),
            Order::TriesFirst => (tries, stands),
        };
        format!("Pair {}: first {first}, then {second}.", i + 1)
    };
    order.iter().enumerate().map(line).collect()
}

/// Opens a blind verdict.
#[must_use]
pub fn unblind(order: Order, felt: Felt) -> Better {
    match (order, felt) {
        (_, Felt::Same) => Better::Neither,
        (Order::StandsFirst, Felt::First) | (Order::TriesFirst, Felt::Second) => Better::Stands,
        (Order::StandsFirst, Felt::Second) | (Order::TriesFirst, Felt::First) => Better::Tries,
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// The first five numbers from seed 1234567, as printed with the reference program (from memory).
    #[test]
    fn the_generator_is_the_published_one() {
        let mut dice = SplitMix(1_234_567);
        let first: Vec<u64> = (0..5).map(|_| dice.next()).collect();
        assert_eq!(
            first,
            [
                6_457_827_717_110_365_317,
                3_203_168_211_198_807_973,
                9_817_491_932_198_370_423,
                4_593_380_528_125_082_431,
                16_408_922_859_458_223_821
            ]
        );
    }

    #[test]
    fn the_sheet_and_the_verdict_agree() {
        let lines = sheet(&[Order::TriesFirst, Order::StandsFirst], "742 mm", "746 mm");
        assert_eq!(lines, ["Pair 1: first 746 mm, then 742 mm.", "Pair 2: first 742 mm, then 746 mm."]);
        assert_eq!(unblind(Order::TriesFirst, Felt::First), Better::Tries);
        assert_eq!(unblind(Order::StandsFirst, Felt::First), Better::Stands);
        assert_eq!(unblind(Order::TriesFirst, Felt::Same), Better::Neither);
    }

    #[test]
    fn each_order_of_four_pairs_comes_about_as_often_as_the_others() {
        let mut seen = std::collections::BTreeMap::new();
        for seed in 0..6000 {
            let key: Vec<bool> = blind_order(seed, 4).iter().map(|o| *o == Order::StandsFirst).collect();
            *seen.entry(key).or_insert(0) += 1;
        }
        // Six orders, 1000 each on average; the standard deviation of each count is about 29.
        assert_eq!(seen.len(), 6);
        assert!(seen.values().all(|n| (850..1150).contains(n)), "{seen:?}");
    }

    proptest! {
        #[test]
        fn each_comes_first_as_often(seed in any::<u64>(), pairs in 0usize..60) {
            let order = blind_order(seed, pairs);
            let stands = order.iter().filter(|o| **o == Order::StandsFirst).count();
            prop_assert_eq!(order.len(), pairs);
            prop_assert!(stands.abs_diff(pairs - stands) == pairs % 2);
            prop_assert_eq!(order, blind_order(seed, pairs));
        }
    }
}
