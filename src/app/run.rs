//! From arguments to exit code: the only place that reads a keyboard, a pipe, files and the environment.

use std::io::{self, BufRead, IsTerminal, Write};
use std::process::ExitCode;

use clap::{CommandFactory, Parser};

use super::check::check;
use super::face::{Answer, Face};
use super::keep::Keep;
use super::score::score_file;
use crate::cli::{Args, CompletionShell, INTERNAL_ERROR, USER_ERROR};
use crate::dialogue::{Bench, Focus, command};
use crate::library::{Library, Problem, embedded_files, read_folder};
use crate::render::Look;
use crate::shell::{Shell, Typed};

/// How a run ends, other than well.
#[derive(Debug, thiserror::Error)]
enum Failure {
    /// The user's mistake.
    #[error("{0}")]
    User(String),
    /// A fault of the machine.
    #[error("{0}")]
    Machine(#[from] io::Error),
}

/// Runs the program.
#[must_use]
pub fn run() -> ExitCode {
    let args = Args::parse();
    match work(&args) {
        Ok(()) => ExitCode::SUCCESS,
        // Whoever reads us has gone: nothing to say, nobody to say it to.
        Err(Failure::Machine(e)) if e.kind() == io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(e) => {
            let _ = writeln!(io::stderr(), "shakedown: {e}");
            ExitCode::from(if matches!(e, Failure::User(_)) { USER_ERROR } else { INTERNAL_ERROR })
        }
    }
}

fn work(args: &Args) -> Result<(), Failure> {
    if let Some(shell) = args.completions {
        return completions(shell);
    }
    if let Some(id) = &args.figure {
        return figure(id, &args.complaint.join(" "), args.json);
    }
    if args.calculators {
        io::stdout().write_all(crate::calc::reference_page().as_bytes())?;
        return Ok(());
    }
    let (library, problems) = load(args);
    let mut out = io::stdout();
    if args.check_notes {
        let (text, n) = check(&library, problems);
        out.write_all(text.as_bytes())?;
        return if n == 0 { Ok(()) } else { Err(Failure::User(format!("{n} problems in the notes"))) };
    }
    if let Some(file) = &args.learn {
        std::fs::write(file, super::learn::learned(&library))?;
        return Ok(());
    }
    if args.measure {
        return Ok(super::measure::measure(&library, args.riders, &mut out)?);
    }
    let bench = Bench::new(library);
    if let Some(file) = &args.score {
        let text =
            std::fs::read_to_string(file).map_err(|e| Failure::User(format!("cannot read {}: {e}", file.display())))?;
        let report = score_file(&bench, &text).map_err(Failure::User)?;
        out.write_all(report.as_bytes())?;
        return Ok(());
    }
    let own: Vec<&Problem> = problems.iter().collect();
    for p in own.iter().take(5) {
        writeln!(io::stderr(), "note left out: {p}")?;
    }
    std::thread::scope(|scope| {
        // The index is made while the person types.
        scope.spawn(|| bench.index());
        converse(args, &bench)
    })
}

/// One figure without a conversation.
fn figure(id: &str, text: &str, json: bool) -> Result<(), Failure> {
    let calc =
        crate::calc::find(id).ok_or_else(|| Failure::User(format!("no calculator \"{id}\"; see --calculators")))?;
    let told = crate::calc::parse_inputs(calc, text);
    let outcome = crate::calc::run(calc, &told.values).map_err(|e| {
        let problems = told.problems.join(" ");
        Failure::User(format!("{e}. {problems}").trim_end().to_owned())
    })?;
    let mut out = io::stdout();
    if json {
        writeln!(out, "{}", crate::calc::outcome_json(&told.values, &outcome))?;
    } else {
        let preference = told.values.preference();
        for f in &outcome.figures {
            let band = f.say_band(preference).map(|b| format!(" ({b})")).unwrap_or_default();
            writeln!(out, "{}: {}{band} {}", f.label, f.say(preference), f.note)?;
        }
        for line in told.notes.iter().chain(&outcome.assumed).chain(&outcome.warnings).chain(&outcome.cautions) {
            writeln!(out, "{line}")?;
        }
    }
    Ok(())
}

fn load(args: &Args) -> (Library, Vec<Problem>) {
    let mut files = embedded_files();
    let mut unread = Vec::new();
    if let Some(folder) = &args.notes {
        let (own, problems) = read_folder(folder);
        files.extend(own);
        unread = problems;
    }
    let (library, mut problems) = Library::load(files);
    problems.extend(unread);
    (library, problems)
}

fn completions(shell: CompletionShell) -> Result<(), Failure> {
    use clap_complete::{Shell as Kind, generate};
    let kind = match shell {
        CompletionShell::Bash => Kind::Bash,
        CompletionShell::Fish => Kind::Fish,
        CompletionShell::Zsh => Kind::Zsh,
        CompletionShell::PowerShell => Kind::PowerShell,
        CompletionShell::Elvish => Kind::Elvish,
    };
    let mut text = Vec::new();
    generate(kind, &mut Args::command(), "shakedown", &mut text);
    io::stdout().write_all(&text)?;
    Ok(())
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

fn converse(args: &Args, bench: &Bench) -> Result<(), Failure> {
    let terminal = io::stdout().is_terminal() && io::stdin().is_terminal() && !args.json;
    let (keep, trouble) = Keep::open(args.keep_nothing || !terminal);
    let mut face = Face::new(bench, look(args, terminal), terminal.then(|| window().1), args.json);
    let mut out = io::stdout();
    let first = args.complaint.join(" ");
    if !terminal {
        return piped(&mut face, &first, &mut out);
    }
    if let Some(t) = trouble {
        out.write_all(face.tell(t).as_bytes())?;
    }
    let mut shell = Shell::open().map_err(|e| Failure::Machine(io::Error::other(e)))?;
    if let Some(h) = keep.history() {
        shell.load_history(&h);
    }
    if first.is_empty() {
        take_up(&mut face, &keep, &mut shell, &mut out)?;
    } else {
        keep.forget();
        let answer = face.feed(&first);
        perform(&mut face, &answer, &mut out)?;
        kept(&mut face, &keep, &first, &mut out)?;
    }
    loop {
        let (w, h) = window();
        face.resize(args.width.map_or(w, usize::from), h);
        match shell.read("> ", words(bench, &face)) {
            Typed::Dropped => {}
            Typed::End => break,
            Typed::Line(line) => {
                let answer = face.feed(&line);
                perform(&mut face, &answer, &mut out)?;
                if answer.leave {
                    keep.forget();
                    break;
                }
                kept(&mut face, &keep, &line, &mut out)?;
            }
        }
    }
    if let Some(h) = keep.history() {
        let _ = shell.save_history(&h);
    }
    Ok(())
}

/// Offers to take up an interrupted conversation; greets otherwise.
fn take_up(face: &mut Face, keep: &Keep, shell: &mut Shell, out: &mut impl Write) -> Result<(), Failure> {
    let (lines, bad) = keep.interrupted();
    if bad > 0 {
        out.write_all(
            face.tell(format!("{bad} line(s) of the saved conversation could not be read and are left out."))
                .as_bytes(),
        )?;
    }
    let Some(first) = lines.first() else {
        out.write_all(face.greet().as_bytes())?;
        return Ok(());
    };
    let said: String = first.chars().take(60).collect();
    out.write_all(
        face.tell(format!("An interrupted conversation is here (\"{said}\"). Take it up again? 1 yes, 2 no"))
            .as_bytes(),
    )?;
    loop {
        match shell.read("> ", vec!["yes".into(), "no".into()]) {
            Typed::Line(l) if ["1", "y", "yes"].contains(&l.trim().to_lowercase().as_str()) => {
                let mut last = String::new();
                for l in &lines {
                    last = face.feed(l).text;
                }
                out.write_all(last.as_bytes())?;
                return Ok(());
            }
            Typed::Line(l) if ["2", "n", "no"].contains(&l.trim().to_lowercase().as_str()) => {
                keep.forget();
                out.write_all(face.greet().as_bytes())?;
                return Ok(());
            }
            Typed::End => return Ok(()),
            _ => out.write_all(face.tell("Please answer 1 (yes) or 2 (no).").as_bytes())?,
        }
    }
}

fn kept(face: &mut Face, keep: &Keep, line: &str, out: &mut impl Write) -> Result<(), Failure> {
    if let Err(e) = keep.add(line) {
        out.write_all(face.tell(format!("This line could not be kept for next time: {e}.")).as_bytes())?;
    }
    Ok(())
}

fn piped(face: &mut Face, first: &str, out: &mut impl Write) -> Result<(), Failure> {
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
    for (file, text) in &answer.cards {
        let said = match std::fs::write(file, text) {
            Ok(()) => format!("Written to {file}."),
            Err(e) => format!("Could not write {file}: {e}."),
        };
        out.write_all(face.tell(said).as_bytes())?;
    }
    Ok(())
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
