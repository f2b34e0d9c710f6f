//! Springs and bouncing: coil rate for a sag, natural frequency, damping from decay.
//!
//! SI values. Textbook mechanics; the sag rate is the identity wheel sag = s x travel. Must not know riders' tastes.

use std::f64::consts::PI;

use crate::calc::kit::common::G;

/// Spring rate at the shock, N/m, for the mass on the wheel, leverage, sag share and stroke.
pub(in crate::calc) fn coil_rate(mass: f64, leverage: f64, sag: f64, stroke: f64) -> f64 {
    mass * G * leverage / (sag * stroke)
}

/// Natural frequency, Hz, of a linear spring sagging by `sag` under its load: sqrt(g / sag) / 2 pi.
pub(in crate::calc) fn frequency(sag: f64) -> f64 {
    (G / sag).sqrt() / (2.0 * PI)
}

/// Damping ratio from two following peaks of a decaying bounce, their ratio above one.
pub(in crate::calc) fn damping_ratio(peaks: f64) -> f64 {
    let decrement = peaks.ln();
    decrement / (4.0 * PI * PI + decrement * decrement).sqrt()
}

/// Share by which a step overshoots at a damping ratio below one.
pub(in crate::calc) fn overshoot(zeta: f64) -> f64 {
    if zeta >= 1.0 { 0.0 } else { (-PI * zeta / (1.0 - zeta * zeta).sqrt()).exp() }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::units::{LB, LB_PER_IN};

    #[test]
    fn coil_rates() {
        // CALC: 80 kg, 60 %, 150/60 mm, 30 % -> 65.38 N/mm = 373.3 lb/in; wheel rate 10.46; wheel sag 45 mm exactly.
        let rate = coil_rate(80.0 * 0.6, 2.5, 0.30, 0.060);
        assert!((rate / 1000.0 - 65.38).abs() < 0.01 && (LB_PER_IN.value_of(rate) - 373.3).abs() < 0.1);
        let wheel = rate / 6.25;
        assert!((wheel / 1000.0 - 10.46).abs() < 0.01 && (80.0 * 0.6 * G / wheel - 0.045).abs() < 1e-12);
        // CALC: 170 lb, 62 %, 140/55 mm, 28 % -> 442.5 lb/in.
        let rate = coil_rate(LB.to_si(170.0) * 0.62, 140.0 / 55.0, 0.28, 0.055);
        assert!((LB_PER_IN.value_of(rate) - 442.5).abs() < 0.1);
    }

    #[test]
    fn frequencies_and_decay() {
        // An article of 2007 uses 250 kg on 1 kg/mm, 250 mm (READ inputs); values CALC.
        for (mm, hz) in [(250.0, 0.997), (45.0, 2.350), (30.0, 2.878), (25.0, 3.152), (20.0, 3.524), (10.0, 4.984)] {
            assert!((frequency(mm / 1000.0) - hz).abs() < 1e-3, "{mm}");
        }
        assert!((damping_ratio(4.0) - 0.2155).abs() < 1e-4);
        assert!((overshoot(0.3) - 0.372).abs() < 1e-3 && (overshoot(0.2) - 0.527).abs() < 1e-3);
        let (k, m): (f64, f64) = (40.0 * G / 0.045, 40.0);
        assert!((2.0 * 0.3 * (k * m).sqrt() - 354.3).abs() < 0.1);
    }

    #[test]
    fn the_constant_of_a_loaded_beam_is_not_used() {
        // 0.5615 belongs to a uniformly loaded beam (72 mm -> 2.09 Hz); a spring and mass has 0.4985 (1.858 Hz).
        let got = frequency(0.072);
        assert!((got - 1.858).abs() < 1e-3 && (got - 2.09).abs() > 0.2);
        assert!((got * 0.072f64.sqrt() - 0.4985).abs() < 2e-4);
    }

    proptest! {
        #[test]
        fn softer_is_slower(sag in 0.005f64..0.08, peaks in 1.1f64..50.0) {
            prop_assert!(frequency(sag + 0.001) < frequency(sag));
            prop_assert!(damping_ratio(peaks * 1.1) > damping_ratio(peaks));
            // Two half steps of overshoot make one full decrement.
            let zeta = damping_ratio(peaks);
            prop_assert!((overshoot(zeta).powi(2) - 1.0 / peaks).abs() < 1e-9);
        }
    }
}
