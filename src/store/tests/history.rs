//! Nothing is overwritten, and the past can be read.

use super::super::*;
use super::fixture::*;

#[test]
fn no_statement_changes_or_removes_a_row() {
    let book = Book::in_memory().unwrap();
    fill(&book);
    let before = exported(&book);
    for table in super::super::shape::TABLES {
        let t = table.name;
        for sql in
            [format!("UPDATE {t} SET who = 'x'"), format!("DELETE FROM {t}"), format!("UPDATE {t} SET at = at + 1")]
        {
            let e = book.conn.execute(&sql, []).unwrap_err().to_string();
            assert!(e.contains("nothing in the book is overwritten"), "{sql}: {e}");
        }
    }
    assert_eq!(exported(&book), before);
}

#[test]
fn the_past_is_read_as_it_was_known_then() {
    let book = Book::in_memory().unwrap();
    let rider = book.add_rider("Anna", &said(T0)).unwrap();
    let inseam = |at| book.as_of(at).rider(rider).unwrap().facts.first().map(|f| f.value.text.clone());
    let first = book.note_rider(rider, "inseam", &mm(800.0), &measured(T0 + DAY)).unwrap();
    book.note_rider(rider, "inseam", &mm(812.0), &measured(T0 + 3 * DAY)).unwrap();
    // The first was misread; it is put right later, and does not come before the second by that.
    book.correct(first, Some(&mm(806.0)), &said(T0 + 5 * DAY)).unwrap();
    assert_eq!(inseam(T0), None);
    assert_eq!(inseam(T0 + 2 * DAY).as_deref(), Some("800 mm"));
    assert_eq!(inseam(T0 + 6 * DAY).as_deref(), Some("812 mm"));
    let rows = book.now().rider_history(rider).unwrap();
    assert_eq!(rows.iter().map(|f| f.value.text.as_str()).collect::<Vec<_>>(), ["Anna", "800 mm", "812 mm", "806 mm"]);
    assert_eq!(rows[3].corrects, Some(first.number()));
    assert_eq!(rows[3].stamp, Stamp { at: T0 + DAY, entered: T0 + 5 * DAY, who: "bench".into(), source: Source::Said });
}

#[test]
fn a_row_is_put_right_once_and_its_correction_after_that() {
    let book = Book::in_memory().unwrap();
    let bike = book.add_bike("tourer", None, &said(T0)).unwrap();
    let row = book.note_bike(bike, "colour", &Value::words("red"), &said(T0)).unwrap();
    let second = book.correct(row, Some(&Value::words("blue")), &said(T0 + 1)).unwrap();
    assert!(matches!(book.correct(row, None, &said(T0 + 2)), Err(BookError::Refused(_))));
    book.correct(second, None, &said(T0 + 2)).unwrap();
    assert!(book.now().bike(bike).unwrap().facts.is_empty());
    assert_eq!(book.as_of(T0 + 1).bike(bike).unwrap().facts[0].value.text, "blue");
    assert_eq!(book.find_bikes("blue").unwrap(), Found::None);
    book.integrity().unwrap();
}

