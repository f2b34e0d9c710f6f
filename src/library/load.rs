//! From note files to the library: parse, resolve names, keep every problem.

use std::borrow::Cow;
use std::collections::{BTreeMap, HashMap};

use serde::de::DeserializeOwned;

use super::head::{CauseHead, DangerHead, FindingHead, SourcesFile, WordsFile};
use super::problem::Problem;
use super::split::{SAYS, sections, sentences};
use super::vocabulary::{GlossaryEntry, Synonym, Vocabulary};
use crate::domain::{
    Answer, AnswerIx, Band, Cause, CauseIx, CauseKind, Commonness, Danger, DangerLevel, Finding, FindingIx, Frequency,
    How, Need, Show, Skill, Source, SourceKind, SourceRead, Urgency,
};

/// A note file as text.
#[derive(Clone, Debug)]
pub struct NoteFile {
    /// Path below the knowledge folder.
    pub path: String,
    /// Whole text.
    pub text: Cow<'static, str>,
    /// True for a note of the user's own folder.
    pub own: bool,
}

/// What an id names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoteRef {
    /// A cause or guide.
    Cause(CauseIx),
    /// A finding.
    Finding(FindingIx),
    /// A danger, by position.
    Danger(usize),
}

/// Everything the notes say, resolved.
#[derive(Clone, Debug, Default)]
pub struct Library {
    /// Causes and guides, sorted by id.
    pub causes: Vec<Cause>,
    /// Findings, sorted by id.
    pub findings: Vec<Finding>,
    /// Dangers, sorted by id.
    pub dangers: Vec<Danger>,
    /// Sources, sorted by id.
    pub sources: Vec<Source>,
    /// Synonyms and glossary.
    pub vocabulary: Vocabulary,
    ids: HashMap<String, NoteRef>,
}

struct Parsed<H> {
    head: H,
    body: String,
    path: String,
}

impl Library {
    /// Reads the given files; later files with the same id replace earlier ones (an overlay).
    ///
    /// Never fails: what cannot be used is left out and stands in the problems, file and line.
    #[must_use]
    pub fn load(files: Vec<NoteFile>) -> (Library, Vec<Problem>) {
        let mut problems = Vec::new();
        let mut causes: BTreeMap<String, Parsed<CauseHead>> = BTreeMap::new();
        let mut findings: BTreeMap<String, Parsed<FindingHead>> = BTreeMap::new();
        let mut dangers: BTreeMap<String, Parsed<DangerHead>> = BTreeMap::new();
        let mut lib = Library::default();
        for file in files {
            if file.path.ends_with(".toml") {
                lib.read_toml(&file, &mut problems);
            } else if file.path.ends_with(".md") {
                let Some((head, body)) = cut_head(&file, &mut problems) else { continue };
                match kind_of(head) {
                    "cause" | "guide" => {
                        keep(&mut causes, &file, head, body, |h: &CauseHead| h.id.clone(), &mut problems)
                    }
                    "finding" => keep(&mut findings, &file, head, body, |h: &FindingHead| h.id.clone(), &mut problems),
                    "danger" => keep(&mut dangers, &file, head, body, |h: &DangerHead| h.id.clone(), &mut problems),
                    other => problems.push(Problem::new(
                        &file.path,
                        2,
                        format!("unknown kind \"{other}\""),
                        "kinds are cause, guide, finding and danger",
                    )),
                }
            }
        }
        lib.sources.sort_by(|a, b| a.id.cmp(&b.id));
        lib.vocabulary.glossary.sort_by(|a, b| a.term.cmp(&b.term));
        lib.vocabulary.glossary.dedup_by(|a, b| a.term.eq_ignore_ascii_case(&b.term));
        lib.add_findings(findings, &mut problems);
        lib.add_causes(causes, &mut problems);
        lib.add_dangers(dangers, &mut problems);
        problems.sort();
        (lib, problems)
    }

    /// What an id names, if anything.
    #[must_use]
    pub fn find(&self, id: &str) -> Option<NoteRef> {
        self.ids.get(id).copied()
    }

