//! Geometry of a bicycle seen from the side: pitch as the fork sinks, trail, stem.
//!
//! Angles in radians from the horizontal, lengths in metres. Must not know wheels' names or riders.

/// Nose-down pitch of a hardtail when the fork sinks by `s` along itself, wheelbase `l`, head angle `head`.
pub(in crate::calc) fn pitch(s: f64, l: f64, head: f64) -> f64 {
    (s * head.sin()).atan2(l - s * head.cos())
}

/// Wheelbase after that.
pub(in crate::calc) fn wheelbase_sunk(s: f64, l: f64, head: f64) -> f64 {
    (l - s * head.cos()).hypot(s * head.sin())
}

/// Change of the bottom-bracket height when the frame pitches about the rear axle; negative is lower.
pub(in crate::calc) fn bb_change(pitch: f64, chainstay: f64, drop: f64) -> f64 {
    let ahead = (chainstay * chainstay - drop * drop).max(0.0).sqrt();
    -ahead * pitch.sin() + drop * (1.0 - pitch.cos())
}

/// Trail: (R cos head - offset) / sin head. The wheel's RADIUS, not its diameter.
pub(in crate::calc) fn trail(radius: f64, offset: f64, head: f64) -> f64 {
    mechanical_trail(radius, offset, head) / head.sin()
}

/// Distance of the contact point from the steering axis.
pub(in crate::calc) fn mechanical_trail(radius: f64, offset: f64, head: f64) -> f64 {
    radius * head.cos() - offset
}

/// By how much the front drops when the bar is turned: trail x sin head x cos head.
pub(in crate::calc) fn flop(radius: f64, offset: f64, head: f64) -> f64 {
    trail(radius, offset, head) * head.sin() * head.cos()
}

/// How far a stem reaches forward and up; `angle` is measured from the perpendicular to the steerer, up positive.
pub(in crate::calc) fn stem(length: f64, angle: f64, head: f64) -> (f64, f64) {
    let ground = std::f64::consts::FRAC_PI_2 - head + angle;
    (length * ground.cos(), length * ground.sin())
}

/// How far spacers of height `h` move the bar forward and up.
pub(in crate::calc) fn spacers(h: f64, head: f64) -> (f64, f64) {
    (-h * head.cos(), h * head.sin())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn trail_as_published() {
        // Forum table (published): offset 50, 336 mm radius reproduces all three.
        for (head, want) in [(71.5, 59.7), (72.0, 56.6), (73.0, 50.4)] {
            assert!((trail(336.0, 50.0, f64::to_radians(head)) - want).abs() < 0.1, "{head}");
        }
        // Published: head 71, offset 44 -> 80 (radius 367.5).
        assert!((trail(367.5, 44.0, 71f64.to_radians()) - 80.0).abs() < 0.05);
        // CALC.
        let head = 73f64.to_radians();
        assert!((trail(340.0, 45.0, head) - 56.89).abs() < 0.05);
        assert!((mechanical_trail(340.0, 45.0, head) - 54.41).abs() < 0.05);
        assert!((flop(340.0, 45.0, head) - 15.91).abs() < 0.05);
        let slack = 66f64.to_radians();
        assert!((trail(368.0, 44.0, slack) - 115.68).abs() < 0.05 && (flop(368.0, 44.0, slack) - 42.98).abs() < 0.05);
        assert!((trail(336.0, 43.0, head) - 57.76).abs() < 0.05);
    }

    #[test]
    fn slips_seen_on_the_web_are_not_made() {
        let head = 73f64.to_radians();
        // The diameter in place of the radius gives 158 in place of about 55.
        assert!((trail(2.0 * 341.0, 47.7, head) - 158.4).abs() < 2.0);
        assert!(trail(341.0, 47.7, head) < 60.0);
        // More offset gives LESS trail: -7.32 from 43 to 50 at 73 degrees.
        assert!((trail(336.0, 50.0, head) - trail(336.0, 43.0, head) + 7.32).abs() < 0.01);
    }

    #[test]
    fn stems_as_published() {
        // Published: 90 mm stem, 72.5 degrees, square stem against one of 80 degrees: 15.3 higher, 3.4 shorter.
        let head = 72.5f64.to_radians();
        let (square, down) = (stem(90.0, 0.0, head), stem(90.0, -10f64.to_radians(), head));
        assert!((square.1 - down.1 - 15.3).abs() < 0.1 && (square.0 - down.0 + 3.4).abs() < 0.1);
        // CALC.
        let head = 73f64.to_radians();
        for (length, angle, x, y) in [(110.0, -6.0, 107.98, 20.99), (110.0, 17.0, 91.19, 61.51)] {
            let got = stem(length, f64::to_radians(angle), head);
            assert!((got.0 - x).abs() < 0.01 && (got.1 - y).abs() < 0.01, "{angle}");
        }
        let got = stem(100.0, 6f64.to_radians(), 72f64.to_radians());
        assert!((got.0 - 91.35).abs() < 0.01 && (got.1 - 40.67).abs() < 0.01);
        let up = spacers(10.0, head);
        assert!((up.0 + 2.92).abs() < 0.01 && (up.1 - 9.56).abs() < 0.01);
        // Another thread takes -6 as an angle to the ground: 109.4 / -11.5. Not for a clamp-on stem.
        assert!((stem(110.0, -6f64.to_radians(), head).1 + 11.5).abs() > 30.0);
    }

    #[test]
    fn a_hardtail_pitches_as_published() {
        // Frame builder's page of 2007 (READ): 1058 mm wheelbase, 0.0521 degrees and -0.3868 mm per mm; within 2 %.
        let head = 71f64.to_radians();
        let angle = pitch(0.080, 1.058, head);
        assert!((angle.to_degrees() / 80.0 - 0.0521).abs() < 0.02 * 0.0521);
        assert!((bb_change(angle, 0.425, 0.030) / 0.080 + 0.3868).abs() < 0.02 * 0.3868);
        // Forum check (READ): about 25 mm of sag took 70.5 degrees to "almost 72".
        let sunk = 70.5 + pitch(0.025, 1.090, 70.5f64.to_radians()).to_degrees();
        assert!((sunk - 71.75).abs() < 0.05);
        // CALC.
        assert!((pitch(0.030, 1.200, 65f64.to_radians()).to_degrees() - 1.312).abs() < 1e-3);
        assert!((wheelbase_sunk(0.030, 1.200, 65f64.to_radians()) - 1.1876).abs() < 1e-4);
        assert!((pitch(0.030, 1.200, 66f64.to_radians()).to_degrees() - 1.322).abs() < 1e-3);
        assert!((wheelbase_sunk(0.030, 1.200, 66f64.to_radians()) - 1.1881).abs() < 1e-4);
        assert!((pitch(0.001, 1.058, 70f64.to_radians()).to_degrees() - 0.05091).abs() < 2e-5);
    }

    #[test]
    fn nothing_sinks_nothing_pitches() {
        assert_eq!(pitch(0.0, 1.1, 1.2), 0.0);
        assert!((wheelbase_sunk(0.0, 1.1, 1.2) - 1.1).abs() < 1e-12);
        assert_eq!(bb_change(0.0, 0.43, 0.03), 0.0);
    }
}
