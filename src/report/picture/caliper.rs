//! Disc caliper from above: linings, gaps and rotor to scale.
//!
//! Owns this drawing. Plates, pistons and the caliper's own walls carry no figure (assumed, for the drawing only).

use super::Picture;
use super::chart;
use super::ink::{Hang, Ink, Pen, WIDTH, breadth, fitting};
use super::place::{Entry, figure, legend, value};
use crate::dialogue::Record;
use crate::report::wrap::{cut, width};

const SHOWN: [&str; 6] = ["pad-left", "pad-gap-left", "rotor", "pad-gap-right", "pad-right", "rotor-runout"];

/// Units of the drawing for one millimetre.
const SCALE: f64 = 15.0;
/// Backing plate in millimetres.
const PLATE: f64 = 1.8;
const HEIGHT: f64 = 232.0;

/// The caliper, when a gap, a lining or the rotor's thickness is on the record.
pub(in crate::report) fn caliper(r: &Record) -> Option<Picture> {
    SHOWN[..5].iter().find_map(|id| figure(r, id))?;
    let legend = legend(r, &SHOWN);
    let lines: Vec<String> = legend.iter().map(Entry::line).collect();
    let mut verdict = String::new();
    if let (Some(left), Some(right)) = (value(r, "pad-gap-left"), value(r, "pad-gap-right")) {
        verdict = match (left <= 0.0, right <= 0.0) {
            (true, true) => "Both pads touch.".into(),
            (true, false) => "The left pad touches.".into(),
            (false, true) => "The right pad touches.".into(),
            (false, false) => String::new(),
        };
        // Half of what the gaps differ by would bring the caliper to the middle of the rotor.
        let shift = (left - right).abs() * 500.0;
        if shift >= 0.05 {
            let side = if left > right { "left" } else { "right" };
            verdict =
                format!("{verdict} Caliper {shift:.2} mm too far to the {side} of the rotor.").trim_start().to_owned();
        }
    }
    let title = "Disc caliper from above".to_owned();
    let desc = format!("Seen by the rider, front at the top. {}. {verdict}", lines.join("; ")).trim_end().to_owned();
    let mut chart = in_characters(r);
    lines.iter().for_each(|l| chart::words(&mut chart, l));
    if !verdict.is_empty() {
        chart::words(&mut chart, &verdict);
    }
    let caption = format!("Seen by the rider, front at the top; linings, gaps and rotor to scale. {verdict}")
        .trim_end()
        .to_owned();
    Some(Picture { svg: draw(r, &title, &desc), title, caption, chart, legend, height: HEIGHT })
}

