//! Simulated riders drawn from the knowledge itself, to measure the asking and the honesty of belief.
//!
//! Owns riders, rival ways of asking, the exact optimum on small subsets, calibration and synthetic knowledge. Everything is
//! a pure function of a seed: no clock, no ambient randomness. Knows nothing of text; `app::measure` prints.

mod calibration;
mod optimum;
mod play;
mod random;
mod rider;
mod synthetic;
mod tally;

pub use calibration::Calibration;
pub use optimum::{Subset, Versus};
pub use play::{Asking, Game, fixed_order, play};
pub use random::Random;
pub use rider::{Noise, Rider};
pub use synthetic::{knowledge, situation};
pub use tally::Tally;
