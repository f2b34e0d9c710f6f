//! Looking ahead: the minutes that are to be expected if something is proposed now, or if a question is asked first.
//!
//! Owns the reduced problem (leading hypotheses, the rest as one lump, leading questions) and its search, two questions
//! deep. Knows nothing of conversations. Expected cost after Heckerman, Breese & Rommelse (1995): what a question is worth
//! is what it saves of the cost of proposing wrongly (from memory).

use super::choose::Candidate;
use super::model::Model;
use super::posterior::Belief;
use crate::domain::{Finding, FindingIx};

/// Hypotheses beyond this many are taken together.
const LEADING: usize = 16;
/// Questions looked at, the best by bits per minute.
const QUESTIONS: usize = 6;
/// Branches less likely than this are not searched deeper.
const SLIGHT: f64 = 0.01;
/// Minutes to be sure that a proposed cause is not the one, at most: looking and trying, not the whole repair (own
/// estimate).
const MOST_TO_BE_SURE: f64 = 6.0;
/// The same for a guide: a look at what it does shows whether that was wanted, but trust is lost all the same (own estimate).
const MOST_FOR_A_GUIDE: f64 = 3.0;
/// Minutes still to spend when none of the leading hypotheses is right (own estimate: a few more questions and one wrong
/// proposal).
const BEYOND: f64 = 10.0;
/// Questions tell in part the same: this share of their bits adds up (chosen by trying it on random subsets).
const OVERLAP: f64 = 0.7;
/// Minutes of asking for each bit still open, while questions last (chosen by trying it on random subsets).
const MINUTES_PER_BIT: f64 = 1.0;

/// Minutes to be sure of hypothesis `cause` when it is proposed and wrong.
#[must_use]
pub fn minutes_to_be_sure(model: &Model, cause: usize) -> f64 {
    model.minutes[cause].min(if model.guide[cause] { MOST_FOR_A_GUIDE } else { MOST_TO_BE_SURE })
}

/// What looking ahead found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prospect {
    /// Expected minutes when the likeliest hypothesis per minute is proposed now.
    pub propose: f64,
    /// The question with the fewest expected minutes, and these minutes.
    pub ask: Option<(Candidate, f64)>,
}

struct Question {
    candidate: Candidate,
    /// Likelihood by answer and hypothesis.
    shows: Vec<Vec<f64>>,
}

/// The reduced problem: hypotheses from likely to unlikely, the last one the rest.
struct Reduced {
    cost: Vec<f64>,
    questions: Vec<Question>,
    /// Bits that all open questions together may tell, the searched ones included.
    open_bits: f64,
}

/// Looks two questions ahead among the first of `ranked`; `out` are hypotheses not to be proposed any more.
///
/// `None` when the hypotheses that would be looked at one by one are together less likely than `least`: too much is then
/// hidden in the lump of the rest for the search to be worth its time.
#[must_use]
pub fn look_ahead(
    model: &Model,
    findings: &[Finding],
    belief: &Belief,
    ranked: &[Candidate],
    least: f64,
    out: impl Fn(usize) -> bool,
) -> Option<Prospect> {
    let leak = model.leak();
    let mut leading: Vec<(usize, f64)> =
        belief.p.iter().copied().enumerate().filter(|(c, p)| *c != leak && *p > 0.0 && !out(*c)).collect();
    let by_belief = |a: &(usize, f64), b: &(usize, f64)| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0));
    if leading.len() > LEADING {
        leading.select_nth_unstable_by(LEADING - 1, by_belief);
        leading.truncate(LEADING);
    }
    leading.sort_by(by_belief);
    let listed: f64 = leading.iter().map(|(_, p)| p).sum();
    if listed < least {
        return None;
    }
    let mut joint: Vec<f64> = leading.iter().map(|(_, p)| *p).collect();
    joint.push((1.0 - listed).max(0.0));
    let mut cost: Vec<f64> = leading.iter().map(|(c, _)| minutes_to_be_sure(model, *c)).collect();
    cost.push(BEYOND);
    let questions = ranked
        .iter()
        .take(QUESTIONS)
        .map(|q| Question {
            candidate: *q,
            shows: shows(model, belief, &leading, q.finding, findings[q.finding.0].reliability()),
        })
        .collect();
    let reduced = Reduced { cost, questions, open_bits: OVERLAP * ranked.iter().map(|q| q.bits).sum::<f64>() };
    let mut ask: Option<(Candidate, f64)> = None;
    for (i, q) in reduced.questions.iter().enumerate() {
        let minutes = reduced.after(&joint, i, 1 << i, 1);
        if ask.is_none_or(|(_, m)| minutes < m - 1e-9) {
            ask = Some((q.candidate, minutes));
        }
    }
    let propose = reduced.propose(&joint);
    Some(Prospect { propose, ask })
}

