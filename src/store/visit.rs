//! Visits: what was complained of, found, believed, done, and what came of it.
//!
//! A visit grows by entries, each confirmed as it is written. Knows nothing of what the ids of findings and causes mean.

use rusqlite::{Connection, OptionalExtension, params};

use super::book::Book;
use super::error::BookError;
use super::id::{BikeId, RiderId, Row, VisitId};
use super::row::{self, Chained};
use super::stamp::{Stamp, Value, check_number, check_text};
use super::subject::{exists, owner_at};
use super::view::View;

/// What an entry of a visit is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum EntryKind {
    /// What was complained of, in the person's words.
    Complaint,
    /// A line as typed: fed again, the lines lead to the same place.
    Line,
    /// A finding: key is its id, text the answer.
    Finding,
    /// A belief: key is the cause, text its title, si the degree between 0 and 1.
    Belief,
    /// A check made or still to make.
    Check,
    /// A caution that was given.
    Caution,
    /// The cause that was found: key is its id, text its title.
    Cause,
    /// What was done: key is the cause it was done for.
    Repair,
    /// What came of it: key is the cause, text one of [`Outcome`]'s words.
    Outcome,
    /// Anything else.
    Note,
}

const KINDS: [(EntryKind, &str); 10] = [
    (EntryKind::Complaint, "complaint"),
    (EntryKind::Line, "line"),
    (EntryKind::Finding, "finding"),
    (EntryKind::Belief, "belief"),
    (EntryKind::Check, "check"),
    (EntryKind::Caution, "caution"),
    (EntryKind::Cause, "cause"),
    (EntryKind::Repair, "repair"),
    (EntryKind::Outcome, "outcome"),
    (EntryKind::Note, "note"),
];

impl EntryKind {
    /// The word in the book.
    #[must_use]
    pub fn word(self) -> &'static str {
        KINDS.iter().find(|(k, _)| *k == self).map_or("note", |(_, w)| w)
    }

    /// Reads the word; `None` for an unknown one.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        KINDS.iter().find(|(_, w)| *w == word).map(|(k, _)| *k)
    }
}

/// What came of a repair.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// It cured the complaint: the visit counts as closed with this cause.
    Helped,
    /// It helped in part.
    Partly,
    /// It did not help.
    No,
    /// It was not done.
    NotDone,
    /// It helped, but the complaint came back: the repair did not hold.
    CameBack,
}

const OUTCOMES: [(Outcome, &str); 5] = [
    (Outcome::Helped, "helped"),
    (Outcome::Partly, "partly"),
    (Outcome::No, "no"),
    (Outcome::NotDone, "not-done"),
    (Outcome::CameBack, "came-back"),
];

impl Outcome {
    /// The word in the book.
    #[must_use]
    pub fn word(self) -> &'static str {
        OUTCOMES.iter().find(|(o, _)| *o == self).map_or("no", |(_, w)| w)
    }

    /// Reads the word; `None` for an unknown one.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        OUTCOMES.iter().find(|(_, w)| *w == word).map(|(o, _)| *o)
    }
}

/// An entry to be written.
#[derive(Clone, Debug, PartialEq)]
pub struct NewEntry {
    /// What it is.
    pub kind: EntryKind,
    /// Id of the finding, cause or check it is about.
    pub key: Option<String>,
    /// Text, and number if it has one (degree of belief, measured value in SI units).
    pub value: Value,
}

impl NewEntry {
    /// An entry of words only.
    #[must_use]
    pub fn words(kind: EntryKind, text: &str) -> Self {
        NewEntry { kind, key: None, value: Value::words(text) }
    }

    /// An entry about a finding or cause.
    #[must_use]
    pub fn about(kind: EntryKind, key: &str, text: &str) -> Self {
        NewEntry { kind, key: Some(key.to_owned()), value: Value::words(text) }
    }

    /// A degree of belief in a cause, between 0 and 1.
    #[must_use]
    pub fn belief(cause: &str, title: &str, degree: f64) -> Self {
        let value = Value { text: title.to_owned(), si: Some(degree), unit: None };
        NewEntry { kind: EntryKind::Belief, key: Some(cause.to_owned()), value }
    }

    /// What came of the repair of a cause.
    #[must_use]
    pub fn outcome(cause: &str, outcome: Outcome) -> Self {
        NewEntry::about(EntryKind::Outcome, cause, outcome.word())
    }
}

