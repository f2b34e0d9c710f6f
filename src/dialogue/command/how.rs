//! How the open check is done, step by step.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::reply::{Block, Reply, in_minutes};
use crate::dialogue::session::Session;
use crate::dialogue::state::Focus;
use crate::dialogue::turn::Effect;
use crate::dialogue::{figures, reading};

pub(super) static COMMAND: Command = Command {
    words: &[
        "how",
        "how do i do that",
        "how do i check that",
        "how do i check",
        "how is that done",
        "show me how",
        "how do i measure that",
        "how do i do it",
    ],
    summary: "How the open check or measurement is done, step by step.",
    help: "At an offer or while working: the whole note.",
    examples: &["how"],
    run,
};

fn run(session: &mut Session, bench: &Bench, _rest: &str, mut reply: Reply) -> Vec<Effect> {
    let state = &mut session.state;
    let id = match &state.focus {
        Focus::Finding(f) => bench.library.findings[f.0].id.clone(),
        Focus::Danger(d) => bench.library.dangers[*d].id.clone(),
        Focus::Offer(c) => bench.library.causes[*c].id.clone(),
        Focus::Work(w) => bench.library.causes[w.cause].id.clone(),
        Focus::Calc(run) => {
            let mut reply = reply;
            figures::how(run, &mut reply);
            return vec![Effect::Say(reply)];
        }
        _ => {
            reply.add("No check is open. Ask, for example: how do I centre a brake caliper?");
            return vec![Effect::Say(reply)];
        }
    };
    if let Focus::Finding(f) = &state.focus {
        let f = &bench.library.findings[f.0];
        let tools = if f.tools.is_empty() { String::new() } else { format!(" Tools: {}.", f.tools.join(", ")) };
        reply.push(Block::Markdown {
            id: f.id.clone(),
            title: f.title.clone(),
            text: f.body.clone(),
            links: Vec::new(),
        });
        reply.aside(format!("About {}.{tools} Then answer the question.", in_minutes(f.minutes)));
    } else {
        reading::show(state, bench, &id, &mut reply);
    }
    vec![Effect::Say(reply)]
}
