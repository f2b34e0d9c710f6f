//! Gears: development, gear inches, gain, capacity, and when the same tooth meets the same link.
//!
//! SI values. Source: gear-brown and textbook identities. Must not know cadence habits.

use std::f64::consts::PI;

/// Metres a turn of the cranks for a wheel circumference in metres.
pub(in crate::calc) fn development(ring: f64, sprocket: f64, circumference: f64) -> f64 {
    ring / sprocket * circumference
}

/// Gear inches of a development.
pub(in crate::calc) fn gear_inches(development: f64) -> f64 {
    development / (0.0254 * PI)
}

/// Gain ratio: way of the bike over way of the pedal.
pub(in crate::calc) fn gain(ring: f64, sprocket: f64, circumference: f64, crank: f64) -> f64 {
    ring / sprocket * circumference / (2.0 * PI) / crank
}

/// Teeth of slack a rear derailleur must take up. The largest sprocket is a separate limit.
pub(in crate::calc) fn capacity(rings: (f64, f64), sprockets: (f64, f64)) -> f64 {
    (rings.1 - rings.0) + (sprockets.1 - sprockets.0)
}

/// Turns of a sprocket of `teeth` until the same tooth meets the same link of a chain of `links`.
pub(in crate::calc) fn repeats(links: u32, teeth: u32) -> u32 {
    let gcd = |mut a: u32, mut b: u32| {
        while b != 0 {
            (a, b) = (b, a % b);
        }
        a
    };
    links / gcd(links, teeth).max(1)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn published_developments_and_their_misprints() {
        // Junior-gear page at 2.100 m (READ), cut to centimetres.
        for (ring, sprocket, m) in [
            (36.0, 14.0, 5.40),
            (42.0, 15.0, 5.88),
            (48.0, 15.0, 6.72),
            (50.0, 15.0, 7.00),
            (44.0, 17.0, 5.435),
            (52.0, 16.0, 6.825),
            (53.0, 16.0, 6.956),
        ] {
            assert!((development(ring, sprocket, 2.1) - m).abs() < 0.005, "{ring}x{sprocket}");
        }
        // Misprints there: 39x12 "8.82", 46x14 "5.98", "45x15 5.90" (it is 45x16).
        assert!((development(39.0, 12.0, 2.1) - 6.825).abs() < 1e-9);
        assert!((development(46.0, 14.0, 2.1) - 6.900).abs() < 1e-9);
        assert!(
            (development(45.0, 16.0, 2.1) - 5.906).abs() < 1e-3 && (development(45.0, 15.0, 2.1) - 5.90).abs() > 0.3
        );
        // Former junior limit of 7.93 m (READ): 52x14 needs a circumference below 2.135 m.
        assert!(development(52.0, 14.0, 2.136) > 7.93 && development(52.0, 14.0, 2.135) <= 7.93);
        assert!(
            (development(51.0, 14.0, 2.136) - 7.781).abs() < 1e-3
                && (development(53.0, 15.0, 2.136) - 7.547).abs() < 1e-3
        );
    }

    #[test]
    fn gear_inches_and_gain() {
        // Encyclopedia (READ): 20, 70, 125 gear inches are 1.6, 5.6, 10 m.
        for (inches, m) in [(20.0, 1.6), (70.0, 5.6), (125.0, 10.0)] {
            assert!((gear_inches(m) - inches).abs() < 0.01 * inches);
        }
        // CALC: 27 in wheel, 170 mm crank, 44/16.
        let turn = 27.0 * 0.0254 * PI;
        assert!((gear_inches(development(44.0, 16.0, turn)) - 74.25).abs() < 1e-9);
        assert!(
            (development(44.0, 16.0, turn) - 5.925).abs() < 1e-3
                && (gain(44.0, 16.0, turn, 0.170) - 5.547).abs() < 1e-3
        );
        // CALC: 85 rpm, 46/17, 2.096 m -> 28.92 km/h.
        assert!((development(46.0, 17.0, 2.096) * 85.0 * 0.06 - 28.92).abs() < 0.01);
        // 16 CFR 1512.5: 6.67 m at 60 rpm is 24.0 km/h.
        assert!((6.67 * 60.0 * 0.06 - 24.012f64).abs() < 1e-9);
    }

    #[test]
    fn capacities_and_the_wrong_formula() {
        // READ: 44/32/24 with 12-34 -> 42; 53/39 with 12-23 -> 25; 50/34 with 12-25 -> 29.
        assert_eq!(capacity((24.0, 44.0), (12.0, 34.0)), 42.0);
        assert_eq!(capacity((39.0, 53.0), (12.0, 23.0)), 25.0);
        assert_eq!(capacity((34.0, 50.0), (12.0, 25.0)), 29.0);
        // A forum has "(largest ring - largest sprocket) + (smallest ring - smallest sprocket)": 22 in place of 42.
        assert_ne!((44.0 - 34.0) + (24.0 - 12.0), capacity((24.0, 44.0), (12.0, 34.0)));
    }

    #[test]
    fn the_same_tooth_and_link() {
        // READ: 96 links with 15 teeth every 32 turns, with 14 every 48; 62 links, 10 teeth: 310 teeth.
        assert_eq!(repeats(96, 15), 32);
        assert_eq!(repeats(96, 14), 48);
        assert_eq!(repeats(62, 10) * 10, 310);
    }

    proptest! {
        #[test]
        fn development_and_inches_agree(ring in 20f64..60.0, sprocket in 9f64..52.0, turn in 1.2f64..2.4) {
            let d = development(ring, sprocket, turn);
            prop_assert!((gear_inches(d) * 0.0254 * PI - d).abs() < 1e-12);
            prop_assert!(development(ring + 1.0, sprocket, turn) > d && development(ring, sprocket + 1.0, turn) < d);
            prop_assert!((gain(ring, sprocket, turn, 0.17) * 0.17 * 2.0 * PI - d).abs() < 1e-9);
        }
    }
}