/// An entry as it stands in the book.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Number of the row.
    pub id: i64,
    /// What it is.
    pub kind: EntryKind,
    /// Id of the finding, cause or check it is about.
    pub key: Option<String>,
    /// Text and number.
    pub value: Value,
    /// When, who, from where.
    pub stamp: Stamp,
    /// The row that it puts right.
    pub corrects: Option<i64>,
}

impl Chained for Entry {
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

/// A visit with the entries that hold.
#[derive(Clone, Debug, PartialEq)]
pub struct Visit {
    /// Which.
    pub id: VisitId,
    /// The bike, if it is in the book.
    pub bike: Option<BikeId>,
    /// The rider, if in the book.
    pub rider: Option<RiderId>,
    /// When, who, from where.
    pub stamp: Stamp,
    /// The entries, in order of time.
    pub entries: Vec<Entry>,
}

impl Visit {
    /// The entries of one kind.
    pub fn of(&self, kind: EntryKind) -> impl Iterator<Item = &Entry> {
        self.entries.iter().filter(move |e| e.kind == kind)
    }

    /// What came of the repair of a cause, as last noted.
    #[must_use]
    pub fn outcome(&self, cause: &str) -> Option<Outcome> {
        let last = self.of(EntryKind::Outcome).filter(|e| e.key.as_deref() == Some(cause)).last();
        last.and_then(|e| Outcome::from_word(&e.value.text))
    }
}

impl Book {
    /// Opens a visit. Without a rider it is the bike's owner who is visiting.
    ///
    /// # Errors
    ///
    /// [`BookError::Missing`]; what prevents writing.
    pub fn open_visit(
        &self,
        bike: Option<BikeId>,
        rider: Option<RiderId>,
        stamp: &Stamp,
    ) -> Result<VisitId, BookError> {
        stamp.check()?;
        self.write(|conn| {
            let rider = rider_or_owner(conn, bike, rider, stamp)?;
            conn.prepare_cached(
                "INSERT INTO visit (bike, rider, at, entered, who, source) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            )?
            .execute(params![bike, rider, stamp.at, stamp.entered, stamp.who, stamp.source])?;
            Ok(VisitId(conn.last_insert_rowid()))
        })
    }

    /// Adds an entry to a visit. A second outcome for the same cause puts the first one right.
    ///
    /// # Errors
    ///
    /// [`BookError::Refused`] for an empty text, an unknown outcome or a degree of belief outside 0 to 1;
    /// [`BookError::Missing`]; what prevents writing.
    pub fn enter(&self, visit: VisitId, entry: &NewEntry, stamp: &Stamp) -> Result<Row, BookError> {
        check(entry)?;
        stamp.check()?;
        self.write(|conn| {
            exists(conn, "visit", visit.0)?;
            let corrects = match (entry.kind, &entry.key) {
                (EntryKind::Outcome, Some(cause)) => standing_outcome(conn, visit, cause)?,
                _ => None,
            };
            let v = &entry.value;
            conn.prepare_cached(
                "INSERT INTO entry (visit, kind, key, text, si, unit, at, entered, who, source, corrects)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)",
            )?
            .execute(params![
                visit,
                entry.kind.word(),
                entry.key,
                v.text,
                v.si,
                v.unit,
                stamp.at,
                stamp.entered,
                stamp.who,
                stamp.source,
                corrects
            ])?;
            Ok(Row::Entry(conn.last_insert_rowid()))
        })
    }

    /// Writes a whole visit at once: all of it is confirmed when it returns, or none.
    ///
    /// # Errors
    ///
    /// As [`Book::open_visit`] and [`Book::enter`].
    pub fn record_visit(
        &self,
        bike: Option<BikeId>,
        rider: Option<RiderId>,
        entries: &[NewEntry],
        stamp: &Stamp,
    ) -> Result<VisitId, BookError> {
        self.together(|book| {
            let visit = book.open_visit(bike, rider, stamp)?;
            for entry in entries {
                book.enter(visit, entry, stamp)?;
            }
            Ok(visit)
        })
    }
}

fn check(entry: &NewEntry) -> Result<(), BookError> {
    let kind = entry.kind.word();
    entry.value.check(kind)?;
    if let Some(key) = &entry.key {
        check_text("what the entry is about", key)?;
    }
    check_number(kind, entry.value.si)?;
    match entry.kind {
        EntryKind::Outcome if Outcome::from_word(&entry.value.text).is_none() => {
            Err(BookError::Refused(format!("\"{}\" is no outcome", entry.value.text)))
        }
        EntryKind::Outcome | EntryKind::Cause | EntryKind::Belief if entry.key.is_none() => {
            Err(BookError::Refused(format!("{kind} without the cause it is about")))
        }
        EntryKind::Belief if !entry.value.si.is_some_and(|p| (0.0..=1.0).contains(&p)) => {
            Err(BookError::Refused("a degree of belief lies between 0 and 1".into()))
        }
        _ => Ok(()),
    }
}

/// The rider given, or else the owner of the bike at that time; both must be in the book.
pub(super) fn rider_or_owner(
    conn: &Connection,
    bike: Option<BikeId>,
    rider: Option<RiderId>,
    stamp: &Stamp,
) -> Result<Option<RiderId>, BookError> {
    if let Some(bike) = bike {
        exists(conn, "bike", bike.0)?;
    }
    match (rider, bike) {
        (Some(rider), _) => exists(conn, "rider", rider.0).map(|()| Some(rider)),
        (None, Some(bike)) => owner_at(conn, bike, stamp.at.max(stamp.entered)),
        (None, None) => Ok(None),
    }
}

fn standing_outcome(conn: &Connection, visit: VisitId, cause: &str) -> Result<Option<i64>, BookError> {
    let sql = "SELECT id FROM entry e WHERE visit = ?1 AND kind = 'outcome' AND key = ?2
               AND NOT EXISTS (SELECT 1 FROM entry c WHERE c.corrects = e.id) ORDER BY id DESC LIMIT 1";
    Ok(conn.prepare_cached(sql)?.query_row(params![visit, cause], |r| r.get(0)).optional()?)
}

impl View<'_> {
    /// A visit with the entries that hold.
    ///
    /// # Errors
    ///
    /// [`BookError::Missing`]; what prevents reading.
    pub fn visit(&self, id: VisitId) -> Result<Visit, BookError> {
        let sql =
            "SELECT bike, rider, at, entered, who, source FROM visit WHERE id = ?1 AND at <= ?2 AND entered <= ?2";
        let head = self
            .conn
            .prepare_cached(sql)?
            .query_row(params![id, self.at], |r| Ok((r.get(0)?, r.get(1)?, row::stamp(r, 2)?)));
        let (bike, rider, stamp) = head.optional()?.ok_or(BookError::Missing { what: "visit", id: id.0 })?;
        Ok(Visit { id, bike, rider, stamp, entries: row::holding(self.entry_history(id)?) })
    }

