//! Drawing by small templates: lines, shapes and labels in black, white and hatching.
//!
//! Owns how a picture is written as SVG and that every text in it is escaped. Must not know what is drawn.

use crate::report::html::escape;

/// Width of every picture, in its own units: about a phone's, so that lettering keeps its size there.
pub(super) const WIDTH: f64 = 360.0;

/// Height of a letter.
pub(super) const LETTER: f64 = 12.0;

/// A point of the drawing; y grows downwards.
pub(super) type At = (f64, f64);

/// How a line or shape is drawn. No colours: paper and eyes differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Pen {
    /// A strong line.
    Bold,
    /// A line.
    Line,
    /// A thin line.
    Thin,
    /// A thin broken line.
    Dash,
    /// Filled black.
    Solid,
    /// White with a line.
    White,
    /// White without a line.
    Blank,
    /// Hatched with a line.
    Hatch,
}

/// Where a label hangs on its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Hang {
    /// The point is its left end.
    Start,
    /// The point is its middle.
    Middle,
    /// The point is its right end.
    End,
}

/// A drawing under way.
#[derive(Clone, Debug)]
pub(super) struct Ink {
    prefix: String,
    height: f64,
    body: String,
    hatched: bool,
}

impl Ink {
    /// A drawing of this height; `prefix` makes its names unique on a page and consists of letters and digits.
    pub(super) fn new(prefix: &str, height: f64) -> Self {
        Self { prefix: prefix.to_owned(), height, body: String::new(), hatched: false }
    }

    fn pen(&mut self, pen: Pen) -> String {
        match pen {
            Pen::Bold => " stroke-width=\"3\"".into(),
            Pen::Line => " stroke-width=\"1.6\"".into(),
            Pen::Thin => " stroke-width=\".8\"".into(),
            Pen::Dash => " stroke-width=\".8\" stroke-dasharray=\"4 3\"".into(),
            Pen::Solid => " fill=\"#000\" stroke=\"none\"".into(),
            Pen::White => " fill=\"#fff\" stroke-width=\"1.2\"".into(),
            Pen::Blank => " fill=\"#fff\" stroke=\"none\"".into(),
            Pen::Hatch => {
                self.hatched = true;
                format!(" fill=\"url(#{}h)\" stroke-width=\"1.2\"", self.prefix)
            }
        }
    }

    /// A straight line.
    pub(super) fn line(&mut self, a: At, b: At, pen: Pen) {
        let pen = self.pen(pen);
        self.body.push_str(&format!("<path d=\"M{} {}L{} {}\"{pen}/>", n(a.0), n(a.1), n(b.0), n(b.1)));
    }

    /// A chain of lines.
    pub(super) fn chain(&mut self, points: &[At], pen: Pen) {
        let pen = self.pen(pen);
        self.body.push_str(&format!("<path d=\"{}\"{pen}/>", path(points)));
    }

    /// A closed shape.
    pub(super) fn shape(&mut self, points: &[At], pen: Pen) {
        let pen = self.pen(pen);
        self.body.push_str(&format!("<path d=\"{}Z\"{pen}/>", path(points)));
    }

    /// A rectangle by its upper left corner.
    pub(super) fn block(&mut self, at: At, width: f64, height: f64, pen: Pen) {
        let pen = self.pen(pen);
        let (w, h) = (n(width.max(0.0)), n(height.max(0.0)));
        self.body.push_str(&format!("<rect x=\"{}\" y=\"{}\" width=\"{w}\" height=\"{h}\"{pen}/>", n(at.0), n(at.1)));
    }

    /// A circle.
    pub(super) fn circle(&mut self, at: At, radius: f64, pen: Pen) {
        let pen = self.pen(pen);
        self.body.push_str(&format!("<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{pen}/>", n(at.0), n(at.1), n(radius)));
    }

    /// A label on one line. What lies behind it is kept clear.
    pub(super) fn label(&mut self, at: At, hang: Hang, text: &str) {
        self.write(at, hang, LETTER, text);
    }

    /// A label that interrupts the line it stands on.
    pub(super) fn tag(&mut self, at: At, text: &str) {
        let wide = breadth(text) + 4.0;
        self.block((at.0 - wide / 2.0, at.1 - LETTER + 1.0), wide, LETTER + 3.0, Pen::Blank);
        self.label(at, Hang::Middle, text);
    }