    /// A cause or guide by id.
    #[must_use]
    pub fn cause(&self, id: &str) -> Option<CauseIx> {
        match self.find(id) {
            Some(NoteRef::Cause(ix)) => Some(ix),
            _ => None,
        }
    }

    /// A finding by id.
    #[must_use]
    pub fn finding(&self, id: &str) -> Option<FindingIx> {
        match self.find(id) {
            Some(NoteRef::Finding(ix)) => Some(ix),
            _ => None,
        }
    }

    /// A source by id.
    #[must_use]
    pub fn source(&self, id: &str) -> Option<&Source> {
        self.sources.iter().find(|s| s.id == id)
    }

    fn read_toml(&mut self, file: &NoteFile, problems: &mut Vec<Problem>) {
        if file.path.ends_with("sources.toml") {
            let Some(read) = parse::<SourcesFile>(&file.path, &file.text, problems) else { return };
            for s in read.source {
                let (Some(kind), Some(read)) = (source_kind(&s.kind), source_read(&s.read)) else {
                    problems.push(Problem::new(
                        &file.path,
                        line_of(&file.text, &s.id),
                        format!("source {}: unknown kind or read", s.id),
                        "kind is law, standard, paper, handbook, textbook, trade-page, practice or memory; read is whole, part, abstract or memory",
                    ));
                    continue;
                };
                self.sources.retain(|old| old.id != s.id);
                self.sources.push(Source { id: s.id, title: s.title, kind, read, note: s.note });
            }
        } else {
            let Some(read) = parse::<WordsFile>(&file.path, &file.text, problems) else { return };
            self.vocabulary.synonyms.extend(read.synonyms.into_iter().map(|s| Synonym { word: s.word, like: s.like }));
            self.vocabulary.glossary.extend(read.glossary.into_iter().map(|g| GlossaryEntry {
                term: g.term,
                means: g.means,
                everyday: g.everyday,
            }));
        }
    }

    fn add_findings(&mut self, findings: BTreeMap<String, Parsed<FindingHead>>, problems: &mut Vec<Problem>) {
        let mut wanted = Vec::new();
        for (id, p) in findings {
            match finding(&p) {
                Ok(f) => {
                    self.ids.insert(id, NoteRef::Finding(FindingIx(self.findings.len())));
                    wanted.push((p.head.needs, p.head.means, p.path));
                    self.findings.push(f);
                }
                Err((what, hint)) => problems.push(Problem::new(&p.path, 1, what, hint)),
            }
        }
        for (ix, (needs, means, path)) in wanted.into_iter().enumerate() {
            self.findings[ix].needs = self.resolve_needs(&needs, &path, problems);
            self.findings[ix].means = self.resolve_told(means, &path, problems);
        }
    }

    fn add_causes(&mut self, causes: BTreeMap<String, Parsed<CauseHead>>, problems: &mut Vec<Problem>) {
        let mut former = Vec::new();
        for (id, mut p) in causes {
            let ids = std::mem::take(&mut p.head.formerly);
            match self.cause_from(p, problems) {
                Ok(c) => {
                    if self.ids.contains_key(&id) {
                        problems.push(Problem::new(
                            &c.path,
                            0,
                            format!("id {id} is also a finding"),
                            "rename one of them",
                        ));
                        continue;
                    }
                    former.extend(ids.into_iter().map(|id| (id, CauseIx(self.causes.len()))));
                    self.ids.insert(id, NoteRef::Cause(CauseIx(self.causes.len())));
                    self.causes.push(c);
                }
                Err(problem) => problems.push(problem),
            }
        }
        for (id, ix) in former {
            if self.ids.contains_key(&id) {
                let what = format!("formerly names {id}, but that id is taken");
                problems.push(Problem::new(
                    &self.causes[ix.0].path,
                    1,
                    what,
                    "leave the former id out or rename the note",
                ));
                continue;
            }
            self.ids.insert(id, NoteRef::Cause(ix));
        }
    }

