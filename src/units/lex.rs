//! Cuts typed text into numbers, words and signs with their places.
//!
//! Owns [`Token`]. Must not know units: "5ft10" is number, word, number here.

use std::ops::Range;

/// What a token is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Kind {
    /// Digits with at most one decimal mark; `alt` is the other reading of "1,250".
    Number { value: f64, alt: Option<f64> },
    /// Letters.
    Word,
    /// Any other single character.
    Sign,
}

/// One piece of text.
#[derive(Debug, Clone)]
pub(crate) struct Token {
    pub(crate) kind: Kind,
    /// The piece in lower case.
    pub(crate) text: String,
    /// Its bytes in the original text.
    pub(crate) span: Range<usize>,
    /// Nothing stands between it and the piece before.
    pub(crate) glued: bool,
}

impl Token {
    pub(crate) fn number(&self) -> Option<f64> {
        match self.kind {
            Kind::Number { value, .. } => Some(value),
            _ => None,
        }
    }

    pub(crate) fn is(&self, text: &str) -> bool {
        self.text == text
    }

    pub(crate) fn is_word(&self) -> bool {
        self.kind == Kind::Word
    }
}

/// Cuts `text`; never fails.
pub(crate) fn lex(text: &str) -> Vec<Token> {
    let lower = text.to_ascii_lowercase();
    let chars: Vec<(usize, char)> = lower.char_indices().collect();
    let end_of = |i: usize| chars.get(i).map_or(lower.len(), |c| c.0);
    let at = |i: usize| chars.get(i).map(|c| c.1);
    let mut out: Vec<Token> = Vec::new();
    let mut i = 0;
    let mut glued = false;
    while let Some(c) = at(i) {
        let start = i;
        let kind = if c.is_whitespace() || c.is_control() {
            i += 1;
            glued = false;
            continue;
        } else if c.is_ascii_digit()
            || ((c == '.' || c == ',') && at(i + 1).is_some_and(|d| d.is_ascii_digit()) && !glued)
        {
            i = number_end(&chars, i);
            number(&lower[chars[start].0..end_of(i)])
        } else if let Some(value) = fraction_char(c) {
            i += 1;
            Kind::Number { value, alt: None }
        } else if c.is_alphabetic() {
            while at(i).is_some_and(|c| c.is_alphabetic())
                || (matches!(at(i), Some('\'' | '’')) && at(i + 1).is_some_and(char::is_alphabetic))
            {
                i += 1;
            }
            Kind::Word
        } else {
            i += 1;
            Kind::Sign
        };
        let span = chars[start].0..end_of(i);
        out.push(Token { kind, text: lower[span.clone()].to_owned(), span, glued });
        glued = true;
    }
    out
}

/// The value of a single-character fraction.
fn fraction_char(c: char) -> Option<f64> {
    Some(match c {
        '½' => 0.5,
        '¼' => 0.25,
        '¾' => 0.75,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        _ => return None,
    })
}

fn number_end(chars: &[(usize, char)], mut i: usize) -> usize {
    let at = |i: usize| chars.get(i).map(|c| c.1);
    let digit = |i: usize| at(i).is_some_and(|c| c.is_ascii_digit());
    loop {
        while digit(i) {
            i += 1;
        }
        if matches!(at(i), Some('.' | ',')) && digit(i + 1) {
            i += 1;
        } else {
            break;
        }
    }
    if at(i) == Some('e') {
        let sign = usize::from(matches!(at(i + 1), Some('-' | '+')));
        if digit(i + 1 + sign) {
            i += 1 + sign;
            while digit(i) {
                i += 1;
            }
        }
    }
    i
}

fn number(text: &str) -> Kind {
    let marks: Vec<(usize, char)> = text.char_indices().filter(|c| matches!(c.1, '.' | ',')).collect();
    let parse = |s: &str| s.parse::<f64>().unwrap_or(f64::INFINITY);
    let dotted = |s: &str| parse(&s.replace(',', "."));
    let joined = |s: &str| parse(&s.replace(',', ""));
    match marks.as_slice() {
        [] => Kind::Number { value: parse(text), alt: None },
        [(_, '.')] => Kind::Number { value: parse(text), alt: None },
        [(place, _)] => {
            let (whole, part) = (&text[..*place], &text[place + 1..]);
            if part.len() == 3 && !whole.is_empty() && !whole.starts_with('0') && whole.len() <= 3 {
                Kind::Number { value: joined(text), alt: Some(dotted(text)) }
            } else {
                Kind::Number { value: dotted(text), alt: None }
            }
        }
        [rest @ .., (_, '.')] if rest.iter().all(|m| m.1 == ',') => Kind::Number { value: joined(text), alt: None },
        all if all.iter().all(|m| m.1 == ',') => Kind::Number { value: joined(text), alt: None },
        _ => Kind::Word,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_take_both_decimal_marks() {
        let value = |s: &str| lex(s)[0].number();
        assert_eq!(value("0,5"), Some(0.5));
        assert_eq!(value("2.4in"), Some(2.4));
        assert_eq!(value("1,250"), Some(1250.0));
        assert_eq!(value("12,000.5"), Some(12000.5));
        assert_eq!(value(".5"), Some(0.5));
        assert_eq!(value("1.2.3"), None);
        assert_eq!(value("1e3"), Some(1000.0));
        assert_eq!(value("½"), Some(0.5));
    }

    #[test]
    fn pieces_know_whether_they_are_glued() {
        let tokens = lex("5ft 10");
        assert_eq!(tokens.len(), 3);
        assert!(tokens[1].glued && !tokens[2].glued);
        assert_eq!(
            lex("it's 5'10\"").iter().map(|t| t.text.as_str()).collect::<Vec<_>>(),
            ["it's", "5", "'", "10", "\""]
        );
    }
}
