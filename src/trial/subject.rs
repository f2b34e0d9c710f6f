//! What can be tried by small steps: the steps, what to ride, what to feel for.
//!
//! Data. All steps: common practice, no source. Limits are not here: they come from the bike, its makers and the fit.

/// A setting that can be tried.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Subject {
    /// Its id.
    pub id: &'static str,
    /// Its name in plain words.
    pub title: &'static str,
    /// First step, in SI units (metres, radians, pascals; shares and clicks as they are).
    pub step: f64,
    /// Smallest step worth riding, in SI units.
    pub least: f64,
    /// What more of it is called.
    pub plus: &'static str,
    /// What less of it is called.
    pub minus: &'static str,
    /// What to ride for each half of a pair.
    pub ride: &'static str,
    /// What to feel for.
    pub feel: &'static [&'static str],
    /// What limits it: to be kept to before the first step.
    pub limits: &'static str,
}

/// One degree in radians.
const DEGREE: f64 = std::f64::consts::PI / 180.0;

/// All of them, in order of id.
pub const SUBJECTS: &[Subject] = &[
    Subject {
        id: "bar-roll",
        title: "bar roll",
        step: 4.0 * DEGREE,
        least: 2.0 * DEGREE,
        plus: "rolled back",
        minus: "rolled forward",
        ride: "Ten minutes on a road you know, seated and standing, hands where you usually have them.",
        feel: &["pressure in the heel of the hand", "wrists straight or bent", "shoulders high or low"],
        limits: "Bolts to the value printed on the part after each step; levers must be reached without letting go.",
    },
    Subject {
        id: "fork-sag",
        title: "sag of the fork",
        step: 0.04,
        least: 0.02,
        plus: "softer",
        minus: "firmer",
        ride: "The same descent twice at the same easy speed, with the same roots or kerbs.",
        feel: &[
            "hands shaken or quiet",
            "dives under braking",
            "front wheel holds its line",
            "full travel used once or often",
        ],
        limits: "Never above the greatest pressure printed on the fork, never below its least.",
    },
    Subject {
        id: "front-tyre-pressure",
        title: "pressure of the front tyre",
        step: 20_000.0,
        least: 10_000.0,
        plus: "harder",
        minus: "softer",
        ride: "The same loop with a bend, a rough stretch and a kerb taken slowly.",
        feel: &["grip in the bend", "buzz in the hands", "rim touching on the kerb", "steering heavy or light"],
        limits: "Between the least and greatest pressure printed on tyre and rim; the lower of the two greatest counts.",
    },
    Subject {
        id: "lever-angle",
        title: "angle of the brake levers",
        step: 6.0 * DEGREE,
        least: 3.0 * DEGREE,
        plus: "lower",
        minus: "higher",
        ride: "Five minutes with a dozen stops, seated and standing.",
        feel: &["wrists straight or bent", "finger lies on the lever by itself", "standing descent"],
        limits: "Both levers must pull fully without touching the bar; test both brakes before riding.",
    },
    Subject {
        id: "lever-reach",
        title: "reach of the brake levers",
        step: 0.004,
        least: 0.002,
        plus: "farther",
        minus: "nearer",
        ride: "Five minutes with a dozen stops, some of them hard, away from traffic.",
        feel: &["finger bent or stretched at the bite", "hand moves on the grip", "strength at the bite"],
        limits: "The lever must not come to the bar or the fingers at a full pull; test both brakes before riding.",
    },
    Subject {
        id: "rear-tyre-pressure",
        title: "pressure of the rear tyre",
        step: 20_000.0,
        least: 10_000.0,
        plus: "harder",
        minus: "softer",
        ride: "The same loop with a climb, a rough stretch and a kerb taken slowly.",
        feel: &["grip on the climb", "buzz in the saddle", "rim touching on the kerb", "rolls easily or not"],
        limits: "Between the least and greatest pressure printed on tyre and rim; the lower of the two greatest counts.",
    },
    Subject {
        id: "rebound",
        title: "rebound",
        step: 2.0,
        least: 1.0,
        plus: "slower",
        minus: "faster",
        ride: "The same kerb seated at walking speed, then the same rough stretch.",
        feel: &["kicks back after the kerb", "packs down on the rough stretch", "wheel stays on the ground"],
        limits: "Count clicks from fully closed and write them down; never force the dial past its end.",
    },
    Subject {
        id: "saddle-height",
        title: "saddle height",
        step: 0.004,
        least: 0.002,
        plus: "higher",
        minus: "lower",
        ride: "Twenty minutes at an even effort, half of it on a steady climb, same shoes.",
        feel: &[
            "front or back of the knee",
            "hips rocking",
            "toes pointing or heel dropping",
            "reaching at the bottom",
        ],
        limits: "Not above the mark on the post for least insertion. Pain, not mere newness, ends the trial: go back.",
    },
    Subject {
        id: "saddle-setback",
        title: "saddle setback",
        step: 0.004,
        least: 0.002,
        plus: "farther back",
        minus: "farther forward",
        ride: "Twenty minutes at an even effort, hands where you usually have them, same shoes.",
        feel: &["weight on the hands", "front of the knee", "sliding forward or back"],
        limits: "Clamp within the marks on the rails. Setback changes height a little: measure height again each time.",
    },
    Subject {
        id: "shock-sag",
        title: "sag of the rear shock",
        step: 0.04,
        least: 0.02,
        plus: "softer",
        minus: "firmer",
        ride: "The same climb and descent twice at the same easy speed.",
        feel: &["bobs on the climb", "kicks over roots", "full travel used once or often"],
        limits: "Never above the greatest pressure printed on the shock, never below its least.",
    },
];

/// The one of that id.
#[must_use]
pub fn subject(id: &str) -> Option<&'static Subject> {
    SUBJECTS.iter().find(|s| s.id == id)
}

#[cfg(test)]
mod tests {
    use super::super::bracket::Bracket;
    use super::*;

    #[test]
    fn subjects_are_in_order_and_can_be_tried() {
        assert!(SUBJECTS.windows(2).all(|w| w[0].id < w[1].id));
        for s in SUBJECTS {
            assert!(Bracket::new(0.0, s.step, s.least, (-10.0 * s.step, 10.0 * s.step), 1).is_ok(), "{}", s.id);
            assert!(!s.feel.is_empty() && s.ride.ends_with('.') && s.limits.ends_with('.'), "{}", s.id);
            assert_eq!(subject(s.id), Some(s));
        }
        assert_eq!(subject("colour"), None);
    }
}
