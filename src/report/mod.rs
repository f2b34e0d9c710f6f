//! From a record to a card.
//!
//! Owns what a card holds and in which order. Knows nothing of the conversation that led to it.

mod text;

use crate::dialogue::Record;

pub use text::text;

/// The card in the form that a file name's ending asks for.
///
/// # Errors
/// A sentence naming the endings known.
pub fn by_ending(file: &str, record: &Record) -> Result<String, String> {
    match file.rsplit_once('.').map(|(_, e)| e.to_lowercase()).as_deref() {
        Some("txt") => Ok(text(record)),
        Some("json") => serde_json::to_string_pretty(record).map(|t| t + "\n").map_err(|e| e.to_string()),
        _ => Err(format!("\"{file}\" has no ending that I know: .txt or .json.")),
    }
}