    fn add_dangers(&mut self, dangers: BTreeMap<String, Parsed<DangerHead>>, problems: &mut Vec<Problem>) {
        for (id, p) in dangers {
            let level = match p.head.level.as_str() {
                "see-clinician" => DangerLevel::SeeClinician,
                "stop-riding" => DangerLevel::StopRiding,
                "emergency" => DangerLevel::Emergency,
                other => {
                    let what = format!("unknown level \"{other}\"");
                    problems.push(Problem::new(
                        &p.path,
                        1,
                        what,
                        "levels are see-clinician, stop-riding and emergency",
                    ));
                    continue;
                }
            };
            if self.ids.contains_key(&id) {
                problems.push(Problem::new(
                    &p.path,
                    0,
                    format!("id {id} is taken by another note"),
                    "rename one of them",
                ));
                continue;
            }
            self.ids.insert(id, NoteRef::Danger(self.dangers.len()));
            let h = p.head;
            let tells = self.resolve_told(h.tells, &p.path, problems);
            self.dangers.push(Danger {
                id: h.id,
                title: h.title,
                level,
                certain: h.certain,
                possible: h.possible,
                ask: h.ask,
                tells,
                warn: h.warn,
                sources: h.sources,
                body: p.body,
                path: p.path,
            });
        }
    }

    fn cause_from(&self, p: Parsed<CauseHead>, problems: &mut Vec<Problem>) -> Result<Cause, Problem> {
        let h = p.head;
        let bad = |what: String, hint: &str| Problem::new(&p.path, 1, what, hint);
        let common = match h.common.as_str() {
            "very common" => Commonness::VeryCommon,
            "common" => Commonness::Common,
            "occasional" => Commonness::Occasional,
            "rare" => Commonness::Rare,
            o => return Err(bad(format!("unknown common \"{o}\""), "very common, common, occasional or rare")),
        };
        let urgency = match h.urgency.as_str() {
            "none" => Urgency::None,
            "caution" => Urgency::Caution,
            "stop-riding" => Urgency::StopRiding,
            "see-clinician" => Urgency::SeeClinician,
            o => return Err(bad(format!("unknown urgency \"{o}\""), "none, caution, stop-riding or see-clinician")),
        };
        let skill = skill(&h.skill)
            .ok_or_else(|| bad(format!("unknown skill \"{}\"", h.skill), "beginner, handy or workshop"))?;
        if !(h.minutes.is_finite() && h.minutes >= 0.0) {
            return Err(bad(format!("minutes of {} make no sense", h.minutes), "give minutes from 0 up"));
        }
        let needs = self.resolve_needs(&h.needs, &p.path, problems);
        let mut shows = Vec::new();
        for (f, answers) in &h.shows {
            let Some(fx) = self.finding(f) else {
                problems.push(Problem::new(
                    &p.path,
                    1,
                    format!("shows an unknown finding \"{f}\""),
                    "write the finding or mend the id",
                ));
                continue;
            };
            let mut named = Vec::new();
            for (a, word) in answers {
                let (Some(ax), Some(freq)) = (self.findings[fx.0].answer(a), Frequency::from_word(word)) else {
                    problems.push(Problem::new(
                        &p.path,
                        1,
                        format!("{f}: \"{a} = {word}\" is not an answer of that finding with a word of frequency"),
                        "words are always, usually, often, sometimes, rarely, never",
                    ));
                    continue;
                };
                named.push((ax, freq));
            }
            if !named.is_empty() {
                shows.push(Show { finding: fx, answers: named });
            }
        }
        let kind = if h.kind == "guide" { CauseKind::Guide } else { CauseKind::Cause };
        if let (CauseKind::Guide, Some(trouble)) = (kind, self.finding("trouble")) {
            let setting = self.findings[trouble.0].answer("setting");
            if let (Some(setting), false) = (setting, shows.iter().any(|s| s.finding == trouble)) {
                shows.push(Show { finding: trouble, answers: vec![(setting, Frequency::Usually)] });
            }
        }
        let sections = sections(&p.body);
        let says = sections.iter().find(|s| s.heading == SAYS).map(|s| sentences(&s.markdown)).unwrap_or_default();
        Ok(Cause {
            id: h.id,
            kind,
            system: system_of(&p.path),
            title: h.title,
            short: h.short,
            also: h.also,
            common,
            urgency,
            normal: h.normal,
            minutes: h.minutes,
            skill,
            tools: h.tools,
            calculators: h.calculators,
            guides: h.guides,
            sources: h.sources,
            repairs: h.repairs,
            needs,
            shows,
            sections,
            says,
            path: p.path,
        })
    }

