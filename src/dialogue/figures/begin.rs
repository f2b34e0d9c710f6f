//! How a calculation begins: by its command, by a question, by a step of the work.
//!
//! Owns the choice of the calculator and what is known beforehand. Must not ask.

use super::ask::go_on;
use super::{CLEAR, CalcRun, HOW};
use crate::calc::{self, Calculator, Values, parse_answer, parse_inputs};
use crate::dialogue::bench::Bench;
use crate::dialogue::listen;
use crate::dialogue::reply::{Block, Reply};
use crate::dialogue::state::{Focus, State};
use crate::dialogue::work::{self, Work};
use crate::units;

/// Whether there is a calculator of this id.
pub(in crate::dialogue) fn exists(id: &str) -> bool {
    calc::find(id).is_some()
}

/// The command: a list, a calculator by name, or by words, with inputs after it.
pub(in crate::dialogue) fn command(state: &mut State, bench: &Bench, rest: &str, reply: &mut Reply) {
    if rest.is_empty() {
        reply.add("What I can work out; say work out and a name, with what you know after it:");
        let items = calc::ALL.iter().map(|c| format!("{}: {}", c.id, c.title)).collect();
        reply.push(Block::List { items });
        return;
    }
    let lower = rest.to_lowercase();
    let by_name = calc::ALL
        .iter()
        .copied()
        .filter_map(|c| {
            let spaced = c.id.replace('-', " ");
            let hit = [c.id, spaced.as_str()].into_iter().find(|n| lower.starts_with(*n))?;
            Some((hit.len(), c))
        })
        .max_by_key(|(n, _)| *n);
    let (calc, text) = match by_name {
        Some((n, c)) => (Some(c), rest.get(n..).unwrap_or_default()),
        None => (calc::by_words(rest).first().map(|f| f.0), rest),
    };
    match calc {
        Some(c) => begin(state, bench, c, text, None, reply),
        None => {
            reply.add(format!("I have no calculator for \"{}\".", listen::shorten(rest)));
            command(state, bench, "", reply);
        }
    }
}

/// A question for a figure ("how long a chain for 32 and 51?") begins its calculator. True when one was begun.
pub(in crate::dialogue) fn begin_by_words(state: &mut State, bench: &Bench, line: &str, reply: &mut Reply) -> bool {
    let l = line.to_lowercase();
    const WHAT: [&str; 10] = [
        "what pressure",
        "what psi",
        "which pressure",
        "what sag",
        "what size",
        "what spring",
        "what length",
        "which spring",
        "what gear",
        "what is the gear",
    ];
    let short = line.split_whitespace().count() <= 14;
    let figures = line.chars().any(|c| c.is_ascii_digit());
    let bare = figures && short && !units::find_all(line).is_empty() && bench.ears.hear(line).answers.len() <= 1;
    let question = HOW.iter().chain(&WHAT).any(|a| l.starts_with(a)) && short;
    if !(question || bare) {
        return false;
    }
    let found = calc::by_words(line);
    let Some((calc, score)) = found.first().copied() else { return false };
    let clear = found.get(1).is_none_or(|second| score > 1.15 * second.1);
    let parsed = parse_inputs(calc, line);
    if score < CLEAR || (!question && (!clear || parsed.values.iter().count() < 2)) {
        return false;
    }
    begin(state, bench, calc, line, None, reply);
    true
}

/// Begins a calculator that a step of the work wants.
pub(in crate::dialogue) fn begin_in_work(state: &mut State, bench: &Bench, id: &str, work: Work, reply: &mut Reply) {
    match calc::find(id) {
        Some(c) => begin(state, bench, c, "", Some(work), reply),
        None => work::after_figures(state, bench, work, reply),
    }
}

fn begin(
    state: &mut State,
    bench: &Bench,
    calc: &'static Calculator,
    text: &str,
    work: Option<Work>,
    reply: &mut Reply,
) {
    let open = matches!(state.focus, Focus::Finding(_) | Focus::Offer(_) | Focus::Danger(_));
    let back = open.then(|| Box::new(state.focus.clone()));
    // What was said before comes first, so that what is said now wins.
    let mut run = CalcRun { calc, values: told_before(state, calc), work, notes: Vec::new(), back };
    for input in calc.inputs {
        if let Some(Ok(given)) = state.shared.inputs.get(input.id).map(|typed| parse_answer(input, typed)) {
            run.values.set(input.id, given);
        }
    }
    if !run.values.is_empty() {
        run.notes.push("some inputs taken from what you told before".into());
    }
    if !text.trim().is_empty() {
        let told = parse_inputs(calc, text);
        for p in told.problems {
            reply.add(p);
        }
        run.notes.extend(told.notes);
        for (id, given) in told.values.iter() {
            run.values.set(id, given.clone());
        }
    }
    go_on(state, bench, run, reply);
}

/// What was said so far of the inputs of a calculator.
pub(super) fn told_before(state: &State, calc: &Calculator) -> Values {
    let mut values = Values::new();
    for line in state.shared.said.iter().filter(|line| !units::find_all(line).is_empty()) {
        // A tyre 2.2 inches wide is no wheel that wobbles by as much.
        for (id, given) in parse_inputs(calc, line).values.iter() {
            if calc.input(id).is_some_and(|input| input.plausible(given)) {
                values.set(id, given.clone());
            }
        }
    }
    values
}
