//! The nouns of the house: causes, findings, answers, guides, sources, dangers.
//!
//! Owns what a thing *is*. Knows nothing of files, searching, probability arithmetic or screens.

mod cause;
mod danger;
mod finding;
mod frequency;
mod source;

pub use cause::{Cause, CauseIx, CauseKind, Commonness, Need, Section, Show, Skill, Urgency};
pub use danger::{Danger, DangerLevel};
pub use finding::{Answer, AnswerIx, Band, Finding, FindingIx, How};
pub use frequency::Frequency;
pub use source::{Source, SourceKind, SourceRead};
