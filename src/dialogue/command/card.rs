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
    help: "card to FILE writes it as text, Markdown, HTML or JSON by the ending.",
    examples: &["card", "card to visit.txt"],
    run,
};

fn run(session: &mut Session, bench: &Bench, rest: &str, reply: Reply) -> Vec<Effect> {
    let record = Box::new(Record::of(&session.state, bench, session.lines()));
    let file = rest.trim_start_matches("to ").trim();
    vec![Effect::Say(reply), Effect::Card { file: (!file.is_empty()).then(|| file.to_owned()), record }]
}
