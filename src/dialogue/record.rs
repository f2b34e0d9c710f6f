//! What a conversation leaves behind, as plain data: the record that cards are made from.
//!
//! A file format: its fields are kept stable, and unknown ones are refused when it is read again.

use serde::{Deserialize, Serialize};

/// A setting on a record.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordedSetting {
    /// What it is.
    pub what: String,
    /// Before, if known.
    pub before: Option<String>,
    /// After.
    pub after: String,
    /// Computed, measured or said.
    pub how: String,
    /// From where to where it is measured, so that anybody can restore it; empty when not told.
    #[serde(default)]
    pub measured: String,
    /// How far it is from the card, in words: "9 mm lower than on the card of 3 May 2026 (measured)"; empty when there was
    /// nothing to compare with.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub compared: String,
}

/// A figure, computed or measured, with its SI value beside the reader's own words for it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordedFigure {
    /// Id of the calculator, or `measured` or `said`.
    pub calculator: String,
    /// Id of the output, or of the place where it was measured (`report` lists the places that pictures know).
    pub id: String,
    /// What it is, in words.
    pub label: String,
    /// The value in the reader's units.
    pub shown: String,
    /// SI value: metres, pascals, radians; shares and ratios as they are (0.25, not 25).
    pub si: f64,
    /// Symbol of the unit in which it was shown; empty for a plain number.
    pub unit: String,
    /// Lower end of its band, SI.
    #[serde(default)]
    pub lo: Option<f64>,
    /// Upper end of its band, SI.
    #[serde(default)]
    pub hi: Option<f64>,
}

/// A marked point of a curve.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordedMark {
    /// Across, in the unit of the curve's axis.
    pub x: f64,
    /// Up, in the unit of the curve's axis.
    pub y: f64,
    /// What the point is.
    pub label: String,
    /// `reading` (something measured), `target` (what is wanted) or empty.
    #[serde(default)]
    pub role: String,
}

/// A curve with marked points: a fitted spring, a pressure against a width.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordedCurve {
    /// What it shows.
    pub title: String,
    /// Name of the axis across, with its unit.
    pub x: String,
    /// Name of the axis up, with its unit.
    pub y: String,
    /// Points of the curve, from left to right.
    pub points: Vec<(f64, f64)>,
    /// Marked points.
    #[serde(default)]
    pub marks: Vec<RecordedMark>,
}

/// One rung of a ladder, or one method of several.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordedRung {
    /// What it is: a gear such as `32/18`, a method.
    pub label: String,
    /// Value in the ladder's unit.
    pub value: f64,
    /// The value in the reader's words; empty: the number is written as it is.
    #[serde(default)]
    pub shown: String,
    /// Lower end of its band.
    #[serde(default)]
    pub lo: Option<f64>,
    /// Upper end of its band.
    #[serde(default)]
    pub hi: Option<f64>,
}

/// Values of one kind beside each other.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordedLadder {
    /// What they are.
    pub title: String,
    /// Their common unit.
    pub unit: String,
    /// The values.
    pub rungs: Vec<RecordedRung>,
}

/// One reading of a setting or of wear.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordedReading {
    /// What was read; readings of the same name form one line over time.
    pub what: String,
    /// The day, as `2026-03-14`.
    pub when: String,
    /// The value in its unit.
    pub value: f64,
    /// Symbol of the unit.
    pub unit: String,
    /// It tells how far a part is worn.
    #[serde(default, skip_serializing_if = "is_false")]
    pub wear: bool,
    /// Worn out at this value, in the same unit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limit: Option<f64>,
    /// The part is worn out.
    #[serde(default, skip_serializing_if = "is_false")]
    pub out: bool,
}

fn is_false(value: &bool) -> bool {
    !value
}

/// One ride.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordedRide {
    /// The day, as `2026-03-14`.
    pub when: String,
    /// What was ridden.
    pub what: String,
}

/// One ride of a trial, with what was said of it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordedRun {
    /// The setting that was ridden.
    pub setting: String,
    /// The day, as `2026-03-14`; empty when not told.
    #[serde(default)]
    pub when: String,
    /// Better, same or worse than the one before, or the rider's own words.
    pub verdict: String,
}

