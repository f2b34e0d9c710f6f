//! The work card: what the customer takes home.

use super::super::doc::{Part, list, pictures, table};
use super::super::picture;
use super::{compared, nothing, settings, wear, when};
use crate::dialogue::Record;

/// Checks that the customer is told of here; the shakedown list has them all.
const COME_BACK: usize = 6;

/// Its parts: cautions first, then the story in the order in which it happened.
pub(super) fn parts(r: &Record) -> Vec<Part> {
    let mut p = Vec::new();
    list(&mut p, "Cautions", &r.cautions);
    list(&mut p, "Rider", &r.rider);
    list(&mut p, "Bike", &r.bike);
    list(&mut p, "Complaint", &r.complaints);
    list(&mut p, "Findings", &r.findings);
    list(&mut p, "Cause", &r.causes);
    list(&mut p, "Excluded", &r.excluded);
    list(&mut p, "Done", &r.work);
    table(&mut p, "Settings", settings(r, false));
    list(&mut p, "Compared with the card", &compared(r));
    table(&mut p, "Wear", wear(r));
    list(&mut p, "Next checks", &r.checks);
    let open = r.due.iter().filter(|d| d.done.is_empty());
    let mut next: Vec<String> = open.map(|d| format!("{}: {}", when(d), d.what)).collect();
    if next.len() > COME_BACK {
        let more = next.split_off(COME_BACK).len();
        next.push(format!("and {more} more: the shakedown list has them"));
    }
    list(&mut p, "Come back for", &next);
    if r.complaints.is_empty() && r.settings.is_empty() {
        nothing(&mut p);
    }
    pictures(&mut p, picture::belief(r));
    pictures(&mut p, picture::caliper(r));
    p
}
