//! The ears themselves: phrase tables, synonyms and spelling of one library.

use std::collections::BTreeMap;

use super::heard::{Heard, HeardAnswer, HeardDanger, HeardRepair};
use super::phrase::{Match, PhraseTable};
use super::scope::{
    DONE, denied, done_in_vain, ended, excepted, hedged, in_order, place_denied, planned, put_right, wondered,
    worked_on,
};
use super::spelling::Spelling;
use super::token::{Token, UNABLE, plain_words, tokens};
use crate::domain::{AnswerIx, DangerLevel, FindingIx, How};
use crate::library::Library;

/// Words that tell that something was done and the trouble stayed.
const STILL: [&str; 23] = [
    "diff",
    "still",
    "again",
    "same",
    "tried",
    "already",
    "nothing",
    "twice",
    "didnt",
    "doesnt",
    "keeps",
    "difference",
    "odds",
    "luck",
    "without",
    "help",
    "helped",
    "anyway",
    "times",
    "better",
    "checked",
    "no",
    "worse",
];
/// Words of an effect that did not last.
const FOR_A_WHILE: [&str; 7] = ["while", "week", "days", "then", "rides", "temporarily", "briefly"];

/// Phrase tables, synonyms and spelling.
pub struct Ears {
    findings: PhraseTable,
    finding_entries: Vec<(FindingIx, AnswerIx)>,
    dangers: PhraseTable,
    danger_entries: Vec<(usize, bool)>,
    /// Dangers to a body: told even in a question.
    bodily: Vec<bool>,
    repairs: PhraseTable,
    repair_entries: Vec<usize>,
    synonyms: Synonyms,
    spelling: Spelling,
    /// Share of reliability that each finding's answers deserve.
    sure: Vec<f64>,
    /// Findings whose answers name places.
    place: Vec<bool>,
    /// The finding that says when it happens.
    circumstance: Option<FindingIx>,
    /// Findings that tell what happened before it began: what was done against it in vain came later.
    event: Vec<bool>,
    /// Findings that take a look or a check: a question about one is a guess, "chain too long?".
    checked: Vec<bool>,
    /// The finding that names the part it seems to come from.
    blamed: Option<FindingIx>,
}

/// Stems, and the words they are read as.
type Rewrite = (Vec<String>, Vec<Token>);

/// What speaks for one answer: its best match and the words of all its matches.
type Support = BTreeMap<(AnswerIx, bool), (Match, usize)>;

#[derive(Default)]
struct Synonyms {
    by_first: BTreeMap<String, Vec<Rewrite>>,
}

impl Ears {
    /// Makes the ears for a library.
    #[must_use]
    pub fn new(library: &Library) -> Self {
        let synonyms = Synonyms::new(library);
        let canon = |words: &[&Token], say: &mut dyn FnMut(&Token)| synonyms.read_as(words, say);
        let mut findings = PhraseTable::default();
        let mut finding_entries = Vec::new();
        for (fi, f) in library.findings.iter().enumerate() {
            for (ai, a) in f.answers.iter().enumerate() {
                for p in &a.phrases {
                    findings.add(p, finding_entries.len(), &canon);
                }
                finding_entries.push((FindingIx(fi), AnswerIx(ai)));
            }
        }
        let mut dangers = PhraseTable::default();
        let mut danger_entries = Vec::new();
        for (di, d) in library.dangers.iter().enumerate() {
            for (phrases, certain) in [(&d.certain, true), (&d.possible, false)] {
                for p in phrases {
                    dangers.add(p, danger_entries.len(), &canon);
                }
                danger_entries.push((di, certain));
            }
        }
        let mut repairs = PhraseTable::default();
        let mut repair_entries = Vec::new();
        for (ci, c) in library.causes.iter().enumerate() {
            for p in &c.repairs {
                repairs.add(p, repair_entries.len(), &canon);
            }
            repair_entries.push(ci);
        }
        let bodily = library.dangers.iter().map(|d| d.level != DangerLevel::StopRiding).collect();
        let spelling = spelling(library);
        let sure = library.findings.iter().map(|f| f.sure * f.heard).collect();
        let place = library.findings.iter().map(|f| f.place).collect();
        let blamed = library.finding("seems-from");
        let checked = library.findings.iter().map(|f| f.how != How::Ask).collect();
        let event = library.findings.iter().map(|f| f.family.as_deref() == Some("before")).collect();
        let circumstance = library.finding("when");
        Self {
            circumstance,
            checked,
            event,
            place,
            blamed,
            findings,
            finding_entries,
            dangers,
            danger_entries,
            bodily,
            repairs,
            repair_entries,
            synonyms,
            spelling,
            sure,
        }
    }

