//! What is wrong with a note, said so that its author can mend it.

use std::fmt;

/// A problem found while reading or checking notes.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Problem {
    /// File, relative to the knowledge folder.
    pub file: String,
    /// Line, from 1; 0 when it concerns the whole file.
    pub line: usize,
    /// What is wrong.
    pub what: String,
    /// What to do about it.
    pub hint: String,
}

impl Problem {
    /// Makes a problem.
    pub fn new(file: impl Into<String>, line: usize, what: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { file: file.into(), line, what: what.into(), hint: hint.into() }
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.file)?;
        if self.line > 0 {
            write!(f, ":{}", self.line)?;
        }
        write!(f, ": {}", self.what)?;
        if !self.hint.is_empty() {
            write!(f, " (hint: {})", self.hint)?;
        }
        Ok(())
    }
}
