//! The values given to a calculator.
//!
//! Owns [`Values`] and [`Given`]. Must not know ranges or formulae.

use std::collections::BTreeMap;

use super::calculator::{Preset, Shown};
use super::error::CalcError;
use crate::units::{Dimension, Preference, Quantity, Reading, System, write, write_in};

/// One given value.
#[derive(Debug, Clone, PartialEq)]
pub enum Given {
    /// A value with a unit.
    Quantity(Reading),
    /// The id of a pick.
    Choice(&'static str),
    /// A whole number.
    Count(u32),
    /// A list or designation as typed.
    Text(String),
}

/// Given values by input id.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Values {
    given: BTreeMap<&'static str, Given>,
}

impl Values {
    /// Nothing given yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Gives `id` a value, in place of an earlier one.
    pub fn set(&mut self, id: &'static str, given: Given) {
        self.given.insert(id, given);
    }

    /// Gives `id` a value unless it has one.
    pub fn set_if_absent(&mut self, id: &'static str, given: Given) {
        self.given.entry(id).or_insert(given);
    }

    /// Takes a value back.
    pub fn remove(&mut self, id: &str) -> Option<Given> {
        self.given.remove(id)
    }

    /// Whether `id` was given.
    #[must_use]
    pub fn has(&self, id: &str) -> bool {
        self.given.contains_key(id)
    }

    /// Whether nothing was given.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.given.is_empty()
    }

    /// The value of `id`.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<&Given> {
        self.given.get(id)
    }

    /// All values in the order of their ids.
    pub fn iter(&self) -> impl Iterator<Item = (&'static str, &Given)> {
        self.given.iter().map(|(id, given)| (*id, given))
    }

    /// The reading of a quantity.
    #[must_use]
    pub fn reading(&self, id: &str) -> Option<&Reading> {
        match self.given.get(id) {
            Some(Given::Quantity(reading)) => Some(reading),
            _ => None,
        }
    }

    /// A quantity in SI units, or a count.
    #[must_use]
    pub fn si(&self, id: &str) -> Option<f64> {
        match self.given.get(id) {
            Some(Given::Quantity(reading)) => Some(reading.quantity.si),
            Some(Given::Count(n)) => Some(f64::from(*n)),
            _ => None,
        }
    }

    /// As [`Values::si`], for an input the calculator cannot do without.
    ///
    /// # Errors
    /// [`CalcError::Missing`] where it was not given.
    pub fn need(&self, id: &'static str) -> Result<f64, CalcError> {
        self.si(id).ok_or(CalcError::Missing(vec![id]))
    }

    /// The pick of a choice.
    #[must_use]
    pub fn choice(&self, id: &str) -> Option<&'static str> {
        match self.given.get(id) {
            Some(Given::Choice(pick)) => Some(pick),
            _ => None,
        }
    }

    /// The text of a list or designation.
    #[must_use]
    pub fn text(&self, id: &str) -> Option<&str> {
        match self.given.get(id) {
            Some(Given::Text(text)) => Some(text),
            _ => None,
        }
    }

    /// In whose measures the person talks: imperial for weights in pounds or stone, long lengths in inches, torques in lbf.
    #[must_use]
    pub fn preference(&self) -> Preference {
        let imperial = self.given.values().any(|given| match given {
            Given::Quantity(r) if r.unit.system == System::Imperial => match r.quantity.dimension {
                Dimension::Mass | Dimension::Torque | Dimension::Speed => true,
                Dimension::Length => r.quantity.si >= 0.3,
                _ => false,
            },
            _ => false,
        });
        if imperial { Preference::Imperial } else { Preference::Metric }
    }

    /// An SI value written in the person's measures.
    #[must_use]
    pub fn say(&self, si: f64, shown: Shown) -> String {
        say(si, shown, self.preference())
    }

    pub(super) fn fill(&mut self, id: &'static str, preset: Preset) {
        let given = match preset {
            Preset::Value(value, unit) => Given::Quantity(Reading::exact(value, unit)),
            Preset::Choice(pick) => Given::Choice(pick),
            Preset::Count(n) => Given::Count(n),
        };
        self.set_if_absent(id, given);
    }
}

/// An SI value written as `shown` says.
pub(super) fn say(si: f64, shown: Shown, preference: Preference) -> String {
    let quantity = Quantity::si(shown.metric.dimension, si);
    match preference {
        _ if quantity.dimension == Dimension::Pressure && shown.metric.symbol == "bar" => write(quantity, preference),
        Preference::Imperial => write_in(quantity, shown.imperial, Some(shown.decimals.1)),
        _ => write_in(quantity, shown.metric, Some(shown.decimals.0)),
    }
}
