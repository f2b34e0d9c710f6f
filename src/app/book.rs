//! The shelf on which the book lies: what a conversation asks of it, what it leaves in it, and the chores of a book.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::{self, BufReader, BufWriter};
use std::path::Path;
use std::time::{SystemTime, UNIX_EPOCH};

use crate::belief::{Model, What};
use crate::dialogue::{self, Asked, Bench, KnownBike, Recalled, Record, Reply, State};
use crate::library::Library;
use crate::store::{
    BikeId, Book, BookError, EntryKind, Found, NewDue, NewEntry, NewSetting, Outcome, RiderId, Source, Stamp, Value,
    dirichlet_with_floor,
};
use crate::trial::{Kit, Plan};

/// How many closed visits the notes' own frequencies are worth.
const PRIOR_VISITS: f64 = 200.0;
/// No cause becomes rarer than this share of what the notes say, so that a rare danger is not counted away.
const FLOOR: f64 = 0.5;
/// How many visits are recalled.
const VISITS: usize = 5;

/// The book of this run, and the bike and rider that it is about.
pub(super) struct Shelf {
    book: Book,
    who: String,
    bike: Option<BikeId>,
    rider: Option<RiderId>,
}

/// What the book answers: a turn for the conversation, or words.
pub(super) enum Told {
    Turn(Box<Recalled>),
    Words(Reply),
}

fn now() -> i64 {
    SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |d| i64::try_from(d.as_secs()).unwrap_or(i64::MAX))
}

/// An error as two sentences: what is wrong, and what to do.
fn sentence(e: &BookError) -> String {
    format!("{e}. {}", e.what_to_do())
}

impl Shelf {
    /// Opens the book.
    ///
    /// # Errors
    /// A sentence saying why it cannot be used.
    pub(super) fn open(path: &Path) -> Result<Self, String> {
        let who = std::env::var("USER").ok().filter(|w| !w.trim().is_empty()).unwrap_or_else(|| "shakedown".into());
        let book = Book::open(path).map_err(|e| sentence(&e))?;
        Ok(Self { book, who, bike: None, rider: None })
    }

    fn stamp(&self, source: Source) -> Stamp {
        Stamp::now(now(), &self.who, source)
    }

    /// Closed visits by cause; none when they cannot be read.
    pub(super) fn met(&self) -> BTreeMap<String, u64> {
        self.book.frequencies().unwrap_or_default()
    }

    /// Answers the conversation.
    pub(super) fn ask(&mut self, asked: &Asked) -> Told {
        match self.answer(asked) {
            Ok(told) => told,
            Err(e) => Told::Words(Reply::say(sentence(&e))),
        }
    }

    fn answer(&mut self, asked: &Asked) -> Result<Told, BookError> {
        let words = |text: String| Ok(Told::Words(Reply::say(text)));
        match asked {
            Asked::Bike { words, make, then } => Ok(Told::Turn(Box::new(self.recall(words, *make, then)?))),
            Asked::Rider { name } => {
                let id = match self.book.find_riders(name)? {
                    Found::One(m) => m.id,
                    Found::Several { listed, .. } if !listed.iter().any(|m| m.name.eq_ignore_ascii_case(name)) => {
                        let names: Vec<String> = listed.into_iter().map(|m| m.name).collect();
                        return words(format!("Several riders fit: {}. Give the whole name.", names.join("; ")));
                    }
                    Found::Several { listed, .. } => {
                        match listed.into_iter().find(|m| m.name.eq_ignore_ascii_case(name)) {
                            Some(m) => m.id,
                            None => self.book.add_rider(name, &self.stamp(Source::Said))?,
                        }
                    }
                    Found::None => self.book.add_rider(name, &self.stamp(Source::Said))?,
                };
                self.rider = Some(id);
                if let Some(bike) = self.bike {
                    self.book.hand_over(bike, Some(id), &self.stamp(Source::Said))?;
                }
                words(format!("Noted: {name}."))
            }
            Asked::Visits => match self.bike {
                None => words("Name the bike first: bike name and its name.".into()),
                Some(bike) => self.visits(bike),
            },
            Asked::Due => self.due(),
            Asked::Plan => match self.bike {
                None => words("Name the bike first: bike name and its name.".into()),
                Some(bike) => self.plan(bike),
            },
            Asked::Erase { name } => match self.book.find_riders(name)? {
                Found::One(m) => {
                    let e = self.book.erase_rider(m.id)?;
                    self.rider = None;
                    let trace = if e.scrubbed {
                        "no trace is left in the file"
                    } else {
                        "the file is rewritten when nobody else has it open"
                    };
                    words(format!("Everything about {} is erased ({} rows); {trace}.", m.name, e.rows))
                }
                Found::Several { listed, .. } => {
                    let names: Vec<String> = listed.into_iter().map(|m| m.name).collect();
                    words(format!("Several riders fit: {}. Give the whole name; nothing was erased.", names.join("; ")))
                }
                Found::None => words(format!("The book has no rider \"{name}\".")),
            },
        }
    }

