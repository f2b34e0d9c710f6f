//! What to recheck on a new bike: after the first ride, in the first weeks, in the first season.
//!
//! Data with days and distances, whichever comes first, and what is due now. Time comes in as unix seconds.

/// Where all days and distances of the plan come from.
pub const SOURCE: &str = "common practice, no source";

/// Seconds of a day.
const DAY: i64 = 86_400;

/// A part of the first season.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// After the first ride.
    FirstRide,
    /// In the first weeks.
    FirstWeeks,
    /// In the first season.
    FirstSeason,
}

/// What a bike must have for a recheck to apply.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Needs {
    Nothing,
    Cables,
    Spokes,
    Suspension,
}

/// What a bike has; a bike has all of it unless told otherwise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Kit {
    /// Cables to gears or brakes.
    pub cables: bool,
    /// Spoked wheels.
    pub spokes: bool,
    /// A suspension fork or shock.
    pub suspension: bool,
}

impl Default for Kit {
    fn default() -> Self {
        Kit { cables: true, spokes: true, suspension: true }
    }
}

/// Something to recheck.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Recheck {
    /// Its id.
    pub id: &'static str,
    /// When in the season.
    pub stage: Stage,
    /// What to do, in plain words.
    pub what: &'static str,
    /// Why.
    pub why: &'static str,
    /// Due so many days after the start ...
    pub days: u32,
    /// ... or after so many kilometres, whichever comes first.
    pub kilometres: f64,
    needs: Needs,
}

const fn recheck(
    stage: Stage,
    id: &'static str,
    what: &'static str,
    why: &'static str,
    (days, kilometres): (u32, f64),
    needs: Needs,
) -> Recheck {
    Recheck { id, stage, what, why, days, kilometres, needs }
}

const RIDE: (u32, f64) = (7, 10.0);
const WEEKS: (u32, f64) = (28, 200.0);
const SEASON: (u32, f64) = (180, 2000.0);

/// The whole plan, in order of stages. Days and distances: [`SOURCE`].
pub const PLAN: &[Recheck] = &[
    recheck(
        Stage::FirstRide,
        "ride-bolts",
        "Check the bolts of stem, bar, seat post, saddle, axles and brake mounts against the values printed on the parts.",
        "Grease and paint settle under clamps on the first ride.",
        RIDE,
        Needs::Nothing,
    ),
    recheck(
        Stage::FirstRide,
        "ride-headset",
        "Hold the front brake and rock the bike: no knock, and the bar turns freely.",
        "Bearing seats settle; a loose headset wears fast and makes steering unsure.",
        RIDE,
        Needs::Nothing,
    ),
    recheck(
        Stage::FirstRide,
        "ride-brakes",
        "Pull both brakes hard standing, then stop from walking speed; look that pads meet rim or rotor squarely.",
        "New pads bed in and change the bite.",
        RIDE,
        Needs::Nothing,
    ),
    recheck(
        Stage::FirstRide,
        "ride-sag",
        "Read sag again, with the clothes and load of the ride.",
        "Seals free up and pressure settles after the first strokes.",
        RIDE,
        Needs::Suspension,
    ),
    recheck(
        Stage::FirstRide,
        "ride-fit",
        "Measure saddle height and look that post, saddle and bar stand where they were set.",
        "What was not quite tight slips on the first ride.",
        RIDE,
        Needs::Nothing,
    ),
    recheck(
        Stage::FirstWeeks,
        "weeks-bolts",
        "Check all bolts again, chainring, crank and pedal bolts among them.",
        "A second round finds what settled since the first.",
        WEEKS,
        Needs::Nothing,
    ),
    recheck(
        Stage::FirstWeeks,
        "weeks-cables",
        "Adjust gears and cable brakes.",
        "Housing seats itself and new cables lengthen.",
        WEEKS,
        Needs::Cables,
    ),
    recheck(
        Stage::FirstWeeks,
        "weeks-spokes",
        "Squeeze spokes in pairs all round for loose ones and spin the wheels: true within what the brake or frame allows.",
        "Spokes bed into hub and rim, and tension falls.",
        WEEKS,
        Needs::Spokes,
    ),
    recheck(
        Stage::FirstWeeks,
        "weeks-headset",
        "Check headset and wheel bearings for play.",
        "Bearings settle in the first weeks.",
        WEEKS,
        Needs::Nothing,
    ),
    recheck(
        Stage::FirstWeeks,
        "weeks-pads",
        "Look how thick the brake pads are, and note it.",
        "The first reading tells how fast they wear.",
        WEEKS,
        Needs::Nothing,
    ),
    recheck(
        Stage::FirstSeason,
        "season-chain",
        "Measure the chain's wear.",
        "A chain replaced in time spares cassette and rings.",
        SEASON,
        Needs::Nothing,
    ),
    recheck(
        Stage::FirstSeason,
        "season-pads",
        "Measure brake pads, and rotors or rims.",
        "Worn pads bite metal; rotors and rims wear too.",
        SEASON,
        Needs::Nothing,
    ),
    recheck(
        Stage::FirstSeason,
        "season-bolts",
        "Check all bolts; take out, grease and refit the seat post.",
        "Posts seize when they stay put for years.",
        SEASON,
        Needs::Nothing,
    ),
    recheck(
        Stage::FirstSeason,
        "season-cables",
        "Look for frayed cables, cracked housing and stiff action.",
        "Water and grit have got in by now.",
        SEASON,
        Needs::Cables,
    ),
    recheck(
        Stage::FirstSeason,
        "season-spokes",
        "Check spoke tension and trueness.",
        "A wheel that has kept its tension for a season has settled.",
        SEASON,
        Needs::Spokes,
    ),
    recheck(
        Stage::FirstSeason,
        "season-headset",
        "Check headset, hubs and bottom bracket for play and roughness; look over frame and fork for cracks.",
        "Play and cracks are found early or late.",
        SEASON,
        Needs::Nothing,
    ),
    recheck(
        Stage::FirstSeason,
        "season-sag",
        "Read sag and rebound; ask for the service times in the maker's instructions.",
        "Air is lost slowly, and oil and seals age.",
        SEASON,
        Needs::Suspension,
    ),
];

