//! The ears: from a typed line to findings, dangers, things tried and how like the notes the words are.
//!
//! Owns tokens, phrases, negation and spelling. Knows nothing of belief, of the state of a conversation or of screens.

mod ears;
mod heard;
mod learn;
mod linear;
mod phrase;
mod scope;
mod spelling;
mod token;

pub use ears::Ears;
pub use heard::{Heard, HeardAnswer, HeardDanger, HeardRepair};
pub use learn::{Example, learn};
pub use linear::Linear;
pub use phrase::PhraseTable;
pub use token::{Token, tokens};
