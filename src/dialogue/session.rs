//! One conversation: its state, its past, and the step from a turn to effects.

use super::answer;
use super::bench::Bench;
use super::command;
use super::known::{self, Asked};
use super::listen;
use super::next;
use super::reply::Reply;
use super::state::{Focus, State};
use super::turn::{Effect, Turn};
use super::{figures, setup, told, trying, work};

/// Longest line that is read, in characters; the rest of a longer one is left unread, and said so.
const LONGEST: usize = 2000;
/// How many steps back are kept.
const PAST: usize = 500;

/// A conversation.
#[derive(Clone, Debug, Default)]
pub struct Session {
    /// Where it stands.
    pub state: State,
    past: Vec<State>,
    lines: Vec<String>,
}

impl Session {
    /// A new conversation.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// The lines typed so far; fed again to a new session they lead to the same place.
    #[must_use]
    pub fn lines(&self) -> &[String] {
        &self.lines
    }

    /// Words with which a conversation opens.
    #[must_use]
    pub fn greeting() -> Reply {
        let mut r = Reply::say(
            "What is the matter with the bike, or with you on it? Tell it in your own words: what you feel or hear, where, when, and what happened just before.",
        );
        r.aside("A new bike to set up? Say: new bike, help me set it up. For everything else: help.");
        r
    }

    /// Takes one turn.
    pub fn step(&mut self, bench: &Bench, turn: Turn) -> Vec<Effect> {
        let raw = match turn {
            Turn::Line(raw) => raw,
            Turn::Recalled(recalled) => {
                let mut reply = Reply::default();
                known::take(&mut self.state, bench, &recalled, &mut reply);
                return vec![Effect::Say(reply)];
            }
            Turn::Due(due) => {
                self.state.shared.due = due;
                return Vec::new();
            }
        };
        let (line, cut) = clean(&raw);
        self.lines.push(line.clone());
        let mut reply = Reply::default();
        if cut {
            reply.aside(format!("That was very long; I have read the first {LONGEST} characters."));
        }
        if line.is_empty() {
            next::repeat_prompt(&self.state, bench, &mut reply);
            return vec![Effect::Say(reply)];
        }
        if let Some((cmd, rest)) = command::recognise(&line, &self.state) {
            return (cmd.run)(self, bench, rest, reply);
        }
        if let (Focus::Open, Some((words, then))) = (&self.state.focus, known::back_again(&line)) {
            return vec![Effect::Say(reply), Effect::Book(Asked::Bike { words, make: false, then, line })];
        }
        self.changing(|state| {
            respond(state, bench, &line, &mut reply);
        });
        vec![Effect::Say(reply)]
    }

    /// Runs a change of state, remembering the state before for going back.
    pub(super) fn changing(&mut self, change: impl FnOnce(&mut State)) {
        if self.past.len() == PAST {
            self.past.remove(0);
        }
        self.past.push(self.state.clone());
        change(&mut self.state);
    }

    /// Goes back one change; false when there is nothing to go back to.
    pub(super) fn back(&mut self) -> bool {
        match self.past.pop() {
            Some(state) => {
                self.state = state;
                true
            }
            None => false,
        }
    }
}

/// Answers a line that is no command, by the prompt that is open.
pub(super) fn respond(state: &mut State, bench: &Bench, line: &str, reply: &mut Reply) {
    if matches!(state.focus, Focus::Open | Focus::Setup)
        && let Some(setting) = told::volunteered(line)
    {
        told::take(state, bench, &setting, false, reply);
        let heard = bench.ears.hear(line);
        if heard.dangers.is_empty() && heard.answers.len() <= 1 {
            return;
        }
        // There is a complaint in it as well.
    }
    match state.focus.clone() {
        Focus::Open => open(state, bench, line, reply),
        Focus::Danger(d) => answer::to_danger(state, bench, d, line, reply),
        Focus::Finding(f) => answer::to_finding(state, bench, f, line, reply),
        Focus::Conflict { finding, old, new } => answer::to_conflict(state, bench, finding, old, new, line, reply),
        Focus::Offer(c) => answer::to_offer(state, bench, c, line, reply),
        Focus::Work(w) => work::answer(state, bench, *w, line, reply),
        Focus::Calc(run) => figures::answer(state, bench, *run, line, reply),
        Focus::Setup => setup::answer(state, bench, line, reply),
        Focus::Trying(t) => trying::answer(state, bench, *t, line, reply),
    }
}

/// A line with no prompt open: a wish for a set-up, a figure, a question, or a complaint.
fn open(state: &mut State, bench: &Bench, line: &str, reply: &mut Reply) {
    if let Some(number) = answer::bare_number(line)
        && let Some(id) = number.checked_sub(1).and_then(|i| state.shared.listed.get(i)).cloned()
    {
        super::reading::show(state, bench, &id, reply);
        return;
    }
    if answer::read_choice(line, &[], &[]).is_some() {
        // "Don't know" with nothing asked is no complaint.
        reply.add("No question is open.");
        next::repeat_prompt(state, bench, reply);
        return;
    }
    if setup::wanted(line) {
        setup::begin(state, bench, line, reply);
        return;
    }
    if super::reading::word(bench, line, reply) || figures::begin_by_words(state, bench, line, reply) {
        return;
    }
    listen::complaint(state, bench, line, reply);
}

/// Control characters become spaces; very long lines are cut.
fn clean(raw: &str) -> (String, bool) {
    let cut = raw.chars().count() > LONGEST;
    let text: String = raw.chars().take(LONGEST).map(|c| if c.is_control() { ' ' } else { c }).collect();
    (text.trim().to_owned(), cut)
}
