//! Phrases with slack: compiled once, matched against the words of a line.
//!
//! Syntax (see "How to add a note"): words in order with up to two others, but no comma, between them; `a|b` either word;
//! `x & y` both anywhere in the sentence.

use std::collections::{HashMap, HashSet};

use super::token::{NEGATORS, Token, denies, tokens};
use crate::library::MOST_SEQUENCES;

/// Other words allowed between two words of a phrase.
const GAP: usize = 2;
/// The parts of an `&` stand at most so many words from the first part.
const TOGETHER: usize = 8;

/// Number of a stem in a table.
type Stem = u32;
/// A word of a line that stands in no phrase.
const UNKNOWN: Stem = Stem::MAX;

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

/// Says the words that a sequence of words is read as, one after the other.
pub(super) type Canon<'c> = dyn Fn(&[&Token], &mut dyn FnMut(&Token)) + 'c;

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

    /// All ways in which the later parts of a phrase stand near its first, which is at `first`.
    fn all_at(&self, first: &Stretch, length: usize, later: &[Vec<&[Stem]>], entry: usize) -> Vec<Match> {
        let Stretch { start, end, denied, close } = *first;
        let sentence = self.words[start].sentence;
        // Words far apart in a long sentence tell of different things.
        let near = start.saturating_sub(TOGETHER)..self.words.len().min(end + TOGETHER + 1);
        let mut out = vec![Match { entry, start, end, words: length, parts: [start; 2], denied, denied_close: close }];
        for (k, sequences) in later.iter().enumerate() {
            let found: Vec<(Stretch, usize)> = sequences
                .iter()
                .filter_map(|stems| {
                    let mut near = near.clone().filter(|i| self.words[*i].sentence == sentence);
                    near.find_map(|i| self.sequence_at(i, stems)).map(|at| (at, stems.len()))
                })
                .collect();
            let with = |m: &Match, (at, length): &(Stretch, usize)| {
                let mut parts = m.parts;
                parts[k.min(1)] = at.start;
                Match {
                    start: m.start.min(at.start),
                    end: m.end.max(at.end),
                    words: m.words + length,
                    parts,
                    denied: m.denied | at.denied,
                    denied_close: m.denied_close | at.close,
                    ..*m
                }
            };
            out = out.iter().flat_map(|m| found.iter().map(move |f| with(m, f))).collect();
        }
        out
    }
}

/// A phrase in the table: its parts from one to another, and the entry that it leads to.
#[derive(Clone, Copy, Debug)]
struct Phrase {
    from: u32,
    to: u32,
    entry: u32,
}

/// All phrases of one kind, each leading to an entry, found quickly by their first stem.
///
/// There are tens of thousands of plain sequences: stems are numbered and stand one after the other, or they would take more
/// memory than the notes.
#[derive(Clone, Debug, Default)]
pub struct PhraseTable {
    numbers: HashMap<String, Stem>,
    stems: Vec<Stem>,
    /// Where each sequence ends in `stems`; it begins where the one before ends.
    sequences: Vec<u32>,
    /// Where each part ends in `sequences`.
    parts: Vec<u32>,
    phrases: Vec<Phrase>,
    /// The phrases and sequences of first parts that begin with each stem.
    by_first: Vec<Vec<(u32, u32)>>,
}

/// The range of item `i` of a list of ends.
fn range(ends: &[u32], i: usize) -> std::ops::Range<usize> {
    let from = i.checked_sub(1).map_or(0, |b| ends[b]);
    from as usize..ends[i] as usize
}

impl PhraseTable {
    /// Adds a phrase that leads to `entry`, its words rewritten by `canon`.
    ///
    /// A part of an `&` keeps to itself: eight words beside eight others are sixteen sequences, not sixty-four. Each word is read
    /// once, not once in every sequence: reading all phrases is most of what the first answer waits for.
    pub fn add(&mut self, text: &str, entry: usize, canon: &Canon<'_>) {
        let from = self.parts.len() as u32;
        for piece in text.split('&') {
            let read = |word: &str| word.split('|').filter(|w| !w.is_empty()).map(tokens).collect();
            let words: Vec<Vec<Vec<Token>>> = piece.split_whitespace().map(read).collect();
            let mut plain: Vec<Vec<&Token>> = vec![Vec::new()];
            for alternatives in &words {
                plain = plain
                    .iter()
                    .flat_map(|p| alternatives.iter().map(move |a| p.iter().copied().chain(a).collect()))
                    .collect();
                plain.truncate(MOST_SEQUENCES);
            }
            // "brake|brakes" is one stem.
            let mut seen: HashSet<Vec<Stem>> = HashSet::new();
            let first = self.parts.len() as u32 == from;
            for sequence in plain {
                let stems = self.stems_of(&sequence, canon);
                if !stems.is_empty() && seen.insert(stems.clone()) {
                    self.add_sequence(&stems, first);
                }
            }
            if !seen.is_empty() {
                self.parts.push(self.sequences.len() as u32);
            }
        }
        self.phrases.push(Phrase { from, to: self.parts.len() as u32, entry: entry as u32 });
    }

