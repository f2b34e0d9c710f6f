//! The one error of the book: what went wrong, and what to do about it.
//!
//! Owns the wording. Knows nothing of who shows it.

use std::path::PathBuf;

/// What can go wrong with the book.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum BookError {
    /// The folder or the file cannot be made or opened.
    #[error("the book {path} cannot be opened: {why}")]
    Place {
        /// The file.
        path: PathBuf,
        /// What the system says.
        why: String,
    },
    /// The folder, the file or the medium cannot be written.
    #[error("the book cannot be written: the file or its folder is read-only")]
    ReadOnly,
    /// There is no room left.
    #[error("the book cannot be written: the disk is full")]
    Full,
    /// Another program holds the book for longer than was waited.
    #[error("another program is writing in the book")]
    Busy,
    /// The file is something else.
    #[error("{path} is not a book of this program: {why}")]
    NotABook {
        /// The file.
        path: PathBuf,
        /// How that is known.
        why: String,
    },
    /// The file was written by a later version.
    #[error("the book has form {found}, this program knows forms up to {known}")]
    Newer {
        /// Form of the file.
        found: i64,
        /// Latest form known here.
        known: i64,
    },
    /// The file is damaged.
    #[error("the book is damaged: {0}")]
    Damaged(String),
    /// The system failed to read or write.
    #[error("reading or writing failed: {0}")]
    System(String),
    /// Something asked for is not in the book.
    #[error("there is no {what} {id} in the book")]
    Missing {
        /// The kind of thing.
        what: &'static str,
        /// Its number.
        id: i64,
    },
    /// What was to be written makes no sense; nothing was written.
    #[error("not written: {0}")]
    Refused(String),
    /// What was to be taken in is damaged or foreign; nothing of it was taken in.
    #[error("line {line}: {reason}; nothing was taken in")]
    Import {
        /// Line, from 1.
        line: u64,
        /// What is wrong with it.
        reason: String,
    },
    /// Any other refusal of the database: a fault of this program.
    #[error("the database refused: {0}")]
    Database(rusqlite::Error),
}

impl BookError {
    /// What a person can do about it, in a sentence or two.
    #[must_use]
    pub fn what_to_do(&self) -> &'static str {
        match self {
            BookError::Place { .. } => {
                "Check that the folder exists and is yours to write, or name another file for the book."
            }
            BookError::ReadOnly => {
                "Nothing was lost. Make the file and its folder writable, or name another file for the book."
            }
            BookError::Full => {
                "All that was confirmed is kept; the last entry is not. Make room on the disk, then enter it again."
            }
            BookError::Busy => "Close the other program or wait until it has finished, then try again.",
            BookError::NotABook { .. } => "The file was left as it is. Name another file for the book.",
            BookError::Newer { .. } => "The file was left as it is. Open it with a newer version of this program.",
            BookError::Damaged(_) => {
                "Keep a copy of the file, then go back to the last backup, or take in the last export."
            }
            BookError::System(_) => {
                "Check the disk or the stick; all that was confirmed before is kept. Then try again."
            }
            BookError::Missing { .. } => "Look it up by name.",
            BookError::Refused(_) => "Put the value right and enter it again.",
            BookError::Import { .. } => {
                "The book is as it was. Use an unchanged export of a book, or mend the line that is named."
            }
            BookError::Database(_) => "Nothing of this entry was written. Please report it with the message.",
        }
    }

    /// Whether trying the same again later may work.
    #[must_use]
    pub fn may_pass(&self) -> bool {
        matches!(self, BookError::Busy | BookError::Full | BookError::System(_))
    }
}

impl From<rusqlite::Error> for BookError {
    fn from(e: rusqlite::Error) -> Self {
        use rusqlite::ErrorCode as Code;
        let why = e.to_string();
        match e.sqlite_error_code() {
            Some(Code::DiskFull) => BookError::Full,
            Some(Code::ReadOnly) => BookError::ReadOnly,
            Some(Code::DatabaseBusy | Code::DatabaseLocked | Code::FileLockingProtocolFailed) => BookError::Busy,
            Some(Code::DatabaseCorrupt | Code::NotADatabase) => BookError::Damaged(why),
            Some(Code::SystemIoFailure | Code::CannotOpen | Code::PermissionDenied) => BookError::System(why),
            _ => BookError::Database(e),
        }
    }
}

impl From<std::io::Error> for BookError {
    fn from(e: std::io::Error) -> Self {
        use std::io::ErrorKind as Kind;
        match e.kind() {
            Kind::StorageFull | Kind::QuotaExceeded => BookError::Full,
            Kind::ReadOnlyFilesystem => BookError::ReadOnly,
            _ => BookError::System(e.to_string()),
        }
    }
}