/// The plan of one bike: from when, and from which distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plan {
    /// Unix seconds at the start.
    pub start: i64,
    /// Distance on the bike at the start, in metres.
    pub metres: f64,
    /// What the bike has.
    pub kit: Kit,
}

/// A recheck with its due date and distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlanDue {
    /// What.
    pub recheck: &'static Recheck,
    /// Due at, in unix seconds.
    pub at: i64,
    /// Due at, as the distance on the bike in metres.
    pub metres: f64,
}

impl Plan {
    /// Everything that applies, with due dates and distances, in order of stages.
    #[must_use]
    pub fn schedule(&self) -> Vec<PlanDue> {
        let applies = |r: &&Recheck| match r.needs {
            Needs::Nothing => true,
            Needs::Cables => self.kit.cables,
            Needs::Spokes => self.kit.spokes,
            Needs::Suspension => self.kit.suspension,
        };
        let due = |r: &'static Recheck| PlanDue {
            recheck: r,
            at: self.start.saturating_add(i64::from(r.days) * DAY),
            metres: self.metres + 1000.0 * r.kilometres,
        };
        PLAN.iter().filter(applies).map(due).collect()
    }

    /// What is due at a time (unix seconds) and a distance on the bike (metres; `None` if not known), in order of stages.
    #[must_use]
    pub fn due(&self, now: i64, metres: Option<f64>) -> Vec<PlanDue> {
        let mut due = self.schedule();
        due.retain(|d| d.at <= now || metres.is_some_and(|m| m >= d.metres));
        due
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    const START: i64 = 1_700_000_000;

    fn plan() -> Plan {
        Plan { start: START, metres: 5_000.0, kit: Kit::default() }
    }

    fn ids(due: &[PlanDue]) -> BTreeSet<&'static str> {
        due.iter().map(|d| d.recheck.id).collect()
    }

    #[test]
    fn each_stage_is_due_by_date_or_distance() {
        let p = plan();
        assert!(p.due(START, Some(5_000.0)).is_empty());
        let first = ids(&p.due(START + 7 * DAY, None));
        assert!(first.iter().all(|id| id.starts_with("ride-")) && first.len() == 5);
        assert_eq!(ids(&p.due(START, Some(15_000.0))), first);
        assert!(p.due(START, Some(14_999.0)).is_empty());
        let weeks = ids(&p.due(START + 28 * DAY - 1, Some(205_000.0)));
        assert!(weeks.is_superset(&first) && weeks.contains("weeks-spokes") && !weeks.contains("season-chain"));
        assert_eq!(p.due(START + 180 * DAY, None).len(), PLAN.len());
    }

    #[test]
    fn what_a_bike_has_not_is_not_asked() {
        let kit = Kit { cables: false, spokes: false, suspension: false };
        let all = ids(&Plan { kit, ..plan() }.schedule());
        assert!(all.iter().all(|id| !["cables", "spokes", "sag"].iter().any(|w| id.ends_with(w))));
        assert_eq!(all.len(), PLAN.len() - 6);
    }

    #[test]
    fn the_plan_is_in_order_with_ids_of_its_own_and_covers_what_works_loose() {
        assert!(PLAN.windows(2).all(|w| w[0].stage <= w[1].stage && w[0].days <= w[1].days));
        let all: BTreeSet<_> = PLAN.iter().map(|r| r.id).collect();
        assert_eq!(all.len(), PLAN.len());
        for word in ["bolts", "spokes", "cables", "pads", "headset", "sag"] {
            assert!(all.iter().any(|id| id.ends_with(word)), "{word}");
        }
        assert!(PLAN.iter().all(|r| r.what.ends_with('.') && r.why.ends_with('.') && r.days > 0 && r.kilometres > 0.0));
    }
}
