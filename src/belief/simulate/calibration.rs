//! Calibration: is a belief of 70 % right seven times in ten?

/// Ten bins of belief, each with how many, the sum of beliefs and how many were right.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Calibration {
    bins: [(usize, f64, usize); 10],
}

impl Calibration {
    /// Counts a belief (0 to 1) and whether it was right.
    pub fn add(&mut self, p: f64, right: bool) {
        let bin = &mut self.bins[((p * 10.0) as usize).min(9)];
        bin.0 += 1;
        bin.1 += p;
        bin.2 += usize::from(right);
    }

    /// Takes in what another has counted.
    pub fn merge(&mut self, other: &Self) {
        for (a, b) in self.bins.iter_mut().zip(&other.bins) {
            *a = (a.0 + b.0, a.1 + b.1, a.2 + b.2);
        }
    }

    /// Expected calibration error: mean distance of belief and share right over the bins, weighted by their counts (0 to 1).
    #[must_use]
    pub fn error(&self) -> f64 {
        let n: usize = self.bins.iter().map(|b| b.0).sum();
        self.bins.iter().map(|b| (b.1 - b.2 as f64).abs()).sum::<f64>() / n.max(1) as f64
    }

    /// The table: count, mean belief and share right of each bin that is not empty.
    #[must_use]
    pub fn table(&self) -> Vec<(usize, f64, f64)> {
        let filled = self.bins.iter().filter(|b| b.0 > 0);
        filled.map(|b| (b.0, b.1 / b.0 as f64, b.2 as f64 / b.0 as f64)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: two at 0.75 of which one right (off by 0.25), two at 0.15 of which none (off by 0.15): mean 0.20.
    #[test]
    fn error_by_hand() {
        let mut c = Calibration::default();
        for (p, right) in [(0.75, true), (0.75, false), (0.15, false), (0.15, false)] {
            c.add(p, right);
        }
        assert!((c.error() - 0.20).abs() < 1e-12);
        assert_eq!(c.table().len(), 2);
    }
}
