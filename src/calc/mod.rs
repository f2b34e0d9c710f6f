//! Calculators: every measurement becomes a setting, with a band, a source and a caution.
//!
//! One calculator is one file of this folder; `kit` is what they are made of, `law` the formulae they share.
//! May import `units` only. Adding one: its file, one `mod` line and one `ALL` line here.

mod kit;
mod law;

mod bar_roll;
mod chain_length;
mod sag;
mod saddle_height;
mod torque;
mod tyre_pressure;

pub use kit::*;

/// Every calculator, in the order in which a bike is set up.
pub static ALL: &[&Calculator] = &[
    &saddle_height::CALC,
    &bar_roll::CALC,
    &tyre_pressure::CALC,
    &sag::CALC,
    &chain_length::CALC,
    &torque::CALC,
];

/// The calculator with this id.
#[must_use]
pub fn find(id: &str) -> Option<&'static Calculator> {
    ALL.iter().copied().find(|calculator| calculator.id == id)
}
