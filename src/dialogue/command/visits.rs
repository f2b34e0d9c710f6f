//! The last visits of the bike.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::known::Asked;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["visits", "history", "what was done last time"],
    summary: "The last visits of this bike in the book.",
    help: "Name the bike first.",
    examples: &["visits"],
    run,
};

fn run(_session: &mut Session, _bench: &Bench, _rest: &str, reply: Reply) -> Vec<Effect> {
    vec![Effect::Say(reply), Effect::Book(Asked::Visits)]
}
