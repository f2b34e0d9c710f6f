//! Starting over.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::state::State;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["start over", "start again", "restart", "new conversation", "forget it all"],
    summary: "Starts over; back takes even that back.",
    help: "Everything told so far is put aside.",
    examples: &["start over"],
    run,
};

fn run(session: &mut Session, _bench: &Bench, _rest: &str, mut reply: Reply) -> Vec<Effect> {
    session.changing(|state| *state = State::default());
    reply.extend(Session::greeting());
    vec![Effect::Say(reply)]
}
