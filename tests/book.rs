//! The book under rough treatment: killed while writing, written by two programs, copied in use, out of room.
//!
//! The tests start themselves again as another program (the ignored test `another_program`). `SHAKEDOWN_KILLS` and
//! `SHAKEDOWN_SECONDS` make the rough treatment longer; `scripts/kill_test.sh` does.

#![expect(clippy::unwrap_used, reason = "what fails in a test may end it")]

use std::collections::BTreeSet;
use std::io::{BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

use shakedown::store::{
    BikeId, Book, BookError, EntryKind, NewEntry, NewSetting, Outcome, RiderId, Source, Stamp, Value, Visit,
};

/// Entries of each visit that is written.
const ENTRIES: usize = 4;
/// A word that must be gone when its rider is erased.
const NEEDLE: &str = "Quendelfried";

fn number(name: &str, otherwise: u64) -> u64 {
    std::env::var(name).ok().and_then(|v| v.parse().ok()).unwrap_or(otherwise)
}

fn stamp(at: i64) -> Stamp {
    Stamp::now(at, "bench", Source::Said)
}

/// Numbers that look random; the same each time (xorshift, Marsaglia 2003).
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % n
    }
}

// ---- the other program

/// What the other program says: everything that was confirmed to it.
struct Other {
    child: Child,
    said: JoinHandle<Vec<String>>,
}

fn start(what: &str, book: &Path, extra: &str) -> Other {
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args(["another_program", "--exact", "--ignored", "--nocapture", "--test-threads=1"])
        .env("SHAKEDOWN_DO", what)
        .env("SHAKEDOWN_FILE", book)
        .env("SHAKEDOWN_EXTRA", extra)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let out = BufReader::new(child.stdout.take().unwrap());
    // The last line may be cut off by the kill: only lines with their end count.
    let said = thread::spawn(move || {
        let mut lines = Vec::new();
        let mut out = out;
        let mut line = String::new();
        while out.read_line(&mut line).is_ok_and(|n| n > 0) {
            if let Some(said) = line.strip_prefix("> ").and_then(|l| l.strip_suffix('\n')) {
                lines.push(said.to_owned());
            }
            line.clear();
        }
        lines
    });
    Other { child, said }
}

impl Other {
    fn kill(mut self, after: Duration) -> Vec<String> {
        thread::sleep(after);
        self.child.kill().unwrap();
        self.end()
    }

    fn end(mut self) -> Vec<String> {
        self.child.wait().unwrap();
        self.said.join().unwrap()
    }
}

fn say(what: &str) {
    let mut out = std::io::stdout().lock();
    out.write_all(format!("> {what}\n").as_bytes()).unwrap();
    out.flush().unwrap();
}

#[test]
#[ignore = "started by the other tests as another program"]
fn another_program() {
    let Ok(what) = std::env::var("SHAKEDOWN_DO") else { return };
    let file = PathBuf::from(std::env::var("SHAKEDOWN_FILE").unwrap());
    let extra = std::env::var("SHAKEDOWN_EXTRA").unwrap_or_default();
    // libtest has begun a line of its own.
    std::io::stdout().write_all(b"\n").unwrap();
    match what.as_str() {
        "write" => write_on(&file, &extra),
        "import" => {
            let book = Book::open(&file).unwrap();
            let mut from = BufReader::new(std::fs::File::open(&extra).unwrap());
            book.import(&mut from).unwrap();
            say("taken in");
        }
        "erase" => {
            let book = Book::open(&file).unwrap();
            say("open");
            book.erase_rider(RiderId(1)).unwrap();
            say("erased");
        }
        other => panic!("nobody knows how to {other}"),
    }
}

