//! The set-up of a new bike: facts asked once, then the stages that this bike needs, each a guide that is led.

use super::answer::{Read, read_choice};
use super::bench::Bench;
use super::listen;
use super::next;
use super::reply::{Block, Reply, numbered};
use super::state::{Focus, Observation, Outcome, State, Thread};
use super::work;
use crate::belief::{Evidence, Origin, What};
use crate::domain::{AnswerIx, FindingIx};

/// A stage: its name, the guides that serve it (the first that exists), and the facts under which it applies.
pub(super) struct Stage {
    /// Name shown.
    pub(super) name: &'static str,
    /// Guide ids in order of preference.
    pub(super) guides: &'static [&'static str],
    /// Fact and answers that must hold, where known.
    pub(super) needs: &'static [(&'static str, &'static [&'static str])],
}

/// The order of a mechanic's set-up: safe first, then the rider's place, then springs and tyres, then the drive.
pub(super) static STAGES: &[Stage] = &[
    Stage { name: "Safe to begin", guides: &["new-bike-safety-check"], needs: &[] },
    Stage { name: "Saddle height", guides: &["set-saddle-height"], needs: &[] },
    Stage { name: "Saddle tilt and place", guides: &["set-saddle-tilt"], needs: &[] },
    Stage { name: "Bar straight", guides: &["square-the-bar"], needs: &[] },
    Stage {
        name: "Bar roll",
        guides: &["set-bar-roll"],
        needs: &[("suspension-kind", &["hardtail"]), ("bar-kind", &["flat", "upright"])],
    },
    Stage {
        name: "Brake levers",
        guides: &["set-levers"],
        needs: &[("brake-kind", &["rim", "disc-hydraulic", "disc-cable", "drum"])],
    },
    Stage { name: "Sag, front", guides: &["set-sag-fork"], needs: &[("suspension-kind", &["hardtail", "full"])] },
    Stage { name: "Sag, rear", guides: &["set-sag-shock"], needs: &[("suspension-kind", &["full"])] },
    Stage { name: "Rebound", guides: &["set-rebound"], needs: &[("suspension-kind", &["hardtail", "full"])] },
    Stage { name: "Tyre pressures", guides: &["set-tyre-pressure"], needs: &[] },
    Stage { name: "Chain length", guides: &["size-a-chain"], needs: &[("gear-kind", &["derailleur"])] },
    Stage {
        name: "Chain tension",
        guides: &["set-chain-tension-single-speed"],
        needs: &[("gear-kind", &["single", "hub-gear"])],
    },
    Stage {
        name: "Brakes checked and bedded in",
        guides: &["bed-in-brakes"],
        needs: &[("brake-kind", &["disc-hydraulic", "disc-cable"])],
    },
    Stage {
        name: "Brakes checked",
        guides: &["check-brakes-before-ride"],
        needs: &[("brake-kind", &["rim", "drum", "back-pedal"])],
    },
    Stage { name: "Cleats", guides: &["set-cleats"], needs: &[("pedal-kind", &["clip-in"])] },
    Stage { name: "Fasteners", guides: &["read-the-torque-marks"], needs: &[] },
    Stage { name: "First ride: what to carry", guides: &["first-ride-what-to-carry"], needs: &[] },
    Stage { name: "First ride: small-step trials", guides: &["one-change-at-a-time"], needs: &[] },
    Stage { name: "What to recheck after", guides: &["recheck-after-first-ride"], needs: &[] },
];

/// Facts asked once, in this order.
const FACTS: [&str; 6] = ["bike-kind", "suspension-kind", "brake-kind", "gear-kind", "bar-kind", "pedal-kind"];

/// The set-up while it runs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Setup {
    /// Facts passed over.
    passed: Vec<String>,
    /// Next stage, by position.
    stage: usize,
    /// What came of the stages so far.
    done: Vec<(usize, bool)>,
}

