//! Leaving the work that is led.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;
use crate::dialogue::{figures, trying, work};

pub(super) static COMMAND: Command = Command {
    words: &["stop work", "stop", "stop this", "leave it", "cancel"],
    summary: "Leaves the work or the calculation that is open.",
    help: "The conversation goes on; nothing told is lost.",
    examples: &["stop work"],
    run,
};

fn run(session: &mut Session, bench: &Bench, _rest: &str, mut reply: Reply) -> Vec<Effect> {
    session.changing(|state| {
        if figures::leave(state, bench, &mut reply) {
            return;
        }
        if let Some(what) = trying::park(state) {
            reply.add(format!("The trial stays open; trial {what} goes on with it."));
            return;
        }
        work::stop(state, bench, &mut reply);
    });
    vec![Effect::Say(reply)]
}
