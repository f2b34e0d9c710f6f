//! Tyres: pressure for a load and width, size designations, circumference.
//!
//! Sources: kukula-2013 for the power law; iso-5775 and circumference-brown for sizes. Must not know rims' limits or riders.

use std::f64::consts::PI;

use crate::units::{LB, MM, PSI, lex};

/// Starting pressure, Pa, for a wheel load in kg on a tyre of this width in m: 120 L W^-1.5 with L in lb, W in mm, psi.
pub(in crate::calc) fn pressure(load: f64, width: f64) -> f64 {
    PSI.to_si(120.0 * LB.value_of(load) * MM.value_of(width).powf(-1.5))
}

/// How far published fits of the same chart lie apart.
pub(in crate::calc) const PRESSURE_BAND: f64 = 0.10;

/// Circumference, m: pi (bead seat + 2 widths).
pub(in crate::calc) fn circumference(bead_seat: f64, width: f64) -> f64 {
    PI * (bead_seat + 2.0 * width)
}

/// A size as it was understood.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::calc) struct Size {
    /// Bead-seat diameter, m.
    pub(in crate::calc) bead_seat: f64,
    /// Width, m, where the text gives one.
    pub(in crate::calc) width: Option<f64>,
    /// Told by an inch name, not by the width-diameter code.
    pub(in crate::calc) by_name: bool,
    /// The name's diameter is known from memory only.
    pub(in crate::calc) from_memory: bool,
    /// The name is used for more than one diameter.
    pub(in crate::calc) ambiguous: bool,
    /// Bytes in the text.
    pub(in crate::calc) span: std::ops::Range<usize>,
}

/// Bead-seat diameters in mm that are in use, and whether they are known from memory only.
pub(in crate::calc) const BEAD_SEATS: &[(u32, bool)] = &[
    (203, false),
    (305, true),
    (349, true),
    (355, true),
    (406, false),
    (451, true),
    (507, false),
    (520, true),
    (540, true),
    (547, true),
    (559, false),
    (571, false),
    (584, false),
    (590, false),
    (597, true),
    (622, false),
    (630, true),
    (635, true),
];

/// Reads "57-622", "29x2.4", "700x28C", "26 x 1 3/8", "650b x 47".
pub(in crate::calc) fn size(text: &str) -> Option<Size> {
    let tokens = lex(text);
    (0..tokens.len()).find_map(|i| coded(&tokens, i).or_else(|| named(text, &tokens, i)))
}

/// Every size in the text, in order.
pub(in crate::calc) fn sizes(text: &str) -> Vec<Size> {
    let mut all = Vec::new();
    let mut from = 0;
    while let Some(rest) = text.get(from..)
        && let Some(mut found) = size(rest)
    {
        found.span = found.span.start + from..found.span.end + from;
        from = found.span.end;
        all.push(found);
    }
    all
}

type Token = crate::units::Token;

/// "57-622" and "622-57".
fn coded(tokens: &[Token], i: usize) -> Option<Size> {
    let (a, dash, b) = (tokens.get(i)?, tokens.get(i + 1)?, tokens.get(i + 2)?);
    let (first, second) = (a.number()?, b.number()?);
    if !matches!(dash.text.as_str(), "-" | "–" | "x") {
        return None;
    }
    let known = |x: f64| BEAD_SEATS.iter().find(|(d, _)| f64::from(*d) == x);
    let wide = |x: f64| (15.0..=130.0).contains(&x);
    let (width, diameter) = if wide(first) && known(second).is_some() { (first, second) } else { (second, first) };
    let from_memory = known(diameter)?.1;
    wide(width).then(|| Size {
        bead_seat: MM.to_si(diameter),
        width: Some(MM.to_si(width)),
        by_name: false,
        from_memory,
        ambiguous: false,
        span: a.span.start..b.span.end,
    })
}

