//! A card as data, between what stands on it and how it looks.
//!
//! Owns the few shapes a card is made of. Must not know of any form. All text in it is clean but not escaped.

use super::kind::Kind;
use super::picture::Picture;

/// A card.
#[derive(Clone, Debug)]
pub(super) struct Doc {
    /// Its kind.
    pub(super) kind: Kind,
    /// A title beside that of the kind; may be empty.
    pub(super) title: String,
    /// What is known of the card itself: for whom, which bike, when.
    pub(super) facts: Vec<(&'static str, String)>,
    /// Why not to ride; stands before everything.
    pub(super) stop: Vec<String>,
    /// Its parts, in order.
    pub(super) parts: Vec<Part>,
    /// Said at the foot.
    pub(super) foot: Vec<String>,
}

/// A part of a card.
#[derive(Clone, Debug)]
pub(super) struct Part {
    /// Its heading.
    pub(super) title: String,
    /// What is in it.
    pub(super) body: Body,
}

/// What a part holds.
#[derive(Clone, Debug)]
pub(super) enum Body {
    /// A sentence.
    Say(String),
    /// A list.
    List(Vec<String>),
    /// A table.
    Table(Table),
    /// A picture with its text chart.
    Picture(Box<Picture>),
    /// So many empty lines to write on.
    Lines(usize),
}

/// A table; every row has as many cells as the head.
#[derive(Clone, Debug, Default)]
pub(super) struct Table {
    /// Heads of the columns.
    pub(super) head: Vec<&'static str>,
    /// Rows.
    pub(super) rows: Vec<Vec<Cell>>,
    /// To be filled in by pencil: rows are higher.
    pub(super) pencil: bool,
}

/// A cell of a table.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Cell {
    /// Text.
    Text(String),
    /// Room to write.
    Write,
    /// Boxes to tick, with a word each; a word may be empty.
    Boxes(&'static [&'static str]),
}

impl Cell {
    /// A cell of text.
    pub(super) fn of(text: impl Into<String>) -> Cell {
        Cell::Text(text.into())
    }
}

/// Adds a list without its repetitions; nothing when it is empty.
pub(super) fn list(parts: &mut Vec<Part>, title: &str, items: &[String]) {
    let mut seen: Vec<String> = Vec::new();
    for i in items {
        if !i.is_empty() && !seen.contains(i) {
            seen.push(i.clone());
        }
    }
    if !seen.is_empty() {
        parts.push(Part { title: title.to_owned(), body: Body::List(seen) });
    }
}

/// Adds a table; nothing when it has no rows.
pub(super) fn table(parts: &mut Vec<Part>, title: &str, table: Table) {
    if !table.rows.is_empty() {
        parts.push(Part { title: title.to_owned(), body: Body::Table(table) });
    }
}

/// Adds pictures under their own titles.
pub(super) fn pictures(parts: &mut Vec<Part>, pictures: impl IntoIterator<Item = Picture>) {
    parts.extend(pictures.into_iter().map(|p| Part { title: p.title.clone(), body: Body::Picture(Box::new(p)) }));
}
