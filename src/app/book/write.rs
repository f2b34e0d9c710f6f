//! The visit as it goes into the book when the person leaves.

use super::{Shelf, sentence};
use crate::belief::What;
use crate::dialogue::{self, Bench, Focus, Record, State, TrialRows};
use crate::store::{
    BikeId, Book, BookError, EntryKind, Felt, NewEntry, NewSetting, NewTrial, NewVerdict, Outcome, Source, TrialId,
    Value, VisitId,
};
use crate::trial;

impl Shelf {
    /// Writes the visit, if the bike or the rider has been named. True when something was written.
    ///
    /// # Errors
    /// A sentence.
    pub(in crate::app) fn keep_visit(&self, bench: &Bench, state: &State, record: &Record) -> Result<bool, String> {
        let nobody = self.bike.is_none() && self.rider.is_none();
        let wear = state.threads.iter().any(|t| !t.wear.is_empty());
        let nothing = record.complaints.is_empty() && record.settings.is_empty() && record.trials.is_empty() && !wear;
        if nobody || nothing {
            return Ok(false);
        }
        self.write_visit(bench, state, record).map_err(|e| sentence(&e))?;
        Ok(true)
    }

    fn write_visit(&self, bench: &Bench, state: &State, record: &Record) -> Result<(), BookError> {
        let entries = entries(bench, state, record);
        self.book.together(|book| {
            let visit = book.record_visit(self.bike, self.rider, &entries, &self.stamp(Source::Said))?;
            let Some(bike) = self.bike else { return Ok(()) };
            for o in &state.shared.facts {
                if let What::Is(f, a) = o.evidence.what {
                    let f = &bench.library.findings[f.0];
                    book.note_bike(bike, &f.id, &Value::words(&f.answers[a.0].id), &self.stamp(Source::Said))?;
                }
            }
            self.settings(book, bike, visit, state, record)?;
            let metres = book.now().metres(bike)?;
            for w in state.threads.iter().flat_map(|t| &t.wear) {
                let value = Value::quantity(&w.shown, w.si, &w.unit);
                book.note_wear(bike, &w.what, &value, metres, w.limit, &self.stamp(Source::Measured))?;
            }
            let open = if let Focus::Trying(t) = &state.focus { t.rows() } else { None };
            for rows in state.trials.iter().filter_map(dialogue::Trying::rows).chain(open) {
                self.trial(book, bike, &rows)?;
            }
            Ok::<(), BookError>(())
        })
    }

    fn settings(
        &self,
        book: &Book,
        bike: BikeId,
        visit: VisitId,
        state: &State,
        record: &Record,
    ) -> Result<(), BookError> {
        for s in state.threads.iter().flat_map(|t| &t.settings) {
            let source = match s.how.as_str() {
                how if how.contains("computed") => Source::Computed,
                how if how.contains("measured") || how.contains("trial") => Source::Measured,
                _ => Source::Said,
            };
            let value = match s.si {
                Some(si) => Value::quantity(&s.after, si, &s.unit),
                None => Value::words(&s.after),
            };
            let mut new = NewSetting::new(bike, &s.what, value);
            new.visit = Some(visit);
            new.before = s.before.as_deref().map(Value::words);
            new.reason = record.complaints.first().cloned();
            new.baseline = s.baseline;
            book.set(&new, &self.stamp(source))?;
        }
        Ok(())
    }

    /// A trial: begun if it does not stand there yet, its new pairs, and its end.
    fn trial(&self, book: &Book, bike: BikeId, rows: &TrialRows) -> Result<(), BookError> {
        let stamp = self.stamp(Source::Said);
        let (text, si, unit) = &rows.baseline;
        let id = match rows.row {
            Some(row) => TrialId(row),
            None => {
                let new = NewTrial {
                    bike,
                    rider: None,
                    what: rows.what.clone(),
                    baseline: Value::quantity(text, *si, unit),
                    step_si: rows.steps.0,
                    least_si: rows.steps.1,
                    low_si: rows.limits.0.min(*si),
                    high_si: rows.limits.1.max(*si),
                    seed: rows.seed.map(u64::cast_signed),
                    reason: None,
                };
                book.start_trial(&new, &self.stamp(Source::Measured))?
            }
        };
        for p in &rows.pairs {
            let felt = match p.felt {
                trial::Felt::First => Felt::First,
                trial::Felt::Second => Felt::Second,
                trial::Felt::Same => Felt::Same,
            };
            let verdict =
                NewVerdict { first_si: p.first, second_si: p.second, felt, remark: None, changed: p.changed.clone() };
            book.judge(id, &verdict, &stamp)?;
        }
        if let Some((text, si)) = &rows.kept {
            book.end_trial(id, &Value::quantity(text, *si, unit), None, &stamp)?;
        }
        Ok(())
    }
}

/// What was told, found, thought and done, line by line.
fn entries(bench: &Bench, state: &State, record: &Record) -> Vec<NewEntry> {
    let lib = &bench.library;
    let mut entries: Vec<NewEntry> =
        record.complaints.iter().map(|c| NewEntry::words(EntryKind::Complaint, c)).collect();
    entries.extend(record.lines.iter().filter(|l| !l.trim().is_empty()).map(|l| NewEntry::words(EntryKind::Line, l)));
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
    entries
}
