//! What the book holds of a bike, as data.
//!
//! Owns these shapes only. Must not know how a book is kept, nor what a conversation makes of them.

/// A value with its day and where it comes from.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Noted {
    /// As a person reads it: "742 mm".
    pub text: String,
    /// The same in SI units, if it is a quantity.
    pub si: Option<f64>,
    /// Symbol of the unit of the text.
    pub unit: String,
    /// The day, as `2026-05-03`.
    pub on: String,
    /// `measured`, `computed` or `said`.
    pub source: String,
}

/// A setting of the bike.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct KnownSetting {
    /// What is set, as the card names it.
    pub what: String,
    /// The latest value.
    pub now: Noted,
    /// What a new value is compared with: the last noted baseline, or else the latest value.
    pub card: Noted,
    /// All values in order of time, the latest among them.
    pub past: Vec<Noted>,
}

/// A part's wear.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct KnownWear {
    /// The part and what was read.
    pub what: String,
    /// The readings in order of time.
    pub past: Vec<Noted>,
    /// Worn out at this reading, SI units, if known.
    pub limit: Option<f64>,
}

/// A check that falls due.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct KnownDue {
    /// What to check.
    pub what: String,
    /// Why.
    pub why: String,
    /// The day, as `2026-05-03`; empty when it goes by distance only.
    pub on: String,
    /// The distance on the bike, in words; empty when it goes by date only.
    pub after: String,
    /// It is due now, by date or distance.
    pub now: bool,
}

/// A pair of rides of an earlier day.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct KnownPair {
    /// Ridden first, SI units.
    pub first: f64,
    /// Ridden second, SI units.
    pub second: f64,
    /// `first`, `second` or `same`.
    pub felt: String,
    /// What else was changed.
    pub changed: Vec<String>,
    /// The day, as `2026-05-03`.
    pub on: String,
}

/// A trial that is not ended.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct KnownTrial {
    /// Its number in the book.
    pub row: i64,
    /// What is tried, as the card names it.
    pub what: String,
    /// The baseline.
    pub baseline: Noted,
    /// Seed of the blind order, if somebody else sets the bike.
    pub seed: Option<u64>,
    /// What was ridden so far.
    pub pairs: Vec<KnownPair>,
    /// Other settings written after the trial was begun.
    pub changed_since: Vec<String>,
}

/// A repair of an earlier visit.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct KnownRepair {
    /// Id of its cause, if known.
    pub cause: Option<String>,
    /// What was done.
    pub text: String,
    /// Whether it helped.
    pub helped: bool,
}

/// A bike that the book knows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct KnownBike {
    /// Its name.
    pub name: String,
    /// Its owner's name, if any.
    pub rider: Option<String>,
    /// Bike facts: finding id and answer id.
    pub facts: Vec<(String, String)>,
    /// Settings that hold.
    pub settings: Vec<KnownSetting>,
    /// Repairs, latest first.
    pub repairs: Vec<KnownRepair>,
    /// Wear of parts.
    pub wear: Vec<KnownWear>,
    /// Checks still to be done.
    pub due: Vec<KnownDue>,
    /// Trials that are not ended.
    pub trials: Vec<KnownTrial>,
    /// Rides of trials, ended ones too: the day and what was ridden.
    pub rides: Vec<(String, String)>,
    /// It has just been made.
    pub made: bool,
}