fn draw(r: &Record, title: &str, desc: &str) -> String {
    let mm = |id: &str, ordinary: f64| value(r, id).map_or(ordinary, |v| v * 1000.0);
    let mut ink = Ink::new("caliper", HEIGHT);
    let middle = WIDTH / 2.0;
    let rotor = mm("rotor", 1.8) * SCALE;
    let (top, foot) = (58.0, 172.0);
    // What does not fit beside the rotor is drawn at a smaller scale, everything alike.
    let side = |s: &str| mm(&format!("pad-gap-{s}"), 0.3) + mm(&format!("pad-{s}"), 2.0);
    let widest = rotor / 2.0 + side("left").max(side("right")) * SCALE;
    let room = middle - PLATE * SCALE - 34.0;
    let shrink = (room / widest).min(1.0);
    let unit = SCALE * shrink;
    let rotor = rotor * shrink;

    ink.block((middle - rotor / 2.0, 34.0), rotor, HEIGHT - 54.0, Pen::Solid);
    let mut labels: Vec<(f64, &str)> = vec![(middle, "rotor")];
    for (s, dir) in [("left", -1.0), ("right", 1.0)] {
        let gap = mm(&format!("pad-gap-{s}"), 0.3) * unit;
        let pad = mm(&format!("pad-{s}"), 2.0) * unit;
        let plate = PLATE * unit;
        let face = middle + dir * (rotor / 2.0 + gap);
        let block = |from: f64, long: f64| if dir > 0.0 { from } else { from - long };
        ink.block((block(face, pad), top + 14.0), pad, foot - top - 28.0, Pen::Hatch);
        let back = face + dir * pad;
        ink.block((block(back, plate), top + 8.0), plate, foot - top - 16.0, Pen::White);
        let behind = back + dir * plate;
        ink.block((block(behind, 16.0), top + 30.0), 16.0, foot - top - 60.0, Pen::White);
        let edge = behind + dir * 16.0;
        ink.chain(
            &[(edge - dir * 16.0, top), (edge + dir * 8.0, top), (edge + dir * 8.0, foot), (edge - dir * 16.0, foot)],
            Pen::Line,
        );
        labels.push((face - dir * gap / 2.0, if s == "left" { "pad-gap-left" } else { "pad-gap-right" }));
        labels.push((face + dir * pad / 2.0, if s == "left" { "pad-left" } else { "pad-right" }));
    }
    // Gaps are labelled above, the rotor in the middle below, the linings on its two sides.
    let text = |id: &str| figure(r, id).map(|f| fitting(&f.shown, 84.0)).unwrap_or_default();
    let broad = SHOWN[..5].iter().map(|id| breadth(&text(id))).fold(30.0, f64::max) + 8.0;
    for (x, id) in labels {
        let side = (x - middle).signum();
        let (from, away) = match id {
            "rotor" => (HEIGHT - 20.0, 0.0),
            "pad-left" | "pad-right" => (foot - 22.0, broad),
            _ => (top + 26.0, broad / 2.0),
        };
        let place = if side < 0.0 { x.min(middle - away) } else { x.max(middle + away) };
        if text(id).is_empty() {
            continue;
        }
        if id.starts_with("pad-gap") {
            ink.line((x, from), (x, 46.0), Pen::Thin);
            ink.line((x, 46.0), (place, 30.0), Pen::Thin);
            ink.label((place, 26.0), Hang::Middle, &text(id));
        } else {
            ink.line((x, from), (place, HEIGHT - 16.0), Pen::Thin);
            ink.label((place, HEIGHT - 4.0), Hang::Middle, &text(id));
        }
    }
    ink.small((4.0, 12.0), Hang::Start, "left");
    ink.small((WIDTH - 4.0, 12.0), Hang::End, "right");
    ink.measure((6.0, HEIGHT - 40.0), (6.0 + unit, HEIGHT - 40.0));
    ink.small((12.0 + unit, HEIGHT - 36.5), Hang::Start, "1 mm");
    ink.finish(title, desc)
}

fn in_characters(r: &Record) -> Vec<String> {
    let cell = |id: &str, fill: &str| {
        let text = figure(r, id).map_or("?", |f| f.shown.as_str());
        centre(&format!(" {} ", cut(text, 9)), 11, fill)
    };
    let head = ["lining", "gap", "rotor", "gap", "lining"];
    let names: Vec<String> = head.iter().map(|h| centre(h, 11, " ")).collect();
    vec![
        format!(" left  {}  right", names.join(" ")),
        format!(
            "[plate|{}|{}|{}|{}|{}|plate]",
            cell("pad-left", "/"),
            cell("pad-gap-left", " "),
            cell("rotor", "#"),
            cell("pad-gap-right", " "),
            cell("pad-right", "/"),
        ),
    ]
}

/// The text in the middle of so many columns.
fn centre(text: &str, columns: usize, fill: &str) -> String {
    let room = columns.saturating_sub(width(text));
    format!("{}{text}{}", fill.repeat(room / 2), fill.repeat(room - room / 2))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dialogue::RecordedFigure;

    fn gaps(left: f64, right: f64) -> Record {
        let f = |id: &str, si: f64| RecordedFigure {
            calculator: "measured".into(),
            id: id.into(),
            si,
            shown: format!("{} mm", si * 1000.0),
            ..Default::default()
        };
        Record { figures: vec![f("pad-gap-left", left), f("pad-gap-right", right)], ..Record::default() }
    }

    #[test]
    fn says_which_way_the_caliper_stands() {
        let p = caliper(&gaps(0.0, 0.0004)).unwrap();
        assert!(p.caption.contains("The left pad touches. Caliper 0.20 mm too far to the right"), "{}", p.caption);
        let p = caliper(&gaps(0.0005, 0.0001)).unwrap();
        assert!(p.caption.contains("Caliper 0.20 mm too far to the left"), "{}", p.caption);
        assert!(!caliper(&gaps(0.0003, 0.0003)).unwrap().caption.contains("too far"));
        assert!(p.chart.iter().all(|l| width(l) <= chart::COLUMNS), "{:#?}", p.chart);
    }
}
