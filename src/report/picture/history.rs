//! A setting over time, with the rides marked.
//!
//! Owns this drawing. Must not ask what day it is: days stand on the record.

use super::Picture;
use super::axis::{Axis, number};
use super::chart;
use super::ink::{At, Hang, Ink, Pen, WIDTH, breadth, fitting};
use crate::dialogue::{Record, RecordedReading};
use crate::report::day;
use crate::report::wrap::{pad, width};

const HEIGHT: f64 = 170.0;
const LEFT: f64 = 46.0;
const RIGHT: f64 = WIDTH - 14.0;
const TOP: f64 = 24.0;
const FOOT: f64 = HEIGHT - 32.0;

/// One picture for everything that was read at least twice.
pub(in crate::report) fn histories(r: &Record) -> Vec<Picture> {
    let mut names: Vec<&str> = Vec::new();
    for reading in &r.readings {
        if !names.contains(&reading.what.as_str()) {
            names.push(&reading.what);
        }
    }
    names.iter().enumerate().filter_map(|(i, what)| history(r, what, i)).collect()
}

/// One picture for every setting that was read at least twice; wear has its table.
pub(in crate::report) fn settings_over_time(r: &Record) -> Vec<Picture> {
    let settings = Record {
        readings: r.readings.iter().filter(|s| !s.wear).cloned().collect(),
        rides: r.rides.clone(),
        settings: r.settings.clone(),
        trials: r.trials.clone(),
        ..Record::default()
    };
    histories(&settings)
}

/// The picture of one setting.
pub(in crate::report) fn history_of(r: &Record, what: &str) -> Option<Picture> {
    // Numbered by its name: a card may show several, and their parts must not be mixed up.
    let at = r.readings.iter().position(|s| s.what == what)?;
    history(r, what, at)
}

fn history(r: &Record, what: &str, i: usize) -> Option<Picture> {
    let unit = &r.readings.iter().find(|s| s.what == what)?.unit;
    // Another unit would be another scale; such readings are left to the text.
    let mut read: Vec<(i64, &RecordedReading)> = r
        .readings
        .iter()
        .filter(|s| s.what == what && s.unit == *unit)
        .filter_map(|s| Some((day::number(&s.when)?, s)))
        .collect();
    read.sort_by_key(|s| s.0);
    // Readings of one day are no time.
    if read.first().map(|s| s.0) == read.last().map(|s| s.0) {
        return None;
    }
    let mut rides: Vec<(i64, &str, &str)> =
        r.rides.iter().filter_map(|d| Some((day::number(&d.when)?, d.when.as_str(), d.what.as_str()))).collect();
    rides.sort_by_key(|d| d.0);
    let is_setting = r.settings.iter().any(|s| s.what == what) || r.trials.iter().any(|t| t.setting == what);
    let title = format!("{what} over time");
    let value = |s: &RecordedReading| format!("{} {unit}", number(s.value)).trim_end().to_owned();
    let said: Vec<String> = read.iter().map(|(_, s)| format!("{} {}", s.when.trim(), value(s))).collect();
    let mut desc = said.join("; ");
    if !rides.is_empty() {
        let list: Vec<String> =
            rides.iter().map(|(_, when, what)| format!("{when} {what}").trim().to_owned()).collect();
        desc.push_str(&format!(". Rides: {}", list.join("; ")));
    }
    let svg = draw(&format!("history{i}"), &read, &rides, is_setting, (&title, &format!("{desc}.")))?;
    let chart = in_characters(&read, &rides, unit);
    let caption = if rides.is_empty() { String::new() } else { "Triangles: rides.".to_owned() };
    Some(Picture { title, caption, svg, chart, legend: Vec::new(), height: HEIGHT })
}

fn draw(
    prefix: &str,
    read: &[(i64, &RecordedReading)],
    rides: &[(i64, &str, &str)],
    steps: bool,
    (title, desc): (&str, &str),
) -> Option<String> {
    let days = || read.iter().map(|s| s.0).chain(rides.iter().map(|d| d.0));
    let x = Axis::over(days().map(|d| d as f64), LEFT, RIGHT)?;
    let y = Axis::over(read.iter().map(|s| s.1.value), FOOT - 6.0, TOP + 10.0)?;
    let mut ink = Ink::new(prefix, HEIGHT);
    ink.line((LEFT, FOOT), (RIGHT, FOOT), Pen::Thin);
    ink.line((LEFT, TOP), (LEFT, FOOT), Pen::Thin);
    for (v, word) in y.ticks(4) {
        ink.line((LEFT - 4.0, y.at(v)), (LEFT, y.at(v)), Pen::Thin);
        ink.small((LEFT - 6.0, y.at(v) + 3.5), Hang::End, &fitting(&word, LEFT - 4.0));
    }
    ink.label((4.0, 12.0), Hang::Start, &fitting(&read[0].1.unit, 120.0));
    // A setting stays until it is changed, so it goes in steps and reaches to the last day; a reading is only known where
    // it was taken.
    let mut line: Vec<At> = Vec::new();
    for (day, s) in read {
        let p = (x.at(*day as f64), y.at(s.value));
        if let Some(last) = line.last().copied().filter(|_| steps) {
            line.push((p.0, last.1));
        }
        line.push(p);
    }
    if let (true, Some(last), Some(end)) = (steps, line.last().copied(), days().max()) {
        line.push((x.at(end as f64), last.1));
    }
    ink.chain(&line, Pen::Line);
    let mut free = f64::MIN;
    for (day, s) in read {
        let p = (x.at(*day as f64), y.at(s.value));
        ink.circle(p, 3.5, Pen::Solid);
        let text = number(s.value);
        if p.0 - breadth(&text) / 2.0 > free {
            ink.label((p.0, p.1 - 8.0), Hang::Middle, &text);
            free = p.0 + breadth(&text) / 2.0;
        }
    }
    for (day, ..) in rides {
        let px = x.at(*day as f64);
        ink.line((px, TOP), (px, FOOT), Pen::Dash);
        ink.shape(&[(px - 4.5, FOOT + 10.0), (px + 4.5, FOOT + 10.0), (px, FOOT + 2.0)], Pen::Solid);
    }
    dates(&mut ink, read, rides, &x);
    Some(ink.finish(title, desc))
}

