//! Erasing a rider from the book.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::known::Asked;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["erase rider …"],
    summary: "Erases everything about a rider from the book, without trace.",
    help: "Bikes stay, without what is personal. It cannot be taken back, so it is done only with the words: for good.",
    examples: &["erase rider Anna", "erase rider Anna for good"],
    run,
};

fn run(_session: &mut Session, _bench: &Bench, rest: &str, reply: Reply) -> Vec<Effect> {
    let (name, surely) = match rest.strip_suffix(" for good") {
        Some(name) => (name.trim(), true),
        None => (rest, false),
    };
    vec![Effect::Say(reply), Effect::Book(Asked::Erase { name: name.to_owned(), surely })]
}
