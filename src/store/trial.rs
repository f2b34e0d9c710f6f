//! Trials as written down: the baseline, the step, the verdicts after the rides, and how it ended.
//!
//! Owns the rows. Knows nothing of what to ride next or how sure one can be; that is the trial room's.

use rusqlite::{OptionalExtension, params};

use super::book::Book;
use super::error::BookError;
use super::id::{BikeId, RiderId, Row, TrialId};
use super::row::{self, Chained};
use super::stamp::{Stamp, Value, check_long, check_number, check_text};
use super::view::View;
use super::visit::rider_or_owner;

/// A trial of one setting, to be started.
#[derive(Clone, Debug, PartialEq)]
pub struct NewTrial {
    /// The bike.
    pub bike: BikeId,
    /// The rider; without one, the bike's owner.
    pub rider: Option<RiderId>,
    /// The one setting that is tried: "saddle-height".
    pub what: String,
    /// The baseline; its number (SI units) is needed.
    pub baseline: Value,
    /// First step, in SI units, more than 0.
    pub step_si: f64,
    /// Smallest step worth riding, in SI units, more than 0.
    pub least_si: f64,
    /// Lowest safe value, in SI units.
    pub low_si: f64,
    /// Highest safe value, in SI units.
    pub high_si: f64,
    /// Seed of the blind order, if somebody else sets the bike.
    pub seed: Option<i64>,
    /// Why it is tried.
    pub reason: Option<String>,
}

/// What the rider said after a pair of rides.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Felt {
    /// The first was better.
    First,
    /// The second was better.
    Second,
    /// No difference.
    Same,
}

const FELT: [(Felt, &str); 3] = [(Felt::First, "first"), (Felt::Second, "second"), (Felt::Same, "same")];

impl Felt {
    /// The word in the book.
    #[must_use]
    pub fn word(self) -> &'static str {
        FELT.iter().find(|(f, _)| *f == self).map_or("same", |(_, w)| w)
    }

    /// Reads the word; `None` for an unknown one.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        FELT.iter().find(|(_, w)| *w == word).map(|(f, _)| *f)
    }
}

/// A verdict after a pair of rides, to be written.
#[derive(Clone, Debug, PartialEq)]
pub struct NewVerdict {
    /// Value ridden first, in SI units.
    pub first_si: f64,
    /// Value ridden second, in SI units.
    pub second_si: f64,
    /// Which was better.
    pub felt: Felt,
    /// The rider's own words.
    pub remark: Option<String>,
    /// Other settings that were changed at the same time; the verdict then teaches nothing.
    pub changed: Vec<String>,
}

/// A verdict as it stands in the book.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// Number of the row.
    pub id: i64,
    /// What was said; `None` in a row that takes a verdict back.
    pub felt: Option<Felt>,
    /// Value ridden first, in SI units.
    pub first_si: f64,
    /// Value ridden second, in SI units.
    pub second_si: f64,
    /// The rider's own words.
    pub remark: Option<String>,
    /// Other settings that were changed at the same time.
    pub changed: Vec<String>,
    /// When, who, from where.
    pub stamp: Stamp,
    /// The row that it puts right.
    pub corrects: Option<i64>,
}

impl Chained for Verdict {
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
        self.felt.is_none()
    }
}

/// How a trial ended.
#[derive(Clone, Debug, PartialEq)]
pub struct TrialEnd {
    /// The value that was kept.
    pub kept: Value,
    /// Why it ended.
    pub reason: Option<String>,
    /// When, who, from where.
    pub stamp: Stamp,
}

/// A trial as it stands in the book.
#[derive(Clone, Debug, PartialEq)]
pub struct Trial {
    /// Which.
    pub id: TrialId,
    /// How it was started, its rider filled in.
    pub set: NewTrial,
    /// When, who, from where.
    pub stamp: Stamp,
    /// The verdicts that hold, in order of time.
    pub verdicts: Vec<Verdict>,
    /// How it ended, if it has.
    pub end: Option<TrialEnd>,
}

