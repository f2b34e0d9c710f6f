//! What can be done here and now: tools, place, time. Questions obey it.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::next;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &[
        "no tools",
        "i have no tools",
        "i've no tools",
        "no stand",
        "no workstand",
        "i have no stand",
        "on the trail",
        "i'm on the trail",
        "i am on the trail",
        "out on a ride",
        "i can't ride it",
        "can't ride now",
        "five minutes",
        "i have five minutes",
        "i have my tools",
        "in the workshop",
        "at home",
    ],
    summary: "Says what is at hand (no tools, on the trail, five minutes, in the workshop); questions obey it.",
    help: "in the workshop, or at home, takes it back.",
    examples: &["no tools", "in the workshop"],
    run,
};

fn run(session: &mut Session, bench: &Bench, _rest: &str, mut reply: Reply) -> Vec<Effect> {
    let said = session.lines().last().map(|l| l.to_lowercase()).unwrap_or_default();
    session.changing(|state| {
        let c = &mut state.shared.circumstances;
        if said.contains("workshop") || said.contains("home") || said.contains("my tools") {
            c.has_tools = true;
            c.can_ride = true;
            c.minutes = None;
        }
        if said.contains("no ") || said.contains("trail") || said.contains("on a ride") {
            c.has_tools = false;
        }
        if said.contains("ride it") || said.contains("ride now") {
            c.can_ride = false;
        }
        if said.contains("minutes") {
            c.minutes = Some(5.0);
        }
        reply.aside("Noted: I ask only for what can be done here and now.");
        next::repeat_prompt(state, bench, &mut reply);
    });
    vec![Effect::Say(reply)]
}
