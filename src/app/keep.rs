//! What is kept between runs: the interrupted conversation and the line history, in the platform's state folder.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use etcetera::BaseStrategy;

/// Longest saved conversation that is read back, in bytes.
const LONGEST: u64 = 4 << 20;

/// Where things are kept, if anywhere.
pub(super) struct Keep {
    folder: Option<PathBuf>,
}

impl Keep {
    /// Finds and makes the state folder; keeps nothing when that is wished, or not possible.
    ///
    /// The second value says in a sentence why nothing can be kept.
    pub(super) fn open(nothing: bool) -> (Self, Option<String>) {
        if nothing {
            return (Self { folder: None }, None);
        }
        let Ok(base) = etcetera::choose_base_strategy() else {
            return (Self { folder: None }, Some("No home folder: this conversation will not be kept.".into()));
        };
        let folder = base.state_dir().unwrap_or_else(|| base.data_dir()).join("shakedown");
        match fs::create_dir_all(&folder).and_then(|()| probe(&folder)) {
            Ok(()) => (Self { folder: Some(folder) }, None),
            Err(e) => (
                Self { folder: None },
                Some(format!("This conversation will not be kept ({e}: {}).", folder.display())),
            ),
        }
    }

    /// Where the book lies unless told otherwise: the platform's data folder.
    pub(super) fn usual_book(nothing: bool) -> Option<PathBuf> {
        let base = etcetera::choose_base_strategy().ok().filter(|_| !nothing)?;
        Some(base.data_dir().join("shakedown").join("book.sqlite"))
    }

    pub(super) fn history(&self) -> Option<PathBuf> {
        self.folder.as_ref().map(|f| f.join("history.txt"))
    }

    fn conversation(&self) -> Option<PathBuf> {
        self.folder.as_ref().map(|f| f.join("conversation.jsonl"))
    }

    /// The lines of an interrupted conversation, and how many could not be read.
    pub(super) fn interrupted(&self) -> (Vec<String>, usize) {
        let Some(file) = self.conversation() else { return (Vec::new(), 0) };
        if fs::metadata(&file).is_ok_and(|m| m.len() > LONGEST) {
            return (Vec::new(), 1);
        }
        let Ok(bytes) = fs::read(&file) else { return (Vec::new(), 0) };
        saved_lines(&bytes)
    }

    /// Adds a line that has been answered.
    pub(super) fn add(&self, line: &str) -> std::io::Result<()> {
        let Some(file) = self.conversation() else { return Ok(()) };
        let mut f = own_file(fs::OpenOptions::new().create(true).append(true)).open(file)?;
        let json = serde_json::to_string(line).unwrap_or_default();
        f.write_all(format!("{json}\n").as_bytes())
    }

    /// Forgets the conversation: it was ended properly, or is not wanted.
    pub(super) fn forget(&self) {
        if let Some(file) = self.conversation() {
            let _ = fs::remove_file(file);
        }
    }

    /// Forgets all lines typed so far, those of earlier conversations too.
    pub(super) fn forget_all(&self) {
        self.forget();
        if let Some(file) = self.history() {
            let _ = fs::remove_file(file);
        }
    }
}

/// A file that only its owner may read when it is made: what people say of their bodies and bikes is nobody else's.
#[cfg(unix)]
pub(super) fn own_file(options: &mut fs::OpenOptions) -> &mut fs::OpenOptions {
    use std::os::unix::fs::OpenOptionsExt;
    options.mode(0o600)
}

/// A file in its owner's folder.
#[cfg(not(unix))]
pub(super) fn own_file(options: &mut fs::OpenOptions) -> &mut fs::OpenOptions {
    options
}

/// Reads a saved conversation, one JSON string a line: its lines, and how many could not be read. Never fails: whatever is
/// whole in a damaged file is kept.
#[must_use]
pub fn saved_lines(bytes: &[u8]) -> (Vec<String>, usize) {
    let text = String::from_utf8_lossy(bytes);
    let mut bad = 0;
    let read = |l: &str| match serde_json::from_str::<String>(l) {
        Ok(s) => Some(s),
        Err(_) => {
            bad += 1;
            None
        }
    };
    let lines = text.lines().filter(|l| !l.trim().is_empty()).filter_map(read).collect();
    (lines, bad)
}

fn probe(folder: &Path) -> std::io::Result<()> {
    let file = folder.join(".probe");
    fs::write(&file, b"")?;
    fs::remove_file(file)
}
