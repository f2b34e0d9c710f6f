//! Spokes: length for a lacing, tension from pitch, balance of both sides.
//!
//! SI values, angles in radians. Sources: spoke-formula, spoke-pitch-allen, spoke-balance-2023. Must not know hubs or rims by name.

use std::f64::consts::PI;

/// Density of steel, kg/m3 (from memory).
pub(in crate::calc) const STEEL: f64 = 7850.0;

/// One side of a wheel.
#[derive(Debug, Clone, Copy)]
pub(in crate::calc) struct Side {
    /// Effective rim diameter.
    pub(in crate::calc) rim: f64,
    /// Diameter of the circle of spoke holes in the flange.
    pub(in crate::calc) flange: f64,
    /// Flange from the wheel's middle plane.
    pub(in crate::calc) offset: f64,
    /// Diameter of a spoke hole in the flange.
    pub(in crate::calc) hole: f64,
    /// Spokes on this side.
    pub(in crate::calc) spokes: f64,
    /// Crossings.
    pub(in crate::calc) crosses: f64,
}

/// Spoke length: sqrt(d^2 + r1^2 + r2^2 - 2 r1 r2 cos a) - r3, a = one turn x crossings / spokes on the side.
pub(in crate::calc) fn length(side: Side) -> f64 {
    let (r1, r2) = (side.flange / 2.0, side.rim / 2.0);
    let angle = 2.0 * PI * side.crosses / side.spokes;
    (side.offset.powi(2) + r1 * r1 + r2 * r2 - 2.0 * r1 * r2 * angle.cos()).sqrt() - side.hole / 2.0
}

/// Mass of a metre of round steel spoke.
pub(in crate::calc) fn line_mass(diameter: f64) -> f64 {
    STEEL * PI * diameter * diameter / 4.0
}

/// Pitch of a plucked spoke taken as a string: sqrt(T / mu) / 2 L.
pub(in crate::calc) fn pitch(tension: f64, length: f64, diameter: f64) -> f64 {
    (tension / line_mass(diameter)).sqrt() / (2.0 * length)
}

/// Tension from a pitch.
pub(in crate::calc) fn tension(pitch: f64, length: f64, diameter: f64) -> f64 {
    line_mass(diameter) * (2.0 * length * pitch).powi(2)
}

/// Tension of the left side over the right for a rim in the middle: (l / d) of left over right.
pub(in crate::calc) fn balance(left: (f64, f64), right: (f64, f64)) -> f64 {
    (left.0 / left.1) / (right.0 / right.1)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn side(rim: f64, flange: f64, offset: f64, hole: f64, spokes: f64) -> Side {
        Side { rim, flange, offset, hole, spokes, crosses: 3.0 }
    }

    #[test]
    fn published_length_and_the_radian_slip() {
        // spoke-formula (READ): 36 spokes, 3-cross, d 39, r1 29, r2 277.5, r3 1.3 -> 265.8.
        let one = side(555.0, 58.0, 39.0, 2.6, 18.0);
        assert!((length(one) - 265.8).abs() < 0.05);
        // Encyclopedia's sample inputs (READ), value CALC.
        assert!((length(side(602.0, 39.0, 30.0, 2.2, 18.0)) - 292.18).abs() < 0.01);
        // Degrees handed to a radian cosine give 306.4: a public program has this bug.
        let slip = (39f64.powi(2) + 29f64.powi(2) + 277.5f64.powi(2) - 2.0 * 29.0 * 277.5 * 60f64.cos()).sqrt() - 1.3;
        assert!((slip - 306.4).abs() < 0.05 && (length(one) - slip).abs() > 40.0);
        // The same text prints 539 / 2 = 289.5; it is 269.5.
        assert!((539.0 / 2.0 - 269.5f64).abs() < 1e-12);
        // 36 spokes 3-cross: 60 degrees; 32 spokes: 2 cos 67.5 = 0.765 (READ).
        assert!((2.0 * (2.0 * PI * 3.0 / 16.0).cos().abs() - 0.765).abs() < 1e-3);
    }

    #[test]
    fn pitch_and_tension() {
        // 279 mm, 2.0 mm, 100 kgf -> 357.4 Hz (beam model says about 360, READ); others CALC.
        assert!((pitch(980.665, 0.279, 0.002) - 357.4).abs() < 0.5);
        assert!((pitch(1000.0, 0.290, 0.002) - 347.2).abs() < 0.1);
        assert!((pitch(1000.0, 0.290, 0.0018) - 385.8).abs() < 0.1);
        assert!((pitch(1200.0, 0.262, 0.002) - 421.0).abs() < 0.1);
        assert!((tension(357.37, 0.279, 0.002) - 980.67).abs() < 0.2);
        // A minor third up (1.189) is more than 1.4 times the tension (READ).
        assert!(2f64.powf(0.25).powi(2) > 1.4);
    }

    #[test]
    fn balance_as_published() {
        // spoke-balance-2023 (READ about 0.5): offsets 32 and 16 mm, spokes 287.6 and 285.6 mm.
        assert!((balance((287.6, 32.0), (285.6, 16.0)) - 0.5035).abs() < 1e-3);
    }

    proptest! {
        #[test]
        fn inverse_and_monotone(t in 200f64..1600.0, l in 0.2f64..0.32, d in 0.0015f64..0.0023) {
            prop_assert!((tension(pitch(t, l, d), l, d) - t).abs() < 1e-6);
            prop_assert!(pitch(t + 10.0, l, d) > pitch(t, l, d));
            // Twice the pitch is four times the tension.
            prop_assert!((tension(2.0 * pitch(t, l, d), l, d) / t - 4.0).abs() < 1e-9);
            let a = side(0.6, 0.058, 0.03, 0.0026, 18.0);
            let shorter = length(Side { crosses: 2.0, ..a });
            prop_assert!(shorter < length(a));
        }
    }
}
