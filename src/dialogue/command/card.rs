//! The card: what was found, done and set.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::record::Record;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["card", "card …", "write it down", "show the card"],
    summary: "The card: rider, bike, findings, cause, settings, cautions, next checks.",
    help: "Kinds: work, set-up, trial, triage, shakedown (card set-up). With a file name it is written: .txt, .md, .html or .json.",
    examples: &["card", "card set-up to bike.html"],
    run,
};

fn run(session: &mut Session, bench: &Bench, rest: &str, reply: Reply) -> Vec<Effect> {
    let record = Box::new(Record::of(&session.state, bench, session.lines()));
    let mut words: Vec<&str> = rest.split_whitespace().filter(|w| !["to", "as", "the"].contains(w)).collect();
    let file = words.pop_if(|w| w.contains('.')).map(str::to_owned);
    vec![Effect::Say(reply), Effect::Card { kind: words.join(" "), file, record }]
}
