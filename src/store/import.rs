//! Taking in what was exported: all of it, or nothing with the line and the reason.
//!
//! Into an empty book rows keep their numbers; into one with rows they get new ones above. The same book is not taken in
//! twice.

use std::io::{BufRead, Read};

use rusqlite::Connection;
use rusqlite::types::Value as Cell;
use serde::Deserialize;
use serde_json::{Map, Value};

use super::book::Book;
use super::error::BookError;
use super::export::{Check, Head, LINES, Tail, held_names, own_name};
use super::migration::FORM;
use super::shape::{Column, Holds, TABLES, Table, table};
use super::{frequency, word};

/// Longest line that is read, in bytes: a row of the longest texts, escaped.
const LONGEST_LINE: u64 = 32 << 20;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct End {
    end: Tail,
}

impl Book {
    /// Takes in an export and returns the number of rows. The first line that is damaged or foreign stops it, and the book
    /// is as it was.
    ///
    /// # Errors
    ///
    /// [`BookError::Import`] with line and reason; what prevents reading or writing.
    pub fn import(&self, from: &mut impl BufRead) -> Result<u64, BookError> {
        self.write(|conn| {
            let mut lines = Lines { from, line: 0, check: Check::new() };
            let head = lines.head()?;
            let shift = shifts(conn, &head).map_err(|e| lines.at(e))?;
            let mut count = 0;
            loop {
                let before = lines.check;
                let Some(text) = lines.next()? else {
                    lines.line += 1;
                    return Err(lines.refuse("it stops before its last line"));
                };
                if text.starts_with("{\"end\"") {
                    let tail: End = serde_json::from_str(&text).map_err(|e| lines.refuse(&plain(&e)))?;
                    if tail.end.rows != count {
                        return Err(lines.refuse(&format!("it has {count} rows and says {}", tail.end.rows)));
                    }
                    if tail.end.check != before.figure() {
                        return Err(lines.refuse("the check figure does not agree: a line before this one was changed"));
                    }
                    break;
                }
                let row: Map<String, Value> = serde_json::from_str(&text).map_err(|e| lines.refuse(&plain(&e)))?;
                insert(conn, row, &shift).map_err(|e| lines.at(e))?;
                count += 1;
            }
            if lines.next()?.is_some() {
                return Err(lines.refuse("there is more after the last line"));
            }
            word::rebuild_all(conn)?;
            frequency::rebuild(conn)?;
            Ok(count)
        })
    }
}

/// Reads lines and knows where it is.
struct Lines<'a, R> {
    from: &'a mut R,
    line: u64,
    check: Check,
}

impl<R: BufRead> Lines<'_, R> {
    /// The next line, without its end; `None` after the last.
    fn next(&mut self) -> Result<Option<String>, BookError> {
        let mut bytes = Vec::new();
        self.from.by_ref().take(LONGEST_LINE + 1).read_until(b'\n', &mut bytes)?;
        if bytes.is_empty() {
            return Ok(None);
        }
        self.line += 1;
        if bytes.len() as u64 > LONGEST_LINE {
            return Err(self.refuse("the line is too long"));
        }
        self.check.take(&bytes);
        if bytes.pop() != Some(b'\n') {
            return Err(self.refuse("the line is cut off"));
        }
        String::from_utf8(bytes).map(Some).map_err(|_| self.refuse("it is no text (UTF-8)"))
    }

    fn head(&mut self) -> Result<Head, BookError> {
        let foreign = "it is not an export of a book";
        let Some(text) = self.next()? else {
            self.line = 1;
            return Err(self.refuse("it is empty"));
        };
        let head: Head = serde_json::from_str(&text).map_err(|_| self.refuse(foreign))?;
        if head.lines != LINES || !(1..=FORM).contains(&head.form) {
            return Err(self.refuse("it was written by a newer version of this program"));
        }
        let named = |n: &String| n.len() == 32 && n.bytes().all(|b| b.is_ascii_hexdigit());
        if !named(&head.book) || !head.holds.iter().all(named) {
            return Err(self.refuse(foreign));
        }
        Ok(head)
    }

    fn refuse(&self, reason: &str) -> BookError {
        BookError::Import { line: self.line, reason: reason.to_owned() }
    }

    /// Gives a refusal its line; what is wrong with the disk stays what it is.
    fn at(&self, e: BookError) -> BookError {
        match e {
            BookError::Refused(reason) => self.refuse(&reason),
            BookError::Database(e) => self.refuse(&sense(&e)),
            other => other,
        }
    }
}

