//! Books for tests: one with something in every table, and one in each earlier form.

use std::path::Path;

use rusqlite::{Connection, params};

use super::super::migration::{self, STEPS};
use super::super::*;

/// A time long before all others.
pub(super) const T0: i64 = 1_700_000_000;
pub(super) const DAY: i64 = 86_400;

pub(super) fn measured(at: i64) -> Stamp {
    Stamp::now(at, "bench", Source::Measured)
}

pub(super) fn said(at: i64) -> Stamp {
    Stamp::now(at, "bench", Source::Said)
}

pub(super) fn mm(n: f64) -> Value {
    Value::quantity(&format!("{n} mm"), n / 1000.0, "mm")
}

/// Two riders and three bikes, with something in every table.
pub(super) fn fill(book: &Book) -> (RiderId, BikeId) {
    let now = measured(T0);
    let anna = book.add_rider("Wilhelmine Quarz", &now).unwrap();
    let ben = book.add_rider("Ben", &now).unwrap();
    let row = book.note_rider(anna, "inseam", &Value::quantity("80 cm", 0.80, "cm"), &now).unwrap();
    book.correct(row, Some(&Value::quantity("81 cm", 0.81, "cm")), &now).unwrap();
    book.note_rider(anna, "sensitivity", &Value::words("left knee zwickt"), &said(T0)).unwrap();
    let red = book.add_bike("Wilhelmine's red hardtail", Some(anna), &now).unwrap();
    let blue = book.add_bike("blue tourer", Some(ben), &now).unwrap();
    book.add_bike("loan bike", None, &now).unwrap();
    let row = book.note_bike(red, "brake-kind", &Value::words("disc-cable"), &now).unwrap();
    book.correct(row, Some(&Value::words("disc-hydraulic")), &now).unwrap();
    book.note_bike(red, DISTANCE, &Value::quantity("1200 km", 1.2e6, "km"), &said(T0)).unwrap();
    book.note_bike(blue, "colour", &Value::words("blue, once of Wilhelmine Quarz"), &now).unwrap();
    let visit = book
        .record_visit(
            Some(red),
            None,
            &[
                NewEntry::words(EntryKind::Complaint, "squeals since the kranzwetter ride"),
                NewEntry::words(EntryKind::Line, "it squeals"),
                NewEntry::about(EntryKind::Finding, "sound", "squeal"),
                NewEntry::belief("pad-glazed", "Glazed pads", 0.62),
                NewEntry::about(EntryKind::Cause, "pad-glazed", "Glazed pads"),
                NewEntry::about(EntryKind::Repair, "pad-glazed", "sanded the pads"),
                NewEntry::outcome("pad-glazed", Outcome::Helped),
            ],
            &measured(T0 + DAY),
        )
        .unwrap();
    let gap = NewEntry { value: mm(0.3), ..NewEntry::about(EntryKind::Finding, "pad-gap", "") };
    let row = book.enter(visit, &gap, &measured(T0 + DAY)).unwrap();
    book.correct(row, Some(&mm(0.2)), &measured(T0 + DAY)).unwrap();
    let mut saddle = NewSetting::new(red, "saddle-height", mm(742.0));
    saddle.visit = Some(visit);
    saddle.baseline = true;
    saddle.reason = Some("knee angle".into());
    let row = book.set(&saddle, &measured(T0 + DAY)).unwrap();
    book.correct(row, Some(&mm(743.0)), &measured(T0 + 2 * DAY)).unwrap();
    let roll = NewSetting::new(red, "bar-roll", Value::quantity("2°", 0.035, "°"));
    book.set(&roll, &measured(T0 + DAY)).unwrap();
    book.set(&NewSetting { value: Value::quantity("3°", 0.052, "°"), ..roll }, &measured(T0 + 2 * DAY)).unwrap();
    let trial = NewTrial {
        bike: red,
        rider: None,
        what: "saddle-height".into(),
        baseline: mm(743.0),
        step_si: 0.004,
        least_si: 0.002,
        low_si: 0.7,
        high_si: 0.76,
        seed: Some(7),
        reason: Some("knee pain in front".into()),
    };
    let trial = book.start_trial(&trial, &measured(T0 + 3 * DAY)).unwrap();
    let verdict = NewVerdict {
        first_si: 0.743,
        second_si: 0.747,
        felt: Felt::Second,
        remark: Some("knee is quieter".into()),
        changed: vec!["tyre-pressure".into(), "bar-roll".into()],
    };
    let row = book.judge(trial, &NewVerdict { felt: Felt::First, ..verdict }, &said(T0 + 4 * DAY)).unwrap();
    book.correct(row, Some(&Value::words("second")), &said(T0 + 4 * DAY)).unwrap();
    book.end_trial(trial, &mm(747.0), Some("better no longer came"), &said(T0 + 5 * DAY)).unwrap();
    let row =
        book.note_wear(red, "chain", &Value::quantity("0.3 %", 0.003, "%"), Some(1.3e6), Some(0.005), &now).unwrap();
    book.correct(row, Some(&Value::quantity("0.4 %", 0.004, "%")), &now).unwrap();
    let due = NewDue {
        bike: red,
        what: "spokes".into(),
        reason: Some("new".into()),
        at: Some(T0 + 20 * DAY),
        metres: Some(1.35e6),
    };
    let first = book.add_due(&due, &now).unwrap();
    book.add_due(&NewDue { what: "headset".into(), ..due }, &now).unwrap();
    book.done(first, "two were loose", Some(1.32e6), &measured(T0 + 9 * DAY)).unwrap();
    book.record_visit(
        Some(blue),
        None,
        &[NewEntry::words(EntryKind::Complaint, "creaks"), NewEntry::outcome("dry-seatpost", Outcome::Helped)],
        &measured(T0 + 6 * DAY),
    )
    .unwrap();
    (anna, red)
}

