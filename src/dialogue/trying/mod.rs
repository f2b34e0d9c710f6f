//! Trials in the conversation: one setting, small steps from a noted baseline, a verdict after each pair of rides.
//!
//! Owns the trial while it runs; one file for each part of its life. What to ride next and how sure one can be is the
//! trial room's.

mod begin;
mod ride;
mod series;

use std::collections::BTreeMap;

use super::record::{RecordedRun, RecordedTrial};
use super::state::{Focus, State};
use super::told;
use crate::trial::{Bracket, Felt, Next, Pair, Subject, statement, two_things};
use crate::units::{self, Dimension, Quantity, Unit};

pub(super) use begin::{begin, changed_since};
pub(super) use ride::{answer, prompt};
use series::{PAIRS, Series, series};

/// How the bike is set between the rides.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Manner {
    /// To be asked.
    Open,
    /// The rider sets it and knows.
    Seen,
    /// Somebody else sets it; the seed comes from a word of theirs. `handed` counts what was done with the sheets of the
    /// series: each is shown (odd) and then written down (even).
    Blind { seed: Option<u64>, handed: u64 },
}

/// What whoever sets the bike has to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Handing {
    /// Type a word.
    Word,
    /// Send the rider away and call for the sheet.
    Call,
    /// Write the sheet down.
    Sheet(u64),
}

/// A trial while it runs.
#[derive(Clone, Debug)]
pub struct Trying {
    subject: &'static Subject,
    bracket: Option<Bracket>,
    baseline: f64,
    unit: Option<&'static Unit>,
    manner: Manner,
    rides: Vec<Pair>,
    /// The other settings as they were when the last pair was ridden, SI units by name.
    others: BTreeMap<String, f64>,
    /// Others that were set on purpose since then.
    also: Vec<String>,
    /// Its number in the book, and how many of its pairs are written there.
    row: Option<i64>,
    written: usize,
    kept: Option<f64>,
    ended: bool,
}

/// A trial as the book writes it down; all values in SI units.
#[derive(Clone, Debug, PartialEq)]
pub struct TrialRows {
    /// Its number in the book, if it stands there already.
    pub row: Option<i64>,
    /// What is tried.
    pub what: String,
    /// The baseline with its text and unit.
    pub baseline: (String, f64, String),
    /// First step and smallest step.
    pub steps: (f64, f64),
    /// Least and greatest value that may be tried.
    pub limits: (f64, f64),
    /// Seed of the blind order.
    pub seed: Option<u64>,
    /// Pairs that are not written yet.
    pub pairs: Vec<Pair>,
    /// The value that is kept with its text, once it has ended.
    pub kept: Option<(String, f64)>,
}

impl Trying {
    /// Where it stands: the pair to ride, or the end.
    fn series(&self) -> Option<Series> {
        self.bracket.map(|b| series(&b, &self.rides, self.is_blind()))
    }

    fn is_blind(&self) -> bool {
        matches!(self.manner, Manner::Blind { .. })
    }

    /// Pairs whose letters may be opened: all, or those of whole blind series.
    fn opened(&self) -> &[Pair] {
        let n = self.series().map_or(0, |s| s.start);
        if self.ended || !self.is_blind() { &self.rides } else { &self.rides[..n.min(self.rides.len())] }
    }

    /// The trial as it stands on a card.
    #[must_use]
    pub fn recorded(&self) -> RecordedTrial {
        let mut out = RecordedTrial {
            setting: self.subject.title.into(),
            baseline: if self.bracket.is_some() { self.say(self.baseline) } else { String::new() },
            change: format!(
                "{} at first, {} at last",
                self.say_step(self.subject.step),
                self.say_step(self.subject.least)
            ),
            ride: self.subject.ride.into(),
            feel: self.subject.feel.iter().map(|f| (*f).to_owned()).collect(),
            stop: vec![self.subject.limits.into()],
            verdict: self.verdict().unwrap_or_default(),
            ..RecordedTrial::default()
        };
        match (self.series(), self.manner) {
            // While a blind series runs the card holds that series only: its letters must not be told by others.
            (Some(s), Manner::Blind { seed: Some(seed), .. }) if !self.ended && !s.stop => {
                out.blind = true;
                out.verdict = String::new();
                let order = s.order(seed);
                out.planned = order.iter().flat_map(|o| s.pair(*o)).map(|v| self.say(v)).collect();
                for p in self.rides[s.start..].iter().filter(|p| p.changed.is_empty()) {
                    let verdict = match p.felt {
                        Felt::First => "worse",
                        Felt::Second => "better",
                        Felt::Same => "same",
                    };
                    let run = |v: f64, verdict: &str| RecordedRun {
                        setting: self.say(v),
                        verdict: verdict.into(),
                        ..RecordedRun::default()
                    };
                    out.runs.extend([run(p.first, ""), run(p.second, verdict)]);
                }
            }
            (s, _) => {
                if let Some(s) = s.filter(|s| !s.stop && !self.ended) {
                    out.planned = vec![self.say(s.stands), self.say(s.tries)];
                }
                out.runs = self.rides.iter().map(|p| self.run(p)).collect();
            }
        }
        out
    }

