//! What must hold whatever the bytes are: of taking in an export, and of a conversation.
//!
//! Owns the rules; the fuzz targets and the ordinary test `tests/all/corpus.rs` both use this file. Uses only what the
//! library shows to everybody.

use std::cell::RefCell;
use std::io::Write as _;
use std::sync::OnceLock;

use shakedown::app::{Face, saved_lines};
use shakedown::dialogue::Bench;
use shakedown::library::{Library, embedded_files};
use shakedown::render::Look;
use shakedown::report::{Form, Kind, read_json, render};
use shakedown::store::{BikeId, Book, BookError, Source, Stamp};

/// Lines of a conversation that are replayed: enough to get anywhere, few enough to be quick.
const LINES: usize = 12;

/// Taking in any bytes, as they are and with a last line that agrees with them: never a panic; what is refused leaves the
/// book as it was; what is taken in is sound, can be read, and comes out again the same.
pub fn import(bytes: &[u8]) {
    take_in(bytes, false);
    let sealed = sealed(bytes);
    take_in(&sealed, true);
    take_in(&sealed, false);
}

/// A book and its export, empty or with a bike in it.
fn new_book(filled: bool) -> (Book, Vec<u8>) {
    let book = Book::in_memory().expect("a book in memory");
    if filled {
        book.add_bike("tourer", None, &Stamp::now(1, "bench", Source::Said)).expect("a bike is written");
    }
    let out = exported(&book);
    (book, out)
}

fn exported(book: &Book) -> Vec<u8> {
    let mut out = Vec::new();
    book.export(&mut out).expect("a book is exported");
    out
}

/// A book with its export.
type Kept = Option<(Book, Vec<u8>)>;

thread_local! {
    /// A book of each kind that has refused everything so far: to make one takes longer than all the rest.
    static BOOKS: RefCell<[Kept; 2]> = const { RefCell::new([None, None]) };
}

fn take_in(bytes: &[u8], filled: bool) {
    let place = usize::from(filled);
    let (book, before) = BOOKS.with_borrow_mut(|b| b[place].take()).unwrap_or_else(|| new_book(filled));
    match book.import(&mut &*bytes) {
        Err(e) => {
            assert!(matches!(e, BookError::Import { .. }), "refused without a line: {e}");
            assert!(exported(&book) == before, "a refused import left something");
            BOOKS.with_borrow_mut(|b| b[place] = Some((book, before)));
        }
        Ok(_) => sound(&book),
    }
}

/// What was taken in is sound, can be read, and comes out again the same.
fn sound(book: &Book) {
    book.integrity().expect("what was taken in is sound");
    let after = exported(book);
    let again = Book::in_memory().expect("a book in memory");
    again.import(&mut after.as_slice()).expect("its own export is taken in");
    assert!(exported(&again) == after, "not the same when it comes out again");
    for bike in 1..6 {
        // What is not there is an error, what is there can be read.
        match book.now().recall(BikeId(bike), 9) {
            Ok(_) | Err(BookError::Missing { .. } | BookError::Damaged { .. }) => {}
            Err(e) => panic!("bike {bike} cannot be read: {e}"),
        }
    }
    book.frequencies().expect("the workshop's own frequencies");
    book.now().all_due(i64::MAX).expect("what is due");
}

/// The bytes with a last line whose number and check figure agree, so that a changed byte gets past them.
fn sealed(bytes: &[u8]) -> Vec<u8> {
    let cut = bytes.windows(7).rposition(|w| w == b"{\"end\":").unwrap_or(bytes.len());
    let mut out = bytes[..cut].to_vec();
    if out.last().is_some_and(|b| *b != b'\n') {
        out.push(b'\n');
    }
    let rows = out.iter().filter(|b| **b == b'\n').count().saturating_sub(1);
    // FNV-1a, as in the export.
    let check =
        out.iter().fold(0xcbf2_9ce4_8422_2325_u64, |h, b| (h ^ u64::from(*b)).wrapping_mul(0x0000_0100_0000_01b3));
    writeln!(out, "{{\"end\":{{\"rows\":{rows},\"check\":\"{check:016x}\"}}}}").expect("memory can be written");
    out
}

fn bench() -> &'static Bench {
    static ONCE: OnceLock<Bench> = OnceLock::new();
    ONCE.get_or_init(|| Bench::new(Library::load(embedded_files()).0))
}

/// Any bytes as a card to be taken up, as a saved conversation, as lines typed and as JSON lines: never a panic; every line
/// gets an answer, and a damaged card is refused in words.
pub fn conversation(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let lines = match read_json(&text) {
        Ok(record) => {
            for kind in Kind::ALL {
                for form in Form::ALL {
                    assert!(!render(kind, form, &record).is_empty(), "an empty card");
                }
            }
            record.lines
        }
        Err(refused) => {
            assert!(refused.ends_with('.'), "no sentence: {refused}");
            match saved_lines(bytes).0 {
                saved if saved.is_empty() => text.lines().map(str::to_owned).collect(),
                saved => saved,
            }
        }
    };
    let mut face = Face::new(bench(), Look { width: 40, ..Look::default() }, None, false);
    for line in lines.iter().take(LINES) {
        let answer = face.feed(line);
        assert!(!answer.text.trim().is_empty(), "{line:?} got no answer");
        assert!(!answer.text.contains('\u{1b}'), "an escape came back");
        if answer.leave {
            break;
        }
    }
    let mut face = Face::new(bench(), Look::default(), None, true);
    for line in text.lines().take(LINES / 3) {
        let answer = face.feed(line);
        assert_eq!(answer.text.matches('\n').count(), 1, "not one object a line");
    }
}