/// A refusal of the database in plain words.
fn sense(e: &rusqlite::Error) -> String {
    let why = e.to_string();
    if why.contains("FOREIGN KEY") {
        "it refers to a row that does not stand before it".into()
    } else if why.contains("UNIQUE") {
        "there is such a row already".into()
    } else if why.contains("CHECK") || why.contains("NOT NULL") {
        format!("a value is missing or not allowed ({why})")
    } else {
        why
    }
}

/// The reader's message without its own line, which is always 1.
fn plain(e: &serde_json::Error) -> String {
    let why = e.to_string();
    let why = why.split(" at line ").next().unwrap_or_default();
    format!("{why} (column {})", e.column())
}

/// By how much the numbers of each table are raised; also notes whose rows these are.
fn shifts(conn: &Connection, head: &Head) -> Result<Vec<i64>, BookError> {
    let mut filled = false;
    let mut last = Vec::with_capacity(TABLES.len());
    for t in TABLES {
        filled |= conn.query_row(&format!("SELECT EXISTS (SELECT 1 FROM {})", t.name), [], |r| r.get::<_, bool>(0))?;
        let sql = "SELECT coalesce((SELECT seq FROM sqlite_sequence WHERE name = ?1), 0)";
        last.push(conn.query_row(sql, [t.name], |r| r.get::<_, i64>(0))?);
    }
    let mut held = held_names(conn)?;
    if !filled {
        conn.execute("UPDATE identity SET name = ?1", [&head.book])?;
        conn.execute("DELETE FROM holds", [])?;
        held.clear();
        last.fill(0);
    } else {
        held.push(own_name(conn)?);
        if held.contains(&head.book) || head.holds.iter().any(|h| held.contains(h)) {
            return Err(BookError::Refused("these rows, or some of them, are in the book already".into()));
        }
        conn.execute("INSERT INTO holds (name) VALUES (?1)", [&head.book])?;
    }
    for name in &head.holds {
        conn.execute("INSERT OR IGNORE INTO holds (name) VALUES (?1)", [name])?;
    }
    Ok(last)
}

fn insert(conn: &Connection, mut row: Map<String, Value>, shift: &[i64]) -> Result<(), BookError> {
    let refuse = |why: String| Err(BookError::Refused(why));
    let named = match row.remove("row") {
        Some(Value::String(name)) => table(&name).ok_or(name),
        _ => return refuse("it names no table".into()),
    };
    let (place, t) = match named {
        Ok(found) => found,
        Err(name) => return refuse(format!("there is no table \"{}\"", short(&name))),
    };
    let mut cells = Vec::with_capacity(t.columns.len());
    for column in t.columns {
        cells.push(cell(column, row.remove(column.name), shift, place)?);
    }
    if let Some(name) = row.keys().next() {
        return refuse(format!("there is no column \"{}\" in {}", short(name), t.name));
    }
    conn.prepare_cached(&insert_sql(t))?.execute(rusqlite::params_from_iter(cells))?;
    Ok(())
}

fn cell(column: &Column, value: Option<Value>, shift: &[i64], place: usize) -> Result<Cell, BookError> {
    let whole = |value: &Value, by: i64| value.as_i64().and_then(|n| n.checked_add(by)).map(Cell::Integer);
    let number = |value: &Value, by: i64| value.as_i64().filter(|n| *n > 0).and_then(|_| whole(value, by));
    let Some(value) = value else { return Ok(Cell::Null) };
    let cell = match column.holds {
        Holds::Id => number(&value, shift[place]),
        Holds::Of(to) => table(to).and_then(|(i, _)| number(&value, shift[i])),
        Holds::Whole => whole(&value, 0),
        Holds::Real => value.as_f64().filter(|x| x.is_finite()).map(Cell::Real),
        Holds::Word | Holds::Text => match value {
            Value::String(s) => Some(Cell::Text(s)),
            _ => None,
        },
    };
    cell.ok_or_else(|| BookError::Refused(format!("\"{}\" is not what it should be", column.name)))
}

fn insert_sql(t: &Table) -> String {
    let marks: Vec<String> = (1..=t.columns.len()).map(|i| format!("?{i}")).collect();
    format!("INSERT INTO {} ({}) VALUES ({})", t.name, t.names(), marks.join(", "))
}

fn short(name: &str) -> String {
    name.chars().take(40).collect()
}
