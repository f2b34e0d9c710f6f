//! The open book: one SQLite file, or memory.
//!
//! Owns opening, transactions and the check of the whole. Knows nothing of the conversation; has no clock and no network.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use rusqlite::{Connection, MAIN_DB, OpenFlags, Transaction, TransactionBehavior};

use super::error::BookError;
use super::view::View;
use super::{erase, frequency, migration, place, word};

/// How often another program is waited for before [`BookError::Busy`]: ten seconds at least.
const PATIENCE: i32 = 10_000;
/// Pause between tries. SQLite's own waiting grows to 100 ms and then seldom meets the moment at which a busy writer lets
/// go: with two programs writing without rest, waits of 5 to 10 seconds were measured with it.
const PAUSE: Duration = Duration::from_millis(1);

/// The book of riders, bikes, visits, settings and trials.
///
/// Rows are only ever added; a correction is a new row. Each writing call is confirmed (on the disk) when it returns.
#[derive(Debug)]
pub struct Book {
    pub(super) conn: Connection,
    path: Option<PathBuf>,
    /// Another program was waited for since this one last gave way.
    waited: Arc<AtomicBool>,
}

impl Book {
    /// Opens the book in this file, making it (readable by the owner only) and its folder if they are missing.
    ///
    /// # Errors
    ///
    /// [`BookError::Place`] if folder or file cannot be made, [`BookError::NotABook`] or [`BookError::Newer`] for a file
    /// that must not be touched, [`BookError::Damaged`], or what else the system reports.
    pub fn open(path: &Path) -> Result<Self, BookError> {
        let path = place::prepare(path)?;
        let at_path = |e: BookError| match e {
            BookError::System(why) => BookError::Place { path: path.clone(), why },
            BookError::Damaged(why) if why.contains("not a database") => {
                BookError::NotABook { path: path.clone(), why }
            }
            other => other,
        };
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let mut conn = Connection::open_with_flags(&path, flags).map_err(|e| at_path(e.into()))?;
        let waited = Arc::new(AtomicBool::new(false));
        let handler = Arc::clone(&waited);
        conn.busy_handler(Some(move |tries| {
            handler.store(true, Ordering::Relaxed);
            wait(tries)
        }))?;
        // Looked at before anything is set: another program's file stays as it is.
        match migration::form(&conn).map_err(at_path)? {
            None => {
                return Err(BookError::NotABook { path: path.clone(), why: "it is another program's database".into() });
            }
            Some(found) if found > migration::FORM => {
                return Err(BookError::Newer { found, known: migration::FORM });
            }
            Some(_) if conn.is_readonly(MAIN_DB)? => return Err(BookError::ReadOnly),
            Some(_) => place::restrict(&path),
        }
        write_ahead(&conn)?;
        let book = Self::with(conn, Some(path.clone()), waited).map_err(at_path)?;
        erase::finish(&book)?;
        Ok(book)
    }

    /// A book that is gone when it is closed.
    ///
    /// # Errors
    ///
    /// Only if there is no memory.
    pub fn in_memory() -> Result<Self, BookError> {
        Self::with(Connection::open_in_memory()?, None, Arc::default())
    }

    fn with(conn: Connection, path: Option<PathBuf>, waited: Arc<AtomicBool>) -> Result<Self, BookError> {
        conn.execute_batch(
            "PRAGMA synchronous = FULL; PRAGMA fullfsync = ON; PRAGMA checkpoint_fullfsync = ON;
             PRAGMA foreign_keys = ON; PRAGMA secure_delete = ON; PRAGMA temp_store = MEMORY;
             PRAGMA trusted_schema = OFF; PRAGMA cell_size_check = ON; PRAGMA cache_size = -16384;",
        )?;
        conn.set_prepared_statement_cache_capacity(64);
        migration::run(&conn, migration::STEPS)?;
        Ok(Book { conn, path, waited })
    }

