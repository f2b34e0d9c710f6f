//! A greeting is answered.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::next;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["hello", "hi", "hey", "good morning", "thanks", "thank you"],
    summary: "Answers a greeting, and shows the open prompt again.",
    help: "",
    examples: &["hello"],
    run,
};

fn run(session: &mut Session, bench: &Bench, _rest: &str, mut reply: Reply) -> Vec<Effect> {
    if session.state.current().is_none_or(|t| t.said.is_empty()) {
        reply.extend(Session::greeting());
    } else {
        reply.aside("Still here.");
        next::repeat_prompt(&session.state, bench, &mut reply);
    }
    vec![Effect::Say(reply)]
}
