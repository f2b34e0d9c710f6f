//! A source: what a number or statement in a note rests on.

/// Kind of a source.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SourceKind {
    /// A law or regulation.
    Law,
    /// A published standard.
    Standard,
    /// A paper.
    Paper,
    /// A handbook or textbook.
    Handbook,
    /// A page of the trade.
    TradePage,
    /// Common practice of the trade, no source.
    Practice,
    /// From memory, not checked.
    Memory,
}

impl SourceKind {
    /// The word shown to readers.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            SourceKind::Law => "law",
            SourceKind::Standard => "standard",
            SourceKind::Paper => "paper",
            SourceKind::Handbook => "handbook",
            SourceKind::TradePage => "trade page",
            SourceKind::Practice => "common practice, no source",
            SourceKind::Memory => "from memory",
        }
    }
}

/// How much of a source was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SourceRead {
    /// All of it.
    Whole,
    /// Some sections.
    Part,
    /// The abstract.
    Abstract,
    /// Not read: only remembered or reported by others.
    Memory,
}

impl SourceRead {
    /// The word shown to readers.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            SourceRead::Whole => "read",
            SourceRead::Part => "read in part",
            SourceRead::Abstract => "abstract read",
            SourceRead::Memory => "from memory",
        }
    }
}

/// A source entry.
#[derive(Clone, Debug)]
pub struct Source {
    /// Unique kebab-case id.
    pub id: String,
    /// Author, year, title.
    pub title: String,
    /// Kind.
    pub kind: SourceKind,
    /// How much was read.
    pub read: SourceRead,
    /// What it is used for here.
    pub note: String,
}
