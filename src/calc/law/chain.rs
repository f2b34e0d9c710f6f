//! Length of a chain round two sprockets, pitch circles.
//!
//! Source: Bhandari, Design of Machine Elements (bhandari-2010). Must not know derailleurs or links to be removed.

use std::f64::consts::PI;

/// Pitches of a chain round sprockets of `n1` and `n2` teeth at centre distance `c`, pitch `p` (same unit).
///
/// L/p = 2C/p + (N1+N2)/2 + ((N2-N1)/2 pi)^2 p/C; good to 0.005 pitch on bicycles.
pub(in crate::calc) fn pitches(n1: f64, n2: f64, c: f64, p: f64) -> f64 {
    2.0 * c / p + f64::midpoint(n1, n2) + ((n2 - n1) / (2.0 * PI)).powi(2) * p / c
}

/// The centre distance at which `links` pitches fit, or `None` where they are too few.
pub(in crate::calc) fn centre(n1: f64, n2: f64, links: f64, p: f64) -> Option<f64> {
    let v = links - f64::midpoint(n1, n2);
    let root = v * v - 8.0 * ((n2 - n1) / (2.0 * PI)).powi(2);
    (v > 0.0 && root >= 0.0).then(|| p / 4.0 * (v + root.sqrt()))
}

/// Pitch-circle diameter of a sprocket, p / sin(180/N).
pub(in crate::calc) fn pitch_diameter(n: f64, p: f64) -> f64 {
    p / (PI / n).sin()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Straight runs between the pitch circles plus the pitches lying on each, for comparison.
    fn exact(n1: f64, n2: f64, c: f64, p: f64) -> f64 {
        let (r1, r2) = (pitch_diameter(n1, p) / 2.0, pitch_diameter(n2, p) / 2.0);
        let a = ((r2 - r1) / c).asin();
        2.0 * c * a.cos() / p + n1 * (0.5 - a / PI) + n2 * (0.5 + a / PI)
    }

    #[test]
    fn textbook_lengths() {
        // Bhandari ex. 14.3 (READ): 12.7 mm, 21/63, 500 mm.
        assert!((pitches(21.0, 63.0, 500.0, 12.7) - 121.875_097).abs() < 1e-5);
        assert!((centre(21.0, 63.0, 122.0, 12.7).unwrap() - 500.804_717).abs() < 1e-4);
        // Bhandari ex. 14.4 (READ): 19.05 mm, 17/34, 762 mm; 0.998 for sag.
        assert!((pitches(17.0, 34.0, 762.0, 19.05) - 105.683_011).abs() < 1e-5);
        assert!((centre(17.0, 34.0, 106.0, 19.05).unwrap() * 0.998 - 763.496_160).abs() < 1e-4);
        assert!((pitch_diameter(17.0, 19.05) - 103.673_741).abs() < 1e-5);
        assert!((pitch_diameter(34.0, 19.05) - 206.462_975).abs() < 1e-5);
        // Textbook companion, chapter 30 (READ): 9.52 mm, 17/51, 300 mm; 21/42 at 50 pitches.
        assert!((pitches(17.0, 51.0, 300.0, 9.52) - 97.954).abs() < 1e-3);
        assert!((pitches(21.0, 42.0, 50.0 * 9.52, 9.52) - 131.7234).abs() < 1e-4);
        // Sprockets (READ): 52 T 8.281 in, 17 T 2.721 in.
        assert!((pitch_diameter(52.0, 0.5) - 8.281).abs() < 5e-4);
        assert!((pitch_diameter(17.0, 0.5) - 2.721).abs() < 5e-4);
    }

    #[test]
    fn a_misprinted_length_is_not_reproduced() {
        // A journal excerpt claims 114.305 for 20/63 at 36 pitches; formula and exact geometry both give 114.80.
        let got = pitches(20.0, 63.0, 36.0, 1.0);
        assert!((got - 114.80).abs() < 0.01);
        assert!((got - 114.305).abs() > 0.4);
        assert!((exact(20.0, 63.0, 36.0, 1.0) - 114.80).abs() < 0.01);
        // An older handbook divides by 39.6 in place of 4 pi^2; the difference is far below a link.
        let old = 72.0 + 41.5 + 43.0f64.powi(2) / 39.6 / 36.0;
        assert!((got - old).abs() < 0.01);
    }

    proptest! {
        #[test]
        fn inverse_and_exact_geometry_agree(n1 in 9.0f64..60.0, n2 in 9.0f64..60.0, c in 350.0f64..700.0) {
            let links = pitches(n1, n2, c, 12.7);
            prop_assert!((centre(n1, n2, links, 12.7).unwrap() - c).abs() < 1e-6);
            prop_assert!((links - exact(n1, n2, c, 12.7)).abs() < 0.02);
            prop_assert!(pitches(n1, n2, c + 1.0, 12.7) > links);
        }
    }
}
