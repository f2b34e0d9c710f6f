//! One rider against one way of asking, until the right cause is proposed.

use super::random::Random;
use super::rider::{Noise, Rider};
use crate::belief::policy::LEAST_OFFER;
use crate::belief::{
    Act, Answering, Belief, Candidate, Circumstances, Evidence, Model, Origin, RepairOutcome, Situation, What,
    minutes_to_be_sure,
};
use crate::domain::{Finding, FindingIx};

/// A way of asking. The rivals that ask propose when the conversation's certainty is reached, or after as many questions as
/// the conversation asks at most: without that bound the fixed order takes 78 questions and 134 minutes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asking {
    /// The policy of the conversation.
    Ours,
    /// Always the same order, that of the bits per minute before anything is known; what cannot be asked is passed over.
    Fixed,
    /// A form: as many questions in that order as the conversation asks at most, always all of them, then proposals.
    Form,
    /// No question: propose the most probable cause, then the next.
    Probable,
    /// Any question that may be asked.
    Random,
    /// The most bits, whatever the minutes.
    Entropy,
}

impl Asking {
    /// All ways, ours first.
    pub const ALL: [Asking; 6] =
        [Asking::Ours, Asking::Fixed, Asking::Form, Asking::Probable, Asking::Random, Asking::Entropy];

    /// Its name in reports.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Asking::Ours => "ours",
            Asking::Fixed => "fixed order",
            Asking::Form => "fixed form",
            Asking::Probable => "most probable first",
            Asking::Random => "random question",
            Asking::Entropy => "entropy only",
        }
    }
}

/// What came of one rider.
#[derive(Clone, Debug, Default)]
pub struct Game {
    /// Questions asked.
    pub questions: usize,
    /// Minutes: questions, being sure of causes wrongly proposed, and the mechanic's when it comes to that.
    pub minutes: f64,
    /// Rank of the true cause after the first message, from 1; 0 when it is in no note.
    pub rank: usize,
    /// Belief in the first cause proposed, and whether it was right.
    pub proposal: Option<(f64, bool)>,
    /// Belief in the leading cause at each step, and whether it was right.
    pub steps: Vec<(f64, bool)>,
    /// Entropy after the first message, in bits.
    pub entropy: f64,
    /// Sent to a mechanic: nothing was left to ask, or to propose that is likelier than the least worth offering.
    pub mechanic: bool,
}

/// The questions in the order of bits per minute before anything is known.
#[must_use]
pub fn fixed_order(model: &Model, findings: &[Finding]) -> Vec<FindingIx> {
    let belief = Belief { p: model.prior.clone() };
    crate::belief::rank_questions(model, findings, &belief, &Answering::default(), |_| true)
        .iter()
        .map(|q| q.finding)
        .collect()
}

/// Plays one rider. `tempered`: the first message counts as heard in passing, else as answers.
///
/// A rider whose cause is in no note is played to the first proposal.
#[must_use]
pub fn play(
    model: &Model,
    findings: &[Finding],
    fixed: &[FindingIx],
    rider: &Rider,
    asking: Asking,
    noise: Noise,
    tempered: bool,
) -> Game {
    let circumstances = Circumstances::default();
    let mut evidence = rider.first.clone();
    if !tempered {
        for e in evidence.iter_mut().filter(|e| e.origin == Origin::Said) {
            e.origin = Origin::Answered;
        }
    }
    let mut known = vec![None; findings.len()];
    for e in &evidence {
        if let What::Is(f, a) = e.what {
            known[f.0] = Some((a, e.reliability));
        }
    }
    let closed: Vec<bool> = known.iter().map(Option::is_some).collect();
    let first = Belief::new(model, &evidence);
    let rank = first.ranked().into_iter().filter(|(c, _)| *c != model.leak()).position(|(c, _)| c == rider.cause);
    let mut game = Game { entropy: first.entropy(), rank: rank.map_or(0, |r| r + 1), ..Game::default() };
    let mut belief = first;
    let mut random = Random::new(rider.cause as u64, evidence.len() as u64);
    let (mut closed, mut out) = (closed, vec![false; model.len()]);
    let mut answering = Answering::default();
    loop {
        let s = Situation {
            model,
            findings,
            belief: &belief,
            circumstances: &circumstances,
            closed,
            known,
            out,
            warned: false,
            answering,
            asked: game.questions,
            more: false,
        };
        let top = s.offerable();
        if let (Some((c, p)), true) = (top, game.proposal.is_none()) {
            game.steps.push((p, c == rider.cause));
        }
        let act = next(&s, asking, fixed, &mut random);
        (closed, known, out) = (s.closed, s.known, s.out);
        match act {
            Act::Ask(q) => {
                game.questions += 1;
                game.minutes += q.minutes;
                closed[q.finding.0] = true;
                let said = rider.answer(model, findings, q.finding, noise);
                answering.note(&findings[q.finding.0], said.is_some());
                if let Some(a) = said {
                    let reliability = findings[q.finding.0].reliability();
                    known[q.finding.0] = Some((a, reliability));
                    evidence.push(Evidence { what: What::Is(q.finding, a), reliability, origin: Origin::Answered });
                }
            }
            Act::Offer(_, p) if p < LEAST_OFFER => return to_mechanic(model, game),
            Act::Offer(c, p) => {
                let right = c == rider.cause;
                game.proposal.get_or_insert((p, right));
                if right || rider.cause == model.leak() {
                    return game;
                }
                game.minutes += minutes_to_be_sure(model, c);
                out[c] = true;
                let what = What::Repair(vec![c], RepairOutcome::DidNotHelp);
                evidence.push(Evidence { what, reliability: 1.0, origin: Origin::Work });
            }
            Act::GiveUp => return to_mechanic(model, game),
        }
        belief = Belief::new(model, &evidence);
    }
}

fn to_mechanic(model: &Model, mut game: Game) -> Game {
    game.minutes += model.minutes[model.leak()];
    game.mechanic = true;
    game
}

fn propose(top: Option<(usize, f64)>) -> Act {
    top.map_or(Act::GiveUp, |(c, p)| Act::Offer(c, p))
}

fn next(s: &Situation<'_>, asking: Asking, fixed: &[FindingIx], random: &mut Random) -> Act {
    let top = s.offerable();
    match asking {
        Asking::Ours => return s.next_act(),
        Asking::Probable => return propose(top),
        Asking::Form if s.asked < s.most_questions() => {}
        _ if s.asked >= s.most_questions() || top.is_some_and(|(c, p)| s.sure_enough(c, p)) => return propose(top),
        _ => {}
    }
    let question = match asking {
        Asking::Fixed | Asking::Form => fixed.iter().copied().find(|f| s.may_ask(*f)).map(|f| plain(s, f)),
        Asking::Random => {
            let open: Vec<FindingIx> = (0..s.findings.len()).map(FindingIx).filter(|f| s.may_ask(*f)).collect();
            open.get(random.below(open.len())).map(|f| plain(s, *f))
        }
        _ => s.questions().into_iter().max_by(|a, b| a.bits.total_cmp(&b.bits).then(b.finding.cmp(&a.finding))),
    };
    question.map_or_else(|| propose(top), Act::Ask)
}

/// A question whose information does not matter.
fn plain(s: &Situation<'_>, finding: FindingIx) -> Candidate {
    Candidate { finding, bits: 0.0, minutes: crate::belief::minutes_of_question(&s.findings[finding.0]) }
}