/// The days of readings and rides below the axis, as many as find room; the first and the last always.
fn dates(ink: &mut Ink, read: &[(i64, &RecordedReading)], rides: &[(i64, &str, &str)], x: &Axis) {
    let mut days: Vec<(i64, &str)> =
        read.iter().map(|s| (s.0, s.1.when.trim())).chain(rides.iter().map(|d| (d.0, d.1.trim()))).collect();
    days.sort_by_key(|d| d.0);
    days.dedup_by_key(|d| d.0);
    let (Some(first), Some(last)) = (days.first().copied(), days.last().copied()) else { return };
    let y = FOOT + 24.0;
    let half = 31.0;
    let place = |d: i64| x.at(d as f64).clamp(half, WIDTH - half);
    ink.small((place(first.0), y), Hang::Middle, first.1);
    let mut free = place(first.0) + half;
    let end = place(last.0) - half;
    for (d, word) in &days {
        // In between the year is known; only the month and the day are written.
        let at = x.at(*d as f64);
        if at - 16.0 > free && at + 16.0 < end {
            ink.small((at, y), Hang::Middle, word.get(5..).unwrap_or(word));
            free = at + 20.0;
        }
    }
    if end > place(first.0) + half {
        ink.small((place(last.0), y), Hang::Middle, last.1);
    }
}

fn in_characters(read: &[(i64, &RecordedReading)], rides: &[(i64, &str, &str)], unit: &str) -> Vec<String> {
    let words: Vec<String> =
        read.iter().map(|s| format!("{} {unit}", number(s.1.value)).trim_end().to_owned()).collect();
    let wide = words.iter().map(|w| width(w)).max().unwrap_or(0).min(20);
    let room = chart::COLUMNS - 12 - wide;
    let axis = Axis::over(read.iter().map(|s| s.1.value), 0.0, (room - 1) as f64);
    let mut rows: Vec<(i64, u8, String)> = Vec::new();
    for ((day, s), word) in read.iter().zip(&words) {
        let mut cells = vec!['.'; room];
        if let Some(a) = axis {
            cells[(a.at(s.value).round().max(0.0) as usize).min(room - 1)] = 'O';
        }
        let cells: String = cells.into_iter().collect();
        rows.push((*day, 0, format!("{} {} {cells}", s.when.trim(), pad(&crate::report::wrap::cut(word, wide), wide))));
    }
    for (day, when, what) in rides {
        let line = format!("{} ride: {what}", when.trim());
        rows.push((*day, 1, crate::report::wrap::cut(line.trim_end_matches([':', ' ']), chart::COLUMNS)));
    }
    rows.sort_by_key(|r| (r.0, r.1));
    rows.into_iter().map(|r| r.2).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dialogue::RecordedRide;

    fn record() -> Record {
        let reading = |when: &str, value: f64| RecordedReading {
            what: "Saddle".into(),
            when: when.into(),
            value,
            unit: "mm".into(),
            ..RecordedReading::default()
        };
        Record {
            readings: vec![reading("2026-04-09", 736.0), reading("2026-04-02", 733.0), reading("some day", 700.0)],
            rides: vec![RecordedRide { when: "2026-04-05".into(), what: "the long way".into() }],
            ..Record::default()
        }
    }

    #[test]
    fn rides_stand_between_the_readings_they_fell_between() {
        let p = histories(&record());
        let days: Vec<&str> = p[0].chart.iter().map(|l| &l[..10]).collect();
        assert_eq!(days, ["2026-04-02", "2026-04-05", "2026-04-09"]);
        assert!(p[0].chart.iter().all(|l| width(l) <= chart::COLUMNS));
    }

    #[test]
    fn one_reading_is_no_history() {
        let mut r = record();
        r.readings.remove(0);
        assert!(histories(&r).is_empty());
    }
}
