//! Knowledge made up in any size, to see how time and memory grow.

use super::random::Random;
use crate::belief::{Answering, Circumstances, Model, Situation};
use crate::belief::{Belief, Table};
use crate::domain::{Answer, Finding, How, Skill, Urgency};

/// Findings for each hundred causes: about as in the real notes (272 to 467).
const FINDINGS_PER_HUNDRED: usize = 58;
/// Findings that each cause changes: about as in the real notes.
const SHOWS: usize = 9;
/// Answers of each finding.
const ANSWERS: usize = 4;

/// Shares of answers by cause.
type Rows = Vec<(usize, Vec<f64>)>;

/// A model of `causes` causes, and its findings.
#[must_use]
pub fn knowledge(causes: usize, seed: u64) -> (Model, Vec<Finding>) {
    let n = (causes * FINDINGS_PER_HUNDRED / 100).max(SHOWS);
    let mut random = Random::new(seed, 1);
    let share = |random: &mut Random| {
        let raw: Vec<f64> = (0..ANSWERS).map(|_| 0.02 + random.unit().powi(4)).collect();
        let total: f64 = raw.iter().sum();
        raw.into_iter().map(|x| x / total).collect::<Vec<f64>>()
    };
    let mut tables: Vec<(Vec<f64>, Rows)> = (0..n).map(|_| (share(&mut random), Vec::new())).collect();
    for c in 0..causes {
        for _ in 0..SHOWS {
            let (_, rows) = &mut tables[random.below(n)];
            if rows.last().is_none_or(|r| r.0 != c) {
                rows.push((c, share(&mut random)));
            }
        }
    }
    let reliability = How::Look.reliability();
    let model = Model {
        prior: std::iter::repeat_n(0.97 / causes as f64, causes).chain([0.03]).collect(),
        tables: tables.into_iter().map(|(usual, rows)| Table::new(usual, rows, reliability)).collect(),
        minutes: (0..=causes).map(|_| 2.0 + 20.0 * random.unit()).collect(),
        urgency: (0..=causes).map(|c| if c % 10 == 9 { Urgency::StopRiding } else { Urgency::None }).collect(),
        guide: vec![false; causes + 1],
        family: vec![None; n],
    };
    let findings = (0..n).map(|i| finding(i, &model.tables[i].usual)).collect();
    (model, findings)
}

fn finding(i: usize, usual: &[f64]) -> Finding {
    let answer = |(a, usual): (usize, &f64)| Answer {
        id: format!("a{a}"),
        says: String::new(),
        usual: *usual,
        phrases: Vec::new(),
        band: None,
    };
    Finding {
        id: format!("f{i}"),
        system: String::new(),
        title: String::new(),
        ask: String::new(),
        trade: String::new(),
        how: How::Look,
        minutes: 0.3 + (i % 5) as f64 * 0.4,
        skill: Skill::Beginner,
        tools: Vec::new(),
        fact: false,
        sure: 1.0,
        heard: 1.0,
        family: None,
        negative: None,
        place: false,
        several: false,
        means: Vec::new(),
        needs: Vec::new(),
        answers: usual.iter().enumerate().map(answer).collect(),
        unit: None,
        quantity: None,
        body: String::new(),
        path: String::new(),
    }
}

/// The situation of a fresh conversation over a model, nothing asked or known.
#[must_use]
pub fn situation<'a>(
    model: &'a Model,
    findings: &'a [Finding],
    belief: &'a Belief,
    circumstances: &'a Circumstances,
) -> Situation<'a> {
    Situation {
        model,
        findings,
        belief,
        circumstances,
        closed: vec![false; findings.len()],
        known: vec![None; findings.len()],
        out: vec![false; model.len()],
        warned: false,
        answering: Answering::default(),
        asked: 0,
        more: false,
    }
}
