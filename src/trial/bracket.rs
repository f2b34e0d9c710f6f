//! Bracketing one setting: baseline against plus, against minus, on in the better direction, then half steps.
//!
//! A pure function of the rides so far: the same rides lead to the same next one. Values lie on a grid of the smallest step,
//! so that equal values are equal.

use super::sign::Tally;

/// What a rider says after riding two values.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Felt {
    /// The first was better.
    First,
    /// The second was better.
    Second,
    /// No difference.
    Same,
}

/// Two values ridden one after the other, and what was said.
#[derive(Clone, Debug, PartialEq)]
pub struct Pair {
    /// Ridden first, in SI units.
    pub first: f64,
    /// Ridden second, in SI units.
    pub second: f64,
    /// Which was better.
    pub felt: Felt,
    /// Other settings that were changed at the same time. Such a pair teaches nothing and is left out.
    pub changed: Vec<String>,
}

impl Pair {
    /// A pair between which only the one setting was changed.
    #[must_use]
    pub fn new(first: f64, second: f64, felt: Felt) -> Self {
        Pair { first, second, felt, changed: Vec::new() }
    }
}

/// Why a trial cannot be set up so.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum TrialError {
    /// A value is not a number.
    #[error("a value is not a number")]
    NotANumber,
    /// The step or the smallest step is not above 0, or the step is smaller than the smallest.
    #[error("the step must be above 0 and no less than the smallest step")]
    Step,
    /// The baseline is outside the limits.
    #[error("the baseline is outside the safe limits")]
    Limits,
    /// Repeats must be 1 to 99.
    #[error("a pair is ridden 1 to 99 times")]
    Repeats,
}

/// Up or down from where one stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// More.
    Plus,
    /// Less.
    Minus,
}

/// The next pair to ride.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ride {
    /// The value that stands so far, in SI units.
    pub stands: f64,
    /// The value to try against it, in SI units.
    pub tries: f64,
    /// On which side it lies.
    pub direction: Direction,
    /// How many halvings of the first step this is: 0 for whole steps.
    pub halvings: u32,
    /// How often this pair has been ridden already.
    pub ridden: u32,
}

/// Why a trial stops.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// Neither side came out better, down to the smallest step.
    NoBetter,
    /// The value stands at the lowest safe value, and no smaller one may be tried.
    AtLowLimit,
    /// The value stands at the highest safe value, and no greater one may be tried.
    AtHighLimit,
}

/// The end of a trial.
#[derive(Clone, Debug, PartialEq)]
pub struct Stop {
    /// The value to keep, in SI units.
    pub keep: f64,
    /// Why it stops.
    pub why: Why,
    /// The rides of the kept value against each other value: the other value, and the count for (`better`) and against.
    pub against: Vec<(f64, Tally)>,
}

/// What to do next.
#[derive(Clone, Debug, PartialEq)]
pub enum Next {
    /// Ride this pair.
    Ride(Ride),
    /// Stop and keep what stands.
    Stop(Stop),
}

/// A trial of one setting by bracketing. All values in SI units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bracket {
    baseline: f64,
    least: f64,
    step: i64,
    low: i64,
    high: i64,
    repeats: u32,
}

/// How a pair of values compares so far.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Verdict {
    Better,
    NotBetter,
    Open(u32),
}

/// Part of the smallest step by which a limit may be missed through rounding.
const ROUNDING: f64 = 1e-6;

impl Bracket {
    /// Sets up a trial: from `baseline`, first by `step`, at last by `least`, never outside `low` to `high`, each pair ridden
    /// `repeats` times (the majority decides; a draw is "no better"). The step is rounded to a whole number of smallest
    /// steps.
    ///
    /// # Errors
    ///
    /// [`TrialError`] for what cannot be ridden.
    pub fn new(
        baseline: f64,
        step: f64,
        least: f64,
        (low, high): (f64, f64),
        repeats: u32,
    ) -> Result<Self, TrialError> {
        if ![baseline, step, least, low, high].iter().all(|x| x.is_finite()) {
            return Err(TrialError::NotANumber);
        }
        if least <= 0.0 || step < least * (1.0 - ROUNDING) {
            return Err(TrialError::Step);
        }
        if !(low..=high).contains(&baseline) {
            return Err(TrialError::Limits);
        }
        if !(1..=99).contains(&repeats) {
            return Err(TrialError::Repeats);
        }
        let grid = |x: f64| (x - baseline) / least;
        Ok(Bracket {
            baseline,
            least,
            step: ((step / least).round() as i64).max(1),
            low: (grid(low) - ROUNDING).ceil() as i64,
            high: (grid(high) + ROUNDING).floor() as i64,
            repeats,
        })
    }

