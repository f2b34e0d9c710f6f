//! Leading through the work: how to be sure, the steps one at a time with cautions where they matter, figures put into the
//! steps, the proof, and whether it helped.

use super::answer::{Read, read_choice};
use super::bench::Bench;
use super::figures;
use super::listen;
use super::next;
use super::reply::{Block, Reply, numbered};
use super::setup;
use super::state::{Focus, Observation, Outcome, State};
use crate::belief::{Evidence, Origin, RepairOutcome, What};
use crate::domain::{Cause, CauseKind, Urgency};
use crate::library::{Step, steps};

/// Where the work stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Phase {
    /// How to be sure.
    Sure,
    /// Step by number, from 0.
    Step(usize),
    /// How to prove it.
    Proof,
    /// Did it help?
    Helped,
}

/// Work on one cause.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// Position of the cause or guide.
    pub cause: usize,
    /// Where it stands.
    pub phase: Phase,
    /// Calculators already run in this work.
    pub computed: Vec<String>,
}

impl Work {
    /// Work at its beginning.
    #[must_use]
    pub fn new(cause: usize) -> Self {
        Self { cause, phase: Phase::Sure, computed: Vec::new() }
    }
}

/// The steps of a note's work: those under "What to do", or for a guide the numbered steps of all its sections.
fn work_steps(cause: &Cause) -> Vec<Step> {
    let own = cause.section("What to do").map(|s| steps(&s.markdown)).unwrap_or_default();
    if !own.is_empty() || cause.kind == CauseKind::Cause {
        return own;
    }
    cause
        .sections
        .iter()
        .filter(|s| !["Prove it", "What can go wrong", "Riders say"].contains(&s.heading.as_str()))
        .flat_map(|s| steps(&s.markdown))
        .collect()
}

/// Begins the work on a cause.
pub(super) fn begin(state: &mut State, bench: &Bench, c: usize, reply: &mut Reply) {
    let cause = &bench.library.causes[c];
    let mut work = Work::new(c);
    if cause.section("How to be sure").is_none() {
        work.phase = first_step(cause);
    }
    reply.push(Block::Heading { text: cause.title.clone() });
    if cause.kind == CauseKind::Guide {
        reply.add(if state.shared.trade { cause.short.clone() } else { next::first_sentences(cause.summary(), 2) });
        reply.aside(next::effort(cause));
        if work_steps(cause).is_empty() {
            let id = cause.id.clone();
            super::reading::show(state, bench, &id, reply);
            work.phase = Phase::Helped;
        }
    }
    enter(state, bench, work, reply);
}

fn first_step(cause: &Cause) -> Phase {
    if work_steps(cause).is_empty() { Phase::Proof } else { Phase::Step(0) }
}

/// Enters a phase: runs the calculators that the step wants, then shows it.
fn enter(state: &mut State, bench: &Bench, mut work: Work, reply: &mut Reply) {
    if let Phase::Step(i) = work.phase {
        let cause = &bench.library.causes[work.cause];
        if let Some(step) = work_steps(cause).get(i) {
            for c in &step.cautions {
                if !state.thread().cautions.contains(c) {
                    state.thread().cautions.push(c.clone());
                }
            }
            let wanted = step.calculators.iter().find(|id| !work.computed.contains(id) && figures::exists(id)).cloned();
            if let Some(id) = wanted {
                work.computed.push(id.clone());
                figures::begin_in_work(state, bench, &id, work, reply);
                return;
            }
        }
    }
    state.focus = Focus::Work(Box::new(work));
    next::repeat_prompt(state, bench, reply);
}

/// Goes on with the work after a calculator has spoken, or was passed over.
pub(super) fn after_figures(state: &mut State, bench: &Bench, work: Work, reply: &mut Reply) {
    enter(state, bench, work, reply);
}

/// Shows the phase.
pub(super) fn prompt(state: &State, bench: &Bench, work: &Work, reply: &mut Reply) {
    let cause = &bench.library.causes[work.cause];
    match work.phase {
        Phase::Sure => {
            reply.add("How to be sure:");
            let checks = cause.section("How to be sure").map(|s| steps(&s.markdown)).unwrap_or_default();
            let mut items: Vec<String> = checks.iter().map(with_cautions).collect();
            items.truncate(4);
            reply.push(Block::List { items });
            let text = if cause.normal { "Does that fit?" } else { "Is it so?" };
            reply.push(Block::Choices {
                text: text.into(),
                choices: numbered([
                    ("yes", "Yes, that is it"),
                    ("no", "No, it is not that"),
                    ("dont-know", "Can't say; go on anyway"),
                ]),
            });
        }
        Phase::Step(i) => {
            let all = work_steps(cause);
            if let Some(s) = all.get(i) {
                reply.push(Block::Step {
                    number: i + 1,
                    of: all.len(),
                    text: s.text.clone(),
                    cautions: s.cautions.clone(),
                });
            }
            reply.aside("next goes on, back goes back; or ask, or tell me what you see. stop work leaves it.");
        }
        Phase::Proof => {
            reply.add("Prove it:");
            let proof = cause.section("Prove it").map(|s| steps(&s.markdown)).unwrap_or_default();
            reply.push(Block::List { items: proof.iter().map(with_cautions).collect() });
            let steps_wrong: Vec<String> = cause
                .section("What can go wrong")
                .map(|s| {
                    s.markdown
                        .lines()
                        .filter_map(|l| l.trim().strip_prefix("- "))
                        .take(2)
                        .map(super::reading::plain)
                        .collect()
                })
                .unwrap_or_default();
            if !steps_wrong.is_empty() {
                reply.aside(format!("What can go wrong: {}", steps_wrong.join(" ")));
            }
            helped_prompt(state, cause, reply);
        }
        Phase::Helped => helped_prompt(state, cause, reply),
    }
}

