//! A check that was due and has been done.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::known::Asked;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["checked …"],
    summary: "Notes that a check of the list of due ones was done, and what was found.",
    help: "due shows the list; checked 2, a spoke was loose.",
    examples: &["checked 1 all tight"],
    run,
};

fn run(_session: &mut Session, _bench: &Bench, rest: &str, reply: Reply) -> Vec<Effect> {
    let digits = rest.chars().take_while(char::is_ascii_digit).count();
    let number = rest[..digits].parse().unwrap_or(0);
    let found = rest[digits..].trim_start_matches([',', '.', ':', ' ']).to_owned();
    vec![Effect::Say(reply), Effect::Book(Asked::Done { number, found })]
}
