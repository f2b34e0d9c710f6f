//! A simulated rider: a cause, a first message, and answers, all drawn in proportion to the model.

use super::random::Random;
use crate::belief::{Evidence, Model, Origin, What};
use crate::domain::{AnswerIx, Finding, FindingIx, How};

/// How far a word in passing can be relied on: what the ears give to a phrase of some words (see `hearing::ears`).
const HEARD: f64 = 0.8;

/// How far the words of a first message point at the true note: distance, in standard deviations, of its likeness from that
/// of the others. Chosen so that simulated first messages rank the true note as real complaints do (56, 75 and 89 % first,
/// in three and in ten, see "Measures" in DEVELOPERS.md).
const POINTING: f64 = 2.75;

/// How far riders depart from the model when they answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Noise {
    /// Share of answers that are another one of the finding's answers instead.
    pub wrong: f64,
    /// Share of "don't know".
    pub unknown: f64,
}

impl Noise {
    /// Answers just as the model has them.
    pub const NONE: Noise = Noise { wrong: 0.0, unknown: 0.0 };
    /// One in ten wrong and one in five "don't know", beyond what the model expects.
    pub const MUCH: Noise = Noise { wrong: 0.10, unknown: 0.20 };
}

/// A simulated rider.
#[derive(Clone, Debug)]
pub struct Rider {
    /// The hypothesis that is true; the leak when it is in no note.
    pub cause: usize,
    /// What the first message told, as heard.
    pub first: Vec<Evidence>,
    seed: u64,
}

impl Rider {
    /// Draws a rider: a cause in proportion to `weight`, and a first message telling `trouble` and one to three of the
    /// cause's other findings that need no tool or trying, in words that are more or less like the notes.
    #[must_use]
    pub fn draw(
        model: &Model,
        findings: &[Finding],
        trouble: Option<FindingIx>,
        seed: u64,
        weight: impl Fn(usize) -> f64,
    ) -> Self {
        let mut random = Random::new(seed, u64::MAX);
        let cause = random.weighted((0..model.len()).map(&weight));
        let mut told: Vec<FindingIx> = trouble.into_iter().collect();
        let mut others: Vec<FindingIx> = (0..findings.len())
            .filter(|f| Some(FindingIx(*f)) != trouble && matches!(findings[*f].how, How::Ask | How::Look))
            .filter(|f| model.tables[*f].rows.binary_search_by_key(&cause, |r| r.0).is_ok())
            .map(FindingIx)
            .collect();
        for _ in 0..=random.below(3) {
            if !others.is_empty() {
                told.push(others.swap_remove(random.below(others.len())));
            }
        }
        let mut rider = Self { cause, first: Vec::new(), seed };
        rider.first = told
            .into_iter()
            .map(|f| {
                let reliability = HEARD * findings[f.0].sure * findings[f.0].heard;
                let answer = rider.says(model, f, reliability, &mut Random::new(seed, f.0 as u64));
                Evidence { what: What::Is(f, answer), reliability, origin: Origin::Said }
            })
            .collect();
        rider.first.push(likeness(model, cause, seed));
        rider
    }

    /// What the rider says at the prompt, or `None` for "don't know". The same whoever asks and whenever.
    #[must_use]
    pub fn answer(&self, model: &Model, findings: &[Finding], f: FindingIx, noise: Noise) -> Option<AnswerIx> {
        let mut random = Random::new(self.seed, f.0 as u64);
        let answer = self.says(model, f, findings[f.0].reliability(), &mut random);
        if random.unit() < noise.unknown {
            return None;
        }
        let n = model.tables[f.0].usual.len();
        if random.unit() < noise.wrong && n > 1 {
            return Some(AnswerIx((answer.0 + 1 + random.below(n - 1)) % n));
        }
        Some(answer)
    }

    /// The true answer with `reliability`, else an unrelated one.
    fn says(&self, model: &Model, f: FindingIx, reliability: f64, random: &mut Random) -> AnswerIx {
        let table = &model.tables[f.0];
        let right = random.unit() < reliability;
        AnswerIx(
            random
                .weighted((0..table.usual.len()).map(|a| if right { table.p(self.cause, a) } else { table.usual[a] })),
        )
    }
}

/// Likeness of a first message's words as the log-likelihood ratio it would be if scores were normal with equal spread:
/// about 0 for every note but the true one, about [`POINTING`] for that.
fn likeness(model: &Model, cause: usize, seed: u64) -> Evidence {
    let mut random = Random::new(seed, u64::MAX - 1);
    let weight = |c: usize, random: &mut Random| {
        let score = random.normal() + if c == cause { POINTING } else { 0.0 };
        POINTING * score - POINTING * POINTING / 2.0
    };
    // The leak has no note that could be like the words: its ratio is 1.
    let weights = (0..model.leak()).map(|c| (c, weight(c, &mut random))).collect();
    Evidence { what: What::Likeness(weights), reliability: 1.0, origin: Origin::Likeness }
}
