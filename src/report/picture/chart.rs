//! Charts in characters, at most 74 columns wide: the same information as the drawings.
//!
//! Owns their few shapes. Must not know what they show.

use super::axis::{Axis, number};
use crate::report::wrap::{cut, pad, width, wrap};

/// Columns of a chart: a card's width without the indents of text and Markdown.
pub(super) const COLUMNS: usize = 74;

/// A share of 0 to 1 as a meter.
pub(super) fn meter(share: f64, cells: usize) -> String {
    let full = (share.clamp(0.0, 1.0) * cells as f64).round() as usize;
    format!("[{}{}]", "#".repeat(full), ".".repeat(cells - full))
}

/// A line of words, wrapped.
pub(super) fn words(out: &mut Vec<String>, text: &str) {
    for (i, line) in wrap(text, COLUMNS - 2).into_iter().enumerate() {
        out.push(if i == 0 { line } else { format!("  {line}") });
    }
}

/// One line of a band chart.
pub(super) struct Row<'a> {
    /// Its name.
    pub(super) name: &'a str,
    /// Value.
    pub(super) value: f64,
    /// Its band, if any.
    pub(super) band: Option<(f64, f64)>,
    /// The value in words.
    pub(super) shown: &'a str,
}

/// Values with their bands on one scale: `O` is the value, `-` the band.
pub(super) fn bands(rows: &[Row<'_>]) -> Vec<String> {
    let name = rows.iter().map(|r| width(r.name)).max().unwrap_or(0).min(30);
    let shown = rows.iter().map(|r| width(r.shown)).max().unwrap_or(0).min(16);
    let room = COLUMNS - name - shown - 2;
    let all = rows.iter().flat_map(|r| [r.value, r.band.map_or(r.value, |b| b.0), r.band.map_or(r.value, |b| b.1)]);
    let Some(axis) = Axis::over(all, 0.0, (room - 1) as f64) else { return Vec::new() };
    let cell = |v: f64| (axis.at(v).round().max(0.0) as usize).min(room - 1);
    rows.iter()
        .map(|r| {
            let mut cells = vec!['.'; room];
            if let Some((lo, hi)) = r.band {
                cells[cell(lo.min(hi))..=cell(hi.max(lo))].fill('-');
            }
            cells[cell(r.value)] = 'O';
            let cells: String = cells.into_iter().collect();
            format!("{} {cells} {}", pad(&cut(r.name, name), name), cut(r.shown, shown))
        })
        .collect()
}

/// Points and lettered marks on a grid, with the ends of both axes.
pub(super) fn grid(points: &[(f64, f64)], marks: &[(f64, f64)], across: &str, up: &str) -> Vec<String> {
    const WIDE: usize = 58;
    const HIGH: usize = 12;
    let all = || points.iter().chain(marks).copied();
    let (Some(x), Some(y)) = (
        Axis::over(all().map(|p| p.0), 0.0, (WIDE - 1) as f64),
        Axis::over(all().map(|p| p.1), (HIGH - 1) as f64, 0.0),
    ) else {
        return Vec::new();
    };
    let mut cells = vec![vec![' '; WIDE]; HIGH];
    let mut put = |px: f64, py: f64, c: char| {
        let (col, row) = (x.at(px).round().max(0.0) as usize, y.at(py).round().max(0.0) as usize);
        cells[row.min(HIGH - 1)][col.min(WIDE - 1)] = c;
    };
    // Between two points as many as the grid has columns: a line of two points is still a line.
    for pair in points.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        for i in 0..=WIDE {
            let t = i as f64 / WIDE as f64;
            put(a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1), '.');
        }
    }
    for (i, m) in marks.iter().enumerate() {
        put(m.0, m.1, letter(i));
    }
    let mut out = vec![cut(up, COLUMNS)];
    let ticks = y.ticks(4);
    for (r, row) in cells.into_iter().enumerate() {
        let tick = ticks.iter().find(|t| y.at(t.0).round() as usize == r).map_or("", |t| t.1.as_str());
        out.push(format!("{tick:>9} |{}", row.into_iter().collect::<String>()));
    }
    let mut foot = vec![' '; WIDE + 12];
    for (v, word) in x.ticks(5) {
        let middle = 11 + x.at(v).round() as usize;
        let start = middle.saturating_sub(word.len() / 2);
        for (i, c) in word.chars().enumerate() {
            if let Some(slot) = foot.get_mut(start + i) {
                *slot = c;
            }
        }
    }
    out.push(format!("{:>9} +{}", "", "-".repeat(WIDE)));
    out.push(foot.into_iter().collect::<String>().trim_end().to_owned());
    out.push(format!("{:>11}{}", "", cut(across, COLUMNS - 11)));
    out
}

/// The letter of the n-th mark.
pub(super) fn letter(n: usize) -> char {
    char::from(b'A' + (n % 26) as u8)
}

/// A mark's line below a grid.
pub(super) fn mark(n: usize, label: &str, x: f64, y: f64) -> String {
    format!("{}: {} ({}, {})", letter(n), label, number(x), number(y))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_chart_is_wider_than_its_columns() {
        let long = "x".repeat(200);
        let rows = [
            Row { name: &long, value: 1.0, band: Some((5.0, 0.5)), shown: &long },
            Row { name: "b", value: 9.0, band: None, shown: "9" },
        ];
        let lines = bands(&rows);
        assert!(lines.iter().all(|l| width(l) <= COLUMNS), "{lines:#?}");
        assert_eq!(lines.iter().filter(|l| l.contains('O')).count(), 2);
        let lines = grid(&[(0.0, 0.0), (1e12, -1e12)], &[(5.0, 5.0)], &long, &long);
        assert!(lines.iter().all(|l| width(l) <= COLUMNS), "{lines:#?}");
        assert!(lines.iter().any(|l| l.contains('A')));
    }
}
