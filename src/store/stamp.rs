//! When, by whom and from where: what every row of the book carries, and the value it carries it for.
//!
//! Time comes in from outside as unix seconds; there is no clock here.

use rusqlite::types::{FromSql, FromSqlError, FromSqlResult, ToSql, ToSqlOutput, ValueRef};

use super::error::BookError;

/// Longest text of one field, in bytes.
pub const LONGEST_TEXT: usize = 1 << 20;

/// Where a value comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Source {
    /// Measured on the bike or the rider.
    Measured,
    /// Computed by the program.
    Computed,
    /// Told by somebody.
    Said,
}

impl Source {
    /// The word in the book.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Source::Measured => "measured",
            Source::Computed => "computed",
            Source::Said => "said",
        }
    }

    /// Reads the word; `None` when it is none of the three.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        [Source::Measured, Source::Computed, Source::Said].into_iter().find(|s| s.word() == word)
    }
}

impl ToSql for Source {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok(self.word().into())
    }
}

impl FromSql for Source {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
        Source::from_word(value.as_str()?).ok_or(FromSqlError::InvalidType)
    }
}

/// When, by whom and from where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stamp {
    /// When the thing holds, in unix seconds.
    pub at: i64,
    /// When it was written down, in unix seconds.
    pub entered: i64,
    /// Who wrote it down.
    pub who: String,
    /// Where it comes from.
    pub source: Source,
}

impl Stamp {
    /// A thing that holds from the moment it is written down.
    #[must_use]
    pub fn now(now: i64, who: &str, source: Source) -> Self {
        Stamp { at: now, entered: now, who: who.to_owned(), source }
    }

    /// The same, for a thing that holds since (or was seen at) another time.
    #[must_use]
    pub fn held_at(self, at: i64) -> Self {
        Stamp { at, ..self }
    }

    pub(super) fn check(&self) -> Result<(), BookError> {
        check_text("who entered it", &self.who)
    }
}

/// A value as a person reads it, and as a number if it is a quantity.
#[derive(Clone, Debug, PartialEq)]
pub struct Value {
    /// As it was typed or shown: "742 mm".
    pub text: String,
    /// The same in SI units (metres, pascals, radians, kilograms, seconds; shares and counts as they are).
    pub si: Option<f64>,
    /// The unit of the text: "mm".
    pub unit: Option<String>,
}

impl Value {
    /// Words only.
    #[must_use]
    pub fn words(text: &str) -> Self {
        Value { text: text.to_owned(), si: None, unit: None }
    }

    /// A quantity: its text, its value in SI units, and the unit of the text.
    #[must_use]
    pub fn quantity(text: &str, si: f64, unit: &str) -> Self {
        Value { text: text.to_owned(), si: Some(si), unit: Some(unit.to_owned()) }
    }

    pub(super) fn check(&self, what: &str) -> Result<(), BookError> {
        check_text(what, &self.text)?;
        check_number(what, self.si)?;
        self.unit.as_deref().map_or(Ok(()), |u| check_long(what, u))
    }
}

/// Refuses an empty or endless text.
pub(super) fn check_text(what: &str, text: &str) -> Result<(), BookError> {
    if text.trim().is_empty() {
        return Err(BookError::Refused(format!("{what} is empty")));
    }
    check_long(what, text)
}

/// Refuses an endless text.
pub(super) fn check_long(what: &str, text: &str) -> Result<(), BookError> {
    if text.len() > LONGEST_TEXT {
        return Err(BookError::Refused(format!("{what} is longer than {LONGEST_TEXT} bytes")));
    }
    Ok(())
}

/// Refuses what is not a number.
pub(super) fn check_number(what: &str, number: Option<f64>) -> Result<(), BookError> {
    if number.is_some_and(|n| !n.is_finite()) {
        return Err(BookError::Refused(format!("{what} is not a number")));
    }
    Ok(())
}
