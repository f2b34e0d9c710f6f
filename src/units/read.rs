//! Reads one expected value out of what a person typed.
//!
//! Owns [`read()`], [`Reading`], [`Hint`] and [`ReadError`]. Must not know which question was asked beyond the hint.

use std::ops::Range;

use thiserror::Error;

use super::dimension::{Dimension, Quantity};
use super::lex::{Token, lex};
use super::number::{Number, number_at};
use super::spelling::unit_at;
use super::table;
use super::unit::Unit;

/// What would be a sensible value, so that a bare number can take its unit.
#[derive(Debug, Clone, Copy)]
pub struct Hint {
    /// Lowest and highest sensible value, SI units.
    pub plausible: (f64, f64),
    /// Units a bare number may take, the likeliest first.
    pub units: &'static [&'static Unit],
}

/// A value as it was understood.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The value; the middle where a range was given.
    pub quantity: Quantity,
    /// The unit the person used, or the one assumed.
    pub unit: &'static Unit,
    /// The unit that was taken because none was given.
    pub assumed: Option<&'static Unit>,
    /// Half the width of a given range, SI units.
    pub spread: Option<f64>,
    /// Said to be rough: "about 80 kg".
    pub about: bool,
}

impl Reading {
    /// A reading of a value known exactly, as if it had been typed in `unit`.
    #[must_use]
    pub fn exact(value: f64, unit: &'static Unit) -> Self {
        Self { quantity: Quantity::of(value, unit), unit, assumed: None, spread: None, about: false }
    }
}

/// Why a text gave no value; the text of each is a sentence to show.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum ReadError {
    /// Nothing was typed.
    #[error("nothing was given; {} would be understood.", .0.samples())]
    Empty(Dimension),
    /// No number stands in the text.
    #[error("no number was found in that; {} would be understood.", .0.samples())]
    NoNumber(Dimension),
    /// The number is not one: NaN, infinite or beyond any bicycle.
    #[error("that is not a number to reckon with; {} would be understood.", .0.samples())]
    NotFinite(Dimension),
    /// The unit measures something else.
    #[error("\"{text}\" is {}, and {} was asked for; {} would be understood.", .found.name(), .wanted.name(), .wanted.samples())]
    OtherDimension {
        /// The words that were read.
        text: String,
        /// What they measure.
        found: Dimension,
        /// What was asked for.
        wanted: Dimension,
    },
    /// More than one value stands in the text.
    #[error("there are two figures in that, \"{first}\" and \"{second}\"; give one.")]
    TwoNumbers {
        /// The first as typed.
        first: String,
        /// The second as typed.
        second: String,
    },
}

/// A number with the unit beside it, as it stood in the text.
#[derive(Debug, Clone)]
pub(crate) struct Parsed {
    pub(crate) number: Number,
    pub(crate) unit: Option<&'static Unit>,
    /// Added by the second part of "5 ft 10", SI units.
    pub(crate) extra: f64,
    pub(crate) about: bool,
    pub(crate) first: usize,
    pub(crate) next: usize,
}

impl Parsed {
    pub(crate) fn span(&self, tokens: &[Token]) -> Range<usize> {
        tokens[self.first].span.start..tokens[self.next - 1].span.end
    }

    /// The reading in `unit`; `None` where the value is not finite or beyond any bicycle.
    pub(crate) fn reading(&self, unit: &'static Unit, plausible: Option<(f64, f64)>) -> Option<Reading> {
        let mut number = self.number;
        if let (Some(alt), Some((low, high))) = (number.alt, plausible) {
            let inside = |x: f64| (low..=high).contains(&unit.to_si(x));
            if inside(alt) && !inside(number.low) {
                (number.low, number.high) = (alt, alt);
            }
        }
        let sign = if number.low < 0.0 { -1.0 } else { 1.0 };
        let (low, high) = (unit.to_si(number.low) + sign * self.extra, unit.to_si(number.high) + sign * self.extra);
        let si = f64::midpoint(low, high);
        if !si.is_finite() || si.abs() > 1e12 || !number.low.is_finite() || number.high.abs() > 1e9 {
            return None;
        }
        let spread = (number.high > number.low).then_some((high - low).abs() / 2.0);
        let quantity = Quantity::si(unit.dimension, si);
        Some(Reading { quantity, unit, assumed: self.unit.is_none().then_some(unit), spread, about: self.about })
    }
}

/// The quantity that starts at token `i`.
pub(crate) fn quantity_at(tokens: &[Token], i: usize, want: Option<Dimension>) -> Option<Parsed> {
    let (mut number, mut next) = number_at(tokens, i)?;
    let hyphen = tokens.get(next).is_some_and(|t| t.is("-") && t.glued)
        && tokens.get(next + 1).is_some_and(|t| t.glued && t.is_word());
    let mut unit = None;
    if let Some((found, after)) = unit_at(tokens, next + usize::from(hyphen), want) {
        unit = Some(found);
        next = after;
    }
    let mut extra = 0.0;
    let mut upper = unit;
    while let Some(above) = upper {
        let Some((more, below, after)) = lower_part(tokens, next, above) else { break };
        extra += below.to_si(more);
        next = after;
        upper = Some(below);
    }
    // "25 psi to 30 psi"
    if let Some(unit) = unit
        && extra == 0.0
        && number.low == number.high
        && tokens.get(next).is_some_and(|t| matches!(t.text.as_str(), "to" | "-" | "–"))
        && let Some((second, after)) = number_at(tokens, next + 1)
        && let Some((other, after)) = unit_at(tokens, after, want)
        && other == unit
        && second.low > number.low
    {
        number.high = second.high;
        next = after;
    }
    Some(Parsed { number, unit, extra, about: about(tokens, i, next), first: i, next })
}

