//! Writing, and reading back what was written.

use proptest::prelude::*;

use super::super::read::{Hint, read};
use super::super::table::UNITS;
use super::*;

#[test]
fn figures_read_as_people_write_them() {
    let m = |x| Quantity::si(Dimension::Length, x);
    assert_eq!(write(m(1.76), Preference::Metric), "176 cm");
    assert_eq!(write(m(0.9047), Preference::Metric), "905 mm");
    assert_eq!(write(m(0.0024), Preference::Metric), "2.4 mm");
    assert_eq!(write(m(0.9047), Preference::Imperial), "35.6 in");
    assert_eq!(write(m(1.778), Preference::AsGiven(&u::FT)), "5 ft 10 in");
    assert_eq!(write(m(0.83), Preference::AsGiven(&u::CM)), "83 cm");
    let psi = Quantity::of(28.0, &u::PSI);
    assert_eq!(write(psi, Preference::Imperial), "28 psi (1.9 bar)");
    assert_eq!(write(psi, Preference::Metric), "1.9 bar (28 psi)");
    assert_eq!(write(Quantity::of(158.0, &u::LB), Preference::AsGiven(&u::STONE)), "11 st 4 lb");
    assert_eq!(write(Quantity::of(0.5, &u::TURN), Preference::AsGiven(&u::TURN)), "1/2 turn");
    assert_eq!(write(Quantity::of(20.0, &u::CELSIUS), Preference::Metric), "20 °C");
    assert_eq!(write(Quantity::of(20.0, &u::CELSIUS), Preference::Imperial), "68 °F");
    assert_eq!(write(Quantity::si(Dimension::Ratio, 0.25), Preference::Metric), "25 %");
    assert_eq!(write(Quantity::si(Dimension::Length, -0.0), Preference::Metric), "0 mm");
}

static BARE: &[&crate::units::Unit] = &[&u::TIMES];
static SHARE: &[&crate::units::Unit] = &[&u::FRACTION];
static NUMBER: &[&crate::units::Unit] = &[&u::PLAIN];

/// Values of each dimension as they occur on bicycles.
fn range(dimension: Dimension) -> (f64, f64) {
    match dimension {
        Dimension::Length => (0.01, 50.0),
        Dimension::Area | Dimension::Volume => (1e-4, 1e-2),
        Dimension::Mass => (5.0, 200.0),
        Dimension::Pressure => (5e4, 2e6),
        Dimension::Temperature => (274.0, 330.0),
        Dimension::Torque => (1.0, 60.0),
        Dimension::SpringRate => (1e3, 2e5),
        Dimension::Ratio => (0.01, 1.0),
        Dimension::Count => (1.0, 200.0),
        _ => (5.0, 100.0),
    }
}

proptest! {
    #[test]
    fn what_is_written_is_read_again(which in 0usize..20, share in 0.0f64..1.0, imperial: bool) {
        let dimension = Dimension::ALL[which];
        let (low, high) = range(dimension);
        let si = low + share * (high - low);
        let quantity = Quantity::si(dimension, if dimension == Dimension::Count { si.round() } else { si });
        let preference = if imperial { Preference::Imperial } else { Preference::Metric };
        let text = write(quantity, preference);
        let hint = Hint { plausible: (low, high), units: BARE };
        let again = read(&text, dimension, hint).map_err(|e| TestCaseError::fail(format!("{text}: {e}")))?;
        // Two figures for a pressure, about three for the rest; small counts of degrees lose a little more.
        let within = if dimension == Dimension::Pressure { 0.05 } else { 0.011 };
        prop_assert!((again.quantity.si - quantity.si).abs() <= within * quantity.si.abs() + 1e-6, "{text} {again:?} {quantity:?}");
    }

    #[test]
    fn a_change_of_unit_changes_nothing(which in 0usize..64, value in 0.01f64..1000.0) {
        let unit = UNITS[which % UNITS.len()];
        let quantity = Quantity::of(value, unit);
        for other in UNITS.iter().filter(|o| o.dimension == unit.dimension) {
            let there = quantity.value_in(other).unwrap();
            let back = Quantity::of(there, other);
            prop_assert!((back.si - quantity.si).abs() <= 1e-9 * quantity.si.abs().max(1.0));
        }
    }

    #[test]
    fn a_given_unit_is_kept(which in 0usize..64, value in 1.0f64..500.0) {
        let unit = UNITS[which % UNITS.len()];
        let rounded = (value * 10.0).round() / 10.0;
        let text = write(Quantity::of(rounded, unit), Preference::AsGiven(unit));
        let units = match unit.dimension {
            Dimension::Ratio => SHARE,
            Dimension::Plain => NUMBER,
            _ => BARE,
        };
        let hint = Hint { plausible: (f64::MIN, f64::MAX), units };
        let again = read(&text, unit.dimension, hint).map_err(|e| TestCaseError::fail(format!("{text}: {e}")))?;
        let got = again.quantity.value_in(unit).unwrap();
        prop_assert!((got - rounded).abs() <= 0.006 * rounded.max(1.0), "{text} {got} {rounded}");
    }
}