    /// Findings with one answer each.
    fn resolve_told(
        &self,
        told: BTreeMap<String, String>,
        path: &str,
        problems: &mut Vec<Problem>,
    ) -> Vec<(FindingIx, AnswerIx)> {
        let lists = told.into_iter().map(|(f, a)| (f, vec![a])).collect();
        let found = self.resolve_needs(&lists, path, problems);
        found.iter().flat_map(|n| n.allowed.iter().map(|a| (n.finding, *a))).collect()
    }

    fn resolve_needs(
        &self,
        needs: &BTreeMap<String, Vec<String>>,
        path: &str,
        problems: &mut Vec<Problem>,
    ) -> Vec<Need> {
        let mut out = Vec::new();
        for (f, answers) in needs {
            let Some(fx) = self.finding(f) else {
                problems.push(Problem::new(
                    path,
                    1,
                    format!("needs an unknown finding \"{f}\""),
                    "bike facts stand in intake/",
                ));
                continue;
            };
            let allowed: Vec<AnswerIx> = answers.iter().filter_map(|a| self.findings[fx.0].answer(a)).collect();
            if allowed.len() < answers.len() {
                problems.push(Problem::new(
                    path,
                    1,
                    format!("needs.{f} names an unknown answer"),
                    "see the finding's answers",
                ));
            }
            if !allowed.is_empty() {
                out.push(Need { finding: fx, allowed });
            }
        }
        out
    }
}

/// The folder a note stands in is its system.
fn system_of(path: &str) -> String {
    path.split(['/', '\\']).next().filter(|s| !s.ends_with(".md")).unwrap_or("own").to_owned()
}

fn cut_head<'f>(file: &'f NoteFile, problems: &mut Vec<Problem>) -> Option<(&'f str, &'f str)> {
    let text: &str = &file.text;
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let missing = || Problem::new(&file.path, 1, "no head", "begin the note with a TOML head between two lines of +++");
    let rest = text.strip_prefix("+++\n").or_else(|| text.strip_prefix("+++\r\n"));
    let Some(rest) = rest else {
        problems.push(missing());
        return None;
    };
    let Some(end) = rest.find("\n+++") else {
        problems.push(missing());
        return None;
    };
    let head = &rest[..end];
    let after = &rest[end + 4..];
    let body = after.split_once('\n').map_or("", |(_, b)| b);
    Some((head, body))
}

/// The kind of a head, found without parsing it; empty when there is none.
fn kind_of(head: &str) -> &str {
    head.lines()
        .find_map(|l| l.strip_prefix("kind")?.trim_start().strip_prefix('='))
        .map_or("", |v| v.trim().trim_matches('"'))
}

fn parse<H: DeserializeOwned>(path: &str, text: &str, problems: &mut Vec<Problem>) -> Option<H> {
    match toml::from_str::<H>(text) {
        Ok(h) => Some(h),
        Err(e) => {
            let offset = usize::from(path.ends_with(".md"));
            let line = e.span().map_or(0, |s| text[..s.start.min(text.len())].matches('\n').count() + 1 + offset);
            problems.push(Problem::new(
                path,
                line,
                e.message().replace('\n', " "),
                "see \"How to add a note\" in README.md",
            ));
            None
        }
    }
}

fn keep<H: DeserializeOwned>(
    into: &mut BTreeMap<String, Parsed<H>>,
    file: &NoteFile,
    head: &str,
    body: &str,
    id: impl Fn(&H) -> String,
    problems: &mut Vec<Problem>,
) {
    let Some(head) = parse::<H>(&file.path, head, problems) else { return };
    let key = id(&head);
    let stem = file.path.rsplit(['/', '\\']).next().and_then(|n| n.strip_suffix(".md")).unwrap_or_default();
    if stem != key {
        problems.push(Problem::new(
            &file.path,
            1,
            format!("id {key} differs from the file name"),
            "name the file after the id",
        ));
    }
    if let Some(old) = into.get(&key).filter(|_| !file.own) {
        problems.push(Problem::new(
            &file.path,
            1,
            format!("id {key} stands already in {}", old.path),
            "rename one of them",
        ));
        return;
    }
    into.insert(key, Parsed { head, body: body.to_owned(), path: file.path.clone() });
}

