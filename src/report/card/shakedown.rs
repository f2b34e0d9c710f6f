//! The shakedown list: what to look at again, and when.

use super::super::day;
use super::super::doc::{Body, Cell, Part, Table, list, pictures, table};
use super::super::picture;
use super::{compared, nothing, settings, wear, when};
use crate::dialogue::{Record, RecordedDue};

/// Its parts: what is due by the card's own date, what comes, what is done, and the settings to compare with.
pub(super) fn parts(r: &Record) -> Vec<Part> {
    let mut p = Vec::new();
    list(&mut p, "Cautions", &r.cautions);
    let today = day::number(&r.date);
    let mut open: Vec<&RecordedDue> = r.due.iter().filter(|d| d.done.is_empty()).collect();
    open.sort_by_key(|d| day::number(&d.on).unwrap_or(i64::MAX));
    let is_due = |d: &&RecordedDue| d.now || today.zip(day::number(&d.on)).is_some_and(|(now, on)| on <= now);
    let (now, later): (Vec<&RecordedDue>, Vec<&RecordedDue>) = open.into_iter().partition(is_due);
    table(&mut p, "Due now", checks(&now));
    table(&mut p, if now.is_empty() { "To recheck" } else { "Later" }, checks(&later));
    if !now.is_empty() || !later.is_empty() {
        let text = "Days and distances are common practice, no source; where the maker gives others, those count.";
        p.push(Part { title: "When".into(), body: Body::Say(text.into()) });
    }
    let done: Vec<String> =
        r.due.iter().filter(|d| !d.done.is_empty()).map(|d| format!("{}: {}", d.done, d.what)).collect();
    table(
        &mut p,
        "Also",
        Table {
            head: vec!["Done", "Check"],
            rows: r.checks.iter().map(|c| vec![Cell::Boxes(&[""]), Cell::of(c)]).collect(),
            pencil: false,
        },
    );
    table(&mut p, "Settings to compare with", settings(r, true));
    list(&mut p, "Compared with the card", &compared(r));
    table(&mut p, "Wear", wear(r));
    list(&mut p, "Already done", &done);
    if p.is_empty() {
        nothing(&mut p);
    }
    pictures(&mut p, picture::histories(r));
    p.push(Part { title: "Seen on the way".into(), body: Body::Lines(3) });
    p
}

fn checks(list: &[&RecordedDue]) -> Table {
    let row = |d: &&RecordedDue| {
        vec![Cell::Boxes(&[""]), Cell::of(&d.what), Cell::of(when(d)), Cell::of(&d.how), Cell::Write]
    };
    Table {
        head: vec!["Done", "What", "When", "How", "Date, hand"],
        rows: list.iter().map(row).collect(),
        pencil: false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_due_by_the_card_s_own_date_comes_first() {
        let due = |what: &str, on: &str, done: &str| RecordedDue {
            what: what.into(),
            on: on.into(),
            done: done.into(),
            ..Default::default()
        };
        let r = Record {
            date: "2026-05-10".into(),
            due: vec![
                due("c", "2026-06-01", ""),
                due("b", "2026-05-10", ""),
                due("a", "2026-05-01", ""),
                due("d", "2026-05-01", "2026-05-02"),
                due("e", "", ""),
            ],
            ..Record::default()
        };
        let p = parts(&r);
        let names = |title: &str| -> Vec<Cell> {
            p.iter()
                .filter(|p| p.title == title)
                .flat_map(|p| match &p.body {
                    Body::Table(t) => t.rows.iter().map(|r| r[1].clone()).collect(),
                    _ => vec![],
                })
                .collect()
        };
        assert_eq!(names("Due now"), [Cell::of("a"), Cell::of("b")]);
        assert_eq!(names("Later"), [Cell::of("c"), Cell::of("e")]);
        assert!(p.iter().any(|p| p.title == "Already done"));
    }
}
