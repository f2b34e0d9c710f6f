//! Rolling bearings: how often a fault passes, in events a turn.
//!
//! Textbook kinematics without slip; real bearings slip 1 to 3 %. Must not know which bearing is in a hub.

/// Events a turn of the moving ring against the still one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::calc) struct Orders {
    /// A mark on the outer race is passed.
    pub(in crate::calc) outer: f64,
    /// A mark on the inner race is passed.
    pub(in crate::calc) inner: f64,
    /// The cage turns.
    pub(in crate::calc) cage: f64,
    /// A ball turns about itself; a fault on it strikes twice as often.
    pub(in crate::calc) ball: f64,
}

/// Orders for `n` balls of diameter `d` on a pitch circle `pitch`, contact angle in radians.
pub(in crate::calc) fn orders(n: f64, d: f64, pitch: f64, angle: f64) -> Orders {
    let r = d / pitch * angle.cos();
    Orders {
        outer: n * (1.0 - r) / 2.0,
        inner: n * (1.0 + r) / 2.0,
        cage: (1.0 - r) / 2.0,
        ball: pitch / (2.0 * d) * (1.0 - r * r),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn close(got: Orders, want: [f64; 4], within: f64, scale: f64) {
        for (a, b) in [got.outer, got.inner, got.ball, got.cage].iter().zip(want) {
            assert!((a * scale - b).abs() < within, "{got:?} {want:?}");
        }
    }

    #[test]
    fn published_orders() {
        // A: 9 balls, 6205 (orders READ from a university's data page); at 1797 rpm 107.36, 162.19, 70.58, 11.93 Hz.
        let a = orders(9.0, 0.3126, 1.537, 0.0);
        close(a, [3.5848, 5.4152, 2.356_75, 0.398_28], 1e-4, 1.0);
        close(a, [107.36, 162.19, 70.58, 11.93], 0.05, 1797.0 / 60.0);
        // B: 8 rollers 0.235 in on 1.245 in (READ).
        close(orders(8.0, 0.235, 1.245, 0.0), [3.245, 4.755, 2.555, 0.406], 1e-3, 1.0);
        // C: 16 rollers 0.331 in on 2.815 in, 15.17 degrees, 2000 rpm (inputs READ).
        close(orders(16.0, 0.331, 2.815, 15.17f64.to_radians()), [236.4, 296.9, 139.9, 14.8], 0.1, 2000.0 / 60.0);
        // D: 9 balls 7.94 on 38.52 mm (READ 3.57, 5.43).
        let d = orders(9.0, 7.94, 38.52, 0.0);
        assert!((d.outer - 3.57).abs() < 5e-3 && (d.inner - 5.43).abs() < 5e-3);
        // E: 8 elements 2 cm on 12 cm at 25 Hz (inputs READ, values CALC).
        close(orders(8.0, 2.0, 12.0, 15f64.to_radians()), [83.90, 116.10, 73.06, 10.49], 0.01, 25.0);
        close(orders(8.0, 2.0, 12.0, 0.0), [83.33, 116.67, 72.92, 10.42], 0.01, 25.0);
        // F: 8 balls 7.92 on 34.55 mm at 35 Hz; a data card prints 106.0, about 1.8 % low: slip.
        let f = orders(8.0, 7.92, 34.55, 0.0);
        close(f, [107.91, 172.09, 72.33, 13.49], 0.01, 35.0);
        assert!((f.outer * 35.0 / 106.0 - 1.0) < 0.03);
    }

    #[test]
    fn the_rolling_element_column_is_twice_the_ball_spin() {
        // The same page prints 4.7135 for the "rolling element": that is 2 x 2.35675, not the spin.
        let a = orders(9.0, 0.3126, 1.537, 0.0);
        assert!((a.ball - 4.7135).abs() > 2.0 && (2.0 * a.ball - 4.7135).abs() < 1e-3);
    }

    proptest! {
        #[test]
        fn identities(n in 5f64..20.0, d in 2f64..8.0, gap in 1.5f64..6.0, angle in 0f64..0.7) {
            let o = orders(n, d, d * gap, angle);
            prop_assert!((o.outer + o.inner - n).abs() < 1e-9);
            prop_assert!((o.outer - n * o.cage).abs() < 1e-9);
            prop_assert!(o.outer < o.inner);
        }
    }
}
