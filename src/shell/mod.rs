//! The line editor: completion, hints, history.
//!
//! Owns how a line is typed in a terminal. Knows nothing of what it means.

mod complete;

use std::path::Path;

use rustyline::error::ReadlineError;
use rustyline::history::FileHistory;
use rustyline::{CompletionType, Config, Editor};

use complete::Complete;

/// What came from the keyboard.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Typed {
    /// A line.
    Line(String),
    /// Ctrl-C: the line is dropped, the conversation stays.
    Dropped,
    /// Ctrl-D, or the terminal is gone.
    End,
}

/// A line editor with history.
pub struct Shell {
    editor: Editor<Complete, FileHistory>,
}

impl Shell {
    /// Opens the editor.
    ///
    /// # Errors
    /// When the terminal cannot be set up.
    pub fn open() -> Result<Self, String> {
        let config = Config::builder()
            .completion_type(CompletionType::List)
            .max_history_size(1000)
            .map_err(|e| e.to_string())?;
        let config = config.auto_add_history(true).build();
        let mut editor = Editor::with_config(config).map_err(|e| e.to_string())?;
        editor.set_helper(Some(Complete::default()));
        Ok(Self { editor })
    }

    /// Loads history; an absent or damaged file is no history.
    pub fn load_history(&mut self, file: &Path) {
        // A damaged history is not worth a word to somebody with a broken bike.
        let _ = self.editor.load_history(file);
    }

    /// Keeps history.
    ///
    /// # Errors
    /// When the file cannot be written.
    pub fn save_history(&mut self, file: &Path) -> Result<(), String> {
        self.editor.save_history(file).map_err(|e| e.to_string())
    }

    /// Forgets all lines.
    pub fn forget_history(&mut self) {
        let _ = self.editor.clear_history();
    }

    /// Reads a line. `words` are offered as completions, the first that fits as a hint.
    pub fn read(&mut self, prompt: &str, words: Vec<String>) -> Typed {
        if let Some(h) = self.editor.helper_mut() {
            h.words = words;
        }
        match self.editor.readline(prompt) {
            Ok(line) => Typed::Line(line),
            Err(ReadlineError::Interrupted) => Typed::Dropped,
            Err(_) => Typed::End,
        }
    }
}
