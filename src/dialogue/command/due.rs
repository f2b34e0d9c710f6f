//! What is due.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::known::Asked;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["due", "what is due", "what is due now"],
    summary: "Checks that are due now, on this bike or on all.",
    help: "recheck plan notes those of a new bike.",
    examples: &["due"],
    run,
};

fn run(_session: &mut Session, _bench: &Bench, _rest: &str, reply: Reply) -> Vec<Effect> {
    vec![Effect::Say(reply), Effect::Book(Asked::Due)]
}
