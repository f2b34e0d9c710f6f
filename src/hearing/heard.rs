//! What was heard in a line.

use crate::domain::{AnswerIx, FindingIx};

/// A finding answered in passing.
#[derive(Clone, Debug, PartialEq)]
pub struct HeardAnswer {
    /// The finding.
    pub finding: FindingIx,
    /// The answer heard (or denied).
    pub answer: AnswerIx,
    /// Other answers that the words speak for as well.
    pub others: Vec<AnswerIx>,
    /// True when it was denied ("no play").
    pub denied: bool,
    /// How far it can be relied on (0 to 1).
    pub reliability: f64,
    /// The words that said so.
    pub words: String,
}

/// A danger told.
#[derive(Clone, Debug, PartialEq)]
pub struct HeardDanger {
    /// Position in the library's list.
    pub danger: usize,
    /// Certain enough to warn at once, or only possible.
    pub certain: bool,
    /// Only wondered about: "is the frame cracked?".
    pub wondered: bool,
    /// The words that said so.
    pub words: String,
}

/// A repair that was tried before.
#[derive(Clone, Debug, PartialEq)]
pub struct HeardRepair {
    /// Positions of the causes that it would have cured.
    pub causes: Vec<usize>,
    /// It helped for a while.
    pub held_for_a_while: bool,
    /// The words that said so.
    pub words: String,
}

/// All that was heard in one line.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Heard {
    /// Findings.
    pub answers: Vec<HeardAnswer>,
    /// Dangers, the certain ones first.
    pub dangers: Vec<HeardDanger>,
    /// Repairs tried.
    pub repairs: Vec<HeardRepair>,
    /// Words corrected: typed, read as.
    pub corrected: Vec<(String, String)>,
}

impl Heard {
    /// True when nothing was heard.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.answers.is_empty() && self.dangers.is_empty() && self.repairs.is_empty()
    }
}
