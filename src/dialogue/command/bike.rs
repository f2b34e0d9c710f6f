//! Which bike this is, in the book.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::known::Asked;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["bike name …", "name the bike …"],
    summary: "Names the bike: what the book knows of it is taken in; a new name is made.",
    help: "Facts, settings, repairs and due checks come back with it; the visit is written at leave.",
    examples: &["bike name red hardtail"],
    run,
};

fn run(_session: &mut Session, _bench: &Bench, rest: &str, reply: Reply) -> Vec<Effect> {
    vec![
        Effect::Say(reply),
        Effect::Book(Asked::Bike { words: rest.to_owned(), make: true, then: String::new(), line: String::new() }),
    ]
}
