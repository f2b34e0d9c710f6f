//! The leg as two links over a crank: knee bend from hip-to-ankle distance, and that distance from the set-up.
//!
//! Metres and radians; a knee bend of zero is a straight leg. Must not know targets.

/// Knee bend for thigh `t`, shank `s` and hip-to-ankle distance `d`; `None` where the leg cannot reach or cannot fold so far.
pub(in crate::calc) fn knee_bend(t: f64, s: f64, d: f64) -> Option<f64> {
    let inside = (t - s).abs() <= d && d <= t + s;
    inside.then(|| std::f64::consts::PI - ((t * t + s * s - d * d) / (2.0 * t * s)).clamp(-1.0, 1.0).acos())
}

/// Hip-to-ankle distance at which the knee has this bend.
pub(in crate::calc) fn distance(t: f64, s: f64, bend: f64) -> f64 {
    (t * t + s * s + 2.0 * t * s * bend.cos()).sqrt()
}

/// Where hip and foot are, crank in line with the seat tube at the bottom.
#[derive(Debug, Clone, Copy)]
pub(in crate::calc) struct Setup {
    /// Bottom bracket to saddle top along the seat tube.
    pub(in crate::calc) saddle: f64,
    /// Seat-tube angle from the horizontal.
    pub(in crate::calc) seat_angle: f64,
    /// Crank length.
    pub(in crate::calc) crank: f64,
    /// Hip joint above the saddle top.
    pub(in crate::calc) hip: f64,
    /// Sole of the foot above the pedal axle.
    pub(in crate::calc) stack: f64,
    /// Ankle joint behind the ball of the foot.
    pub(in crate::calc) foot: f64,
    /// Ankle joint above the sole.
    pub(in crate::calc) ankle: f64,
    /// Heel carried up by this angle; down is negative.
    pub(in crate::calc) heel_up: f64,
}

/// Hip-to-ankle distance of a set-up.
pub(in crate::calc) fn hip_to_ankle(at: Setup) -> f64 {
    let (sin, cos) = at.seat_angle.sin_cos();
    let (lift, level) = at.heel_up.sin_cos();
    let hip = (-at.saddle * cos, at.saddle * sin + at.hip);
    let ball = (at.crank * cos, -at.crank * sin + at.stack);
    let ankle = (ball.0 - at.foot * level + at.ankle * lift, ball.1 + at.foot * lift + at.ankle * level);
    (hip.0 - ankle.0).hypot(hip.1 - ankle.1)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const T: f64 = 0.428_75;
    const S: f64 = 0.4305;

    #[test]
    fn distances_give_their_bends() {
        // Law of cosines with thigh 428.75 and shank 430.5 mm (CALC), 0.05 degrees.
        for (mm, bend) in [(820.0, 34.77), (830.0, 29.99), (840.0, 24.30)] {
            assert!((knee_bend(T, S, mm / 1000.0).unwrap().to_degrees() - bend).abs() < 0.05, "{mm}");
        }
        for (bend, mm) in [
            (0.0, 859.25),
            (20.0, 846.2),
            (25.0, 838.9),
            (30.0, 830.0),
            (35.0, 819.5),
            (40.0, 807.4),
            (45.0, 793.8),
            (110.0, 492.8),
        ] {
            assert!((distance(T, S, f64::to_radians(bend)) * 1000.0 - mm).abs() < 0.06, "{bend}");
        }
        assert_eq!(knee_bend(T, S, 0.870), None);
        assert_eq!(knee_bend(T, S, 0.0005), None);
    }

    #[test]
    fn the_ankle_is_worth_as_much_as_the_saddle() {
        // Planar chain (CALC): inseam 830, saddle 732.89, 73 degrees, crank 170, hip 80, stack 30, foot 130/75.
        let at = |heel: f64| Setup {
            saddle: 0.73289,
            seat_angle: 73f64.to_radians(),
            crank: 0.170,
            hip: 0.080,
            stack: 0.030,
            foot: 0.130,
            ankle: 0.075,
            heel_up: heel.to_radians(),
        };
        for (heel, mm, bend) in [(0.0, 849.1, 17.65), (10.0, 830.5, 29.74), (20.0, 815.9, 36.57)] {
            let d = hip_to_ankle(at(heel));
            assert!((d * 1000.0 - mm).abs() < 0.1, "{heel}: {d}");
            assert!((knee_bend(T, S, d).unwrap().to_degrees() - bend).abs() < 0.1, "{heel}");
        }
        let down = hip_to_ankle(at(-10.0));
        assert!((down * 1000.0 - 870.9).abs() < 0.1 && knee_bend(T, S, down).is_none());
    }

    #[test]
    fn a_rigid_ankle_overstates_what_was_measured() {
        // Ferrer-Roca 2014 (READ): 4 % of height (about 37 mm) opened the knee by about 7 degrees, because the ankle gave 8.
        let before = distance(T, S, 35f64.to_radians());
        let after = before + 0.0376;
        assert!((after * 1000.0 - 857.1).abs() < 0.1);
        assert!((35.0 - knee_bend(T, S, after).unwrap().to_degrees()) > 3.0 * 7.0);
        // About 2 mm a degree near the usual bend (CALC): 19.4 mm from 35 to 25, 22.5 mm from 40 to 30.
        let mm = |a: f64, b: f64| (distance(T, S, b.to_radians()) - distance(T, S, a.to_radians())) * 1000.0;
        assert!((mm(35.0, 25.0) - 19.4).abs() < 0.05 && (mm(40.0, 30.0) - 22.5).abs() < 0.06);
    }

    proptest! {
        #[test]
        fn bend_and_distance_invert(t in 0.3f64..0.55, s in 0.3f64..0.55, bend in 0.05f64..2.5) {
            let d = distance(t, s, bend);
            prop_assert!((knee_bend(t, s, d).unwrap() - bend).abs() < 1e-6);
            prop_assert!(distance(t, s, bend + 0.01) < d);
        }
    }
}
