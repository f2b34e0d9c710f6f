//! When a new bike must be looked at again.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::known::Asked;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["recheck plan", "plan the rechecks"],
    summary: "Notes when this bike must be looked at again: after the first ride, the first weeks, the first season.",
    help: "Dates and distances are common practice, no source.",
    examples: &["recheck plan"],
    run,
};

fn run(_session: &mut Session, _bench: &Bench, _rest: &str, reply: Reply) -> Vec<Effect> {
    vec![Effect::Say(reply), Effect::Book(Asked::Plan)]
}
