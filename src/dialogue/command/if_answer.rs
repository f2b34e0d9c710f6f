//! What an answer would do, without giving it.

use super::Command;
use crate::belief::{Evidence, Origin, What};
use crate::dialogue::answer::{Read, read_choice};
use crate::dialogue::bench::Bench;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::state::Focus;
use crate::dialogue::turn::Effect;
use crate::dialogue::{figures, next};
use crate::domain::AnswerIx;

pub(super) static COMMAND: Command = Command {
    words: &["what if …"],
    summary: "What an answer would do, without giving it; or the last calculation with something changed.",
    help: "Name the answer by its number or words.",
    examples: &["what if 2"],
    run,
};

fn run(session: &mut Session, bench: &Bench, rest: &str, mut reply: Reply) -> Vec<Effect> {
    let state = &session.state;
    let Focus::Finding(f) = state.focus else {
        if !figures::what_if(&mut session.state, rest, &mut reply) {
            reply.add("No question is open to try an answer on, and nothing has been worked out yet.");
        }
        return vec![Effect::Say(reply)];
    };
    let finding = &bench.library.findings[f.0];
    let ids: Vec<&str> = finding.answers.iter().map(|a| a.id.as_str()).collect();
    let says: Vec<&str> = finding.answers.iter().map(|a| a.says.as_str()).collect();
    let rest = rest
        .trim_start_matches("i answered ")
        .trim_start_matches("i say ")
        .trim_start_matches("it is ")
        .trim_start_matches("i answer ");
    let Some((Read::Choice(a), _)) = read_choice(rest, &ids, &says) else {
        reply.add(format!("I could not place \"{rest}\" as an answer. Try: what if 1."));
        return vec![Effect::Say(reply)];
    };
    let evidence =
        Evidence { what: What::Is(f, AnswerIx(a)), reliability: finding.reliability(), origin: Origin::Answered };
    let after = state.belief(bench).after(&bench.model, &evidence);
    reply.add(format!("If you answered \"{}\":", finding.answers[a].says));
    let block = next::beliefs(state, bench, &after, 3);
    reply.push(block);
    reply.aside("The question is still open.");
    vec![Effect::Say(reply)]
}
