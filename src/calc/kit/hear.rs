//! What a calculator's own ear returns.
//!
//! Owns [`Heard`] and small pieces for reading lists of numbers. Must not know any single calculator.

use std::ops::Range;

use super::values::{Given, Values};
use crate::units::lex;

/// A value a calculator heard in free text by itself.
#[derive(Debug, Clone)]
pub struct Heard {
    /// Input id.
    pub input: &'static str,
    /// The value.
    pub given: Given,
    /// Its bytes in the text.
    pub span: Range<usize>,
}

/// The bare numbers of a text in order.
pub(in crate::calc) fn numbers_in(text: &str) -> Vec<f64> {
    lex(text).iter().filter_map(|token| token.number()).filter(|n| n.is_finite()).collect()
}

/// Puts what was heard into values that are still open.
pub(in crate::calc) fn set_heard(values: &mut Values, heard: Vec<Heard>) -> Vec<Range<usize>> {
    let mut spans = Vec::new();
    for one in heard {
        if !values.has(one.input) {
            values.set(one.input, one.given);
            spans.push(one.span);
        }
    }
    spans
}