    /// The words of a line after spelling and synonyms.
    #[must_use]
    pub fn words(&self, line: &str) -> (Vec<Token>, Vec<(String, String)>) {
        let mut corrected = Vec::new();
        let mut read = tokens(line);
        for t in &mut read {
            if let Some(meant) = self.spelling.meant(&t.word) {
                corrected.push((t.word.clone(), meant.to_owned()));
                if let Some(m) = tokens(meant).into_iter().next() {
                    t.word = m.word;
                    t.stem = m.stem;
                }
            }
        }
        (self.synonyms.rewrite(&read), corrected)
    }

    /// The line with spelling put right, for the full-text search.
    #[must_use]
    pub fn spelled(&self, line: &str) -> String {
        let (words, _) = self.words(line);
        let canonical: Vec<&str> = words.iter().map(|t| t.word.as_str()).collect();
        format!("{line} {}", canonical.join(" "))
    }

    /// Hears a line.
    #[must_use]
    pub fn hear(&self, line: &str) -> Heard {
        let (words, corrected) = self.words(line);
        let (answers, dangers, repairs) = (self.answers(&words), self.dangers(&words), self.repairs(&words));
        // A correction is worth showing where something was understood from it.
        let spans = answers.iter().map(|a| &a.words).chain(dangers.iter().map(|d| &d.words));
        let used: Vec<&str> = spans.chain(repairs.iter().map(|r| &r.words)).flat_map(|w| w.split(' ')).collect();
        let mut corrected = corrected;
        corrected.retain(|(_, meant)| used.contains(&meant.as_str()));
        Heard { answers, dangers, repairs, corrected }
    }

    fn answers(&self, words: &[Token]) -> Vec<HeardAnswer> {
        // finding -> (answer, denied) -> best match and support
        let mut found: BTreeMap<FindingIx, Support> = BTreeMap::new();
        for m in self.findings.matches(words) {
            if planned(words, &m) {
                continue;
            }
            let (f, a) = self.finding_entries[m.entry];
            // What was worked on in vain is neither at fault nor checked.
            let at_fault = self.checked[f.0] || self.blamed == Some(f);
            if at_fault && (worked_on(words, m.start) || worked_on(words, m.end)) {
                continue;
            }
            // "The pedal won't come off" tells of no pedal that comes off.
            let after_unable = |p: &usize| *p != m.start && *p > 0 && UNABLE.contains(&words[*p - 1].word.as_str());
            let unable = m.denied_close && !m.denied || m.parts.iter().any(after_unable);
            if unable || excepted(words, &m) {
                continue;
            }
            if self.event[f.0] && done_in_vain(words, &m) {
                continue;
            }
            let denied = (m.denied || denied(words, &m, &UNABLE)) && (!self.place[f.0] || place_denied(words, m.start))
                || self.place[f.0] && in_order(words, m.end)
                || self.circumstance == Some(f) && ended(words, &m);
            let entry = found.entry(f).or_default().entry((a, denied)).or_insert((m, 0));
            entry.1 += m.words;
            if m.words > entry.0.words {
                entry.0 = m;
            }
        }
        let mut out = Vec::new();
        for (finding, answers) in found {
            let best = answers.iter().filter(|((_, denied), _)| !denied).max_by(|a, b| {
                let key = |x: &(&(AnswerIx, bool), &(Match, usize))| (x.1.0.words, x.1.1);
                key(a).cmp(&key(b)).then(b.1.0.start.cmp(&a.1.0.start))
            });
            // What fits the words as well is named beside it, unless far more of them speak for the best: "with hydraulic
            // discs" is no cable disc.
            let beside = |a: AnswerIx, m: &Match, support: usize| {
                best.is_some_and(|((b, _), (at, most))| *b != a && m.words >= at.words && 2 * support > *most)
            };
            let others: Vec<AnswerIx> = answers
                .iter()
                .filter(|((a, denied), (m, support))| !denied && beside(*a, m, *support))
                .map(|((a, _), _)| *a)
                .collect();
            let chosen = best.or_else(|| answers.iter().next());
            if let Some(((answer, denied), (m, _))) = chosen {
                let mut reliability: f64 = match m.words {
                    1 => 0.62,
                    2 => 0.78,
                    _ => 0.86,
                };
                if *denied {
                    reliability = 0.5;
                }
                if hedged(words, m) {
                    reliability *= 0.75;
                }
                if self.checked[finding.0] && words[m.start].asked {
                    reliability *= 0.5;
                }
                reliability *= self.sure[finding.0];
                out.push(HeardAnswer {
                    finding,
                    answer: *answer,
                    others,
                    denied: *denied,
                    reliability,
                    words: span(words, m),
                });
            }
        }
        out
    }

