//! How much of a card goes on one printed sheet.
//!
//! Owns a rough reckoning of heights, by which pictures that would spill onto a second sheet stay on the screen. Words
//! are never left out. Must not lay anything out: the browser does that; `scripts/look_at_cards.sh` counts its sheets.

use super::doc::{Body, Cell, Doc, Part, Table};
use super::wrap::width;

/// Points of height on a Letter sheet between the margins of the style sheet; A4 is higher. (11 in less 2 x 11 mm.)
const SHEET: f64 = 792.0 - 62.0;
/// Heading, title, facts and foot.
const ENDS: f64 = 84.0;
/// A line of print, and of a caption.
const LINE: f64 = 10.2;
const CAPTION: f64 = 8.8;
/// Letters on a line of one of the two columns, and on the whole width, in a broad type.
const COLUMN: usize = 54;
const WHOLE: usize = 112;
/// Two columns never come out even; so much of their room can be counted on.
const FILLED: f64 = 0.9;
/// A picture's width and greatest height in print, in points, as the style sheet has them.
const PICTURE: (f64, f64) = (222.0, 139.0);

/// For each part, whether it is printed.
pub(super) fn printed(doc: &Doc) -> Vec<bool> {
    let stop: f64 = doc.stop.iter().map(|s| lines(s, WHOLE * 9 / 10) * (LINE + 3.0)).sum();
    let head = ENDS + if doc.stop.is_empty() { 0.0 } else { 34.0 + stop };
    let mut room = (SHEET - head) * 2.0 * FILLED;
    room -= doc.parts.iter().filter(|p| !is_picture(p)).map(height).sum::<f64>();
    doc.parts
        .iter()
        .map(|p| {
            if !is_picture(p) {
                return true;
            }
            let fits = height(p) <= room;
            if fits {
                room -= height(p);
            }
            fits
        })
        .collect()
}

/// True when a part goes over both columns.
pub(super) fn is_wide(part: &Part) -> bool {
    match &part.body {
        Body::Table(t) => t.pencil || t.head.len() > 3,
        Body::Lines(_) => true,
        _ => false,
    }
}

fn is_picture(part: &Part) -> bool {
    matches!(part.body, Body::Picture(_))
}

fn lines(text: &str, letters: usize) -> f64 {
    width(text).div_ceil(letters).max(1) as f64
}

/// Height in points of one column; what goes over both counts twice.
fn height(part: &Part) -> f64 {
    let wide = is_wide(part);
    let letters = if wide { WHOLE } else { COLUMN };
    let body = match &part.body {
        Body::Say(text) => lines(text, letters) * LINE,
        Body::List(items) => items.iter().map(|i| lines(i, letters - 4) * LINE + 0.8).sum(),
        Body::Table(t) => table(t, letters),
        Body::Lines(n) => *n as f64 * 19.0,
        Body::Picture(p) => {
            let said: usize = p.legend.iter().map(|e| width(&e.line())).sum::<usize>();
            let caption = if p.caption.is_empty() { 0.0 } else { lines(&p.caption, 66) * CAPTION };
            let legend = if said == 0 { 0.0 } else { said.div_ceil(66) as f64 * CAPTION + 3.0 };
            (p.height / 360.0 * PICTURE.0).min(PICTURE.1) + caption + legend
        }
    };
    (body + 20.0) * if wide { 2.0 } else { 1.0 }
}

fn table(t: &Table, letters: usize) -> f64 {
    let row = |cells: &Vec<Cell>| {
        let long: Vec<usize> = cells
            .iter()
            .map(|c| match c {
                Cell::Text(text) => width(text) + 2,
                Cell::Write => 14,
                Cell::Boxes(words) => words.iter().map(|w| width(w) + 5).sum(),
            })
            .collect();
        let all: usize = long.iter().sum();
        let longest = long.iter().copied().max().unwrap_or(0);
        let high = all.div_ceil(letters * 17 / 20).max(longest.div_ceil(letters / 2)).max(1) as f64;
        (high * LINE + 3.5).max(if t.pencil { 28.0 } else { 0.0 })
    };
    14.0 + t.rows.iter().map(row).sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::super::kind::Kind;
    use super::super::picture::Picture;
    use super::*;

    fn doc(words: usize, pictures: usize) -> Doc {
        let list = Part { title: "a".into(), body: Body::List(vec!["word".into(); words]) };
        let picture = Picture {
            title: "p".into(),
            caption: String::new(),
            legend: Vec::new(),
            svg: String::new(),
            chart: Vec::new(),
            height: 250.0,
        };
        let picture = Part { title: "p".into(), body: Body::Picture(Box::new(picture)) };
        let parts = std::iter::once(list).chain(vec![picture; pictures]).collect();
        Doc { kind: Kind::Setup, title: String::new(), facts: vec![], stop: vec![], parts, foot: vec![] }
    }

    #[test]
    fn words_are_always_printed_and_pictures_while_there_is_room() {
        assert!(printed(&doc(5, 4)).iter().all(|p| *p));
        let many = printed(&doc(5, 30));
        let shown = many.iter().filter(|p| **p).count();
        assert!(many[0] && (4..12).contains(&shown), "{shown}");
        let full = printed(&doc(500, 2));
        assert_eq!(full, [true, false, false]);
    }
}
