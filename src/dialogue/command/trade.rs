//! The mechanic's short form.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::next;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;
use crate::domain::Skill;

pub(super) static COMMAND: Command = Command {
    words: &["mechanic", "i am a mechanic", "i'm a mechanic", "short form", "plain form"],
    summary: "Changes between plain words and the mechanic's short form.",
    help: "The short form also asks for measurements that need tools and practice.",
    examples: &["mechanic"],
    run,
};

fn run(session: &mut Session, bench: &Bench, _rest: &str, mut reply: Reply) -> Vec<Effect> {
    session.changing(|state| {
        state.shared.trade = !state.shared.trade;
        state.shared.circumstances.skill = if state.shared.trade { Skill::Workshop } else { Skill::Beginner };
        reply.add(if state.shared.trade {
            "Short form for the trade: terse questions, measuring first where it pays."
        } else {
            "Plain form: everyday words, no measuring tools."
        });
        next::repeat_prompt(state, bench, &mut reply);
    });
    vec![Effect::Say(reply)]
}