    fn recall(&mut self, words: &str, make: bool, then: &str) -> Result<Recalled, BookError> {
        let mut out = Recalled { then: then.to_owned(), bike: None, several: Vec::new(), trouble: None };
        let (id, made) = match self.book.find_bikes(words)? {
            Found::One(m) => (m.id, false),
            Found::Several { listed, .. } => {
                out.several = listed.into_iter().map(|m| m.name).collect();
                return Ok(out);
            }
            Found::None if make => (self.book.add_bike(words, self.rider, &self.stamp(Source::Said))?, true),
            Found::None => return Ok(out),
        };
        self.bike = Some(id);
        let known = self.book.now().recall(id, VISITS)?;
        self.rider = known.rider.as_ref().map(|r| r.id).or(self.rider);
        let time = now();
        out.bike = Some(KnownBike {
            name: known.bike.name.clone(),
            rider: known.rider.map(|r| r.name),
            facts: known.bike.facts.iter().map(|f| (f.what.clone(), f.value.text.clone())).collect(),
            settings: known.settings.iter().map(|s| (s.what.clone(), s.value.text.clone(), s.value.si)).collect(),
            repairs: known
                .repairs
                .into_iter()
                .map(|r| (r.cause, r.text, matches!(r.outcome, Some(Outcome::Helped | Outcome::Partly) | None)))
                .collect(),
            due: known.due.iter().filter(|d| d.is_due(time, known.metres)).map(|d| d.set.what.clone()).collect(),
            made,
        });
        Ok(out)
    }

    fn visits(&self, bike: BikeId) -> Result<Told, BookError> {
        let mut reply = Reply::default();
        let visits = self.book.now().visits(bike, VISITS)?;
        if visits.is_empty() {
            reply.add("No visit of this bike is in the book yet.");
        }
        for v in visits {
            let of = |kind| v.of(kind).map(|e| e.value.text.clone()).collect::<Vec<_>>().join("; ");
            let parts: Vec<String> = [
                ("told", of(EntryKind::Complaint)),
                ("cause", of(EntryKind::Cause)),
                ("done", of(EntryKind::Repair)),
                ("outcome", of(EntryKind::Outcome)),
            ]
            .into_iter()
            .filter(|(_, t)| !t.is_empty())
            .map(|(n, t)| format!("{n}: {t}"))
            .collect();
            reply.add(format!("{}: {}", day(v.stamp.at), parts.join(". ")));
        }
        Ok(Told::Words(reply))
    }

    fn due(&self) -> Result<Told, BookError> {
        let mut reply = Reply::default();
        let list = match self.bike {
            Some(bike) => {
                let view = self.book.now();
                let metres = view.metres(bike)?;
                view.due(bike)?.into_iter().filter(|d| d.is_due(now(), metres)).collect()
            }
            None => self.book.now().all_due(now())?,
        };
        if list.is_empty() {
            reply.add("Nothing is due.");
        }
        for d in list {
            let when = d.set.at.map(|t| format!(" (since {})", day(t))).unwrap_or_default();
            reply.add(format!("{}{when}", d.set.what));
        }
        Ok(Told::Words(reply))
    }

    fn plan(&self, bike: BikeId) -> Result<Told, BookError> {
        let view = self.book.now();
        let metres = view.metres(bike)?.unwrap_or(0.0);
        let plan = Plan { start: now(), metres, kit: Kit::default() };
        let stamp = self.stamp(Source::Computed);
        let schedule = plan.schedule();
        self.book.together(|book| {
            for d in &schedule {
                let new = NewDue {
                    bike,
                    what: d.recheck.what.to_owned(),
                    reason: Some("common practice, no source".into()),
                    at: Some(d.at),
                    metres: Some(d.metres),
                };
                book.add_due(&new, &stamp)?;
            }
            Ok::<(), BookError>(())
        })?;
        let mut reply = Reply::say(format!("{} rechecks noted. The first:", schedule.len()));
        for d in schedule.iter().take(5) {
            reply.add(format!("{}: by {} or after {:.0} km", d.recheck.what, day(d.at), (d.metres - metres) / 1000.0));
        }
        Ok(Told::Words(reply))
    }

    /// Writes the visit, if the bike or the rider has been named. True when something was written.
    ///
    /// # Errors
    /// A sentence.
    pub(super) fn keep_visit(&self, bench: &Bench, state: &State, record: &Record) -> Result<bool, String> {
        if self.bike.is_none() && self.rider.is_none() || record.complaints.is_empty() && record.settings.is_empty() {
            return Ok(false);
        }
        self.write_visit(bench, state, record).map_err(|e| sentence(&e))?;
        Ok(true)
    }

