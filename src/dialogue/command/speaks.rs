//! What speaks for and against a cause.

use super::Command;
use crate::belief::{Evidence, What, in_words, weights};
use crate::dialogue::bench::Bench;
use crate::dialogue::reply::{Block, Reply};
use crate::dialogue::session::Session;
use crate::dialogue::state::{Focus, State};
use crate::dialogue::turn::Effect;
use crate::domain::{AnswerIx, FindingIx};

pub(super) static COMMAND: Command = Command {
    words: &[
        "speaks for it",
        "speaks for …",
        "what speaks for it",
        "what speaks against it",
        "evidence",
        "why that one",
    ],
    summary: "What speaks for and against the leading cause.",
    help: "With a number: for that one of the list.",
    examples: &["speaks for it", "speaks for 2"],
    run,
};

/// The cause that is meant: the one with that number in the list, the one offered or worked on, or the leading one.
pub(super) fn meant(state: &State, bench: &Bench, rest: &str) -> Option<usize> {
    let number = rest.trim_start_matches("it").trim().parse::<usize>().ok().and_then(|n| n.checked_sub(1));
    let listed = number.and_then(|i| state.shared.listed.get(i)).and_then(|id| bench.library.cause(id)).map(|c| c.0);
    match &state.focus {
        _ if listed.is_some() => listed,
        Focus::Offer(c) => Some(*c),
        Focus::Work(w) => Some(w.cause),
        _ => {
            let ranked: Vec<usize> =
                state.belief(bench).ranked().into_iter().map(|(c, _)| c).filter(|c| *c != bench.model.leak()).collect();
            number.and_then(|i| ranked.get(i).copied()).or(ranked.first().copied())
        }
    }
}

fn run(session: &mut Session, bench: &Bench, rest: &str, mut reply: Reply) -> Vec<Effect> {
    let state = &session.state;
    let belief = state.belief(bench);
    let cause = meant(state, bench, rest);
    let evidence = state.evidence();
    let (Some(cause), false) = (cause, evidence.is_empty()) else {
        reply.add("Nothing has been told yet.");
        return vec![Effect::Say(reply)];
    };
    reply.add(format!("{} ({}):", bench.library.causes[cause].title, in_words(belief.p[cause])));
    let mut items = Vec::new();
    for w in weights(&bench.model, &evidence, cause).iter().filter(|w| w.bits.abs() >= 0.15).take(7) {
        let what = evidence_words(bench, &evidence[w.evidence]);
        let strength = match w.bits.abs() {
            b if b >= 3.0 => "strongly",
            b if b >= 1.2 => "clearly",
            _ => "a little",
        };
        let side = if w.bits > 0.0 { "for" } else { "against" };
        items.push(format!("{side} it, {strength} ({:+.1} bits): {what}", w.bits));
    }
    if items.is_empty() {
        items.push("nothing told so far makes a difference to it; it is only common".into());
    }
    reply.push(Block::List { items });
    vec![Effect::Say(reply)]
}

fn evidence_words(bench: &Bench, e: &Evidence) -> String {
    let finding = |f: FindingIx, a: AnswerIx, not: &str| {
        let f = &bench.library.findings[f.0];
        format!("{}: {not}{}", f.title.to_lowercase(), f.answers[a.0].says.to_lowercase())
    };
    match &e.what {
        What::Is(f, a) => finding(*f, *a, ""),
        What::IsNot(f, a) => finding(*f, *a, "not "),
        What::Among(f, list) => list.iter().map(|(a, _)| finding(*f, *a, "")).collect::<Vec<_>>().join(" or "),
        What::Repair(..) => "a repair that was tried".into(),
        What::Likeness(_) => "your words are like those of others who had it".into(),
    }
}
