//! Whose bike it is.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::known::Asked;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["rider name …", "name the rider …"],
    summary: "Names the rider, for the book and the card.",
    help: "A name of your choice; erase rider takes it out of the book again.",
    examples: &["rider name Anna"],
    run,
};

fn run(session: &mut Session, _bench: &Bench, rest: &str, reply: Reply) -> Vec<Effect> {
    session.changing(|state| state.shared.rider = Some(rest.to_owned()));
    vec![Effect::Say(reply), Effect::Book(Asked::Rider { name: rest.to_owned() })]
}
