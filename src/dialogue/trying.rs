//! Trials in the conversation: one setting, small steps from a noted baseline, a verdict after each pair of rides.

use super::answer::{Read, read_choice};
use super::bench::Bench;
use super::listen;
use super::next;
use super::record::{RecordedRun, RecordedTrial};
use super::reply::{Block, Reply, numbered};
use super::state::{Focus, Setting, State};
use crate::trial::{Bracket, Felt, Next, Pair, SUBJECTS, Subject, statement, subject};
use crate::units::{self, Dimension, Hint, Quantity, Unit};

/// How many times each pair is ridden: the majority decides.
const REPEATS: u32 = 1;
/// A trial never leaves this many first steps to either side of the baseline.
const REACH: f64 = 4.0;

/// A trial while it runs.
#[derive(Clone, Debug)]
pub struct Trying {
    subject: &'static Subject,
    bracket: Option<Bracket>,
    baseline: f64,
    unit: Option<&'static Unit>,
    rides: Vec<Pair>,
    ended: bool,
}

impl Trying {
    /// The trial as it stands on a card.
    #[must_use]
    pub fn recorded(&self) -> RecordedTrial {
        let planned = match self.bracket.map(|b| b.next(&self.rides)) {
            Some(Next::Ride(r)) => vec![self.say(r.stands), self.say(r.tries)],
            _ => Vec::new(),
        };
        RecordedTrial {
            setting: self.subject.title.into(),
            baseline: self.say(self.baseline),
            change: format!(
                "{} at first, {} at last",
                self.say_step(self.subject.step),
                self.say_step(self.subject.least)
            ),
            ride: self.subject.ride.into(),
            feel: self.subject.feel.iter().map(|f| (*f).to_owned()).collect(),
            stop: vec![self.subject.limits.into()],
            planned,
            runs: self
                .rides
                .iter()
                .map(|p| RecordedRun {
                    setting: format!("{} against {}", self.say(p.second), self.say(p.first)),
                    when: String::new(),
                    verdict: felt_word(p.felt).into(),
                })
                .collect(),
            verdict: self.verdict().unwrap_or_default(),
            ..RecordedTrial::default()
        }
    }

    fn say(&self, si: f64) -> String {
        match self.unit {
            Some(u) => units::write_in(Quantity::si(u.dimension, si), u, Some(decimals(u))),
            None => format!("{si:.0}"),
        }
    }

    /// A step, always in a small unit.
    fn say_step(&self, si: f64) -> String {
        match self.unit.map(|u| u.dimension) {
            Some(Dimension::Length) => units::write_in(Quantity::si(Dimension::Length, si), &units::MM, Some(0)),
            _ => self.say(si),
        }
    }

    /// What can be said after these rides, in plain words; never a false best.
    fn verdict(&self) -> Option<String> {
        let bracket = self.bracket?;
        let (stands, tries) = match bracket.next(&self.rides) {
            Next::Ride(r) => (r.stands, r.tries),
            Next::Stop(s) => (s.keep, self.baseline),
        };
        if self.rides.is_empty() || (stands - tries).abs() < 1e-12 {
            return None;
        }
        let tally = bracket.tally(&self.rides, stands, tries);
        Some(statement(&self.say(stands), &self.say(tries), tally, None).1)
    }
}

fn decimals(u: &Unit) -> u8 {
    u8::from(u.symbol == "bar" || u.symbol == "cm")
}

fn felt_word(f: Felt) -> &'static str {
    match f {
        Felt::First => "the first was better",
        Felt::Second => "the second was better",
        Felt::Same => "no difference",
    }
}

/// Units in which a subject's baseline is read; shares are told in per cent.
fn unit_of(s: &Subject) -> &'static [&'static Unit] {
    static LENGTHS: &[&Unit] = &[&units::MM, &units::CM, &units::INCH];
    static ANGLES: &[&Unit] = &[&units::DEG];
    static PRESSURES: &[&Unit] = &[&units::PSI, &units::BAR];
    static SHARES: &[&Unit] = &[&units::PERCENT];
    static COUNTS: &[&Unit] = &[&units::TIMES];
    let id = s.id;
    if id.contains("pressure") {
        PRESSURES
    } else if id.contains("sag") {
        SHARES
    } else if id.contains("roll") || id.contains("tilt") || id.contains("angle") {
        ANGLES
    } else if id.contains("rebound") || id.contains("compression") {
        COUNTS
    } else {
        LENGTHS
    }
}

/// Begins a trial by the words of its subject, or lists what can be tried.
pub(super) fn begin(state: &mut State, bench: &Bench, words: &str, reply: &mut Reply) {
    let wanted = words.to_lowercase().replace(' ', "-");
    let found = subject(&wanted).or_else(|| {
        let said: Vec<&str> = wanted.split('-').filter(|w| w.len() > 2).collect();
        let score = |s: &Subject| said.iter().filter(|w| s.id.contains(**w) || s.title.contains(**w)).count();
        SUBJECTS.iter().filter(|s| score(s) > 0).max_by_key(|s| (score(s), std::cmp::Reverse(s.id)))
    });
    match found {
        Some(s) if !words.trim().is_empty() => {
            if let Some(open) = state.trials.iter().find(|t| !t.ended) {
                reply.push(Block::Warning {
                    level: "caution".into(),
                    text: format!(
                        "A trial of {} is not ended. Two things changed at once teach nothing.",
                        open.subject.title
                    ),
                });
            }
            let t = Trying { subject: s, bracket: None, baseline: 0.0, unit: None, rides: Vec::new(), ended: false };
            reply.push(Block::Heading { text: format!("Trial: {}", s.title) });
            state.focus = Focus::Trying(Box::new(t));
            next::repeat_prompt(state, bench, reply);
        }
        _ => {
            reply.add("What can be tried by small steps; say trial and its name:");
            reply.push(Block::List { items: SUBJECTS.iter().map(|s| format!("{}: {}", s.id, s.title)).collect() });
        }
    }
}