    fn write_visit(&self, bench: &Bench, state: &State, record: &Record) -> Result<(), BookError> {
        let lib = &bench.library;
        let stamp = self.stamp(Source::Said);
        let mut entries: Vec<NewEntry> =
            record.complaints.iter().map(|c| NewEntry::words(EntryKind::Complaint, c)).collect();
        entries
            .extend(record.lines.iter().filter(|l| !l.trim().is_empty()).map(|l| NewEntry::words(EntryKind::Line, l)));
        entries.extend(record.cautions.iter().chain(&record.stop).map(|c| NewEntry::words(EntryKind::Caution, c)));
        for t in &state.threads {
            for o in &t.observations {
                if let What::Is(f, a) = o.evidence.what {
                    let f = &lib.findings[f.0];
                    entries.push(NewEntry::about(EntryKind::Finding, &f.id, &f.answers[a.0].says));
                }
            }
            for (c, outcome) in &t.works {
                let cause = &lib.causes[*c];
                let outcome = match outcome {
                    dialogue::Outcome::Helped => Outcome::Helped,
                    dialogue::Outcome::Partly => Outcome::Partly,
                    dialogue::Outcome::No => Outcome::No,
                    dialogue::Outcome::NotDone => continue,
                };
                if outcome != Outcome::No {
                    entries.push(NewEntry::about(EntryKind::Cause, &cause.id, &cause.title));
                }
                entries.push(NewEntry::about(EntryKind::Repair, &cause.id, &cause.title));
                entries.push(NewEntry::outcome(&cause.id, outcome));
            }
        }
        for (title, p) in &record.beliefs_after {
            if let Some(c) = lib.causes.iter().find(|c| c.title == *title) {
                entries.push(NewEntry::belief(&c.id, title, p.clamp(0.0, 1.0)));
            }
        }
        self.book.together(|book| {
            let visit = book.record_visit(self.bike, self.rider, &entries, &stamp)?;
            let Some(bike) = self.bike else { return Ok(()) };
            for o in &state.shared.facts {
                if let What::Is(f, a) = o.evidence.what {
                    let f = &lib.findings[f.0];
                    book.note_bike(bike, &f.id, &Value::words(&f.answers[a.0].id), &stamp)?;
                }
            }
            for s in &record.settings {
                let source = if s.how.contains("computed") { Source::Computed } else { Source::Measured };
                let value = record
                    .figures
                    .iter()
                    .find(|f| s.what.ends_with(&f.label.to_lowercase()) && s.after.starts_with(&f.shown))
                    .map_or_else(|| Value::words(&s.after), |f| Value::quantity(&s.after, f.si, &f.unit));
                let mut new = NewSetting::new(bike, &s.what, value);
                new.visit = Some(visit);
                new.before = s.before.as_deref().map(Value::words);
                new.reason = record.complaints.first().cloned();
                book.set(&new, &self.stamp(source))?;
            }
            Ok::<(), BookError>(())
        })
    }

    /// The chores: backup, export, import.
    ///
    /// # Errors
    /// A sentence.
    pub(super) fn backup(&self, to: &Path) -> Result<String, String> {
        self.book.backup_to(to).map_err(|e| sentence(&e))?;
        Ok(format!("Copied to {}.", to.display()))
    }

    pub(super) fn export(&self, to: &Path) -> Result<String, String> {
        let file = File::create(to).map_err(|e| format!("cannot write {}: {e}", to.display()))?;
        let n = self.book.export(&mut BufWriter::new(file)).map_err(|e| sentence(&e))?;
        Ok(format!("{n} lines written to {}.", to.display()))
    }

    pub(super) fn import(&self, from: &Path) -> Result<String, String> {
        let file = File::open(from).map_err(|e: io::Error| format!("cannot read {}: {e}", from.display()))?;
        let n = self.book.import(&mut BufReader::new(file)).map_err(|e| sentence(&e))?;
        Ok(format!("{n} lines taken in from {}.", from.display()))
    }
}

/// Shifts how common causes are held to be by what this workshop has met; never hides a red flag.
pub(super) fn shift(met: &BTreeMap<String, u64>, library: &Library, model: &mut Model) {
    let counts: Vec<u64> = library.causes.iter().map(|c| met.get(&c.id).copied().unwrap_or(0)).collect();
    model.prior = dirichlet_with_floor(&model.prior, &counts, PRIOR_VISITS, FLOOR);
}

/// A day as 2026-03-14 (UTC), from unix seconds; civil calendar after Hinnant's public algorithm, from memory.
fn day(unix: i64) -> String {
    let z = unix.div_euclid(86_400) + 719_468;
    let era = z.div_euclid(146_097);
    let doe = z.rem_euclid(146_097);
    let yoe = (doe - doe / 1_460 + doe / 36_524 - doe / 146_096) / 365;
    let doy = doe - (365 * yoe + yoe / 4 - yoe / 100);
    let mp = (5 * doy + 2) / 153;
    let d = doy - (153 * mp + 2) / 5 + 1;
    let m = if mp < 10 { mp + 3 } else { mp - 9 };
    let y = yoe + era * 400 + i64::from(m <= 2);
    format!("{y:04}-{m:02}-{d:02}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_of_the_calendar() {
        assert_eq!(day(0), "1970-01-01");
        // 1 709 164 800 is 29 February 2024, 00:00 UTC (fact of the calendar).
        assert_eq!(day(1_709_164_800), "2024-02-29");
    }
}
