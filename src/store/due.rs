//! Checks that fall due by date or distance, and whether they were done.

use rusqlite::{OptionalExtension, params};

use super::book::Book;
use super::error::BookError;
use super::id::{BikeId, DueId};
use super::row;
use super::stamp::{Stamp, check_long, check_number, check_text};
use super::subject::exists;
use super::view::View;

/// A check that falls due, to be written; a date, a distance, or both: whichever comes first.
#[derive(Clone, Debug, PartialEq)]
pub struct NewDue {
    /// The bike.
    pub bike: BikeId,
    /// What to check.
    pub what: String,
    /// Why.
    pub reason: Option<String>,
    /// Due at this time, in unix seconds.
    pub at: Option<i64>,
    /// Due when the bike has been ridden this far, in metres.
    pub metres: Option<f64>,
}

/// A check that falls due, as it stands in the book.
#[derive(Clone, Debug, PartialEq)]
pub struct Due {
    /// Which.
    pub id: DueId,
    /// What, why and when.
    pub set: NewDue,
    /// When it was written, by whom, from where.
    pub stamp: Stamp,
}

impl Due {
    /// Whether it is due at a time (unix seconds) and a distance on the bike (metres; `None` if not known).
    #[must_use]
    pub fn is_due(&self, now: i64, metres: Option<f64>) -> bool {
        self.set.at.is_some_and(|at| at <= now)
            || self.set.metres.is_some_and(|limit| metres.is_some_and(|ridden| ridden >= limit))
    }
}

impl Book {
    /// Writes a check that falls due.
    ///
    /// # Errors
    ///
    /// [`BookError::Refused`] without date and distance, or with what is not a number; [`BookError::Missing`]; what
    /// prevents writing.
    pub fn add_due(&self, new: &NewDue, stamp: &Stamp) -> Result<DueId, BookError> {
        check_text("what to check", &new.what)?;
        new.reason.as_deref().map_or(Ok(()), |r| check_long("the reason", r))?;
        check_number("the distance", new.metres)?;
        if new.at.is_none() && new.metres.is_none() {
            return Err(BookError::Refused("a check that falls due needs a date or a distance".into()));
        }
        stamp.check()?;
        self.write(|conn| {
            exists(conn, "bike", new.bike.0)?;
            conn.prepare_cached(
                "INSERT INTO due (bike, what, reason, due_at, due_metres, at, entered, who, source)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
            )?
            .execute(params![
                new.bike,
                new.what,
                new.reason,
                new.at,
                new.metres,
                stamp.at,
                stamp.entered,
                stamp.who,
                stamp.source
            ])?;
            Ok(DueId(conn.last_insert_rowid()))
        })
    }

    /// Notes that a check was done, what was found, and the distance on the bike then (metres).
    ///
    /// # Errors
    ///
    /// [`BookError::Refused`] if it was done before; [`BookError::Missing`]; what prevents writing.
    pub fn done(&self, due: DueId, found: &str, metres: Option<f64>, stamp: &Stamp) -> Result<(), BookError> {
        check_text("what was found", found)?;
        check_number("the distance", metres)?;
        stamp.check()?;
        self.write(|conn| {
            exists(conn, "due", due.0)?;
            let before = conn.prepare_cached("SELECT 1 FROM due_done WHERE due = ?1")?.query_row([due], |_| Ok(())).optional()?;
            if before.is_some() {
                return Err(BookError::Refused(format!("check {} was done before", due.0)));
            }
            conn.prepare_cached(
                "INSERT INTO due_done (due, text, metres, at, entered, who, source) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
            )?
            .execute(params![due, found, metres, stamp.at, stamp.entered, stamp.who, stamp.source])?;
            Ok(())
        })
    }
}

impl View<'_> {
    /// The checks of a bike that are still to be done, in order of writing; [`Due::is_due`] tells which now.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn due(&self, bike: BikeId) -> Result<Vec<Due>, BookError> {
        let mut found = self.conn.prepare_cached(
            "SELECT id, what, reason, due_at, due_metres, at, entered, who, source FROM due d
             WHERE bike = ?1 AND at <= ?2 AND entered <= ?2 AND NOT EXISTS
             (SELECT 1 FROM due_done x WHERE x.due = d.id AND x.at <= ?2 AND x.entered <= ?2) ORDER BY id",
        )?;
        let rows = found.query_map(params![bike, self.at], |r| {
            let set = NewDue { bike, what: r.get(1)?, reason: r.get(2)?, at: r.get(3)?, metres: r.get(4)? };
            Ok(Due { id: r.get(0)?, set, stamp: row::stamp(r, 5)? })
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// The checks of all bikes that are due at a time (unix seconds), each with its bike; distances as last noted.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn all_due(&self, now: i64) -> Result<Vec<Due>, BookError> {
        let mut found = self.conn.prepare_cached(
            "SELECT DISTINCT bike FROM due d WHERE NOT EXISTS
             (SELECT 1 FROM due_done x WHERE x.due = d.id AND x.at <= ?1 AND x.entered <= ?1) ORDER BY bike",
        )?;
        let bikes: Vec<BikeId> = found.query_map([self.at], |r| r.get(0))?.collect::<Result<_, _>>()?;
        let mut all = Vec::new();
        for bike in bikes {
            let open = self.due(bike)?;
            if !open.is_empty() {
                let metres = self.metres(bike)?;
                all.extend(open.into_iter().filter(|d| d.is_due(now, metres)));
            }
        }
        Ok(all)
    }
}
