//! What every calculator is made of: its description, the values given to it, what comes out, and how text becomes values.
//!
//! Owns the plain types and the one way to run a calculator. Must not know any single calculator or formula.

mod answer;
mod calculator;
pub(in crate::calc) mod common;
mod error;
mod find;
#[cfg(test)]
mod flow_tests;
mod hear;
mod json;
mod outcome;
mod page;
mod pairing;
mod parse;
#[cfg(test)]
mod registry;
mod run;
mod values;

pub use answer::parse_answer;
pub use calculator::{
    Calculator, Check, Example, Input, InputKind, Need, OutputSpec, Pick, Preset, Shown, ask, check, count, output,
    quantity, shown, text,
};
pub use error::CalcError;
pub use find::by_words;
pub use hear::Heard;
pub use json::outcome_json;
pub use outcome::{Bar, Chart, Figure, MethodLine, Outcome, Rung, Table};
pub use page::reference_page;
pub use parse::{Parsed, parse_inputs};
pub use run::{missing, run};
pub use values::{Given, Values};

pub(in crate::calc) use hear::numbers_in;