    /// What to ride next, or that it is enough, after these rides.
    #[must_use]
    pub fn next(&self, rides: &[Pair]) -> Next {
        let (mut at, mut step, mut halvings, mut first) = (0_i64, self.step, 0_u32, Direction::Plus);
        // Values that stood and were beaten: never gone back to, or contradictory answers would lead round in a circle.
        let mut beaten: Vec<i64> = Vec::new();
        'stands: loop {
            for direction in [first, first.other()] {
                let tries = match direction {
                    Direction::Plus => at.saturating_add(step).min(self.high),
                    Direction::Minus => at.saturating_sub(step).max(self.low),
                };
                if tries == at || beaten.contains(&tries) {
                    continue;
                }
                match self.verdict(rides, tries, at) {
                    Verdict::Better => {
                        beaten.push(at);
                        (at, first) = (tries, direction);
                        continue 'stands;
                    }
                    Verdict::NotBetter => {}
                    Verdict::Open(ridden) => {
                        let (stands, tries) = (self.value(at), self.value(tries));
                        return Next::Ride(Ride { stands, tries, direction, halvings, ridden });
                    }
                }
            }
            if step == 1 {
                return Next::Stop(self.stop(rides, at));
            }
            (step, halvings) = (step / 2, halvings + 1);
        }
    }

    /// The lowest and the highest value that may be tried, in SI units.
    #[must_use]
    pub fn limits(&self) -> (f64, f64) {
        (self.value(self.low), self.value(self.high))
    }

    /// How many of these pairs are left out because something else was changed too, or a value is none of this trial's.
    #[must_use]
    pub fn left_out(&self, rides: &[Pair]) -> usize {
        rides.iter().filter(|p| self.usable(p).is_none()).count()
    }

    /// The count of rides of `one` against `other` (SI units): `better` is for `one`.
    #[must_use]
    pub fn tally(&self, rides: &[Pair], one: f64, other: f64) -> Tally {
        match (self.place(one), self.place(other)) {
            (Some(one), Some(other)) => self.count(rides, one, other),
            _ => Tally::default(),
        }
    }

    fn value(&self, k: i64) -> f64 {
        self.baseline + k as f64 * self.least
    }

    /// The place on the grid; `None` for a value that lies beside it or outside the limits.
    fn place(&self, x: f64) -> Option<i64> {
        let k = (x - self.baseline) / self.least;
        let near = k.is_finite() && (k - k.round()).abs() < 0.01;
        near.then(|| k.round() as i64).filter(|k| (self.low..=self.high).contains(k))
    }

    fn usable(&self, pair: &Pair) -> Option<(i64, i64)> {
        let (first, second) = (self.place(pair.first)?, self.place(pair.second)?);
        (pair.changed.is_empty() && first != second).then_some((first, second))
    }

    fn count(&self, rides: &[Pair], one: i64, other: i64) -> Tally {
        let mut tally = Tally::default();
        for pair in rides {
            let Some((first, second)) = self.usable(pair) else { continue };
            let turned = match (first, second) {
                (f, s) if (f, s) == (one, other) => false,
                (f, s) if (f, s) == (other, one) => true,
                _ => continue,
            };
            match (pair.felt, turned) {
                (Felt::Same, _) => tally.same += 1,
                (Felt::First, false) | (Felt::Second, true) => tally.better += 1,
                (Felt::First, true) | (Felt::Second, false) => tally.worse += 1,
            }
        }
        tally
    }

    /// Whether the rides say that `tries` is better than `stands`: decided as soon as the repeats left cannot turn it.
    fn verdict(&self, rides: &[Pair], tries: i64, stands: i64) -> Verdict {
        let t = self.count(rides, tries, stands);
        let ridden = t.better + t.worse + t.same;
        let left = self.repeats.saturating_sub(ridden);
        if t.better > t.worse + left {
            Verdict::Better
        } else if t.better + left <= t.worse {
            Verdict::NotBetter
        } else {
            Verdict::Open(ridden)
        }
    }

    fn stop(&self, rides: &[Pair], at: i64) -> Stop {
        let mut others: Vec<i64> = rides.iter().filter_map(|p| self.usable(p)).flat_map(|(a, b)| [a, b]).collect();
        others.sort_unstable();
        others.dedup();
        let against = others.into_iter().filter(|o| *o != at).map(|o| (self.value(o), self.count(rides, at, o)));
        let why = match at {
            _ if at == self.low && at < 0 => Why::AtLowLimit,
            _ if at == self.high && at > 0 => Why::AtHighLimit,
            _ if at == self.low && at == self.high => Why::NoBetter,
            _ if at == self.low => Why::AtLowLimit,
            _ if at == self.high => Why::AtHighLimit,
            _ => Why::NoBetter,
        };
        let against = against.filter(|(_, t)| t.better + t.worse + t.same > 0).collect();
        Stop { keep: self.value(at), why, against }
    }
}

