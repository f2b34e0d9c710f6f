//! Calculators by themselves.

use super::Command;
use crate::dialogue::bench::Bench;
use crate::dialogue::figures;
use crate::dialogue::reply::Reply;
use crate::dialogue::session::Session;
use crate::dialogue::turn::Effect;

pub(super) static COMMAND: Command = Command {
    words: &["work out", "work out …", "compute …", "calculate …", "calculators"],
    summary: "Computes a setting: what is known in one line, the rest is asked.",
    help: "Without a name: the list. Inputs may stand in any order and any sensible unit.",
    examples: &["work out", "work out saddle-height inseam 83 cm", "work out tyre pressure for 80 kg on 2.4 in tyres"],
    run,
};

fn run(session: &mut Session, bench: &Bench, rest: &str, mut reply: Reply) -> Vec<Effect> {
    session.changing(|state| figures::command(state, bench, rest, &mut reply));
    vec![Effect::Say(reply)]
}
