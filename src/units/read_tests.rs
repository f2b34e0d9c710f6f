//! What people type for one value, and what must be refused.

use super::super::table::*;
use super::*;

const BODY: Hint = Hint { plausible: (1.2, 2.2), units: &[&CM, &INCH, &MM, &M] };
const TYRE: Hint = Hint { plausible: (0.8e5, 10e5), units: &[&PSI, &BAR, &KPA] };
const RIDER: Hint = Hint { plausible: (30.0, 180.0), units: &[&KG, &LB] };
const SMALL: Hint = Hint { plausible: (0.001, 0.2), units: &[&MM, &INCH] };
const WIDTH: Hint = Hint { plausible: (0.03, 0.08), units: &[&INCH] };
const TURNS: Hint = Hint { plausible: (0.0, 12.0), units: &[&TURN] };

fn in_unit(text: &str, unit: &'static Unit, hint: Hint) -> f64 {
    read(text, unit.dimension, hint).unwrap_or_else(|e| panic!("{text}: {e}")).quantity.value_in(unit).unwrap()
}

#[test]
fn the_ways_people_say_it() {
    let cases: &[(&str, f64, &'static Unit, Hint)] = &[
        ("5ft 10", 177.8, &CM, BODY),
        ("5'10\"", 177.8, &CM, BODY),
        ("5' 10", 177.8, &CM, BODY),
        ("5 foot 10 and a half", 179.07, &CM, BODY),
        ("i'm 5 ft 10 in", 177.8, &CM, BODY),
        ("5’10”", 177.8, &CM, BODY),
        ("1m76", 176.0, &CM, BODY),
        ("1,78 m", 178.0, &CM, BODY),
        ("178", 178.0, &CM, BODY),
        ("70", 177.8, &CM, BODY),
        ("1.78", 178.0, &CM, BODY),
        ("1780", 178.0, &CM, BODY),
        ("11 st 4", 71.668, &KG, RIDER),
        ("11st4", 71.668, &KG, RIDER),
        ("11 stone 4 pounds", 71.668, &KG, RIDER),
        ("21 stone", 133.356, &KG, RIDER),
        ("about 80 kg with kit", 80.0, &KG, RIDER),
        ("185 pounds", 83.915, &KG, RIDER),
        ("190", 86.183, &KG, RIDER),
        ("95", 95.0, &KG, RIDER),
        ("28 psi", 28.0, &PSI, TYRE),
        ("28psi (1.9 bar)", 28.0, &PSI, TYRE),
        ("40 lb", 40.0, &PSI, TYRE),
        ("25-30 psi", 27.5, &PSI, TYRE),
        ("25 psi to 30 psi", 27.5, &PSI, TYRE),
        ("2", 2.0, &BAR, TYRE),
        ("28", 28.0, &PSI, TYRE),
        ("250 kPa", 2.5, &BAR, TYRE),
        ("2.4in", 60.96, &MM, SMALL),
        ("2,4 inches", 60.96, &MM, SMALL),
        ("1 1/2 in", 38.1, &MM, SMALL),
        ("3/32\"", 2.38125, &MM, SMALL),
        ("0,5", 0.5 * 25.4, &MM, SMALL),
        ("20-mm", 20.0, &MM, SMALL),
        ("1/2 turn", 0.5, &TURN, TURNS),
        ("half a turn", 0.5, &TURN, TURNS),
        ("quarter turn", 0.25, &TURN, TURNS),
        ("two and a half turns", 2.5, &TURN, TURNS),
        ("0.5 turn", 0.5, &TURN, TURNS),
    ];
    for &(text, want, unit, hint) in cases {
        let got = in_unit(text, unit, hint);
        assert!((got - want).abs() < 0.002 * want.abs().max(0.01), "{text}: {got} {unit}, wanted {want}");
    }
}

#[test]
fn the_reading_says_what_was_taken() {
    let reading = read("178", Dimension::Length, BODY).unwrap();
    assert_eq!(reading.assumed, Some(&CM));
    assert_eq!(read("178 cm", Dimension::Length, BODY).unwrap().assumed, None);
    let range = read("about 25 to 30 psi", Dimension::Pressure, TYRE).unwrap();
    assert!(range.about);
    assert!((range.spread.unwrap() - PSI.to_si(2.5)).abs() < 1.0);
    let dotted = read("2,125", Dimension::Length, WIDTH).unwrap();
    assert!((dotted.quantity.value_in(&INCH).unwrap() - 2.125).abs() < 1e-9);
}

#[test]
fn what_is_no_value_is_refused_with_a_sentence() {
    for text in ["", "   ", "\u{0}", "\t"] {
        assert_eq!(read(text, Dimension::Length, BODY), Err(ReadError::Empty(Dimension::Length)));
    }
    for text in ["NaN", "inf", "-inf", "1e999", "1e400 cm", "99999999999999", "∞", "infinity mm"] {
        let error = read(text, Dimension::Length, BODY).unwrap_err();
        assert_eq!(error, ReadError::NotFinite(Dimension::Length), "{text}");
        assert!(error.to_string().contains("83 cm"));
    }
    for text in ["dunno", "a bit", "🚲", "ноль", "--", "%%%"] {
        assert_eq!(read(text, Dimension::Length, BODY), Err(ReadError::NoNumber(Dimension::Length)), "{text}");
    }
    let error = read("80 kg", Dimension::Length, BODY).unwrap_err();
    assert!(error.to_string().contains("is a weight, and a length was asked for"), "{error}");
    assert!(matches!(read("front 25 rear 28", Dimension::Pressure, TYRE), Err(ReadError::TwoNumbers { .. })));
    let long = "9".repeat(10_000);
    assert!(read(&long, Dimension::Length, BODY).is_err());
    let words = "saddle ".repeat(1_500);
    assert!(read(&words, Dimension::Length, BODY).is_err());
}

/// A kilogram-force is 9.80665 N by definition (standard gravity, CGPM 1901; from memory), so a square centimetre of it is
/// 98,066.5 Pa.
#[test]
fn kilogram_force_a_square_centimetre() {
    let found = crate::units::find_all("2 kg/cm2");
    assert!((found[0].reading.quantity.si - 2.0 * 98_066.5).abs() < 1e-6);
}
