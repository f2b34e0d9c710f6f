//! Phrases with slack: compiled once, matched against the words of a line.
//!
//! Syntax (see "How to add a note"): words in order with up to two others, but no comma, between them; `a|b` either word;
//! `x & y` both anywhere in the sentence.

use std::collections::HashMap;

use super::token::{NEGATORS, Token, denies, tokens};

/// Other words allowed between two words of a phrase.
const GAP: usize = 2;
/// The parts of an `&` stand at most so many words from the first part.
const TOGETHER: usize = 8;
/// Alternations are expanded up to this many plain phrases.
const MOST_EXPANSIONS: usize = 48;

/// A compiled phrase: the parts of an `&`, each a sequence of stems.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Phrase {
    parts: Vec<Vec<String>>,
}

/// A phrase found in a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Match {
    /// Which entry of the table.
    pub entry: usize,
    /// First word of it in the line.
    pub start: usize,
    /// Last word of it in the line.
    pub end: usize,
    /// How many words it has.
    pub words: usize,
    /// Where its later parts begin (of an `&`), up to two.
    pub parts: [usize; 2],
    /// A word of denial stands among the words passed over: "the wheel isn't centred".
    pub denied: bool,
    /// One stands right before the next word: "it is not loose", "won't come off".
    pub denied_close: bool,
}

impl Phrase {
    /// Compiles one phrase into its plain forms, each rewritten by `canon`.
    #[must_use]
    pub fn compile(text: &str, canon: &dyn Fn(Vec<Token>) -> Vec<Token>) -> Vec<Phrase> {
        let mut forms: Vec<Vec<String>> = vec![Vec::new()];
        for piece in text.split('&') {
            let mut plain: Vec<String> = vec![String::new()];
            for word in piece.split_whitespace() {
                let alternatives: Vec<&str> = word.split('|').filter(|w| !w.is_empty()).collect();
                let mut next = Vec::new();
                for p in &plain {
                    for a in &alternatives {
                        next.push(format!("{p} {a}"));
                    }
                }
                next.truncate(MOST_EXPANSIONS);
                plain = next;
            }
            let mut next = Vec::new();
            for f in &forms {
                for p in &plain {
                    let mut f = f.clone();
                    f.push(p.clone());
                    next.push(f);
                }
            }
            next.truncate(MOST_EXPANSIONS);
            forms = next;
        }
        forms
            .into_iter()
            .map(|parts| Phrase {
                parts: parts
                    .iter()
                    .map(|p| stems_of(canon(tokens(p))))
                    .filter(|p: &Vec<String>| !p.is_empty())
                    .collect(),
            })
            .filter(|p| !p.parts.is_empty())
            .collect()
    }

    /// The stems of the phrase.
    pub fn stems(&self) -> impl Iterator<Item = &str> {
        self.parts.iter().flatten().map(String::as_str)
    }

    fn words(&self) -> usize {
        self.parts.iter().map(Vec::len).sum()
    }

    fn match_at(&self, line: &[Token], start: usize) -> Option<Match> {
        let Stretch { start: s, mut end, mut denied, mut close } = sequence_at(line, start, &self.parts[0])?;
        let (mut first, s_end) = (s, end);
        let mut parts = [s; 2];
        for (k, part) in self.parts[1..].iter().enumerate() {
            let sentence = line[start].sentence;
            // Words far apart in a long sentence tell of different things.
            let near = start.saturating_sub(TOGETHER)..line.len().min(s_end + TOGETHER + 1);
            let found = near.filter(|i| line[*i].sentence == sentence).find_map(|i| sequence_at(line, i, part))?;
            first = first.min(found.start);
            parts[k.min(1)] = found.start;
            end = end.max(found.end);
            denied |= found.denied;
            close |= found.close;
        }
        Some(Match { entry: 0, start: first, end, words: self.words(), parts, denied, denied_close: close })
    }
}

/// The stems of a phrase; possessives count only where nothing but one other word stands.
fn stems_of(read: Vec<Token>) -> Vec<String> {
    let heavy = read.iter().filter(|t| !t.is_light()).count();
    read.into_iter().filter(|t| heavy == 1 || !t.is_light()).map(|t| t.stem).collect()
}

/// Where a sequence of stems stands.
struct Stretch {
    start: usize,
    end: usize,
    /// A word of denial was passed over.
    denied: bool,
    /// One that stands right before the next word of the sequence, be it only an inability.
    close: bool,
}

/// Matches a sequence of stems beginning exactly at `start`, within one clause: "tyres pumped, brakes fine" pumps no brake.
fn sequence_at(line: &[Token], start: usize, stems: &[String]) -> Option<Stretch> {
    if line.get(start)?.stem != stems[0] {
        return None;
    }
    let mut found = Stretch { start, end: start, denied: false, close: false };
    for stem in &stems[1..] {
        let mut between = 0;
        let next = (found.end + 1..line.len())
            .take_while(|i| {
                between += usize::from(!line[*i].is_light());
                between <= GAP + 1 && line[*i].clause == line[start].clause
            })
            .find(|i| &line[*i].stem == stem)?;
        let passed = &line[found.end + 1..next];
        found.denied |= passed.iter().any(|t| denies(&t.word));
        found.close |= passed.last().is_some_and(|t| NEGATORS.contains(&t.word.as_str()));
        found.end = next;
    }
    Some(found)
}

/// All phrases of one kind, each leading to an entry, found quickly by their first stem.
#[derive(Clone, Debug, Default)]
pub struct PhraseTable {
    phrases: Vec<(Phrase, usize)>,
    by_first: HashMap<String, Vec<usize>>,
}

impl PhraseTable {
    /// Adds a phrase that leads to `entry`.
    pub fn add(&mut self, text: &str, entry: usize, canon: &dyn Fn(Vec<Token>) -> Vec<Token>) {
        for phrase in Phrase::compile(text, canon) {
            let at = self.phrases.len();
            self.by_first.entry(phrase.parts[0][0].clone()).or_default().push(at);
            self.phrases.push((phrase, entry));
        }
    }

    /// All stems used by phrases.
    pub fn stems(&self) -> impl Iterator<Item = &str> {
        self.phrases.iter().flat_map(|(p, _)| p.stems())
    }

    /// Every phrase found in the line, in the order of the line.
    #[must_use]
    pub fn matches(&self, line: &[Token]) -> Vec<Match> {
        let mut out = Vec::new();
        for (i, token) in line.iter().enumerate() {
            for at in self.by_first.get(&token.stem).map(Vec::as_slice).unwrap_or_default() {
                let (phrase, entry) = &self.phrases[*at];
                if let Some(found) = phrase.match_at(line, i) {
                    out.push(Match { entry: *entry, ..found });
                }
            }
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hits(phrase: &str, line: &str) -> usize {
        let mut t = PhraseTable::default();
        t.add(phrase, 0, &|t| t);
        t.matches(&tokens(line)).len()
    }

    #[test]
    fn slack_order_alternation_and_both() {
        assert_eq!(hits("lever & bar", "the bar is fine. my lever nearly touches the bar"), 1);
        assert_eq!(hits("lever & bar", "the bar is fine. my lever too"), 0);
        assert_eq!(hits("out of the saddle", "creaks when I get out of my saddle"), 1);
        assert_eq!(hits("chain slips|skips", "chain always really skips"), 1);
        assert_eq!(hits("chain skips", "skips the chain"), 0);
    }
}
