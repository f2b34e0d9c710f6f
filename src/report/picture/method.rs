//! Several methods for one figure beside each other, each with its band.
//!
//! Owns this drawing. Must not judge between methods.

use super::Picture;
use super::axis::{Axis, number};
use super::chart::{self, Row};
use super::ink::{Hang, Ink, Pen, WIDTH, fitting};
use crate::dialogue::{Record, RecordedLadder, RecordedRung};

const ROW: f64 = 32.0;

/// Every comparison of methods on the record.
pub(in crate::report) fn methods(r: &Record) -> Vec<Picture> {
    r.methods.iter().enumerate().filter_map(|(i, l)| method(l, i)).collect()
}

fn band(r: &RecordedRung) -> Option<(f64, f64)> {
    r.lo.zip(r.hi).filter(|(lo, hi)| lo <= hi)
}

fn shown(r: &RecordedRung, unit: &str) -> String {
    if r.shown.is_empty() { format!("{} {unit}", number(r.value)).trim_end().to_owned() } else { r.shown.clone() }
}

fn method(l: &RecordedLadder, i: usize) -> Option<Picture> {
    if l.rungs.is_empty() {
        return None;
    }
    let ends =
        l.rungs.iter().flat_map(|r| [r.value, band(r).map_or(r.value, |b| b.0), band(r).map_or(r.value, |b| b.1)]);
    let foot = l.rungs.len() as f64 * ROW + 6.0;
    let axis = Axis::over(ends, 10.0, WIDTH - 14.0)?;
    let height = foot + 34.0;
    let mut ink = Ink::new(&format!("method{i}"), height);
    for (v, word) in axis.ticks(5) {
        ink.line((axis.at(v), 2.0), (axis.at(v), foot), Pen::Dash);
        ink.small((axis.at(v), foot + 13.0), Hang::Middle, &word);
    }
    ink.line((4.0, foot), (WIDTH - 6.0, foot), Pen::Thin);
    ink.label((WIDTH - 8.0, foot + 28.0), Hang::End, &fitting(&l.unit, WIDTH - 16.0));
    let words: Vec<String> = l.rungs.iter().map(|r| shown(r, &l.unit)).collect();
    for (n, (r, word)) in l.rungs.iter().zip(&words).enumerate() {
        let y = n as f64 * ROW;
        ink.label((8.0, y + 13.0), Hang::Start, &fitting(&r.label, WIDTH - 120.0));
        ink.label((WIDTH - 8.0, y + 13.0), Hang::End, &fitting(word, 100.0));
        if let Some((lo, hi)) = band(r) {
            ink.block((axis.at(lo), y + 18.0), axis.at(hi) - axis.at(lo), 8.0, Pen::Hatch);
        }
        ink.circle((axis.at(r.value), y + 22.0), 4.0, Pen::Solid);
    }
    let title = if l.title.is_empty() { "Methods side by side".to_owned() } else { l.title.clone() };
    let said: Vec<String> = l
        .rungs
        .iter()
        .zip(&words)
        .map(|(r, w)| match band(r) {
            Some((lo, hi)) => format!("{}: {w}, band {} to {} {}", r.label, number(lo), number(hi), l.unit),
            None => format!("{}: {w}", r.label),
        })
        .collect();
    let desc = format!("{}.", said.join("; "));
    let rows: Vec<Row<'_>> = l
        .rungs
        .iter()
        .zip(&words)
        .map(|(r, w)| Row { name: &r.label, value: r.value, band: band(r), shown: w })
        .collect();
    let any = l.rungs.iter().any(|r| band(r).is_some());
    let caption = if any { "Dot: the value. Hatched: its band.".to_owned() } else { String::new() };
    Some(Picture {
        svg: ink.finish(&title, &desc),
        title,
        caption,
        chart: chart::bands(&rows),
        legend: Vec::new(),
        height,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_band_the_wrong_way_round_is_no_band() {
        let mut r = RecordedRung { lo: Some(2.0), hi: Some(1.0), ..Default::default() };
        assert_eq!(band(&r), None);
        r.hi = Some(3.0);
        assert_eq!(band(&r), Some((2.0, 3.0)));
    }
}
