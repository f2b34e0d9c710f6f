//! Replies to labelled spans, and spans to plain or styled text of a given width.
//!
//! Owns how things look. Knows nothing of what they mean for the conversation.

mod block;
mod chart;
mod markdown;
mod span;
mod wrap;

pub use block::lines;
pub use markdown::markdown_lines;
pub use span::{Label, Line, Look, Span, paint};
