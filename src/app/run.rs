//! From arguments to exit code.

use std::io::{self, IsTerminal, Write};
use std::process::ExitCode;
use std::sync::OnceLock;

use clap::{CommandFactory, Parser};

use super::book::{Shelf, shift};
use super::check::check;
use super::converse::{Ready, converse};
use super::keep::Keep;
use super::score::score_file;
use crate::cli::{Args, CompletionShell, INTERNAL_ERROR, USER_ERROR};
use crate::dialogue::Bench;
use crate::library::{Library, Problem, embedded_files, read_folder};

/// How a run ends, other than well.
#[derive(Debug, thiserror::Error)]
pub(super) enum Failure {
    /// The user's mistake.
    #[error("{0}")]
    User(String),
    /// The person left before anything began.
    #[error("")]
    Left,
    /// A fault of the machine.
    #[error("{0}")]
    Machine(#[from] io::Error),
}

/// Runs the program.
#[must_use]
pub fn run() -> ExitCode {
    let args = Args::parse();
    match work(&args) {
        Ok(()) | Err(Failure::Left) => ExitCode::SUCCESS,
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
    if args.check_notes || args.learn.is_some() || args.score.is_some() || args.measure {
        return for_authors(args);
    }
    let chore = args.backup_book.is_some() || args.export_book.is_some() || args.import_book.is_some();
    let (shelf, no_book) = open_book(args, chore)?;
    if let (Some(shelf), true) = (&shelf, chore) {
        return chores(args, shelf);
    }
    let met = shelf.as_ref().filter(|_| !args.plain_frequencies).map(Shelf::met);
    let ready: OnceLock<Ready> = OnceLock::new();
    std::thread::scope(|scope| {
        // Notes, ears and index are made while the person types.
        scope.spawn(|| {
            let (library, problems) = load(args);
            let mut bench = Bench::new(library);
            if let Some(met) = met {
                shift(&met, &bench.library, &mut bench.model);
            }
            ready.get_or_init(|| Ready { bench, problems })
        });
        converse(args, &ready, shelf, no_book)
    })
}

/// What authors of notes need: the check, the learning, the score.
fn for_authors(args: &Args) -> Result<(), Failure> {
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
    if let Some(file) = &args.score {
        let text =
            std::fs::read_to_string(file).map_err(|e| Failure::User(format!("cannot read {}: {e}", file.display())))?;
        let report = score_file(&Bench::new(library), &text).map_err(Failure::User)?;
        out.write_all(report.as_bytes())?;
    }
    Ok(())
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

/// The book: the one named, or in a terminal the usual one. One that cannot be opened is said, and done without.
fn open_book(args: &Args, chore: bool) -> Result<(Option<Shelf>, Option<String>), Failure> {
    let terminal = io::stdout().is_terminal() && io::stdin().is_terminal();
    let named = args.book.clone();
    let usual = (terminal || chore).then(|| Keep::usual_book(args.keep_nothing)).flatten();
    match named.clone().or(usual) {
        None => Ok((None, None)),
        Some(path) => match Shelf::open(&path) {
            Ok(shelf) => Ok((Some(shelf), None)),
            Err(e) if named.is_some() || chore => Err(Failure::User(e)),
            Err(e) => Ok((None, Some(format!("The book cannot be used: {e}")))),
        },
    }
}

fn chores(args: &Args, shelf: &Shelf) -> Result<(), Failure> {
    let mut out = io::stdout();
    let done = [
        args.import_book.as_ref().map(|f| shelf.import(f)),
        args.export_book.as_ref().map(|f| shelf.export(f)),
        args.backup_book.as_ref().map(|f| shelf.backup(f)),
    ];
    for said in done.into_iter().flatten() {
        writeln!(out, "{}", said.map_err(Failure::User)?)?;
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
