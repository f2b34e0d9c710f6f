//! Rows that correct one another: which of them hold.
//!
//! Pure. A correction stands where the row it puts right stood; an empty text takes the row back.

use std::collections::BTreeMap;

use super::stamp::{Stamp, Value};

/// A row that may put another one right.
pub(super) trait Chained {
    fn id(&self) -> i64;
    fn corrects(&self) -> Option<i64>;
    fn at(&self) -> i64;
    /// Takes the row back.
    fn gone(&self) -> bool;
}

/// The rows that hold, in order of the time since which they hold, equals in order of writing. `rows` are in order of writing.
pub(super) fn holding<T: Chained>(rows: Vec<T>) -> Vec<T> {
    let mut place: BTreeMap<i64, usize> = BTreeMap::new();
    let mut held: Vec<T> = Vec::with_capacity(rows.len());
    for row in rows {
        let id = row.id();
        match row.corrects().and_then(|old| place.get(&old).copied()) {
            Some(i) => {
                held[i] = row;
                place.insert(id, i);
            }
            None => {
                place.insert(id, held.len());
                held.push(row);
            }
        }
    }
    held.retain(|r| !r.gone());
    held.sort_by_key(Chained::at);
    held
}

/// The latest of each kind, in order of `key`. `rows` are in order of time.
pub(super) fn latest_of_each<T>(rows: Vec<T>, key: impl Fn(&T) -> String) -> Vec<T> {
    let mut last: BTreeMap<String, T> = BTreeMap::new();
    for row in rows {
        last.insert(key(&row), row);
    }
    last.into_values().collect()
}

/// The rows of each kind together, in order of `key`, each kind in order of time. `rows` are in order of time.
pub(super) fn by_name<T>(rows: Vec<T>, key: impl Fn(&T) -> String) -> Vec<(String, Vec<T>)> {
    let mut all: BTreeMap<String, Vec<T>> = BTreeMap::new();
    for row in rows {
        all.entry(key(&row)).or_default().push(row);
    }
    all.into_iter().collect()
}

/// A measurement, name or fact of a rider or a bike.
#[derive(Clone, Debug, PartialEq)]
pub struct Fact {
    /// Number of the row.
    pub id: i64,
    /// What it tells: "inseam", "name", "wheel-size".
    pub what: String,
    /// The value.
    pub value: Value,
    /// When, who, from where.
    pub stamp: Stamp,
    /// The row that it puts right.
    pub corrects: Option<i64>,
}

impl Chained for Fact {
    fn id(&self) -> i64 {
        self.id
    }
    fn corrects(&self) -> Option<i64> {
        self.corrects
    }
    fn at(&self) -> i64 {
        self.stamp.at
    }
    fn gone(&self) -> bool {
        self.value.text.is_empty()
    }
}

/// Reads the value that begins at a column: text, si, unit.
pub(super) fn value(r: &rusqlite::Row<'_>, from: usize) -> rusqlite::Result<Value> {
    Ok(Value { text: r.get(from)?, si: r.get(from + 1)?, unit: r.get(from + 2)? })
}

/// Reads the stamp that begins at a column: at, entered, who, source.
pub(super) fn stamp(r: &rusqlite::Row<'_>, from: usize) -> rusqlite::Result<Stamp> {
    Ok(Stamp { at: r.get(from)?, entered: r.get(from + 1)?, who: r.get(from + 2)?, source: r.get(from + 3)? })
}

#[cfg(test)]
mod tests {
    use super::super::stamp::Source;
    use super::*;

    fn fact(id: i64, at: i64, text: &str, corrects: Option<i64>) -> Fact {
        let stamp = Stamp::now(at, "k", Source::Measured);
        Fact { id, what: "inseam".into(), value: Value::words(text), stamp, corrects }
    }

    #[test]
    fn a_correction_stands_in_the_old_place() {
        let rows = vec![fact(1, 10, "a", None), fact(2, 20, "b", None), fact(3, 10, "c", Some(1))];
        let held: Vec<_> = holding(rows).into_iter().map(|f| f.value.text).collect();
        assert_eq!(held, ["c", "b"]);
    }

    #[test]
    fn an_empty_correction_takes_back_and_a_later_one_restores() {
        let mut rows = vec![fact(1, 10, "a", None), fact(2, 10, "", Some(1))];
        assert!(holding(rows.clone()).is_empty());
        rows.push(fact(3, 10, "d", Some(2)));
        assert_eq!(holding(rows)[0].value.text, "d");
    }

    #[test]
    fn a_correction_of_nothing_known_stands_for_itself() {
        assert_eq!(holding(vec![fact(5, 1, "x", Some(4))]).len(), 1);
    }
}
