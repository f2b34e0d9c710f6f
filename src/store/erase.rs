//! Erasing a rider: everything about them goes, and the file is rewritten without it.
//!
//! Copies made before (backups, exports, cards) are not reached from here; whoever erases must be told so.

use rusqlite::{Connection, params};

use super::book::Book;
use super::error::BookError;
use super::id::RiderId;
use super::shape::{Holds, TABLES};
use super::subject::NAME;
use super::{frequency, word};

/// Stands where a name stood.
pub const ERASED: &str = "(erased)";
/// Bike facts that tell of a person; all others are about the bike.
pub const PERSONAL: [&str; 5] = [NAME, "note", "serial", "bought", "price"];

/// What an erasure did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Erasure {
    /// Rows removed.
    pub rows: usize,
    /// Other rows in which the rider's name was blanked.
    pub blanked: usize,
    /// The file has been rewritten: no trace is left in it. If not, another program had the book open; it is done when the
    /// book is next opened alone, or by [`Book::scrub`].
    pub scrubbed: bool,
}

impl Book {
    /// Erases a rider: measurements, visits, settings and trials, what their bikes tell of them, and their name wherever it
    /// stands. The bikes stay, with what is about the bike. The past is erased as well.
    ///
    /// A name of several words is blanked in small or large letters alike; a name of one word only as it is written, so that
    /// "May" does not take every "may" with it.
    ///
    /// # Errors
    ///
    /// [`BookError::Missing`]; [`BookError::Refused`] inside [`Book::together`]; what prevents writing: then nothing is
    /// erased.
    pub fn erase_rider(&self, rider: RiderId) -> Result<Erasure, BookError> {
        if !self.conn.is_autocommit() {
            return Err(BookError::Refused("a rider is erased by itself, not together with other writing".into()));
        }
        let (rows, blanked) = self.write(|conn| {
            super::subject::exists(conn, "rider", rider.0)?;
            conn.execute_batch("PRAGMA defer_foreign_keys = ON")?;
            conn.execute("INSERT INTO erasing (rider) VALUES (?1)", [rider])?;
            let names = names(conn, rider)?;
            let bikes = bikes(conn, rider)?;
            let mut rows = remove(conn, rider)?;
            for (bike, theirs) in &bikes {
                rows += strip_bike(conn, *bike, *theirs, &names)?;
            }
            let blanked = sweep(conn, &names)?;
            conn.execute("DELETE FROM erasing", [])?;
            conn.execute("INSERT INTO unscrubbed (since) VALUES (1)", [])?;
            word::rebuild_all(conn)?;
            frequency::rebuild(conn)?;
            Ok::<_, BookError>((rows, blanked))
        })?;
        Ok(Erasure { rows, blanked, scrubbed: self.scrub()? })
    }

    /// Rewrites the file without anything that was removed; `false` if another program has the book open.
    ///
    /// # Errors
    ///
    /// What prevents writing.
    pub fn scrub(&self) -> Result<bool, BookError> {
        match self.conn.execute_batch("VACUUM").map_err(BookError::from) {
            Err(BookError::Busy) => return Ok(false),
            other => other?,
        }
        let busy: i64 = self.conn.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |r| r.get(0))?;
        if busy == 0 {
            self.write(|conn| Ok::<_, BookError>(conn.execute("DELETE FROM unscrubbed", [])?))?;
        }
        Ok(busy == 0)
    }
}

/// Finishes an erasure that was cut short.
pub(super) fn finish(book: &Book) -> Result<(), BookError> {
    let open: bool = book.conn.query_row("SELECT EXISTS (SELECT 1 FROM unscrubbed)", [], |r| r.get(0))?;
    match if open { book.scrub() } else { Ok(true) } {
        // Another program is at it, or has the book open: it stays noted.
        Ok(_) | Err(BookError::Busy) => Ok(()),
        Err(e) => Err(e),
    }
}

fn names(conn: &Connection, rider: RiderId) -> Result<Vec<String>, BookError> {
    let sql = "SELECT DISTINCT text FROM rider_fact WHERE rider = ?1 AND what = ?2 AND text <> ''";
    let mut found = conn.prepare(sql)?;
    let mut names: Vec<String> = found.query_map(params![rider, NAME], |r| r.get(0))?.collect::<Result<_, _>>()?;
    // Long ones first: "Anna Berg" before "Anna".
    names.sort_by_key(|n| (usize::MAX - n.len(), n.clone()));
    Ok(names)
}

/// The bikes that were ever theirs, and whether each is theirs (or nobody's) now.
fn bikes(conn: &Connection, rider: RiderId) -> Result<Vec<(i64, bool)>, BookError> {
    let sql = "SELECT bike, coalesce((SELECT rider FROM owner l WHERE l.bike = o.bike ORDER BY at DESC, id DESC LIMIT 1), ?1) = ?1
               FROM owner o WHERE rider = ?1 GROUP BY bike";
    let mut found = conn.prepare(sql)?;
    Ok(found.query_map([rider], |r| Ok((r.get(0)?, r.get(1)?)))?.collect::<Result<_, _>>()?)
}

