//! Small charts in characters; as plain words where drawing is off.

use std::cmp::Ordering::Greater;

use super::span::{Label, Line, Look, Span};
use super::wrap::wrap;
use crate::dialogue::Bar;

/// A meter of `cells` characters for a share of 0 to 1.
pub(super) fn meter(p: f64, cells: usize) -> String {
    let full = (p.clamp(0.0, 1.0) * cells as f64).round() as usize;
    format!("[{}{}]", "#".repeat(full), ".".repeat(cells - full))
}

/// Values side by side with their bands.
pub(super) fn bars(title: &str, bars: &[Bar], look: Look) -> Vec<Line> {
    let mut out = vec![vec![Span::new(Label::Dim, title.to_owned())]];
    let lo = bars.iter().map(|b| b.lo.min(b.value)).fold(f64::INFINITY, f64::min);
    let hi = bars.iter().map(|b| b.hi.max(b.value)).fold(f64::NEG_INFINITY, f64::max);
    let name = bars.iter().map(|b| b.label.chars().count()).max().unwrap_or(0).min(look.width / 3);
    let value = bars.iter().map(|b| b.shown.chars().count()).max().unwrap_or(0);
    let room = look.width.saturating_sub(name + value + 4);
    let span = hi - lo;
    if !look.drawn || room < 12 || !span.is_finite() || span <= 0.0 {
        for b in bars {
            out.extend(wrap(&[Span::new(Label::Plain, format!("- {}: {}", b.label, b.shown))], look.width, 2));
        }
        return out;
    }
    let at = |v: f64| (((v - lo) / span) * (room - 1) as f64).round() as usize;
    for b in bars {
        let mut cells = vec![' '; room];
        for c in cells.iter_mut().take(at(b.hi).min(room - 1) + 1).skip(at(b.lo)) {
            *c = '-';
        }
        cells[at(b.value).min(room - 1)] = 'O';
        let label: String = b.label.chars().take(name).collect();
        out.push(vec![
            Span::new(Label::Plain, format!("  {label:<name$} ")),
            Span::new(Label::Good, cells.into_iter().collect::<String>()),
            Span::new(Label::Plain, format!(" {}", b.shown)),
        ]);
    }
    out
}

/// A curve with marked points.
pub(super) fn curve(
    title: &str,
    axes: (&str, &str),
    points: &[(f64, f64)],
    marks: &[(f64, f64, String)],
    look: Look,
) -> Vec<Line> {
    let mut out = vec![vec![Span::new(Label::Dim, format!("{title} ({} over {})", axes.1, axes.0))]];
    let all: Vec<(f64, f64)> = points.iter().copied().chain(marks.iter().map(|m| (m.0, m.1))).collect();
    let range = |f: fn(&(f64, f64)) -> f64| {
        all.iter().map(f).fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), v| (lo.min(v), hi.max(v)))
    };
    let ((x0, x1), (y0, y1)) = (range(|p| p.0), range(|p| p.1));
    let words = |out: &mut Vec<Line>| {
        for (x, y, name) in marks {
            out.extend(wrap(&[Span::new(Label::Plain, format!("- {name}: {x:.3} -> {y:.3}"))], look.width, 2));
        }
    };
    let (width, height) = (look.width.saturating_sub(12).min(56), 9usize);
    if !look.drawn || width < 16 || x1.partial_cmp(&x0) != Some(Greater) || y1.partial_cmp(&y0) != Some(Greater) {
        words(&mut out);
        return out;
    }
    let mut grid = vec![vec![' '; width]; height];
    let cell = |x: f64, y: f64| {
        let c = ((x - x0) / (x1 - x0) * (width - 1) as f64).round() as usize;
        let r = ((y1 - y) / (y1 - y0) * (height - 1) as f64).round() as usize;
        (r.min(height - 1), c.min(width - 1))
    };
    for (x, y) in points {
        let (r, c) = cell(*x, *y);
        grid[r][c] = '.';
    }
    for (i, (x, y, _)) in marks.iter().enumerate() {
        let (r, c) = cell(*x, *y);
        grid[r][c] = char::from(b'A' + u8::try_from(i % 26).unwrap_or(0));
    }
    for (r, row) in grid.into_iter().enumerate() {
        let tick = match r {
            0 => format!("{y1:>9.1}"),
            r if r == height - 1 => format!("{y0:>9.1}"),
            _ => " ".repeat(9),
        };
        out.push(vec![
            Span::new(Label::Dim, format!("{tick} |")),
            Span::new(Label::Good, row.into_iter().collect::<String>()),
        ]);
    }
    out.push(vec![Span::new(
        Label::Dim,
        format!("{}{x0:<.1}{}{x1:.1}", " ".repeat(11), " ".repeat(width.saturating_sub(10))),
    )]);
    for (i, (x, y, name)) in marks.iter().enumerate() {
        let letter = char::from(b'A' + u8::try_from(i % 26).unwrap_or(0));
        out.extend(wrap(&[Span::new(Label::Plain, format!("  {letter}: {name} ({x:.1}, {y:.1})"))], look.width, 5));
    }
    out
}
