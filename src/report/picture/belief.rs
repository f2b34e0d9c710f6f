//! Belief before and after: which causes gained and which lost.
//!
//! Owns this drawing. Must not compute a belief.

use super::Picture;
use super::chart;
use super::ink::{Hang, Ink, Pen, WIDTH, fitting};
use crate::dialogue::Record;

/// So many causes are shown; what is left is one line more.
const MOST: usize = 6;
const ROW: f64 = 38.0;
const LEFT: f64 = 52.0;

struct Line {
    name: String,
    before: Option<f64>,
    after: Option<f64>,
}

/// Belief before and after, when any is on the record.
pub(in crate::report) fn belief(r: &Record) -> Option<Picture> {
    let mut lines: Vec<Line> = Vec::new();
    for (name, p) in &r.beliefs_after {
        lines.push(Line { name: name.clone(), before: None, after: Some(*p) });
    }
    for (name, p) in &r.beliefs_before {
        match lines.iter_mut().find(|l| l.name == *name) {
            Some(l) => l.before = Some(*p),
            None => lines.push(Line { name: name.clone(), before: Some(*p), after: None }),
        }
    }
    if lines.is_empty() {
        return None;
    }
    let (has_before, has_after) = (!r.beliefs_before.is_empty(), !r.beliefs_after.is_empty());
    lines.sort_by(|a, b| {
        let key = |l: &Line| (l.after.unwrap_or(0.0), l.before.unwrap_or(0.0));
        let (a, b) = (key(a), key(b));
        b.0.total_cmp(&a.0).then(b.1.total_cmp(&a.1))
    });
    lines.truncate(MOST);
    let rest = |pick: fn(&Line) -> Option<f64>, there: bool| {
        there.then(|| (1.0 - lines.iter().filter_map(pick).sum::<f64>()).clamp(0.0, 1.0))
    };
    let (rest_before, rest_after) = (rest(|l| l.before, has_before), rest(|l| l.after, has_after));
    if rest_before.unwrap_or(0.0).max(rest_after.unwrap_or(0.0)) >= 0.005 {
        lines.push(Line { name: "everything else".into(), before: rest_before, after: rest_after });
    }
    let (title, what) = match (has_before, has_after) {
        (true, true) => ("Belief before and after", "Hatched: when the complaint had been told. Black: now."),
        (false, _) => ("Belief now", ""),
        (true, false) => ("Belief when the complaint had been told", ""),
    };
    let title = title.to_owned();
    let said: Vec<String> =
        lines.iter().map(|l| format!("{}: {}", l.name, words(l, has_before && has_after))).collect();
    let desc = format!("{what} {}.", said.join("; ")).trim_start().to_owned();
    let height = height_of(&lines);
    Some(Picture {
        svg: draw(&lines, &title, &desc),
        title,
        caption: what.to_owned(),
        chart: in_characters(&lines),
        legend: Vec::new(),
        height,
    })
}

fn height_of(lines: &[Line]) -> f64 {
    lines.len() as f64 * ROW + 22.0
}

fn draw(lines: &[Line], title: &str, desc: &str) -> String {
    let mut ink = Ink::new("belief", height_of(lines));
    let across = |p: f64| LEFT + p * (WIDTH - LEFT - 22.0);
    let foot = lines.len() as f64 * ROW + 4.0;
    for share in [0.25, 0.5, 0.75, 1.0] {
        ink.line((across(share), 2.0), (across(share), foot), Pen::Dash);
        ink.small((across(share), foot + 13.0), Hang::Middle, &percent(share));
    }
    for (i, l) in lines.iter().enumerate() {
        let y = i as f64 * ROW;
        ink.label((LEFT + 4.0, y + 13.0), Hang::Start, &fitting(&l.name, WIDTH - LEFT - 8.0));
        if let Some(p) = l.before {
            ink.block((LEFT, y + 18.0), across(p) - LEFT, 6.0, Pen::Hatch);
        }
        if let Some(p) = l.after {
            ink.block((LEFT, y + 26.0), across(p) - LEFT, 8.0, Pen::Solid);
        }
        let shown = l.after.or(l.before).map(percent).unwrap_or_default();
        ink.label((LEFT - 6.0, y + 31.0), Hang::End, &shown);
    }
    ink.line((LEFT, 2.0), (LEFT, foot), Pen::Line);
    ink.finish(title, desc)
}

fn percent(p: f64) -> String {
    match p * 100.0 {
        v if v > 0.0 && v < 1.0 => "< 1 %".to_owned(),
        v if v > 99.0 && v < 100.0 => "> 99 %".to_owned(),
        v => format!("{v:.0} %"),
    }
}

fn words(l: &Line, both: bool) -> String {
    let say = |p: Option<f64>| p.map_or_else(|| "not listed".to_owned(), percent);
    match (l.before, l.after) {
        (b, a) if both => format!("{} -> {}", say(b), say(a)),
        (b, a) => say(a.or(b)),
    }
}

fn in_characters(lines: &[Line]) -> Vec<String> {
    let mut out = Vec::new();
    let both = lines.iter().any(|l| l.before.is_some()) && lines.iter().any(|l| l.after.is_some());
    for l in lines {
        chart::words(&mut out, &l.name);
        let p = l.after.or(l.before).unwrap_or(0.0);
        out.push(format!("  {} {}", chart::meter(p, 40), words(l, both)));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn record(before: &[(&str, f64)], after: &[(&str, f64)]) -> Record {
        let own = |l: &[(&str, f64)]| l.iter().map(|(n, p)| ((*n).to_owned(), *p)).collect();
        Record { beliefs_before: own(before), beliefs_after: own(after), ..Record::default() }
    }

    #[test]
    fn shows_what_moved_and_what_is_left() {
        let p = belief(&record(&[("a", 0.5), ("b", 0.3)], &[("b", 0.9), ("a", 0.05)])).unwrap();
        let text = p.chart.join("\n");
        assert!(text.contains("50 % -> 5 %") && text.contains("30 % -> 90 %"), "{text}");
        assert!(text.find("b\n").unwrap() < text.find("a\n").unwrap(), "the likeliest first");
        assert!(text.contains("everything else\n  [##") && text.contains("20 % -> 5 %"), "{text}");
        assert!(belief(&Record::default()).is_none());
    }

    #[test]
    fn never_claims_certainty_by_rounding() {
        assert_eq!(percent(0.996), "> 99 %");
        assert_eq!(percent(0.003), "< 1 %");
        assert_eq!((percent(0.0), percent(1.0)), ("0 %".to_owned(), "100 %".to_owned()));
    }
}
