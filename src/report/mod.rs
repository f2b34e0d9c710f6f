//! From a record to a card.
//!
//! Owns which cards there are, what stands on each and in which order, their forms (text, Markdown, JSON, one HTML page)
//! and their pictures. Knows nothing of the conversation that led to the record; takes no clock, file or network.

mod card;
mod clean;
mod day;
mod doc;
mod fit;
mod html;
mod json;
mod kind;
mod markdown;
mod picture;
mod sheet;
mod text;
mod wrap;

use crate::dialogue::Record;

pub use json::{VERSION, read_json};
pub use kind::{Form, Kind};
pub use picture::{Place, places};

/// The most that a page may weigh, in bytes.
pub const PAGE_LIMIT: usize = 150_000;

/// A card of the given kind in the given form.
///
/// The JSON form is the record itself and the same for every kind. The others leave out what is empty, and shorten what
/// no card could hold; they say so where they do.
#[must_use]
pub fn render(kind: Kind, form: Form, record: &Record) -> String {
    match form {
        Form::Json => json::write(record),
        Form::Text => text::write(&doc_of(kind, record)),
        Form::Markdown => markdown::write(&doc_of(kind, record)),
        Form::Html => html::page(kind, record),
    }
}

/// The work card as plain text, for the screen and for `.txt` files.
#[must_use]
pub fn text(record: &Record) -> String {
    render(Kind::Work, Form::Text, record)
}

/// The work card in the form that a file name's ending asks for.
///
/// # Errors
/// A sentence naming the endings known.
pub fn by_ending(file: &str, record: &Record) -> Result<String, String> {
    kind_by_ending(Kind::Work, file, record)
}

/// A card of the given kind in the form that a file name's ending asks for.
///
/// # Errors
/// A sentence naming the endings known.
pub fn kind_by_ending(kind: Kind, file: &str, record: &Record) -> Result<String, String> {
    match Form::by_ending(file) {
        Some(form) => Ok(render(kind, form, record)),
        None => Err(format!("\"{file}\" has no ending that I know: .txt, .md, .json or .html.")),
    }
}

fn doc_of(kind: Kind, record: &Record) -> doc::Doc {
    card::of(kind, &fit::fitted(record, &fit::ROOMY))
}
