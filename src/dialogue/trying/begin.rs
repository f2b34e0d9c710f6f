//! How a trial begins: its subject, its baseline, who sets the bike; or where it was left.

use std::collections::BTreeMap;

use super::series::PAIRS;
use super::{Manner, Trying, others};
use crate::dialogue::answer::{Read, read_choice};
use crate::dialogue::apart::{apart, day_in_words};
use crate::dialogue::bench::Bench;
use crate::dialogue::held::KnownTrial;
use crate::dialogue::next;
use crate::dialogue::reply::{Block, Reply};
use crate::dialogue::state::{Focus, State};
use crate::dialogue::told::units_of;
use crate::trial::{Bracket, Felt, Pair, SUBJECTS, Subject, subject};
use crate::units::{self, Hint, Unit};

/// A trial never leaves this many first steps to either side of the baseline.
const REACH: f64 = 4.0;

fn warn(reply: &mut Reply, text: String) {
    reply.push(Block::Warning { level: "caution".into(), text });
}

/// Begins a trial by the words of its subject, goes on with one that the book holds, or lists what can be tried.
pub(in crate::dialogue) fn begin(state: &mut State, bench: &Bench, words: &str, reply: &mut Reply) {
    let wanted = words.to_lowercase().replace(' ', "-");
    let found = subject(&wanted).or_else(|| {
        let said: Vec<&str> = wanted.split('-').filter(|w| w.len() > 2).collect();
        let score = |s: &Subject| said.iter().filter(|w| s.id.contains(**w) || s.title.contains(**w)).count();
        SUBJECTS.iter().filter(|s| score(s) > 0).max_by_key(|s| (score(s), std::cmp::Reverse(s.id)))
    });
    let Some(s) = found.filter(|_| !words.trim().is_empty()) else {
        reply.add("What can be tried by small steps; say trial and its name:");
        reply.push(Block::List { items: SUBJECTS.iter().map(|s| format!("{}: {}", s.id, s.title)).collect() });
        return;
    };
    super::park(state);
    let here = state.trials.iter().filter(|t| !t.ended).map(|t| t.subject.title);
    let other = here.chain(state.shared.trials.iter().map(|t| t.what.as_str())).find(|what| *what != s.title);
    if let Some(other) = other {
        warn(reply, format!("A trial of {other} is not ended. Two things changed at once teach nothing."));
    }
    reply.push(Block::Heading { text: format!("Trial: {}", s.title) });
    if let Some(at) = state.trials.iter().position(|t| !t.ended && t.subject.title == s.title) {
        let t = state.trials.remove(at);
        state.focus = Focus::Trying(Box::new(t));
        return next::repeat_prompt(state, bench, reply);
    }
    let mut t = Trying {
        subject: s,
        bracket: None,
        baseline: 0.0,
        unit: None,
        manner: Manner::Open,
        rides: Vec::new(),
        others: BTreeMap::new(),
        also: Vec::new(),
        row: None,
        written: 0,
        kept: None,
        ended: false,
    };
    if let Some(left) = state.shared.trials.iter().find(|k| k.what == s.title).cloned() {
        take_up(&mut t, &left, reply);
        t.others = others(state, s.title);
    } else if let Some(known) = state.shared.settings.iter().find(|k| k.what == s.title) {
        reply.aside(format!("Last noted: {} on {}. Measure it again.", known.now.text, day_in_words(&known.now.on)));
    }
    state.focus = Focus::Trying(Box::new(t));
    next::repeat_prompt(state, bench, reply);
}

/// Goes on where the book says that it was left.
fn take_up(t: &mut Trying, left: &KnownTrial, reply: &mut Reply) {
    let Some(at) = left.baseline.si else { return };
    let unit = units::by_symbol(&left.baseline.unit).unwrap_or(units_of(t.subject)[0]);
    t.manner = match left.seed {
        Some(seed) => Manner::Blind { seed: Some(seed), handed: 0 },
        None => Manner::Seen,
    };
    if settle(t, at, unit).is_err() {
        return;
    }
    t.row = Some(left.row);
    t.rides = left
        .pairs
        .iter()
        .map(|p| Pair {
            first: p.first,
            second: p.second,
            felt: match p.felt.as_str() {
                "first" => Felt::First,
                "second" => Felt::Second,
                _ => Felt::Same,
            },
            changed: p.changed.clone(),
        })
        .collect();
    t.written = t.rides.len();
    reply.add(format!(
        "Taken up again: begun on {} from {}, {} pair(s) ridden.",
        day_in_words(&left.baseline.on),
        left.baseline.text,
        t.rides.len()
    ));
    if let Some(text) = changed_since(left) {
        warn(reply, text);
    }
}