    fn add_sequence(&mut self, stems: &[Stem], first: bool) {
        if first {
            let stem = stems[0] as usize;
            if self.by_first.len() <= stem {
                self.by_first.resize(stem + 1, Vec::new());
            }
            self.by_first[stem].push((self.phrases.len() as u32, self.sequences.len() as u32));
        }
        self.stems.extend(stems);
        self.sequences.push(self.stems.len() as u32);
    }

    /// The numbers of the stems of a sequence; possessives count only where nothing but one other word stands.
    fn stems_of(&mut self, sequence: &[&Token], canon: &Canon<'_>) -> Vec<Stem> {
        let mut read: Vec<(Stem, bool)> = Vec::with_capacity(sequence.len());
        canon(sequence, &mut |t| read.push((self.number(&t.stem), t.is_light())));
        let heavy = read.iter().filter(|(_, light)| !light).count();
        read.into_iter().filter(|(_, light)| heavy == 1 || !light).map(|(stem, _)| stem).collect()
    }

    fn number(&mut self, stem: &str) -> Stem {
        let fresh = self.numbers.len() as Stem;
        if let Some(number) = self.numbers.get(stem) {
            return *number;
        }
        self.numbers.insert(stem.to_owned(), fresh);
        fresh
    }

    fn sequence(&self, i: usize) -> &[Stem] {
        &self.stems[range(&self.sequences, i)]
    }

    /// Every phrase found in the line, in the order of the line.
    #[must_use]
    pub fn matches(&self, words: &[Token]) -> Vec<Match> {
        let number = |t: &Token| self.numbers.get(&t.stem).copied().unwrap_or(UNKNOWN);
        let line = Line { words, stems: words.iter().map(number).collect() };
        let mut out = Vec::new();
        for (i, stem) in line.stems.iter().enumerate() {
            for (phrase, first) in self.by_first.get(*stem as usize).map(Vec::as_slice).unwrap_or_default() {
                let first = self.sequence(*first as usize);
                let Some(found) = line.sequence_at(i, first) else { continue };
                let Phrase { from, to, entry } = self.phrases[*phrase as usize];
                let later: Vec<Vec<&[Stem]>> = (from as usize + 1..to as usize)
                    .map(|part| range(&self.parts, part).map(|s| self.sequence(s)).collect())
                    .collect();
                out.extend(line.all_at(&found, first.len(), &later, entry as usize));
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
        t.add(phrase, 0, &|words, say| words.iter().for_each(|t| say(t)));
        t.matches(&tokens(line)).len()
    }

    #[test]
    fn slack_order_alternation_and_both() {
        assert_eq!(hits("lever & bar", "the bar is fine. my lever nearly touches the bar"), 1);
        assert_eq!(hits("lever & bar", "the bar is fine. my lever too"), 0);
        assert_eq!(hits("out of the saddle", "creaks when I get out of my saddle"), 1);
        assert_eq!(hits("chain slips|skips", "chain always really skips"), 1);
        assert_eq!(hits("chain skips", "skips the chain"), 0);
        assert_eq!(hits("lever|brake & bar|grip & soft", "the brake is soft and goes to the grip"), 1);
    }

    #[test]
    fn no_combination_of_many_alternatives_is_lost() {
        let parts = ["wrist|hand|thumb|elbow|arm|shoulder|ankle|hip|ribs", "fell|crashed|toppled|landed|tumbled|slid"];
        let phrase = parts.join(" & ");
        let words = |p: &str| p.split('|').map(str::to_owned).collect::<Vec<_>>();
        for a in words(parts[0]) {
            for b in words(parts[1]) {
                assert_eq!(hits(&phrase, &format!("my {a} hurts since I {b}")), 1, "{a} {b}");
            }
        }
    }
}
