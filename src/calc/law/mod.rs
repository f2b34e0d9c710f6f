//! Formulae that several calculators share, as plain functions of SI values.
//!
//! Owns arithmetic with its sources and checks. Must not know inputs, outcomes or text.

pub(super) mod bearing;
pub(super) mod bolt;
pub(super) mod chain;
pub(super) mod frame;
pub(super) mod gas;
pub(super) mod gear;
pub(super) mod leg;
pub(super) mod ride;
pub(super) mod spoke;
pub(super) mod spring;
pub(super) mod tyre;
