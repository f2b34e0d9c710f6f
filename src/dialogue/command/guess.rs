//! The likeliest cause now, without further questions.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::next;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::state::Focus;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &[
        "best guess",
        "your best guess",
        "whats your best guess",
        "what's your best guess",
        "guess",
        "enough questions",
        "enough",
        "no more questions",
        "stop asking",
        "just tell me",
    ],
    summary: "Names the likeliest cause now, without more questions.",
    help: "A question about safety is still asked first. Telling me more later goes on from there.",
    examples: &["best guess"],
    run,
};

fn run(session: &mut Session, bench: &Bench, _rest: &str, mut reply: Reply) -> Vec<Effect> {
    let state = &mut session.state;
    if state.current().is_none_or(|t| t.said.is_empty()) {
        reply.add("Nothing yet: tell me what is the matter.");
        return vec![Effect::Say(reply)];
    }
    match state.focus {
        Focus::Open | Focus::Finding(_) => next::propose(state, bench, &mut reply),
        Focus::Danger(_) => {
            reply.add("This first, for safety:");
            next::repeat_prompt(state, bench, &mut reply);
        }
        _ => next::repeat_prompt(state, bench, &mut reply),
    }
    vec![Effect::Say(reply)]
}
