//! Which number belongs to which name.
//!
//! Owns the pairing of input names with the numbers beside them, clause by clause: "inseam 83 cm, 170 cranks".
//! Must not know ranges or results.

use std::ops::Range;

use super::calculator::{Calculator, InputKind};
use super::parse::quantity_for;
use crate::units::{Token, lex, quantity_at};

/// The name of an input, standing in the text.
#[derive(Debug, Clone)]
pub(super) struct Name {
    pub(super) input: usize,
    pub(super) start: usize,
    pub(super) end: usize,
}

/// Every name in the text; longer names first claim their words.
pub(super) fn names_in(calculator: &Calculator, tokens: &[Token]) -> Vec<Name> {
    let mut phrases: Vec<(usize, Vec<String>)> = Vec::new();
    for (k, input) in calculator.inputs.iter().enumerate() {
        let id = input.id.replace('-', " ");
        for name in input.names.iter().copied().chain([id.as_str()]) {
            phrases.push((k, lex(name).into_iter().map(|t| t.text).collect()));
        }
    }
    phrases.sort_by_key(|(_, words)| std::cmp::Reverse(words.len()));
    let mut taken = vec![false; tokens.len()];
    let mut names = Vec::new();
    for (input, words) in phrases {
        if words.is_empty() || words.len() > tokens.len() {
            continue;
        }
        for start in 0..=tokens.len() - words.len() {
            let end = start + words.len();
            let free = !taken[start..end].iter().any(|&t| t);
            if free && tokens[start..end].iter().zip(&words).all(|(t, w)| same_word(&t.text, w)) {
                taken[start..end].fill(true);
                names.push(Name { input, start, end });
            }
        }
    }
    names.sort_by_key(|name| name.start);
    names
}

/// Equal but for a plural s, a hyphen or the spelling of tyre.
fn same_word(typed: &str, word: &str) -> bool {
    let fold = |w: &str| {
        let w = w.strip_suffix("'s").unwrap_or(w).replace("tire", "tyre");
        if w.len() > 3 { w.strip_suffix('s').map_or_else(|| w.clone(), str::to_owned) } else { w }
    };
    typed == word || fold(typed) == fold(word) || (word == " " && typed == "-")
}

/// The clauses of a text as token ranges.
pub(super) fn clauses(tokens: &[Token]) -> Vec<Range<usize>> {
    let mut out = Vec::new();
    let mut from = 0;
    for (i, token) in tokens.iter().enumerate() {
        let full_stop = token.is(".") && tokens.get(i + 1).is_none_or(|t| !t.glued);
        if matches!(token.text.as_str(), "," | ";" | "?" | "!") || full_stop {
            out.push(from..i);
            from = i + 1;
        }
    }
    out.push(from..tokens.len());
    out
}

/// Pairs names with the first token of their number and where that must end; each number goes to one name.
pub(super) fn pair<'n>(
    tokens: &[Token],
    clause: &Range<usize>,
    names: &[&'n Name],
    used: &[bool],
    calculator: &Calculator,
) -> Vec<(&'n Name, usize, usize)> {
    let spans: Vec<(usize, usize)> = numbers(tokens, clause, names, used);
    let mut best: Vec<(&'n Name, usize, usize)> = Vec::new();
    let mut best_score = (0, 0);
    for after_first in [true, false] {
        let mut pairs: Vec<(&'n Name, usize, usize)> = Vec::new();
        let mut taken = vec![false; spans.len()];
        let mut gaps = 0;
        for after in [after_first, !after_first] {
            for name in names {
                if pairs.iter().any(|(n, ..)| n.start == name.start) || !countable(calculator, name) {
                    continue;
                }
                let near = if after { behind(tokens, name, &spans) } else { before(tokens, name, &spans) };
                if let Some((k, gap)) = near
                    && !taken[k]
                    && quantity_for(
                        &calculator.inputs[name.input],
                        &tokens[..limit(names, clause, spans[k].0)],
                        spans[k].0,
                    )
                    .is_some()
                {
                    taken[k] = true;
                    pairs.push((name, spans[k].0, limit(names, clause, spans[k].0)));
                    gaps += gap;
                }
            }
        }
        let score = (pairs.len(), 100 - gaps.min(100));
        if score > best_score {
            best_score = score;
            best = pairs;
        }
    }
    best
}

fn countable(calculator: &Calculator, name: &Name) -> bool {
    matches!(calculator.inputs[name.input].kind, InputKind::Quantity { .. } | InputKind::Count { .. })
}

/// The numbers of a clause as token ranges, outside names.
fn numbers(tokens: &[Token], clause: &Range<usize>, names: &[&Name], used: &[bool]) -> Vec<(usize, usize)> {
    let mut out = Vec::new();
    let mut i = clause.start;
    while i < clause.end {
        let in_name = names.iter().any(|n| (n.start..n.end).contains(&i));
        let end = limit(names, clause, i);
        let parsed = if in_name || used[i] { None } else { quantity_at(&tokens[..end], i, None) };
        match parsed {
            Some(p) if !tokens[i].glued || i == 0 || !tokens[i - 1].is_word() => {
                out.push((i, p.next));
                i = p.next;
            }
            _ => i += 1,
        }
    }
    out
}

/// Where a number that starts at token `i` must end: at the next name or with its clause.
fn limit(names: &[&Name], clause: &Range<usize>, i: usize) -> usize {
    names.iter().map(|n| n.start).filter(|&s| s > i).min().unwrap_or(clause.end).min(clause.end)
}

const FILLERS: &[&str] = &[
    "is", "=", ":", "of", "at", "about", "the", "a", "my", "was", "are", "around", "now", "on", "-", "~", "it", "to",
    "only", "and", "approx", "roughly", "long", "for", "set", "in", "with", "measured", "reads", "'s", "has", "comes",
];

/// The number behind a name, at most four filler words away.
fn behind(tokens: &[Token], name: &Name, spans: &[(usize, usize)]) -> Option<(usize, usize)> {
    let k = spans.iter().position(|s| s.0 >= name.end)?;
    let gap = &tokens[name.end..spans[k].0];
    (gap.len() <= 4 && gap.iter().all(|t| FILLERS.contains(&t.text.as_str()))).then_some((k, gap.len()))
}

/// The number before a name, at most three filler words away.
fn before(tokens: &[Token], name: &Name, spans: &[(usize, usize)]) -> Option<(usize, usize)> {
    let k = spans.iter().rposition(|s| s.1 <= name.start)?;
    let gap = &tokens[spans[k].1..name.start];
    let close = ["of", "the", "a", "my", "-", "for", "on", "in"];
    (gap.len() <= 3 && gap.iter().all(|t| close.contains(&t.text.as_str()))).then_some((k, gap.len()))
}
