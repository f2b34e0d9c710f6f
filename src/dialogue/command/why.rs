//! Why this question, and what each answer would do.

use super::Command;
use crate::belief::{answer_effects, in_words, information};
use crate::dialogue::bench::Bench;
use crate::dialogue::reply::{Block, Reply, in_minutes};
use crate::dialogue::session::Session;
use crate::dialogue::state::Focus;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &[
        "why",
        "why do you ask",
        "why this question",
        "why do you want to know",
        "what would change",
        "what would it change",
    ],
    summary: "Why the open question is asked, and what each answer would do.",
    help: "The figures come from the same arithmetic that chose the question.",
    examples: &["why"],
    run,
};

fn run(session: &mut Session, bench: &Bench, _rest: &str, mut reply: Reply) -> Vec<Effect> {
    let state = &session.state;
    let Focus::Finding(f) = state.focus else {
        reply.add(match state.focus {
            Focus::Danger(_) => "Because a bike that may fail must not be ridden, whatever else is wrong. That comes before everything.",
            Focus::Offer(_) => "Because it is the likeliest cause, and no further question would tell enough for its time. \"speaks for it\" shows the evidence.",
            _ => "No question is open. Tell me what is the matter.",
        });
        return vec![Effect::Say(reply)];
    };
    let belief = state.belief(bench);
    let finding = &bench.library.findings[f.0];
    let effects = answer_effects(&bench.model, &belief, f, finding.reliability());
    let bits = information(&bench.model.tables[f.0], &belief);
    reply.add(format!(
        "It tells most for its time: about {:.0} % of what is still open, for {} of yours.",
        (100.0 * bits / belief.entropy().max(0.01)).min(99.0),
        in_minutes(finding.minutes)
    ));
    let mut items = Vec::new();
    for e in effects.iter().filter(|e| e.chance > 0.02) {
        let (c, p) = e.then;
        let title = bench.library.causes.get(c).map_or("something not in my notes", |c| c.title.as_str());
        let loses = e
            .loses
            .and_then(|(c, _)| bench.library.causes.get(c))
            .map(|c| format!("; against: {}", c.title))
            .unwrap_or_default();
        let moved = match p - belief.p[c] {
            by if by > 0.02 => ", up",
            by if by < -0.02 => ", down",
            _ => "",
        };
        items.push(format!("{}: then {title} ({}{moved}){loses}", finding.answers[e.answer.0].says, in_words(p)));
    }
    items.truncate(7);
    reply.push(Block::List { items });
    vec![Effect::Say(reply)]
}
