//! Finds the values that stand in free text.
//!
//! Owns [`find_all`]: values with units, and the loose sayings of the trade ("40 in them", "on 25s", "100/90").
//! Must not know complaints or calculators; it would rather miss a value than invent one.

use std::ops::Range;

use super::dimension::Dimension;
use super::lex::{Token, lex};
use super::number::number_at;
use super::read::{Parsed, Reading, quantity_at};
use super::table as u;
use super::unit::Unit;

/// A value found in free text.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// Its bytes in the text.
    pub span: Range<usize>,
    /// What it measures.
    pub dimension: Dimension,
    /// The value; [`Reading::assumed`] is set where the unit was understood from the words around.
    pub reading: Reading,
}

/// Every value with a unit in `text`, in order, and what the trade says without one.
#[must_use]
pub fn find_all(text: &str) -> Vec<Found> {
    let tokens = lex(text);
    let mut found = Vec::new();
    let mut i = 0;
    while i < tokens.len() {
        if let Some(after) = designation(&tokens, i) {
            i = after;
            continue;
        }
        if let Some((mut values, after)) = pair(&tokens, i) {
            found.append(&mut values);
            i = after;
            continue;
        }
        let Some(parsed) = quantity_at(&tokens, i, None) else {
            i += 1;
            continue;
        };
        let parsed = without_lookalike(&tokens, &parsed);
        if let Some(one) = value(&tokens, &parsed) {
            found.push(one);
        }
        i = parsed.next;
    }
    found
}

fn value(tokens: &[Token], parsed: &Parsed) -> Option<Found> {
    if innocent(tokens, parsed) {
        return None;
    }
    let (unit, assumed) = match parsed.unit {
        // "One foot drops", "each foot": a foot of the rider's.
        Some(_) if parsed.number.worded && tokens[parsed.next - 1].is("foot") => return None,
        Some(unit) => in_context(tokens, parsed, unit)?,
        None if parsed.number.worded => return None,
        None => (loose(tokens, parsed)?, true),
    };
    let mut reading = parsed.reading(unit, None)?;
    reading.assumed = assumed.then_some(unit);
    let taken = parsed.unit.is_none() && tokens.get(parsed.next).is_some_and(|t| t.glued && (t.is("s") || t.is("c")));
    let end = if taken { tokens[parsed.next].span.end } else { tokens[parsed.next - 1].span.end };
    Some(Found { span: tokens[parsed.first].span.start..end, dimension: unit.dimension, reading })
}

/// "1x12", "29x2.4", "26 x 1 3/8", "57-622", "M5", "v2": sizes and names, read elsewhere or not at all.
fn designation(tokens: &[Token], i: usize) -> Option<usize> {
    let number = |k: usize| tokens.get(k).is_some_and(|t| t.number().is_some());
    if number(i) && tokens.get(i + 1).is_some_and(|t| t.is("x") || t.is("×")) && number(i + 2) {
        let mut next = i;
        while number(next) {
            next = number_at(tokens, next).map_or(next + 1, |n| n.1);
            let again = tokens.get(next).is_some_and(|t| t.is("x") || t.is("×")) && number(next + 1);
            next += usize::from(again);
            if !again {
                break;
            }
        }
        return Some(next);
    }
    // "700c" is a wheel, "57-622" a tyre.
    if number(i) && tokens.get(i + 1).is_some_and(|t| t.is("c") && t.glued) && tokens[i].number()? >= 100.0 {
        let next = i + 2;
        let cross = tokens.get(next).is_some_and(|t| t.is("x") || t.is("×"));
        return Some(if cross && number(next + 1) { next + 2 } else { next });
    }
    if number(i)
        && tokens.get(i + 1).is_some_and(|t| t.is("-") && t.glued)
        && number(i + 2)
        && tokens[i + 2].number()? >= 203.0
        && tokens[i].number()? < 130.0
    {
        return Some(i + 3);
    }
    let after_letters = i > 0 && number(i) && tokens[i].glued && tokens[i - 1].is_word();
    (after_letters && !unit_word(&tokens[i - 1].text)).then_some(i + 1)
}

fn unit_word(word: &str) -> bool {
    ["ft", "st", "foot", "feet", "stone", "m"].contains(&word)
}