    /// A small label.
    pub(super) fn small(&mut self, at: At, hang: Hang, text: &str) {
        self.write(at, hang, LETTER - 2.0, text);
    }

    fn write(&mut self, at: At, hang: Hang, size: f64, text: &str) {
        let anchor = match hang {
            Hang::Start => "",
            Hang::Middle => " text-anchor=\"middle\"",
            Hang::End => " text-anchor=\"end\"",
        };
        let size = if size == LETTER { String::new() } else { format!(" font-size=\"{}\"", n(size)) };
        self.body.push_str(&format!(
            "<text x=\"{}\" y=\"{}\"{anchor}{size} fill=\"#000\" stroke=\"#fff\" stroke-width=\"3\" paint-order=\"stroke\">{}</text>",
            n(at.0),
            n(at.1),
            escape(text)
        ));
    }

    /// A measuring line from `a` to `b` with a short bar at each end.
    pub(super) fn measure(&mut self, a: At, b: At) {
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let long = dx.hypot(dy).max(1e-9);
        let (ox, oy) = (-dy / long * 4.0, dx / long * 4.0);
        self.line(a, b, Pen::Thin);
        for p in [a, b] {
            self.line((p.0 - ox, p.1 - oy), (p.0 + ox, p.1 + oy), Pen::Line);
        }
    }

    /// The finished picture, with its text alternatives.
    pub(super) fn finish(self, title: &str, desc: &str) -> String {
        let p = &self.prefix;
        let hatch = if self.hatched {
            format!(
                "<defs><pattern id=\"{p}h\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><rect width=\"5\" height=\"5\" fill=\"#fff\" stroke=\"none\"/><path d=\"M0 0V5\" stroke-width=\"1.6\"/></pattern></defs>"
            )
        } else {
            String::new()
        };
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {} {}\" role=\"img\" aria-labelledby=\"{p}t {p}d\" font-family=\"sans-serif\" font-size=\"{}\" fill=\"none\" stroke=\"#000\" stroke-linecap=\"round\" stroke-linejoin=\"round\"><title id=\"{p}t\">{}</title><desc id=\"{p}d\">{}</desc>{hatch}{}</svg>",
            n(WIDTH),
            n(self.height),
            n(LETTER),
            escape(title),
            escape(desc),
            self.body
        )
    }
}

/// About how wide a label of this many letters is.
pub(super) fn breadth(text: &str) -> f64 {
    crate::report::wrap::width(text) as f64 * LETTER * 0.6
}

/// A value as short as a drawing wants it: a sign for the word where there is one.
pub(super) fn tight(shown: &str) -> String {
    let text = shown.replace(" degrees", "\u{b0}").replace(" degree", "\u{b0}");
    match text.strip_suffix(" deg") {
        Some(number) => format!("{number}\u{b0}"),
        None => text,
    }
}

/// The text cut to what fits into `room`.
pub(super) fn fitting(text: &str, room: f64) -> String {
    let columns = (room / (LETTER * 0.6)).max(3.0) as usize;
    crate::report::wrap::cut(text, columns)
}

/// A coordinate with one decimal: a tenth of a unit is finer than any printer.
fn n(v: f64) -> String {
    let v = (v * 10.0).round() / 10.0;
    if v == 0.0 { "0".to_owned() } else { format!("{v}") }
}

fn path(points: &[At]) -> String {
    points.iter().enumerate().map(|(i, p)| format!("{}{} {}", if i == 0 { "M" } else { "L" }, n(p.0), n(p.1))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_text_is_escaped_and_every_number_short() {
        let mut ink = Ink::new("p", 100.0);
        ink.label((1.0 / 3.0, -0.04), Hang::End, "</text><script>");
        ink.block((0.0, 0.0), -1.0, 2.0, Pen::Hatch);
        let svg = ink.finish("<b>", "\"'");
        assert!(svg.contains("x=\"0.3\" y=\"0\"") && svg.contains("&lt;/text&gt;&lt;script&gt;"));
        assert!(svg.contains("<title id=\"pt\">&lt;b&gt;</title>") && svg.contains("&quot;&#39;</desc>"));
        assert!(svg.contains("url(#ph)") && svg.contains("id=\"ph\"") && svg.contains("width=\"0\""));
    }
}
