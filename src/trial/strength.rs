//! Several values compared in pairs: the Bradley-Terry model, fitted by the MM algorithm of Hunter (2004).
//!
//! Each value has a strength; it wins a pair with the chance of its share of both strengths. Knows nothing of words.

/// Change of all logarithms in one round below which the fit has come to rest.
const REST: f64 = 1e-10;
/// Most rounds: far more than any table of rides needs.
const ROUNDS: usize = 100_000;

/// Why there is no fit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FitError {
    /// The table is not square, or holds something else than counts.
    #[error("the table of wins is not square, or holds what is no count")]
    Table,
    /// Some group of values never lost to (or never met) the others: strengths without bound (Ford 1957).
    #[error("some values never lost to the others, or never met them: there is no finite strength yet")]
    Apart,
    /// It did not come to rest.
    #[error("the fit did not come to rest")]
    Restless,
}

/// Strengths of several values.
#[derive(Clone, Debug, PartialEq)]
pub struct Strengths {
    /// Share of each; they sum to 1.
    pub share: Vec<f64>,
    /// Rounds that were needed.
    pub rounds: usize,
    pairs: Vec<Vec<f64>>,
}

/// Fits strengths to a table of wins: `wins[i][j]` is how often `i` was better than `j`; a draw counts half for both.
///
/// # Errors
///
/// [`FitError`], above all [`FitError::Apart`] with few rides; [`fit_gently`] always has an answer.
pub fn fit(wins: &[Vec<f64>]) -> Result<Strengths, FitError> {
    let n = wins.len();
    let counts = wins.iter().flatten().all(|w| w.is_finite() && *w >= 0.0);
    if n < 2 || !counts || wins.iter().enumerate().any(|(i, row)| row.len() != n || row[i] != 0.0) {
        return Err(FitError::Table);
    }
    if !connected(wins) {
        return Err(FitError::Apart);
    }
    let pairs: Vec<Vec<f64>> = (0..n).map(|i| (0..n).map(|j| wins[i][j] + wins[j][i]).collect()).collect();
    let won: Vec<f64> = wins.iter().map(|row| row.iter().sum()).collect();
    let mut share = vec![1.0 / n as f64; n];
    for rounds in 1..=ROUNDS {
        let next = round(&share, &won, &pairs);
        let moved = share.iter().zip(&next).map(|(a, b)| (a / b).ln().abs()).fold(0.0, f64::max);
        share = next;
        if moved < REST {
            return Ok(Strengths { share, rounds, pairs });
        }
    }
    Err(FitError::Restless)
}

/// The same with `extra` wins each way added to every pair, so that few rides do not claim too much. A half is a gentle
/// choice of ours (no source); it draws all strengths together.
///
/// # Errors
///
/// [`FitError::Table`], also for an `extra` that is not above 0.
pub fn fit_gently(wins: &[Vec<f64>], extra: f64) -> Result<Strengths, FitError> {
    if !(extra > 0.0 && extra.is_finite()) {
        return Err(FitError::Table);
    }
    let with = |(i, row): (usize, &Vec<f64>)| {
        row.iter().enumerate().map(|(j, w)| if i == j { *w } else { w + extra }).collect::<Vec<f64>>()
    };
    fit(&wins.iter().enumerate().map(with).collect::<Vec<_>>())
}

impl Strengths {
    /// The chance that `i` is better than `j` on a ride, 0 to 1.
    #[must_use]
    pub fn chance(&self, i: usize, j: usize) -> f64 {
        self.share[i] / (self.share[i] + self.share[j])
    }

    /// How far `i` is above `j`: the difference of the logarithms of strength, and its standard error from the curvature of
    /// the likelihood. With few rides the error is rough.
    #[must_use]
    pub fn apart(&self, i: usize, j: usize) -> (f64, f64) {
        let n = self.share.len();
        let difference = (self.share[i] / self.share[j]).ln();
        if i == j {
            return (difference, 0.0);
        }
        // Information about all strengths but the last, which is held.
        let mut rows: Vec<Vec<f64>> = vec![vec![0.0; n]; n - 1];
        for (a, row) in rows.iter_mut().enumerate() {
            for b in (0..n).filter(|b| *b != a) {
                let weight = self.pairs[a][b] * self.chance(a, b) * self.chance(b, a);
                row[a] += weight;
                if b < n - 1 {
                    row[b] -= weight;
                }
            }
            row[n - 1] = f64::from(u8::from(a == i)) - f64::from(u8::from(a == j));
        }
        let x = solve(rows);
        let at = |k: usize| x.get(k).copied().unwrap_or(0.0);
        (difference, (at(i) - at(j)).max(0.0).sqrt())
    }
}

