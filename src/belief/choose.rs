//! Choosing the next question: what tells most per minute, within what the person can do here and now.

use super::model::{Model, Table};
use super::posterior::Belief;
use crate::domain::{Finding, FindingIx, How, Skill};

/// What any question costs beside its own minutes: reading and answering.
const READING_MINUTES: f64 = 0.35;

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
    f.minutes + READING_MINUTES
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
    /// Bits per minute.
    #[must_use]
    pub fn rate(&self) -> f64 {
        self.bits / self.minutes
    }
}

/// Expected reduction of entropy by the answer, in bits, when answers are right with `reliability`.
///
/// Mutual information between cause and answer. Costs one pass over the table's rows: causes without a row answer by the
/// usual shares and are taken together.
#[must_use]
pub fn information(table: &Table, belief: &Belief, reliability: f64) -> f64 {
    let listed: f64 = table.rows.iter().map(|(c, _)| belief.p[*c]).sum();
    let rest = (1.0 - listed).max(0.0);
    let r = reliability;
    let mut bits = 0.0;
    for (a, usual) in table.usual.iter().enumerate() {
        let blur = (1.0 - r) * usual;
        let said = |p: f64| r * p + blur;
        let mean: f64 = table.rows.iter().map(|(c, row)| belief.p[*c] * said(row[a])).sum::<f64>() + rest * usual;
        if mean <= 0.0 {
            continue;
        }
        for (c, row) in &table.rows {
            let p = said(row[a]);
            bits += belief.p[*c] * p * (p / mean).log2();
        }
        bits += rest * usual * (usual / mean).log2();
    }
    bits.max(0.0)
}

/// Ranks the questions `open` allows by bits per minute, best first; ties by position.
#[must_use]
pub fn rank_questions(
    model: &Model,
    findings: &[Finding],
    belief: &Belief,
    open: impl Fn(FindingIx) -> bool,
) -> Vec<Candidate> {
    let mut out: Vec<Candidate> = findings
        .iter()
        .enumerate()
        .filter(|(i, _)| open(FindingIx(*i)))
        .map(|(i, f)| Candidate {
            finding: FindingIx(i),
            bits: information(&model.tables[i], belief, f.reliability()),
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
    let mut bits = 0.0;
    for a in 0..table.usual.len() {
        let (mut yes, mut no) = (0.0, 0.0);
        for (c, p) in belief.p.iter().enumerate() {
            let share = p * table.p(c, a);
            if those(c) { yes += share } else { no += share }
        }
        let both = yes + no;
        for (joint, part) in [(yes, inside), (no, outside)] {
            if joint > 0.0 {
                bits += joint * (joint / (both * part)).log2();
            }
        }
    }
    bits.max(0.0)
}
