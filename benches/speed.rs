//! Speed, measured and printed: loading, first reply, reply times over all transcripts, search, memory, binary size.
//!
//! `cargo bench --bench speed`. Aims on two cores: first prompt within 50 ms, reply p99 within 10 ms, peak memory 60 MiB.

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "a benchmark prints and may fail by panicking")]

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use shakedown::app::Face;
use shakedown::dialogue::Bench;
use shakedown::library::{Library, embedded_files};
use shakedown::render::Look;

fn main() {
    let t = Instant::now();
    let (library, problems) = Library::load(embedded_files());
    println!(
        "notes loaded: {:?} ({} causes and guides, {} problems)",
        t.elapsed(),
        library.causes.len(),
        problems.len()
    );
    let t = Instant::now();
    let bench = Bench::new(library);
    println!("model, ears, learned likeness, full-text index: {:?} (made beside the first prompt)", t.elapsed());

    let mut times: Vec<(Duration, String)> = Vec::new();
    for page in pages(&Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/transcripts")) {
        let text = fs::read_to_string(&page).unwrap();
        let mut face = Face::new(&bench, Look::default(), None, false);
        for line in text.lines().filter_map(|l| l.strip_prefix("> ")) {
            let t = Instant::now();
            let _ = face.feed(line);
            times.push((t.elapsed(), line.to_owned()));
        }
    }
    times.sort();
    let at = |q: f64| &times[((times.len() - 1) as f64 * q) as usize];
    println!("replies: {} lines, median {:?}, p99 {:?} ({:?})", times.len(), at(0.5).0, at(0.99).0, at(0.99).1);

    let queries = ["rotor rub", "saddel hight", "creak climbing", "tubeless leak", "chain slap", "numb hands"];
    let t = Instant::now();
    for q in queries.iter().cycle().take(600) {
        std::hint::black_box(bench.index().unwrap().search(q, 6, false));
    }
    println!("search: {:?} each", t.elapsed() / 600);
    grown_search(&queries);

    let told: Vec<_> = shakedown::calc::ALL
        .iter()
        .map(|c| (*c, shakedown::calc::parse_inputs(c, c.examples[0].says).values))
        .collect();
    let t = Instant::now();
    let n = told.iter().filter(|(c, values)| shakedown::calc::run(c, values).is_ok()).count();
    println!("all calculators, one evaluation each: {:?} ({n} ran)", t.elapsed());

    binary();
}

/// The full-text search over the notes taken once, ten and a hundred times.
fn grown_search(queries: &[&str]) {
    for times in [1, 10, 100] {
        let (mut library, _) = Library::load(embedded_files());
        let once = library.causes.clone();
        for _ in 1..times {
            library.causes.extend(once.iter().cloned());
        }
        let t = Instant::now();
        let index = shakedown::library::Index::build(&library).unwrap();
        let built = t.elapsed();
        let t = Instant::now();
        for q in queries.iter().cycle().take(120) {
            std::hint::black_box(index.search(q, 6, false));
        }
        println!("search over {times} times the notes: {:?} each (index built in {built:?})", t.elapsed() / 120);
    }
}

/// Cold start, peak memory and size of the release binary, where it has been built.
fn binary() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/release/shakedown");
    let Ok(meta) = fs::metadata(&path) else {
        println!("no release binary: cargo build --release first");
        return;
    };
    println!("binary: {:.1} MiB", meta.len() as f64 / 1_048_576.0);
    let mut starts: Vec<Duration> = (0..15)
        .map(|_| {
            let t = Instant::now();
            let mut child =
                Command::new(&path).arg("--keep-nothing").stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
            child.stdin.take().unwrap().write_all(b"help\n").unwrap();
            let _ = child.wait_with_output().unwrap();
            t.elapsed()
        })
        .collect();
    starts.sort();
    println!("cold start, one command, end: median {:?} (notes, ears and index waited for)", starts[starts.len() / 2]);
    if let Ok(out) = Command::new("/usr/bin/time")
        .args(["-f", "%M"])
        .arg(&path)
        .arg("creak while pedalling")
        .stdin(Stdio::null())
        .output()
    {
        let peak = String::from_utf8_lossy(&out.stderr).trim().lines().last().unwrap_or("?").to_owned();
        println!("peak memory with one complaint: {peak} KiB");
    }
}

fn pages(folder: &Path) -> Vec<std::path::PathBuf> {
    let mut out = Vec::new();
    for e in fs::read_dir(folder).unwrap() {
        let p = e.unwrap().path();
        if p.is_dir() {
            out.extend(pages(&p));
        } else if p.extension().is_some_and(|e| e == "md") {
            out.push(p);
        }
    }
    out.sort();
    out
}
