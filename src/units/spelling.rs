//! Finds which unit is spelled at a place of a text.
//!
//! Owns the spelling index. Must not know numbers or what is asked beyond its dimension.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::dimension::Dimension;
use super::lex::{Token, lex};
use super::table::UNITS;
use super::unit::Unit;

struct Spelling {
    pieces: Vec<String>,
    unit: &'static Unit,
    loose: bool,
}

/// Spellings by their first piece, longest first.
static SPELLINGS: LazyLock<BTreeMap<String, Vec<Spelling>>> = LazyLock::new(|| {
    let mut all: BTreeMap<String, Vec<Spelling>> = BTreeMap::new();
    for &unit in UNITS {
        for (spellings, loose) in [(unit.spellings, false), (unit.loose, true)] {
            for text in spellings {
                let pieces: Vec<String> = lex(text).into_iter().map(|t| t.text).collect();
                let first = pieces.first().cloned().unwrap_or_default();
                all.entry(first).or_default().push(Spelling { pieces, unit, loose });
            }
        }
    }
    for same in all.values_mut() {
        same.sort_by_key(|s| std::cmp::Reverse(s.pieces.len()));
    }
    all
});

/// The unit spelled at token `i` and the first token after it; the longest spelling wins, then the dimension wanted.
pub(crate) fn unit_at(tokens: &[Token], i: usize, want: Option<Dimension>) -> Option<(&'static Unit, usize)> {
    let mut best: Option<(&Spelling, usize)> = None;
    for spelling in SPELLINGS.get(&tokens.get(i)?.text)? {
        let wanted = want == Some(spelling.unit.dimension);
        if spelling.loose && !wanted {
            continue;
        }
        let Some(next) = matches_at(tokens, i, &spelling.pieces) else { continue };
        let better = best.is_none_or(|(other, _)| {
            let longer = spelling.pieces.len() > other.pieces.len();
            longer || (spelling.pieces.len() == other.pieces.len() && wanted && want != Some(other.unit.dimension))
        });
        if better {
            best = Some((spelling, next));
        }
    }
    best.map(|(spelling, next)| (spelling.unit, next))
}

fn matches_at(tokens: &[Token], mut i: usize, pieces: &[String]) -> Option<usize> {
    for (k, piece) in pieces.iter().enumerate() {
        let mut token = tokens.get(i)?;
        let joint = k > 0 && matches!(token.text.as_str(), "-" | "·" | "*" | "." | "⋅");
        if joint && !token.is(piece) {
            i += 1;
            token = tokens.get(i)?;
        }
        if !token.is(piece) || (k > 0 && token.number().is_some() && !token.glued) {
            return None;
        }
        i += 1;
    }
    Some(i)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn longest_spelling_and_wanted_dimension_win() {
        let symbol = |text: &str, want| unit_at(&lex(text), 0, want).map(|(u, _)| u.symbol);
        assert_eq!(symbol("in-lb", None), Some("lbf in"));
        assert_eq!(symbol("N·m", None), Some("N m"));
        assert_eq!(symbol("km/h", None), Some("km/h"));
        assert_eq!(symbol("lb", None), Some("lb"));
        assert_eq!(symbol("lb", Some(Dimension::Pressure)), Some("psi"));
        assert_eq!(symbol("°", Some(Dimension::Temperature)), Some("C"));
        assert_eq!(symbol("years", None), None);
    }

    #[test]
    fn no_spelling_is_claimed_twice() {
        let mut seen: Vec<&str> = UNITS.iter().flat_map(|u| u.spellings.iter().copied()).collect();
        let count = seen.len();
        seen.sort_unstable();
        seen.dedup();
        assert_eq!(seen.len(), count);
    }
}