/// Writes whole visits until killed, or until the file `<book>.stop` is there, or until it cannot.
fn write_on(file: &Path, name: &str) {
    let book = match Book::open(file) {
        Ok(book) => book,
        Err(e) => return say(&format!("error {e}")),
    };
    say("open");
    let stop = PathBuf::from(format!("{}.stop", file.display()));
    for n in 0.. {
        if stop.exists() {
            return;
        }
        match write_visit(&book, &format!("{name}-{n}"), n) {
            Ok(()) => say(&format!("{name}-{n}")),
            Err(e) => return say(&format!("error {e}")),
        }
    }
}

fn write_visit(book: &Book, name: &str, n: i64) -> Result<(), BookError> {
    book.together(|b| {
        let bike = BikeId(1);
        let note = NewEntry::words(EntryKind::Note, &"z".repeat((n % 7 * 400 + 1) as usize));
        let entries = [
            NewEntry::words(EntryKind::Complaint, name),
            note.clone(),
            note,
            NewEntry::outcome("cause", Outcome::Helped),
        ];
        let visit = b.record_visit(Some(bike), None, &entries, &stamp(n))?;
        let mut setting = NewSetting::new(bike, "saddle-height", Value::quantity("742 mm", 0.742, "mm"));
        setting.visit = Some(visit);
        b.set(&setting, &stamp(n))?;
        Ok(())
    })
}

// ---- looking at what is left

fn name_of(visit: &Visit) -> String {
    visit.of(EntryKind::Complaint).next().unwrap().value.text.clone()
}

/// The names of all visits; each of them must be whole and there once.
fn visits(book: &Book) -> BTreeSet<String> {
    let all = book.now().visits(BikeId(1), usize::MAX).unwrap();
    assert!(all.iter().all(|v| v.entries.len() == ENTRIES), "a visit is not whole");
    let names: BTreeSet<String> = all.iter().map(name_of).collect();
    assert_eq!(names.len(), all.len(), "a visit is there twice");
    let settings = book.now().setting_history(BikeId(1)).unwrap();
    assert_eq!(settings.len(), all.len(), "a setting is lost");
    names
}

fn new_book(path: &Path) -> Book {
    let book = Book::open(path).unwrap();
    book.add_bike("tourer", None, &stamp(0)).unwrap();
    book
}

