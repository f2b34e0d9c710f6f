//! The numbered forms of the book, each made from the one before.
//!
//! Owns the steps; a step once released is never changed, a new one is added below.

use rusqlite::{Connection, Transaction, TransactionBehavior};

use super::error::BookError;
use super::{frequency, word};

/// Marks a file as a book: "Shak" in ASCII.
pub(super) const APPLICATION: i64 = 0x5368_616b;

/// What a step does beside its statements.
type After = fn(&Connection) -> Result<(), BookError>;

/// One step from a form to the next.
pub(super) struct Step {
    /// The statements.
    pub(super) sql: &'static str,
    /// Derives what the statements cannot.
    after: Option<After>,
}

/// All steps; the form of a book is how many of them it has taken.
pub(super) const STEPS: &[Step] = &[
    Step { sql: include_str!("migrations/0001_book.sql"), after: None },
    Step { sql: include_str!("migrations/0002_trial_wear_due.sql"), after: None },
    Step { sql: include_str!("migrations/0003_words_tally_lock.sql"), after: Some(derive) },
];

/// The form that this program writes.
pub const FORM: i64 = STEPS.len() as i64;

fn derive(conn: &Connection) -> Result<(), BookError> {
    word::rebuild_all(conn)?;
    frequency::rebuild(conn)
}

/// The form of a file; 0 for one without tables, `None` for something else than a book.
pub(super) fn form(conn: &Connection) -> Result<Option<i64>, BookError> {
    let application: i64 = conn.query_row("PRAGMA application_id", [], |r| r.get(0))?;
    let form: i64 = conn.query_row("PRAGMA user_version", [], |r| r.get(0))?;
    let tables: i64 = conn.query_row("SELECT count(*) FROM sqlite_schema", [], |r| r.get(0))?;
    Ok(match (application, form, tables) {
        (0, 0, 0) => Some(0),
        (APPLICATION, 1.., 1..) => Some(form),
        _ => None,
    })
}

/// Takes the steps that are missing, all or none.
pub(super) fn run(conn: &Connection, steps: &[Step]) -> Result<(), BookError> {
    let target = steps.len() as i64;
    if form(conn)? == Some(target) {
        return Ok(());
    }
    // Another program may be doing the same: what is missing is asked again under the lock.
    let tx = Transaction::new_unchecked(conn, TransactionBehavior::Immediate)?;
    let from = form(&tx)?.unwrap_or(0);
    for step in steps.iter().skip(usize::try_from(from).unwrap_or(usize::MAX)) {
        tx.execute_batch(step.sql)?;
        if let Some(after) = step.after {
            after(&tx)?;
        }
    }
    if from < target {
        tx.execute_batch(&format!("PRAGMA application_id = {APPLICATION}; PRAGMA user_version = {target}"))?;
    }
    tx.commit()?;
    Ok(())
}
