//! Calculators in the conversation: inputs asked one by one or taken from what was said, the result shown and kept.
//!
//! Owns the open calculation. Must not know how any figure is worked out; one file for each step of its life.

mod ask;
mod begin;
mod compare;
mod keep;
mod page;
mod show;
mod wish;
mod worn;

use super::state::Focus;
use super::work::Work;
use crate::calc::{Calculator, Values};

pub(super) use ask::{answer, how, leave, prompt};
pub(super) use begin::{begin_by_words, begin_in_work, command, exists};
pub(super) use compare::what_if;
pub(super) use page::{measure, note};
pub(super) use wish::{Wish, grant, sets, wished};

/// Least score by words for a calculator to be begun by a question.
const CLEAR: f64 = 4.0;
/// Words that ask for a figure.
const HOW: [&str; 9] =
    ["how long", "how high", "how much", "how many", "how hard", "how low", "how far", "how tight", "how fast"];

/// A calculator whose inputs are being asked.
#[derive(Clone, Debug)]
pub struct CalcRun {
    calc: &'static Calculator,
    values: Values,
    /// The work it serves, if any.
    work: Option<Work>,
    /// Notes on what was assumed, to be shown with the result.
    notes: Vec<String>,
    /// The question that was open when the figure was asked for; it is asked again afterwards.
    back: Option<Box<Focus>>,
}
