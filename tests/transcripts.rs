//! Golden conversations: every page below `tests/transcripts/` is a case.
//!
//! A page is prose with one ```` ```conversation ```` block. Lines that begin with `> ` are typed; the others are what came
//! out. A block ```` ```conversation 2026-05-03 ```` is a new conversation on that day, beside a book that all such blocks of
//! the page share. A ```` ```belief ```` block shows the leading causes at the end. `SHAKEDOWN_WRITE=1 cargo test --test transcripts`
//! writes the pages anew; the difference is then read in the review.

#![allow(clippy::unwrap_used, reason = "a test may fail by panicking")]

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use libtest_mimic::{Arguments, Failed, Trial};
use shakedown::app::Face;
use shakedown::dialogue::Bench;
use shakedown::library::{Library, embedded_files};
use shakedown::render::Look;

fn main() -> ExitCode {
    let args = Arguments::from_args();
    let (library, problems) = Library::load(embedded_files());
    assert!(problems.is_empty(), "{problems:?}");
    let bench = Arc::new(Bench::new(library));
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/transcripts");
    let trials = pages(&folder)
        .into_iter()
        .map(|page| {
            let name = page.strip_prefix(&folder).unwrap_or(&page).display().to_string();
            let bench = Arc::clone(&bench);
            Trial::test(name, move || check(&bench, &page))
        })
        .collect();
    libtest_mimic::run(&args, trials).exit_code()
}

fn pages(folder: &Path) -> Vec<PathBuf> {
    let mut out = Vec::new();
    let mut stack = vec![folder.to_path_buf()];
    while let Some(dir) = stack.pop() {
        for entry in fs::read_dir(&dir).expect("the folder of transcripts can be read") {
            let path = entry.expect("an entry can be read").path();
            if path.is_dir() {
                stack.push(path);
            } else if path.extension().is_some_and(|e| e == "md") {
                out.push(path);
            }
        }
    }
    out.sort();
    out
}

fn check(bench: &Bench, page: &Path) -> Result<(), Failed> {
    let text = fs::read_to_string(page)?;
    let anew = regenerate(bench, &text)?;
    if std::env::var_os("SHAKEDOWN_WRITE").is_some() {
        fs::write(page, anew)?;
        return Ok(());
    }
    if text == anew {
        return Ok(());
    }
    let first = text.lines().zip(anew.lines()).position(|(a, b)| a != b).unwrap_or(0);
    let side = |t: &str| t.lines().skip(first.saturating_sub(2)).take(12).collect::<Vec<_>>().join("\n");
    Err(format!("line {}:\n--- page\n{}\n--- now\n{}", first + 1, side(&text), side(&anew)).into())
}

/// The page with its blocks replayed.
fn regenerate(bench: &Bench, text: &str) -> Result<String, String> {
    let mut out = String::new();
    let mut face = Face::new(bench, Look::default(), None, false);
    let folder = tempfile::tempdir().map_err(|e| e.to_string())?;
    let mut lines = text.lines();
    let mut conversations = 0;
    while let Some(line) = lines.next() {
        let _ = writeln!(out, "{line}");
        let dated = line.trim().strip_prefix("```conversation ");
        if let Some(day) = dated {
            let book = folder.path().join("book");
            face = Face::new(bench, Look::default(), None, false).with_book_at(&book, noon(day)?)?;
        }
        match line.trim() {
            _ if dated.is_some() || line.trim() == "```conversation" => {
                conversations += 1;
                for inner in lines.by_ref() {
                    if inner.trim() == "```" {
                        break;
                    }
                    if let Some(typed) = inner.strip_prefix("> ").or(if inner == ">" { Some("") } else { None }) {
                        let _ = writeln!(out, "{inner}");
                        out.push_str(&face.feed(typed).text);
                    }
                }
                let _ = writeln!(out, "```");
            }
            "```belief" => {
                for inner in lines.by_ref() {
                    if inner.trim() == "```" {
                        break;
                    }
                }
                let belief = face.session.state.belief(bench);
                for (c, p) in belief.ranked().into_iter().take(4) {
                    let id = bench.library.causes.get(c).map_or("(in no note)", |c| c.id.as_str());
                    let _ = writeln!(out, "{p:.2} {id}");
                }
                let _ = writeln!(out, "```");
            }
            _ => {}
        }
    }
    if conversations == 0 {
        return Err("the page has no conversation block".into());
    }
    Ok(out)
}

/// Noon (UTC) of a day such as `2026-05-03`, unix seconds: days counted one by one from 2026-01-01, which is 1 767 225 600.
fn noon(day: &str) -> Result<i64, String> {
    let parts: Vec<i64> = day.split('-').filter_map(|p| p.parse().ok()).collect();
    let [2026, month @ 1..=12, date @ 1..=31] = parts[..] else { return Err(format!("no day of 2026: {day}")) };
    let before: i64 = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31].iter().take(month as usize - 1).sum();
    Ok(1_767_225_600 + (before + date - 1) * 86_400 + 43_200)
}
