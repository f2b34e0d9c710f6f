//! Books of earlier forms open; what is not a book, or is newer, stays as it is.

use rusqlite::Connection;

use super::super::*;
use super::fixture::*;

#[test]
fn a_book_of_each_earlier_form_opens_with_all_it_held() {
    for form in 1..=FORM as usize {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("book");
        book_in_form(&path, form);
        let book = Book::open(&path).unwrap();
        book.integrity().unwrap();
        let (rider, bike) = (RiderId(1), BikeId(1));
        assert_eq!(book.now().rider(rider).unwrap().facts[0].value.si, Some(0.81), "form {form}");
        let recall = book.now().recall(bike, 5).unwrap();
        assert_eq!(recall.visits[0].outcome("pad-glazed"), Some(Outcome::Helped));
        assert_eq!(recall.settings[0].value.text, "742 mm");
        assert_eq!(book.frequencies().unwrap().get("pad-glazed"), Some(&1));
        let Found::One(found) = book.find_bikes("Anna's red hardtail").unwrap() else {
            panic!("form {form}: not found")
        };
        assert_eq!(found.id, bike);
        let later = usize::from(form >= 2);
        assert_eq!([recall.trials.len(), recall.wear.len(), recall.due.len()], [later; 3]);
        // It is written like any other from now on.
        fill(&book);
        book.integrity().unwrap();
        drop(book);
        Book::open(&path).unwrap().integrity().unwrap();
    }
}

#[test]
fn a_newer_book_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("book");
    drop(Book::open(&path).unwrap());
    Connection::open(&path).unwrap().execute_batch("PRAGMA user_version = 99").unwrap();
    let before = std::fs::read(&path).unwrap();
    assert!(matches!(Book::open(&path), Err(BookError::Newer { found: 99, known: FORM })));
    assert_eq!(std::fs::read(&path).unwrap(), before);
}

#[test]
fn another_programs_database_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("other.db");
    Connection::open(&path).unwrap().execute_batch("CREATE TABLE t (x); INSERT INTO t VALUES (1)").unwrap();
    let before = std::fs::read(&path).unwrap();
    assert!(matches!(Book::open(&path), Err(BookError::NotABook { .. })));
    assert_eq!(std::fs::read(&path).unwrap(), before);
}

#[test]
fn a_text_file_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    for text in ["x".repeat(5000), "short".to_owned()] {
        let path = folder.path().join("notes.txt");
        std::fs::write(&path, &text).unwrap();
        let e = Book::open(&path).unwrap_err();
        assert!(matches!(e, BookError::NotABook { .. }), "{e}");
        assert_eq!(std::fs::read_to_string(&path).unwrap(), text);
    }
}

#[test]
fn two_books_have_two_names_and_a_book_keeps_its_own() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("book");
    let first = exported(&Book::open(&path).unwrap());
    assert_eq!(first, exported(&Book::open(&path).unwrap()));
    assert_ne!(first, exported(&Book::in_memory().unwrap()));
}
