//! Axes: round numbers along a range, and where a value stands on it.
//!
//! Owns scales. Must not know what is measured.

/// A straight scale from a range of values to a range of places.
#[derive(Clone, Copy, Debug)]
pub(super) struct Axis {
    lo: f64,
    hi: f64,
    from: f64,
    to: f64,
}

impl Axis {
    /// The scale that holds all `values` with a little room, drawn between `from` and `to`; `None` without values.
    pub(super) fn over(values: impl IntoIterator<Item = f64>, from: f64, to: f64) -> Option<Axis> {
        let (lo, hi) = range(values)?;
        // Equal values still need a width: a tenth of the value, or one where that is nothing.
        let room =
            if hi > lo { (hi - lo) * 0.06 } else { (lo.abs() * 0.1).max(1e-6).max(if lo == 0.0 { 1.0 } else { 0.0 }) };
        Some(Axis { lo: lo - room, hi: hi + room, from, to })
    }

    /// Where a value stands.
    pub(super) fn at(&self, v: f64) -> f64 {
        self.from + (v - self.lo) / (self.hi - self.lo) * (self.to - self.from)
    }

    /// Round numbers on it, about `most` of them, each as written.
    pub(super) fn ticks(&self, most: usize) -> Vec<(f64, String)> {
        let raw = (self.hi - self.lo) / most.max(1) as f64;
        let power = 10f64.powf(raw.log10().floor());
        let step = [1.0, 2.0, 5.0, 10.0].into_iter().map(|s| s * power).find(|s| *s >= raw * 0.999).unwrap_or(raw);
        let decimals = (-step.log10().floor()).clamp(0.0, 9.0) as usize;
        let first = (self.lo / step).ceil();
        (0..=most + 1)
            .map(|i| (first + i as f64) * step)
            .take_while(|v| *v <= self.hi)
            .map(|v| (v, format!("{:.decimals$}", if v == 0.0 { 0.0 } else { v })))
            .collect()
    }
}

/// The least and the greatest of the values.
pub(super) fn range(values: impl IntoIterator<Item = f64>) -> Option<(f64, f64)> {
    values.into_iter().fold(None, |r: Option<(f64, f64)>, v| Some(r.map_or((v, v), |(lo, hi)| (lo.min(v), hi.max(v)))))
}

/// A number with about four figures that matter, without empty decimals.
pub(in crate::report) fn number(v: f64) -> String {
    let text = match v.abs() {
        a if a >= 1000.0 => format!("{v:.0}"),
        a if a >= 100.0 => format!("{v:.1}"),
        a if a >= 1.0 => format!("{v:.2}"),
        _ => format!("{v:.3}"),
    };
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Label places moved apart so that none is nearer to the next than `gap`, the order kept, all within `lo..=hi` where
/// there is room.
pub(super) fn apart(at: &[f64], gap: f64, lo: f64, hi: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..at.len()).collect();
    order.sort_by(|a, b| at[*a].total_cmp(&at[*b]));
    let mut out = at.to_vec();
    let mut least = lo;
    for i in &order {
        out[*i] = out[*i].max(least);
        least = out[*i] + gap;
    }
    let mut most = hi;
    for i in order.iter().rev() {
        out[*i] = out[*i].min(most);
        most = out[*i] - gap;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_and_inside() {
        let axis = Axis::over([0.0, 10.0], 0.0, 100.0).unwrap();
        let words: Vec<String> = axis.ticks(5).into_iter().map(|t| t.1).collect();
        assert_eq!(words, ["0", "5", "10"]);
        let axis = Axis::over([0.21, 0.33], 0.0, 1.0).unwrap();
        assert!(axis.ticks(6).iter().all(|(v, w)| w.len() == 4 && axis.at(*v) >= 0.0 && axis.at(*v) <= 1.0));
    }

    #[test]
    fn equal_values_stand_in_the_middle_of_a_real_scale() {
        for v in [0.0, 5.0, -3.0, 1e12, 1e-9] {
            let axis = Axis::over([v, v], 0.0, 10.0).unwrap();
            assert!((axis.at(v) - 5.0).abs() < 1e-6, "{v}");
            assert!(!axis.ticks(4).is_empty() || v == 1e-9);
        }
        assert!(Axis::over([], 0.0, 1.0).is_none());
    }

    #[test]
    fn labels_move_apart_and_stay_inside() {
        let out = apart(&[5.0, 5.0, 5.5, 90.0], 10.0, 0.0, 95.0);
        assert_eq!(out, [5.0, 15.0, 25.0, 90.0]);
        assert_eq!(apart(&[99.0, 99.0], 10.0, 0.0, 100.0), [90.0, 100.0]);
    }

    #[test]
    fn numbers_keep_four_figures() {
        let words: Vec<String> = [733.0, 1.5, 0.25, 12345.6, -0.0001, 28.04].into_iter().map(number).collect();
        assert_eq!(words, ["733", "1.5", "0.25", "12346", "0", "28.04"]);
    }
}
