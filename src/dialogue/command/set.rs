//! A setting that was set on purpose.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::told;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["set …", "i set …"],
    summary: "Notes a setting that was set on purpose: from now on it is what others are compared with.",
    help: "While a trial runs it warns, because two things changed at once teach nothing.",
    examples: &["set the saddle height to 742 mm"],
    run,
};

fn run(session: &mut Session, bench: &Bench, rest: &str, mut reply: Reply) -> Vec<Effect> {
    if let Some(setting) = told::read(rest) {
        session.changing(|state| told::take(state, bench, &setting, true, &mut reply));
    } else if let Some(why) = told::misread(rest) {
        reply.add(why);
    }
    vec![Effect::Say(reply)]
}
