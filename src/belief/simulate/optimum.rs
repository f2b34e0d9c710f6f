//! The exact optimum on small subsets of the knowledge, by dynamic programming over evidence states.
//!
//! A state is what each finding was answered, if asked, and which causes were proposed in vain. The optimum weighs every
//! question and every proposal in every state; the policy is followed through the same tree with the same costs.

use super::random::Random;
use crate::belief::{
    Act, Answering, Belief, Circumstances, Model, Situation, Table, minutes_of_question, minutes_to_be_sure,
};
use crate::domain::{AnswerIx, Finding, FindingIx, Urgency};

/// Evidence states at most, so that one subset takes a second at most.
const MOST_STATES: usize = 2_000_000;
/// Prior of the leak in a subset: the cause is one of those chosen.
const NO_LEAK: f64 = 1e-9;

/// Expected minutes on one subset.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Versus {
    /// Of the best possible policy.
    pub optimum: f64,
    /// Of ours.
    pub ours: f64,
    /// Of proposing without a question.
    pub silent: f64,
}

/// A few causes and findings as a model of its own.
#[derive(Clone, Debug)]
pub struct Subset {
    /// The small model; safety is left out, since the optimum knows none.
    pub model: Model,
    /// Its findings, free of conditions.
    pub findings: Vec<Finding>,
}

/// A state: number of the answer by finding (0 is not asked), and the causes proposed in vain as bits.
#[derive(Clone, Debug)]
struct State {
    answers: Vec<u8>,
    tried: u32,
}

/// Values by state, in one dense table: a state's position is a number whose digits are the answers.
struct Seen {
    /// What an answer of each finding counts in the position.
    place: Vec<usize>,
    values: Vec<f64>,
}

impl Seen {
    fn new(subset: &Subset) -> Self {
        let mut size = 1usize << subset.causes();
        let place = subset
            .findings
            .iter()
            .map(|f| {
                let here = size;
                size *= f.answers.len() + 1;
                here
            })
            .collect();
        Self { place, values: vec![f64::NAN; size] }
    }

    fn at(&self, state: &State) -> usize {
        let digits = state.answers.iter().zip(&self.place);
        state.tried as usize + digits.map(|(a, place)| usize::from(*a) * place).sum::<usize>()
    }

    fn get(&self, state: &State) -> Option<f64> {
        Some(self.values[self.at(state)]).filter(|v| !v.is_nan())
    }

    fn set(&mut self, state: &State, value: f64) {
        let at = self.at(state);
        self.values[at] = value;
    }
}

impl Subset {
    /// Draws 4 to 10 causes of one neighbourhood and as many findings that separate them (up to 10) as stay exact.
    #[must_use]
    pub fn draw(model: &Model, findings: &[Finding], seed: u64) -> Self {
        let mut random = Random::new(seed, 0x5b5e7);
        let n = 4 + random.below(7);
        let mut causes: Vec<usize> = Vec::new();
        // Causes that share a finding are the ones that must be told apart.
        let shared: Vec<usize> = (0..findings.len()).filter(|f| model.tables[*f].rows.len() > n).collect();
        let of = shared.get(random.below(shared.len())).copied().unwrap_or(0);
        let pool: Vec<usize> = model.tables[of].rows.iter().map(|r| r.0).filter(|c| *c != model.leak()).collect();
        while causes.len() < n.min(pool.len()) {
            let c = pool[random.below(pool.len())];
            if !causes.contains(&c) {
                causes.push(c);
            }
        }
        causes.sort_unstable();
        let mut telling: Vec<usize> = (0..findings.len())
            .filter(|f| causes.iter().any(|c| model.tables[*f].rows.binary_search_by_key(c, |r| r.0).is_ok()))
            .collect();
        let mut chosen: Vec<usize> = Vec::new();
        let mut states = 1usize << causes.len();
        while chosen.len() < 10 && !telling.is_empty() {
            let f = telling.swap_remove(random.below(telling.len()));
            let more = states * (findings[f].answers.len() + 1);
            if more <= MOST_STATES {
                states = more;
                chosen.push(f);
            }
        }
        chosen.sort_unstable();
        Self::of(model, findings, &causes, &chosen)
    }

    /// The small model of these causes and findings.
    fn of(model: &Model, findings: &[Finding], causes: &[usize], chosen: &[usize]) -> Self {
        let total: f64 = causes.iter().map(|c| model.prior[*c]).sum();
        let leak = model.leak();
        let small = Model {
            prior: causes.iter().map(|c| model.prior[*c] / total * (1.0 - NO_LEAK)).chain([NO_LEAK]).collect(),
            tables: chosen
                .iter()
                .map(|f| {
                    let table = &model.tables[*f];
                    let row = |c: usize| (0..table.usual.len()).map(|a| table.p(c, a)).collect();
                    let rows = causes.iter().enumerate().map(|(i, c)| (i, row(*c))).collect();
                    Table::new(table.usual.clone(), rows, table.reliability)
                })
                .collect(),
            minutes: causes.iter().chain([&leak]).map(|c| model.minutes[*c]).collect(),
            urgency: vec![Urgency::None; causes.len() + 1],
            guide: causes.iter().map(|c| model.guide[*c]).chain([false]).collect(),
            family: vec![None; chosen.len()],
        };
        let findings = chosen
            .iter()
            .map(|f| Finding { needs: Vec::new(), skill: crate::domain::Skill::Beginner, ..findings[*f].clone() })
            .collect();
        Self { model: small, findings }
    }

