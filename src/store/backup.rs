//! A copy of the book while it is in use.

use std::fs;
use std::path::Path;
use std::time::Duration;

use rusqlite::Connection;
use rusqlite::backup::{Backup, StepResult};

use super::book::Book;
use super::error::BookError;
use super::place;

/// Tries before another program's writing is waited for no longer, and the pause between them.
const TRIES: u32 = 500;
const PAUSE: Duration = Duration::from_millis(20);

impl Book {
    /// Copies the book to a file, as it stands at one moment; others may go on reading and writing.
    ///
    /// The copy is made beside its place and put there when it is whole, so that an earlier copy is kept until then. It is
    /// readable by the owner only, and is a book itself.
    ///
    /// # Errors
    ///
    /// [`BookError::Refused`] for the book's own file; [`BookError::Place`] if the file cannot be made; what else prevents
    /// reading or writing.
    pub fn backup_to(&self, path: &Path) -> Result<(), BookError> {
        if let (Some(own), Ok(other)) = (self.path(), fs::canonicalize(path))
            && fs::canonicalize(own).is_ok_and(|own| own == other)
        {
            return Err(BookError::Refused("the copy would take the place of the book itself".into()));
        }
        let part = place::beside(path, ".part");
        let done = self.copy(&part).and_then(|()| Ok(fs::rename(&part, path)?));
        if done.is_err() {
            // What is left of a copy that failed is of no use; the error tells.
            let _ = fs::remove_file(&part);
        }
        done?;
        sync_folder(path)
    }

    fn copy(&self, part: &Path) -> Result<(), BookError> {
        if let Err(e) = fs::remove_file(part)
            && e.kind() != std::io::ErrorKind::NotFound
        {
            return Err(BookError::Place { path: part.to_owned(), why: e.to_string() });
        }
        let part = place::prepare(part)?;
        let mut to = Connection::open(&part)?;
        {
            let backup = Backup::new(&self.conn, &mut to)?;
            let mut tries = 0;
            // All pages in one step: one moment of the book, and in write-ahead mode nobody is kept waiting.
            loop {
                match backup.step(-1)? {
                    StepResult::Done => break,
                    StepResult::More => {}
                    _ if tries < TRIES => {
                        tries += 1;
                        std::thread::sleep(PAUSE);
                    }
                    _ => return Err(BookError::Busy),
                }
            }
        }
        // One file that is whole by itself, without a log beside it.
        to.query_row("PRAGMA journal_mode = DELETE", [], |_| Ok(()))?;
        to.close().map_err(|(_, e)| e)?;
        fs::File::open(&part)?.sync_all()?;
        Ok(())
    }
}

/// Makes the new name last; where folders cannot be opened as files, the system sees to it.
fn sync_folder(path: &Path) -> Result<(), BookError> {
    #[cfg(unix)]
    {
        let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
        fs::File::open(folder)?.sync_all()?;
    }
    #[cfg(not(unix))]
    let _ = path;
    Ok(())
}
