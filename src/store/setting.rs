//! Settings of a bike: what, from where to where, why; and how far one is from its baseline.
//!
//! Knows numbers in SI units only; whoever shows them knows the person's units.

use rusqlite::params;

use super::book::Book;
use super::error::BookError;
use super::id::{BikeId, RiderId, Row, VisitId};
use super::row::{self, Chained};
use super::stamp::{Stamp, Value, check_long, check_number, check_text};
use super::subject::exists;
use super::view::View;
use super::visit::rider_or_owner;

/// A setting to be written.
#[derive(Clone, Debug, PartialEq)]
pub struct NewSetting {
    /// The bike.
    pub bike: BikeId,
    /// The rider it is for; without one, the bike's owner.
    pub rider: Option<RiderId>,
    /// The visit at which it was made.
    pub visit: Option<VisitId>,
    /// What is set: "saddle-height".
    pub what: String,
    /// The value now.
    pub value: Value,
    /// The value before; without one, the last setting in the book.
    pub before: Option<Value>,
    /// Why it was changed.
    pub reason: Option<String>,
    /// A noted point of departure, to which one can go back.
    pub baseline: bool,
}

impl NewSetting {
    /// A plain setting of a bike.
    #[must_use]
    pub fn new(bike: BikeId, what: &str, value: Value) -> Self {
        NewSetting {
            bike,
            rider: None,
            visit: None,
            what: what.to_owned(),
            value,
            before: None,
            reason: None,
            baseline: false,
        }
    }
}

/// A setting as it stands in the book.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// Number of the row.
    pub id: i64,
    /// The bike.
    pub bike: BikeId,
    /// The rider it is for.
    pub rider: Option<RiderId>,
    /// The visit at which it was made.
    pub visit: Option<VisitId>,
    /// What is set.
    pub what: String,
    /// The value.
    pub value: Value,
    /// The value before, as text.
    pub before: Option<String>,
    /// The value before, in SI units.
    pub before_si: Option<f64>,
    /// Why it was changed.
    pub reason: Option<String>,
    /// A noted point of departure.
    pub baseline: bool,
    /// When, who, from where.
    pub stamp: Stamp,
    /// The row that it puts right.
    pub corrects: Option<i64>,
}

impl Chained for Setting {
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

/// How far a setting is from its baseline.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// What it is compared with: the last one noted as baseline, or else the last one in the book.
    pub baseline: Setting,
    /// The value that is compared, in SI units.
    pub now_si: f64,
    /// Now less baseline, in SI units: a saddle 9 mm lower gives -0.009.
    pub by_si: f64,
}

impl Book {
    /// Writes a setting.
    ///
    /// # Errors
    ///
    /// [`BookError::Refused`] for an empty or endless value, [`BookError::Missing`]; what prevents writing.
    pub fn set(&self, new: &NewSetting, stamp: &Stamp) -> Result<Row, BookError> {
        check_text("what is set", &new.what)?;
        new.value.check(&new.what)?;
        new.before.as_ref().map_or(Ok(()), |b| b.check("the value before"))?;
        new.reason.as_deref().map_or(Ok(()), |r| check_long("the reason", r))?;
        stamp.check()?;
        self.write(|conn| {
            let rider = rider_or_owner(conn, Some(new.bike), new.rider, stamp)?;
            if let Some(visit) = new.visit {
                exists(conn, "visit", visit.0)?;
            }
            let before = match &new.before {
                Some(b) => Some(b.clone()),
                None => {
                    let mut earlier = View::new(conn, i64::MAX).setting_over_time(new.bike, &new.what)?;
                    earlier.retain(|s| s.stamp.at <= stamp.at);
                    earlier.pop().map(|s| s.value)
                }
            };
            let v = &new.value;
            conn.prepare_cached(
                "INSERT INTO setting (bike, rider, visit, what, text, si, unit, before, before_si, reason, baseline,
                 at, entered, who, source) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15)",
            )?
            .execute(params![
                new.bike,
                rider,
                new.visit,
                new.what,
                v.text,
                v.si,
                v.unit,
                before.as_ref().map(|b| &b.text),
                before.as_ref().and_then(|b| b.si),
                new.reason,
                new.baseline,
                stamp.at,
                stamp.entered,
                stamp.who,
                stamp.source
            ])?;
            Ok(Row::Setting(conn.last_insert_rowid()))
        })
    }
}