    /// The file, if there is one.
    #[must_use]
    pub fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// The book as it stands.
    #[must_use]
    pub fn now(&self) -> View<'_> {
        View::new(&self.conn, i64::MAX)
    }

    /// The book as it stood at a time (unix seconds): without what was entered, or held, only later.
    ///
    /// An erased rider is gone from the past as well.
    #[must_use]
    pub fn as_of(&self, time: i64) -> View<'_> {
        View::new(&self.conn, time)
    }

    /// Does several writings together: all of them are confirmed when it returns, or none is done.
    ///
    /// # Errors
    ///
    /// What `work` returns, or what prevents writing.
    pub fn together<T, E: From<BookError>>(&self, work: impl FnOnce(&Self) -> Result<T, E>) -> Result<T, E> {
        self.write(|_| work(self))
    }

    /// Runs `work` in a transaction that holds the write lock from its start; inside another one, as a part of it.
    pub(super) fn write<T, E: From<BookError>>(&self, work: impl FnOnce(&Connection) -> Result<T, E>) -> Result<T, E> {
        let lift = |e: rusqlite::Error| E::from(BookError::from(e));
        if self.conn.is_autocommit() {
            let tx = Transaction::new_unchecked(&self.conn, TransactionBehavior::Immediate).map_err(lift)?;
            let done = work(&tx)?;
            tx.commit().map_err(lift)?;
            if self.waited.swap(false, Ordering::Relaxed) {
                // There is another writer: it gets its turn, being certain to ask again within this time.
                std::thread::sleep(2 * PAUSE);
            }
            return Ok(done);
        }
        self.conn.execute_batch("SAVEPOINT part").map_err(lift)?;
        let done = work(&self.conn);
        let end = if done.is_ok() { "RELEASE part" } else { "ROLLBACK TO part; RELEASE part" };
        // A full disk may have undone the outer transaction already; the first error tells more than this one.
        match (done, self.conn.execute_batch(end)) {
            (Ok(_), Err(e)) => Err(lift(e)),
            (done, _) => done,
        }
    }

    /// Checks the whole file: pages, references, tables, and what is derived against what it is derived from.
    ///
    /// # Errors
    ///
    /// [`BookError::Damaged`] with what was found.
    pub fn integrity(&self) -> Result<(), BookError> {
        let mut problems: Vec<String> = Vec::new();
        let mut check = self.conn.prepare("PRAGMA integrity_check(20)")?;
        for line in check.query_map([], |r| r.get::<_, String>(0))? {
            problems.push(line?);
        }
        problems.retain(|p| p != "ok");
        let mut check = self.conn.prepare("PRAGMA foreign_key_check")?;
        for row in check.query_map([], |r| Ok((r.get::<_, String>(0)?, r.get::<_, Option<i64>>(1)?)))? {
            let (table, id) = row?;
            problems.push(format!("{table} {} refers to nothing", id.unwrap_or_default()));
        }
        if schema(&self.conn)? != schema(&Book::in_memory()?.conn)? {
            problems.push("the tables are not those of a book".into());
        }
        if problems.is_empty() {
            if frequency::kept(&self.conn)? != frequency::counted(&self.conn, i64::MAX)? {
                problems.push("the count of closed visits is wrong".into());
            }
            if !word::agrees(&self.conn)? {
                problems.push("the words to find by are wrong".into());
            }
        }
        if problems.is_empty() { Ok(()) } else { Err(BookError::Damaged(problems.join("; "))) }
    }
}

/// Waits for another program, unless that was done often enough.
fn wait(tries: i32) -> bool {
    std::thread::sleep(PAUSE);
    tries < PATIENCE
}

/// Turns on the write-ahead log; SQLite does not wait by itself when another program is just doing the same.
fn write_ahead(conn: &Connection) -> Result<(), BookError> {
    for tries in 0.. {
        match conn.query_row("PRAGMA journal_mode = WAL", [], |r| r.get::<_, String>(0)) {
            Ok(mode) if mode == "wal" => return Ok(()),
            Ok(mode) => return Err(BookError::System(format!("this disk allows no write-ahead log (mode {mode})"))),
            Err(e) => match BookError::from(e) {
                BookError::Busy if wait(tries) => {}
                other => return Err(other),
            },
        }
    }
    Err(BookError::Busy)
}

fn schema(conn: &Connection) -> Result<Vec<(String, String, String)>, BookError> {
    let sql =
        "SELECT type, name, coalesce(sql, '') FROM sqlite_schema WHERE name NOT LIKE 'sqlite_stat%' ORDER BY 1, 2";
    let mut all = conn.prepare(sql)?;
    let rows = all.query_map([], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?)))?;
    Ok(rows.collect::<Result<_, _>>()?)
}
