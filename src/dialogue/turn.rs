//! What goes into a conversation and what comes out, as data.

use super::record::Record;
use super::reply::Reply;

/// What goes in.
#[derive(Clone, Debug, PartialEq)]
pub enum Turn {
    /// A line as typed.
    Line(String),
}

/// What comes out. The one driver in `app` performs these.
#[derive(Clone, Debug, PartialEq)]
pub enum Effect {
    /// Say this.
    Say(Reply),
    /// Show the card, or write it to a file.
    Card {
        /// File name as typed; none shows it.
        file: Option<String>,
        /// The record that the card is made from.
        record: Box<Record>,
    },
    /// The person leaves.
    Leave,
}
