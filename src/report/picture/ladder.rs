//! A gear ladder: every gear at its height, equal steps for equal ratios.
//!
//! Owns this drawing. Must not compute a gear.

use super::Picture;
use super::axis::{apart, number, range};
use super::chart;
use super::ink::{Hang, Ink, Pen, WIDTH, fitting};
use crate::dialogue::{Record, RecordedLadder, RecordedRung};
use crate::report::wrap::{cut, pad, width};

const STEP: f64 = 13.0;
const RAIL: (f64, f64) = (150.0, 214.0);

/// Every ladder of the record with at least two rungs.
pub(in crate::report) fn ladders(r: &Record) -> Vec<Picture> {
    r.ladders.iter().enumerate().filter_map(|(i, l)| ladder(l, i)).collect()
}

fn shown(r: &RecordedRung, unit: &str) -> String {
    if r.shown.is_empty() { format!("{} {unit}", number(r.value)).trim_end().to_owned() } else { r.shown.clone() }
}

fn ladder(l: &RecordedLadder, i: usize) -> Option<Picture> {
    // Ratios need values above nothing.
    let mut rungs: Vec<&RecordedRung> = l.rungs.iter().filter(|r| r.value > 0.0).collect();
    rungs.sort_by(|a, b| b.value.total_cmp(&a.value));
    if rungs.len() < 2 {
        return None;
    }
    let (lo, hi) = range(rungs.iter().map(|r| r.value.ln()))?;
    let title = if l.title.is_empty() { "Gear ladder".to_owned() } else { l.title.clone() };
    let steps: Vec<f64> = rungs.windows(2).map(|w| (w[0].value / w[1].value - 1.0) * 100.0).collect();
    let (least, most) = range(steps.iter().copied())?;
    let caption = format!(
        "{} rungs, {} from end to end; steps of {least:.0} % to {most:.0} %. Equal steps look equally high.",
        rungs.len(),
        format_args!("{:.0} %", 100.0 * (hi - lo).exp()),
    );
    let said: Vec<String> = rungs.iter().map(|r| format!("{} {}", r.label, shown(r, &l.unit))).collect();
    let desc = format!("{caption} From the highest: {}.", said.join("; "));

    let height = (rungs.len() as f64 * STEP + 24.0).max(140.0);
    let mut ink = Ink::new(&format!("ladder{i}"), height);
    let at = |r: &RecordedRung| {
        if hi > lo { 14.0 + (hi - r.value.ln()) / (hi - lo) * (height - 28.0) } else { height / 2.0 }
    };
    let places: Vec<f64> = rungs.iter().map(|r| at(r)).collect();
    let labels = apart(&places, STEP, 10.0, height - 14.0);
    for x in [RAIL.0, RAIL.1] {
        ink.line((x, 4.0), (x, height - 6.0), Pen::Line);
    }
    for ((r, y), label) in rungs.iter().zip(&places).zip(&labels) {
        ink.line((RAIL.0, *y), (RAIL.1, *y), Pen::Bold);
        ink.chain(&[(RAIL.0 - 22.0, *label), (RAIL.0, *y)], Pen::Thin);
        ink.chain(&[(RAIL.1, *y), (RAIL.1 + 22.0, *label)], Pen::Thin);
        ink.label((RAIL.0 - 26.0, label + 4.0), Hang::End, &fitting(&r.label, RAIL.0 - 30.0));
        ink.label((RAIL.1 + 26.0, label + 4.0), Hang::Start, &fitting(&shown(r, &l.unit), WIDTH - RAIL.1 - 30.0));
    }
    let chart = in_characters(&rungs, &l.unit, lo, hi);
    Some(Picture { svg: ink.finish(&title, &desc), title, caption, chart, legend: Vec::new(), height })
}

fn in_characters(rungs: &[&RecordedRung], unit: &str, lo: f64, hi: f64) -> Vec<String> {
    let name = rungs.iter().map(|r| width(&r.label)).max().unwrap_or(0).min(24);
    let words: Vec<String> = rungs.iter().map(|r| cut(&shown(r, unit), 18)).collect();
    let room = chart::COLUMNS - name - words.iter().map(|w| width(w)).max().unwrap_or(0) - 3;
    let mut out = Vec::new();
    for (r, word) in rungs.iter().zip(&words) {
        let share = if hi > lo { (r.value.ln() - lo) / (hi - lo) } else { 0.5 };
        let cells = 1 + (share * (room - 1) as f64).round() as usize;
        out.push(format!("{} |{} {word}", pad(&cut(&r.label, name), name), pad(&"=".repeat(cells.min(room)), room)));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(values: &[f64]) -> RecordedLadder {
        let rung = |v: &f64| RecordedRung { label: format!("g{v}"), value: *v, ..Default::default() };
        RecordedLadder { title: String::new(), unit: "m".into(), rungs: values.iter().map(rung).collect() }
    }

    #[test]
    fn equal_ratios_are_equal_steps_from_the_highest_down() {
        let p = ladder(&of(&[2.0, 8.0, 4.0]), 0).unwrap();
        let full = |l: &String| l.matches('=').count();
        let lengths: Vec<usize> = p.chart.iter().map(full).collect();
        assert!(lengths[0].abs_diff(2 * lengths[1]) <= 2 && lengths[2] == 1, "{:#?}", p.chart);
        assert!(p.caption.contains("400 % from end to end; steps of 100 % to 100 %"), "{}", p.caption);
    }

    #[test]
    fn one_rung_or_none_above_nothing_is_no_ladder() {
        assert!(ladder(&of(&[3.0]), 0).is_none());
        assert!(ladder(&of(&[3.0, 0.0, -1.0]), 0).is_none());
        assert!(ladder(&of(&[3.0, 3.0]), 0).is_some());
    }
}
