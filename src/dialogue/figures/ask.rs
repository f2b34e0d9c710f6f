//! The open input of a calculation: asked, answered, left out; and what happens when none is open any more.

use super::CalcRun;
use super::keep::keep;
use super::show::show;
use crate::calc::{self, Given, Input, InputKind, missing, parse_answer, parse_inputs};
use crate::dialogue::answer::{Read, read_choice};
use crate::dialogue::bench::Bench;
use crate::dialogue::reply::{Block, Reply, numbered};
use crate::dialogue::state::{Focus, State};
use crate::dialogue::{listen, next, reading, work};
use crate::units;

/// Asks what is missing, or computes.
pub(super) fn go_on(state: &mut State, bench: &Bench, run: CalcRun, reply: &mut Reply) {
    if missing(run.calc, &run.values).is_empty() {
        return finish(state, bench, run, reply);
    }
    state.focus = Focus::Calc(Box::new(run));
    next::repeat_prompt(state, bench, reply);
}

/// Shows the open input.
pub(in crate::dialogue) fn prompt(run: &CalcRun, reply: &mut Reply) {
    let open = missing(run.calc, &run.values);
    let Some(input) = open.first() else { return };
    let answers = match &input.kind {
        InputKind::Choice(picks) => numbered(picks.iter().map(|p| (p.id, p.says))),
        _ => Vec::new(),
    };
    reply.push(Block::Question {
        id: format!("{}.{}", run.calc.id, input.id),
        text: format!("For the {}: {}", run.calc.title.to_lowercase(), input.question),
        minutes: 1.0,
        how: "measure".into(),
        safety: false,
        answers,
    });
    let left = match open.len() {
        1 => String::new(),
        n => format!(" ({} more after this.)", n - 1),
    };
    reply.aside(format!("{} Or: don't know, stop.{left}", input.how));
}

/// How the open input is measured.
pub(in crate::dialogue) fn how(run: &CalcRun, reply: &mut Reply) {
    match missing(run.calc, &run.values).first() {
        Some(input) => reply.add(format!("{} {}", input.question, input.how)),
        None => reply.add(run.calc.worth),
    }
}

/// An answer to the open input.
pub(in crate::dialogue) fn answer(state: &mut State, bench: &Bench, mut run: CalcRun, line: &str, reply: &mut Reply) {
    let Some(input) = missing(run.calc, &run.values).first().copied() else { return finish(state, bench, run, reply) };
    if let Some((Read::DontKnow | Read::CantNow, _)) = read_choice(line, &[], &[]) {
        return without(state, bench, run, input, reply);
    }
    match parse_answer(input, line) {
        Ok(given) => {
            if let Given::Quantity(r) = &given
                && let Some(unit) = r.assumed
            {
                reply.aside(format!("Taken as {}.", units::write_in(r.quantity, unit, None)));
            }
            state.shared.inputs.insert(input.id.to_owned(), line.to_owned());
            run.values.set(input.id, given);
            go_on(state, bench, run, reply);
        }
        Err(sentence) => {
            let told = parse_inputs(run.calc, line);
            if !told.values.is_empty() {
                for (id, given) in told.values.iter() {
                    run.values.set(id, given.clone());
                }
                for p in told.problems.iter().chain(&told.notes) {
                    reply.aside(p.clone());
                }
                return go_on(state, bench, run, reply);
            }
            if !reading::question(state, bench, line, reply) {
                let heard = bench.ears.hear(line);
                if heard.answers.len() + heard.dangers.len() >= 2 {
                    listen::take_in(state, bench, line, reply, None);
                    reply.aside("Noted. The figure is still wanted.");
                } else {
                    reply.add(sentence);
                }
            }
            state.focus = Focus::Calc(Box::new(run));
            next::repeat_prompt(state, bench, reply);
        }
    }
}

/// Goes on without a figure that is not known.
fn without(state: &mut State, bench: &Bench, run: CalcRun, input: &Input, reply: &mut Reply) {
    match run.work {
        Some(work) => {
            reply.aside(format!("Then without the figure. To get it later: work out {}.", run.calc.id));
            work::after_figures(state, bench, work, reply);
        }
        None => {
            reply.add(format!("It cannot be worked out without it. {} {}", input.question, input.how));
            back(state, bench, run.back, reply);
        }
    }
}

/// Leaves an open calculation; false when none is open.
pub(in crate::dialogue) fn leave(state: &mut State, bench: &Bench, reply: &mut Reply) -> bool {
    let Focus::Calc(run) = state.focus.clone() else { return false };
    match run.work {
        Some(work) => work::after_figures(state, bench, work, reply),
        None => {
            state.focus = Focus::Open;
            reply.aside("Calculation left.");
            if state.current().is_some_and(|t| !t.said.is_empty()) {
                next::go_on(state, bench, reply);
            }
        }
    }
    true
}

fn finish(state: &mut State, bench: &Bench, run: CalcRun, reply: &mut Reply) {
    match calc::run(run.calc, &run.values) {
        Ok(outcome) => {
            show(&run, &outcome, run.work.is_some(), reply);
            keep(state, &run, &outcome);
            state.last_run = Some(Box::new(run.clone()));
            match run.work {
                Some(work) => work::after_figures(state, bench, work, reply),
                None => {
                    reply.aside("what if and a changed value (what if 20 mm less) compares; settings lists what was worked out.");
                    back(state, bench, run.back, reply);
                }
            }
        }
        Err(e) => {
            reply.add(format!("{e}."));
            match run.work {
                Some(work) => work::after_figures(state, bench, work, reply),
                None => back(state, bench, run.back, reply),
            }
        }
    }
}

/// Back to the question that was open before the figure, if one was.
fn back(state: &mut State, bench: &Bench, question: Option<Box<Focus>>, reply: &mut Reply) {
    let asked = question.is_some();
    state.focus = question.map_or(Focus::Open, |q| *q);
    if asked {
        next::repeat_prompt(state, bench, reply);
    }
}
