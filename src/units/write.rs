//! Writes values back in people's own units, with digits that mean something.
//!
//! Owns [`write()`], [`write_in`] and [`Preference`]. Must not know what a value is for.

use super::dimension::{Dimension, Quantity};
use super::table as u;
use super::unit::Unit;

/// In whose measures a person wants to read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Preference {
    /// Millimetres, kilograms, bar.
    #[default]
    Metric,
    /// Inches, pounds, psi.
    Imperial,
    /// The unit in which it was given.
    AsGiven(&'static Unit),
}

/// The value in the preferred measures: "176 cm", "28 psi (1.9 bar)".
///
/// A preference for a unit of another dimension falls back to metric.
#[must_use]
pub fn write(quantity: Quantity, preference: Preference) -> String {
    let si = quantity.si;
    let metric = metric_unit(quantity);
    let imperial = imperial_unit(quantity);
    match preference {
        Preference::AsGiven(unit) if unit.dimension == quantity.dimension => as_given(si, unit),
        _ if quantity.dimension == Dimension::Pressure && si.abs() < 5e7 => {
            let (bar, psi) = (u::BAR.value_of(si), u::PSI.value_of(si));
            let bar_digits = if bar.abs() < 1.0 { 2 } else { 1 };
            let bar = format!("{} bar", fixed(bar, bar_digits));
            let psi = format!("{} psi", fixed(psi, u8::from(psi.abs() < 20.0)));
            if preference == Preference::Imperial { format!("{psi} ({bar})") } else { format!("{bar} ({psi})") }
        }
        Preference::Imperial => write_in(quantity, imperial, None),
        _ => write_in(quantity, metric, None),
    }
}

/// The value in one unit; `decimals` as given, or about three figures where none is given.
///
/// A unit of another dimension is replaced by the metric one.
#[must_use]
pub fn write_in(quantity: Quantity, unit: &'static Unit, decimals: Option<u8>) -> String {
    let unit = if unit.dimension == quantity.dimension { unit } else { metric_unit(quantity) };
    let value = unit.value_of(quantity.si);
    let decimals = decimals.unwrap_or_else(|| sensible(value, unit));
    let figure = trimmed(&fixed(value, decimals));
    with_symbol(&figure, unit)
}

fn with_symbol(figure: &str, unit: &Unit) -> String {
    match (unit.symbol, unit.dimension) {
        ("", _) => figure.to_owned(),
        ("of 1", _) => figure.to_owned(),
        ("C" | "F", Dimension::Temperature) => format!("{figure} °{}", unit.symbol),
        ("g0", _) => format!("{figure} g"),
        ("turn", _) if figure.parse::<f64>().is_ok_and(|v| v.abs() > 1.0) => format!("{figure} turns"),
        (symbol, _) => format!("{figure} {symbol}"),
    }
}

fn sensible(value: f64, unit: &Unit) -> u8 {
    let whole = value.abs().max(1e-9).log10().floor();
    (2.0 - whole).clamp(0.0, f64::from(unit.decimals)) as u8
}

fn fixed(value: f64, decimals: u8) -> String {
    let text = format!("{value:.*}", usize::from(decimals));
    if text.starts_with('-') && text.chars().all(|c| matches!(c, '-' | '0' | '.')) {
        text[1..].to_owned()
    } else {
        text
    }
}

fn trimmed(figure: &str) -> String {
    if figure.contains('.') { figure.trim_end_matches('0').trim_end_matches('.').to_owned() } else { figure.to_owned() }
}

