//! What the book knows, as data: asking for it, and taking it into a conversation.
//!
//! Owns the questions to the book and what is done with its answers. Must not know how a book is kept.

use super::bench::Bench;
use super::listen;
use super::next;
use super::reply::{Block, Reply};
use super::state::{Observation, State};
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
    },
    /// Whose bike it is.
    Rider {
        /// Name.
        name: String,
    },
    /// The last visits of the bike.
    Visits,
    /// What is due on the bike, or on all.
    Due,
    /// Erase everything about a rider.
    Erase {
        /// Name.
        name: String,
    },
    /// Note when the bike must be looked at again, from now on.
    Plan,
}

/// A bike that the book knows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct KnownBike {
    /// Its name.
    pub name: String,
    /// Its owner's name, if any.
    pub rider: Option<String>,
    /// Bike facts: finding id and answer id.
    pub facts: Vec<(String, String)>,
    /// Settings that hold: what, value as text, SI value.
    pub settings: Vec<(String, String, Option<f64>)>,
    /// Repairs, latest first: cause id if known, what was done, whether it helped.
    pub repairs: Vec<(Option<String>, String, bool)>,
    /// Checks that are due.
    pub due: Vec<String>,
    /// It has just been made.
    pub made: bool,
}

/// The book's answer to `Asked::Bike`.
#[derive(Clone, Debug, PartialEq)]
pub struct Recalled {
    /// What else was said when the bike was named.
    pub then: String,
    /// The bike, if one was found or made.
    pub bike: Option<KnownBike>,
    /// Names to choose from, when several fit.
    pub several: Vec<String>,
    /// Why nothing could be looked up.
    pub trouble: Option<String>,
}

/// "The red hardtail is back, now it knocks": the bike's words and the rest.
pub(super) fn back_again(line: &str) -> Option<(String, String)> {
    let lower = line.to_lowercase();
    let (at, len) = [" is back", " came back", " is here again", " is in again"]
        .iter()
        .find_map(|w| lower.find(w).map(|i| (i, w.len())))?;
    let words = line.get(..at)?.trim();
    let starts = ["the ", "my ", "our ", "her ", "his ", "their "];
    let named = starts.iter().any(|s| lower.starts_with(s)) || words.contains("'s ") || words.contains("’s ");
    let few = (1..=6).contains(&words.split_whitespace().count());
    // "The noise is back" is a complaint, not a bike.
    let noises =
        ["noise", "creak", "squeal", "pain", "rattle", "click", "rub", "knock", "problem", "trouble", "squeak", "it"];
    let sound = words.split_whitespace().any(|w| noises.iter().any(|n| w.to_lowercase().starts_with(n)));
    let rest = line.get(at + len..)?.trim_start_matches([',', '.', ';', ':', ' ']).to_owned();
    (named && few && !sound).then(|| (words.to_owned(), rest))
}

/// Takes in what the book knows of a bike, and goes on with what else was said.
pub(super) fn take(state: &mut State, bench: &Bench, recalled: &Recalled, reply: &mut Reply) {
    if let Some(trouble) = &recalled.trouble {
        reply.add(trouble.clone());
    }
    if !recalled.several.is_empty() {
        reply.add(format!("Several bikes fit: {}. Say: bike name and its whole name.", recalled.several.join("; ")));
        return;
    }
    if let Some(bike) = &recalled.bike {
        known_bike(state, bench, bike, reply);
    } else if recalled.trouble.is_none() {
        reply.add("The book has no bike of that name. Say: bike name and its name, to make it.");
    }
    if recalled.then.trim().is_empty() {
        next::repeat_prompt(state, bench, reply);
    } else {
        listen::complaint(state, bench, &recalled.then, reply);
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
    state.shared.settings = bike.settings.clone();
    let owner = bike.rider.as_ref().map(|r| format!(" ({r})")).unwrap_or_default();
    if bike.made {
        reply.add(format!("{}{owner} is new in the book. The visit is written when you say leave.", bike.name));
        return;
    }
    reply.add(format!("I know it: {}{owner}.", bike.name));
    let mut items: Vec<String> = bike
        .repairs
        .iter()
        .take(3)
        .map(|(_, text, helped)| {
            format!("done before: {text} ({})", if *helped { "it helped" } else { "it did not help" })
        })
        .collect();
    items.extend(bike.settings.iter().take(4).map(|(what, text, _)| format!("on the card: {what} {text}")));
    items.extend(bike.due.iter().take(3).map(|d| format!("due: {d}")));
    if !items.is_empty() {
        reply.push(Block::List { items });
    }
    // A complaint that comes back after a repair that helped speaks for the same cause: it did not hold.
    for (cause, text, helped) in bike.repairs.iter().take(2) {
        let Some(c) = cause.as_deref().and_then(|id| bench.library.cause(id)) else { continue };
        let outcome = if *helped { RepairOutcome::HeldForAWhile } else { RepairOutcome::TriedBefore };
        let evidence = Evidence { what: What::Repair(vec![c.0], outcome), reliability: 0.8, origin: Origin::Recalled };
        state.thread().observations.push(Observation { evidence, words: text.clone() });
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
        assert_eq!(back_again("pedals creak and the rear light is back on"), None);
    }
}
