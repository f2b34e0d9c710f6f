//! What falls due: listing it, planning it for a new bike, marking it done, and the distance that it goes by.

use super::day::day;
use super::{Shelf, Told};
use crate::dialogue::{Block, KnownDue, Reply, day_in_words, kit};
use crate::store::{BikeId, BookError, DISTANCE, Due, NewDue, Source, Value};
use crate::trial::{Plan, PlanDue, SOURCE};

/// How many checks are listed.
const LISTED: usize = 12;

impl Shelf {
    /// The checks of a bike that are still to be done, those due first.
    pub(super) fn checks(&self, bike: BikeId) -> Result<Vec<(Due, KnownDue)>, BookError> {
        let view = self.book.now();
        let metres = view.metres(bike)?;
        let mut all: Vec<(Due, KnownDue)> = view
            .due(bike)?
            .into_iter()
            .map(|d| {
                let known = KnownDue {
                    what: d.set.what.clone(),
                    why: d.set.reason.clone().unwrap_or_default(),
                    on: d.set.at.map(day).unwrap_or_default(),
                    after: d.set.metres.map(|m| format!("{:.0} km on the bike", m / 1000.0)).unwrap_or_default(),
                    now: d.is_due(self.now(), metres),
                };
                (d, known)
            })
            .collect();
        all.sort_by_key(|(d, known)| (!known.now, d.set.at.unwrap_or(i64::MAX), d.id));
        Ok(all)
    }

    /// The list of what is due: of the bike with what comes next, or of all bikes.
    pub(super) fn due(&mut self) -> Result<Told, BookError> {
        let mut reply = Reply::default();
        let Some(bike) = self.bike else {
            let list = self.book.now().all_due(self.now())?;
            if list.is_empty() {
                reply.add("Nothing is due on any bike.");
            }
            for d in list {
                let name = self.book.now().bike(d.set.bike)?.name;
                reply.add(format!("{name}: {}", d.set.what));
            }
            return Ok(Told::Words(reply));
        };
        let all = self.checks(bike)?;
        if !all.iter().any(|(_, d)| d.now) {
            reply.add("Nothing is due now.");
        }
        self.listed = all.iter().take(LISTED).map(|(d, _)| d.id).collect();
        for (i, (_, d)) in all.iter().take(LISTED).enumerate() {
            let when = match (d.now, d.on.as_str(), d.after.as_str()) {
                (true, ..) => "due now".to_owned(),
                (_, on, "") => format!("by {}", day_in_words(on)),
                (_, "", after) => format!("at {after}"),
                (_, on, after) => format!("by {}, or at {after}", day_in_words(on)),
            };
            reply.add(format!("{}. {} ({when})", i + 1, d.what));
        }
        if !all.is_empty() {
            reply.aside("When one is done: checked, its number, and what was found. The distance ridden: measured distance 1200 km.");
        }
        Ok(Told::Due(reply, all.into_iter().map(|(_, d)| d).collect()))
    }

    /// Notes when a new bike must be looked at again.
    pub(super) fn plan(&mut self, bike: BikeId) -> Result<Told, BookError> {
        if !self.book.now().due(bike)?.is_empty() {
            let mut reply = Reply::say("Checks of this bike are noted already:");
            if let Told::Due(list, all) = self.due()? {
                reply.extend(list);
                return Ok(Told::Due(reply, all));
            }
        }
        let view = self.book.now();
        let metres = view.metres(bike)?.unwrap_or(0.0);
        let facts = view.bike(bike)?.facts;
        let fact = |id: &str| facts.iter().find(|f| f.what == id).map(|f| f.value.text.as_str());
        let schedule = Plan { start: self.now(), metres, kit: kit(fact) }.schedule();
        let stamp = self.stamp(Source::Computed);
        self.book.together(|book| {
            for d in &schedule {
                let new = NewDue {
                    bike,
                    what: d.recheck.what.to_owned(),
                    reason: Some(format!("{} ({SOURCE})", d.recheck.why.trim_end_matches('.'))),
                    at: Some(d.at),
                    metres: Some(d.metres),
                };
                book.add_due(&new, &stamp)?;
            }
            Ok::<(), BookError>(())
        })?;
        let mut reply = Reply::say(format!("{} rechecks noted. The first:", schedule.len()));
        let item = |d: &PlanDue| {
            let (what, by) = (d.recheck.what.trim_end_matches('.'), day_in_words(&day(d.at)));
            format!("{what}: by {by} or after {:.0} km", (d.metres - metres) / 1000.0)
        };
        reply.push(Block::List { items: schedule.iter().take(5).map(item).collect() });
        reply.aside("due lists them; card shakedown writes them down.");
        Ok(Told::Due(reply, self.checks(bike)?.into_iter().map(|(_, d)| d).collect()))
    }

    /// Marks a check of the list as done.
    pub(super) fn done(&mut self, number: usize, found: &str) -> Result<Told, BookError> {
        let (Some(bike), Some(id)) = (self.bike, number.checked_sub(1).and_then(|i| self.listed.get(i)).copied())
        else {
            return Ok(Told::Words(Reply::say("Say due first; then checked and the number of one of the list.")));
        };
        let found = if found.trim().is_empty() { "done" } else { found };
        let metres = self.book.now().metres(bike)?;
        self.book.done(id, found, metres, &self.stamp(Source::Measured))?;
        let all: Vec<KnownDue> = self.checks(bike)?.into_iter().map(|(_, d)| d).collect();
        let left = all.iter().filter(|d| d.now).count();
        Ok(Told::Due(Reply::say(format!("Noted as done ({found}). Due now: {left} more.")), all))
    }

    /// Notes how far the bike has been ridden, and says what that makes due.
    pub(super) fn distance(&mut self, bike: BikeId, metres: f64, text: &str) -> Result<Told, BookError> {
        self.book.note_bike(bike, DISTANCE, &Value::quantity(text, metres, "m"), &self.stamp(Source::Measured))?;
        let mut reply = Reply::say(format!("Noted: {text} ridden."));
        let Told::Due(list, all) = self.due()? else { return Ok(Told::Words(reply)) };
        if all.iter().any(|d| d.now) {
            reply.extend(list);
        }
        Ok(Told::Due(reply, all))
    }
}
