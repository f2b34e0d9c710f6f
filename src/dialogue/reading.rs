//! Notes for reading: showing one, searching, and the person's own questions.

use pulldown_cmark::{Event, Parser, Tag, TagEnd};

use super::bench::Bench;
use super::listen;
use super::reply::{Block, Found, Reply};
use super::state::State;
use crate::domain::CauseIx;
use crate::hearing::tokens;
use crate::library::{NoteRef, without_pictures};

/// How many notes a search lists.
const LISTED: usize = 6;
/// How many hits of each kind of search are joined.
const LOOKED_AT: usize = 60;
/// Smooths the reciprocals of ranks: differences far down count little.
const RANKS_BLUR: f64 = 4.0;
/// How much belief counts beside full text.
const BELIEF_SHARE: f64 = 1.0;
/// Longest passage shown, in characters.
const PASSAGE: usize = 150;

/// How many trade words are explained below a note.
const EXPLAINED: usize = 5;

/// Markdown as plain text, in one line.
pub(super) fn plain(markdown: &str) -> String {
    let mut out = String::new();
    for event in Parser::new(markdown) {
        match event {
            Event::Text(t) | Event::Code(t) => out.push_str(&t),
            Event::SoftBreak | Event::HardBreak => out.push(' '),
            Event::End(TagEnd::Paragraph | TagEnd::Item | TagEnd::Heading(_)) => out.push(' '),
            _ => {}
        }
    }
    out.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Shows a note by id, a calculator's or source's link target, or a glossary word.
pub(super) fn show(state: &mut State, bench: &Bench, id: &str, reply: &mut Reply) -> bool {
    let Some((title, text)) = whole(state, bench, id) else { return false };
    let mut links = Vec::new();
    for (target, words) in links_in(&text) {
        if !links.iter().any(|(_, t, _)| *t == target) {
            links.push((links.len() + 1, target, words));
        }
    }
    state.shared.listed = links.iter().map(|(_, t, _)| t.clone()).collect();
    reply.push(Block::Markdown { id: id.to_owned(), title, text, links });
    true
}

/// Title and whole Markdown text of what an id names.
fn whole(state: &State, bench: &Bench, id: &str) -> Option<(String, String)> {
    if let Some(source) = id.strip_prefix("source:").and_then(|s| bench.library.source(s)) {
        let text = format!("{}\n\n{}; {}.\n\n{}", source.title, source.kind.word(), source.read.word(), source.note);
        return Some((source.id.clone(), text));
    }
    if let Some(calc) = id.strip_prefix("calc:") {
        return super::figures::note(calc);
    }
    match bench.library.find(id) {
        Some(NoteRef::Cause(c)) => {
            let c = &bench.library.causes[c.0];
            let mut text = String::new();
            if state.shared.trade {
                text.push_str(&format!("{}\n\n", c.short));
            } else {
                text.push_str(&format!(
                    "{}\n\n*In short, for the mechanic:* {}\n\n",
                    c.sections.first().map_or("", |s| s.markdown.as_str()),
                    c.short
                ));
            }
            for s in c.sections.iter().skip(1).filter(|s| s.heading != "Riders say") {
                text.push_str(&format!("## {}\n\n{}\n\n", s.heading, s.markdown));
            }
            text.push_str(&words_of(bench, c.summary(), state.shared.trade));
            text.push_str(&format!("## Effort and sources\n\n{}\n\n", super::next::effort(c)));
            let sources: Vec<String> = c.sources.iter().map(|s| format!("[{s}](source:{s})")).collect();
            text.push_str(&format!("Sources: {}.\n", sources.join(", ")));
            let guides: Vec<String> = c
                .guides
                .iter()
                .filter_map(|g| bench.library.cause(g))
                .map(|g| format!("[{}]({})", bench.library.causes[g.0].title, bench.library.causes[g.0].id))
                .collect();
            if !guides.is_empty() {
                text.push_str(&format!("\nSee also: {}.\n", guides.join("; ")));
            }
            Some((c.title.clone(), text))
        }
        Some(NoteRef::Finding(f)) => {
            let f = &bench.library.findings[f.0];
            let answers: Vec<String> = f.answers.iter().map(|a| format!("- {}", a.says)).collect();
            Some((f.title.clone(), format!("{}\n\n{}\n\n{}\n", f.ask, f.body, answers.join("\n"))))
        }
        Some(NoteRef::Danger(d)) => {
            let d = &bench.library.dangers[d];
            Some((d.title.clone(), format!("{}\n\n{}\n", d.warn, d.body)))
        }
        None => {
            bench.library.vocabulary.means(id).map(|g| (g.term.clone(), format!("{}.", g.means.trim_end_matches('.'))))
        }
    }
}

/// The trade words that a beginner meets unexplained at the head of a note, with their meaning.
fn words_of(bench: &Bench, summary: &str, trade: bool) -> String {
    let words = if trade { Vec::new() } else { bench.library.vocabulary.unexplained(summary) };
    if words.is_empty() {
        return String::new();
    }
    let list: Vec<String> =
        words.iter().take(EXPLAINED).map(|g| format!("- {}: {}.", g.term, g.means.trim_end_matches('.'))).collect();
    format!("## Words\n\n{}\n\n", list.join("\n"))
}

fn links_in(markdown: &str) -> Vec<(String, String)> {
    let mut out = Vec::new();
    let mut open: Option<(String, String)> = None;
    for event in Parser::new(markdown) {
        match event {
            Event::Start(Tag::Link { dest_url, .. }) => open = Some((dest_url.to_string(), String::new())),
            Event::End(TagEnd::Link) => out.extend(open.take()),
            Event::Text(t) | Event::Code(t) => {
                if let Some((_, words)) = &mut open {
                    words.push_str(&t);
                }
            }
            _ => {}
        }
    }
    out
}

/// Notes for a query, best first: what full text finds and what would be believed if the query were a complaint, joined by
/// the reciprocals of their ranks (Cormack, Clarke & Buettcher 2009, from memory).
fn ranked(bench: &Bench, query: &str, spelled: &str) -> Vec<NoteRef> {
    let hits = bench.index().map(|i| i.search(spelled, LOOKED_AT, false)).unwrap_or_default();
    let mut scratch = State::default();
    listen::take_in(&mut scratch, bench, query, &mut Reply::default(), None);
    let believed = scratch.belief(bench).ranked();
    let mut scores: Vec<(NoteRef, f64)> = Vec::new();
    for (rank, h) in hits.iter().enumerate() {
        // Belief ranks only causes and guides, which is also what somebody who searches wants first.
        let alone = match h.note {
            NoteRef::Cause(_) => 1.0,
            NoteRef::Danger(_) => 1.3,
            NoteRef::Finding(_) => 1.1,
        };
        scores.push((h.note, alone / (RANKS_BLUR + rank as f64)));
    }
    let causes = believed.into_iter().filter(|(c, _)| *c != bench.model.leak()).take(LOOKED_AT);
    for (rank, (c, _)) in causes.enumerate() {
        let score = BELIEF_SHARE / (RANKS_BLUR + rank as f64);
        // What no word of the query stands in is not a search result.
        if let Some((_, s)) = scores.iter_mut().find(|(n, _)| *n == NoteRef::Cause(CauseIx(c))) {
            *s += score;
        }
    }
    scores.sort_by(|a, b| b.1.total_cmp(&a.1));
    scores.into_iter().map(|(n, _)| n).collect()
}

/// Searches the notes and lists what was found.
pub(super) fn search(state: &mut State, bench: &Bench, query: &str, reply: &mut Reply) {
    let spelled = bench.ears.spelled(query);
    let mut notes = ranked(bench, query, &spelled);
    notes.truncate(LISTED);
    let stems: Vec<String> = tokens(&spelled).into_iter().map(|t| t.stem).collect();
    let mut found = Vec::new();
    for note in notes {
        let (id, title, kind, text) = match note {
            NoteRef::Cause(c) => {
                let c = &bench.library.causes[c.0];
                let kind = if c.kind == crate::domain::CauseKind::Guide { "guide" } else { "cause" };
                let body: Vec<&str> = c.sections.iter().map(|s| s.markdown.as_str()).collect();
                (c.id.clone(), c.title.clone(), kind, body.join("\n\n"))
            }
            NoteRef::Finding(f) => {
                let f = &bench.library.findings[f.0];
                (f.id.clone(), f.title.clone(), "check", format!("{}\n\n{}", f.ask, f.body))
            }
            NoteRef::Danger(d) => {
                let d = &bench.library.dangers[d];
                (d.id.clone(), d.title.clone(), "danger", d.warn.clone())
            }
        };
        let (passage, marks) = passage(&text, &stems);
        found.push(Found { number: found.len() + 1, id, title, kind: kind.into(), passage, marks });
    }
    if found.is_empty() {
        reply.add(format!(
            "Nothing in the notes about \"{}\". Try a part (\"rotor\"), a noise (\"creak\") or a place (\"knee\").",
            super::listen::shorten(query)
        ));
        return;
    }
    state.shared.listed = found.iter().map(|f| f.id.clone()).collect();
    reply.push(Block::Notes { query: query.to_owned(), found });
    reply.aside("read 1 shows the first; read and a number the others.");
}

/// The sentence with most of the words, and where these stand.
fn passage(markdown: &str, stems: &[String]) -> (String, Vec<(usize, usize)>) {
    let mut best: (usize, String) = (0, String::new());
    for line in without_pictures(markdown).lines() {
        let text = plain(line.trim_start_matches(['#', '-', '>', ' ']));
        let hits = tokens(&text).iter().filter(|t| stems.contains(&t.stem)).count();
        if hits > best.0 || best.1.is_empty() {
            best = (hits, text);
        }
    }
    let mut text: String = best.1.chars().take(PASSAGE).collect();
    if text.len() < best.1.len() {
        text.push('…');
    }
    let mut marks = Vec::new();
    let mut start = None;
    for (i, c) in text.char_indices().chain([(text.len(), ' ')]) {
        match (c.is_alphanumeric(), start) {
            (true, None) => start = Some(i),
            (false, Some(s)) => {
                if tokens(&text[s..i]).first().is_some_and(|t| stems.contains(&t.stem)) {
                    marks.push((s, i));
                }
                start = None;
            }
            _ => {}
        }
    }
    (text, marks)
}

/// The word that is asked about in "what is a rotor?".
fn asked_word(line: &str) -> Option<String> {
    let l = line.to_lowercase();
    let asked = l.trim_end_matches(['?', ' ', '.']);
    let starts = [
        "what is a ",
        "what is an ",
        "what is the ",
        "what is ",
        "what's a ",
        "what's the ",
        "whats a ",
        "whats an ",
        "whats the ",
        "what are ",
        "what does ",
        "what do you mean by ",
        "define ",
        "meaning of ",
    ];
    let rest = starts.iter().find_map(|s| asked.strip_prefix(s))?;
    Some(rest.trim_end_matches(" mean").trim().to_owned())
}

/// Explains a trade word that is asked about. True when the line was such a question.
pub(super) fn word(bench: &Bench, line: &str, reply: &mut Reply) -> bool {
    let meaning = asked_word(line).and_then(|term| glossary(bench, &term));
    let found = meaning.is_some();
    reply.blocks.extend(meaning.map(|text| Block::Say { text }));
    found
}

/// A question of the person's own: what a word means, how something is done. True when it was answered.
pub(super) fn question(state: &mut State, bench: &Bench, line: &str, reply: &mut Reply) -> bool {
    if let Some(term) = asked_word(line) {
        if word(bench, line, reply) {
            return true;
        }
        if line.ends_with('?') && term.split_whitespace().count() <= 4 {
            search(state, bench, &term, reply);
            return true;
        }
    }
    let l = line.to_lowercase();
    let asked = l.trim_end_matches(['?', ' ', '.']);
    for start in [
        "how do i ",
        "how can i ",
        "how to ",
        "how do you ",
        "where is ",
        "where do i ",
        "can i ride",
        "show me ",
        "tell me about ",
        "is it safe",
        "why is ",
        "why does ",
    ] {
        if asked.starts_with(start)
            && (line.ends_with('?')
                || start.starts_with("how")
                || start.starts_with("show")
                || start.starts_with("tell"))
        {
            search(state, bench, asked.strip_prefix(start).unwrap_or(asked), reply);
            return true;
        }
    }
    false
}

fn glossary(bench: &Bench, term: &str) -> Option<String> {
    let entry = bench.library.vocabulary.means(term)?;
    Some(format!("{}: {}.", entry.term, entry.means.trim_end_matches('.')))
}