impl Book {
    /// Starts a trial.
    ///
    /// # Errors
    ///
    /// [`BookError::Refused`] for a baseline without a number or outside the limits, or steps that are not above 0;
    /// [`BookError::Missing`]; what prevents writing.
    pub fn start_trial(&self, new: &NewTrial, stamp: &Stamp) -> Result<TrialId, BookError> {
        let si = check(new)?;
        stamp.check()?;
        self.write(|conn| {
            let rider = rider_or_owner(conn, Some(new.bike), new.rider, stamp)?;
            conn.prepare_cached(
                "INSERT INTO trial (bike, rider, what, text, si, unit, step_si, least_si, low_si, high_si, seed, reason,
                 at, entered, who, source) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16)",
            )?
            .execute(params![
                new.bike,
                rider,
                new.what,
                new.baseline.text,
                si,
                new.baseline.unit,
                new.step_si,
                new.least_si,
                new.low_si,
                new.high_si,
                new.seed,
                new.reason,
                stamp.at,
                stamp.entered,
                stamp.who,
                stamp.source
            ])?;
            Ok(TrialId(conn.last_insert_rowid()))
        })
    }

    /// Writes what the rider said after a pair of rides.
    ///
    /// # Errors
    ///
    /// [`BookError::Refused`] for values that are not numbers or a trial that has ended; [`BookError::Missing`]; what
    /// prevents writing.
    pub fn judge(&self, trial: TrialId, new: &NewVerdict, stamp: &Stamp) -> Result<Row, BookError> {
        check_number("the value ridden first", Some(new.first_si))?;
        check_number("the value ridden second", Some(new.second_si))?;
        new.remark.as_deref().map_or(Ok(()), |r| check_long("the remark", r))?;
        let changed = (!new.changed.is_empty()).then(|| new.changed.join("\n"));
        stamp.check()?;
        self.write(|conn| {
            if View::new(conn, i64::MAX).trial(trial)?.end.is_some() {
                return Err(BookError::Refused(format!("trial {} has ended", trial.0)));
            }
            conn.prepare_cached(
                "INSERT INTO verdict (trial, first_si, second_si, text, remark, changed, at, entered, who, source)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)",
            )?
            .execute(params![
                trial,
                new.first_si,
                new.second_si,
                new.felt.word(),
                new.remark,
                changed,
                stamp.at,
                stamp.entered,
                stamp.who,
                stamp.source
            ])?;
            Ok(Row::Verdict(conn.last_insert_rowid()))
        })
    }

    /// Ends a trial with the value that is kept.
    ///
    /// # Errors
    ///
    /// [`BookError::Refused`] if it has ended already; [`BookError::Missing`]; what prevents writing.
    pub fn end_trial(
        &self,
        trial: TrialId,
        kept: &Value,
        reason: Option<&str>,
        stamp: &Stamp,
    ) -> Result<(), BookError> {
        kept.check("the value kept")?;
        reason.map_or(Ok(()), |r| check_long("the reason", r))?;
        stamp.check()?;
        self.write(|conn| {
            if View::new(conn, i64::MAX).trial(trial)?.end.is_some() {
                return Err(BookError::Refused(format!("trial {} has ended already", trial.0)));
            }
            conn.prepare_cached(
                "INSERT INTO trial_end (trial, text, si, unit, reason, at, entered, who, source)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
            )?
            .execute(params![
                trial,
                kept.text,
                kept.si,
                kept.unit,
                reason,
                stamp.at,
                stamp.entered,
                stamp.who,
                stamp.source
            ])?;
            Ok(())
        })
    }
}

fn check(new: &NewTrial) -> Result<f64, BookError> {
    check_text("what is tried", &new.what)?;
    new.baseline.check("the baseline")?;
    new.reason.as_deref().map_or(Ok(()), |r| check_long("the reason", r))?;
    for (what, number) in
        [("step", new.step_si), ("smallest step", new.least_si), ("limit", new.low_si), ("limit", new.high_si)]
    {
        check_number(what, Some(number))?;
    }
    let Some(si) = new.baseline.si else { return Err(BookError::Refused("the baseline has no number".into())) };
    if new.step_si <= 0.0 || new.least_si <= 0.0 {
        return Err(BookError::Refused("a step is more than 0".into()));
    }
    if !(new.low_si..=new.high_si).contains(&si) {
        return Err(BookError::Refused("the baseline is outside the limits".into()));
    }
    Ok(si)
}

