//! What the book knows, as data: asking for it, and taking it into a conversation.
//!
//! Owns the questions to the book and what is done with its answers. Must not know how a book is kept.

use super::apart::{apart, day_in_words};
use super::bench::Bench;
use super::held::{KnownBike, KnownDue, KnownSetting, KnownWear, Noted};
use super::listen;
use super::next;
use super::reply::{Block, Reply};
use super::state::{Observation, State};
use super::trying;
use crate::belief::{Evidence, Origin, RepairOutcome, What};

/// Something asked of the book.
#[derive(Clone, Debug, PartialEq)]
pub enum Asked {
    /// Find the bike that these words name; make it if `make` and nothing is found. `then` is the rest of what was said.
    Bike {
        /// Words or name.
        words: String,
        /// Make it if there is none.
        make: bool,
        /// What else was said.
        then: String,
        /// The whole line, when it was only guessed that it names a bike; else empty.
        line: String,
    },
    /// Whose bike it is.
    Rider {
        /// Name.
        name: String,
    },
    /// The last visits of the bike.
    Visits,
    /// How the bike stood at the end of a day.
    Stood {
        /// The day, as `2026-05-03`.
        day: String,
    },
    /// What is due on the bike, or on all.
    Due,
    /// Erase everything about a rider.
    Erase {
        /// Name.
        name: String,
        /// It was said to be meant for good.
        surely: bool,
    },
    /// Note when the bike must be looked at again, from now on.
    Plan,
    /// A check of the list last shown was done.
    Done {
        /// Its number in that list, from 1.
        number: usize,
        /// What was found.
        found: String,
    },
    /// How far the bike has been ridden.
    Distance {
        /// Metres.
        metres: f64,
        /// As a person reads it.
        text: String,
    },
}

/// The book's answer to `Asked::Bike`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Recalled {
    /// What else was said when the bike was named.
    pub then: String,
    /// The whole line, when it was only guessed that it names a bike; else empty.
    pub line: String,
    /// The bike, if one was found or made.
    pub bike: Option<KnownBike>,
    /// Names to choose from, when several fit.
    pub several: Vec<String>,
    /// Why nothing could be looked up.
    pub trouble: Option<String>,
    /// The day, as `2026-05-03`.
    pub today: String,
}

/// "The red hardtail is back, now it knocks": the bike's words and the rest. A guess: whether it is a bike, the book knows.
pub(super) fn back_again(line: &str) -> Option<(String, String)> {
    let lower = line.to_lowercase();
    let (at, len) = [" is back", " came back", " is here again", " is in again"]
        .iter()
        .find_map(|w| lower.find(w).map(|i| (i, w.len())))?;
    let words = line.get(..at)?.trim();
    let few = (1..=6).contains(&words.split_whitespace().count());
    // "The noise is back" is a complaint, not a bike.
    let noises =
        ["noise", "creak", "squeal", "pain", "rattle", "click", "rub", "knock", "problem", "trouble", "squeak", "it"];
    let sound = words.split_whitespace().any(|w| noises.iter().any(|n| w.to_lowercase().starts_with(n)));
    let rest = line.get(at + len..)?.trim_start_matches([',', '.', ';', ':', ' ']).to_owned();
    (few && !sound).then(|| (words.to_owned(), rest))
}

/// Takes in what the book knows of a bike, and goes on with what else was said.
pub(super) fn take(state: &mut State, bench: &Bench, recalled: &Recalled, reply: &mut Reply) {
    state.shared.today.clone_from(&recalled.today);
    if let Some(trouble) = &recalled.trouble {
        reply.add(trouble.clone());
    }
    if !recalled.several.is_empty() {
        reply.add(format!("Several bikes fit: {}. Say: bike name and its whole name.", recalled.several.join("; ")));
    }
    // A line that names no bike after all is a complaint like any other.
    let mut said = &recalled.then;
    if let Some(bike) = &recalled.bike {
        known_bike(state, bench, bike, reply);
    } else if recalled.several.is_empty() && !recalled.line.is_empty() {
        said = &recalled.line;
    } else if recalled.several.is_empty() && recalled.trouble.is_none() {
        reply.add("The book has no bike of that name. Say: bike name and its name, to make it.");
    }
    if said.trim().is_empty() {
        next::repeat_prompt(state, bench, reply);
    } else {
        listen::complaint(state, bench, said, reply);
    }
}