#[test]
fn killed_at_any_time_it_loses_nothing_confirmed() {
    let kills = number("SHAKEDOWN_KILLS", 36);
    let mut dice = Dice(number("SHAKEDOWN_SEED", 20_250_807) | 1);
    let folder = tempfile::tempdir().unwrap();
    let mut main = folder.path().join("main");
    drop(new_book(&main));
    let mut confirmed: BTreeSet<String> = BTreeSet::new();
    let (export, erasable) = (folder.path().join("export"), folder.path().join("erasable"));
    big_export(&export);
    book_to_erase(&erasable);
    // How long taking in lasts on this machine: kills are spread over that time.
    let unhurried = folder.path().join("unhurried");
    drop(Book::open(&unhurried).unwrap());
    let begun = Instant::now();
    assert!(!start("import", &unhurried, &export.to_string_lossy()).end().is_empty());
    let lasts = begun.elapsed().as_millis() as u64;
    let (mut cut_short, mut halfway) = (0, 0);
    for i in 0..kills {
        if i % 48 == 47 {
            // Another book now and then: looking through all that was ever written takes ever longer.
            main = folder.path().join(format!("main{i}"));
            drop(new_book(&main));
            confirmed.clear();
        }
        match i % 6 {
            // Writing, each time in the book that was killed before.
            0..=2 => {
                let said = start("write", &main, &format!("k{i}")).kill(Duration::from_millis(dice.below(120)));
                assert!(!said.iter().any(|s| s.starts_with("error")), "{said:?}");
                let names: BTreeSet<String> = said.into_iter().filter(|s| s != "open").collect();
                cut_short += u64::from(!names.is_empty());
                let book = Book::open(&main).unwrap();
                book.integrity().unwrap();
                let there = visits(&book);
                confirmed.extend(names);
                let lost: Vec<_> = confirmed.difference(&there).collect();
                assert!(lost.is_empty(), "kill {i} lost {lost:?}");
                // One may have been written and not yet confirmed.
                assert!(there.len() <= confirmed.len() + 1, "kill {i} left {} too many", there.len() - confirmed.len());
                confirmed = there;
            }
            // Making a new book.
            3 => {
                let path = folder.path().join(format!("new{i}"));
                start("write", &path, "x").kill(Duration::from_millis(dice.below(25)));
                Book::open(&path).unwrap().integrity().unwrap();
            }
            // Taking in an export: all or nothing.
            4 => {
                let path = folder.path().join(format!("import{i}"));
                drop(Book::open(&path).unwrap());
                let said =
                    start("import", &path, &export.to_string_lossy()).kill(Duration::from_millis(dice.below(lasts)));
                let book = Book::open(&path).unwrap();
                book.integrity().unwrap();
                let mut out = Vec::new();
                let rows = book.export(&mut out).unwrap();
                assert!(rows == 0 || out == std::fs::read(&export).unwrap(), "kill {i} left {rows} rows");
                assert!(said.is_empty() || rows > 0, "kill {i} lost what was taken in");
                halfway += u64::from(rows == 0);
            }
            // Erasing a rider: there with everything, or gone without a trace once the book is opened again.
            _ => {
                let path = folder.path().join(format!("erase{i}"));
                std::fs::copy(&erasable, &path).unwrap();
                let said = start("erase", &path, "").kill(Duration::from_millis(5 + dice.below(60)));
                let book = Book::open(&path).unwrap();
                book.integrity().unwrap();
                if let Ok(rider) = book.now().rider(RiderId(1)) {
                    assert!(!said.contains(&"erased".to_owned()));
                    assert_eq!((rider.name.as_str(), rider.facts.len()), (NEEDLE, 50));
                } else {
                    drop(book);
                    assert!(!leaves(&path, NEEDLE), "kill {i} left a trace");
                }
            }
        }
    }
    assert!(kills < 30 || (cut_short > 0 && halfway > 0), "no kill struck while it mattered: {cut_short}, {halfway}");
}

fn big_export(path: &Path) {
    let book = Book::in_memory().unwrap();
    book.add_bike("tourer", None, &stamp(0)).unwrap();
    book.together(|b| (0..400).try_for_each(|n| write_visit(b, &format!("v{n}"), n))).unwrap();
    book.export(&mut std::fs::File::create(path).unwrap()).unwrap();
}

fn book_to_erase(path: &Path) {
    let book = Book::open(path).unwrap();
    let rider = book.add_rider(NEEDLE, &stamp(0)).unwrap();
    for n in 0..50 {
        book.note_rider(
            rider,
            &format!("fact-{n}"),
            &Value::words(&format!("{NEEDLE} {}", "w".repeat(800))),
            &stamp(0),
        )
        .unwrap();
    }
}

fn leaves(path: &Path, needle: &str) -> bool {
    ["", "-wal", "-shm"].iter().any(|suffix| {
        let bytes = std::fs::read(format!("{}{suffix}", path.display())).unwrap_or_default();
        bytes.windows(needle.len()).any(|w| w == needle.as_bytes())
    })
}

