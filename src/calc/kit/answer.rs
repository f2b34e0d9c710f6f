//! Reads the answer to one question of a calculator.
//!
//! Owns [`parse_answer`]. Must not know the other inputs.

use std::ops::Range;

use super::calculator::{Input, InputKind};
use super::run::check_range;
use super::values::Given;
use crate::units::{Dimension, Hint, TIMES, Token, lex, read};

/// Reads what was typed at the question of `input`: a value, the words or the number of a choice, a list.
///
/// # Errors
/// A sentence to show, naming what would be understood; the question stays open.
pub fn parse_answer(input: &Input, text: &str) -> Result<Given, String> {
    let given = match &input.kind {
        InputKind::Quantity { dimension, plausible, units, .. } => {
            let hint = Hint { plausible: *plausible, units };
            Given::Quantity(read(text, *dimension, hint).map_err(|error| format!("{}: {error}", input.name()))?)
        }
        InputKind::Count { .. } => {
            static COUNTED: &[&crate::units::Unit] = &[&TIMES];
            let hint = Hint { plausible: (0.0, 1e6), units: COUNTED };
            let reading = read(text, Dimension::Count, hint).map_err(|error| format!("{}: {error}", input.name()))?;
            Given::Count(
                whole(reading.quantity.si).ok_or_else(|| format!("{}: a whole number is needed.", input.name()))?,
            )
        }
        InputKind::Choice(picks) => {
            let typed = text.trim().to_lowercase();
            let by_number = typed.parse::<usize>().ok().and_then(|n| picks.get(n.wrapping_sub(1)));
            let by_id = picks.iter().find(|pick| pick.id == typed || pick.says.to_lowercase() == typed);
            let pick = by_number.or(by_id).or_else(|| picks.get(picked(text, picks)?)).ok_or_else(|| {
                let says: Vec<&str> = picks.iter().map(|pick| pick.says).collect();
                format!("{}: that was not understood. It can be: {}.", input.name(), says.join("; "))
            })?;
            Given::Choice(pick.id)
        }
        InputKind::Text { sample } => {
            let typed = text.trim();
            if !typed.chars().any(|c| c.is_ascii_digit()) || typed.len() > 500 {
                return Err(format!("{}: something like \"{sample}\" would be understood.", input.name()));
            }
            Given::Text(typed.to_owned())
        }
    };
    check_range(input, &given).map_err(|error| format!("{error}."))?;
    Ok(given)
}

/// A whole, sensible count.
pub(super) fn whole(value: f64) -> Option<u32> {
    let sane = value.is_finite() && (0.0..=1e6).contains(&value) && value.fract() == 0.0;
    sane.then_some(value as u32)
}

/// The pick whose words stand in the text; the longest phrase wins.
fn picked(text: &str, picks: &[super::calculator::Pick]) -> Option<usize> {
    picked_at(&lex(text), picks).map(|(k, _)| k)
}

/// As [`picked`], with the tokens of the phrase.
pub(super) fn picked_at(tokens: &[Token], picks: &[super::calculator::Pick]) -> Option<(usize, Range<usize>)> {
    let mut best: Option<(usize, Range<usize>)> = None;
    for (k, pick) in picks.iter().enumerate() {
        for phrase in pick.words {
            let words: Vec<String> = lex(phrase).into_iter().map(|t| t.text).collect();
            let Some(start) =
                tokens.windows(words.len()).position(|window| window.iter().zip(&words).all(|(t, w)| t.is(w)))
            else {
                continue;
            };
            if best.as_ref().is_none_or(|(_, span)| words.len() > span.len()) {
                best = Some((k, start..start + words.len()));
            }
        }
    }
    best
}