/// The warning that other settings were changed after a trial was begun.
pub(in crate::dialogue) fn changed_since(left: &KnownTrial) -> Option<String> {
    (!left.changed_since.is_empty()).then(|| {
        format!(
            "Since this trial of {} was begun something else was changed too: {}. Pairs ridden before and after do not \
             compare: put it back, or begin anew from a new baseline.",
            left.what,
            left.changed_since.join(", ")
        )
    })
}

/// Sets the baseline and the limits.
fn settle(t: &mut Trying, at: f64, unit: &'static Unit) -> Result<(), String> {
    let reach = REACH * t.subject.step;
    let limits = ((at - reach).max(0.0).min(at), at + reach);
    let repeats = if t.is_blind() { PAIRS as u32 } else { 1 };
    t.bracket = Some(Bracket::new(at, t.subject.step, t.subject.least, limits, repeats).map_err(|e| format!("{e}."))?);
    (t.baseline, t.unit) = (at, Some(unit));
    Ok(())
}

/// The answer to where the setting stands.
pub(super) fn baseline(state: &mut State, bench: &Bench, mut t: Trying, line: &str, reply: &mut Reply) {
    let list = units_of(t.subject);
    if let Some((Read::DontKnow | Read::CantNow, _)) = read_choice(line, &[], &[]) {
        reply.add("A trial begins with a measured baseline. Measure it, then say trial again.");
        state.focus = Focus::Open;
        return;
    }
    match units::read(line, list[0].dimension, Hint { plausible: (0.0, f64::MAX), units: list }) {
        Ok(r) => {
            let at = r.quantity.si;
            match settle(&mut t, at, r.unit) {
                Ok(()) => {
                    t.others = others(state, t.subject.title);
                    beside_the_card(state, &t, at, r.unit, reply);
                }
                Err(e) => reply.add(e),
            }
        }
        Err(e) => reply.add(format!("{e}")),
    }
    state.focus = Focus::Trying(Box::new(t));
    next::repeat_prompt(state, bench, reply);
}

/// Compares the baseline with the card, and warns of what else was set since the card was written.
fn beside_the_card(state: &State, t: &Trying, at: f64, unit: &Unit, reply: &mut Reply) {
    let what = t.subject.title;
    let Some(card) = state.shared.settings.iter().find(|s| s.what == what).map(|s| &s.card) else { return };
    if let Some(by) = apart(what, at, unit.symbol, card) {
        reply.add(format!("The {what} is {by}."));
    }
    let since: Vec<String> = state
        .shared
        .settings
        .iter()
        .filter(|s| s.what != what && s.now.source != "computed" && s.now.on > card.on)
        .map(|s| format!("{} (on {})", s.what, day_in_words(&s.now.on)))
        .collect();
    if !since.is_empty() {
        warn(
            reply,
            format!(
                "Since the card of {} another thing was set as well: {}. What feels different from then may come from \
                 that; the trial compares with how the bike stands now.",
                day_in_words(&card.on),
                since.join(", ")
            ),
        );
    }
}

/// The answer to who sets the bike.
pub(super) fn manner(state: &mut State, bench: &Bench, mut t: Trying, line: &str, reply: &mut Reply) {
    let says = ["no i set it myself", "yes somebody else can set it blind"];
    match read_choice(line, &["no", "yes"], &says).map(|c| c.0) {
        Some(Read::Choice(1)) => t.manner = Manner::Blind { seed: None, handed: 0 },
        Some(_) => t.manner = Manner::Seen,
        None => reply.add("Answer 1 (I set it myself) or 2 (somebody else sets it)."),
    }
    let at = t.baseline;
    if let (Some(unit), true) = (t.unit, t.is_blind())
        && let Err(e) = settle(&mut t, at, unit)
    {
        reply.add(e);
    }
    state.focus = Focus::Trying(Box::new(t));
    next::repeat_prompt(state, bench, reply);
}

/// The word of whoever sets the bike makes the order: nobody can guess it, and the saved lines lead to it again.
pub(super) fn word(state: &mut State, bench: &Bench, mut t: Trying, line: &str, reply: &mut Reply) {
    // FNV-1a with 64 bits (Fowler, Noll & Vo; constants from memory): any spread will do here.
    let seed =
        line.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |h, b| (h ^ u64::from(b)).wrapping_mul(0x0000_0100_0000_01b3));
    t.manner = Manner::Blind { seed: Some(seed), handed: 1 };
    state.focus = Focus::Trying(Box::new(t));
    next::repeat_prompt(state, bench, reply);
}
