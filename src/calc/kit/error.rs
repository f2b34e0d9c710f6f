//! Why a calculation was refused.
//!
//! Owns [`CalcError`]. The text of each error is a sentence to show, without its full stop.

use thiserror::Error;

/// A refusal; nothing was computed.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum CalcError {
    /// Inputs are still to be asked, by their names.
    #[error("still needed: {}", .0.join(", "))]
    Missing(Vec<&'static str>),
    /// A value no bicycle or rider has.
    #[error("{name}: {given} cannot be; {low} to {high} is understood")]
    Impossible {
        /// Name of the input.
        name: &'static str,
        /// What was given.
        given: String,
        /// Lowest possible value, written.
        low: String,
        /// Highest possible value, written.
        high: String,
    },
    /// Two inputs do not go together.
    #[error("{0}")]
    Contradiction(String),
    /// A text input could not be read.
    #[error("{0}")]
    Unreadable(String),
    /// The method has no answer for these values.
    #[error("{0}")]
    NoAnswer(String),
}
