//! Curves with readings and targets: the spring of a fork, a pressure against a width.
//!
//! Owns this drawing. Must not fit or compute a curve: points come with the record.

use super::Picture;
use super::axis::{Axis, number};
use super::chart;
use super::ink::{At, Hang, Ink, Pen, WIDTH, breadth, fitting};
use crate::dialogue::{Record, RecordedCurve, RecordedMark};

const HEIGHT: f64 = 200.0;
const LEFT: f64 = 46.0;
const RIGHT: f64 = WIDTH - 10.0;
const TOP: f64 = 22.0;
const FOOT: f64 = HEIGHT - 36.0;

/// Every curve of the record that has something to draw.
pub(in crate::report) fn curves(r: &Record) -> Vec<Picture> {
    r.curves.iter().enumerate().filter_map(|(i, c)| curve(c, i)).collect()
}

fn curve(c: &RecordedCurve, i: usize) -> Option<Picture> {
    if c.points.len() < 2 && c.marks.len() < 2 {
        return None;
    }
    let all = || c.points.iter().copied().chain(c.marks.iter().map(|m| (m.x, m.y)));
    let x = Axis::over(all().map(|p| p.0), LEFT, RIGHT)?;
    let y = Axis::over(all().map(|p| p.1), FOOT, TOP)?;
    let mut ink = Ink::new(&format!("curve{i}"), HEIGHT);
    frame(&mut ink, (&x, &c.x), (&y, &c.y));
    let at = |p: (f64, f64)| (x.at(p.0), y.at(p.1));
    let line: Vec<At> = c.points.iter().map(|p| at(*p)).collect();
    ink.chain(&line, Pen::Line);
    for (n, m) in c.marks.iter().enumerate() {
        let p = at((m.x, m.y));
        match m.role.as_str() {
            "target" => target(&mut ink, p),
            "reading" => cross(&mut ink, p),
            _ => ink.circle(p, 3.0, Pen::Solid),
        }
        let text = chart::letter(n).to_string();
        let low = p.1 < TOP + 14.0;
        let hang = if p.0 > RIGHT - 16.0 { Hang::End } else { Hang::Start };
        let aside = if hang == Hang::End { -7.0 } else { 7.0 };
        ink.label((p.0 + aside, p.1 + if low { 15.0 } else { -6.0 }), hang, &text);
    }
    let said: Vec<String> = c.marks.iter().enumerate().map(|(n, m)| chart::mark(n, &say(m), m.x, m.y)).collect();
    let title = if c.title.is_empty() { "Curve".to_owned() } else { c.title.clone() };
    let mut desc = format!("Curve of {} against {}", name(&c.y), name(&c.x));
    if let (Some(first), Some(last)) = (c.points.first(), c.points.last()) {
        let pair = |p: &(f64, f64)| format!("({}, {})", number(p.0), number(p.1));
        desc.push_str(&format!(", from {} to {}", pair(first), pair(last)));
    }
    let mut chart = chart::grid(&c.points, &c.marks.iter().map(|m| (m.x, m.y)).collect::<Vec<_>>(), &c.x, &c.y);
    said.iter().for_each(|s| chart::words(&mut chart, s));
    let caption = said.join("; ");
    let desc = format!("{desc}. {caption}");
    Some(Picture { svg: ink.finish(&title, &desc), title, caption, chart, legend: Vec::new(), height: HEIGHT })
}

fn name(axis: &str) -> &str {
    if axis.is_empty() { "a value" } else { axis }
}

fn say(m: &RecordedMark) -> String {
    match (m.role.as_str(), m.label.is_empty()) {
        ("", _) | (_, true) => {
            if m.label.is_empty() {
                m.role.clone()
            } else {
                m.label.clone()
            }
        }
        (role, _) if m.label.to_lowercase().contains(role) => m.label.clone(),
        (role, _) => format!("{role}, {}", m.label),
    }
}

/// Both axes with their ticks and names.
pub(super) fn frame(ink: &mut Ink, (x, across): (&Axis, &str), (y, up): (&Axis, &str)) {
    ink.line((LEFT, FOOT), (RIGHT, FOOT), Pen::Thin);
    ink.line((LEFT, TOP), (LEFT, FOOT), Pen::Thin);
    for (v, word) in x.ticks(5) {
        let px = x.at(v);
        ink.line((px, FOOT), (px, FOOT + 4.0), Pen::Thin);
        let px = px.min(RIGHT - breadth(&word) / 2.0 + 6.0);
        ink.small((px, FOOT + 15.0), Hang::Middle, &word);
    }
    for (v, word) in y.ticks(5) {
        ink.line((LEFT - 4.0, y.at(v)), (LEFT, y.at(v)), Pen::Thin);
        ink.small((LEFT - 6.0, y.at(v) + 3.5), Hang::End, &fitting(&word, LEFT - 4.0));
    }
    ink.label((RIGHT, FOOT + 30.0), Hang::End, &fitting(across, RIGHT - LEFT));
    ink.label((4.0, 12.0), Hang::Start, &fitting(up, WIDTH - 10.0));
}

/// A ring with lines to both axes.
fn target(ink: &mut Ink, p: At) {
    ink.line((LEFT, p.1), p, Pen::Dash);
    ink.line((p.0, FOOT), p, Pen::Dash);
    ink.circle(p, 6.0, Pen::White);
    ink.circle(p, 2.0, Pen::Solid);
}

fn cross(ink: &mut Ink, p: At) {
    ink.line((p.0 - 4.0, p.1 - 4.0), (p.0 + 4.0, p.1 + 4.0), Pen::Bold);
    ink.line((p.0 - 4.0, p.1 + 4.0), (p.0 + 4.0, p.1 - 4.0), Pen::Bold);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mark_says_what_it_is_once() {
        let m = |role: &str, label: &str| RecordedMark { role: role.into(), label: label.into(), ..Default::default() };
        assert_eq!(say(&m("target", "25 %")), "target, 25 %");
        assert_eq!(say(&m("reading", "First reading")), "First reading");
        assert_eq!(say(&m("reading", "")), "reading");
        assert_eq!(say(&m("", "x")), "x");
    }

    #[test]
    fn one_point_is_no_curve() {
        let c = RecordedCurve { points: vec![(1.0, 1.0)], ..Default::default() };
        assert!(curve(&c, 0).is_none());
    }
}
