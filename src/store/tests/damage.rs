//! Power that fails at any byte, and files that were damaged.

use std::fs;
use std::path::Path;

use super::super::*;
use super::fixture::*;

/// The log is cut at any byte, as when the power fails while it is written: what was confirmed before that byte is there,
/// whole visits only, in order.
#[test]
fn power_cut_at_any_byte_of_the_log_leaves_whole_visits() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("book");
    let book = Book::open(&path).unwrap();
    let bike = book.add_bike("tourer", None, &said(T0)).unwrap();
    book.conn.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(())).unwrap();
    book.conn.execute_batch("PRAGMA wal_autocheckpoint = 0").unwrap();
    let log = |p: &Path| super::super::place::beside(p, "-wal");
    let mut ends = vec![0];
    for i in 0..6 {
        let entries = vec![NewEntry::words(EntryKind::Note, &"y".repeat(700)); 4];
        book.record_visit(Some(bike), None, &entries, &said(T0 + i)).unwrap();
        ends.push(fs::metadata(log(&path)).unwrap().len());
    }
    let (file, whole) = (fs::read(&path).unwrap(), fs::read(log(&path)).unwrap());
    let mut cuts: Vec<usize> = (0..whole.len()).step_by(997).collect();
    cuts.extend(ends.iter().flat_map(|e| [e.saturating_sub(1) as usize, *e as usize]));
    for cut in cuts {
        let other = folder.path().join(format!("cut{cut}"));
        fs::write(&other, &file).unwrap();
        fs::write(log(&other), &whole[..cut]).unwrap();
        let cut_book = Book::open(&other).unwrap();
        cut_book.integrity().unwrap();
        let visits = cut_book.now().visits(bike, 99).unwrap();
        let confirmed = ends.iter().filter(|e| **e > 0 && **e <= cut as u64).count();
        assert_eq!(visits.len(), confirmed, "cut at {cut} of {}", whole.len());
        assert!(visits.iter().all(|v| v.entries.len() == 4));
        drop(cut_book);
        fs::remove_file(other).unwrap();
    }
}

#[test]
fn a_damaged_page_is_found() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("book");
    let book = Book::open(&path).unwrap();
    fill(&book);
    drop(book);
    let whole = fs::read(&path).unwrap();
    let mut found = 0;
    for page in 1..whole.len() / 4096 {
        let mut bytes = whole.clone();
        bytes[page * 4096..page * 4096 + 64].fill(0xA5);
        fs::write(&path, &bytes).unwrap();
        match Book::open(&path).and_then(|b| b.integrity()) {
            Err(BookError::Damaged(why)) => {
                assert!(!why.is_empty());
                found += 1;
            }
            Err(e) => panic!("page {page}: {e}"),
            Ok(()) => {}
        }
    }
    assert_eq!(found, whole.len() / 4096 - 1);
}

#[test]
fn tables_that_were_tampered_with_are_found() {
    let folder = tempfile::tempdir().unwrap();
    for sql in [
        "DROP TRIGGER visit_stays",
        "CREATE TABLE more (x)",
        "UPDATE tally SET visits = 7",
        "DELETE FROM word",
        "PRAGMA foreign_keys = OFF; INSERT INTO owner VALUES (99, 77, NULL, 1, 1, 'x', 'said')",
    ] {
        let path = folder.path().join("book");
        let book = Book::open(&path).unwrap();
        fill(&book);
        book.integrity().unwrap();
        book.conn.execute_batch(sql).unwrap();
        assert!(matches!(book.integrity(), Err(BookError::Damaged(_))), "{sql}");
        drop(book);
        fs::remove_file(&path).unwrap();
    }
}