fn helped_prompt(state: &State, cause: &Cause, reply: &mut Reply) {
    let setting = cause.kind == CauseKind::Guide || state.setup.is_some();
    let (text, yes) = if setting { ("Is it done?", "Yes, done") } else { ("Did it help?", "Yes") };
    reply.push(Block::Choices {
        text: text.into(),
        choices: numbered([("yes", yes), ("partly", "Partly"), ("no", "No"), ("not-done", "Couldn't do it")]),
    });
}

fn with_cautions(s: &Step) -> String {
    s.cautions.iter().fold(s.text.clone(), |t, c| format!("{t} Caution: {c}"))
}

/// An answer while work is led.
pub(super) fn answer(state: &mut State, bench: &Bench, work: Work, line: &str, reply: &mut Reply) {
    match work.phase {
        Phase::Sure => sure(state, bench, work, line, reply),
        Phase::Step(i) => step(state, bench, work, i, line, reply),
        Phase::Proof | Phase::Helped => helped(state, bench, work, line, reply),
    }
}

fn sure(state: &mut State, bench: &Bench, mut work: Work, line: &str, reply: &mut Reply) {
    let cause = &bench.library.causes[work.cause];
    match read_choice(
        line,
        &["yes", "no", "dont-know"],
        &["yes that is it", "no it is not that", "can't say, go on anyway"],
    ) {
        Some((Read::Choice(1), rest)) => {
            state.thread().declined.insert(work.cause);
            let what = What::Repair(vec![work.cause], RepairOutcome::DidNotHelp);
            let evidence = Evidence { what, reliability: 0.95, origin: Origin::Answered };
            state.thread().observations.push(Observation { evidence, words: format!("checked, not: {}", cause.title) });
            state.focus = Focus::Open;
            let mut taken = listen::Taken::default();
            if rest.split_whitespace().count() > 1 {
                taken = listen::take_in(state, bench, &rest, reply, None);
            }
            listen::proceed(state, bench, taken, reply);
        }
        Some(_) => go_on_to_steps(state, bench, work, reply),
        None if is_next(line) => go_on_to_steps(state, bench, work, reply),
        None => {
            work.phase = Phase::Sure;
            aside_or_lost(state, bench, work, line, "1 yes, 2 no, 3 can't say", reply);
        }
    }
}

fn go_on_to_steps(state: &mut State, bench: &Bench, mut work: Work, reply: &mut Reply) {
    let cause = &bench.library.causes[work.cause];
    if cause.normal {
        reply.add("Then nothing is wrong.");
        let advice = cause.section("What to do").map(|s| steps(&s.markdown)).unwrap_or_default();
        reply.push(Block::List { items: advice.iter().take(3).map(with_cautions).collect() });
        work.phase = Phase::Helped;
        state.focus = Focus::Work(Box::new(work));
        reply.push(Block::Choices {
            text: "Does that settle it?".into(),
            choices: numbered([
                ("yes", "Yes"),
                ("partly", "Partly"),
                ("no", "No"),
                ("not-done", "I still have to see"),
            ]),
        });
        return;
    }
    if cause.urgency == Urgency::StopRiding {
        reply.push(Block::Warning {
            level: "stop-riding".into(),
            text: "Not to be ridden before the proof at the end has passed.".into(),
        });
    }
    reply.aside(next::effort(cause));
    work.phase = first_step(cause);
    enter(state, bench, work, reply);
}

fn is_next(line: &str) -> bool {
    let l = line.to_lowercase();
    ["next", "n", "ok", "okay", "done", "go on", "yes", "y", "continue", "did it", "ready", "further", "1"]
        .contains(&l.trim_end_matches(['.', '!']))
}

fn step(state: &mut State, bench: &Bench, mut work: Work, i: usize, line: &str, reply: &mut Reply) {
    let cause = &bench.library.causes[work.cause];
    let l = line.to_lowercase();
    if is_next(line) {
        work.phase = if i + 1 < work_steps(cause).len() { Phase::Step(i + 1) } else { Phase::Proof };
        enter(state, bench, work, reply);
    } else if ["can't", "cant", "cannot", "couldn't", "stuck", "no tool", "i can't"].iter().any(|w| l.starts_with(w)) {
        work.phase = Phase::Helped;
        reply.add("Then leave it there: put back what you took apart, and let somebody with the tools do it.");
        state.focus = Focus::Work(Box::new(work));
        next::repeat_prompt(state, bench, reply);
    } else {
        aside_or_lost(state, bench, work, line, "next, back, stop work", reply);
    }
}

