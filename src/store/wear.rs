//! Wear readings of parts: chain, pads, rotors, tyres.

use rusqlite::params;

use super::book::Book;
use super::error::BookError;
use super::id::{BikeId, Row};
use super::row::{self, Chained};
use super::stamp::{Stamp, Value, check_number, check_text};
use super::subject::exists;
use super::view::View;

/// A wear reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Wear {
    /// Number of the row.
    pub id: i64,
    /// The part and what was read: "chain-elongation".
    pub what: String,
    /// The reading.
    pub value: Value,
    /// Distance ridden on the bike when it was read, in metres, if known.
    pub metres: Option<f64>,
    /// Worn out at this reading, in SI units, if known.
    pub limit_si: Option<f64>,
    /// When, who, from where.
    pub stamp: Stamp,
    /// The row that it puts right.
    pub corrects: Option<i64>,
}

impl Chained for Wear {
    fn id(&self) -> i64 {
        self.id
    }
    fn corrects(&self) -> Option<i64> {
        self.corrects
    }
    fn at(&self) -> i64 {
        self.stamp.at
    }
    fn gone(&self) -> bool {
        self.value.text.is_empty()
    }
}

impl Book {
    /// Writes a wear reading; `metres` is the distance on the bike, `limit_si` the reading at which the part is worn out.
    ///
    /// # Errors
    ///
    /// [`BookError::Refused`] for what is empty, endless or not a number, [`BookError::Missing`]; what prevents writing.
    pub fn note_wear(
        &self,
        bike: BikeId,
        what: &str,
        value: &Value,
        metres: Option<f64>,
        limit_si: Option<f64>,
        stamp: &Stamp,
    ) -> Result<Row, BookError> {
        check_text("the part", what)?;
        value.check(what)?;
        check_number("the distance", metres)?;
        check_number("the limit", limit_si)?;
        stamp.check()?;
        self.write(|conn| {
            exists(conn, "bike", bike.0)?;
            conn.prepare_cached(
                "INSERT INTO wear (bike, what, text, si, unit, metres, limit_si, at, entered, who, source)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)",
            )?
            .execute(params![
                bike,
                what,
                value.text,
                value.si,
                value.unit,
                metres,
                limit_si,
                stamp.at,
                stamp.entered,
                stamp.who,
                stamp.source
            ])?;
            Ok(Row::Wear(conn.last_insert_rowid()))
        })
    }
}

impl View<'_> {
    /// The latest reading of each part of a bike.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn wear(&self, bike: BikeId) -> Result<Vec<Wear>, BookError> {
        Ok(row::latest_of_each(row::holding(self.wear_history(bike)?), |w| w.what.clone()))
    }

    /// Every part's readings over time, by name, corrections in place.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn wear_over_time(&self, bike: BikeId) -> Result<Vec<(String, Vec<Wear>)>, BookError> {
        Ok(row::by_name(row::holding(self.wear_history(bike)?), |w| w.what.clone()))
    }

    /// Every reading of a bike in order of writing, those since corrected as well.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn wear_history(&self, bike: BikeId) -> Result<Vec<Wear>, BookError> {
        let mut found = self.conn.prepare_cached(
            "SELECT id, what, text, si, unit, metres, limit_si, at, entered, who, source, corrects FROM wear
             WHERE bike = ?1 AND at <= ?2 AND entered <= ?2 ORDER BY id",
        )?;
        let rows = found.query_map(params![bike, self.at], |r| {
            Ok(Wear {
                id: r.get(0)?,
                what: r.get(1)?,
                value: row::value(r, 2)?,
                metres: r.get(5)?,
                limit_si: r.get(6)?,
                stamp: row::stamp(r, 7)?,
                corrects: r.get(11)?,
            })
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }
}
