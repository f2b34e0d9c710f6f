//! Number expressions: "1 1/2", "half", "two and a half", "-6", "25-30".
//!
//! Owns [`Number`] and [`number_at`]. Must not know units.

use super::lex::{Kind, Token};

/// A number or a range of numbers as it stood in text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Number {
    pub(crate) low: f64,
    pub(crate) high: f64,
    /// The other reading of "1,250".
    pub(crate) alt: Option<f64>,
    /// Written in words ("two"), so that it needs a unit beside it to count.
    pub(crate) worded: bool,
}

impl Number {
    fn single(value: f64, alt: Option<f64>) -> Self {
        Self { low: value, high: value, alt, worded: false }
    }
}

/// The number that starts at token `i` and the first token after it.
pub(crate) fn number_at(tokens: &[Token], i: usize) -> Option<(Number, usize)> {
    let between = tokens.get(i).is_some_and(|t| t.is("between"));
    let start = i + usize::from(between);
    let (first, next) = single_at(tokens, start)?;
    let Some(joiner) = tokens.get(next) else { return Some((first, next)) };
    let dash = matches!(joiner.text.as_str(), "-" | "–" | "—" | "to") || (between && joiner.is("and"));
    // "25 -6" is two numbers, "25-30" and "25 - 30" are one range.
    let signed = joiner.text.as_str() == "-" && !joiner.glued && tokens.get(next + 1).is_some_and(|t| t.glued);
    if dash
        && !signed
        && let Some((second, after)) = single_at(tokens, next + 1)
    {
        let rising = second.low > first.low && !first.worded && !second.worded;
        let pair =
            tokens.get(after).is_some_and(|t| t.is("/")) && tokens.get(after + 1).is_some_and(|t| t.number().is_some());
        if rising && first.low >= 0.0 && !pair {
            return Some((Number { low: first.low, high: second.low, alt: None, worded: false }, after));
        }
    }
    Some((first, next))
}

/// The value of one number without range or sign at token `i`, and the first token after it.
pub(crate) fn plain_at(tokens: &[Token], i: usize) -> Option<(f64, usize)> {
    tokens.get(i)?.number()?;
    unsigned_at(tokens, i).map(|(number, next)| (number.low, next))
}

/// One number, with its sign.
fn single_at(tokens: &[Token], i: usize) -> Option<(Number, usize)> {
    let token = tokens.get(i)?;
    if matches!(token.text.as_str(), "-" | "−" | "–" | "+") && token.kind == Kind::Sign {
        let next = tokens.get(i + 1)?;
        if !next.glued
            || next.number().is_none()
            || (token.glued && i > 0 && !matches!(tokens[i - 1].text.as_str(), "(" | "=" | ":" | ","))
        {
            return None;
        }
        let (number, after) = unsigned_at(tokens, i + 1)?;
        let sign = if token.is("+") { 1.0 } else { -1.0 };
        return Some((Number::single(sign * number.low, None), after));
    }
    unsigned_at(tokens, i)
}

fn unsigned_at(tokens: &[Token], i: usize) -> Option<(Number, usize)> {
    let token = tokens.get(i)?;
    let Kind::Number { value, alt } = token.kind else { return worded_at(tokens, i) };
    if let Some((part, after)) = fraction_at(tokens, i) {
        return Some((Number::single(part, None), after));
    }
    // "1 1/2", "1-1/2", "1½"
    let dash = usize::from(tokens.get(i + 1).is_some_and(|t| t.is("-") && t.glued));
    if value.fract() == 0.0 {
        if let Some((part, after)) = fraction_at(tokens, i + 1 + dash)
            && (dash == 0 || tokens[i + 2].glued)
        {
            return Some((Number::single(value + part, None), after));
        }
        if let Some(next) = tokens.get(i + 1)
            && let Kind::Number { value: part, .. } = next.kind
            && next.text.chars().all(|c| !c.is_ascii_digit())
        {
            return Some((Number::single(value + part, None), i + 2));
        }
    }
    let half = ["and", "a", "half"];
    if half.iter().enumerate().all(|(k, w)| tokens.get(i + 1 + k).is_some_and(|t| t.is(w))) {
        return Some((Number::single(value + 0.5, None), i + 4));
    }
    Some((Number::single(value, alt), i + 1))
}

/// "3/8" as one number; "34/50" and "100/90" are pairs and not read here.
fn fraction_at(tokens: &[Token], i: usize) -> Option<(f64, usize)> {
    let (top, slash, bottom) = (tokens.get(i)?, tokens.get(i + 1)?, tokens.get(i + 2)?);
    let (a, b) = (top.number()?, bottom.number()?);
    let follows = tokens.get(i + 3).is_some_and(|t| t.is("/"));
    let common = [2.0, 3.0, 4.0, 5.0, 8.0, 10.0, 16.0, 32.0, 64.0].contains(&b);
    let reduced = a < b && a > 0.0 && a.fract() == 0.0 && (b < 10.0 || a % 2.0 == 1.0) && !(b == 32.0 && a > 7.0);
    (slash.is("/") && slash.glued && bottom.glued && common && reduced && !follows).then_some((a / b, i + 3))
}

fn worded_at(tokens: &[Token], i: usize) -> Option<(Number, usize)> {
    let word = |k: usize| tokens.get(i + k).map_or("", |t| t.text.as_str());
    let small = |w: &str| {
        let names = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
        names.iter().position(|n| *n == w).map(|p| (p + 1) as f64)
    };
    let skip_of = |mut k: usize| {
        for filler in ["of", "a", "an"] {
            k += usize::from(word(k) == filler);
        }
        k
    };
    let (value, used) = match (word(0), word(1), word(2), word(3)) {
        ("half", ..) => (0.5, skip_of(1)),
        ("quarter", ..) => (0.25, skip_of(1)),
        ("a" | "one", "half", ..) => (0.5, skip_of(2)),
        ("a" | "one", "quarter", ..) => (0.25, skip_of(2)),
        ("a" | "one", "third", ..) => (1.0 / 3.0, skip_of(2)),
        ("three", "quarters" | "quarter", ..) => (0.75, skip_of(2)),
        (n, "and", "a", "half") if small(n).is_some() => (small(n)? + 0.5, 4),
        (n, ..) => (small(n)?, 1),
    };
    Some((Number { worded: true, ..Number::single(value, None) }, i + used))
}

#[cfg(test)]
mod tests {
    use super::super::lex::lex;
    use super::*;

    fn read(text: &str) -> (f64, f64) {
        let (n, _) = number_at(&lex(&format!("{text} x")), 0).unwrap();
        (n.low, n.high)
    }

    #[test]
    fn fractions_words_and_ranges() {
        for (text, low, high) in [
            ("1/2", 0.5, 0.5),
            ("1 1/2", 1.5, 1.5),
            ("1-1/2", 1.5, 1.5),
            ("1½", 1.5, 1.5),
            ("half a", 0.5, 0.5),
            ("three quarters of a", 0.75, 0.75),
            ("two and a half", 2.5, 2.5),
            ("-6", -6.0, -6.0),
            ("+17", 17.0, 17.0),
            ("25-30", 25.0, 30.0),
            ("25 to 30", 25.0, 30.0),
            ("between 25 and 30", 25.0, 30.0),
            ("100/90", 100.0, 100.0),
            ("34/50", 34.0, 34.0),
        ] {
            assert_eq!(read(text), (low, high), "{text}");
        }
    }
}
