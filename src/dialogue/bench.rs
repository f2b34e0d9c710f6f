//! Everything read-only that a conversation works with: notes, model, ears and index.

use std::sync::OnceLock;

use crate::belief::Model;
use crate::hearing::Ears;
use crate::library::{Index, Library, NoteRef};

/// How much the likeness of words to the notes counts: log-weight of the best hit of a long message.
///
/// Calibrated on the shared complaints by `shakedown score`, see DEVELOPERS.md.
const LIKENESS: f64 = 3.2;
/// Fewer distinct words than this weaken likeness in proportion.
const ENOUGH_WORDS: f64 = 7.0;
/// How many hits are looked at.
const HITS: usize = 80;

/// Notes, model, ears and, made on first use, the index.
pub struct Bench {
    /// The notes.
    pub library: Library,
    /// The numbers behind them.
    pub model: Model,
    /// The ears.
    pub ears: Ears,
    index: OnceLock<Option<Index>>,
}

impl Bench {
    /// Makes a bench from a library.
    #[must_use]
    pub fn new(library: Library) -> Self {
        let model = Model::new(&library.causes, &library.findings);
        let ears = Ears::new(&library);
        Self { library, model, ears, index: OnceLock::new() }
    }

    /// The full-text index, built on first use. `None` only when memory has run out.
    pub fn index(&self) -> Option<&Index> {
        self.index.get_or_init(|| Index::build(&self.library).ok()).as_ref()
    }

    /// How like each cause's note the words are, as log-weights.
    #[must_use]
    pub fn likeness(&self, text: &str) -> Vec<(usize, f64)> {
        let Some(index) = self.index() else { return Vec::new() };
        let spelled = self.ears.spelled(text);
        let words = index.words(&spelled).len() as f64;
        let hits = index.search(&spelled, HITS, true);
        let Some(best) = hits.first().map(|h| f64::from(h.score)) else { return Vec::new() };
        let scale = LIKENESS * (words / ENOUGH_WORDS).min(1.0);
        hits.into_iter()
            .filter_map(|h| match h.note {
                NoteRef::Cause(c) => Some((c.0, scale * f64::from(h.score) / best)),
                _ => None,
            })
            .collect()
    }
}
