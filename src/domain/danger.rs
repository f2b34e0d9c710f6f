//! A danger: words of a rider that make the program warn before anything else.

use super::{AnswerIx, FindingIx};

/// How grave a danger is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum DangerLevel {
    /// A sign in the body for a clinician.
    SeeClinician,
    /// The bike must not be ridden.
    StopRiding,
    /// Medical help at once.
    Emergency,
}

impl DangerLevel {
    /// The word used in notes and machine output.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            DangerLevel::SeeClinician => "see-clinician",
            DangerLevel::StopRiding => "stop-riding",
            DangerLevel::Emergency => "emergency",
        }
    }
}

/// A danger note.
#[derive(Clone, Debug)]
pub struct Danger {
    /// Unique kebab-case id.
    pub id: String,
    /// Short title.
    pub title: String,
    /// How grave.
    pub level: DangerLevel,
    /// Phrases that make it certain enough to warn at once.
    pub certain: Vec<String>,
    /// Phrases by which it is only possible.
    pub possible: Vec<String>,
    /// The question that settles the possible case.
    pub ask: String,
    /// What a "yes" to that question says of findings; a "no" denies it.
    pub tells: Vec<(FindingIx, AnswerIx)>,
    /// The warning in a few plain sentences.
    pub warn: String,
    /// Source ids.
    pub sources: Vec<String>,
    /// More for the reader, in Markdown.
    pub body: String,
    /// File the note came from.
    pub path: String,
}