/// A book on disk in an earlier form, with rows in all tables which that form has, written as that form's program did.
pub(super) fn book_in_form(path: &Path, form: usize) {
    let conn = Connection::open(path).unwrap();
    migration::run(&conn, &STEPS[..form]).unwrap();
    let stamp = "1700000000, 1700000000, 'bench', 'measured'";
    let mut sql = format!(
        "INSERT INTO rider VALUES (1, {stamp});
         INSERT INTO rider_fact VALUES (1, 1, 'name', 'Old Anna', NULL, NULL, {stamp}, NULL);
         INSERT INTO rider_fact VALUES (2, 1, 'inseam', '80 cm', 0.80, 'cm', {stamp}, NULL);
         INSERT INTO rider_fact VALUES (3, 1, 'inseam', '81 cm', 0.81, 'cm', {stamp}, 2);
         INSERT INTO bike VALUES (1, {stamp});
         INSERT INTO owner VALUES (1, 1, 1, {stamp});
         INSERT INTO bike_fact VALUES (1, 1, 'name', 'old red hardtail', NULL, NULL, {stamp}, NULL);
         INSERT INTO visit VALUES (1, 1, 1, {stamp});
         INSERT INTO entry VALUES (1, 1, 'complaint', NULL, 'it squeals', NULL, NULL, {stamp}, NULL);
         INSERT INTO entry VALUES (2, 1, 'outcome', 'pad-glazed', 'helped', NULL, NULL, {stamp}, NULL);
         INSERT INTO setting VALUES (1, 1, 1, 1, 'saddle-height', '742 mm', 0.742, 'mm', NULL, NULL, NULL, 1, {stamp}, NULL);"
    );
    if form >= 2 {
        sql += &format!(
            "INSERT INTO trial VALUES (1, 1, 1, 'saddle-height', '742 mm', 0.742, 'mm', 0.004, 0.002, 0.7, 0.76, NULL, NULL, {stamp});
             INSERT INTO verdict VALUES (1, 1, 0.742, 0.746, 'second', NULL, NULL, {stamp}, NULL);
             INSERT INTO wear VALUES (1, 1, 'chain', '0.4 %', 0.004, '%', NULL, NULL, {stamp}, NULL);
             INSERT INTO due VALUES (1, 1, 'spokes', NULL, 1701000000, NULL, {stamp});"
        );
    }
    conn.execute_batch(&sql).unwrap();
    if form >= 3 {
        super::super::word::rebuild_all(&conn).unwrap();
    }
    conn.query_row("SELECT count(*) FROM rider", params![], |r| r.get::<_, i64>(0)).unwrap();
}

/// Everything in the book, as text.
pub(super) fn exported(book: &Book) -> String {
    let mut out = Vec::new();
    book.export(&mut out).unwrap();
    String::from_utf8(out).unwrap()
}

/// All bytes of the book's files.
pub(super) fn bytes(path: &Path) -> Vec<u8> {
    let mut all = Vec::new();
    for suffix in ["", "-wal", "-shm"] {
        all.extend(std::fs::read(super::super::place::beside(path, suffix)).unwrap_or_default());
    }
    all
}

pub(super) fn holds(bytes: &[u8], needle: &str) -> bool {
    bytes.windows(needle.len()).any(|w| w.eq_ignore_ascii_case(needle.as_bytes()))
}
