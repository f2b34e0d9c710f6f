//! Calculators in the conversation: inputs asked one by one or taken from what was said, the result shown and kept.
//!
//! Owns the open calculation. Must not know how any figure is worked out; one file for each step of its life.

mod ask;
mod begin;
mod compare;
mod keep;
mod page;
mod show;
mod worn;

use super::work::Work;
use crate::calc::{Calculator, Values};

pub(super) use ask::{answer, how, leave, prompt};
pub(super) use begin::{begin_by_words, begin_in_work, command, exists};
pub(super) use compare::what_if;
pub(super) use page::{measure, note};

/// A calculator whose inputs are being asked.
#[derive(Clone, Debug)]
pub struct CalcRun {
    calc: &'static Calculator,
    values: Values,
    /// The work it serves, if any.
    work: Option<Work>,
    /// Notes on what was assumed, to be shown with the result.
    notes: Vec<String>,
}
