//! What can be typed beside answers: one file for each command, and the list.
//!
//! Words are plain English; a command may be typed in several ways, at any prompt.

mod against;
mod another;
mod back;
mod bike;
mod calc;
mod card;
mod checked;
mod due;
mod erase;
mod find;
mod greeting;
mod guess;
mod help;
mod here;
mod how;
mod if_answer;
mod leave;
mod likely;
mod measured;
mod over;
mod plan;
mod read;
mod rider;
mod ruled;
mod set;
mod settings;
mod speaks;
mod stood;
mod stop;
mod switch;
mod trade;
mod triage;
mod trial;
mod visits;
mod why;

use super::bench::Bench;
use super::reply::Reply;
use super::session::Session;
use super::state::{State, Thread};
use super::turn::Effect;

/// Does what the command is for.
pub type Run = fn(&mut Session, &Bench, &str, Reply) -> Vec<Effect>;

/// A command.
pub struct Command {
    /// Ways of typing it; the first is the one shown. `…` stands for words that follow.
    pub words: &'static [&'static str],
    /// What it does, in a line.
    pub summary: &'static str,
    /// More about it.
    pub help: &'static str,
    /// Examples that work at the first prompt or say so politely.
    pub examples: &'static [&'static str],
    /// The handler.
    pub run: Run,
}

/// Every command, in the order of the help page.
pub static ALL: &[&Command] = &[
    &help::COMMAND,
    &why::COMMAND,
    &how::COMMAND,
    &likely::COMMAND,
    &guess::COMMAND,
    &speaks::COMMAND,
    &ruled::COMMAND,
    &against::COMMAND,
    &if_answer::COMMAND,
    &back::COMMAND,
    &stop::COMMAND,
    &another::COMMAND,
    &switch::COMMAND,
    &over::COMMAND,
    &find::COMMAND,
    &read::COMMAND,
    &calc::COMMAND,
    &settings::COMMAND,
    &stood::COMMAND,
    &measured::COMMAND,
    &set::COMMAND,
    &here::COMMAND,
    &trial::COMMAND,
    &bike::COMMAND,
    &rider::COMMAND,
    &visits::COMMAND,
    &due::COMMAND,
    &checked::COMMAND,
    &plan::COMMAND,
    &erase::COMMAND,
    &trade::COMMAND,
    &triage::COMMAND,
    &card::COMMAND,
    &greeting::COMMAND,
    &leave::COMMAND,
];

/// Finds the command that a line is, and the words after it.
#[must_use]
pub fn recognise<'l>(line: &'l str, state: &State) -> Option<(&'static Command, &'l str)> {
    let plain = line.trim().trim_end_matches(['?', '!', '.', ' ']);
    let l = plain.to_lowercase().replace('’', "'");
    for c in ALL {
        for w in c.words {
            match w.strip_suffix(" …") {
                None if l == *w => return Some((c, "")),
                Some(prefix) => {
                    let rest = l.strip_prefix(prefix).filter(|r| r.starts_with([' ', ':']));
                    if let Some(r) = rest {
                        let from = plain.len().saturating_sub(r.len());
                        let rest = plain.get(from..).unwrap_or_default().trim_start_matches([':', ' ']);
                        if accepts(c, rest, state) {
                            return Some((c, rest));
                        }
                    }
                }
                None => {}
            }
        }
    }
    None
}

/// More words than this after a command are rather a complaint that begins like one.
const FEW: usize = 5;

/// `read …` and the like must not swallow a complaint that happens to begin with the word.
fn accepts(c: &Command, rest: &str, state: &State) -> bool {
    if std::ptr::eq(c, &read::COMMAND) {
        let n = rest.parse::<usize>().ok();
        return n.is_some() || rest.split_whitespace().count() <= 4;
    }
    if std::ptr::eq(c, &switch::COMMAND) {
        return rest.parse::<usize>().is_ok() && !state.threads.is_empty();
    }
    if std::ptr::eq(c, &set::COMMAND) {
        return super::told::read(rest).is_some() || super::told::misread(rest).is_some();
    }
    let words = rest.split_whitespace().count();
    if std::ptr::eq(c, &measured::COMMAND) && words > FEW {
        // "Measured my discs, 1.5 and 1.7 mm, are they worn?"
        let told = super::told::read(rest).is_some() || super::told::misread(rest).is_some();
        return told || super::told::distance(rest).is_some();
    }
    if std::ptr::eq(c, &find::COMMAND) {
        // "Find it hard to pedal since the wash."
        let first = rest.split_whitespace().next().unwrap_or_default().to_lowercase();
        return words > 0 && !["it", "that", "myself"].contains(&first.as_str());
    }
    if std::ptr::eq(c, &trial::COMMAND) || std::ptr::eq(c, &card::COMMAND) {
        return (1..=FEW).contains(&words);
    }
    if std::ptr::eq(c, &checked::COMMAND) {
        return rest.starts_with(|c: char| c.is_ascii_digit());
    }
    !rest.is_empty()
}

/// Opens a new thread and makes it the current one; an empty current one is used again.
pub(super) fn open_thread(state: &mut State) {
    super::trying::park(state);
    let fresh = state.current().is_some_and(|t| t.said.is_empty() && t.observations.is_empty());
    if !fresh {
        state.threads.push(Thread::default());
    }
    state.at = state.threads.len().saturating_sub(1);
    state.focus = super::state::Focus::Open;
    state.setup = None;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_complaint_that_begins_like_a_command_is_none() {
        let state = State::default();
        for line in [
            "measured my discs with calipers, front 1.52 rear 1.66, at what thickness do they have to go",
            "find it hard to turn the pedals since the wash",
            "trial rides were fine but now it creaks at every turn",
            "card in the spokes noise from my rear wheel, what is it",
        ] {
            assert!(recognise(line, &state).is_none(), "{line}");
        }
        for line in
            ["measured saddle height 733 mm", "find saddle height", "trial saddle height", "card set-up to bike.html"]
        {
            assert!(recognise(line, &state).is_some(), "{line}");
        }
    }

    #[test]
    fn words_are_unique_and_every_file_is_listed() {
        let mut words: Vec<&str> = ALL.iter().flat_map(|c| c.words).copied().collect();
        let n = words.len();
        words.sort_unstable();
        words.dedup();
        assert_eq!(words.len(), n, "two commands share a word");
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/dialogue/command");
        let files = std::fs::read_dir(folder).unwrap().count() - 1;
        assert_eq!(files, ALL.len(), "a command's file is not listed in ALL");
        for c in ALL {
            assert!(!c.summary.is_empty() && !c.examples.is_empty(), "{} lacks help", c.words[0]);
        }
    }
}
