//! One step back.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::next;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["back", "go back", "one step back", "undo", "take that back", "oops"],
    summary: "One step back; again for another.",
    help: "Answers, work steps and corrections are all taken back exactly.",
    examples: &["back"],
    run,
};

fn run(session: &mut Session, bench: &Bench, _rest: &str, mut reply: Reply) -> Vec<Effect> {
    if session.back() {
        reply.aside("One step back.");
        next::repeat_prompt(&session.state, bench, &mut reply);
    } else {
        reply.add("There is nothing to go back to.");
    }
    vec![Effect::Say(reply)]
}