/// As the person gave it: "5 ft 10 in", "11 st 4 lb", "1/2 turn", otherwise the figure with one digit more than needed.
fn as_given(si: f64, unit: &'static Unit) -> String {
    let value = unit.value_of(si);
    if let (Some(below), "ft" | "st") = (unit.below, unit.symbol) {
        let per = (unit.to_si(1.0) / below.to_si(1.0)).round();
        let small = (below.value_of(si.abs()) * 10.0).round() / 10.0;
        let (whole, rest) = ((small / per).floor(), small - (small / per).floor() * per);
        let sign = if value < 0.0 { "-" } else { "" };
        let rest = trimmed(&fixed(rest, 1));
        return if rest == "0" {
            format!("{sign}{whole} {}", unit.symbol)
        } else {
            format!("{sign}{whole} {} {rest} {}", unit.symbol, below.symbol)
        };
    }
    if unit.symbol == "turn" && value > 0.0 && value < 20.0 {
        let eighths = value * 8.0;
        if (eighths - eighths.round()).abs() < 1e-9 && eighths.round() % 8.0 != 0.0 {
            let (mut top, mut bottom) = ((eighths.round() as u32) % 8, 8);
            while top.is_multiple_of(2) {
                (top, bottom) = (top / 2, bottom / 2);
            }
            let whole = value.floor();
            let text = if whole > 0.0 { format!("{whole} {top}/{bottom}") } else { format!("{top}/{bottom}") };
            return format!("{text} {}", if value > 1.0 { "turns" } else { "turn" });
        }
    }
    let decimals = sensible(value, unit).saturating_add(1).min(unit.decimals.max(1) + 1);
    with_symbol(&trimmed(&fixed(value, decimals)), unit)
}

fn metric_unit(quantity: Quantity) -> &'static Unit {
    let size = quantity.si.abs();
    match quantity.dimension {
        Dimension::Length if size < 0.99995 => &u::MM,
        Dimension::Length if size < 3.0 => &u::CM,
        Dimension::Length if size < 1000.0 => &u::M,
        Dimension::Length => &u::KM,
        Dimension::Area if size < 0.05 => &u::CM2,
        Dimension::Area => &u::M2,
        Dimension::Volume if size < 0.001 => &u::ML,
        Dimension::Volume => &u::LITRE,
        Dimension::Mass if size < 1.0 => &u::G,
        Dimension::Mass => &u::KG,
        Dimension::Pressure if size < 5e7 => &u::BAR,
        Dimension::Pressure => &u::MPA,
        Dimension::Angle => &u::DEG,
        Dimension::Force => &u::N,
        Dimension::Torque => &u::NM,
        Dimension::Temperature => &u::CELSIUS,
        Dimension::TemperatureRise => &u::RISE_C,
        Dimension::Time if size < 120.0 => &u::SECOND,
        Dimension::Time if size < 7200.0 => &u::MINUTE,
        Dimension::Time => &u::HOUR,
        Dimension::Speed => &u::KMH,
        Dimension::Acceleration => &u::MPS2,
        Dimension::Energy if size < 10_000.0 => &u::JOULE,
        Dimension::Energy => &u::KJ,
        Dimension::Power if size < 2000.0 => &u::WATT,
        Dimension::Power => &u::KW,
        Dimension::SpringRate => &u::N_PER_MM,
        Dimension::Frequency => &u::HZ,
        Dimension::Ratio => &u::PERCENT,
        Dimension::Count => &u::TIMES,
        Dimension::Plain => &u::PLAIN,
    }
}

fn imperial_unit(quantity: Quantity) -> &'static Unit {
    let size = quantity.si.abs();
    match quantity.dimension {
        Dimension::Length if size < 3.0 => &u::INCH,
        Dimension::Length if size < 1000.0 => &u::FT,
        Dimension::Length => &u::MILE,
        Dimension::Area => &u::IN2,
        Dimension::Volume => &u::IN3,
        Dimension::Mass if size < 0.4536 => &u::OZ,
        Dimension::Mass => &u::LB,
        Dimension::Pressure => &u::PSI,
        Dimension::Force => &u::LBF,
        Dimension::Torque if size < 14.0 => &u::LBF_IN,
        Dimension::Torque => &u::LBF_FT,
        Dimension::Temperature => &u::FAHRENHEIT,
        Dimension::TemperatureRise => &u::RISE_F,
        Dimension::Speed => &u::MPH,
        Dimension::SpringRate => &u::LB_PER_IN,
        _ => metric_unit(quantity),
    }
}

#[cfg(test)]
#[path = "write_tests.rs"]
mod tests;
