//! The one driver: a terminal, a pipe or JSON lines, and the effects of each turn.
//!
//! The only place that reads a keyboard or a pipe.

use std::collections::VecDeque;
use std::io::{self, BufRead, IsTerminal, Write};
use std::sync::OnceLock;

use super::book::Shelf;
use super::face::{Answer, Face};
use super::keep::Keep;
use super::run::Failure;
use crate::cli::Args;
use crate::dialogue::{Bench, Focus, Reply, Session, command};
use crate::library::Problem;
use crate::render::{Look, paint};
use crate::report::Kind;
use crate::shell::{Shell, Typed};

/// What is made beside the first prompt.
pub(super) struct Ready {
    pub(super) bench: Bench,
    pub(super) problems: Vec<Problem>,
}

/// Holds the conversation: in a terminal, a pipe or JSON lines.
pub(super) fn converse(
    args: &Args,
    ready: &OnceLock<Ready>,
    shelf: Option<Shelf>,
    no_book: Option<String>,
) -> Result<(), Failure> {
    let terminal = io::stdout().is_terminal() && io::stdin().is_terminal() && !args.json;
    if terminal {
        return in_terminal(args, ready, shelf, no_book);
    }
    let ready = ready.wait();
    left_out(&ready.problems)?;
    let mut face = Face::new(&ready.bench, look(args, false), None, args.json).with_book(shelf);
    let mut out = io::stdout();
    if let Some(file) = &args.take_up {
        take_up_card(&mut face, file)?;
    }
    piped(&mut face, &args.complaint.join(" "), args.keep_nothing, &mut out)
}

fn in_terminal(
    args: &Args,
    ready: &OnceLock<Ready>,
    shelf: Option<Shelf>,
    no_book: Option<String>,
) -> Result<(), Failure> {
    let (keep, trouble) = Keep::open(args.keep_nothing);
    let mut out = io::stdout();
    let say = |text: &str| -> io::Result<()> {
        io::stdout().write_all(shown(&Reply::say(text), look(args, true)).as_bytes())
    };
    if let Some(t) = trouble.or(no_book) {
        say(&t)?;
    }
    let mut shell = Shell::open().map_err(|e| Failure::Machine(io::Error::other(e)))?;
    if let Some(h) = keep.history() {
        shell.load_history(&h);
    }
    let first = args.complaint.join(" ");
    let mut replayed: Vec<String> = Vec::new();
    // The first line is typed while the notes are still being read.
    let mut typed: VecDeque<Typed> = VecDeque::new();
    if args.take_up.is_some() {
        keep.forget();
    } else if first.is_empty() {
        let (taken_up, meanwhile) = interrupted(&keep, &mut shell, &say)?;
        replayed = taken_up;
        typed.extend(meanwhile.into_iter().map(Typed::Line));
        if replayed.is_empty() && typed.is_empty() {
            out.write_all(shown(&Session::greeting(), look(args, true)).as_bytes())?;
            typed.push_back(shell.read("> ", Vec::new()));
        }
    } else {
        keep.forget();
        typed.push_back(Typed::Line(first));
    }
    if !matches!(typed.front(), Some(Typed::End)) {
        let ready = ready.wait();
        left_out(&ready.problems)?;
        let mut face = Face::new(&ready.bench, look(args, true), Some(window().1), false).with_book(shelf);
        if let Some(file) = &args.take_up {
            take_up_card(&mut face, file)?;
        }
        let mut last = String::new();
        for l in &replayed {
            shown_last(&mut last, face.feed_again(l));
        }
        out.write_all(last.as_bytes())?;
        lines(args, &ready.bench, &mut face, &mut shell, &keep, typed)?;
    }
    if let Some(h) = keep.history() {
        let _ = shell.save_history(&h);
    }
    Ok(())
}

