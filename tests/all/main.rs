//! Ordinary integration tests, in one binary.

#![allow(clippy::unwrap_used, reason = "a test may fail by panicking")]

mod belief;
mod binary;
mod calculators;
mod corpus;
mod hearing;
mod house;
mod knowledge;
mod odd_input;
mod rules;