impl View<'_> {
    /// The settings of a bike that hold: the latest of each kind.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn settings(&self, bike: BikeId) -> Result<Vec<Setting>, BookError> {
        Ok(row::latest_of_each(row::holding(self.setting_rows(bike)?), |s| s.what.clone()))
    }

    /// One setting of a bike that holds.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn setting(&self, bike: BikeId, what: &str) -> Result<Option<Setting>, BookError> {
        Ok(self.setting_over_time(bike, what)?.pop())
    }

    /// One setting of a bike over time, corrections in place.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn setting_over_time(&self, bike: BikeId, what: &str) -> Result<Vec<Setting>, BookError> {
        let mut held = row::holding(self.setting_rows(bike)?);
        held.retain(|s| s.what == what);
        Ok(held)
    }

    /// Every setting of a bike over time, by name, corrections in place.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn settings_over_time(&self, bike: BikeId) -> Result<Vec<(String, Vec<Setting>)>, BookError> {
        Ok(row::by_name(row::holding(self.setting_rows(bike)?), |s| s.what.clone()))
    }

    /// Every setting row of a bike in order of writing, those since corrected as well.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn setting_history(&self, bike: BikeId) -> Result<Vec<Setting>, BookError> {
        self.setting_rows(bike)
    }

    /// Compares a value as found now (in SI units) with the last baseline, or else with the last setting in the book.
    ///
    /// `None` if the book has no number to compare with.
    ///
    /// # Errors
    ///
    /// [`BookError::Refused`] if the value is not a number; what prevents reading.
    pub fn compare(&self, bike: BikeId, what: &str, now_si: f64) -> Result<Option<Difference>, BookError> {
        check_number(what, Some(now_si))?;
        Ok(difference(self.setting_over_time(bike, what)?, now_si))
    }

    /// How far each current setting is from the last one noted as baseline; those without one are left out.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn differences(&self, bike: BikeId) -> Result<Vec<Difference>, BookError> {
        let held = row::holding(self.setting_rows(bike)?);
        let mut all = Vec::new();
        for now in row::latest_of_each(held.clone(), |s| s.what.clone()) {
            let own: Vec<Setting> = held.iter().filter(|s| s.what == now.what && s.baseline).cloned().collect();
            all.extend(now.value.si.and_then(|si| difference(own, si)));
        }
        Ok(all)
    }

    fn setting_rows(&self, bike: BikeId) -> Result<Vec<Setting>, BookError> {
        let mut found = self.conn.prepare_cached(
            "SELECT id, rider, visit, what, text, si, unit, before, before_si, reason, baseline, at, entered, who, source, corrects
             FROM setting WHERE bike = ?1 AND at <= ?2 AND entered <= ?2 ORDER BY id",
        )?;
        let rows = found.query_map(params![bike, self.at], |r| {
            Ok(Setting {
                id: r.get(0)?,
                bike,
                rider: r.get(1)?,
                visit: r.get(2)?,
                what: r.get(3)?,
                value: row::value(r, 4)?,
                before: r.get(7)?,
                before_si: r.get(8)?,
                reason: r.get(9)?,
                baseline: r.get(10)?,
                stamp: row::stamp(r, 11)?,
                corrects: r.get(15)?,
            })
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }
}

fn difference(mut over_time: Vec<Setting>, now_si: f64) -> Option<Difference> {
    let at = over_time.iter().rposition(|s| s.baseline).or(over_time.len().checked_sub(1))?;
    let baseline = over_time.swap_remove(at);
    let by_si = now_si - baseline.value.si?;
    Some(Difference { baseline, now_si, by_si })
}
