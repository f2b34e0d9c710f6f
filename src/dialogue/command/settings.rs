//! The settings computed or told so far.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::known::on_card;
use crate::dialogue::reply::{Block, Reply};
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["settings", "my settings", "what are my settings"],
    summary: "The settings computed or told so far, and those that the book has of this bike.",
    help: "They stand on the card too.",
    examples: &["settings"],
    run,
};

fn run(session: &mut Session, _bench: &Bench, _rest: &str, mut reply: Reply) -> Vec<Effect> {
    let mut items: Vec<String> = session
        .state
        .threads
        .iter()
        .flat_map(|t| &t.settings)
        .map(|s| match &s.before {
            Some(b) => format!("{}: {b} -> {} ({})", s.what, s.after, s.how),
            None => format!("{}: {} ({})", s.what, s.after, s.how),
        })
        .collect();
    let wear = session.state.threads.iter().flat_map(|t| &t.wear);
    items.extend(wear.map(|w| format!("{}: {} (wear, measured)", w.what, w.shown)));
    let told = |what: &str| session.state.threads.iter().flat_map(|t| &t.settings).any(|s| s.what == what);
    items.extend(session.state.shared.settings.iter().filter(|s| !told(&s.what)).map(on_card));
    if items.is_empty() {
        reply.add("No setting has been computed or told yet.");
    } else {
        reply.push(Block::List { items });
    }
    vec![Effect::Say(reply)]
}
