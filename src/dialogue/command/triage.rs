//! The bench slip: three questions for the phone, likely work, whether it may be ridden in.

use super::Command;
use super::open_thread;
use crate::dialogue::bench::Bench;
use crate::dialogue::reply::{Block, Reply};
use crate::dialogue::session::Session;
use crate::dialogue::state::State;
use crate::dialogue::turn::Effect;
use crate::dialogue::{listen, next};
use crate::domain::{DangerLevel, How, Urgency};

pub(super) static COMMAND: Command = Command {
    words: &["triage", "triage …"],
    summary: "One screen for the bench: questions for the phone, likely minutes and tools, whether to ride it in.",
    help: "Give the complaint after it, or use it in a conversation.",
    examples: &["triage front brake squeals since the wash"],
    run,
};

fn run(session: &mut Session, bench: &Bench, rest: &str, mut reply: Reply) -> Vec<Effect> {
    session.changing(|state| {
        if !rest.is_empty() {
            open_thread(state);
            listen::take_in(state, bench, rest, &mut reply, None);
        }
        if state.current().is_none_or(|t| t.said.is_empty()) {
            reply.add("Give the complaint after it: triage rear brake squeals since the wash.");
            return;
        }
        slip(state, bench, &mut reply);
    });
    vec![Effect::Say(reply)]
}

fn slip(state: &mut State, bench: &Bench, reply: &mut Reply) {
    let belief = state.belief(bench);
    let stop = belief.mass(&bench.model, Urgency::StopRiding);
    let warned = listen::warned(state, bench, DangerLevel::StopRiding);
    reply.push(Block::Heading { text: "Triage".into() });
    let beliefs = next::beliefs(state, bench, &belief, 3);
    reply.push(beliefs);
    reply.add("Ask the customer:");
    let mut ranked = next::questions(state, bench, &belief);
    ranked.retain(|q| bench.library.findings[q.finding.0].how != How::Measure);
    reply.push(Block::List {
        items: ranked.iter().take(3).map(|q| bench.library.findings[q.finding.0].ask.clone()).collect(),
    });
    let minutes: f64 = belief.p.iter().zip(&bench.model.minutes).map(|(p, m)| p * m).sum();
    let mut tools: Vec<&str> = Vec::new();
    for (c, _) in belief.ranked().into_iter().take(3) {
        for t in bench.library.causes.get(c).map(|c| c.tools.as_slice()).unwrap_or_default() {
            if !tools.contains(&t.as_str()) && tools.len() < 6 {
                tools.push(t);
            }
        }
    }
    reply.add(format!(
        "Time: about {minutes:.0} minutes. Tools: {}.",
        if tools.is_empty() { "none".into() } else { tools.join(", ") }
    ));
    reply.add(if warned || stop > 0.25 { "Not to be ridden in: carry it." } else { "May be ridden in, gently." });
}