/// Likelihood of each answer under the leading hypotheses and, on average, under the rest.
fn shows(model: &Model, belief: &Belief, leading: &[(usize, f64)], finding: FindingIx, r: f64) -> Vec<Vec<f64>> {
    let table = &model.tables[finding.0];
    let listed: f64 = table.rows.iter().map(|(c, _)| belief.p[*c]).sum();
    let rest: f64 = 1.0 - leading.iter().map(|(_, p)| p).sum::<f64>();
    (0..table.usual.len())
        .map(|a| {
            let usual = table.usual[a];
            let said = |p: f64| r * p + (1.0 - r) * usual;
            let mut out: Vec<f64> = leading.iter().map(|(c, _)| said(table.p(*c, a))).collect();
            let mean: f64 = table.rows.iter().map(|(c, row)| belief.p[*c] * said(row[a])).sum::<f64>()
                + (1.0 - listed).max(0.0) * usual;
            let known: f64 = leading.iter().zip(&out).map(|((_, p), s)| p * s).sum();
            out.push(if rest > 1e-9 { ((mean - known) / rest).clamp(0.0, 1.0) } else { usual });
            out
        })
        .collect()
}

impl Reduced {
    /// Expected minutes, times the weight of `joint`, when causes are proposed one after the other.
    fn only_propose(&self, joint: &[f64]) -> f64 {
        let n = joint.len() - 1;
        let mut order = [(0.0f64, 0usize); LEADING];
        for (i, o) in order.iter_mut().enumerate().take(n) {
            *o = (joint[i] / self.cost[i], i);
        }
        order[..n].sort_unstable_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let mut left: f64 = joint.iter().sum();
        let mut minutes = joint[n] * self.cost[n];
        for (_, i) in &order[..n] {
            left -= joint[*i];
            minutes += left.max(0.0) * self.cost[*i];
        }
        minutes
    }

    /// Expected minutes, times the weight, when nothing is searched any deeper: proposing, or asking at the usual price.
    fn leaf(&self, joint: &[f64], used: u32) -> f64 {
        let propose = self.only_propose(joint);
        let weight: f64 = joint.iter().sum();
        let bits: f64 = joint.iter().filter(|w| **w > 0.0).map(|w| (weight / w).log2() * w / weight).sum();
        if bits <= 1e-9 {
            return propose;
        }
        let used: f64 = self
            .questions
            .iter()
            .enumerate()
            .filter(|(i, _)| used & (1 << i) != 0)
            .map(|(_, q)| q.candidate.bits)
            .sum();
        let told = (self.open_bits - used).clamp(0.0, bits);
        let rest = joint[joint.len() - 1] * self.cost[joint.len() - 1];
        let ask = told * MINUTES_PER_BIT * weight + (1.0 - told / bits) * (propose - rest) + rest;
        propose.min(ask)
    }

    /// Expected minutes, times the weight of `joint`, when question `i` is asked and `depth` more may follow.
    fn after(&self, joint: &[f64], i: usize, used: u32, depth: usize) -> f64 {
        let q = &self.questions[i];
        let weight: f64 = joint.iter().sum();
        let mut minutes = weight * q.candidate.minutes;
        let mut next = vec![0.0; joint.len()];
        for shows in &q.shows {
            for ((n, j), s) in next.iter_mut().zip(joint).zip(shows) {
                *n = j * s;
            }
            minutes += self.value(&next, used, depth);
        }
        minutes
    }

    /// Expected minutes, times the weight of `joint`, at its best.
    fn value(&self, joint: &[f64], used: u32, depth: usize) -> f64 {
        let weight: f64 = joint.iter().sum();
        if depth == 0 || weight < SLIGHT {
            return self.leaf(joint, used);
        }
        let mut best = self.only_propose(joint);
        for i in (0..self.questions.len()).filter(|i| used & (1 << i) == 0) {
            best = best.min(self.after(joint, i, used | 1 << i, depth - 1));
        }
        best
    }

    /// Expected minutes when the best cause per minute is proposed now, and asking may go on if it is wrong.
    fn propose(&self, joint: &[f64]) -> f64 {
        let n = joint.len() - 1;
        let ratio = |i: usize| joint[i] / self.cost[i];
        let Some(first) = (0..n).max_by(|a, b| ratio(*a).total_cmp(&ratio(*b)).then(b.cmp(a))) else {
            return self.only_propose(joint);
        };
        let mut rest = joint.to_vec();
        rest[first] = 0.0;
        let left: f64 = rest.iter().sum();
        left * self.cost[first] + self.value(&rest, 0, 1)
    }
}
