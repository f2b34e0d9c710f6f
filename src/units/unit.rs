//! What a unit is: its symbol, how people spell it, and how it converts.
//!
//! Owns [`Unit`]; the entries stand in `table.rs`. Conversions are done by `uom`. Must not know how text is read.

use super::dimension::Dimension;

/// In whose measures a unit stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum System {
    /// Millimetres, kilograms, bar.
    Metric,
    /// Inches, pounds, psi.
    Imperial,
    /// Used by both: degrees, seconds, per cent, teeth.
    Both,
}

/// One unit of measure.
pub struct Unit {
    /// How the unit is written; unique in the table.
    pub symbol: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// In whose measures it stands.
    pub system: System,
    /// Spellings that mean this unit anywhere, lower case.
    pub spellings: &'static [&'static str],
    /// Spellings that mean this unit only where its dimension is asked for ("c" for degrees Celsius, "lb" for psi).
    pub loose: &'static [&'static str],
    /// Decimals that make sense for a small value of it.
    pub decimals: u8,
    /// The unit a bare number after it takes: the 10 of "5 ft 10".
    pub below: Option<&'static Unit>,
    pub(super) into: fn(f64) -> f64,
    pub(super) from: fn(f64) -> f64,
}

impl Unit {
    /// A value of this unit in the SI unit of its dimension.
    #[must_use]
    pub fn to_si(&self, value: f64) -> f64 {
        (self.into)(value)
    }

    /// An SI value in this unit.
    #[must_use]
    pub fn value_of(&self, si: f64) -> f64 {
        (self.from)(si)
    }
}

impl PartialEq for Unit {
    fn eq(&self, other: &Self) -> bool {
        self.symbol == other.symbol
    }
}

impl Eq for Unit {}

impl std::fmt::Debug for Unit {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.symbol)
    }
}

impl std::fmt::Display for Unit {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.symbol)
    }
}
