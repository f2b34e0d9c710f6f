//! "The red hardtail is back": finding, recalling, comparing, counting.

use super::super::*;
use super::fixture::*;

#[test]
fn a_bike_that_comes_back_is_known() {
    let book = Book::in_memory().unwrap();
    let (anna, red) = fill(&book);
    let Found::One(found) = book.find_bikes("the red hardtail").unwrap() else { panic!("not found") };
    assert_eq!(found.id, red);
    let r = book.now().recall(red, 5).unwrap();
    assert_eq!(r.rider.as_ref().map(|r| r.id), Some(anna));
    assert_eq!(r.repairs[0].text, "sanded the pads");
    assert_eq!(r.repairs[0].outcome, Some(Outcome::Helped));
    assert_eq!(r.settings.iter().map(|s| s.value.text.as_str()).collect::<Vec<_>>(), ["3°", "743 mm"]);
    assert_eq!(r.metres, Some(1.32e6));
    assert_eq!(r.due.iter().map(|d| d.set.what.as_str()).collect::<Vec<_>>(), ["headset"]);
    assert!(r.trials.is_empty());
    assert!(r.due[0].is_due(T0, Some(1.35e6)) && r.due[0].is_due(T0 + 20 * DAY, None));
    assert!(!r.due[0].is_due(T0, None) && !r.due[0].is_due(T0, Some(1.349e6)));
    assert_eq!(book.now().all_due(T0).unwrap().len(), 0);
    assert_eq!(book.now().all_due(T0 + 20 * DAY).unwrap().len(), 1);
    // Before the visit there was nothing to recall.
    let then = book.as_of(T0).recall(red, 5).unwrap();
    assert!(then.visits.is_empty() && then.settings.is_empty() && then.due.len() == 2);
}

#[test]
fn all_words_must_match_and_several_are_listed_best_first() {
    let book = Book::in_memory().unwrap();
    let now = said(T0);
    let ann = book.add_rider("Ann Larsen", &now).unwrap();
    let first = book.add_bike("red hardtail", None, &now).unwrap();
    let second = book.add_bike("old hardtail", Some(ann), &now).unwrap();
    book.note_bike(second, "colour", &Value::words("Red and black"), &now).unwrap();
    book.add_bike("green hardtail", None, &now).unwrap();
    let ids = |found: Found<BikeId>| match found {
        Found::None => vec![],
        Found::One(m) => vec![m.id],
        Found::Several { listed, .. } => listed.into_iter().map(|m| m.id).collect(),
    };
    assert_eq!(ids(book.find_bikes("my red hardtails").unwrap()), [first]); // alone called exactly so, but for the plural
    assert_eq!(ids(book.find_bikes("red").unwrap()), [first, second]); // the name counts more than a fact
    assert_eq!(ids(book.find_bikes("Ann's red bike").unwrap()), [second]);
    assert_eq!(ids(book.find_bikes("lars hard").unwrap()), [second]); // beginnings
    assert_eq!(ids(book.find_bikes("red tourer").unwrap()), []);
    assert_eq!(ids(book.find_bikes("the").unwrap()), []);
    assert_eq!(ids(book.find_bikes("' OR 1=1 --%_").unwrap()), []);
    assert!(matches!(book.find_riders("ann").unwrap(), Found::One(m) if m.id == ann));
    for i in 0..30 {
        book.add_bike(&format!("fleet {i}"), None, &now).unwrap();
    }
    assert!(matches!(book.find_bikes("fleet").unwrap(), Found::Several { listed, more: 10 } if listed.len() == 20));
    book.integrity().unwrap();
}

#[test]
fn hostile_names_are_only_names() {
    let book = Book::in_memory().unwrap();
    let long = "ÿ\u{202e}<script>\"'".repeat(1000);
    for name in ["'); DROP TABLE bike; --", "\u{202e}drab\0er", "<script>alert(1)</script>", "🚲", long.as_str()] {
        let bike = book.add_bike(name, None, &said(T0)).unwrap();
        assert_eq!(book.now().bike(bike).unwrap().name, name);
        book.find_bikes(name).unwrap();
    }
    book.integrity().unwrap();
}

