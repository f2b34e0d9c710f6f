//! Finding riders and bikes by words: "the red hardtail", "Anna's tourer".
//!
//! Owns the table of words, which is derived from names and facts and renewed whenever one of them is written.

use std::collections::{BTreeMap, BTreeSet};

use rusqlite::{Connection, params};

use super::book::Book;
use super::error::BookError;
use super::id::{BikeId, RiderId};
use super::subject::{Kind, NAME, owner_at};
use super::view::View;

/// Weight of a word in the name.
const IN_NAME: i64 = 4;
/// Weight of a word in the owner's name.
const IN_OWNER: i64 = 3;
/// Weight of a word in a fact.
const IN_FACT: i64 = 2;
/// Words kept of one text, and letters of one word: enough to find by, however long the text.
const WORDS: usize = 64;
const LETTERS: usize = 40;
/// Most matches that are listed.
const LISTED: usize = 20;
/// Words that tell nothing when looking for something.
const EMPTY: &[&str] = &[
    "the", "a", "an", "my", "our", "his", "her", "their", "its", "this", "that", "of", "with", "and", "on", "in", "is",
];
/// Words that tell nothing beside others.
const GENERAL: &[&str] = &["bike", "bicycle", "rider", "customer"];

/// One rider or bike that matches.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Match<I> {
    /// Which.
    pub id: I,
    /// Its name now.
    pub name: String,
    /// How well it matches; only good for comparing within one search.
    pub score: i64,
}

/// What a search found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Found<I> {
    /// Nothing matches all words.
    None,
    /// One matches, or one alone is called exactly that.
    One(Match<I>),
    /// Several match, best first: ask which.
    Several {
        /// The best 20 at most.
        listed: Vec<Match<I>>,
        /// How many more there are.
        more: usize,
    },
}

impl Book {
    /// Finds bikes whose name, facts or owner's name hold all the words (or begin with them).
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn find_bikes(&self, said: &str) -> Result<Found<BikeId>, BookError> {
        find(&self.conn, Kind::Bike, said, BikeId)
    }

    /// Finds riders whose name or facts hold all the words (or begin with them).
    ///
    /// # Errors
    ///
    /// What prevents reading.
    pub fn find_riders(&self, said: &str) -> Result<Found<RiderId>, BookError> {
        find(&self.conn, Kind::Rider, said, RiderId)
    }
}

/// Words in small letters, plural s and possessive taken off.
pub(super) fn words(text: &str) -> Vec<String> {
    text.split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .take(WORDS)
        .map(|w| {
            let mut w: String = w.to_lowercase().chars().take(LETTERS).collect();
            if w.chars().count() > 3 && w.ends_with('s') && !w.ends_with("ss") {
                w.pop();
            }
            w
        })
        .filter(|w| w != "s")
        .collect()
}

/// The words that tell something.
fn telling(text: &str) -> Vec<String> {
    let mut all = words(text);
    all.retain(|w| !EMPTY.contains(&w.as_str()));
    if all.iter().any(|w| !GENERAL.contains(&w.as_str())) {
        all.retain(|w| !GENERAL.contains(&w.as_str()));
    }
    all
}

fn find<I>(conn: &Connection, kind: Kind, said: &str, id: impl Fn(i64) -> I) -> Result<Found<I>, BookError> {
    let asked = telling(said);
    let mut scores: Option<BTreeMap<i64, i64>> = None;
    for word in &asked {
        let hit = holding(conn, kind, word)?;
        scores = Some(match scores {
            None => hit,
            Some(so_far) => so_far.into_iter().filter_map(|(s, n)| hit.get(&s).map(|m| (s, n + m))).collect(),
        });
    }
    let mut ranked: Vec<(i64, i64)> = scores.unwrap_or_default().into_iter().collect();
    // Equals: the one added last first, being the more likely to be meant.
    ranked.sort_by_key(|(subject, score)| (-score, -subject));
    let more = ranked.len().saturating_sub(LISTED);
    ranked.truncate(LISTED);
    let view = View::new(conn, i64::MAX);
    let mut listed = Vec::with_capacity(ranked.len());
    for (subject, score) in ranked {
        listed.push(Match { id: id(subject), name: view.name(kind, subject)?, score });
    }
    let called = |m: &Match<I>| telling(&m.name) == asked;
    let exact: Vec<usize> = (0..listed.len()).filter(|i| called(&listed[*i])).collect();
    Ok(match (listed.len(), exact.as_slice()) {
        (0, _) => Found::None,
        (1, _) => Found::One(listed.remove(0)),
        (_, [only]) if more == 0 => Found::One(listed.remove(*only)),
        _ => Found::Several { listed, more },
    })
}