/// Takes line after line until the person leaves.
fn lines(
    args: &Args,
    bench: &Bench,
    face: &mut Face,
    shell: &mut Shell,
    keep: &Keep,
    mut typed: VecDeque<Typed>,
) -> Result<(), Failure> {
    let mut out = io::stdout();
    loop {
        let next = match typed.pop_front() {
            Some(t) => t,
            None => shell.read("> ", words(bench, face)),
        };
        // The window may have been made narrower while the prompt stood open.
        let (w, h) = window();
        face.resize(args.width.map_or(w, usize::from), h);
        match next {
            Typed::Dropped => {}
            Typed::End => return Ok(()),
            Typed::Line(line) => {
                let answer = face.feed(&line);
                perform(face, &answer, &mut out)?;
                if answer.forget {
                    keep.forget_all();
                    shell.forget_history();
                    continue;
                }
                if answer.leave {
                    keep.forget();
                    return Ok(());
                }
                kept(face, keep, &line, &mut out)?;
            }
        }
    }
}

/// A reply as text, before there is a face.
fn shown(reply: &Reply, look: Look) -> String {
    crate::render::lines(reply, look).iter().map(|l| paint(l, look).trim_end().to_owned() + "\n").collect()
}

/// Says which notes of the user's own were left out.
fn left_out(problems: &[Problem]) -> io::Result<()> {
    for p in problems.iter().take(5) {
        writeln!(io::stderr(), "note left out: {p}")?;
    }
    Ok(())
}

/// Offers to take up an interrupted conversation; gives its lines if that is wished, and what was typed instead of an answer.
fn interrupted(
    keep: &Keep,
    shell: &mut Shell,
    say: &impl Fn(&str) -> io::Result<()>,
) -> Result<(Vec<String>, Vec<String>), Failure> {
    let (lines, bad) = keep.interrupted();
    let mut meanwhile = Vec::new();
    if bad > 0 {
        say(&format!("{bad} line(s) of the saved conversation could not be read and are left out."))?;
    }
    let Some(first) = lines.first() else { return Ok((lines, meanwhile)) };
    let said: String = first.chars().take(60).collect();
    say(&format!("An interrupted conversation is here (\"{said}\"). Take it up again? 1 yes, 2 no"))?;
    loop {
        match shell.read("> ", vec!["yes".into(), "no".into()]) {
            Typed::Line(l) if ["1", "y", "yes"].contains(&l.trim().to_lowercase().as_str()) => {
                return Ok((lines, meanwhile));
            }
            Typed::Line(l) if ["2", "n", "no"].contains(&l.trim().to_lowercase().as_str()) => {
                keep.forget();
                return Ok((Vec::new(), meanwhile));
            }
            // Left without an answer: it is still there next time.
            Typed::End => return Err(Failure::Left),
            // A new complaint, typed without reading the question: nothing typed is lost.
            Typed::Line(l) if !l.trim().is_empty() => {
                meanwhile.push(l);
                say(
                    "That is answered next. First: 1 (yes) to add it to the interrupted conversation, 2 (no) to start anew with it.",
                )?;
            }
            _ => say("Please answer 1 (yes) or 2 (no).")?,
        }
    }
}

/// Replays the lines of a card written as JSON.
fn take_up_card(face: &mut Face, file: &std::path::Path) -> Result<(), Failure> {
    let text =
        std::fs::read_to_string(file).map_err(|e| Failure::User(format!("cannot read {}: {e}", file.display())))?;
    let record = crate::report::read_json(&text).map_err(Failure::User)?;
    let mut last = String::new();
    let settles = |l: &&String| !["leave", "quit", "exit", "bye"].contains(&l.as_str()) && !l.starts_with("card");
    for line in record.lines.iter().filter(settles) {
        let line = if face.is_json() { serde_json::Value::from(line.as_str()).to_string() } else { line.clone() };
        shown_last(&mut last, face.feed_again(&line));
    }
    io::stdout().write_all(last.as_bytes())?;
    Ok(())
}