impl View<'_> {
    /// A trial with its verdicts.
    ///
    /// # Errors
    ///
    /// [`BookError::Missing`]; what prevents reading.
    pub fn trial(&self, id: TrialId) -> Result<Trial, BookError> {
        let mut found = self.conn.prepare_cached(
            "SELECT bike, rider, what, text, si, unit, step_si, least_si, low_si, high_si, seed, reason, at, entered, who, source
             FROM trial WHERE id = ?1 AND at <= ?2 AND entered <= ?2",
        )?;
        let head = found.query_row(params![id, self.at], |r| {
            let set = NewTrial {
                bike: r.get(0)?,
                rider: r.get(1)?,
                what: r.get(2)?,
                baseline: row::value(r, 3)?,
                step_si: r.get(6)?,
                least_si: r.get(7)?,
                low_si: r.get(8)?,
                high_si: r.get(9)?,
                seed: r.get(10)?,
                reason: r.get(11)?,
            };
            Ok((set, row::stamp(r, 12)?))
        });
        let (set, stamp) = head.optional()?.ok_or(BookError::Missing { what: "trial", id: id.0 })?;
        Ok(Trial { id, set, stamp, verdicts: row::holding(self.verdict_history(id)?), end: self.trial_end(id)? })
    }

    /// The trials of a bike, in order of starting.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn trials(&self, bike: BikeId) -> Result<Vec<Trial>, BookError> {
        let sql = "SELECT id FROM trial WHERE bike = ?1 AND at <= ?2 AND entered <= ?2 ORDER BY id";
        let mut found = self.conn.prepare_cached(sql)?;
        let ids: Vec<TrialId> = found.query_map(params![bike, self.at], |r| r.get(0))?.collect::<Result<_, _>>()?;
        ids.into_iter().map(|id| self.trial(id)).collect()
    }

    /// The trials of a bike that have not ended.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn open_trials(&self, bike: BikeId) -> Result<Vec<Trial>, BookError> {
        let mut all = self.trials(bike)?;
        all.retain(|t| t.end.is_none());
        Ok(all)
    }

    /// Every verdict of a trial in order of writing, those since corrected as well.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn verdict_history(&self, trial: TrialId) -> Result<Vec<Verdict>, BookError> {
        let mut found = self.conn.prepare_cached(
            "SELECT id, text, first_si, second_si, remark, changed, at, entered, who, source, corrects FROM verdict
             WHERE trial = ?1 AND at <= ?2 AND entered <= ?2 ORDER BY id",
        )?;
        let rows = found.query_map(params![trial, self.at], |r| {
            let (word, changed): (String, Option<String>) = (r.get(1)?, r.get(5)?);
            Ok(Verdict {
                id: r.get(0)?,
                felt: Felt::from_word(&word),
                first_si: r.get(2)?,
                second_si: r.get(3)?,
                remark: r.get(4)?,
                changed: changed.map(|c| c.lines().map(str::to_owned).collect()).unwrap_or_default(),
                stamp: row::stamp(r, 6)?,
                corrects: r.get(10)?,
            })
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    fn trial_end(&self, trial: TrialId) -> Result<Option<TrialEnd>, BookError> {
        let mut found = self.conn.prepare_cached(
            "SELECT text, si, unit, reason, at, entered, who, source FROM trial_end
             WHERE trial = ?1 AND at <= ?2 AND entered <= ?2",
        )?;
        let end = found.query_row(params![trial, self.at], |r| {
            Ok(TrialEnd { kept: row::value(r, 0)?, reason: r.get(3)?, stamp: row::stamp(r, 4)? })
        });
        Ok(end.optional()?)
    }
}
