//! What goes into a conversation and what comes out, as data.

use super::held::KnownDue;
use super::known::{Asked, Recalled};
use super::record::Record;
use super::reply::Reply;

/// What goes in.
#[derive(Clone, Debug, PartialEq)]
pub enum Turn {
    /// A line as typed.
    Line(String),
    /// What the book answered.
    Recalled(Box<Recalled>),
    /// The checks of the bike that the book holds now, after one was added or done.
    Due(Vec<KnownDue>),
}

/// What comes out. The one driver in `app` performs these.
#[derive(Clone, Debug, PartialEq)]
pub enum Effect {
    /// Say this.
    Say(Reply),
    /// Show the card, or write it to a file.
    Card {
        /// Kind of card as typed (work, set-up, trial, triage, shakedown); empty for the work card.
        kind: String,
        /// File name as typed; none shows it.
        file: Option<String>,
        /// The record that the card is made from.
        record: Box<Record>,
    },
    /// Ask the book.
    Book(Asked),
    /// The person leaves.
    Leave,
}
