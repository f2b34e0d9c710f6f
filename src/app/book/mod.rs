//! The shelf on which the book lies: what a conversation asks of it, what it leaves in it, and the chores of a book.

mod chores;
mod day;
mod due;
mod recall;
mod stood;
mod write;

use std::collections::BTreeMap;
use std::path::Path;
use std::time::{SystemTime, UNIX_EPOCH};

use crate::belief::Model;
use crate::dialogue::{Asked, KnownDue, Recalled, Reply, day_in_words};
use crate::library::Library;
use crate::store::{BikeId, Book, BookError, DueId, EntryKind, Found, RiderId, Source, Stamp, dirichlet_with_floor};
use day::day;

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
    /// The checks last listed, by number.
    listed: Vec<DueId>,
    /// The time to go by instead of the machine's, unix seconds.
    time: Option<i64>,
}

/// What the book answers: a turn for the conversation, or words.
pub(super) enum Told {
    Turn(Box<Recalled>),
    Words(Reply),
    /// Words, and the checks of the bike as the book now holds them.
    Due(Reply, Vec<KnownDue>),
    /// Words, and a rider was erased: what is kept beside the book must go as well.
    Erased(Reply),
}

fn machine_time() -> i64 {
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
        Ok(Self { book, who, bike: None, rider: None, listed: Vec::new(), time: None })
    }

    /// Goes by this time (unix seconds) instead of the machine's.
    pub(super) fn at(mut self, time: i64) -> Self {
        self.time = Some(time);
        self
    }

    fn now(&self) -> i64 {
        self.time.unwrap_or_else(machine_time)
    }

    fn stamp(&self, source: Source) -> Stamp {
        Stamp::now(self.now(), &self.who, source)
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
            Asked::Bike { words, make, then, line } => {
                let told = Recalled { then: then.clone(), line: line.clone(), ..self.recall(words, *make)? };
                Ok(Told::Turn(Box::new(told)))
            }
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
            Asked::Stood { day } => match self.bike {
                None => words("Name the bike first: bike name and its name.".into()),
                Some(bike) => self.stood(bike, day),
            },
            Asked::Due => self.due(),
            Asked::Plan => match self.bike {
                None => words("Name the bike first: bike name and its name.".into()),
                Some(bike) => self.plan(bike),
            },
            Asked::Done { number, found } => self.done(*number, found),
            Asked::Distance { metres, text } => match self.bike {
                None => words("Name the bike first: bike name and its name.".into()),
                Some(bike) => self.distance(bike, *metres, text),
            },
            Asked::Erase { name, surely } => match self.book.find_riders(name)? {
                Found::One(m) if m.name.to_lowercase() != name.trim().to_lowercase() => words(format!(
                    "The book has no rider \"{name}\", but {}. Give the whole name; nothing was erased.",
                    m.name
                )),
                Found::One(m) if !surely => words(format!(
                    "That erases everything about {0}: measurements, visits, settings, trials, and the lines typed \
                     before. It cannot be taken back; a copy made before still holds it. To do it, say: erase rider {0} for good",
                    m.name
                )),
                Found::One(m) => {
                    let e = self.book.erase_rider(m.id)?;
                    self.rider = None;
                    let trace = if e.scrubbed {
                        "no trace is left in the file"
                    } else {
                        "the file is rewritten when nobody else has it open"
                    };
                    let said = format!("Everything about {} is erased ({} rows); {trace}.", m.name, e.rows);
                    Ok(Told::Erased(Reply::say(said)))
                }
                Found::Several { listed, .. } => {
                    let names: Vec<String> = listed.into_iter().map(|m| m.name).collect();
                    words(format!("Several riders fit: {}. Give the whole name; nothing was erased.", names.join("; ")))
                }
                Found::None => words(format!("The book has no rider \"{name}\".")),
            },
        }
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
            reply.add(format!("{}: {}", day_in_words(&day(v.stamp.at)), parts.join(". ")));
        }
        Ok(Told::Words(reply))
    }
}

/// Shifts how common causes are held to be by what this workshop has met; never hides a red flag.
pub(super) fn shift(met: &BTreeMap<String, u64>, library: &Library, model: &mut Model) {
    let mut counts = vec![0; library.causes.len()];
    // A visit may name a note by an id that it had then.
    for (id, n) in met {
        if let Some(c) = library.cause(id) {
            counts[c.0] += n;
        }
    }
    model.prior = dirichlet_with_floor(&model.prior, &counts, PRIOR_VISITS, FLOOR);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::library::embedded_files;

    #[test]
    fn visits_under_a_former_id_count_for_the_note_of_today() {
        let library = Library::load(embedded_files()).0;
        let gears = library.cause("how-to-change-gear").unwrap().0;
        let after = |id: &str| {
            let mut model = Model::new(&library.causes, &library.findings);
            let before = model.prior[gears];
            shift(&BTreeMap::from([(id.to_owned(), 20)]), &library, &mut model);
            model.prior[gears] / before
        };
        assert!(after("use-your-gears") > 1.5 && after("use-your-gears") == after("how-to-change-gear"));
        assert!(after("disc-rotor-bent") < 1.0);
    }
}
