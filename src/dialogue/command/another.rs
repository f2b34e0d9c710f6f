//! A second complaint as its own thread.

use super::Command;
use super::open_thread;
use crate::dialogue::bench::Bench;
use crate::dialogue::listen;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["another", "another …", "another complaint", "second complaint", "something else", "new complaint"],
    summary: "Takes up a second complaint as its own thread.",
    help: "Rider and bike facts are shared; switch and a number goes back to the first.",
    examples: &["another the saddle creaks", "another"],
    run,
};

fn run(session: &mut Session, bench: &Bench, rest: &str, mut reply: Reply) -> Vec<Effect> {
    session.changing(|state| {
        open_thread(state);
        if rest.is_empty() {
            reply.add("What else is the matter?");
        } else {
            listen::complaint(state, bench, rest, &mut reply);
        }
    });
    vec![Effect::Say(reply)]
}