impl Direction {
    fn other(self) -> Self {
        match self {
            Direction::Plus => Direction::Minus,
            Direction::Minus => Direction::Plus,
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Rides until it stops, judged by `better`; gives the stop and the rides.
    fn ride(bracket: &Bracket, mut felt: impl FnMut(f64, f64) -> Felt) -> (Stop, Vec<Pair>) {
        let mut rides = Vec::new();
        loop {
            match bracket.next(&rides) {
                Next::Stop(stop) => return (stop, rides),
                Next::Ride(r) => rides.push(Pair::new(r.stands, r.tries, felt(r.stands, r.tries))),
            }
            assert!(rides.len() < 5000, "it never stops");
        }
    }

    fn nearer(to: f64) -> impl FnMut(f64, f64) -> Felt {
        move |a, b| match ((a - to).abs(), (b - to).abs()) {
            (x, y) if (x - y).abs() < 1e-9 => Felt::Same,
            (x, y) if x < y => Felt::First,
            _ => Felt::Second,
        }
    }

    fn values(rides: &[Pair]) -> Vec<(i64, i64)> {
        rides.iter().map(|p| ((p.first * 1000.0).round() as i64, (p.second * 1000.0).round() as i64)).collect()
    }

    #[test]
    fn plus_minus_then_half_steps() {
        let b = Bracket::new(0.742, 0.004, 0.002, (0.70, 0.78), 1).unwrap();
        // Neither plus nor minus is better, nor half of either: the baseline stays.
        let (stop, rides) = ride(&b, nearer(0.742));
        assert_eq!(values(&rides), [(742, 746), (742, 738), (742, 744), (742, 740)]);
        assert_eq!((stop.keep, stop.why), (0.742, Why::NoBetter));
        // Plus is better: on in that direction, then half steps about what stands; what was ridden is not ridden again.
        let (stop, rides) = ride(&b, nearer(0.7482));
        assert_eq!(values(&rides), [(742, 746), (746, 750), (750, 754), (750, 752), (750, 748)]);
        assert!((stop.keep - 0.748).abs() < 1e-9);
        let (stop, rides) = ride(&b, nearer(0.738));
        assert_eq!(values(&rides)[..3], [(742, 746), (742, 738), (738, 734)]);
        assert!((stop.keep - 0.738).abs() < 1e-9);
        assert!(stop.against.iter().any(|(v, t)| (v - 0.742).abs() < 1e-9 && t.better == 1));
    }

    #[test]
    fn limits_are_met_and_never_passed() {
        let b = Bracket::new(0.742, 0.004, 0.002, (0.739, 0.749), 1).unwrap();
        let (stop, rides) = ride(&b, nearer(1.0));
        // 749 is not a whole step from the baseline: 748 is as far as one may go.
        assert!(rides.iter().all(|p| p.second <= 0.749));
        assert!((stop.keep - 0.748).abs() < 1e-9);
        assert_eq!(stop.why, Why::AtHighLimit);
        let (stop, _) = ride(&b, nearer(0.0));
        assert!((stop.keep - 0.740).abs() < 1e-9);
        assert_eq!(stop.why, Why::AtLowLimit);
        let none = Bracket::new(0.742, 0.004, 0.002, (0.742, 0.742), 1).unwrap();
        assert!(matches!(none.next(&[]), Next::Stop(Stop { why: Why::NoBetter, .. })));
    }

    #[test]
    fn a_pair_with_two_changes_is_ridden_again() {
        let b = Bracket::new(0.742, 0.004, 0.002, (0.70, 0.78), 1).unwrap();
        let two = Pair { changed: vec!["tyre-pressure".into()], ..Pair::new(0.742, 0.746, Felt::Second) };
        assert_eq!(b.next(std::slice::from_ref(&two)), b.next(&[]));
        assert_eq!(b.left_out(&[two, Pair::new(0.742, 0.7433, Felt::First)]), 2);
    }

    #[test]
    fn repeats_decide_by_majority_and_stop_when_decided() {
        let b = Bracket::new(10.0, 2.0, 1.0, (0.0, 20.0), 3).unwrap();
        let pair = |f| Pair::new(10.0, 12.0, f);
        let ridden = |rides: &[Pair]| match b.next(rides) {
            Next::Ride(r) => (r.stands, r.tries, r.ridden),
            Next::Stop(_) => panic!("stopped"),
        };
        assert_eq!(ridden(&[pair(Felt::Second)]), (10.0, 12.0, 1));
        assert_eq!(ridden(&[pair(Felt::Second), pair(Felt::First)]), (10.0, 12.0, 2));
        assert_eq!(ridden(&[pair(Felt::Second), pair(Felt::Second)]), (12.0, 14.0, 0));
        assert_eq!(ridden(&[pair(Felt::First), pair(Felt::First)]), (10.0, 8.0, 0));
        // Ridden the other way about counts the same.
        let turned = Pair::new(12.0, 10.0, Felt::First);
        assert_eq!(ridden(&[pair(Felt::Second), turned]), (12.0, 14.0, 0));
        assert_eq!(
            b.tally(&[pair(Felt::Second), pair(Felt::Same)], 12.0, 10.0),
            Tally { better: 1, worse: 0, same: 1 }
        );
    }

    #[test]
    fn what_cannot_be_ridden_is_refused() {
        let new = |base, step, least, low, high, n| Bracket::new(base, step, least, (low, high), n).unwrap_err();
        assert_eq!(new(f64::NAN, 1.0, 1.0, 0.0, 9.0, 1), TrialError::NotANumber);
        assert_eq!(new(5.0, 0.5, 1.0, 0.0, 9.0, 1), TrialError::Step);
        assert_eq!(new(5.0, 1.0, 0.0, 0.0, 9.0, 1), TrialError::Step);
        assert_eq!(new(10.0, 1.0, 1.0, 0.0, 9.0, 1), TrialError::Limits);
        assert_eq!(new(5.0, 1.0, 1.0, 9.0, 0.0, 1), TrialError::Limits);
        assert_eq!(new(5.0, 1.0, 1.0, 0.0, 9.0, 0), TrialError::Repeats);
    }

    proptest! {
        /// A rider who always prefers what is nearer to one value is led to within one smallest step of it (or to the
        /// limit beside it), whatever the step.
        #[test]
        fn a_steady_preference_is_found(
            baseline in -20.0f64..20.0, step in 1.0f64..9.0, low in 0.0f64..25.0, high in 0.0f64..25.0, wish in -60.0f64..60.0,
            repeats in 1u32..6,
        ) {
            let (low, high) = (baseline - low, baseline + high);
            let b = Bracket::new(baseline, step, 1.0, (low, high), repeats).unwrap();
            let (stop, rides) = ride(&b, nearer(wish));
            let reach = wish.clamp(b.value(b.low), b.value(b.high));
            prop_assert!((stop.keep - reach).abs() <= 1.0 + 1e-9, "kept {} for {reach}", stop.keep);
            for p in &rides {
                for x in [p.first, p.second] {
                    prop_assert!(x >= low - 1e-5 && x <= high + 1e-5);
                }
            }
        }

        /// However the rider answers, it stops, within the limits, at the baseline or at a value that was ridden and won.
        #[test]
        fn any_answers_come_to_an_end(
            answers in prop::collection::vec(0u8..3, 1..200), step in 1u32..12, low in 0u32..30, high in 0u32..30,
            repeats in 1u32..4,
        ) {
            let limits = (-f64::from(low), f64::from(high));
            let b = Bracket::new(0.0, f64::from(step), 1.0, limits, repeats).unwrap();
            let mut i = 0;
            let (stop, rides) = ride(&b, |_, _| {
                i += 1;
                [Felt::First, Felt::Second, Felt::Same][usize::from(answers[i % answers.len()])]
            });
            prop_assert!((limits.0..=limits.1).contains(&stop.keep));
            let won = rides.iter().any(|p| p.second == stop.keep && p.felt == Felt::Second);
            prop_assert!(stop.keep == 0.0 || won);
        }
    }
}