#[test]
fn each_kind_of_row_can_be_put_right() {
    let book = Book::in_memory().unwrap();
    let (rider, bike) = fill(&book);
    let now = book.now();
    let visit = now.visits(bike, 1).unwrap().remove(0);
    let belief = visit.of(EntryKind::Belief).next().unwrap().id;
    let trial = now.trials(bike).unwrap().remove(0);
    let name = now.rider_history(rider).unwrap()[0].id;
    let wear = now.wear(bike).unwrap()[0].id;
    let later = said(T0 + 30 * DAY);
    book.correct(Row::Entry(belief), Some(&Value { text: "Glazed pads".into(), si: Some(0.3), unit: None }), &later)
        .unwrap();
    book.correct(Row::Verdict(trial.verdicts[0].id), Some(&Value::words("same")), &later).unwrap();
    book.correct(Row::RiderFact(name), Some(&Value::words("Mina Quarz")), &later).unwrap();
    book.correct(Row::Wear(wear), Some(&Value::quantity("0.3 %", 0.003, "%")), &later).unwrap();
    assert_eq!(now.visit(visit.id).unwrap().of(EntryKind::Belief).next().unwrap().value.si, Some(0.3));
    let judged = &now.trial(trial.id).unwrap().verdicts[0];
    assert_eq!((judged.felt, judged.changed.len()), (Some(Felt::Same), 2));
    assert_eq!(now.rider(rider).unwrap().name, "Mina Quarz");
    assert_eq!(now.wear(bike).unwrap()[0].metres, Some(1.3e6));
    assert!(matches!(book.find_bikes("mina hardtail").unwrap(), Found::One(_)));
    // What does not fit is refused.
    let odd = Value::words("odd");
    assert!(matches!(
        book.correct(Row::Verdict(trial.verdicts[0].id + 1), Some(&odd), &later),
        Err(BookError::Refused(_))
    ));
    assert!(matches!(book.correct(Row::Wear(999), Some(&odd), &later), Err(BookError::Missing { .. })));
    book.integrity().unwrap();
}

#[test]
fn what_fails_in_the_middle_leaves_nothing() {
    let book = Book::in_memory().unwrap();
    let before = exported(&book);
    let failed = book.together(|b| {
        let bike = b.add_bike("half", None, &said(T0))?;
        // A part that fails and is ignored is undone by itself.
        assert!(b.record_visit(Some(bike), None, &[NewEntry::belief("x", "X", 7.0)], &said(T0)).is_err());
        assert!(b.now().visits(bike, 9)?.is_empty());
        b.set(&NewSetting::new(BikeId(77), "saddle-height", mm(1.0)), &said(T0))
    });
    assert!(matches!(failed, Err(BookError::Missing { what: "bike", id: 77 })));
    assert_eq!(exported(&book), before);
}

#[test]
fn what_makes_no_sense_is_refused() {
    let book = Book::in_memory().unwrap();
    let (rider, bike) = fill(&book);
    let before = exported(&book);
    let now = said(T0);
    let bad = |e: Result<(), BookError>| assert!(matches!(e, Err(BookError::Refused(_))), "{e:?}");
    bad(book.add_rider(" ", &now).map(|_| ()));
    bad(book.note_rider(rider, "inseam", &Value::quantity("?", f64::NAN, "mm"), &now).map(|_| ()));
    bad(book.note_rider(rider, "inseam", &Value::words(""), &now).map(|_| ()));
    bad(book.note_bike(bike, "", &mm(1.0), &now).map(|_| ()));
    bad(book.note_bike(bike, "name", &Value::words(&"x".repeat(LONGEST_TEXT + 1)), &now).map(|_| ()));
    bad(book.add_bike("x", None, &Stamp { who: String::new(), ..now.clone() }).map(|_| ()));
    let visit = book.now().visits(bike, 1).unwrap()[0].id;
    bad(book.enter(visit, &NewEntry::about(EntryKind::Outcome, "x", "perhaps"), &now).map(|_| ()));
    bad(book.enter(visit, &NewEntry::words(EntryKind::Cause, "no id"), &now).map(|_| ()));
    bad(book.add_due(&NewDue { bike, what: "x".into(), reason: None, at: None, metres: None }, &now).map(|_| ()));
    let ended = book.now().trials(bike).unwrap().remove(0);
    bad(book.end_trial(ended.id, &mm(1.0), None, &now));
    bad(book.start_trial(&NewTrial { high_si: 0.74, ..ended.set.clone() }, &now).map(|_| ()));
    bad(book.start_trial(&NewTrial { step_si: 0.0, ..ended.set }, &now).map(|_| ()));
    assert_eq!(exported(&book), before);
}
