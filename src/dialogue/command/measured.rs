//! A setting as it was found, or the distance ridden.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::known::Asked;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::told;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["measured …", "i measured …"],
    summary: "Notes a setting as found and compares it with the card; or the distance ridden.",
    help: "The settings are those that trial lists. What is set on purpose is told with set.",
    examples: &["measured saddle height 733 mm", "measured distance 1200 km"],
    run,
};

fn run(session: &mut Session, bench: &Bench, rest: &str, mut reply: Reply) -> Vec<Effect> {
    if let Some((metres, text)) = told::distance(rest) {
        return vec![Effect::Say(reply), Effect::Book(Asked::Distance { metres, text })];
    }
    match told::read(rest) {
        Some(setting) => session.changing(|state| told::take(state, bench, &setting, false, &mut reply)),
        None => reply.add(told::misread(rest).unwrap_or_else(|| {
            "Name one setting and its value, for example: measured saddle height 733 mm. The settings: trial lists them."
                .into()
        })),
    }
    vec![Effect::Say(reply)]
}
