//! Putting right what was written: a new row that says which one it corrects. The old row stays.

use rusqlite::types::ToSql;
use rusqlite::{OptionalExtension, params};

use super::book::Book;
use super::error::BookError;
use super::id::Row;
use super::shape::{self, Holds};
use super::stamp::{Stamp, Value};
use super::subject::{Kind, exists};
use super::trial::Felt;
use super::visit::{EntryKind, Outcome};
use super::word;

/// Columns that a correction brings itself; all others are taken over.
const OWN: [&str; 8] = ["id", "text", "si", "unit", "entered", "who", "source", "corrects"];

impl Book {
    /// Puts a row right with a new value, or takes it back with `None`; all else about it, the time since when it holds
    /// included, stays. The number of the new row is returned.
    ///
    /// # Errors
    ///
    /// [`BookError::Refused`] if the row was corrected before (correct the later one) or the value does not fit it;
    /// [`BookError::Missing`]; what prevents writing.
    pub fn correct(&self, row: Row, to: Option<&Value>, stamp: &Stamp) -> Result<Row, BookError> {
        stamp.check()?;
        let nothing = Value::words("");
        if let Some(value) = to {
            value.check("the correction")?;
        }
        let value = to.unwrap_or(&nothing);
        self.write(|conn| {
            let name = row.table();
            exists(conn, name, row.number())?;
            let later = conn
                .prepare_cached(&format!("SELECT id FROM {name} WHERE corrects = ?1"))?
                .query_row([row.number()], |r| r.get::<_, i64>(0))
                .optional()?;
            if let Some(later) = later {
                return Err(BookError::Refused(format!("row {} was put right by row {later}", row.number())));
            }
            if to.is_some() {
                fits(conn, row, value)?;
            }
            let Some((_, table)) = shape::table(name) else {
                return Err(BookError::Missing { what: name, id: row.number() });
            };
            let kept: Vec<&str> = table.columns.iter().map(|c| c.name).filter(|c| !OWN.contains(c)).collect();
            let kept = kept.join(", ");
            let number = row.number();
            let mut given: Vec<(&str, &dyn ToSql)> = vec![
                ("corrects", &number),
                ("text", &value.text),
                ("entered", &stamp.entered),
                ("who", &stamp.who),
                ("source", &stamp.source),
            ];
            if table.columns.iter().any(|c| c.name == "si" && c.holds == Holds::Real) {
                given.push(("si", &value.si));
                given.push(("unit", &value.unit));
            }
            let names: Vec<&str> = given.iter().map(|(n, _)| *n).collect();
            let marks: Vec<String> = (1..=given.len()).map(|i| format!("?{i}")).collect();
            let sql = format!(
                "INSERT INTO {name} ({kept}, {}) SELECT {kept}, {} FROM {name} WHERE id = ?1",
                names.join(", "),
                marks.join(", ")
            );
            let values: Vec<&dyn ToSql> = given.iter().map(|(_, v)| *v).collect();
            conn.prepare_cached(&sql)?.execute(values.as_slice())?;
            let new = conn.last_insert_rowid();
            let subject = |column: &str| -> Result<i64, BookError> {
                let sql = format!("SELECT {column} FROM {name} WHERE id = ?1");
                Ok(conn.prepare_cached(&sql)?.query_row([new], |r| r.get(0))?)
            };
            Ok(match row {
                Row::RiderFact(_) => {
                    word::renew(conn, Kind::Rider, subject("rider")?)?;
                    Row::RiderFact(new)
                }
                Row::BikeFact(_) => {
                    word::renew(conn, Kind::Bike, subject("bike")?)?;
                    Row::BikeFact(new)
                }
                Row::Entry(_) => Row::Entry(new),
                Row::Setting(_) => Row::Setting(new),
                Row::Verdict(_) => Row::Verdict(new),
                Row::Wear(_) => Row::Wear(new),
            })
        })
    }
}

/// Refuses a value that the row cannot hold.
fn fits(conn: &rusqlite::Connection, row: Row, value: &Value) -> Result<(), BookError> {
    let refuse = |why: &str| Err(BookError::Refused(format!("\"{}\" is {why}", value.text)));
    match row {
        Row::Verdict(_) if Felt::from_word(&value.text).is_none() => refuse("no verdict (first, second, same)"),
        Row::Entry(id) => {
            let sql = "SELECT kind FROM entry WHERE id = ?1";
            let kind: String = conn.prepare_cached(sql)?.query_row(params![id], |r| r.get(0))?;
            match EntryKind::from_word(&kind) {
                Some(EntryKind::Outcome) if Outcome::from_word(&value.text).is_none() => refuse("no outcome"),
                Some(EntryKind::Belief) if !value.si.is_some_and(|p| (0.0..=1.0).contains(&p)) => {
                    refuse("without a degree of belief between 0 and 1")
                }
                _ => Ok(()),
            }
        }
        _ => Ok(()),
    }
}
