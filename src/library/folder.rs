//! The walk over a folder of the user's own notes: the one place of this room that touches the world.

use std::fs;
use std::path::{Path, PathBuf};

use super::load::NoteFile;
use super::problem::Problem;

/// Longest note accepted, in bytes: a longer file is surely not a note.
const LONGEST: u64 = 1 << 20;

/// Reads every `.md` and `.toml` file below `folder`, sorted by path.
///
/// What cannot be read is reported and left out; an absent folder gives one problem and no file.
#[must_use]
pub fn read_folder(folder: &Path) -> (Vec<NoteFile>, Vec<Problem>) {
    let mut files = Vec::new();
    let mut problems = Vec::new();
    let mut stack: Vec<PathBuf> = vec![folder.to_path_buf()];
    while let Some(dir) = stack.pop() {
        let entries = match fs::read_dir(&dir) {
            Ok(entries) => entries,
            Err(e) => {
                problems.push(Problem::new(
                    dir.display().to_string(),
                    0,
                    format!("cannot read the folder: {e}"),
                    "check the path",
                ));
                continue;
            }
        };
        for entry in entries.flatten() {
            let path = entry.path();
            let name = path.strip_prefix(folder).unwrap_or(&path).display().to_string();
            // A link to a folder above would walk for ever: links to folders are not followed.
            if entry.file_type().is_ok_and(|t| t.is_dir()) {
                stack.push(path);
            } else if matches!(path.extension().and_then(|e| e.to_str()), Some("md" | "toml")) {
                match fs::metadata(&path) {
                    Ok(m) if m.len() > LONGEST => problems.push(Problem::new(name, 0, "longer than 1 MiB", "split it")),
                    _ => match fs::read_to_string(&path) {
                        Ok(text) => files.push(NoteFile { path: name, text: text.into(), own: true }),
                        Err(e) => {
                            problems.push(Problem::new(name, 0, format!("cannot read it: {e}"), "is it UTF-8 text?"))
                        }
                    },
                }
            }
        }
    }
    files.sort_by(|a, b| a.path.cmp(&b.path));
    (files, problems)
}
