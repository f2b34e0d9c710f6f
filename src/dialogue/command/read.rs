//! Reading a note.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::reading;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["read …", "open …"],
    summary: "Reads a note: by its number in the list shown last, or by name.",
    help: "Links in a note are numbered; read and the number follows one.",
    examples: &["read 1", "read disc-rotor-bent"],
    run,
};

fn run(session: &mut Session, bench: &Bench, rest: &str, mut reply: Reply) -> Vec<Effect> {
    let id = match rest.parse::<usize>() {
        Ok(n) => n.checked_sub(1).and_then(|i| session.state.shared.listed.get(i)).cloned(),
        Err(_) => Some(rest.trim().to_lowercase().replace(' ', "-")),
    };
    session.changing(|state| {
        let shown = id.as_deref().is_some_and(|id| {
            reading::show(state, bench, id, &mut reply) || reading::show(state, bench, rest.trim(), &mut reply)
        });
        if !shown {
            if rest.parse::<usize>().is_ok() {
                reply.add(format!("There is no number {rest} in the list shown last."));
            } else {
                reading::search(state, bench, rest, &mut reply);
            }
        }
    });
    vec![Effect::Say(reply)]
}