/// Whether the line wishes for a whole set-up.
pub(super) fn wanted(line: &str) -> bool {
    let l = line.to_lowercase();
    let new = ["new bike", "new bicycle", "first setup", "whole setup", "new mtb", "new hardtail", "new road bike"]
        .iter()
        .any(|w| l.contains(w));
    let set = ["set it up", "set up", "setup", "set-up", "setting up", "help me set"].iter().any(|w| l.contains(w));
    let whole = [
        "set up my bike",
        "set my bike up",
        "set up the bike",
        "set up a bike",
        "set up my new",
        "setup my bike",
        "whole set-up",
        "full set-up",
        "full setup",
    ];
    (new && set) || whole.iter().any(|w| l.contains(w))
}

/// Begins the set-up.
pub(super) fn begin(state: &mut State, bench: &Bench, line: &str, reply: &mut Reply) {
    state.threads.push(Thread::default());
    state.at = state.threads.len() - 1;
    state.shared.set_up = true;
    state.setup = Some(Setup { passed: Vec::new(), stage: 0, done: Vec::new() });
    reply.push(Block::Heading { text: "Setting up a new bike".into() });
    reply.add("A few facts first, each asked once; then stage by stage: safe, saddle, bar, levers, springs, tyres, chain, brakes, bolts, first ride. Skip what you like.");
    listen::take_in(state, bench, line, reply, None);
    go_on(state, bench, reply);
}

/// The next fact still wanted.
fn next_fact(state: &State, bench: &Bench) -> Option<FindingIx> {
    let setup = state.setup.as_ref()?;
    FACTS
        .iter()
        .filter(|id| !setup.passed.iter().any(|p| p == *id))
        .filter_map(|id| bench.library.finding(id))
        .find(|f| state.known(*f).is_none())
}

/// Whether a stage applies to what is known of the bike.
fn applies(state: &State, bench: &Bench, stage: &Stage) -> bool {
    guide(bench, stage).is_some()
        && stage.needs.iter().all(|(fact, allowed)| {
            let Some(f) = bench.library.finding(fact) else { return true };
            match state.known(f) {
                Some((a, _)) => allowed.contains(&bench.library.findings[f.0].answers[a.0].id.as_str()),
                // What the rider does not know of is asked by the stage itself, unless it is suspension or cleats.
                None => !matches!(*fact, "suspension-kind" | "pedal-kind"),
            }
        })
}

fn guide(bench: &Bench, stage: &Stage) -> Option<usize> {
    stage.guides.iter().find_map(|g| bench.library.cause(g)).map(|c| c.0)
}

/// Goes on with facts, then stages, then the end.
fn go_on(state: &mut State, bench: &Bench, reply: &mut Reply) {
    if next_fact(state, bench).is_none() {
        let at = state.setup.as_ref().map_or(0, |s| s.stage);
        let next = (at..STAGES.len()).find(|i| applies(state, bench, &STAGES[*i]));
        match (next, state.setup.as_mut()) {
            (Some(i), Some(setup)) => setup.stage = i,
            _ => return finish(state, reply),
        }
    }
    state.focus = Focus::Setup;
    prompt(state, bench, reply);
}

/// Shows the open prompt of the set-up.
pub(super) fn prompt(state: &State, bench: &Bench, reply: &mut Reply) {
    if let Some(f) = next_fact(state, bench) {
        reply.push(next::question(state, bench, f));
        return;
    }
    let Some(setup) = &state.setup else { return };
    let all: Vec<usize> = (0..STAGES.len()).filter(|i| applies(state, bench, &STAGES[*i])).collect();
    let number = all.iter().position(|i| *i == setup.stage).map_or(1, |p| p + 1);
    let stage = &STAGES[setup.stage];
    let minutes = guide(bench, stage).map_or(5.0, |c| bench.library.causes[c].minutes);
    reply.push(Block::Choices {
        text: format!("Stage {number} of {}: {} (about {minutes:.0} minutes).", all.len(), stage.name),
        choices: numbered([
            ("lead", "Lead me through it"),
            ("done", "That is done already"),
            ("skip", "Skip it"),
            ("end", "End the set-up here"),
        ]),
    });
}

