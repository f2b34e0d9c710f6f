//! How fast the book is, and how it grows: `cargo bench --bench book`. Figures are printed; nothing is judged but recall.
//!
//! Each size is built anew in a temporary folder: five visits a bike, a dozen entries and two settings a visit, and for each
//! bike a wear reading, a check that falls due and a trial with a verdict.

use std::io::Write;
use std::path::Path;
use std::time::{Duration, Instant};

use shakedown::store::{
    BikeId, Book, BookError, EntryKind, Felt, Found, NewDue, NewEntry, NewSetting, NewTrial, NewVerdict, Outcome,
    Source, Stamp, Value, dirichlet,
};

/// Recall of a bike must not take longer than this, in milliseconds, at the greatest size.
const RECALL_MS: f64 = 20.0;
const VISITS_A_BIKE: i64 = 5;
const COLOURS: [&str; 8] = ["red", "blue", "green", "black", "white", "grey", "yellow", "orange"];
const KINDS: [&str; 5] = ["hardtail", "tourer", "racer", "folder", "freighter"];

fn main() -> Result<(), BookError> {
    let mut out = std::io::stdout().lock();
    let mut slowest = 0.0;
    for visits in [1_000, 10_000, 100_000] {
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("book");
        let (built, book) = timed(|| build(&path, visits))?;
        writeln!(out, "{visits} visits, {} bikes", visits / VISITS_A_BIKE)?;
        line(&mut out, "build", built)?;
        drop(book);
        writeln!(out, "  {:<28}{:>10.1} MB", "file", std::fs::metadata(&path)?.len() as f64 / 1e6)?;

        let mut opens = Vec::new();
        for _ in 0..20 {
            let (t, book) = timed(|| Book::open(&path))?;
            opens.push(t);
            drop(book);
        }
        spread(&mut out, "open", &mut opens)?;

        let book = Book::open(&path)?;
        let bikes = visits / VISITS_A_BIKE;
        let mut recalls = Vec::new();
        for i in 0..500 {
            // Spread over the file, so that pages are mostly read anew.
            let bike = BikeId(1 + (i * 7919) % bikes);
            let (t, recall) = timed(|| book.now().recall(bike, 5))?;
            assert_eq!(recall.visits.len(), 5);
            recalls.push(t);
        }
        spread(&mut out, "recall", &mut recalls)?;
        // As the conversation recalls a bike: found by its owner, with all that was set, tried, measured and planned.
        let mut recalls = Vec::new();
        for i in 0..500 {
            let n = (i * 7919) % bikes;
            let said = format!("rider{n:06}'s {}", COLOURS[n as usize % 8]);
            recalls.push(timed(|| in_conversation(&book, &said, BikeId(1 + n)))?.0);
        }
        slowest = spread(&mut out, "recall in a conversation", &mut recalls)?;

        let mut finds = Vec::new();
        for i in 0..100 {
            let said = format!("the {} {}", COLOURS[i % 8], KINDS[i % 5]);
            finds.push(timed(|| book.find_bikes(&said))?.0);
        }
        spread(&mut out, "find among all", &mut finds)?;
        let mut finds = Vec::new();
        for i in 0..100 {
            let said = format!("rider{:06}'s {}", 1 + i * 13 % bikes, "bike");
            finds.push(timed(|| book.find_bikes(&said))?.0);
        }
        spread(&mut out, "find by owner", &mut finds)?;

        let (t, counts) = timed(|| book.frequencies())?;
        line(&mut out, "frequencies", t)?;
        let counts: Vec<u64> = counts.into_values().collect();
        let prior = vec![1.0 / counts.len() as f64; counts.len()];
        let (t, _) = timed(|| Ok::<_, BookError>(dirichlet(&prior, &counts, 200.0)))?;
        line(&mut out, "dirichlet", t)?;

        let mut writes = Vec::new();
        for i in 0..50 {
            writes.push(timed(|| visit(&book, BikeId(1 + i), 900_000 + i))?.0);
        }
        spread(&mut out, "record a visit (on disk)", &mut writes)?;
        line(&mut out, "backup", timed(|| book.backup_to(&folder.path().join("copy")))?.0)?;
        let mut lines = Vec::new();
        line(&mut out, "export", timed(|| book.export(&mut lines))?.0)?;
        writeln!(out, "  {:<28}{:>10.1} MB", "lines", lines.len() as f64 / 1e6)?;
        let other = Book::open(&folder.path().join("other"))?;
        line(&mut out, "import", timed(|| other.import(&mut lines.as_slice()))?.0)?;
        line(&mut out, "integrity", timed(|| book.integrity())?.0)?;
        let rider = book.now().bike(BikeId(3))?.owner;
        if let Some(rider) = rider {
            line(&mut out, "erase a rider", timed(|| book.erase_rider(rider))?.0)?;
        }
    }
    writeln!(out, "slowest recall {slowest:.2} ms, allowed {RECALL_MS} ms")?;
    assert!(slowest <= RECALL_MS, "recall is too slow");
    Ok(())
}

