//! Calculators: every measurement becomes a setting, with a band, a source and a caution.
//!
//! One calculator is one file of this folder; `kit` is what they are made of, `law` the formulae they share.
//! May import `units` only. Adding one: its file, one `mod` line and one `ALL` line here.

mod kit;
mod law;

mod air_spring;
mod bar_roll;
mod bounce;
mod brake_heat;
mod brake_wear;
mod chain_length;
mod chain_tension;
mod chain_wear;
mod chainline;
mod cockpit;
mod coil_spring;
mod fit_limits;
mod gearing;
mod leg_model;
mod levers;
mod pressure_temperature;
mod run_out;
mod saddle_height;
mod saddle_setback;
mod sag;
mod spoke_length;
mod spoke_tension;
mod steering_geometry;
mod stopping;
mod torque;
mod turning_parts;
mod tyre_pressure;
mod tyre_size;

pub use kit::*;

/// Every calculator, in the order in which a bike is set up.
pub static ALL: &[&Calculator] = &[
    &saddle_height::CALC,
    &leg_model::CALC,
    &saddle_setback::CALC,
    &cockpit::CALC,
    &bar_roll::CALC,
    &steering_geometry::CALC,
    &levers::CALC,
    &fit_limits::CALC,
    &tyre_pressure::CALC,
    &pressure_temperature::CALC,
    &tyre_size::CALC,
    &sag::CALC,
    &air_spring::CALC,
    &coil_spring::CALC,
    &bounce::CALC,
    &chain_length::CALC,
    &chain_wear::CALC,
    &gearing::CALC,
    &chainline::CALC,
    &chain_tension::CALC,
    &turning_parts::CALC,
    &stopping::CALC,
    &brake_heat::CALC,
    &brake_wear::CALC,
    &spoke_length::CALC,
    &spoke_tension::CALC,
    &run_out::CALC,
    &torque::CALC,
];

/// The calculator with this id.
#[must_use]
pub fn find(id: &str) -> Option<&'static Calculator> {
    ALL.iter().copied().find(|calculator| calculator.id == id)
}