/// "100/90 psi", "100/90 on 25s": two pressures.
fn pair(tokens: &[Token], i: usize) -> Option<(Vec<Found>, usize)> {
    let (a, slash, b) = (tokens.get(i)?, tokens.get(i + 1)?, tokens.get(i + 2)?);
    let (first, second) = (a.number()?, b.number()?);
    let sane = |x: f64| (10.0..=150.0).contains(&x) && x.fract() == 0.0;
    if !slash.is("/") || !sane(first) || !sane(second) || tokens.get(i + 3).is_some_and(|t| t.is("/")) {
        return None;
    }
    let word = |k: usize| tokens.get(k).map_or("", |t| t.text.as_str());
    let (unit, next, assumed) = match word(i + 3) {
        "psi" => (&u::PSI, i + 4, false),
        "bar" | "kpa" | "mm" => return None,
        _ if second >= 40.0 && first >= 40.0 && pressure_words(tokens, i) > 0 => (&u::PSI, i + 3, true),
        "on" if tokens.get(i + 4).is_some_and(|t| t.number().is_some()) && word(i + 5) == "s" => (&u::PSI, i + 3, true),
        _ => return None,
    };
    let one = |token: &Token, value: f64| {
        let mut reading = Reading::exact(value, unit);
        reading.assumed = assumed.then_some(unit);
        Found { span: token.span.clone(), dimension: unit.dimension, reading }
    };
    Some((vec![one(a, first), one(b, second)], next))
}

/// How many words near token `i` speak of air.
fn pressure_words(tokens: &[Token], i: usize) -> usize {
    let words = [
        "psi",
        "tyre",
        "tyres",
        "tire",
        "tires",
        "pump",
        "pumped",
        "pumping",
        "inflate",
        "inflated",
        "air",
        "pressure",
        "pressures",
        "tube",
        "tubes",
        "flat",
        "flats",
        "puncture",
        "tubeless",
    ];
    near(tokens, i, 7, &words)
}

fn near(tokens: &[Token], i: usize, reach: usize, words: &[&str]) -> usize {
    let (from, to) = (i.saturating_sub(reach), (i + reach + 1).min(tokens.len()));
    tokens[from..to].iter().filter(|t| words.contains(&t.text.as_str())).count()
}

/// "2 in front" counts where "2.4 in tyres" measures, and "on 25s" is no time: the unit is dropped again.
fn without_lookalike(tokens: &[Token], parsed: &Parsed) -> Parsed {
    let little = [
        "the", "my", "a", "an", "them", "it", "both", "each", "front", "rear", "back", "total", "there", "this",
        "that", "these", "those", "his", "her", "our", "your", "all", "one", "two", "half", "between", "gear",
        "summer", "winter", "spring", "autumn", "january", "june", "july", "rain", "wet", "low", "high", "top", "hand",
        "and", "with", "here", "town", "traffic",
    ];
    let token = &tokens[parsed.next - 1];
    let preposition =
        token.is("in") && !token.glued && tokens.get(parsed.next).is_some_and(|t| little.contains(&t.text.as_str()));
    let plural = token.is("s") && token.glued;
    if (preposition || plural) && parsed.extra == 0.0 {
        return Parsed { unit: None, next: parsed.next - 1, ..parsed.clone() };
    }
    parsed.clone()
}

/// Numbers that only look like measures.
fn innocent(tokens: &[Token], parsed: &Parsed) -> bool {
    let word = |k: usize| tokens.get(k).map_or("", |t| t.text.as_str());
    let (next, text) = (word(parsed.next), |w: &str| parsed.unit.is_some_and(|unit| unit.symbol == w));
    let value = parsed.number.low;
    let unit_token = word(parsed.next - 1);
    let unit_glued = tokens[parsed.next - 1].glued;
    // "1st gear", "21st": an ordinal unless it is a weight that goes on.
    if text("st") && unit_token == "st" && unit_glued && parsed.extra == 0.0 {
        let tail = value % 10.0;
        if value < 5.0 || (tail == 1.0 && value != 11.0) {
            return true;
        }
    }
    // "6 mm hex key", "15mm spanner" name a tool.
    if ["hex", "allen", "key", "spanner", "wrench", "socket"].contains(&next)
        && parsed.unit.is_some_and(|unit| unit.dimension == Dimension::Length)
    {
        return true;
    }
    // "5' or so" is fine, "the '90s" is not a length.
    if text("ft") && matches!(unit_token, "'" | "’") && tokens.get(parsed.next).is_some_and(|t| t.glued && t.is("s"))
    {
        return true;
    }
    // "one spoke", "one link for link" speak of a thing, not of a count.
    if parsed.number.worded && (text("spokes") || text("links") || text("teeth")) {
        return true;
    }
    // "2 t" of something; teeth come in tens.
    if text("teeth") && unit_token == "t" && !(8.0..=70.0).contains(&value) {
        return true;
    }
    text("m") && unit_token == "m" && tokens.get(parsed.next).is_some_and(|t| t.glued && t.is("'"))
}