#[test]
fn two_programs_write_in_one_book_while_a_third_copies_it() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("book");
    let book = new_book(&path);
    let writers: Vec<Other> = ["a", "b"].into_iter().map(|name| start("write", &path, name)).collect();
    let rounds = number("SHAKEDOWN_SECONDS", 4) * 4;
    let mut last = 0;
    for i in 0..rounds {
        thread::sleep(Duration::from_millis(250));
        if i % 4 == 1 {
            let copy = folder.path().join("copy");
            book.backup_to(&copy).unwrap();
            let copied = Book::open(&copy).unwrap();
            copied.integrity().unwrap();
            let there = visits(&copied).len();
            assert!(there >= last, "the copy has gone back from {last} to {there}");
            last = there;
        }
        if i % 8 == 3 {
            let taken = Book::in_memory().unwrap();
            let mut out = Vec::new();
            book.export(&mut out).unwrap();
            taken.import(&mut out.as_slice()).unwrap();
            visits(&taken);
        }
    }
    std::fs::write(format!("{}.stop", path.display()), "").unwrap();
    let said: Vec<Vec<String>> = writers.into_iter().map(Other::end).collect();
    let mut confirmed = BTreeSet::new();
    for one in &said {
        assert!(!one.iter().any(|s| s.starts_with("error")), "{:?}", one.last());
        assert!(one.len() > 10, "a program was kept from writing: {}", one.len());
        confirmed.extend(one.iter().filter(|s| *s != "open").cloned());
    }
    book.integrity().unwrap();
    assert_eq!(visits(&book), confirmed);
    assert_eq!(book.frequencies().unwrap()["cause"], confirmed.len() as u64);
}

/// The system refuses to let the file grow (a limit of the shell): a clear error, and the book is whole.
#[test]
#[cfg(unix)]
fn a_file_that_may_not_grow_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("book");
    drop(new_book(&path));
    let out = Command::new("sh")
        .args(["-c", "trap '' XFSZ; ulimit -f 900; exec \"$0\" \"$@\""])
        .arg(std::env::current_exe().unwrap())
        .args(["another_program", "--exact", "--ignored", "--nocapture", "--test-threads=1"])
        .envs([("SHAKEDOWN_DO", "write"), ("SHAKEDOWN_EXTRA", "u")])
        .env("SHAKEDOWN_FILE", &path)
        .output()
        .unwrap();
    let said = String::from_utf8(out.stdout).unwrap();
    let said: Vec<&str> = said.lines().filter_map(|l| l.strip_prefix("> ")).collect();
    let last = *said.last().unwrap();
    assert!(last.starts_with("error reading or writing failed") || last.ends_with("the disk is full"), "{last}");
    let confirmed = said.iter().filter(|s| s.starts_with("u-")).count();
    assert!(confirmed > 0);
    let book = Book::open(&path).unwrap();
    book.integrity().unwrap();
    assert_eq!(visits(&book).len(), confirmed);
}

/// `SHAKEDOWN_SMALL` names a folder on a file system of about a megabyte, `SHAKEDOWN_FIXED` one that cannot be written.
#[test]
#[ignore = "needs file systems of its own: scripts/kill_test.sh makes them where the system allows it"]
fn a_small_disk_fills_and_a_fixed_one_is_told() {
    let Ok(small) = std::env::var("SHAKEDOWN_SMALL") else { return };
    let small = PathBuf::from(small).join("book");
    let book = new_book(&small);
    let e = (0..100_000).find_map(|n| write_visit(&book, &format!("s-{n}"), n).err().map(|e| (n, e)));
    let (confirmed, e) = e.expect("the disk is not small");
    assert!(matches!(e, BookError::Full), "{e}");
    book.integrity().unwrap();
    assert_eq!(visits(&book).len() as i64, confirmed);
    drop(book);
    let mut bytes = Vec::new();
    std::fs::File::open(&small).unwrap().read_to_end(&mut bytes).unwrap();
    let book = Book::open(&small).unwrap();
    book.integrity().unwrap();
    assert_eq!(visits(&book).len() as i64, confirmed);

    let fixed = PathBuf::from(std::env::var("SHAKEDOWN_FIXED").unwrap());
    let e = Book::open(&fixed.join("new/book")).unwrap_err();
    assert!(matches!(e, BookError::Place { .. }), "{e}");
    let e = Book::open(&fixed.join("book")).unwrap_err();
    assert!(matches!(e, BookError::ReadOnly | BookError::Place { .. }), "{e}");
}
