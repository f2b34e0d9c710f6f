//! Sums over many riders.

use super::calibration::Calibration;
use super::play::Game;

/// Ranks that are counted.
const RANKS: [usize; 3] = [1, 3, 10];

/// What came of many riders with one way of asking.
#[derive(Clone, Debug, Default)]
pub struct Tally {
    /// Riders whose cause is in the notes.
    pub riders: usize,
    questions: usize,
    minutes: f64,
    ranks: [usize; 3],
    mechanic: usize,
    right_first: usize,
    entropy: f64,
    /// Belief in what was proposed first; riders whose cause is in no note included.
    pub at_proposal: Calibration,
    /// Belief in the leading cause at every step until then.
    pub at_steps: Calibration,
}

impl Tally {
    /// Adds a game; `in_notes` is false when the rider's cause is in no note.
    pub fn add(&mut self, game: &Game, in_notes: bool) {
        if let Some((p, right)) = game.proposal {
            self.at_proposal.add(p, right);
        }
        for (p, right) in &game.steps {
            self.at_steps.add(*p, *right);
        }
        if in_notes {
            self.riders += 1;
            self.questions += game.questions;
            self.minutes += game.minutes;
            for (n, most) in self.ranks.iter_mut().zip(RANKS) {
                *n += usize::from((1..=most).contains(&game.rank));
            }
            self.mechanic += usize::from(game.mechanic);
            self.right_first += usize::from(game.proposal.is_some_and(|p| p.1));
            self.entropy += game.entropy;
        }
    }

    /// Adds another's sums.
    pub fn merge(&mut self, o: &Self) {
        self.riders += o.riders;
        self.questions += o.questions;
        self.minutes += o.minutes;
        for (n, more) in self.ranks.iter_mut().zip(o.ranks) {
            *n += more;
        }
        self.mechanic += o.mechanic;
        self.right_first += o.right_first;
        self.entropy += o.entropy;
        self.at_proposal.merge(&o.at_proposal);
        self.at_steps.merge(&o.at_steps);
    }

    fn mean(&self, sum: f64) -> f64 {
        sum / self.riders.max(1) as f64
    }

    /// Expected number of questions.
    #[must_use]
    pub fn questions(&self) -> f64 {
        self.mean(self.questions as f64)
    }

    /// Expected minutes when a mechanic is asked once no cause is left worth offering.
    #[must_use]
    pub fn minutes(&self) -> f64 {
        self.mean(self.minutes)
    }

    /// Shares of riders whose cause stood first, in the first three and in the first ten after the first message.
    #[must_use]
    pub fn ranks(&self) -> [f64; 3] {
        self.ranks.map(|n| self.mean(n as f64))
    }

    /// Share of riders whose cause was proposed first.
    #[must_use]
    pub fn right_first(&self) -> f64 {
        self.mean(self.right_first as f64)
    }

    /// Mean entropy after the first message, in bits.
    #[must_use]
    pub fn entropy(&self) -> f64 {
        self.mean(self.entropy)
    }

    /// Share of riders sent to a mechanic.
    #[must_use]
    pub fn mechanic(&self) -> f64 {
        self.mean(self.mechanic as f64)
    }
}