/// The unit in the light of the words around it, and whether it was understood from them.
fn in_context(tokens: &[Token], parsed: &Parsed, unit: &'static Unit) -> Option<(&'static Unit, bool)> {
    let next = tokens.get(parsed.next).map_or("", |t| t.text.as_str());
    if unit.symbol == "lb" && parsed.extra == 0.0 {
        let body = near(
            tokens,
            parsed.first,
            4,
            &[
                "weigh",
                "weighs",
                "weight",
                "rider",
                "heavy",
                "person",
                "bloke",
                "guy",
                "body",
                "me",
                "dressed",
                "i'm",
                "im",
                "kit",
                "load",
                "luggage",
                "bike",
                "overweight",
            ],
        );
        let air = pressure_words(tokens, parsed.first)
            + near(tokens, parsed.first, 3, &["them", "lost", "loses", "lose", "shock", "fork"]);
        let spring = near(tokens, parsed.first, 2, &["spring", "springs", "coil"]);
        let value = parsed.number.high;
        if spring > 0 && value >= 100.0 {
            return Some((&u::LB_PER_IN, true));
        }
        if air > 0 && air > body && (5.0..=350.0).contains(&value) {
            return Some((&u::PSI, true));
        }
    }
    if unit.symbol == "deg" && ["c", "f", "celsius"].contains(&next) {
        return None;
    }
    Some((unit, false))
}

/// What the trade says without a unit.
fn loose(tokens: &[Token], parsed: &Parsed) -> Option<&'static Unit> {
    let word = |k: usize| tokens.get(k).map_or("", |t| t.text.as_str());
    let before = |k: usize| if parsed.first >= k { word(parsed.first - k) } else { "" };
    let (value, next) = (parsed.number.low, parsed.next);
    // "on 2.4s", "28c": tyre widths.
    if tokens.get(next).is_some_and(|t| t.glued && t.is("s"))
        && ["on", "running", "with", "run", "the", "my", "in", "fit", "fitted", "these", "to"].contains(&before(1))
    {
        return match value {
            1.5..=5.0 if value.fract() != 0.0 => Some(&u::INCH),
            18.0..=60.0 => Some(&u::MM),
            _ => None,
        };
    }
    if tokens.get(next).is_some_and(|t| t.glued && t.is("c")) && (18.0..=62.0).contains(&value) {
        return Some(&u::MM);
    }
    // "got 40 in them", "100 in the back tyre"
    if word(next) == "in" && (12.0..=160.0).contains(&value) {
        let place = word(next + 1);
        let plain = ["them", "both", "it"].contains(&place);
        let named = ["the", "my"].contains(&place)
            && ["tyre", "tyres", "tire", "tires"].iter().any(|t| word(next + 2) == *t || word(next + 3) == *t);
        let air = pressure_words(tokens, parsed.first) > 0
            || ["got", "put", "have", "run", "running", "with", "at", "about", "around"].contains(&before(1));
        return (named || (plain && air)).then_some(&u::PSI);
    }
    // "torque wrench at 5", "torqued to 5"
    let torque = near(tokens, parsed.first, 4, &["torque", "torqued", "wrench"]) > 0;
    let set = ["at", "to", "on"].contains(&before(1));
    (torque && set && (1.0..=60.0).contains(&value)).then_some(&u::NM)
}

#[cfg(test)]
#[path = "find_tests.rs"]
mod tests;