    /// Every entry of a visit in order of writing, those since corrected as well.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn entry_history(&self, visit: VisitId) -> Result<Vec<Entry>, BookError> {
        let mut found = self.conn.prepare_cached(
            "SELECT id, kind, key, text, si, unit, at, entered, who, source, corrects FROM entry
             WHERE visit = ?1 AND at <= ?2 AND entered <= ?2 ORDER BY id",
        )?;
        let rows = found.query_map(params![visit, self.at], |r| {
            let kind: String = r.get(1)?;
            Ok(Entry {
                id: r.get(0)?,
                kind: EntryKind::from_word(&kind).unwrap_or(EntryKind::Note),
                key: r.get(2)?,
                value: row::value(r, 3)?,
                stamp: row::stamp(r, 6)?,
                corrects: r.get(10)?,
            })
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// The last visits of a bike, latest first.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn visits(&self, bike: BikeId, most: usize) -> Result<Vec<Visit>, BookError> {
        self.visits_where("bike", bike.0, most)
    }

    /// The last visits of a rider, latest first.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn visits_of(&self, rider: RiderId, most: usize) -> Result<Vec<Visit>, BookError> {
        self.visits_where("rider", rider.0, most)
    }

    fn visits_where(&self, column: &'static str, id: i64, most: usize) -> Result<Vec<Visit>, BookError> {
        let sql = format!(
            "SELECT id FROM visit WHERE {column} = ?1 AND at <= ?2 AND entered <= ?2 ORDER BY at DESC, id DESC LIMIT ?3"
        );
        let mut found = self.conn.prepare_cached(&sql)?;
        let most = i64::try_from(most).unwrap_or(i64::MAX);
        let ids: Vec<VisitId> = found.query_map(params![id, self.at, most], |r| r.get(0))?.collect::<Result<_, _>>()?;
        ids.into_iter().map(|id| self.visit(id)).collect()
    }
}
