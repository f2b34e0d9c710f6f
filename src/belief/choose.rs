//! Choosing the next question: what tells most per minute, within what the person can do here and now.

use super::model::{Model, Table};
use super::posterior::Belief;
use crate::domain::{Finding, FindingIx, How, Skill};

/// What any question costs beside its own minutes: reading and answering.
const READING_MINUTES: f64 = 0.15;
/// And each answer to choose from.
const READING_AN_ANSWER: f64 = 0.05;
/// What being asked at all costs beside that, in minutes, when questions are compared: one telling question is better liked
/// than three small ones (own estimate). It is not counted as time spent.
const BEING_ASKED: f64 = 0.2;

/// A person is trusted to know as if so many questions had been answered before the first (own estimate).
const TRUSTED: f64 = 4.0;

/// What the person can do here and now.
#[derive(Clone, Debug)]
pub struct Circumstances {
    /// Skill of whoever answers.
    pub skill: Skill,
    /// Can the bike be ridden a little now?
    pub can_ride: bool,
    /// Are tools and a stand at hand?
    pub has_tools: bool,
    /// Minutes at most for one check, if said.
    pub minutes: Option<f64>,
}

impl Default for Circumstances {
    fn default() -> Self {
        Self { skill: Skill::Beginner, can_ride: true, has_tools: true, minutes: None }
    }
}

impl Circumstances {
    /// Whether this finding can be answered under the circumstances.
    #[must_use]
    pub fn allow(&self, f: &Finding) -> bool {
        let active = !matches!(f.how, How::Ask | How::Look);
        f.skill <= self.skill
            && (self.can_ride || f.how != How::Ride)
            && (self.has_tools || f.tools.is_empty())
            && self.minutes.is_none_or(|m| f.minutes <= m || !active)
    }
}

/// What asking for a finding costs: its own minutes, and reading and answering.
#[must_use]
pub fn minutes_of_question(f: &Finding) -> f64 {
    f.minutes + READING_MINUTES + READING_AN_ANSWER * f.answers.len() as f64
}

/// A question worth asking.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Candidate {
    /// The finding to ask for.
    pub finding: FindingIx,
    /// Expected information, in bits.
    pub bits: f64,
    /// Minutes it costs, reading included.
    pub minutes: f64,
}

impl Candidate {
    /// Bits per minute, being asked at all counted as some of a minute.
    #[must_use]
    pub fn rate(&self) -> f64 {
        self.bits / (self.minutes + BEING_ASKED)
    }
}

/// Expected reduction of entropy by the answer, in bits, when answers are as reliable as the table says.
///
/// Mutual information between cause and answer, as the entropy of the answer less the entropy that stays when the cause is
/// known. Costs one pass over the table's rows and one logarithm an answer: causes without a row answer by the usual
/// shares and are taken together.
#[must_use]
pub fn information(table: &Table, belief: &Belief) -> f64 {
    let mut raw = vec![0.0; table.usual.len()];
    let (mut listed, mut bits) = (0.0, 0.0);
    for ((c, row), sharp) in table.rows.iter().zip(&table.sharp) {
        let p = belief.p[*c];
        listed += p;
        bits += p * sharp;
        for (m, x) in raw.iter_mut().zip(row) {
            *m += p * x;
        }
    }
    let rest = (1.0 - listed).max(0.0);
    bits += rest * table.sharp_usual;
    let r = table.reliability;
    for (m, usual) in raw.iter().zip(&table.usual) {
        let mean = r * m + ((1.0 - r) * listed + rest) * usual;
        if mean > 0.0 {
            bits -= mean * mean.log2();
        }
    }
    bits.max(0.0)
}

/// How often this person could answer questions to memory so far. Checks are another matter: who does not remember how it
/// sounded can still look at the chain.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Answering {
    /// Questions answered.
    pub told: usize,
    /// Questions passed over.
    pub passed: usize,
}

impl Answering {
    /// Notes that a finding was asked for, and whether it was answered.
    pub fn note(&mut self, finding: &Finding, answered: bool) {
        if finding.how == How::Ask {
            *(if answered { &mut self.told } else { &mut self.passed }) += 1;
        }
    }

    /// How likely an answer is to be had now (0 to 1).
    #[must_use]
    pub fn chance(&self, finding: &Finding) -> f64 {
        if finding.how != How::Ask {
            return 1.0;
        }
        (self.told as f64 + TRUSTED) / ((self.told + self.passed) as f64 + TRUSTED)
    }
}

/// Ranks the questions `open` allows by bits per minute, best first; ties by position.
#[must_use]
pub fn rank_questions(
    model: &Model,
    findings: &[Finding],
    belief: &Belief,
    answering: &Answering,
    open: impl Fn(FindingIx) -> bool,
) -> Vec<Candidate> {
    let mut out: Vec<Candidate> = findings
        .iter()
        .enumerate()
        .filter(|(i, _)| open(FindingIx(*i)))
        .map(|(i, f)| Candidate {
            finding: FindingIx(i),
            bits: answering.chance(f) * information(&model.tables[i], belief),
            minutes: minutes_of_question(f),
        })
        .collect();
    out.sort_by(|a, b| b.rate().total_cmp(&a.rate()).then(a.finding.cmp(&b.finding)));
    out
}

/// Expected information of a finding about one question with two answers: is the truth among `those` hypotheses? In bits.
#[must_use]
pub fn information_about(model: &Model, belief: &Belief, finding: FindingIx, those: impl Fn(usize) -> bool) -> f64 {
    let table = &model.tables[finding.0];
    let inside: f64 = belief.p.iter().enumerate().filter(|(c, _)| those(*c)).map(|(_, p)| p).sum();
    let outside = 1.0 - inside;
    if inside <= 0.0 || outside <= 0.0 {
        return 0.0;
    }
    let listed =
        |side: bool| -> f64 { table.rows.iter().filter(|(c, _)| those(*c) == side).map(|(c, _)| belief.p[*c]).sum() };
    let unlisted = [(inside - listed(true)).max(0.0), (outside - listed(false)).max(0.0)];
    let mut bits = 0.0;
    for (a, usual) in table.usual.iter().enumerate() {
        let mut joint = unlisted.map(|u| u * usual);
        for (c, row) in &table.rows {
            joint[usize::from(!those(*c))] += belief.p[*c] * row[a];
        }
        let both = joint[0] + joint[1];
        for (joint, part) in joint.into_iter().zip([inside, outside]) {
            if joint > 0.0 {
                bits += joint * (joint / (both * part)).log2();
            }
        }
    }
    bits.max(0.0)
}
