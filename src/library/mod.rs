//! The notes: reading them, checking them, finding them.
//!
//! Owns the format of `knowledge/`, the vocabulary, the links between notes and the full-text index. Knows nothing of
//! belief, conversation or screens. Only `folder` touches the world: it walks a folder of the user's own notes.

pub mod check;
mod embedded;
mod folder;
mod head;
mod index;
mod load;
mod problem;
mod prose;
mod split;
mod vocabulary;

pub use check::MOST_SEQUENCES;
pub use embedded::embedded_files;
pub use folder::read_folder;
pub use index::{Hit, Index};
pub use load::{Library, NoteFile, NoteRef};
pub use problem::Problem;
pub use prose::{prose, reading_grade, sentences_of, without_pictures};
pub use split::{Step, link_targets, steps};
pub use vocabulary::{GlossaryEntry, Synonym, Vocabulary};
