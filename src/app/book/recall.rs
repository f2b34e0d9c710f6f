//! A bike that comes back: everything the book holds of it, as the conversation wants it.

use super::day::day;
use super::{Shelf, VISITS};
use crate::dialogue::{KnownBike, KnownPair, KnownRepair, KnownSetting, KnownTrial, KnownWear, Noted, Recalled};
use crate::store::{BikeId, BookError, Found, Outcome, Setting, Source, Stamp, Trial, Value};
use crate::units::{self, Quantity};

/// The part of a setting's value by which two readings may differ and still be the same.
const ROUNDING: f64 = 1e-6;

fn noted(value: &Value, stamp: &Stamp) -> Noted {
    Noted {
        text: value.text.clone(),
        si: value.si,
        unit: value.unit.clone().unwrap_or_default(),
        on: day(stamp.at),
        source: stamp.source.word().to_owned(),
    }
}

impl Shelf {
    /// Finds the bike that these words name, or makes it, and tells what the book holds of it.
    pub(super) fn recall(&mut self, words: &str, make: bool) -> Result<Recalled, BookError> {
        let mut out = Recalled { today: day(self.now()), ..Recalled::default() };
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
        let over_time = self.book.now().settings_over_time(id)?;
        let trials = self.book.now().trials(id)?;
        let facts = known.bike.facts.iter().map(|f| (f.what.clone(), f.value.text.clone()));
        let repairs = known.repairs.into_iter().map(|r| KnownRepair {
            cause: r.cause,
            text: r.text,
            helped: matches!(r.outcome, Some(Outcome::Helped | Outcome::Partly) | None),
        });
        out.bike = Some(KnownBike {
            name: known.bike.name.clone(),
            rider: known.rider.map(|r| r.name),
            facts: facts.collect(),
            settings: over_time.iter().filter_map(|(what, past)| setting(what, past)).collect(),
            repairs: repairs.collect(),
            wear: self.wear(id)?,
            due: self.checks(id)?.into_iter().map(|(_, d)| d).collect(),
            trials: trials.iter().filter(|t| t.end.is_none()).map(|t| open_trial(t, &over_time)).collect(),
            rides: trials.iter().flat_map(rides).collect(),
            made,
        });
        Ok(out)
    }

    fn wear(&self, bike: BikeId) -> Result<Vec<KnownWear>, BookError> {
        let over_time = self.book.now().wear_over_time(bike)?;
        let known = over_time.into_iter().map(|(what, past)| KnownWear {
            what,
            limit: past.iter().rev().find_map(|w| w.limit_si),
            past: past.iter().map(|w| noted(&w.value, &w.stamp)).collect(),
        });
        Ok(known.collect())
    }
}

/// A setting with what it is compared with: the last noted baseline, or else the latest value.
fn setting(what: &str, past: &[Setting]) -> Option<KnownSetting> {
    let now = past.last()?;
    let card = past.iter().rfind(|s| s.baseline).unwrap_or(now);
    Some(KnownSetting {
        what: what.to_owned(),
        now: noted(&now.value, &now.stamp),
        card: noted(&card.value, &card.stamp),
        past: past.iter().map(|s| noted(&s.value, &s.stamp)).collect(),
    })
}

/// A trial that is left open, with the other settings that were changed after it was begun.
fn open_trial(t: &Trial, over_time: &[(String, Vec<Setting>)]) -> KnownTrial {
    let changed = |past: &[Setting]| {
        past.windows(2).any(|w| {
            let (Some(was), Some(is)) = (w[0].value.si, w[1].value.si) else { return false };
            w[1].stamp.at > t.stamp.at
                && w[1].stamp.source != Source::Computed
                && (was - is).abs() > ROUNDING * was.abs().max(is.abs())
        })
    };
    let others = over_time.iter().filter(|(what, past)| *what != t.set.what && changed(past));
    KnownTrial {
        row: t.id.0,
        what: t.set.what.clone(),
        baseline: noted(&t.set.baseline, &t.stamp),
        seed: t.set.seed.map(i64::cast_unsigned),
        pairs: t
            .verdicts
            .iter()
            .filter_map(|v| {
                Some(KnownPair {
                    first: v.first_si,
                    second: v.second_si,
                    felt: v.felt?.word().to_owned(),
                    changed: v.changed.clone(),
                    on: day(v.stamp.at),
                })
            })
            .collect(),
        changed_since: others.map(|(what, _)| what.clone()).collect(),
    }
}

/// The rides of a trial: the day and what was ridden; of a blind one that is open only that it was ridden.
fn rides(t: &Trial) -> Vec<(String, String)> {
    let unit = t.set.baseline.unit.as_deref().and_then(units::by_symbol);
    let say = |si: f64| match unit {
        Some(u) => units::write_in(Quantity::si(u.dimension, si), u, None),
        None => format!("{si:.3}"),
    };
    let sealed = t.set.seed.is_some() && t.end.is_none();
    let one = |v: &crate::store::Verdict| {
        let what = if sealed {
            format!("blind pair, {}", t.set.what)
        } else {
            format!("{} against {}", say(v.second_si), say(v.first_si))
        };
        (day(v.stamp.at), what)
    };
    t.verdicts.iter().map(one).collect()
}
