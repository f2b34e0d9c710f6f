//! What is thought likely, longer list.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::next;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &[
        "likely",
        "what do you think",
        "what else could it be",
        "what could it be",
        "what is likely",
        "what else",
        "causes",
    ],
    summary: "What is likely now, the longer list.",
    help: "Degrees of belief in words; read and a number shows the note behind one.",
    examples: &["likely"],
    run,
};

fn run(session: &mut Session, bench: &Bench, _rest: &str, mut reply: Reply) -> Vec<Effect> {
    let state = &session.state;
    if state.current().is_none_or(|t| t.said.is_empty()) {
        reply.add("Nothing yet: tell me what is the matter.");
        return vec![Effect::Say(reply)];
    }
    let belief = state.belief(bench);
    let block = next::beliefs(state, bench, &belief, 8);
    reply.push(block);
    let listed = belief
        .ranked()
        .into_iter()
        .filter_map(|(c, _)| bench.library.causes.get(c))
        .take(8)
        .map(|c| c.id.clone())
        .collect();
    session.state.shared.listed = listed;
    reply.aside("read 1 shows the note behind the first; speaks for 1 the evidence.");
    vec![Effect::Say(reply)]
}
