//! Trying one setting by small steps.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::trying;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["trial", "trial …", "try out …"],
    summary: "Tries one setting by small steps from a noted baseline, asking after each pair of rides.",
    help: "It stops when better no longer comes, and says how sure one can be.",
    examples: &["trial", "trial saddle height"],
    run,
};

fn run(session: &mut Session, bench: &Bench, rest: &str, mut reply: Reply) -> Vec<Effect> {
    session.changing(|state| trying::begin(state, bench, rest, &mut reply));
    vec![Effect::Say(reply)]
}
