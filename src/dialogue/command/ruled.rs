//! What was ruled out, and by which answer.

use super::Command;
use crate::belief::{Belief, What};
use crate::dialogue::bench::Bench;
use crate::dialogue::reply::{Block, Reply};
use crate::dialogue::session::Session;
use crate::dialogue::state::Outcome;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["ruled out", "what is ruled out", "what was ruled out", "what have you ruled out", "excluded"],
    summary: "What was ruled out, and by which answer.",
    help: "Only what had some belief before is listed.",
    examples: &["ruled out"],
    run,
};

fn run(session: &mut Session, bench: &Bench, _rest: &str, mut reply: Reply) -> Vec<Effect> {
    let state = &session.state;
    let Some(thread) = state.current().filter(|t| !t.said.is_empty()) else {
        reply.add("Nothing yet: tell me what is the matter.");
        return vec![Effect::Say(reply)];
    };
    let evidence = state.evidence();
    let now = state.belief(bench);
    let mut items: Vec<String> = Vec::new();
    for (c, o) in &thread.works {
        if *o == Outcome::No {
            items.push(format!("{}: worked on, did not help", bench.library.causes[*c].title));
        }
    }
    for c in &thread.declined {
        items.push(format!("{}: not it, as you said", bench.library.causes[*c].title));
    }
    // Each answer, and the cause that lost most by it.
    for (i, e) in evidence.iter().enumerate() {
        let (What::Is(f, a), false) = (&e.what, e.reliability < 0.5) else { continue };
        let without: Vec<_> = evidence.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, e)| e.clone()).collect();
        let before = Belief::new(&bench.model, &without);
        let lost = before
            .p
            .iter()
            .zip(&now.p)
            .enumerate()
            .filter(|(c, (b, n))| *c != bench.model.leak() && **b > 0.05 && **n < **b / 2.5)
            .max_by(|x, y| (x.1.0 - x.1.1).total_cmp(&(y.1.0 - y.1.1)));
        if let Some((c, _)) = lost {
            let f = &bench.library.findings[f.0];
            items.push(format!(
                "{}: by \"{}: {}\"",
                bench.library.causes[c].title,
                f.title.to_lowercase(),
                f.answers[a.0].says
            ));
        }
    }
    items.truncate(10);
    if items.is_empty() {
        reply.add("Nothing has been ruled out so far.");
    } else {
        reply.add("Ruled out, or made unlikely:");
        reply.push(Block::List { items });
    }
    vec![Effect::Say(reply)]
}
