//! A finding: something a person can observe, do or measure to learn more.

use super::cause::{Need, Skill};

/// Position of a finding in the library's list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FindingIx(pub usize);

/// Position of an answer within its finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct AnswerIx(pub usize);

/// What the person has to do for the answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// Remember or know it.
    Ask,
    /// Look.
    Look,
    /// Push, pull, lift, listen.
    Feel,
    /// Ride a little.
    Ride,
    /// Exchange a part and see.
    Swap,
    /// Measure.
    Measure,
}

impl How {
    /// The word used in notes and machine output.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            How::Ask => "ask",
            How::Look => "look",
            How::Feel => "feel",
            How::Ride => "ride",
            How::Swap => "swap",
            How::Measure => "measure",
        }
    }

    /// How far an answer got this way can be relied on when the person gives it at the prompt (0 to 1).
    ///
    /// Own estimates, calibrated together with the words of frequency; not from a source.
    #[must_use]
    pub fn reliability(self) -> f64 {
        match self {
            How::Ask => 0.90,
            How::Look | How::Feel => 0.92,
            How::Ride | How::Swap => 0.94,
            How::Measure => 0.97,
        }
    }
}

/// A fact about the bike is known or looked up, not remembered (own estimate).
const FACT: f64 = 0.97;

/// Limits of a measured answer, in the finding's unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// Inclusive lower limit.
    pub from: f64,
    /// Exclusive upper limit.
    pub below: f64,
}

/// One of the mutually exclusive answers of a finding.
#[derive(Clone, Debug)]
pub struct Answer {
    /// Id, unique within the finding.
    pub id: String,
    /// As the rider reads it.
    pub says: String,
    /// Share among bikes where the finding plays no part.
    pub usual: f64,
    /// How people volunteer it unasked (phrase syntax of the notes).
    pub phrases: Vec<String>,
    /// Band of a measured answer.
    pub band: Option<Band>,
}

/// Something a person can observe, do or measure.
#[derive(Clone, Debug)]
pub struct Finding {
    /// Unique kebab-case id.
    pub id: String,
    /// Folder: the system, or `intake` for shared ones.
    pub system: String,
    /// Short title.
    pub title: String,
    /// The question in plain words.
    pub ask: String,
    /// The question as one mechanic asks another.
    pub trade: String,
    /// What has to be done for it.
    pub how: How,
    /// Minutes of the person's time.
    pub minutes: f64,
    /// Who can answer it.
    pub skill: Skill,
    /// Tools wanted.
    pub tools: Vec<String>,
    /// A fact about the bike or rider that stays the same over complaints.
    pub fact: bool,
    /// Its answers name places: "cannot put the front wheel back" does not deny the front, "not the front" does.
    pub place: bool,
    /// More than one of its answers may hold, as of events: what is told later is no contradiction.
    pub several: bool,
    /// Share of the usual reliability that an answer deserves (0 to 1): a guess at a part is weak.
    pub sure: f64,
    /// Share of that which words heard in passing deserve (0 to 1): "since" and "new" are said of many things.
    pub heard: f64,
    /// Findings that say nearly the same share a family and count less together.
    pub family: Option<String>,
    /// The answer meant when somebody denies the matter.
    pub negative: Option<AnswerIx>,
    /// Only asked where these facts hold.
    pub needs: Vec<Need>,
    /// What any answer but the negative one says of other findings, where nothing else was said of them.
    pub means: Vec<(FindingIx, AnswerIx)>,
    /// Exclusive answers.
    pub answers: Vec<Answer>,
    /// Unit of a measured finding, such as `mm`.
    pub unit: Option<String>,
    /// Quantity of a measured finding, such as `length`.
    pub quantity: Option<String>,
    /// How to do the check, in Markdown.
    pub body: String,
    /// File the note came from.
    pub path: String,
}

impl Finding {
    /// How far an answer given at the prompt can be relied on (0 to 1).
    #[must_use]
    pub fn reliability(&self) -> f64 {
        self.how.reliability().max(if self.fact { FACT } else { 0.0 }) * self.sure
    }

    /// The answer with this id.
    #[must_use]
    pub fn answer(&self, id: &str) -> Option<AnswerIx> {
        self.answers.iter().position(|a| a.id == id).map(AnswerIx)
    }
}
