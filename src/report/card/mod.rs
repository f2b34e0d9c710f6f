//! What stands on each card and in which order.
//!
//! Owns the choice; one kind is one file of this folder. Must not know of forms: a card leaves here as data.

mod setup;
mod shakedown;
mod triage;
mod trial;
mod work;

use super::doc::{Body, Cell, Doc, Part, Table};
use super::fit::Fitted;
use super::kind::Kind;
use super::picture::number;
use crate::dialogue::{Record, RecordedDue};

/// The card of this kind.
pub(super) fn of(kind: Kind, fitted: &Fitted) -> Doc {
    let r = &fitted.record;
    let mut parts = match kind {
        Kind::Work => work::parts(r),
        Kind::Setup => setup::parts(r),
        Kind::Trial => trial::parts(r),
        Kind::Triage => triage::parts(r),
        Kind::Shakedown => shakedown::parts(r),
    };
    let mut cut = fitted.cut;
    let mut room = fitted.pictures;
    parts.retain(|p| {
        let keep = !matches!(p.body, Body::Picture(_)) || room > 0;
        room = room.saturating_sub(usize::from(keep && matches!(p.body, Body::Picture(_))));
        cut |= !keep;
        keep
    });
    let mut foot =
        vec!["The maker's instructions, local law and a qualified mechanic (or clinician) come first.".to_owned()];
    if cut {
        foot.insert(0, "Shortened to fit a card; the whole is in its JSON form.".to_owned());
    }
    Doc { kind, title: r.title.clone(), facts: facts(r), stop: r.stop.clone(), parts, foot }
}

fn facts(r: &Record) -> Vec<(&'static str, String)> {
    [("Rider", &r.rider_name), ("Bike", &r.bike_name), ("Date", &r.date), ("Written by", &r.by)]
        .into_iter()
        .filter(|(_, text)| !text.is_empty())
        .map(|(what, text)| (what, text.clone()))
        .collect()
}

/// Settings before and after; with how they are measured where that is wanted.
fn settings(r: &Record, measured: bool) -> Table {
    let before = r.settings.iter().any(|s| s.before.is_some());
    let measured = measured && r.settings.iter().any(|s| !s.measured.is_empty());
    let columns: Vec<(&'static str, bool)> =
        vec![("What", true), ("Before", before), ("Now", true), ("How", true), ("Measured from, to", measured)];
    let rows = r.settings.iter().map(|s| {
        let cells =
            [s.what.clone(), s.before.clone().unwrap_or_default(), s.after.clone(), s.how.clone(), s.measured.clone()];
        cells.into_iter().zip(&columns).filter(|(_, c)| c.1).map(|(text, _)| Cell::of(text)).collect()
    });
    let rows = rows.collect();
    Table { head: columns.iter().filter(|c| c.1).map(|c| c.0).collect(), rows, pencil: false }
}

/// How far settings are from the card, one line for each that was compared.
fn compared(r: &Record) -> Vec<String> {
    let told = r.settings.iter().filter(|s| !s.compared.is_empty());
    told.map(|s| format!("{}: {}", s.what, s.compared)).collect()
}

/// The latest wear reading of each part, with its limit.
fn wear(r: &Record) -> Table {
    let read = r.readings.iter().filter(|s| s.wear);
    let last = read.clone().enumerate().filter(|(i, s)| read.clone().skip(i + 1).all(|later| later.what != s.what));
    let value = |v: f64, unit: &str| format!("{} {unit}", number(v)).trim_end().to_owned();
    let rows = last.map(|(_, s)| {
        let mark = if s.out { " (worn out)" } else { "" };
        vec![
            Cell::of(&s.what),
            Cell::of(value(s.value, &s.unit) + mark),
            Cell::of(&s.when),
            Cell::of(s.limit.map(|l| value(l, &s.unit)).unwrap_or_default()),
        ]
    });
    Table { head: vec!["Part", "Reading", "Read on", "Worn out at"], rows: rows.collect(), pencil: false }
}

/// When a check is due, in words.
fn when(d: &RecordedDue) -> String {
    if d.now {
        return "now".to_owned();
    }
    match (d.on.as_str(), d.after.as_str()) {
        ("", "") => "any time".to_owned(),
        ("", after) => format!("after {after}"),
        (on, "") => on.to_owned(),
        (on, after) => format!("{on}, or after {after}"),
    }
}

/// A line for everybody who looks at a card of a record in which nothing stands.
fn nothing(parts: &mut Vec<Part>) {
    parts.push(Part { title: "Nothing yet".into(), body: Body::Say("Nothing has been told yet.".into()) });
}
