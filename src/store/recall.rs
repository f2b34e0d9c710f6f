//! What the book knows of a bike that comes back, in one reading.

use rusqlite::{OptionalExtension, Transaction, TransactionBehavior};

use super::due::Due;
use super::error::BookError;
use super::id::{BikeId, VisitId};
use super::setting::{Difference, Setting};
use super::trial::Trial;
use super::view::{Bike, Rider, View};
use super::visit::{EntryKind, Outcome, Visit};
use super::wear::Wear;

/// The bike fact that tells how far it has been ridden, in metres.
pub const DISTANCE: &str = "distance";

/// A repair that was done at an earlier visit.
#[derive(Clone, Debug, PartialEq)]
pub struct Done {
    /// The visit.
    pub visit: VisitId,
    /// When, in unix seconds.
    pub at: i64,
    /// Id of the cause it was done for, if known.
    pub cause: Option<String>,
    /// What was done.
    pub text: String,
    /// What came of it, if noted.
    pub outcome: Option<Outcome>,
}

/// Everything that matters when a bike comes back.
#[derive(Clone, Debug, PartialEq)]
pub struct Recall {
    /// The bike and its facts: known parts answer questions unasked.
    pub bike: Bike,
    /// Its owner with measurements.
    pub rider: Option<Rider>,
    /// The last visits, latest first.
    pub visits: Vec<Visit>,
    /// The repairs done at these visits, latest first: a complaint that comes back is evidence.
    pub repairs: Vec<Done>,
    /// The settings that hold.
    pub settings: Vec<Setting>,
    /// How far settings are from their noted baselines.
    pub differences: Vec<Difference>,
    /// Trials that have not ended.
    pub trials: Vec<Trial>,
    /// The latest wear reading of each part.
    pub wear: Vec<Wear>,
    /// Checks still to be done.
    pub due: Vec<Due>,
    /// Distance ridden, in metres, as last noted.
    pub metres: Option<f64>,
}

impl View<'_> {
    /// Recalls a bike: facts, owner, the last visits (`most` of them), settings, open trials, wear, due checks.
    ///
    /// # Errors
    ///
    /// [`BookError::Missing`]; what prevents reading.
    pub fn recall(&self, bike: BikeId, most: usize) -> Result<Recall, BookError> {
        // One transaction, so that another program's writing does not come between the readings.
        let _whole = match self.conn.is_autocommit() {
            true => Some(Transaction::new_unchecked(self.conn, TransactionBehavior::Deferred)?),
            false => None,
        };
        let known = self.bike(bike)?;
        let visits = self.visits(bike, most)?;
        Ok(Recall {
            rider: known.owner.map(|r| self.rider(r)).transpose()?,
            bike: known,
            repairs: visits.iter().flat_map(repairs).collect(),
            visits,
            settings: self.settings(bike)?,
            differences: self.differences(bike)?,
            trials: self.open_trials(bike)?,
            wear: self.wear(bike)?,
            due: self.due(bike)?,
            metres: self.metres(bike)?,
        })
    }

    /// Distance ridden on a bike, in metres: the greatest of what was noted.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn metres(&self, bike: BikeId) -> Result<Option<f64>, BookError> {
        let noted = self.bike(bike)?.facts.into_iter().find(|f| f.what == DISTANCE).and_then(|f| f.value.si);
        let read = self.wear(bike)?.into_iter().filter_map(|w| w.metres);
        let sql = "SELECT max(x.metres) FROM due_done x JOIN due d ON d.id = x.due
                   WHERE d.bike = ?1 AND x.at <= ?2 AND x.entered <= ?2";
        let done: Option<Option<f64>> =
            self.conn.prepare_cached(sql)?.query_row(rusqlite::params![bike, self.at], |r| r.get(0)).optional()?;
        Ok(read.chain(noted).chain(done.flatten()).reduce(f64::max))
    }
}

fn repairs(visit: &Visit) -> Vec<Done> {
    let done = visit.of(EntryKind::Repair).map(|e| Done {
        visit: visit.id,
        at: e.stamp.at,
        cause: e.key.clone(),
        text: e.value.text.clone(),
        outcome: e.key.as_deref().and_then(|cause| visit.outcome(cause)),
    });
    done.collect()
}