/// Shows what the trial asks.
pub(super) fn prompt(t: &Trying, reply: &mut Reply) {
    let Some(bracket) = t.bracket else {
        reply.push(Block::Question {
            id: format!("trial.{}", t.subject.id),
            text: format!("Where does the {} stand now? That is the baseline.", t.subject.title),
            minutes: 1.0,
            how: "measure".into(),
            safety: false,
            answers: Vec::new(),
        });
        reply.aside(t.subject.limits);
        return;
    };
    if let Next::Ride(r) = bracket.next(&t.rides) {
        reply.add(format!(
            "Ride {} and then {}, nothing else changed. {}",
            t.say(r.stands),
            t.say(r.tries),
            t.subject.ride
        ));
        reply.aside(format!("Feel for: {}. {}", t.subject.feel.join("; "), t.subject.limits));
        reply.push(Block::Choices {
            text: "After the rides: which was better?".into(),
            choices: numbered([
                ("first".to_owned(), t.say(r.stands)),
                ("second".to_owned(), t.say(r.tries)),
                ("same".to_owned(), "No difference".to_owned()),
                ("changed".to_owned(), "Something else was changed too".to_owned()),
                ("stop".to_owned(), "Stop the trial here".to_owned()),
            ]),
        });
    }
}

/// An answer at the trial's prompt.
pub(super) fn answer(state: &mut State, bench: &Bench, mut t: Trying, line: &str, reply: &mut Reply) {
    let Some(bracket) = t.bracket else { return baseline(state, bench, t, line, reply) };
    let Next::Ride(r) = bracket.next(&t.rides) else { return end(state, t, reply) };
    let (a, b) = (t.say(r.stands), t.say(r.tries));
    let says =
        [a.as_str(), b.as_str(), "no difference the same", "something else was changed too", "stop the trial here end"];
    let felt = match read_choice(line, &["first", "second", "same", "changed", "stop"], &says).map(|c| c.0) {
        Some(Read::Choice(0)) => Felt::First,
        Some(Read::Choice(1)) => Felt::Second,
        Some(Read::Choice(2) | Read::DontKnow) => Felt::Same,
        Some(Read::Choice(3)) => {
            reply.add("Then this pair teaches nothing; set the other thing back and ride the pair again.");
            state.focus = Focus::Trying(Box::new(t));
            return next::repeat_prompt(state, bench, reply);
        }
        Some(_) => return end(state, t, reply),
        None => {
            reply.add(format!("I could not place \"{}\". Answer 1 to 5.", listen::shorten(line)));
            state.focus = Focus::Trying(Box::new(t));
            return;
        }
    };
    t.rides.push(Pair::new(r.stands, r.tries, felt));
    let tally = bracket.tally(&t.rides, r.stands, r.tries);
    reply.aside(statement(&a, &b, tally, None).1);
    match bracket.next(&t.rides) {
        Next::Ride(_) => {
            state.focus = Focus::Trying(Box::new(t));
            next::repeat_prompt(state, bench, reply);
        }
        Next::Stop(_) => end(state, t, reply),
    }
}

fn baseline(state: &mut State, bench: &Bench, mut t: Trying, line: &str, reply: &mut Reply) {
    let list = unit_of(t.subject);
    let hint = Hint { plausible: (0.0, f64::MAX), units: list };
    if let Some((Read::DontKnow | Read::CantNow, _)) = read_choice(line, &[], &[]) {
        reply.add("A trial begins with a measured baseline. Measure it, then say trial again.");
        state.focus = Focus::Open;
        return;
    }
    match units::read(line, list[0].dimension, hint) {
        Ok(r) => {
            let at = r.quantity.si;
            let reach = REACH * t.subject.step;
            match Bracket::new(
                at,
                t.subject.step,
                t.subject.least,
                ((at - reach).max(0.0).min(at), at + reach),
                REPEATS,
            ) {
                Ok(b) => {
                    t.baseline = at;
                    t.unit = Some(r.unit);
                    t.bracket = Some(b);
                }
                Err(e) => reply.add(format!("{e}.")),
            }
        }
        Err(e) => reply.add(format!("{e}")),
    }
    state.focus = Focus::Trying(Box::new(t));
    next::repeat_prompt(state, bench, reply);
}

/// Ends a trial: what to keep, and how sure that is.
pub(super) fn end(state: &mut State, mut t: Trying, reply: &mut Reply) {
    t.ended = true;
    if let Some(bracket) = t.bracket {
        let keep = match bracket.next(&t.rides) {
            Next::Stop(s) => s.keep,
            Next::Ride(r) => r.stands,
        };
        reply.add(format!("Keep {} for now.", t.say(keep)));
        if let Some(v) = t.verdict() {
            reply.add(v);
        }
        let (before, after) = (Some(t.say(t.baseline)), t.say(keep));
        let how = format!("trial, {} pair(s) ridden", t.rides.len());
        state.thread().settings.push(Setting { what: t.subject.title.into(), before, after, how });
    }
    reply.aside("card trial shows it; the next trial changes another single thing.");
    state.trials.push(t);
    state.focus = Focus::Open;
}
