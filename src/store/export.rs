//! Everything in the book as JSON lines.
//!
//! First a line that says what it is, then one line for each row in order of tables and numbers, last a line with their
//! number and a check figure over all lines before it. Written again from a book that took it in, it is the same to the byte.

use std::io::Write;

use rusqlite::types::ValueRef;
use rusqlite::{Connection, Transaction, TransactionBehavior};
use serde::{Deserialize, Serialize};

use super::book::Book;
use super::error::BookError;
use super::migration::FORM;
use super::shape::TABLES;

/// Version of these lines.
pub(super) const LINES: i64 = 1;

/// The first line.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Head {
    /// Version of the lines.
    #[serde(rename = "shakedown-book")]
    pub(super) lines: i64,
    /// Form of the book.
    pub(super) form: i64,
    /// Name of the book.
    pub(super) book: String,
    /// Names of books that it took in.
    pub(super) holds: Vec<String>,
}

/// The last line.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Tail {
    /// Rows written.
    pub(super) rows: u64,
    /// [`Check`] over all lines before this one, in hexadecimal.
    pub(super) check: String,
}

/// A check figure that changes with any single byte: FNV-1a with 64 bits (Fowler, Noll & Vo; constants from memory, checked
/// on their test vectors below). It finds damage, not malice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Check(u64);

impl Check {
    pub(super) fn new() -> Self {
        Check(0xcbf2_9ce4_8422_2325)
    }

    pub(super) fn take(&mut self, bytes: &[u8]) {
        for b in bytes {
            self.0 = (self.0 ^ u64::from(*b)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }

    pub(super) fn figure(self) -> String {
        format!("{:016x}", self.0)
    }
}

impl Book {
    /// Writes everything, as it stands at one moment, and returns the number of rows.
    ///
    /// # Errors
    ///
    /// What prevents reading the book or writing the lines.
    pub fn export(&self, to: &mut impl Write) -> Result<u64, BookError> {
        let _whole = match self.conn.is_autocommit() {
            true => Some(Transaction::new_unchecked(&self.conn, TransactionBehavior::Deferred)?),
            false => None,
        };
        let mut check = Check::new();
        let mut put = |line: &[u8]| -> Result<(), BookError> {
            check.take(line);
            Ok(to.write_all(line)?)
        };
        let head = Head { lines: LINES, form: FORM, book: own_name(&self.conn)?, holds: held_names(&self.conn)? };
        put(&json_line(&head)?)?;
        let mut count = 0;
        for table in TABLES {
            let mut rows = self.conn.prepare(&format!("SELECT {} FROM {} ORDER BY id", table.names(), table.name))?;
            let mut rows = rows.query([])?;
            while let Some(row) = rows.next()? {
                let mut line = format!("{{\"row\":\"{}\"", table.name).into_bytes();
                for (i, column) in table.columns.iter().enumerate() {
                    let value = match row.get_ref(i)? {
                        ValueRef::Null => continue,
                        ValueRef::Integer(n) => json(&n)?,
                        ValueRef::Real(x) => json(&x)?,
                        ValueRef::Text(t) => json(&std::str::from_utf8(t).map_err(damaged)?)?,
                        ValueRef::Blob(_) => return Err(damaged("bytes where text belongs")),
                    };
                    line.extend_from_slice(format!(",\"{}\":", column.name).as_bytes());
                    line.extend_from_slice(&value);
                }
                line.extend_from_slice(b"}\n");
                put(&line)?;
                count += 1;
            }
        }
        let tail = Tail { rows: count, check: check.figure() };
        to.write_all(&json_line(&serde_json::json!({ "end": tail }))?)?;
        to.flush()?;
        Ok(count)
    }
}

pub(super) fn own_name(conn: &Connection) -> Result<String, BookError> {
    Ok(conn.query_row("SELECT name FROM identity", [], |r| r.get(0))?)
}

pub(super) fn held_names(conn: &Connection) -> Result<Vec<String>, BookError> {
    let mut names = conn.prepare("SELECT name FROM holds ORDER BY name")?;
    Ok(names.query_map([], |r| r.get(0))?.collect::<Result<_, _>>()?)
}

fn json<T: Serialize>(value: &T) -> Result<Vec<u8>, BookError> {
    serde_json::to_vec(value).map_err(damaged)
}

fn json_line<T: Serialize>(value: &T) -> Result<Vec<u8>, BookError> {
    let mut line = json(value)?;
    line.push(b'\n');
    Ok(line)
}

fn damaged(e: impl std::fmt::Display) -> BookError {
    BookError::Damaged(e.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The authors' published test vectors for 64-bit FNV-1a: "", "a", "foobar" (from memory).
    #[test]
    fn the_check_figure_is_the_published_one() {
        for (text, figure) in [("", "cbf29ce484222325"), ("a", "af63dc4c8601ec8c"), ("foobar", "85944171f73967e8")] {
            let mut check = Check::new();
            check.take(text.as_bytes());
            assert_eq!(check.figure(), figure, "{text:?}");
        }
    }
}