/// One round of the MM algorithm (Hunter 2004): wins over the sum of meetings by joint strength, shares summing to 1.
fn round(share: &[f64], won: &[f64], pairs: &[Vec<f64>]) -> Vec<f64> {
    let n = share.len();
    let next = (0..n).map(|i| {
        let met: f64 = (0..n).filter(|j| *j != i).map(|j| pairs[i][j] / (share[i] + share[j])).sum();
        won[i] / met
    });
    let next: Vec<f64> = next.collect();
    let sum: f64 = next.iter().sum();
    next.into_iter().map(|x| x / sum).collect()
}

/// Whether each value can be reached from each other by wins (Ford's condition).
fn connected(wins: &[Vec<f64>]) -> bool {
    let reach = |beats: &dyn Fn(usize, usize) -> bool| {
        let mut seen = vec![false; wins.len()];
        let mut next = vec![0];
        while let Some(i) = next.pop() {
            if !std::mem::replace(&mut seen[i], true) {
                next.extend((0..wins.len()).filter(|j| beats(i, *j)));
            }
        }
        seen.into_iter().all(|s| s)
    };
    reach(&|i, j| wins[i][j] > 0.0) && reach(&|i, j| wins[j][i] > 0.0)
}

/// Solves equations; each row ends with its right-hand side. The matrix is symmetric and positive, so pivots are safe.
fn solve(mut rows: Vec<Vec<f64>>) -> Vec<f64> {
    let n = rows.len();
    for k in 0..n {
        let (above, below) = rows.split_at_mut(k + 1);
        let pivot = &above[k];
        for row in below {
            let factor = row[k] / pivot[k];
            for (x, p) in row.iter_mut().zip(pivot).skip(k) {
                *x -= factor * p;
            }
        }
    }
    let mut x = vec![0.0; n];
    for k in (0..n).rev() {
        let known: f64 = (k + 1..n).map(|j| rows[k][j] * x[j]).sum();
        x[k] = (rows[k][n] - known) / rows[k][k];
    }
    x
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn table(rows: &[&[f64]]) -> Vec<Vec<f64>> {
        rows.iter().map(|r| r.to_vec()).collect()
    }

    /// Seven teams, 13 games a pair, 1987: wins, fitted logarithms against the last team, and their standard errors, as
    /// printed in Agresti, Categorical Data Analysis (from memory).
    #[test]
    fn a_published_table_is_fitted_as_published() {
        let wins = table(&[
            &[0.0, 7.0, 9.0, 7.0, 7.0, 9.0, 11.0],
            &[6.0, 0.0, 7.0, 5.0, 11.0, 9.0, 9.0],
            &[4.0, 6.0, 0.0, 7.0, 7.0, 8.0, 12.0],
            &[6.0, 8.0, 6.0, 0.0, 6.0, 7.0, 10.0],
            &[6.0, 2.0, 6.0, 7.0, 0.0, 7.0, 12.0],
            &[4.0, 4.0, 5.0, 6.0, 6.0, 0.0, 6.0],
            &[2.0, 4.0, 1.0, 3.0, 1.0, 7.0, 0.0],
        ]);
        let fitted = fit(&wins).unwrap();
        let published = [
            (1.5814, 0.3433),
            (1.4364, 0.3396),
            (1.2945, 0.3367),
            (1.2476, 0.3359),
            (1.1077, 0.3339),
            (0.6839, 0.3319),
            (0.0, 0.0),
        ];
        for (i, (log, error)) in published.into_iter().enumerate() {
            let (l, e) = fitted.apart(i, 6);
            assert!((l - log).abs() < 1e-4 && (e - error).abs() < 1e-4, "{i}: {l} {e}");
        }
    }

    /// Two values: the share is the share of wins, the error that of a logit, the root of n / (w (n - w)).
    #[test]
    fn two_values_are_a_proportion() {
        let fitted = fit(&table(&[&[0.0, 7.0], &[3.0, 0.0]])).unwrap();
        assert!((fitted.chance(0, 1) - 0.7).abs() < 1e-9);
        let (log, error) = fitted.apart(0, 1);
        assert!((log - (7.0f64 / 3.0).ln()).abs() < 1e-8 && (error - (10.0f64 / 21.0).sqrt()).abs() < 1e-8);
        assert!((fitted.apart(1, 0).1 - error).abs() < 1e-9);
    }

    #[test]
    fn a_value_that_never_lost_has_no_finite_strength() {
        let never = table(&[&[0.0, 3.0, 2.0], &[0.0, 0.0, 1.0], &[0.0, 1.0, 0.0]]);
        assert_eq!(fit(&never), Err(FitError::Apart));
        let apart = table(&[&[0.0, 1.0, 0.0], &[1.0, 0.0, 0.0], &[0.0, 0.0, 0.0]]);
        assert_eq!(fit(&apart), Err(FitError::Apart));
        let gently = fit_gently(&never, 0.5).unwrap();
        assert!(gently.chance(0, 1) > 0.6 && gently.chance(0, 1) < 0.95);
        assert_eq!(fit(&table(&[&[0.0, 1.0]])), Err(FitError::Table));
        assert_eq!(fit(&table(&[&[0.0, -1.0], &[1.0, 0.0]])), Err(FitError::Table));
        assert_eq!(fit_gently(&never, 0.0), Err(FitError::Table));
    }

    fn likelihood(share: &[f64], wins: &[Vec<f64>]) -> f64 {
        let n = share.len();
        let each = (0..n).flat_map(|i| (0..n).map(move |j| (i, j))).filter(|(i, j)| i != j);
        each.map(|(i, j)| wins[i][j] * (share[i] / (share[i] + share[j])).ln()).sum()
    }

    fn tables() -> impl Strategy<Value = Vec<Vec<f64>>> {
        (2usize..6).prop_flat_map(|n| {
            prop::collection::vec(prop::collection::vec(1u8..20, n), n).prop_map(move |rows| {
                let cell = |i: usize, j: usize, w: u8| if i == j { 0.0 } else { f64::from(w) };
                rows.iter()
                    .enumerate()
                    .map(|(i, r)| r.iter().enumerate().map(|(j, w)| cell(i, j, *w)).collect())
                    .collect()
            })
        })
    }

    proptest! {
        /// Each round raises the likelihood (Hunter 2004), and at rest expected wins are the wins seen.
        #[test]
        fn rounds_climb_and_rest_where_wins_are_as_expected(wins in tables()) {
            let n = wins.len();
            let fitted = fit(&wins).unwrap();
            prop_assert!((fitted.share.iter().sum::<f64>() - 1.0).abs() < 1e-9);
            let won: Vec<f64> = wins.iter().map(|r| r.iter().sum()).collect();
            let mut share = vec![1.0 / n as f64; n];
            for _ in 0..20 {
                let next = round(&share, &won, &fitted.pairs);
                prop_assert!(likelihood(&next, &wins) >= likelihood(&share, &wins) - 1e-9);
                share = next;
            }
            for (i, won) in won.iter().enumerate() {
                let expected: f64 = (0..n).filter(|j| *j != i).map(|j| fitted.pairs[i][j] * fitted.chance(i, j)).sum();
                prop_assert!((expected - won).abs() < 1e-5, "{expected} {won}");
            }
        }

        /// Met equally often, strengths stand in the order of wins (Ford 1957).
        #[test]
        fn met_equally_often_the_order_is_that_of_wins(upper in prop::collection::vec(1u8..12, 10)) {
            let mut wins = vec![vec![0.0; 5]; 5];
            let pairs = (0..5).flat_map(|i| (i + 1..5).map(move |j| (i, j)));
            for ((i, j), w) in pairs.zip(upper) {
                (wins[i][j], wins[j][i]) = (f64::from(w), 13.0 - f64::from(w));
            }
            let fitted = fit(&wins).unwrap();
            let won: Vec<f64> = wins.iter().map(|r| r.iter().sum()).collect();
            for i in 0..5 {
                for j in 0..5 {
                    if won[i] > won[j] {
                        prop_assert!(fitted.share[i] > fitted.share[j]);
                    }
                }
            }
        }
    }
}
