//! The notes compiled into the binary.

use include_dir::{Dir, DirEntry, include_dir};

use super::load::NoteFile;

static KNOWLEDGE: Dir<'static> = include_dir!("$CARGO_MANIFEST_DIR/knowledge");

/// All built-in note files, sorted by path.
#[must_use]
pub fn embedded_files() -> Vec<NoteFile> {
    let mut files = Vec::new();
    let mut stack = vec![&KNOWLEDGE];
    while let Some(dir) = stack.pop() {
        for entry in dir.entries() {
            match entry {
                DirEntry::Dir(d) => stack.push(d),
                DirEntry::File(f) => {
                    if let Some(text) = f.contents_utf8() {
                        files.push(NoteFile {
                            path: f.path().to_string_lossy().into_owned(),
                            text: text.into(),
                            own: false,
                        });
                    }
                }
            }
        }
    }
    files.sort_by(|a, b| a.path.cmp(&b.path));
    files
}
