//! The trade's words: what riders call things, and what the trade's words mean.

/// Words that are read as one word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Synonym {
    /// The word all are read as.
    pub word: String,
    /// What people say instead.
    pub like: Vec<String>,
}

/// A trade word and its meaning.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GlossaryEntry {
    /// The word.
    pub term: String,
    /// What it means, in everyday words.
    pub means: String,
}

/// All synonyms and the glossary, in the order of their files.
#[derive(Clone, Debug, Default)]
pub struct Vocabulary {
    /// Synonym groups.
    pub synonyms: Vec<Synonym>,
    /// The glossary, sorted by term.
    pub glossary: Vec<GlossaryEntry>,
}

impl Vocabulary {
    /// The glossary entry of a term, in any case.
    #[must_use]
    pub fn means(&self, term: &str) -> Option<&GlossaryEntry> {
        self.glossary.iter().find(|g| g.term.eq_ignore_ascii_case(term))
    }
}