    fn run(&self, p: &Pair) -> RecordedRun {
        let verdict = match (p.changed.is_empty(), p.felt) {
            (false, _) => format!("not counted: {} changed too", p.changed.join(", ")),
            (_, felt) => felt_word(felt).into(),
        };
        let setting = format!("{} against {}", self.say(p.second), self.say(p.first));
        RecordedRun { setting, verdict, ..RecordedRun::default() }
    }

    /// The trial for the book; `None` before its baseline is known.
    #[must_use]
    pub fn rows(&self) -> Option<TrialRows> {
        let (bracket, unit) = (self.bracket?, self.unit?);
        Some(TrialRows {
            row: self.row,
            what: self.subject.title.into(),
            baseline: (self.say(self.baseline), self.baseline, unit.symbol.into()),
            steps: (self.subject.step, self.subject.least),
            limits: bracket.limits(),
            seed: if let Manner::Blind { seed, .. } = self.manner { seed } else { None },
            pairs: self.rides.get(self.written..).unwrap_or_default().to_vec(),
            kept: self.kept.filter(|_| self.ended).map(|k| (self.say(k), k)),
        })
    }

    fn say(&self, si: f64) -> String {
        told::say(si, self.unit.unwrap_or_else(|| told::units_of(self.subject)[0]))
    }

    /// A step, always in a small unit.
    fn say_step(&self, si: f64) -> String {
        match told::units_of(self.subject)[0].dimension {
            Dimension::Length => units::write_in(Quantity::si(Dimension::Length, si), &units::MM, Some(0)),
            _ => self.say(si),
        }
    }

    /// What whoever sets the bike has to do before the series can be ridden; `None` when the rider may see the screen.
    fn handing(&self, s: &Series) -> Option<Handing> {
        let Manner::Blind { seed, handed } = self.manner else { return None };
        match (seed, handed) {
            _ if s.stop => None,
            (None, _) => Some(Handing::Word),
            (Some(_), n) if n <= 2 * s.number => Some(Handing::Call),
            (Some(seed), n) if n == 2 * s.number + 1 => Some(Handing::Sheet(seed)),
            _ => None,
        }
    }

    /// What can be said after the rides whose letters are open, in plain words; never a false best.
    fn verdict(&self) -> Option<String> {
        let bracket = self.bracket?;
        let rides = self.opened();
        let stands = match bracket.next(rides) {
            Next::Ride(r) => r.stands,
            Next::Stop(s) => s.keep,
        };
        // What stands against what it was last ridden with: the pair that comes next says nothing yet.
        let near = |a: f64, b: f64| (a - b).abs() < self.subject.least / 2.0;
        let (stands, tries) = rides.iter().rev().filter(|p| p.changed.is_empty()).find_map(|p| {
            match (near(p.first, stands), near(p.second, stands)) {
                (true, _) => Some((p.first, p.second)),
                (_, true) => Some((p.second, p.first)),
                _ => None,
            }
        })?;
        let tally = bracket.tally(rides, stands, tries);
        let planned = self.is_blind().then_some(PAIRS as u32);
        Some(statement(&self.say(stands), &self.say(tries), tally, planned).1)
    }
}

fn felt_word(f: Felt) -> &'static str {
    match f {
        Felt::First => "the first was better",
        Felt::Second => "the second was better",
        Felt::Same => "no difference",
    }
}

/// All settings with numbers but one: as the book has them, and as told since.
fn others(state: &State, tried: &str) -> BTreeMap<String, f64> {
    let held = state.shared.settings.iter().filter_map(|s| Some((s.what.clone(), s.now.si?)));
    let told = state.threads.iter().flat_map(|t| &t.settings).filter_map(|s| Some((s.what.clone(), s.si?)));
    held.chain(told).filter(|(what, _)| what != tried).collect()
}

/// Puts a running trial aside, so that it can be gone on with; its name, if one was running.
pub(super) fn park(state: &mut State) -> Option<&'static str> {
    if !matches!(state.focus, Focus::Trying(_)) {
        return None;
    }
    let Focus::Trying(t) = std::mem::take(&mut state.focus) else { return None };
    let what = t.subject.title;
    if t.bracket.is_some() {
        state.trials.retain(|old| old.ended || old.subject.title != what);
        state.trials.push(*t);
    }
    Some(what)
}

/// Another setting was set on purpose: the open trial's next pair does not count. The warning, if a trial is open.
pub(super) fn also_set(state: &mut State, what: &str) -> Option<String> {
    let open = match &mut state.focus {
        Focus::Trying(t) => Some(&mut **t),
        _ => state.trials.iter_mut().rev().find(|t| !t.ended),
    }?;
    if open.subject.title == what || open.bracket.is_none() {
        return None;
    }
    if !open.also.iter().any(|a| a == what) {
        open.also.push(what.to_owned());
    }
    two_things(open.subject.title, &open.also)
}
