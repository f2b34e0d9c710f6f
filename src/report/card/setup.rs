//! The set-up card: every setting, how it is measured, and the pictures by which any mechanic can restore it.

use super::super::doc::{Cell, Part, Table, list, pictures, table};
use super::super::picture::{self, Picture};
use super::{compared, nothing, settings};
use crate::dialogue::Record;

/// Its parts: settings first, as they are what one comes back for.
pub(super) fn parts(r: &Record) -> Vec<Part> {
    let mut p = Vec::new();
    list(&mut p, "Cautions", &r.cautions);
    table(&mut p, "Settings", settings(r, true));
    list(&mut p, "Compared with the card", &compared(r));
    let (side, leg, caliper) = (picture::side(r), picture::leg(r), picture::caliper(r));
    let drawn: Vec<&str> =
        [&side, &leg, &caliper].into_iter().flatten().flat_map(|p| &p.legend).map(|e| e.id).collect();
    let figures = figures(r, &drawn);
    if p.is_empty() && drawn.is_empty() && figures.rows.is_empty() {
        nothing(&mut p);
    }
    pictures(&mut p, side.map(|p| without_settings(p, r)));
    pictures(&mut p, leg);
    table(&mut p, "Measured and computed", figures);
    list(&mut p, "Rider", &r.rider);
    list(&mut p, "Bike", &r.bike);
    pictures(&mut p, picture::curves(r));
    pictures(&mut p, picture::ladders(r));
    pictures(&mut p, caliper);
    pictures(&mut p, picture::methods(r));
    pictures(&mut p, picture::settings_over_time(r));
    list(&mut p, "Next checks", &r.checks);
    p
}

/// The picture with a legend only of what the table of settings does not already explain.
fn without_settings(mut picture: Picture, r: &Record) -> Picture {
    let told = |name: &str| r.settings.iter().any(|s| !s.measured.is_empty() && s.what.to_lowercase().contains(name));
    picture.legend.retain(|e| !told(e.name));
    picture
}

/// Figures that stand neither among the settings nor in a picture's legend; the last of the same name counts.
fn figures(r: &Record, drawn: &[&str]) -> Table {
    let mut rows: Vec<Vec<Cell>> = Vec::new();
    for (i, f) in r.figures.iter().enumerate() {
        let again = r.figures[i + 1..].iter().any(|g| g.calculator == f.calculator && g.id == f.id);
        let set = r.settings.iter().any(|s| s.what.eq_ignore_ascii_case(&f.label) && s.after == f.shown);
        let seen = picture::place_of(f).is_some_and(|p| drawn.contains(&p.id));
        if again || set || seen || f.shown.is_empty() {
            continue;
        }
        let by = match f.calculator.as_str() {
            "measured" | "said" => f.calculator.clone(),
            _ => "computed".to_owned(),
        };
        rows.push([f.label.as_str(), f.shown.as_str(), by.as_str()].into_iter().map(Cell::of).collect());
    }
    Table { head: vec!["What", "Value", "How"], rows, pencil: false }
}
