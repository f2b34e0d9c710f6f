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

#[cfg(test)]
mod tests {
    use super::*;

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
