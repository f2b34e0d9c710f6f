//! What would rule the leading cause out: the checks whose answer would lower it most.

use super::Command;
use super::speaks::meant;
use crate::belief::{Evidence, Origin, What, in_words};
use crate::dialogue::bench::Bench;
use crate::dialogue::listen::brief;
use crate::dialogue::next;
use crate::dialogue::reply::{Block, Reply};
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;
use crate::domain::AnswerIx;

/// An answer must leave the cause at most this share of its belief to be named.
const MUST_LOSE: f64 = 0.4;
/// Answers less likely than this are not waited for.
const LEAST_CHANCE: f64 = 0.03;
/// How many checks are looked at, the best by bits per minute, and how many are listed.
const LOOKED_AT: usize = 60;
const LISTED: usize = 3;

pub(super) static COMMAND: Command = Command {
    words: &["what would rule it out", "what would rule out …", "rule it out", "how can i rule it out"],
    summary: "Which check, with which answer, would rule the leading cause out.",
    help: "With a number: for that one of the list. The figures come from the same arithmetic that chooses questions.",
    examples: &["what would rule it out"],
    run,
};

fn run(session: &mut Session, bench: &Bench, rest: &str, mut reply: Reply) -> Vec<Effect> {
    let state = &session.state;
    let belief = state.belief(bench);
    let (Some(cause), false) = (meant(state, bench, rest), state.evidence().is_empty()) else {
        reply.add("Nothing has been told yet.");
        return vec![Effect::Say(reply)];
    };
    let now = belief.p[cause];
    let mut found: Vec<(f64, String)> = Vec::new();
    for f in next::questions(state, bench, &belief, LOOKED_AT) {
        let (finding, table) = (&bench.library.findings[f.0], &bench.model.tables[f.0]);
        let lowest = (0..finding.answers.len())
            .filter(|a| belief.p.iter().enumerate().map(|(c, p)| p * table.p(c, *a)).sum::<f64>() >= LEAST_CHANCE)
            .map(|a| {
                let what = What::Is(f, AnswerIx(a));
                let e = Evidence { what, reliability: finding.reliability(), origin: Origin::Answered };
                (a, belief.after(&bench.model, &e).p[cause])
            })
            .min_by(|x, y| x.1.total_cmp(&y.1));
        if let Some((a, then)) = lowest.filter(|(_, then)| *then <= MUST_LOSE * now) {
            let says = brief(&finding.answers[a].says);
            found.push((then, format!("{} Answer \"{says}\": then {}.", finding.ask, in_words(then))));
        }
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    found.truncate(LISTED);
    reply.add(format!("{} ({}).", bench.library.causes[cause].title, in_words(now)));
    if found.is_empty() {
        reply.add("No single check that can be done here would rule it out; the proof after the work would.");
    } else {
        reply.add("Most would speak against it:");
        reply.push(Block::List { items: found.into_iter().map(|(_, line)| line).collect() });
    }
    vec![Effect::Say(reply)]
}