/// Removes the rows that are about them; what names no rider on a bike that was theirs is taken to be about them.
fn remove(conn: &Connection, rider: RiderId) -> Result<usize, BookError> {
    let theirs = "(rider = ?1 OR (rider IS NULL AND bike IN (SELECT bike FROM owner WHERE rider = ?1)))";
    let statements = [
        format!("DELETE FROM setting WHERE {theirs} OR visit IN (SELECT id FROM visit WHERE {theirs})"),
        format!("DELETE FROM entry WHERE visit IN (SELECT id FROM visit WHERE {theirs})"),
        format!("DELETE FROM visit WHERE {theirs}"),
        format!("DELETE FROM verdict WHERE trial IN (SELECT id FROM trial WHERE {theirs})"),
        format!("DELETE FROM trial_end WHERE trial IN (SELECT id FROM trial WHERE {theirs})"),
        format!("DELETE FROM trial WHERE {theirs}"),
        "DELETE FROM rider_fact WHERE rider = ?1".to_owned(),
    ];
    let mut rows = 0;
    for sql in &statements {
        rows += conn.execute(sql, [rider])?;
    }
    // After the rest, which looks up whose bikes they were.
    rows += conn.execute("DELETE FROM owner WHERE rider = ?1", [rider])?;
    rows += conn.execute("DELETE FROM rider WHERE id = ?1", [rider])?;
    Ok(rows)
}

/// Takes from a bike what tells of a person. Of a bike that is another's by now, only what names the one who is erased.
fn strip_bike(conn: &Connection, bike: i64, theirs: bool, names: &[String]) -> Result<usize, BookError> {
    let mut parts: Vec<String> = names.iter().flat_map(|n| n.split_whitespace()).map(str::to_owned).collect();
    parts.retain(|p| p.chars().count() > 1);
    let sql = "SELECT id, what, text, corrects FROM bike_fact WHERE bike = ?1 ORDER BY id";
    let mut found = conn.prepare(sql)?;
    let facts: Vec<(i64, String, String, Option<i64>)> =
        found.query_map([bike], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?, r.get(3)?)))?.collect::<Result<_, _>>()?;
    // A row goes with all rows that it corrects or that correct it.
    let mut first: Vec<(i64, i64)> = Vec::new();
    let mut gone: Vec<i64> = Vec::new();
    for (id, what, text, corrects) in &facts {
        let root = corrects.and_then(|c| first.iter().find(|(i, _)| *i == c)).map_or(*id, |(_, r)| *r);
        first.push((*id, root));
        let tells = PERSONAL.contains(&what.as_str());
        if (tells && theirs) || parts.iter().any(|p| blank(text, p, Letters::Either).is_some()) {
            gone.push(root);
        }
    }
    let mut rows = 0;
    for (id, root) in &first {
        if gone.contains(root) {
            rows += conn.execute("DELETE FROM bike_fact WHERE id = ?1", [id])?;
        }
    }
    let named: bool = conn.query_row(
        "SELECT EXISTS (SELECT 1 FROM bike_fact WHERE bike = ?1 AND what = ?2)",
        params![bike, NAME],
        |r| r.get(0),
    )?;
    if !named {
        conn.execute(
            "INSERT INTO bike_fact (bike, what, text, at, entered, who, source)
             SELECT id, ?2, 'bike ' || id, at, entered, ?3, 'said' FROM bike WHERE id = ?1",
            params![bike, NAME, ERASED],
        )?;
    }
    Ok(rows)
}

/// Blanks the names wherever they stand in free text.
fn sweep(conn: &Connection, names: &[String]) -> Result<usize, BookError> {
    let mut blanked = 0;
    for name in names.iter().map(|n| n.trim()).filter(|n| !n.is_empty()) {
        let letters = if name.contains(char::is_whitespace) { Letters::Either } else { Letters::AsWritten };
        for table in TABLES {
            for column in table.columns.iter().filter(|c| c.holds == Holds::Text) {
                let (t, c) = (table.name, column.name);
                let sql = format!("SELECT id, {c} FROM {t} WHERE instr(lower({c}), lower(?1)) > 0");
                let mut found = conn.prepare(&sql)?;
                let hits: Vec<(i64, String)> =
                    found.query_map([name], |r| Ok((r.get(0)?, r.get(1)?)))?.collect::<Result<_, _>>()?;
                for (id, text) in hits {
                    if let Some(text) = blank(&text, name, letters) {
                        // Ignored where the column allows certain words only: those are the program's own.
                        blanked += conn
                            .execute(&format!("UPDATE OR IGNORE {t} SET {c} = ?1 WHERE id = ?2"), params![text, id])?;
                    }
                }
            }
        }
    }
    Ok(blanked)
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Letters {
    AsWritten,
    Either,
}

/// The text with a name blanked where it stands as whole words; `None` if it does not.
fn blank(text: &str, name: &str, letters: Letters) -> Option<String> {
    let mut out = String::new();
    let mut rest = text;
    let mut before: Option<char> = None;
    let mut hit = false;
    while let Some(c) = rest.chars().next() {
        let same = rest.get(..name.len()).is_some_and(|s| match letters {
            Letters::AsWritten => s == name,
            Letters::Either => s.eq_ignore_ascii_case(name),
        });
        let after = rest.get(name.len()..).and_then(|r| r.chars().next());
        let whole = !before.is_some_and(char::is_alphanumeric) && !after.is_some_and(char::is_alphanumeric);
        if same && whole && !name.is_empty() {
            out.push_str(ERASED);
            hit = true;
            before = name.chars().last();
            rest = &rest[name.len()..];
        } else {
            out.push(c);
            before = Some(c);
            rest = &rest[c.len_utf8()..];
        }
    }
    hit.then_some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_blanked_as_whole_words() {
        assert_eq!(blank("Anna's bike, anna", "Anna", Letters::AsWritten).as_deref(), Some("(erased)'s bike, anna"));
        assert_eq!(blank("ANNA BERG rode", "Anna Berg", Letters::Either).as_deref(), Some("(erased) rode"));
        assert_eq!(blank("Annabel may", "Anna", Letters::Either), None);
        assert_eq!(blank("Übü", "bü", Letters::Either), None);
        assert_eq!(blank("", "x", Letters::Either), None);
    }
}
