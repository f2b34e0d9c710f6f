//! Formulae that several calculators share, as plain functions of SI values.
//!
//! Owns arithmetic with its sources and checks. Must not know inputs, outcomes or text.

pub(super) mod bolt;
pub(super) mod chain;
pub(super) mod frame;
pub(super) mod tyre;