/// The second part of "5 ft 10", "11 st 4 lb", "1 m 76": value, unit, next token.
fn lower_part(tokens: &[Token], i: usize, above: &'static Unit) -> Option<(f64, &'static Unit, usize)> {
    let below = above.below?;
    let i = i + usize::from(tokens.get(i).is_some_and(|t| t.is("and") || t.is(",")));
    let (number, next) = number_at(tokens, i)?;
    let limit = (above.to_si(1.0) / below.to_si(1.0)).round();
    if number.worded || number.low < 0.0 || number.low >= limit || number.low != number.high {
        return None;
    }
    if let Some((unit, after)) = unit_at(tokens, next, Some(above.dimension)) {
        return (unit == below).then_some((number.low, below, after));
    }
    let glued = tokens[i].glued;
    let bare = match above.symbol {
        "ft" | "st" => true,
        "m" => glued && number.low >= 10.0,
        "h" | "min" => number.low >= 10.0,
        _ => false,
    };
    let ends = tokens.get(next).is_none_or(|t| !matches!(t.text.as_str(), "x" | "/" | "speed" | "%" | "psi" | "bar"));
    (bare && ends).then_some((number.low, below, next))
}

/// Whether words around a quantity say that it is rough.
fn about(tokens: &[Token], first: usize, next: usize) -> bool {
    let rough = [
        "about",
        "around",
        "approx",
        "approximately",
        "roughly",
        "~",
        "≈",
        "circa",
        "ca",
        "nearly",
        "almost",
        "some",
        "maybe",
        "probably",
        "just",
    ];
    let before = (1..=2).any(|k| first >= k && rough.contains(&tokens[first - k].text.as_str()));
    let after = tokens.get(next).is_some_and(|t| t.is("ish"))
        || (tokens.get(next).is_some_and(|t| t.is("or")) && tokens.get(next + 1).is_some_and(|t| t.is("so")));
    before || after
}

/// Reads the one value of `dimension` in `text`.
///
/// A bare number takes the first unit of the hint that makes it plausible; [`Reading::assumed`] says which.
/// A value is not checked against any range: that is for whoever asked.
///
/// # Errors
/// A [`ReadError`] whose text is a sentence naming what would be understood.
pub fn read(text: &str, dimension: Dimension, hint: Hint) -> Result<Reading, ReadError> {
    let text = without_brackets(text);
    let tokens = lex(&text);
    if tokens.is_empty() {
        return Err(ReadError::Empty(dimension));
    }
    let (mut fits, mut bare, mut others) = (Vec::new(), Vec::new(), Vec::new());
    let mut i = 0;
    while i < tokens.len() {
        let Some(parsed) = quantity_at(&tokens, i, Some(dimension)) else {
            i += 1;
            continue;
        };
        i = parsed.next;
        match parsed.unit {
            Some(unit) if unit.dimension == dimension => fits.push(parsed),
            Some(_) => others.push(parsed),
            None => bare.push(parsed),
        }
    }
    if fits.is_empty() && bare.iter().any(|p| !p.number.worded) {
        bare.retain(|p| !p.number.worded);
    }
    let mut readings = Vec::new();
    for parsed in if fits.is_empty() { &bare } else { &fits } {
        let unit = parsed.unit.unwrap_or_else(|| assume(&parsed.number, hint));
        let reading = parsed.reading(unit, Some(hint.plausible)).ok_or(ReadError::NotFinite(dimension))?;
        readings.push((reading, text[parsed.span(&tokens)].to_owned()));
    }
    let mut readings = readings.into_iter();
    match (readings.next(), others.first()) {
        (Some((first, said)), _) => {
            let si = first.quantity.si;
            let differs = |r: &Reading| (r.quantity.si - si).abs() > 0.05 * si.abs() + 1e-12;
            match readings.find(|(r, _)| differs(r)) {
                Some((_, second)) => Err(ReadError::TwoNumbers { first: said, second }),
                None => Ok(first),
            }
        }
        (None, Some(other)) => Err(ReadError::OtherDimension {
            text: text[other.span(&tokens)].to_owned(),
            found: other.unit.map_or(Dimension::Plain, |u| u.dimension),
            wanted: dimension,
        }),
        (None, None) => {
            let odd = ["nan", "inf", "infinity", "∞", "infinite"];
            let strange = tokens.iter().any(|t| odd.contains(&t.text.as_str()));
            Err(if strange { ReadError::NotFinite(dimension) } else { ReadError::NoNumber(dimension) })
        }
    }
}

/// The unit a bare number takes.
pub(crate) fn assume(number: &Number, hint: Hint) -> &'static Unit {
    let (low, high) = hint.plausible;
    let middle = f64::midpoint(number.low, number.high);
    let fits = |unit: &&&'static Unit| {
        let inside = |x: f64| (low..=high).contains(&unit.to_si(x));
        inside(middle) || number.alt.is_some_and(inside)
    };
    hint.units.iter().find(fits).or(hint.units.first()).copied().unwrap_or(&table::PLAIN)
}

/// Drops "(1.9 bar)" behind a figure, so that what the house writes can be read again.
fn without_brackets(text: &str) -> String {
    match (text.find('('), text.find(')')) {
        (Some(open), Some(close)) if open < close && text[..open].chars().any(|c| c.is_ascii_digit()) => {
            format!("{}{}", &text[..open], &text[close + 1..])
        }
        _ => text.to_owned(),
    }
}

#[cfg(test)]
#[path = "read_tests.rs"]
mod tests;
