//! Searching the notes.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::reading;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["find …", "search …", "look up …", "search for …", "notes on …"],
    summary: "Finds notes by words.",
    help: "The best passage is shown with your words marked; typing errors are forgiven.",
    examples: &["find rotor rub", "find saddel hight"],
    run,
};

fn run(session: &mut Session, bench: &Bench, rest: &str, mut reply: Reply) -> Vec<Effect> {
    session.changing(|state| reading::search(state, bench, rest, &mut reply));
    vec![Effect::Say(reply)]
}
