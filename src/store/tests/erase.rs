//! A rider who is erased leaves no trace, and nothing else is lost.

use super::super::*;
use super::fixture::*;

#[test]
fn no_trace_is_left_in_the_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("book");
    let book = Book::open(&path).unwrap();
    let (anna, red) = fill(&book);
    // Mentioned elsewhere too: as the one who entered something, and in words about another bike.
    let herself = Stamp::now(T0, "Wilhelmine Quarz", Source::Said);
    let loan = match book.find_bikes("loan").unwrap() {
        Found::One(m) => m.id,
        other => panic!("{other:?}"),
    };
    book.note_bike(loan, "lent-to", &Value::words("to WILHELMINE QUARZ in May"), &herself).unwrap();
    // Long texts that were put right stand on pages of their own.
    let long = "kranzwetter ".repeat(3000);
    let row = book.note_rider(anna, "remark", &Value::words(&long), &herself).unwrap();
    book.correct(row, None, &herself).unwrap();
    // Written before and after the log was put back into the file.
    book.conn.query_row("PRAGMA wal_checkpoint(PASSIVE)", [], |_| Ok(())).unwrap();
    book.note_rider(anna, "remark", &Value::words("zwickt wieder"), &herself).unwrap();
    let words = ["Wilhelmine", "Quarz", "kranzwetter", "zwickt", "sanded the pads", "knee angle", "knee is quieter"];
    for w in words {
        assert!(holds(&bytes(&path), w), "{w} is not there before");
    }
    let done = book.erase_rider(anna).unwrap();
    assert!(done.scrubbed && done.rows > 15 && done.blanked >= 3, "{done:?}");
    for w in words {
        assert!(!holds(&bytes(&path), w), "{w} is left");
    }
    book.integrity().unwrap();
    // The bike stays, with what is about the bike.
    let r = book.now().recall(red, 9).unwrap();
    assert_eq!((r.bike.name.as_str(), r.bike.owner, r.visits.len(), r.settings.len()), ("bike 1", None, 0, 0));
    assert_eq!(r.bike.facts.iter().map(|f| f.what.as_str()).collect::<Vec<_>>(), ["brake-kind", DISTANCE]);
    assert_eq!((r.wear.len(), r.due.len()), (1, 1));
    assert!(matches!(book.now().rider(anna), Err(BookError::Missing { .. })));
    // Others keep all of theirs.
    assert!(matches!(book.find_bikes("blue tourer").unwrap(), Found::One(_)));
    assert_eq!(book.frequencies().unwrap(), [("dry-seatpost".to_owned(), 1)].into());
    assert!(exported(&book).contains("to (erased) in May"));
    // Numbers are not given away again.
    assert!(book.add_rider("New", &said(T0)).unwrap() > anna);
    drop(book);
    Book::open(&path).unwrap().integrity().unwrap();
}

#[test]
fn a_bike_that_is_anothers_by_now_keeps_its_name() {
    let book = Book::in_memory().unwrap();
    let (anna, ben) = (book.add_rider("Anna", &said(T0)).unwrap(), book.add_rider("Ben", &said(T0)).unwrap());
    let sold = book.add_bike("red hardtail", Some(anna), &said(T0)).unwrap();
    let named = book.add_bike("Anna's tourer", Some(anna), &said(T0)).unwrap();
    for bike in [sold, named] {
        book.hand_over(bike, Some(ben), &said(T0 + DAY)).unwrap();
        book.set(&NewSetting::new(bike, "saddle-height", mm(742.0)), &said(T0 + 2 * DAY)).unwrap();
    }
    book.erase_rider(anna).unwrap();
    assert_eq!(book.now().bike(sold).unwrap().name, "red hardtail");
    assert_eq!(book.now().bike(named).unwrap().name, format!("bike {}", named.0));
    assert_eq!(book.now().settings(sold).unwrap().len(), 1);
    assert_eq!(book.now().bike(sold).unwrap().owner, Some(ben));
    book.integrity().unwrap();
}

#[test]
fn what_named_no_rider_on_their_bike_goes_too() {
    let book = Book::in_memory().unwrap();
    let bike = book.add_bike("tourer", None, &said(T0)).unwrap();
    book.record_visit(Some(bike), None, &[NewEntry::words(EntryKind::Complaint, "hurts")], &said(T0)).unwrap();
    let anna = book.add_rider("Anna", &said(T0)).unwrap();
    book.hand_over(bike, Some(anna), &said(T0 + 1)).unwrap();
    book.erase_rider(anna).unwrap();
    assert!(book.now().visits(bike, 9).unwrap().is_empty());
}

#[test]
fn an_erasure_cut_short_or_hindered_is_finished_later() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("book");
    let book = Book::open(&path).unwrap();
    let (anna, _) = fill(&book);
    // Another program is reading the book as it was.
    let reader = rusqlite::Connection::open(&path).unwrap();
    reader.execute_batch("BEGIN; SELECT count(*) FROM rider").unwrap();
    reader.query_row("SELECT count(*) FROM rider", [], |r| r.get::<_, i64>(0)).unwrap();
    book.conn.busy_timeout(std::time::Duration::from_millis(50)).unwrap();
    let done = book.erase_rider(anna).unwrap();
    assert!(!done.scrubbed);
    reader.execute_batch("COMMIT").unwrap();
    drop((reader, book));
    let book = Book::open(&path).unwrap();
    assert!(!holds(&bytes(&path), "Wilhelmine"));
    book.integrity().unwrap();
}

#[test]
fn an_erasure_stands_alone_or_fails_whole() {
    let book = Book::in_memory().unwrap();
    let (anna, _) = fill(&book);
    let before = exported(&book);
    assert!(matches!(book.together(|b| b.erase_rider(anna)), Err(BookError::Refused(_))));
    assert!(matches!(book.erase_rider(RiderId(99)), Err(BookError::Missing { .. })));
    assert_eq!(exported(&book), before);
}