    /// Number of causes.
    #[must_use]
    pub fn causes(&self) -> usize {
        self.model.leak()
    }

    /// Chance of answer `a` of finding `f` under each cause.
    fn said(&self, f: usize, a: usize, c: usize) -> f64 {
        let r = self.findings[f].reliability();
        let table = &self.model.tables[f];
        r * table.p(c, a) + (1.0 - r) * table.usual[a]
    }

    /// Expected minutes of the optimum, of ours, and of proposing without questions.
    #[must_use]
    pub fn compare(&self) -> Versus {
        let joint: Vec<f64> = self.model.prior[..self.causes()].to_vec();
        let start = State { answers: vec![0; self.findings.len()], tried: 0 };
        Versus {
            optimum: self.best(&joint, &mut start.clone(), &mut Seen::new(self)),
            ours: self.ours(&joint, &mut start.clone(), &mut Seen::new(self)),
            silent: self.silent(&joint),
        }
    }

    /// Proposing in the order of probability per minute, without a question.
    fn silent(&self, joint: &[f64]) -> f64 {
        let cost: Vec<f64> = (0..joint.len()).map(|c| minutes_to_be_sure(&self.model, c)).collect();
        let mut left: f64 = joint.iter().sum();
        let mut minutes = 0.0;
        for c in crate::belief::repair_order(joint, &cost) {
            left -= joint[c];
            minutes += left.max(0.0) * cost[c];
        }
        minutes
    }

    /// Expected minutes, times the weight of `joint`, at best.
    fn best(&self, joint: &[f64], state: &mut State, seen: &mut Seen) -> f64 {
        let weight: f64 = joint.iter().sum();
        if joint.iter().filter(|w| **w > 0.0).count() <= 1 {
            return 0.0;
        }
        if let Some(v) = seen.get(state) {
            return v;
        }
        let mut best = f64::INFINITY;
        for c in (0..joint.len()).filter(|c| joint[*c] > 0.0) {
            let cost = (weight - joint[c]) * minutes_to_be_sure(&self.model, c);
            // The cost of this proposal alone may already be too much.
            if cost < best {
                let rest = without(joint, c);
                state.tried |= 1 << c;
                best = best.min(cost + self.best(&rest, state, seen));
                state.tried &= !(1 << c);
            }
        }
        for f in (0..self.findings.len()).filter(|f| state.answers[*f] == 0).collect::<Vec<_>>() {
            let mut cost = weight * minutes_of_question(&self.findings[f]);
            for a in 0..self.findings[f].answers.len() {
                if cost >= best {
                    break;
                }
                let next: Vec<f64> = joint.iter().enumerate().map(|(c, w)| w * self.said(f, a, c)).collect();
                state.answers[f] = a as u8 + 1;
                cost += self.best(&next, state, seen);
            }
            state.answers[f] = 0;
            best = best.min(cost);
        }
        seen.set(state, best);
        best
    }

    /// Expected minutes, times the weight of `joint`, when the conversation's policy decides.
    fn ours(&self, joint: &[f64], state: &mut State, seen: &mut Seen) -> f64 {
        let weight: f64 = joint.iter().sum();
        if joint.iter().filter(|w| **w > 0.0).count() <= 1 {
            return 0.0;
        }
        if let Some(v) = seen.get(state) {
            return v;
        }
        let belief = Belief { p: joint.iter().map(|w| w / weight).chain([0.0]).collect() };
        let circumstances = Circumstances::default();
        let act = Situation {
            model: &self.model,
            findings: &self.findings,
            belief: &belief,
            circumstances: &circumstances,
            closed: state.answers.iter().map(|a| *a > 0).collect(),
            known: state.answers.iter().map(|a| a.checked_sub(1).map(|a| (AnswerIx(usize::from(a)), 1.0))).collect(),
            out: (0..self.model.len()).map(|c| state.tried & (1 << c) != 0).collect(),
            warned: false,
            answering: Answering::default(),
            asked: state.answers.iter().filter(|a| **a > 0).count(),
            more: false,
        }
        .next_act();
        let minutes = match act {
            Act::Ask(q) => {
                let FindingIx(f) = q.finding;
                let mut cost = weight * q.minutes;
                for a in 0..self.findings[f].answers.len() {
                    let next: Vec<f64> = joint.iter().enumerate().map(|(c, w)| w * self.said(f, a, c)).collect();
                    state.answers[f] = a as u8 + 1;
                    cost += self.ours(&next, state, seen);
                }
                state.answers[f] = 0;
                cost
            }
            Act::Offer(c, _) => {
                let cost = (weight - joint[c]) * minutes_to_be_sure(&self.model, c);
                state.tried |= 1 << c;
                let rest = self.ours(&without(joint, c), state, seen);
                state.tried &= !(1 << c);
                cost + rest
            }
            Act::GiveUp => self.silent(joint),
        };
        seen.set(state, minutes);
        minutes
    }
}

fn without(joint: &[f64], c: usize) -> Vec<f64> {
    let mut rest = joint.to_vec();
    rest[c] = 0.0;
    rest
}