fn build(path: &Path, visits: i64) -> Result<Book, BookError> {
    let book = Book::open(path)?;
    let bikes: Vec<i64> = (0..visits / VISITS_A_BIKE).collect();
    for some in bikes.chunks(200) {
        book.together(|b| {
            for i in some {
                let (colour, kind) = (COLOURS[*i as usize % 8], KINDS[*i as usize % 5]);
                let rider = b.add_rider(&format!("Rider{i:06} Name{}", i % 500), &stamp(*i))?;
                let bike = b.add_bike(&format!("{colour} {kind}"), Some(rider), &stamp(*i))?;
                for what in ["brake-kind", "wheel-size", "suspension-kind"] {
                    b.note_bike(bike, what, &Value::words("disc-hydraulic"), &stamp(*i))?;
                }
                b.note_rider(rider, "inseam", &Value::quantity("81 cm", 0.81, "cm"), &stamp(*i))?;
                let due = NewDue { bike, what: "spokes".into(), reason: None, at: Some(*i), metres: None };
                b.add_due(&due, &stamp(*i))?;
                let worn = Value::quantity("0.4 %", 0.004, "%");
                b.note_wear(bike, "chain", &worn, Some(8e5), Some(0.0075), &stamp(*i))?;
                try_out(b, bike, *i)?;
            }
            Ok::<_, BookError>(())
        })?;
    }
    // Visits come in turn, as in a workshop, so that those of one bike are spread over the file.
    for round in 0..VISITS_A_BIKE {
        book.together(|b| bikes.iter().try_for_each(|i| visit(b, BikeId(i + 1), round * 100_000 + i)))?;
    }
    Ok(book)
}

/// One trial of the saddle height, with its first verdict.
fn try_out(book: &Book, bike: BikeId, n: i64) -> Result<(), BookError> {
    let new = NewTrial {
        bike,
        rider: None,
        what: "saddle-height".into(),
        baseline: Value::quantity("742 mm", 0.742, "mm"),
        step_si: 0.005,
        least_si: 0.002,
        low_si: 0.7,
        high_si: 0.78,
        seed: None,
        reason: None,
    };
    let trial = book.start_trial(&new, &stamp(n))?;
    let felt = NewVerdict { first_si: 0.742, second_si: 0.747, felt: Felt::First, remark: None, changed: Vec::new() };
    book.judge(trial, &felt, &stamp(n)).map(drop)
}

fn in_conversation(book: &Book, said: &str, wanted: BikeId) -> Result<(), BookError> {
    let Found::One(found) = book.find_bikes(said)? else { panic!("{said} names one bike") };
    assert_eq!(found.id, wanted);
    let view = book.now();
    assert_eq!(view.recall(wanted, 5)?.visits.len(), 5);
    assert_eq!(view.settings_over_time(wanted)?.len(), 2);
    assert_eq!(view.trials(wanted)?.len(), 1);
    assert_eq!(view.wear_over_time(wanted)?.len(), 1);
    view.metres(wanted)?;
    assert_eq!(view.due(wanted)?.len(), 1);
    Ok(())
}

fn visit(book: &Book, bike: BikeId, n: i64) -> Result<(), BookError> {
    let cause = format!("cause-{}", n % 240);
    let mut entries = vec![
        NewEntry::words(EntryKind::Complaint, "it squeals since the last ride in the wet, worse when braking hard"),
        NewEntry::about(EntryKind::Cause, &cause, "Glazed pads"),
        NewEntry::about(EntryKind::Repair, &cause, "sanded the pads and cleaned the rotor"),
        NewEntry::outcome(&cause, Outcome::Helped),
    ];
    for i in 0..5 {
        entries.push(NewEntry::about(EntryKind::Finding, &format!("finding-{i}"), "only when braking"));
        entries.push(NewEntry::belief(&format!("cause-{i}"), "A cause", 0.1 * f64::from(i)));
    }
    book.together(|b| {
        let visit = b.record_visit(Some(bike), None, &entries, &stamp(n))?;
        for what in ["saddle-height", "front-tyre-pressure"] {
            let mut set = NewSetting::new(bike, what, Value::quantity("742 mm", 0.742, "mm"));
            set.visit = Some(visit);
            b.set(&set, &stamp(n))?;
        }
        Ok(())
    })
}

fn stamp(at: i64) -> Stamp {
    Stamp::now(1_700_000_000 + at, "bench", Source::Measured)
}

fn timed<T>(work: impl FnOnce() -> Result<T, BookError>) -> Result<(Duration, T), BookError> {
    let start = Instant::now();
    let done = work()?;
    Ok((start.elapsed(), done))
}

fn ms(t: Duration) -> f64 {
    t.as_secs_f64() * 1e3
}

fn line(out: &mut impl Write, what: &str, t: Duration) -> Result<(), BookError> {
    Ok(writeln!(out, "  {what:<28}{:>10.2} ms", ms(t))?)
}

fn spread(out: &mut impl Write, what: &str, times: &mut [Duration]) -> Result<f64, BookError> {
    times.sort_unstable();
    let at = |share: f64| ms(times[((times.len() - 1) as f64 * share) as usize]);
    writeln!(out, "  {what:<28}{:>10.2} ms   99 in 100 within {:.2}, slowest {:.2}", at(0.5), at(0.99), at(1.0))?;
    Ok(at(1.0))
}
