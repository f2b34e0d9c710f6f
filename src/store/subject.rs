//! Riders and bikes: added, described, handed over.
//!
//! Owns names and facts, which are rows of one shape for both. Knows nothing of visits and settings.

use rusqlite::{Connection, OptionalExtension, params};

use super::book::Book;
use super::error::BookError;
use super::id::{BikeId, RiderId, Row};
use super::stamp::{Stamp, Value, check_text};
use super::word;

/// The fact that holds the name.
pub const NAME: &str = "name";

/// Riders or bikes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Rider,
    Bike,
}

impl Kind {
    pub(super) fn table(self) -> &'static str {
        match self {
            Kind::Rider => "rider",
            Kind::Bike => "bike",
        }
    }
}

impl Book {
    /// Adds a rider.
    ///
    /// # Errors
    ///
    /// [`BookError::Refused`] for an empty name; what prevents writing.
    pub fn add_rider(&self, name: &str, stamp: &Stamp) -> Result<RiderId, BookError> {
        self.write(|conn| add(conn, Kind::Rider, name, stamp)).map(RiderId)
    }

    /// Adds a bike, with its owner if there is one in the book.
    ///
    /// # Errors
    ///
    /// [`BookError::Refused`] for an empty name, [`BookError::Missing`] for an unknown owner; what prevents writing.
    pub fn add_bike(&self, name: &str, owner: Option<RiderId>, stamp: &Stamp) -> Result<BikeId, BookError> {
        self.write(|conn| {
            let bike = BikeId(add(conn, Kind::Bike, name, stamp)?);
            if owner.is_some() {
                own(conn, bike, owner, stamp)?;
            }
            Ok(bike)
        })
    }

    /// Notes a measurement or fact of a rider ("inseam", "shoes", "sensitivity"); a later one of the same kind follows it.
    ///
    /// # Errors
    ///
    /// [`BookError::Refused`] for an empty or endless value, [`BookError::Missing`]; what prevents writing.
    pub fn note_rider(&self, rider: RiderId, what: &str, value: &Value, stamp: &Stamp) -> Result<Row, BookError> {
        self.write(|conn| note(conn, Kind::Rider, rider.0, what, value, stamp)).map(Row::RiderFact)
    }

    /// Notes a fact of a bike ("wheel-size", "brake-kind", "distance").
    ///
    /// # Errors
    ///
    /// As [`Book::note_rider`].
    pub fn note_bike(&self, bike: BikeId, what: &str, value: &Value, stamp: &Stamp) -> Result<Row, BookError> {
        self.write(|conn| note(conn, Kind::Bike, bike.0, what, value, stamp)).map(Row::BikeFact)
    }

    /// Hands a bike to another owner, or to nobody.
    ///
    /// # Errors
    ///
    /// [`BookError::Missing`]; what prevents writing.
    pub fn hand_over(&self, bike: BikeId, owner: Option<RiderId>, stamp: &Stamp) -> Result<(), BookError> {
        self.write(|conn| own(conn, bike, owner, stamp))
    }
}

fn add(conn: &Connection, kind: Kind, name: &str, stamp: &Stamp) -> Result<i64, BookError> {
    check_text("the name", name)?;
    stamp.check()?;
    let sql = format!("INSERT INTO {} (at, entered, who, source) VALUES (?1, ?2, ?3, ?4)", kind.table());
    conn.prepare_cached(&sql)?.execute(params![stamp.at, stamp.entered, stamp.who, stamp.source])?;
    let id = conn.last_insert_rowid();
    note(conn, kind, id, NAME, &Value::words(name), stamp)?;
    Ok(id)
}

fn note(conn: &Connection, kind: Kind, id: i64, what: &str, value: &Value, stamp: &Stamp) -> Result<i64, BookError> {
    check_text("what is noted", what)?;
    value.check(what)?;
    stamp.check()?;
    exists(conn, kind.table(), id)?;
    let table = kind.table();
    let sql = format!(
        "INSERT INTO {table}_fact ({table}, what, text, si, unit, at, entered, who, source) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)"
    );
    conn.prepare_cached(&sql)?.execute(params![
        id,
        what,
        value.text,
        value.si,
        value.unit,
        stamp.at,
        stamp.entered,
        stamp.who,
        stamp.source
    ])?;
    let row = conn.last_insert_rowid();
    word::renew(conn, kind, id)?;
    Ok(row)
}

fn own(conn: &Connection, bike: BikeId, owner: Option<RiderId>, stamp: &Stamp) -> Result<(), BookError> {
    stamp.check()?;
    exists(conn, "bike", bike.0)?;
    if let Some(rider) = owner {
        exists(conn, "rider", rider.0)?;
    }
    conn.prepare_cached("INSERT INTO owner (bike, rider, at, entered, who, source) VALUES (?1, ?2, ?3, ?4, ?5, ?6)")?
        .execute(params![bike, owner, stamp.at, stamp.entered, stamp.who, stamp.source])?;
    word::renew(conn, Kind::Bike, bike.0)
}

/// Refuses a number that is not in the table.
pub(super) fn exists(conn: &Connection, table: &'static str, id: i64) -> Result<(), BookError> {
    let sql = format!("SELECT 1 FROM {table} WHERE id = ?1");
    conn.prepare_cached(&sql)?.query_row([id], |_| Ok(())).optional()?.ok_or(BookError::Missing { what: table, id })
}

/// The owner of a bike at a time, if it has one.
pub(super) fn owner_at(conn: &Connection, bike: BikeId, time: i64) -> Result<Option<RiderId>, BookError> {
    let sql =
        "SELECT rider FROM owner WHERE bike = ?1 AND at <= ?2 AND entered <= ?2 ORDER BY at DESC, id DESC LIMIT 1";
    let found = conn.prepare_cached(sql)?.query_row(params![bike, time], |r| r.get(0)).optional()?;
    Ok(found.flatten())
}
