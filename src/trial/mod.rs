//! The mathematics of small trials: one setting changed at a time, judged by rides, without fooling oneself.
//!
//! Owns what to ride next, the blind order, how sure one can be after so many rides, and what to recheck on a new bike. Pure:
//! no files, no clock, no randomness (a seed comes in). Quantities are in SI units; whoever shows them knows the person's
//! units. Knows nothing of the book in which trials are written down.
//!
//! Literature: sign test, Dixon & Mood, J. Am. Stat. Assoc. 41 (1946); interval, Clopper & Pearson, Biometrika 26 (1934);
//! paired comparison, Bradley & Terry, Biometrika 39 (1952), fitted after Hunter, Annals of Statistics 32 (2004). All from
//! memory; the checks stand beside the formulas.

mod blind;
mod bracket;
mod one_thing;
mod plan;
mod sign;
mod strength;
mod subject;
mod sure;

pub use blind::{Better, Order, blind_order, sheet, unblind};
pub use bracket::{Bracket, Direction, Felt, Next, Pair, Ride, Stop, TrialError, Why};
pub use one_thing::{others_changed, two_things};
pub use plan::{Kit, PLAN, Plan, PlanDue, Recheck, SOURCE, Stage};
pub use sign::{Tally, binomial_tail, share_interval, sign_test};
pub use strength::{FitError, Strengths, fit, fit_gently};
pub use subject::{SUBJECTS, Subject, subject};
pub use sure::{Sureness, further, standing, statement};
