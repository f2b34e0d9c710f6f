//! Everything read-only that a conversation works with: notes, model, ears and index.

use crate::belief::Model;
use crate::hearing::{Ears, Linear};
use crate::library::{Index, Library, NoteRef};

/// How much the full-text search counts: log-weight of its best hit for a long message.
///
/// This and the next were chosen together by cross-validation, see "Measures" in DEVELOPERS.md.
const SEARCH: f64 = 1.0;
/// How much the learned model counts: share of its log-probability.
const LEARNED: f64 = 0.8;
/// Log-probability given to notes that the learned model does not know, the leak among them.
const UNLEARNED: f64 = -7.0;
/// The learned model never speaks stronger against a note than this.
const LEAST_LEARNED: f64 = -12.0;
/// Fewer distinct words than this weaken likeness in proportion.
const ENOUGH_WORDS: f64 = 14.0;
/// How many hits are looked at.
const HITS: usize = 80;

/// Notes, model, ears and index.
pub struct Bench {
    /// The notes.
    pub library: Library,
    /// The numbers behind them.
    pub model: Model,
    /// The ears.
    pub ears: Ears,
    learned: Option<Linear>,
    /// Class of the learned model for each cause, where it knows it.
    class: Vec<Option<usize>>,
    index: Option<Index>,
}

/// The learned model, made from the notes by `shakedown --learn`.
static LEARNED_BYTES: &[u8] = include_bytes!("../../knowledge/learned.bin");

impl Bench {
    /// Makes a bench from a library.
    #[must_use]
    pub fn new(library: Library) -> Self {
        let model = Model::new(&library.causes, &library.findings);
        // Two slow things beside each other; both only read the notes.
        let (ears, index) = std::thread::scope(|scope| {
            let index = scope.spawn(|| Index::build(&library).ok());
            (Ears::new(&library), index.join().ok().flatten())
        });
        let learned = Linear::from_bytes(LEARNED_BYTES);
        let class = library
            .causes
            .iter()
            .map(|c| learned.as_ref().and_then(|l| l.classes.iter().position(|id| *id == c.id)))
            .collect();
        Self { library, model, ears, learned, class, index }
    }

    /// The full-text index. `None` only when memory has run out.
    #[must_use]
    pub fn index(&self) -> Option<&Index> {
        self.index.as_ref()
    }

    /// How like each cause's note the words are, as log-weights.
    #[must_use]
    pub fn likeness(&self, text: &str) -> Vec<(usize, f64)> {
        let Some(index) = self.index() else { return Vec::new() };
        let spelled = self.ears.spelled(text);
        let words = index.words(text).len() as f64;
        let hits = index.search(&spelled, HITS, true);
        let Some(best) = hits.first().map(|h| f64::from(h.score)) else { return Vec::new() };
        let enough = (words / ENOUGH_WORDS).min(1.0);
        let mut weight = vec![0.0; self.model.len()];
        if let Some(learned) = &self.learned {
            let told = learned.log_probabilities(text);
            for (c, w) in weight.iter_mut().enumerate() {
                let l = self.class.get(c).copied().flatten().map_or(UNLEARNED, |k| told[k].max(LEAST_LEARNED));
                *w = LEARNED * enough * l;
            }
        }
        for h in hits {
            if let NoteRef::Cause(c) = h.note {
                weight[c.0] += SEARCH * enough * f64::from(h.score) / best;
            }
        }
        weight.into_iter().enumerate().collect()
    }
}
