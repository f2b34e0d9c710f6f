//! The triage slip: what the bench needs to know before it lifts the bike.

use super::super::doc::{Body, Cell, Part, Table, list, pictures, table};
use super::super::picture;
use super::nothing;
use crate::dialogue::Record;

/// Its parts: danger, complaint, what is thought, what to check, room for a hand.
pub(super) fn parts(r: &Record) -> Vec<Part> {
    let mut p = Vec::new();
    list(&mut p, "Cautions", &r.cautions);
    list(&mut p, "Complaint", &r.complaints);
    if r.complaints.is_empty() {
        nothing(&mut p);
    }
    list(&mut p, "Bike", &r.bike);
    list(&mut p, "Findings so far", &r.findings);
    match picture::belief(r) {
        // The list would say the same in fewer words than the picture.
        Some(belief) => pictures(&mut p, [belief]),
        None => list(&mut p, "Thought likely", &r.causes),
    }
    list(&mut p, "Excluded", &r.excluded);
    table(
        &mut p,
        "Still to ask",
        Table {
            head: vec!["Question", "Answer"],
            rows: r.open.iter().map(|q| vec![Cell::of(q), Cell::Write]).collect(),
            pencil: false,
        },
    );
    table(
        &mut p,
        "To check",
        Table {
            head: vec!["Done", "Check"],
            rows: r.checks.iter().map(|c| vec![Cell::Boxes(&[""]), Cell::of(c)]).collect(),
            pencil: false,
        },
    );
    pictures(&mut p, picture::caliper(r));
    p.push(Part {
        title: "At the bench".into(),
        body: Body::Table(Table {
            head: vec!["Taken by", "Date and time", "Found", "Done"],
            rows: vec![vec![Cell::Write, Cell::Write, Cell::Write, Cell::Write]],
            pencil: true,
        }),
    });
    p
}