/// Something else typed while work is led: a question, a fact, or nothing that can be placed. The work stays open.
fn aside_or_lost(state: &mut State, bench: &Bench, work: Work, line: &str, answers: &str, reply: &mut Reply) {
    if super::reading::question(state, bench, line, reply) {
        reply.aside(format!("The work is still open: {answers}."));
    } else {
        let heard = bench.ears.hear(line);
        if heard.is_empty() && crate::units::find_all(line).is_empty() {
            reply.add(format!("I could not place \"{}\". The work is still open: {answers}.", listen::shorten(line)));
        } else {
            listen::take_in(state, bench, line, reply, None);
            reply.aside(format!("Noted. The work is still open: {answers}."));
        }
    }
    state.focus = Focus::Work(Box::new(work));
}

fn helped(state: &mut State, bench: &Bench, work: Work, line: &str, reply: &mut Reply) {
    let says = [
        "yes it helped done gone fixed",
        "partly, a bit better",
        "no it did not help, still there",
        "couldn't do it, not done",
    ];
    let mut read = read_choice(line, &["yes", "partly", "no", "not-done"], &says);
    let l = line.to_lowercase();
    if read.is_none() || matches!(read, Some((Read::DontKnow | Read::CantNow, _))) {
        read = if ["still", "same", "didn't help", "didnt help", "no change"].iter().any(|w| l.contains(w)) {
            Some((Read::Choice(2), String::new()))
        } else if ["fixed", "gone", "worked", "solved", "cured"].iter().any(|w| l.contains(w)) {
            Some((Read::Choice(0), String::new()))
        } else if ["better", "a bit", "somewhat"].iter().any(|w| l.contains(w)) {
            Some((Read::Choice(1), String::new()))
        } else if read.is_some()
            || ["couldn't", "couldnt", "could not", "can't", "cant"].iter().any(|w| l.starts_with(w))
        {
            Some((Read::Choice(3), String::new()))
        } else {
            None
        };
    }
    let Some((Read::Choice(i), rest)) = read else {
        return aside_or_lost(state, bench, work, line, "1 yes, 2 partly, 3 no, 4 couldn't do it", reply);
    };
    let (outcome, evidence) = match i {
        0 => (Outcome::Helped, Some(RepairOutcome::Helped)),
        1 => (Outcome::Partly, Some(RepairOutcome::HelpedPartly)),
        2 => (Outcome::No, Some(RepairOutcome::DidNotHelp)),
        _ => (Outcome::NotDone, None),
    };
    let cause = &bench.library.causes[work.cause];
    state.thread().works.push((work.cause, outcome));
    if let Some(e) = evidence {
        let evidence = Evidence { what: What::Repair(vec![work.cause], e), reliability: 0.97, origin: Origin::Work };
        state.thread().observations.push(Observation { evidence, words: cause.title.clone() });
    }
    state.focus = Focus::Open;
    if state.setup.is_some() {
        return setup::stage_done(state, bench, outcome, reply);
    }
    let mut taken = listen::Taken::default();
    if rest.split_whitespace().count() > 1 {
        taken = listen::take_in(state, bench, &rest, reply, None);
    }
    match outcome {
        Outcome::Helped => close(state, cause, reply),
        Outcome::Partly => {
            reply.add("Better, but not all of it: a second cause is likely. Let us look at what is left.");
            listen::proceed(state, bench, taken, reply);
        }
        Outcome::No => {
            reply.add("Then that was not it, or not all. It counts against it from now on.");
            listen::proceed(state, bench, taken, reply);
        }
        Outcome::NotDone => {
            if cause.urgency == Urgency::StopRiding {
                reply.push(Block::Warning {
                    level: "stop-riding".into(),
                    text: "Then do not ride it; take or carry it to a workshop.".into(),
                });
            }
            reply.add(format!("Noted. For the workshop: {}", cause.short));
            reply.aside("card writes it down. Or tell me more, or say: another.");
        }
    }
}

/// The thread has been solved.
fn close(state: &State, cause: &Cause, reply: &mut Reply) {
    reply.add(if cause.normal { "Good. Ride on." } else { "Good. Look at it once more after the next ride." });
    let open = state
        .threads
        .iter()
        .enumerate()
        .filter(|(i, t)| *i != state.at && t.works.iter().all(|(_, o)| *o != Outcome::Helped))
        .count();
    if open > 0 {
        reply.aside(format!("{open} other complaint{} still open: switch.", if open == 1 { " is" } else { "s are" }));
    }
    reply.aside("card writes down what was found and done. Another complaint? Just tell me, or say: another.");
}

/// Leaves the work without an outcome.
pub(super) fn stop(state: &mut State, bench: &Bench, reply: &mut Reply) {
    let Focus::Work(_) = &state.focus else {
        reply.add("No work is open.");
        return;
    };
    state.focus = Focus::Open;
    reply.add("Work left. Put back what you took apart before riding.");
    if state.setup.is_some() {
        setup::stage_done(state, bench, Outcome::NotDone, reply);
    }
}
