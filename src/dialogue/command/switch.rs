//! Going from one complaint to another.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::reply::{Block, Reply};
use crate::dialogue::session::Session;
use crate::dialogue::state::Focus;
use crate::dialogue::turn::Effect;
use crate::dialogue::{listen, next};

pub(super) static COMMAND: Command = Command {
    words: &["switch", "switch …", "switch to …", "complaints"],
    summary: "Goes to another complaint of this conversation.",
    help: "Without a number: the list, or the other one of two.",
    examples: &["switch 1"],
    run,
};

fn run(session: &mut Session, bench: &Bench, rest: &str, mut reply: Reply) -> Vec<Effect> {
    let n = session.state.threads.len();
    let to = match rest.parse::<usize>() {
        Ok(k) if k >= 1 && k <= n => Some(k - 1),
        Ok(_) => None,
        Err(_) if n == 2 => Some(1 - session.state.at.min(1)),
        Err(_) => None,
    };
    match to {
        Some(k) => session.changing(|state| {
            state.at = k;
            state.focus = Focus::Open;
            state.setup = None;
            let said = state.current().and_then(|t| t.said.first().cloned()).unwrap_or_default();
            reply.aside(format!("Complaint {}: {}", k + 1, listen::shorten(&said)));
            next::go_on(state, bench, &mut reply);
        }),
        None => {
            let items: Vec<String> = session
                .state
                .threads
                .iter()
                .map(|t| listen::shorten(t.said.first().map_or("(nothing told yet)", String::as_str)))
                .collect();
            if items.is_empty() {
                reply.add("There is no complaint yet.");
            } else {
                reply.add("Complaints so far; switch and a number takes one up:");
                let items = items.iter().enumerate().map(|(i, t)| format!("{}: {t}", i + 1)).collect();
                reply.push(Block::List { items });
            }
        }
    }
    vec![Effect::Say(reply)]
}
