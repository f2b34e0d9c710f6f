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

/// Number of a stem in a table.
type Stem = u32;
/// A word of a line that stands in no phrase.
const UNKNOWN: Stem = Stem::MAX;
/// Stands between the parts of a form.
const AND: Stem = Stem::MAX - 1;

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

/// The plain forms of a phrase: for each the parts of its `&`, sequences of stems rewritten by `canon`.
///
/// Each word is read once, not once in every form: reading all phrases is most of what the first answer waits for.
fn plain_forms(text: &str, canon: &dyn Fn(Vec<Token>) -> Vec<Token>) -> Vec<Vec<Vec<String>>> {
    let mut forms: Vec<Vec<Vec<Token>>> = vec![Vec::new()];
    for piece in text.split('&') {
        let mut plain: Vec<Vec<Token>> = vec![Vec::new()];
        for word in piece.split_whitespace() {
            let alternatives: Vec<Vec<Token>> = word.split('|').filter(|w| !w.is_empty()).map(tokens).collect();
            let longer = |p: &Vec<Token>, a: &Vec<Token>| p.iter().chain(a).cloned().collect();
            plain = plain.iter().flat_map(|p| alternatives.iter().map(move |a| longer(p, a))).collect();
            plain.truncate(MOST_EXPANSIONS);
        }
        let with = |f: &Vec<Vec<Token>>, p: &Vec<Token>| f.iter().chain([p]).cloned().collect();
        forms = forms.iter().flat_map(|f| plain.iter().map(move |p| with(f, p))).collect();
        forms.truncate(MOST_EXPANSIONS);
    }
    let stems = |parts: Vec<Vec<Token>>| -> Vec<Vec<String>> {
        parts.into_iter().map(|p| stems_of(canon(p))).filter(|p| !p.is_empty()).collect()
    };
    forms.into_iter().map(stems).filter(|parts| !parts.is_empty()).collect()
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

/// A line, each word with the number of its stem.
struct Line<'a> {
    words: &'a [Token],
    stems: Vec<Stem>,
}

impl Line<'_> {
    /// Matches a sequence of stems beginning exactly at `start`, within one clause: "tyres pumped, brakes fine" pumps no brake.
    fn sequence_at(&self, start: usize, stems: &[Stem]) -> Option<Stretch> {
        if self.stems[start] != stems[0] {
            return None;
        }
        let words = self.words;
        let mut found = Stretch { start, end: start, denied: false, close: false };
        for stem in &stems[1..] {
            let mut between = 0;
            let next = (found.end + 1..words.len())
                .take_while(|i| {
                    between += usize::from(!words[*i].is_light());
                    between <= GAP + 1 && words[*i].clause == words[start].clause
                })
                .find(|i| self.stems[*i] == *stem)?;
            let passed = &words[found.end + 1..next];
            found.denied |= passed.iter().any(|t| denies(&t.word));
            found.close |= passed.last().is_some_and(|t| NEGATORS.contains(&t.word.as_str()));
            found.end = next;
        }
        Some(found)
    }

    /// Matches a form whose first part begins exactly at `start`.
    fn form_at(&self, start: usize, form: &[Stem], entry: usize) -> Option<Match> {
        let mut pieces = form.split(|s| *s == AND);
        let Stretch { start: s, mut end, mut denied, mut close } = self.sequence_at(start, pieces.next()?)?;
        let (mut first, s_end) = (s, end);
        let mut parts = [s; 2];
        let mut words = form.len();
        for (k, piece) in pieces.enumerate() {
            let sentence = self.words[start].sentence;
            // Words far apart in a long sentence tell of different things.
            let near = start.saturating_sub(TOGETHER)..self.words.len().min(s_end + TOGETHER + 1);
            let mut near = near.filter(|i| self.words[*i].sentence == sentence);
            let found = near.find_map(|i| self.sequence_at(i, piece))?;
            first = first.min(found.start);
            parts[k.min(1)] = found.start;
            end = end.max(found.end);
            denied |= found.denied;
            close |= found.close;
            words -= 1;
        }
        Some(Match { entry, start: first, end, words, parts, denied, denied_close: close })
    }
}

/// A form in the table: where its stems stand, and the entry that it leads to.
#[derive(Clone, Copy, Debug)]
struct Form {
    from: u32,
    to: u32,
    entry: u32,
}

/// All phrases of one kind, each leading to an entry, found quickly by their first stem.
///
/// There are tens of thousands of plain forms: stems are numbered and stand one after the other, or they would take more
/// memory than the notes.
#[derive(Clone, Debug, Default)]
pub struct PhraseTable {
    numbers: HashMap<String, Stem>,
    stems: Vec<Stem>,
    forms: Vec<Form>,
    /// The forms that begin with each stem.
    by_first: Vec<Vec<u32>>,
}

impl PhraseTable {
    /// Adds a phrase that leads to `entry`.
    pub fn add(&mut self, text: &str, entry: usize, canon: &dyn Fn(Vec<Token>) -> Vec<Token>) {
        for parts in plain_forms(text, canon) {
            let from = self.stems.len() as u32;
            for (k, part) in parts.into_iter().enumerate() {
                if k > 0 {
                    self.stems.push(AND);
                }
                for stem in part {
                    let fresh = self.numbers.len() as Stem;
                    let number = *self.numbers.entry(stem).or_insert(fresh);
                    self.stems.push(number);
                }
            }
            let first = self.stems[from as usize] as usize;
            if self.by_first.len() <= first {
                self.by_first.resize(first + 1, Vec::new());
            }
            self.by_first[first].push(self.forms.len() as u32);
            self.forms.push(Form { from, to: self.stems.len() as u32, entry: entry as u32 });
        }
    }

    /// Every phrase found in the line, in the order of the line.
    #[must_use]
    pub fn matches(&self, words: &[Token]) -> Vec<Match> {
        let number = |t: &Token| self.numbers.get(&t.stem).copied().unwrap_or(UNKNOWN);
        let line = Line { words, stems: words.iter().map(number).collect() };
        let mut out = Vec::new();
        for (i, first) in line.stems.iter().enumerate() {
            for at in self.by_first.get(*first as usize).map(Vec::as_slice).unwrap_or_default() {
                let Form { from, to, entry } = self.forms[*at as usize];
                out.extend(line.form_at(i, &self.stems[from as usize..to as usize], entry as usize));
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