/// Keeps the last text that says something: a card that is not written again says nothing.
fn shown_last(last: &mut String, answer: Answer) {
    if !answer.text.trim().is_empty() {
        *last = answer.text;
    }
}

fn kept(face: &mut Face, keep: &Keep, line: &str, out: &mut impl Write) -> Result<(), Failure> {
    if let Err(e) = keep.add(line) {
        out.write_all(face.tell(format!("This line could not be kept for next time: {e}.")).as_bytes())?;
    }
    Ok(())
}

fn piped(face: &mut Face, first: &str, keep_nothing: bool, out: &mut impl Write) -> Result<(), Failure> {
    if !first.is_empty() {
        let line = if face.is_json() { serde_json::Value::from(first).to_string() } else { first.to_owned() };
        let answer = face.feed(&line);
        perform(face, &answer, out)?;
        if answer.leave || io::stdin().is_terminal() {
            return Ok(());
        }
    }
    for line in io::stdin().lock().split(b'\n') {
        let line = line?;
        let answer = face.feed(String::from_utf8_lossy(&line).trim_end_matches('\r'));
        perform(face, &answer, out)?;
        if answer.forget {
            // A pipe keeps nothing, but earlier conversations in a terminal have.
            Keep::open(keep_nothing).0.forget_all();
        }
        if !face.is_json() {
            writeln!(out)?;
        }
        out.flush()?;
        if answer.leave {
            break;
        }
    }
    Ok(())
}

/// Performs what came out of a turn.
fn perform(face: &mut Face, answer: &Answer, out: &mut impl Write) -> Result<(), Failure> {
    out.write_all(answer.text.as_bytes())?;
    for (kind, file, text) in &answer.cards {
        let said = match std::fs::read(file) {
            Ok(old) if !is_card(&old) => {
                format!("{file} exists already and is no card of mine: nothing was written. Choose another name.")
            }
            _ => match std::fs::write(file, text) {
                Ok(()) => format!("{} written to {file}.", kind.title()),
                Err(e) => format!("Could not write {file}: {e}."),
            },
        };
        out.write_all(face.tell(said).as_bytes())?;
    }
    Ok(())
}

/// Whether a file's beginning is that of a card, in any form: only such a file is written over.
fn is_card(file: &[u8]) -> bool {
    let head = String::from_utf8_lossy(&file[..file.len().min(2_000)]).to_lowercase();
    head.contains("\"shakedown\": 1") || Kind::ALL.iter().any(|k| head.contains(&k.title().to_lowercase()))
}

/// What can be completed at the prompt: answers, commands, names of notes.
fn words(bench: &Bench, face: &Face) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    if let Focus::Finding(f) = face.session.state.focus {
        out.extend(bench.library.findings[f.0].answers.iter().map(|a| a.says.clone()));
        out.extend(["don't know".to_owned(), "can't check now".to_owned()]);
    }
    out.extend(command::ALL.iter().flat_map(|c| c.words).map(|w| w.trim_end_matches('…').to_owned()));
    out.push("more".into());
    out.extend(bench.library.causes.iter().map(|c| format!("read {}", c.id)));
    out.extend(crate::calc::ALL.iter().map(|c| format!("work out {}", c.id)));
    out
}

fn look(args: &Args, terminal: bool) -> Look {
    let width = args.width.map_or_else(|| if terminal { window().0 } else { 80 }, usize::from);
    let plain =
        std::env::var_os("NO_COLOR").is_some_and(|v| !v.is_empty()) || std::env::var("TERM").is_ok_and(|t| t == "dumb");
    Look { width, styled: terminal && !plain && !args.spoken, drawn: !args.spoken }
}

/// Columns and rows of the window; the standard 80 by 24 where they are not told.
fn window() -> (usize, usize) {
    terminal_size::terminal_size().map_or((80, 24), |(w, h)| (usize::from(w.0).max(20), usize::from(h.0).max(6)))
}