fn finding(p: &Parsed<FindingHead>) -> Result<Finding, (String, &'static str)> {
    let h = &p.head;
    let how = match h.how.as_str() {
        "ask" => How::Ask,
        "look" => How::Look,
        "feel" => How::Feel,
        "ride" => How::Ride,
        "swap" => How::Swap,
        "measure" => How::Measure,
        o => return Err((format!("unknown how \"{o}\""), "ask, look, feel, ride, swap or measure")),
    };
    let skill = skill(&h.skill).ok_or((format!("unknown skill \"{}\"", h.skill), "beginner, handy or workshop"))?;
    if h.answers.len() < 2 {
        return Err(("fewer than two answers".into(), "a finding needs at least two exclusive answers"));
    }
    let total: f64 = h.answers.iter().map(|a| a.usual).sum();
    if !total.is_finite() || (total - 1.0).abs() > 0.02 || h.answers.iter().any(|a| a.usual <= 0.0) {
        return Err((format!("the usual shares sum to {total:.3}"), "each above 0, together 1"));
    }
    if !(h.minutes.is_finite() && h.minutes > 0.0) {
        return Err((format!("minutes of {} make no sense", h.minutes), "give minutes above 0"));
    }
    let answers: Vec<Answer> = h
        .answers
        .iter()
        .map(|a| Answer {
            id: a.id.clone(),
            says: a.says.clone(),
            usual: a.usual / total,
            phrases: a.phrases.clone(),
            band: (a.from.is_some() || a.below.is_some())
                .then(|| Band { from: a.from.unwrap_or(f64::NEG_INFINITY), below: a.below.unwrap_or(f64::INFINITY) }),
        })
        .collect();
    let negative = match &h.negative {
        None => None,
        Some(n) => Some(
            answers
                .iter()
                .position(|a| &a.id == n)
                .map(AnswerIx)
                .ok_or((format!("negative names an unknown answer \"{n}\""), "name one of the answers' ids"))?,
        ),
    };
    Ok(Finding {
        id: h.id.clone(),
        system: system_of(&p.path),
        title: h.title.clone(),
        ask: h.ask.clone(),
        trade: h.trade.clone(),
        how,
        minutes: h.minutes,
        skill,
        tools: h.tools.clone(),
        fact: h.fact,
        place: h.place,
        several: h.several,
        sure: h.sure.unwrap_or(1.0).clamp(0.05, 1.0),
        heard: h.heard.unwrap_or(1.0).clamp(0.05, 1.0),
        family: h.family.clone(),
        negative,
        needs: Vec::new(),
        means: Vec::new(),
        answers,
        unit: h.measure.as_ref().map(|m| m.unit.clone()),
        quantity: h.measure.as_ref().map(|m| m.quantity.clone()),
        body: p.body.trim().to_owned(),
        path: p.path.clone(),
    })
}

fn skill(word: &str) -> Option<Skill> {
    [Skill::Beginner, Skill::Handy, Skill::Workshop].into_iter().find(|s| s.word() == word)
}

fn source_kind(word: &str) -> Option<SourceKind> {
    Some(match word {
        "law" => SourceKind::Law,
        "standard" => SourceKind::Standard,
        "paper" => SourceKind::Paper,
        "handbook" | "textbook" => SourceKind::Handbook,
        "trade-page" => SourceKind::TradePage,
        "practice" => SourceKind::Practice,
        "memory" => SourceKind::Memory,
        _ => return None,
    })
}

fn source_read(word: &str) -> Option<SourceRead> {
    Some(match word {
        "whole" => SourceRead::Whole,
        "part" => SourceRead::Part,
        "abstract" => SourceRead::Abstract,
        "memory" => SourceRead::Memory,
        _ => return None,
    })
}

fn line_of(text: &str, needle: &str) -> usize {
    text.find(needle).map_or(0, |at| text[..at].matches('\n').count() + 1)
}