/// A trial: one setting changed by small steps from a noted baseline.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordedTrial {
    /// The setting that is changed.
    pub setting: String,
    /// Where it starts.
    pub baseline: String,
    /// The step by which it is changed.
    pub change: String,
    /// What to ride.
    #[serde(default)]
    pub ride: String,
    /// What to feel for.
    #[serde(default)]
    pub feel: Vec<String>,
    /// When to stop: limits that must not be passed.
    #[serde(default)]
    pub stop: Vec<String>,
    /// The rider does not know which setting is on the bike.
    #[serde(default)]
    pub blind: bool,
    /// Settings in the order in which they are to be ridden.
    #[serde(default)]
    pub planned: Vec<String>,
    /// Rides done so far.
    #[serde(default)]
    pub runs: Vec<RecordedRun>,
    /// What can be said after these rides, and how surely.
    #[serde(default)]
    pub verdict: String,
}

/// Something to look at again.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordedDue {
    /// What to check.
    pub what: String,
    /// How to check it, and why.
    #[serde(default)]
    pub how: String,
    /// The day on which it is due, as `2026-03-14`; empty when it goes by distance or rides only.
    #[serde(default)]
    pub on: String,
    /// The distance or ride after which it is due, in words.
    #[serde(default)]
    pub after: String,
    /// The day on which it was done; empty while open.
    #[serde(default)]
    pub done: String,
    /// It is due by the distance ridden, whatever its day.
    #[serde(default, skip_serializing_if = "is_false")]
    pub now: bool,
}

/// A record of one conversation, without clock or names of its own: these are added by whoever keeps it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Record {
    /// Rider's measures and facts.
    pub rider: Vec<String>,
    /// Bike facts.
    pub bike: Vec<String>,
    /// Complaints as told, one for each thread.
    pub complaints: Vec<String>,
    /// Findings.
    pub findings: Vec<String>,
    /// Causes with the degree of belief or what came of the work.
    pub causes: Vec<String>,
    /// What was excluded.
    pub excluded: Vec<String>,
    /// Settings before and after.
    pub settings: Vec<RecordedSetting>,
    /// Warnings and cautions.
    pub cautions: Vec<String>,
    /// Next checks.
    pub checks: Vec<String>,
    /// Lines typed: fed again they lead to the same place.
    pub lines: Vec<String>,
    /// A title, if whoever keeps the record has given one.
    #[serde(default)]
    pub title: String,
    /// The day of the record, as `2026-03-14`; given, never taken from a clock.
    #[serde(default)]
    pub date: String,
    /// What the rider is called.
    #[serde(default)]
    pub rider_name: String,
    /// What the bike is called.
    #[serde(default)]
    pub bike_name: String,
    /// Who wrote the record.
    #[serde(default)]
    pub by: String,
    /// Reasons why the bike, or the rider, must not ride now; each a whole sentence.
    #[serde(default)]
    pub stop: Vec<String>,
    /// Work that was done.
    #[serde(default)]
    pub work: Vec<String>,
    /// Questions that are still open.
    #[serde(default)]
    pub open: Vec<String>,
    /// Belief over causes when the complaint had been told: title and probability.
    #[serde(default)]
    pub beliefs_before: Vec<(String, f64)>,
    /// Belief over causes now.
    #[serde(default)]
    pub beliefs_after: Vec<(String, f64)>,
    /// Figures computed and measured.
    #[serde(default)]
    pub figures: Vec<RecordedFigure>,
    /// Curves.
    #[serde(default)]
    pub curves: Vec<RecordedCurve>,
    /// Gear ladders: values whose steps count as ratios.
    #[serde(default)]
    pub ladders: Vec<RecordedLadder>,
    /// Several methods for one figure, with their bands.
    #[serde(default)]
    pub methods: Vec<RecordedLadder>,
    /// Readings over time.
    #[serde(default)]
    pub readings: Vec<RecordedReading>,
    /// Rides, to be marked over time.
    #[serde(default)]
    pub rides: Vec<RecordedRide>,
    /// Trials.
    #[serde(default)]
    pub trials: Vec<RecordedTrial>,
    /// What to look at again, and when.
    #[serde(default)]
    pub due: Vec<RecordedDue>,
}