/// Inch and metric names.
fn named(text: &str, tokens: &[Token], i: usize) -> Option<Size> {
    let first = tokens.get(i)?;
    if first.glued && i > 0 && tokens[i - 1].is_word() {
        return None;
    }
    let (name, mut next) = crate::units::number_at(tokens, i)?;
    let mut letter = "";
    if let Some(t) = tokens.get(next).filter(|t| t.glued && ["a", "b", "c"].contains(&t.text.as_str())) {
        letter = match t.text.as_str() {
            "a" => "a",
            "b" => "b",
            _ => "c",
        };
        next += 1;
    }
    let word = |k: usize| tokens.get(k).map_or("", |t| t.text.as_str());
    let mut mark = matches!(word(next), "\"" | "″" | "''" | "in" | "inch" | "er" | "ers");
    next += usize::from(mark);
    mark |= !letter.is_empty();
    let mut width = None;
    if matches!(word(next), "x" | "×") {
        let (number, after) = crate::units::number_at(tokens, next + 1)?;
        width = Some(number);
        next = after;
        mark = true;
    }
    let span = first.span.start..tokens[next - 1].span.end;
    let said = &text[span.clone()];
    let fraction = said.contains('/') || said.chars().any(|c| "½¼¾⅜⅝⅛⅞".contains(c));
    let (diameter, from_memory, ambiguous) = match (name, letter, fraction) {
        (700.0, "" | "c", _) | (29.0, "", _) => (622, false, false),
        (650.0, "b", _) | (27.5, "", _) => (584, false, false),
        (650.0, "a", _) => (590, false, false),
        (650.0, "c", _) => (571, false, false),
        (28.0, "", true) => (622, true, true),
        (27.0, "", _) => (630, true, false),
        (26.0, "", false) => (559, false, false),
        (26.0, "", true) => {
            if said.contains("3/8") {
                (590, false, false)
            } else {
                (597, true, true)
            }
        }
        (24.0, "", false) => (507, false, false),
        (24.0, "", true) => (540, true, true),
        (20.0, "", false) => (406, false, false),
        (20.0, "", true) => (451, true, true),
        (18.0, "", _) => (355, true, true),
        (16.0, "", false) => (305, true, true),
        (16.0, "", true) => (349, true, true),
        (12.0 | 12.5, "", _) => (203, false, true),
        _ => return None,
    };
    let width = match width {
        Some(w) if name >= 400.0 && (15.0..=130.0).contains(&w) => Some(MM.to_si(w)),
        Some(w) if (0.8..=5.5).contains(&w) => Some(crate::units::INCH.to_si(w)),
        Some(_) => return None,
        None => None,
    };
    (mark && width.is_none_or(|w| w < 0.14)).then(|| Size {
        bead_seat: MM.to_si(f64::from(diameter)),
        width,
        by_name: true,
        from_memory,
        ambiguous,
        span,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_power_law_gives_its_published_table() {
        // 120 L W^-1.5 (kukula-2013, READ; values CALC), +-0.1 psi.
        for (width, load, psi) in [
            (23.0, 100.0, 108.8),
            (25.0, 100.0, 96.0),
            (28.0, 100.0, 81.0),
            (32.0, 100.0, 66.3),
            (37.0, 100.0, 53.3),
            (50.0, 100.0, 33.9),
            (28.0, 50.0, 40.5),
            (28.0, 150.0, 121.5),
            (102.0, 100.0, 11.65),
        ] {
            let got = PSI.value_of(pressure(LB.to_si(load), MM.to_si(width)));
            assert!((got - psi).abs() < 0.1, "{width} {load}: {got}");
        }
    }

    #[test]
    fn circumferences() {
        // Published rule pi (BSD + 2 w) (READ): 28-622 2130; the rest CALC.
        for (w, d, mm) in [
            (23.0, 622.0, 2098.6),
            (25.0, 622.0, 2111.2),
            (28.0, 622.0, 2130.0),
            (32.0, 622.0, 2155.1),
            (40.0, 622.0, 2205.4),
            (47.0, 559.0, 2051.5),
            (54.0, 559.0, 2095.4),
            (57.0, 584.0, 2192.8),
            (57.0, 622.0, 2312.2),
            (44.0, 406.0, 1551.9),
        ] {
            assert!((circumference(d, w) - mm).abs() < 0.1, "{w}-{d}");
        }
    }

    #[test]
    fn sizes_as_people_write_them() {
        for (text, bead, width) in [
            ("57-622", 622.0, Some(57.0)),
            ("29x2.4", 622.0, Some(60.96)),
            ("29 x 2.40", 622.0, Some(60.96)),
            ("700x28C", 622.0, Some(28.0)),
            ("700c x 28", 622.0, Some(28.0)),
            ("27.5 x 2.35", 584.0, Some(59.69)),
            ("26 x 1 3/8", 590.0, Some(34.925)),
            ("26x2.1", 559.0, Some(53.34)),
            ("650b x 47", 584.0, Some(47.0)),
            ("my tyre says 700 x 32c on the side", 622.0, Some(32.0)),
            ("20x1.75", 406.0, Some(44.45)),
            ("29er", 622.0, None),
            ("27.5\"", 584.0, None),
            ("12 1/2 x 2 1/4", 203.0, Some(57.15)),
        ] {
            let size = size(text).unwrap_or_else(|| panic!("{text}"));
            assert!((MM.value_of(size.bead_seat) - bead).abs() < 1e-6, "{text}: {size:?}");
            match (size.width, width) {
                (Some(got), Some(want)) => assert!((MM.value_of(got) - want).abs() < 0.01, "{text}"),
                (got, want) => assert_eq!(got.is_some(), want.is_some(), "{text}"),
            }
        }
        // Names are no diameters: 26 x 1 3/8 is not 26 decimal, a 16 inch name is used for several.
        assert_ne!(size("26 x 1 3/8").unwrap().bead_seat, size("26 x 1.75").unwrap().bead_seat);
        assert!(size("16 x 1.75").unwrap().ambiguous);
        for text in ["1x12", "57-623", "26x15", "42x15", "tyre", "29", "", "700"] {
            assert_eq!(size(text), None, "{text}");
        }
    }
}