/// Everything that holds a word, with its weight; the whole word counts twice a beginning.
fn holding(conn: &Connection, kind: Kind, word: &str) -> Result<BTreeMap<i64, i64>, BookError> {
    let after = format!("{word}\u{10FFFF}");
    let sql = "SELECT subject, max(CASE WHEN word = ?2 THEN 2 * weight ELSE weight END) FROM word
               WHERE kind = ?1 AND word >= ?2 AND word < ?3 GROUP BY subject";
    let mut found = conn.prepare_cached(sql)?;
    let rows = found.query_map(params![kind.table(), word, after], |r| Ok((r.get(0)?, r.get(1)?)))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// The index is named because the planner, left alone, walks all words of a kind: 15 ms a fact in a book of 20,000 bikes.
const FORGET: &str = "DELETE FROM word INDEXED BY word_subject WHERE kind = ?1 AND subject = ?2";

/// Derives the words of one rider or bike anew, and those of the bikes that a rider owns.
pub(super) fn renew(conn: &Connection, kind: Kind, id: i64) -> Result<(), BookError> {
    conn.prepare_cached(FORGET)?.execute(params![kind.table(), id])?;
    let mut insert = conn.prepare_cached("INSERT INTO word (kind, word, subject, weight) VALUES (?1, ?2, ?3, ?4)")?;
    for (word, weight) in derived(conn, kind, id)? {
        insert.execute(params![kind.table(), word, id, weight])?;
    }
    if kind == Kind::Rider {
        let mut bikes = conn.prepare_cached("SELECT DISTINCT bike FROM owner WHERE rider = ?1")?;
        let bikes: Vec<i64> = bikes.query_map([id], |r| r.get(0))?.collect::<Result<_, _>>()?;
        for bike in bikes {
            renew(conn, Kind::Bike, bike)?;
        }
    }
    Ok(())
}

fn derived(conn: &Connection, kind: Kind, id: i64) -> Result<BTreeMap<String, i64>, BookError> {
    let view = View::new(conn, i64::MAX);
    let mut weights: BTreeMap<String, i64> = BTreeMap::new();
    let mut add = |text: &str, weight: i64| {
        for w in words(text) {
            let held = weights.entry(w).or_default();
            *held = weight.max(*held);
        }
    };
    for fact in view.facts(kind, id)? {
        add(&fact.value.text, if fact.what == NAME { IN_NAME } else { IN_FACT });
    }
    if kind == Kind::Bike
        && let Some(rider) = owner_at(conn, BikeId(id), i64::MAX)?
    {
        add(&view.name(Kind::Rider, rider.0)?, IN_OWNER);
    }
    Ok(weights)
}

fn all(conn: &Connection, kind: Kind) -> Result<Vec<i64>, BookError> {
    let mut ids = conn.prepare(&format!("SELECT id FROM {} ORDER BY id", kind.table()))?;
    Ok(ids.query_map([], |r| r.get(0))?.collect::<Result<_, _>>()?)
}

/// Derives everything anew.
pub(super) fn rebuild_all(conn: &Connection) -> Result<(), BookError> {
    conn.execute("DELETE FROM word", [])?;
    for bike in all(conn, Kind::Bike)? {
        renew(conn, Kind::Bike, bike)?;
    }
    let mut insert = conn.prepare("INSERT INTO word (kind, word, subject, weight) VALUES ('rider', ?1, ?2, ?3)")?;
    for rider in all(conn, Kind::Rider)? {
        for (word, weight) in derived(conn, Kind::Rider, rider)? {
            insert.execute(params![word, rider, weight])?;
        }
    }
    Ok(())
}

/// Whether the table is what it would be if derived anew.
pub(super) fn agrees(conn: &Connection) -> Result<bool, BookError> {
    let mut kept: BTreeSet<(String, i64, String, i64)> = BTreeSet::new();
    let mut rows = conn.prepare("SELECT kind, subject, word, weight FROM word")?;
    for row in rows.query_map([], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?, r.get(3)?)))? {
        kept.insert(row?);
    }
    let mut fresh: BTreeSet<(String, i64, String, i64)> = BTreeSet::new();
    for kind in [Kind::Rider, Kind::Bike] {
        for id in all(conn, kind)? {
            fresh.extend(derived(conn, kind, id)?.into_iter().map(|(w, n)| (kind.table().to_owned(), id, w, n)));
        }
    }
    Ok(kept == fresh)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_words_of_one_subject_are_found_without_walking_all() {
        let folder = tempfile::tempdir().unwrap();
        let book = Book::open(&folder.path().join("book")).unwrap();
        let mut plan = book.conn.prepare(&format!("EXPLAIN QUERY PLAN {FORGET}")).unwrap();
        let steps: Vec<String> =
            plan.query_map(["bike", "1"], |r| r.get(3)).unwrap().collect::<Result<_, _>>().unwrap();
        assert_eq!(steps, ["SEARCH word USING INDEX word_subject (kind=? AND subject=?)"]);
    }

    #[test]
    fn words_are_small_without_plural_and_possessive() {
        assert_eq!(words("Anna's RED hard-tails, 29\"!"), ["anna", "red", "hard", "tail", "29"]);
        assert_eq!(words("\u{202e}<script>"), ["script"]);
        assert!(words(&"x ".repeat(9000)).len() == WORDS);
        assert_eq!(words(&"y".repeat(10_000))[0].len(), LETTERS);
    }
}
