//! Reading the book as it stands or stood: riders and bikes.
//!
//! Owns the time as of which is read; the readings themselves stand beside what writes them (visits, settings, trials).

use rusqlite::{Connection, params};

use super::error::BookError;
use super::id::{BikeId, RiderId};
use super::row::{self, Fact};
use super::subject::{Kind, NAME, exists, owner_at};

/// The book as of a time.
#[derive(Clone, Copy, Debug)]
pub struct View<'a> {
    pub(super) conn: &'a Connection,
    pub(super) at: i64,
}

/// A rider as of a time.
#[derive(Clone, Debug, PartialEq)]
pub struct Rider {
    /// Which.
    pub id: RiderId,
    /// The name; "rider 7" if none is noted.
    pub name: String,
    /// The latest measurement or fact of each kind, the name left out.
    pub facts: Vec<Fact>,
}

/// A bike as of a time.
#[derive(Clone, Debug, PartialEq)]
pub struct Bike {
    /// Which.
    pub id: BikeId,
    /// The name; "bike 7" if none is noted.
    pub name: String,
    /// The owner, if there is one.
    pub owner: Option<RiderId>,
    /// The latest fact of each kind, the name left out.
    pub facts: Vec<Fact>,
}

impl<'a> View<'a> {
    pub(super) fn new(conn: &'a Connection, at: i64) -> Self {
        View { conn, at }
    }

    /// A rider with measurements and facts.
    ///
    /// # Errors
    ///
    /// [`BookError::Missing`]; what prevents reading.
    pub fn rider(&self, id: RiderId) -> Result<Rider, BookError> {
        exists(self.conn, "rider", id.0)?;
        let (name, facts) = self.named(Kind::Rider, id.0)?;
        Ok(Rider { id, name, facts })
    }

    /// A bike with its facts.
    ///
    /// # Errors
    ///
    /// [`BookError::Missing`]; what prevents reading.
    pub fn bike(&self, id: BikeId) -> Result<Bike, BookError> {
        exists(self.conn, "bike", id.0)?;
        let (name, facts) = self.named(Kind::Bike, id.0)?;
        Ok(Bike { id, name, owner: owner_at(self.conn, id, self.at)?, facts })
    }

    /// Every row about a rider, in order of writing, those since corrected as well.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn rider_history(&self, id: RiderId) -> Result<Vec<Fact>, BookError> {
        self.fact_rows(Kind::Rider, id.0)
    }

    /// Every row about a bike, in order of writing, those since corrected as well.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn bike_history(&self, id: BikeId) -> Result<Vec<Fact>, BookError> {
        self.fact_rows(Kind::Bike, id.0)
    }

    /// The bikes that a rider owns.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn bikes_of(&self, rider: RiderId) -> Result<Vec<BikeId>, BookError> {
        let mut once = self.conn.prepare_cached("SELECT DISTINCT bike FROM owner WHERE rider = ?1 ORDER BY bike")?;
        let bikes: Vec<BikeId> = once.query_map([rider], |r| r.get(0))?.collect::<Result<_, _>>()?;
        let mut owned = Vec::new();
        for bike in bikes {
            if owner_at(self.conn, bike, self.at)? == Some(rider) {
                owned.push(bike);
            }
        }
        Ok(owned)
    }

    pub(super) fn name(&self, kind: Kind, id: i64) -> Result<String, BookError> {
        Ok(self.named(kind, id)?.0)
    }

    fn named(&self, kind: Kind, id: i64) -> Result<(String, Vec<Fact>), BookError> {
        let mut facts = self.facts(kind, id)?;
        let name = facts.iter().position(|f| f.what == NAME).map(|i| facts.remove(i).value.text);
        Ok((name.unwrap_or_else(|| format!("{} {id}", kind.table())), facts))
    }

    /// The latest fact of each kind, the name among them.
    pub(super) fn facts(&self, kind: Kind, id: i64) -> Result<Vec<Fact>, BookError> {
        Ok(row::latest_of_each(row::holding(self.fact_rows(kind, id)?), |f| f.what.clone()))
    }

    fn fact_rows(&self, kind: Kind, id: i64) -> Result<Vec<Fact>, BookError> {
        let table = kind.table();
        let sql = format!(
            "SELECT id, what, text, si, unit, at, entered, who, source, corrects FROM {table}_fact
             WHERE {table} = ?1 AND at <= ?2 AND entered <= ?2 ORDER BY id"
        );
        let mut found = self.conn.prepare_cached(&sql)?;
        let rows = found.query_map(params![id, self.at], |r| {
            Ok(Fact {
                id: r.get(0)?,
                what: r.get(1)?,
                value: row::value(r, 2)?,
                stamp: row::stamp(r, 5)?,
                corrects: r.get(9)?,
            })
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }
}
