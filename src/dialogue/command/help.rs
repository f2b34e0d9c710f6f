//! The help page, or help for one command.

use super::ALL;
use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::reply::{Block, Reply};
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["help", "help …", "commands", "what can i say"],
    summary: "What can be typed.",
    help: "With a command after it: more about that one.",
    examples: &["help", "help why"],
    run,
};

fn run(_session: &mut Session, _bench: &Bench, rest: &str, mut reply: Reply) -> Vec<Effect> {
    if let Some(c) = ALL.iter().find(|c| c.words.iter().any(|w| w.trim_end_matches(" …") == rest.to_lowercase())) {
        reply.push(Block::Heading { text: c.words[0].trim_end_matches(" …").into() });
        reply.add(format!("{} {}", c.summary, c.help));
        let also: Vec<&str> = c.words.iter().skip(1).take(4).map(|w| w.trim_end_matches(" …")).collect();
        if !also.is_empty() {
            reply.aside(format!("Also: {}. For example: {}.", also.join(", "), c.examples.join("; ")));
        }
        return vec![Effect::Say(reply)];
    }
    if !rest.is_empty() {
        reply.add(format!("There is no command \"{rest}\". These are all:"));
    }
    reply.add("Just talk: a complaint, an answer by number or in words, a measurement, a correction (\"no, the front\"), a question (\"what is a rotor?\"). At any prompt you can also type:");
    let items = ALL.iter().map(|c| format!("{}: {}", c.words[0], c.summary)).collect();
    reply.push(Block::List { items });
    vec![Effect::Say(reply)]
}
