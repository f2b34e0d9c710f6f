//! The chores of a book: a copy, an export, an import.

use std::fs::{File, OpenOptions};
use std::io::{self, BufReader, BufWriter};
use std::path::Path;

use super::{Shelf, sentence};
use crate::app::keep::own_file;

impl Shelf {
    /// The chores: backup, export, import.
    ///
    /// # Errors
    /// A sentence.
    pub(in crate::app) fn backup(&self, to: &Path) -> Result<String, String> {
        self.book.backup_to(to).map_err(|e| sentence(&e))?;
        Ok(format!("Copied to {}.", to.display()))
    }

    pub(in crate::app) fn export(&self, to: &Path) -> Result<String, String> {
        let file = own_file(OpenOptions::new().write(true).create(true).truncate(true))
            .open(to)
            .map_err(|e| format!("cannot write {}: {e}", to.display()))?;
        let n = self.book.export(&mut BufWriter::new(file)).map_err(|e| sentence(&e))?;
        Ok(format!("{n} lines written to {}.", to.display()))
    }

    pub(in crate::app) fn import(&self, from: &Path) -> Result<String, String> {
        let file = File::open(from).map_err(|e: io::Error| format!("cannot read {}: {e}", from.display()))?;
        let n = self.book.import(&mut BufReader::new(file)).map_err(|e| sentence(&e))?;
        Ok(format!("{n} lines taken in from {}.", from.display()))
    }
}