/// An answer at the set-up's prompt.
pub(super) fn answer(state: &mut State, bench: &Bench, line: &str, reply: &mut Reply) {
    if let Some(f) = next_fact(state, bench) {
        return fact(state, bench, f, line, reply);
    }
    let texts = ["yes lead me through it ok go", "that is done already", "skip it", "end the set-up here stop"];
    let mut read = read_choice(line, &["lead", "done", "skip", "end"], &texts);
    if read.is_none() && ["yes", "ok", "okay", "next", "go", "go on"].contains(&line.to_lowercase().as_str()) {
        read = Some((Read::Choice(0), String::new()));
    }
    let at = state.setup.as_ref().map_or(0, |s| s.stage);
    match read.map(|r| r.0) {
        Some(Read::Choice(0)) => match guide(bench, &STAGES[at]) {
            Some(c) => work::begin(state, bench, c, reply),
            None => stage_done(state, bench, Outcome::NotDone, reply),
        },
        Some(Read::Choice(1)) => stage_done(state, bench, Outcome::Helped, reply),
        Some(Read::Choice(2) | Read::DontKnow | Read::CantNow) => stage_done(state, bench, Outcome::NotDone, reply),
        Some(Read::Choice(_)) => finish(state, reply),
        None => {
            if !super::reading::question(state, bench, line, reply) {
                let taken = listen::take_in(state, bench, line, reply, None);
                if !taken.anything {
                    reply.add(format!("I could not place \"{}\". Answer 1 to 4.", listen::shorten(line)));
                }
            }
            go_on(state, bench, reply);
        }
    }
}

fn fact(state: &mut State, bench: &Bench, f: FindingIx, line: &str, reply: &mut Reply) {
    let finding = &bench.library.findings[f.0];
    let ids: Vec<&str> = finding.answers.iter().map(|a| a.id.as_str()).chain(["dont-know", "cant-now"]).collect();
    let says: Vec<&str> =
        finding.answers.iter().map(|a| a.says.as_str()).chain(["don't know", "can't check now"]).collect();
    match read_choice(line, &ids, &says).map(|r| r.0) {
        Some(Read::Choice(i)) if i < finding.answers.len() => {
            let evidence = Evidence { what: What::Is(f, AnswerIx(i)), reliability: 0.95, origin: Origin::Answered };
            state.observe(bench, Observation { evidence, words: finding.answers[i].says.clone() });
        }
        Some(_) => pass(state, &finding.id),
        None => {
            let taken = listen::take_in(state, bench, line, reply, None);
            if state.known(f).is_none() && !taken.anything && !super::reading::question(state, bench, line, reply) {
                let known: Vec<String> =
                    finding.answers.iter().map(|a| listen::brief(&a.says).to_lowercase()).collect();
                reply.add(format!(
                    "I could not place \"{}\". The answers I know: {}; don't know.",
                    listen::shorten(line),
                    known.join("; ")
                ));
            }
        }
    }
    go_on(state, bench, reply);
}

fn pass(state: &mut State, id: &str) {
    if let Some(s) = state.setup.as_mut() {
        s.passed.push(id.to_owned());
    }
}

/// A stage has ended; on to the next.
pub(super) fn stage_done(state: &mut State, bench: &Bench, outcome: Outcome, reply: &mut Reply) {
    if let Some(s) = state.setup.as_mut() {
        s.done.push((s.stage, matches!(outcome, Outcome::Helped | Outcome::Partly)));
        s.stage += 1;
    }
    go_on(state, bench, reply);
}

fn finish(state: &mut State, reply: &mut Reply) {
    let Some(setup) = state.setup.take() else { return };
    state.focus = Focus::Open;
    reply.push(Block::Heading { text: "Set-up ended".into() });
    let list = |done: bool| -> Vec<&str> {
        setup.done.iter().filter(|(_, d)| *d == done).map(|(i, _)| STAGES[*i].name).collect()
    };
    let (yes, no) = (list(true), list(false));
    if !yes.is_empty() {
        reply.add(format!("Done: {}.", yes.join(", ")));
    }
    if !no.is_empty() {
        reply.add(format!("Left open: {}.", no.join(", ")));
    }
    reply.add("Change one thing at a time from here, by small steps, and note each one.");
    reply.aside("card writes the set-up down. Tell me if anything feels or sounds wrong on the first ride.");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wish_for_a_setup_is_told_from_a_complaint() {
        assert!(wanted("New bike, help me set it up"));
        assert!(wanted("can you help me set up my bike"));
        assert!(!wanted("new bike, the front brake rubs"));
    }
}