fn known_bike(state: &mut State, bench: &Bench, bike: &KnownBike, reply: &mut Reply) {
    state.shared.bike = Some(bike.name.clone());
    if bike.rider.is_some() {
        state.shared.rider.clone_from(&bike.rider);
    }
    for (finding, answer) in &bike.facts {
        let Some(f) = bench.library.finding(finding) else { continue };
        let Some(a) = bench.library.findings[f.0].answer(answer) else { continue };
        if state.known(f).is_none() {
            let evidence = Evidence { what: What::Is(f, a), reliability: 0.95, origin: Origin::Recalled };
            let words = bench.library.findings[f.0].answers[a.0].says.clone();
            state.observe(bench, Observation { evidence, words });
        }
    }
    let shared = &mut state.shared;
    shared.settings.clone_from(&bike.settings);
    shared.wear.clone_from(&bike.wear);
    shared.due.clone_from(&bike.due);
    shared.trials.clone_from(&bike.trials);
    shared.rides.clone_from(&bike.rides);
    let owner = bike.rider.as_ref().map(|r| format!(" ({r})")).unwrap_or_default();
    if bike.made {
        reply.add(format!("{}{owner} is new in the book. The visit is written when you say leave.", bike.name));
        return;
    }
    reply.add(format!("I know it: {}{owner}.", bike.name));
    let items = remembered(bike);
    if !items.is_empty() {
        reply.push(Block::List { items });
    }
    // A complaint that comes back after a repair that helped speaks for the same cause: it did not hold.
    for done in bike.repairs.iter().take(2) {
        let Some(c) = done.cause.as_deref().and_then(|id| bench.library.cause(id)) else { continue };
        let outcome = if done.helped { RepairOutcome::HeldForAWhile } else { RepairOutcome::TriedBefore };
        let evidence = Evidence { what: What::Repair(vec![c.0], outcome), reliability: 0.8, origin: Origin::Recalled };
        state.thread().observations.push(Observation { evidence, words: done.text.clone() });
    }
}

/// What is said of a bike that comes back: repairs, settings, wear, what is due, trials left open.
fn remembered(bike: &KnownBike) -> Vec<String> {
    let helped = |h: bool| if h { "it helped" } else { "it did not help" };
    let mut items: Vec<String> =
        bike.repairs.iter().take(3).map(|r| format!("done before: {} ({})", r.text, helped(r.helped))).collect();
    // What was set or measured before what was only worked out.
    let (worked_out, stand): (Vec<_>, Vec<_>) = bike.settings.iter().partition(|s| s.now.source == "computed");
    items.extend(stand.into_iter().chain(worked_out).take(4).map(on_card));
    items.extend(bike.wear.iter().take(3).filter_map(worn));
    let (now, later): (Vec<&KnownDue>, Vec<&KnownDue>) = bike.due.iter().partition(|d| d.now);
    items.extend(now.iter().take(3).map(|d| format!("due now: {}", d.what)));
    if now.len() > 3 {
        items.push(format!("due now as well: {} more (due lists them)", now.len() - 3));
    }
    if let (true, Some(next)) = (now.is_empty(), later.first()) {
        items.push(format!("due next: {} ({})", next.what, when(next)));
    }
    items.extend(bike.trials.iter().map(|t| {
        let since = trying::changed_since(t).map(|w| format!(" {w}")).unwrap_or_default();
        format!(
            "left open: a trial of {} since {}, {} pair(s) ridden; trial {} goes on.{since}",
            t.what,
            day_in_words(&t.baseline.on),
            t.pairs.len(),
            t.what
        )
    }));
    items
}

/// A setting as the card has it; with the last one found, if that is another.
pub(super) fn on_card(s: &KnownSetting) -> String {
    let card = format!("on the card: {} {}{}", s.what, s.card.text, stamped(&s.card));
    match s.now.si.and_then(|now| apart(&s.what, now, &s.now.unit, &s.card)) {
        Some(by) if s.now.on >= s.card.on && !by.starts_with("as on") => {
            format!("{}: {}{} last, {by}", s.what, s.now.text, stamped(&s.now))
        }
        _ => card,
    }
}

fn stamped(n: &Noted) -> String {
    if n.on.is_empty() { String::new() } else { format!(" ({}, {})", day_in_words(&n.on), n.source) }
}

/// The latest wear reading, and whether the part is worn out at it.
fn worn(w: &KnownWear) -> Option<String> {
    let last = w.past.last()?;
    let out = last.si.zip(w.limit).is_some_and(|(now, limit)| worn_out(&w.what, now, limit));
    let mark = if out { ": worn out" } else { "" };
    Some(format!("wear: {} {}{}{mark}", w.what, last.text, stamped(last)))
}

/// Whether a reading is at its limit or beyond: a chain grows, everything else gets thinner.
pub(super) fn worn_out(what: &str, now: f64, limit: f64) -> bool {
    if what.contains("elongation") { now >= limit } else { now <= limit }
}

/// When a check is due, in words.
fn when(d: &KnownDue) -> String {
    match (d.on.as_str(), d.after.as_str()) {
        (on, "") => day_in_words(on),
        ("", after) => format!("at {after}"),
        (on, after) => format!("{}, or at {after}", day_in_words(on)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bike_that_is_back_is_told_from_a_noise_that_is_back() {
        let (words, rest) = back_again("The red hardtail is back, now it knocks").unwrap();
        assert_eq!((words.as_str(), rest.as_str()), ("The red hardtail", "now it knocks"));
        assert_eq!(back_again("the creak is back after a week"), None);
        assert_eq!(back_again("the pedals creak all day long and the rear light is back on"), None);
        assert_eq!(back_again("red hardtail is back").map(|b| b.0).as_deref(), Some("red hardtail"));
    }
}
