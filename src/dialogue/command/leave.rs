//! Leaving.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["leave", "quit", "exit", "bye", "goodbye", "end"],
    summary: "Leaves.",
    help: "Ctrl-D does the same.",
    examples: &["leave"],
    run,
};

fn run(_session: &mut Session, _bench: &Bench, _rest: &str, mut reply: Reply) -> Vec<Effect> {
    reply.aside("Ride safely.");
    vec![Effect::Say(reply), Effect::Leave]
}
