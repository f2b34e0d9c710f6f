//! How often each cause was met here, and how gently that shifts how common it is held to be.
//!
//! Owns the count of closed visits and the arithmetic of the shift. Knows nothing of what a cause means; red flags stay with
//! whoever holds the belief.

use std::collections::BTreeMap;

use rusqlite::{Connection, Params};

use super::book::Book;
use super::error::BookError;
use super::view::View;

impl Book {
    /// Closed visits by cause: those whose repair of that cause helped and has not come back since.
    ///
    /// Kept up to date with each entry, so that it costs no more with a hundred thousand visits.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn frequencies(&self) -> Result<BTreeMap<String, u64>, BookError> {
        kept(&self.conn)
    }
}

impl View<'_> {
    /// The same as of the time of this view, counted anew.
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn frequencies(&self) -> Result<BTreeMap<String, u64>, BookError> {
        counted(self.conn, self.at)
    }
}

pub(super) fn kept(conn: &Connection) -> Result<BTreeMap<String, u64>, BookError> {
    read(conn, "SELECT cause, visits FROM tally WHERE visits <> 0", [])
}

pub(super) fn counted(conn: &Connection, at: i64) -> Result<BTreeMap<String, u64>, BookError> {
    let sql =
        "SELECT key, count(*) FROM entry e WHERE kind = 'outcome' AND text = 'helped' AND at <= ?1 AND entered <= ?1
               AND NOT EXISTS (SELECT 1 FROM entry c WHERE c.corrects = e.id AND c.entered <= ?1) GROUP BY key";
    read(conn, sql, [at])
}

fn read(conn: &Connection, sql: &str, given: impl Params) -> Result<BTreeMap<String, u64>, BookError> {
    let mut found = conn.prepare_cached(sql)?;
    let rows = found.query_map(given, |r| Ok((r.get(0)?, r.get::<_, i64>(1)?)))?;
    let mut counts = BTreeMap::new();
    for row in rows {
        let (cause, visits) = row?;
        counts.insert(cause, u64::try_from(visits).unwrap_or(0));
    }
    Ok(counts)
}

/// Counts everything anew.
pub(super) fn rebuild(conn: &Connection) -> Result<(), BookError> {
    conn.execute("DELETE FROM tally", [])?;
    let mut insert = conn.prepare("INSERT INTO tally (cause, visits) VALUES (?1, ?2)")?;
    for (cause, visits) in counted(conn, i64::MAX)? {
        insert.execute(rusqlite::params![cause, i64::try_from(visits).unwrap_or(i64::MAX)])?;
    }
    Ok(())
}

/// Shifts how common causes are held to be by what was met here: the mean of the Dirichlet posterior.
///
/// `prior` are shares (they need not sum to 1; the sum is kept), `counts` the closed visits of each, `weight` how many visits
/// the prior is worth: at as many closed visits, half of what is believed comes from the workshop. With no counts, or a
/// weight that is not above 0 or a prior without mass, the prior comes back as it was. Lengths that differ: missing counts
/// are 0, counts beyond the prior are ignored.
#[must_use]
pub fn dirichlet(prior: &[f64], counts: &[u64], weight: f64) -> Vec<f64> {
    let mass: f64 = prior.iter().sum();
    let met: f64 = counts.iter().take(prior.len()).map(|n| *n as f64).sum();
    if !(mass > 0.0 && mass.is_finite() && weight > 0.0 && weight.is_finite() && met > 0.0) {
        return prior.to_vec();
    }
    let shifted = prior.iter().enumerate().map(|(i, p)| {
        let n = counts.get(i).map_or(0.0, |n| *n as f64);
        mass * (weight * p / mass + n) / (weight + met)
    });
    shifted.collect()
}

/// The same, held within bounds: no cause becomes rarer than `floor` (0 to 1) times its prior, however often others are met,
/// so that a rare danger is not counted away. The sum is kept.
#[must_use]
pub fn dirichlet_with_floor(prior: &[f64], counts: &[u64], weight: f64, floor: f64) -> Vec<f64> {
    let floor = floor.clamp(0.0, 1.0);
    let shifted = dirichlet(prior, counts, weight);
    // A mixture keeps the sum and the order of shifts, and holds the floor for each cause at once.
    shifted.iter().zip(prior).map(|(s, p)| floor * p + (1.0 - floor) * s).collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Laplace's rule of succession, (s + 1) / (n + 2): a uniform prior worth two visits. Nine of ten give 10/12.
    #[test]
    fn two_causes_with_weight_two_are_the_rule_of_succession() {
        let p = dirichlet(&[0.5, 0.5], &[9, 1], 2.0);
        assert!((p[0] - 10.0 / 12.0).abs() < 1e-12 && (p[1] - 2.0 / 12.0).abs() < 1e-12);
    }

    #[test]
    fn nothing_met_or_no_weight_moves_nothing() {
        let prior = [0.7, 0.2, 0.1];
        assert_eq!(dirichlet(&prior, &[], 50.0), prior);
        assert_eq!(dirichlet(&prior, &[0, 0, 0], 50.0), prior);
        assert_eq!(dirichlet(&prior, &[5, 0, 0], 0.0), prior);
        assert_eq!(dirichlet(&prior, &[5, 0, 0], f64::NAN), prior);
    }

    proptest! {
        #[test]
        fn the_sum_is_kept_and_the_floor_holds(
            cases in prop::collection::vec((0.001f64..1.0, 0u64..5000), 2..40),
            weight in 1.0f64..5000.0,
            floor in 0.0f64..1.0,
        ) {
            let (prior, counts): (Vec<f64>, Vec<u64>) = cases.into_iter().unzip();
            let mass: f64 = prior.iter().sum();
            let p = dirichlet_with_floor(&prior, &counts, weight, floor);
            prop_assert!((p.iter().sum::<f64>() - mass).abs() < 1e-9 * mass);
            for (now, was) in p.iter().zip(&prior) {
                prop_assert!(*now >= floor * was - 1e-12);
            }
        }

        #[test]
        fn meeting_a_cause_once_more_never_makes_it_rarer(
            mut counts in prop::collection::vec(0u64..500, 3..10),
            weight in 1.0f64..500.0,
        ) {
            let prior = vec![1.0 / counts.len() as f64; counts.len()];
            let before = dirichlet(&prior, &counts, weight);
            counts[1] += 1;
            let after = dirichlet(&prior, &counts, weight);
            prop_assert!(after[1] >= before[1] - 1e-12);
            prop_assert!(after[0] <= before[0] + 1e-12);
        }
    }
}