#[test]
fn a_bike_that_changes_hands_is_found_under_its_new_owner() {
    let book = Book::in_memory().unwrap();
    let (anna, red) = fill(&book);
    let ben = match book.find_riders("ben").unwrap() {
        Found::One(m) => m.id,
        other => panic!("{other:?}"),
    };
    book.hand_over(red, Some(ben), &said(T0 + 10 * DAY)).unwrap();
    assert_eq!(book.now().bike(red).unwrap().owner, Some(ben));
    assert_eq!(book.as_of(T0 + DAY).bike(red).unwrap().owner, Some(anna));
    assert!(book.now().bikes_of(anna).unwrap().is_empty());
    assert_eq!(book.as_of(T0 + DAY).bikes_of(anna).unwrap(), [red]);
    assert!(matches!(book.find_bikes("ben hardtail").unwrap(), Found::One(m) if m.id == red));
}

#[test]
fn a_setting_is_compared_with_its_baseline() {
    let book = Book::in_memory().unwrap();
    let bike = book.add_bike("tourer", None, &said(T0)).unwrap();
    assert_eq!(book.now().compare(bike, "saddle-height", 0.7).unwrap(), None);
    let mut new = NewSetting::new(bike, "saddle-height", mm(742.0));
    book.set(&new, &measured(T0)).unwrap();
    // Without a baseline, the last one is what is on the card: 9 mm lower than that.
    let apart = book.now().compare(bike, "saddle-height", 0.733).unwrap().unwrap();
    assert!((apart.by_si + 0.009).abs() < 1e-12 && apart.baseline.value.text == "742 mm");
    new.value = mm(740.0);
    new.baseline = true;
    book.set(&new, &measured(T0 + 1)).unwrap();
    new.value = mm(744.0);
    new.baseline = false;
    book.set(&new, &measured(T0 + 2)).unwrap();
    let current = book.now().settings(bike).unwrap().remove(0);
    assert_eq!(
        (current.value.text.as_str(), current.before.as_deref(), current.before_si),
        ("744 mm", Some("740 mm"), Some(0.74))
    );
    let apart = book.now().differences(bike).unwrap();
    assert!(apart.len() == 1 && (apart[0].by_si - 0.004).abs() < 1e-12);
    assert_eq!(book.now().setting_over_time(bike, "saddle-height").unwrap().len(), 3);
    // One written later for an earlier day stands, and looks back, from there.
    new.value = mm(741.0);
    book.set(&new, &measured(T0 + 9).held_at(T0 + 1)).unwrap();
    let over_time = book.now().setting_over_time(bike, "saddle-height").unwrap();
    assert_eq!(over_time[2].before.as_deref(), Some("740 mm"));
    assert_eq!(over_time.last().unwrap().value.text, "744 mm");
}

#[test]
fn closed_visits_are_counted_and_a_repair_that_did_not_hold_is_not() {
    let book = Book::in_memory().unwrap();
    let bike = book.add_bike("tourer", None, &said(T0)).unwrap();
    let close = |cause: &str, outcome: Outcome, at: i64| {
        book.record_visit(Some(bike), None, &[NewEntry::outcome(cause, outcome)], &said(at)).unwrap()
    };
    let first = close("a", Outcome::Helped, T0);
    close("a", Outcome::Helped, T0 + 1);
    close("b", Outcome::Partly, T0 + 2);
    close("c", Outcome::No, T0 + 3);
    assert_eq!(book.frequencies().unwrap(), [("a".to_owned(), 2)].into());
    // It came back: told at a later visit, noted at the one where it was repaired.
    book.enter(first, &NewEntry::outcome("a", Outcome::CameBack), &said(T0 + DAY)).unwrap();
    assert_eq!(book.frequencies().unwrap(), [("a".to_owned(), 1)].into());
    assert_eq!(book.as_of(T0 + 1).frequencies().unwrap(), [("a".to_owned(), 2)].into());
    assert_eq!(book.now().visit(first).unwrap().outcome("a"), Some(Outcome::CameBack));
    // Put right by hand, both ways.
    let row = book.now().visit(first).unwrap().entries[0].id;
    let row = book.correct(Row::Entry(row), Some(&Value::words("helped")), &said(T0 + DAY)).unwrap();
    assert_eq!(book.frequencies().unwrap(), [("a".to_owned(), 2)].into());
    book.correct(row, None, &said(T0 + DAY)).unwrap();
    assert_eq!(book.frequencies().unwrap(), [("a".to_owned(), 1)].into());
    book.integrity().unwrap();
}