    fn dangers(&self, words: &[Token]) -> Vec<HeardDanger> {
        let mut out: Vec<HeardDanger> = Vec::new();
        for m in self.dangers.matches(words) {
            if m.denied_close || denied(words, &m, &UNABLE) {
                continue;
            }
            let (danger, certain) = self.danger_entries[m.entry];
            let wondered = !self.bodily[danger] && (wondered(words, &m, certain) || put_right(words, &m));
            let certain = certain && !wondered;
            match out.iter_mut().find(|d| d.danger == danger) {
                Some(d) if certain && !d.certain => {
                    *d = HeardDanger { danger, certain, wondered: false, words: span(words, &m) };
                }
                Some(d) => d.wondered &= wondered,
                None => out.push(HeardDanger { danger, certain, wondered, words: span(words, &m) }),
            }
        }
        out.sort_by_key(|d| (!d.certain, d.danger));
        out
    }

    fn repairs(&self, words: &[Token]) -> Vec<HeardRepair> {
        if !words.iter().any(|t| STILL.contains(&t.word.as_str())) {
            return Vec::new();
        }
        let mut out: Vec<HeardRepair> = Vec::new();
        for m in self.repairs.matches(words) {
            let clause = words[m.start].clause;
            let doing =
                words.iter().filter(|t| t.clause.abs_diff(clause) <= 1).any(|t| DONE.contains(&t.word.as_str()));
            if m.words < 2 || !doing || denied(words, &m, &UNABLE) {
                continue;
            }
            let cause = self.repair_entries[m.entry];
            let held = words
                .iter()
                .filter(|t| t.sentence.abs_diff(words[m.end].sentence) <= 1)
                .filter(|t| FOR_A_WHILE.contains(&t.word.as_str()))
                .count()
                > 1;
            let said = span(words, &m);
            match out.iter_mut().find(|r| r.words == said) {
                Some(r) if !r.causes.contains(&cause) => r.causes.push(cause),
                Some(_) => {}
                None => out.push(HeardRepair { causes: vec![cause], held_for_a_while: held, words: said }),
            }
        }
        out
    }
}

/// Learns the spelling of all words of the notes.
fn spelling(library: &Library) -> Spelling {
    let mut spelling = Spelling::default();
    for c in &library.causes {
        spelling.learn(plain_words(&c.title));
        for s in &c.sections {
            spelling.learn(plain_words(&s.markdown));
        }
    }
    for f in &library.findings {
        for p in f.answers.iter().flat_map(|a| &a.phrases).chain([&f.ask, &f.title]) {
            // Twice, so that a word of a phrase is surely held for a word.
            spelling.learn(plain_words(p).chain(plain_words(p)));
        }
    }
    for p in library.dangers.iter().flat_map(|d| d.certain.iter().chain(&d.possible)) {
        spelling.learn(plain_words(p).chain(plain_words(p)));
    }
    for s in &library.vocabulary.synonyms {
        for w in s.like.iter().chain([&s.word]) {
            spelling.learn(plain_words(w).chain(plain_words(w)));
        }
    }
    spelling.shelve();
    spelling
}

impl Synonyms {
    fn new(library: &Library) -> Self {
        let mut by_first: BTreeMap<String, Vec<Rewrite>> = BTreeMap::new();
        for s in &library.vocabulary.synonyms {
            let to = tokens(&s.word);
            for like in &s.like {
                let from: Vec<String> = tokens(like).into_iter().map(|t| t.stem).collect();
                let same = from.iter().eq(to.iter().map(|t| &t.stem));
                if let (Some(first), false) = (from.first().cloned(), same) {
                    by_first.entry(first).or_default().push((from, to.clone()));
                }
            }
        }
        for list in by_first.values_mut() {
            // The longest name wins; a stable sort keeps the files' order otherwise.
            list.sort_by_key(|(from, _)| std::cmp::Reverse(from.len()));
        }
        Self { by_first }
    }

    fn rewrite(&self, line: &[Token]) -> Vec<Token> {
        let mut out = Vec::with_capacity(line.len());
        self.read(&line.iter().collect::<Vec<_>>(), &mut |here, t| {
            out.push(Token { sentence: here.sentence, clause: here.clause, asked: here.asked, ..t.clone() });
        });
        out
    }

    /// Says the words that these are read as.
    fn read_as(&self, words: &[&Token], say: &mut dyn FnMut(&Token)) {
        self.read(words, &mut |_, t| say(t));
    }

    /// Says the words that these are read as, each with the word at whose place it stands.
    fn read(&self, words: &[&Token], say: &mut dyn FnMut(&Token, &Token)) {
        let mut i = 0;
        while let Some(here) = words.get(i) {
            let hit = self.by_first.get(&here.stem).and_then(|list| {
                list.iter().find(|(from, _)| {
                    from.iter()
                        .enumerate()
                        .all(|(k, s)| words.get(i + k).is_some_and(|t| &t.stem == s && t.sentence == here.sentence))
                })
            });
            match hit {
                Some((from, to)) => {
                    to.iter().for_each(|t| say(here, t));
                    i += from.len();
                }
                None => {
                    say(here, here);
                    i += 1;
                }
            }
        }
    }
}

fn span(words: &[Token], m: &Match) -> String {
    words[m.start..=m.end].iter().map(|t| t.word.as_str()).collect::<Vec<_>>().join(" ")
}
