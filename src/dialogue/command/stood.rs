//! How the bike stood on a day.

use super::Command;
use crate::dialogue::apart::read_day;
use crate::dialogue::bench::Bench;
use crate::dialogue::known::Asked;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["settings on …", "settings of …", "settings as of …"],
    summary: "How the bike stood on a day: its settings, facts and wear as the book had them at the end of it.",
    help: "Name the bike first. What was put right only later is not seen.",
    examples: &["settings on 3 May 2026", "settings on 2026-05-03"],
    run,
};

fn run(session: &mut Session, _bench: &Bench, rest: &str, mut reply: Reply) -> Vec<Effect> {
    match read_day(rest, &session.state.shared.today) {
        Some(day) => vec![Effect::Say(reply), Effect::Book(Asked::Stood { day })],
        None => {
            reply.add(format!("\"{rest}\" is no day that I can read; this would be: 3 May 2026, or 2026-05-03."));
            vec![Effect::Say(reply)]
        }
    }
}
