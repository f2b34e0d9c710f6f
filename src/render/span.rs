//! Labelled spans: meaning first, colour last.

/// What a span of text is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Label {
    /// Running text.
    Plain,
    /// Strong, a heading or a question.
    Strong,
    /// Emphasis.
    Emphasis,
    /// A warning.
    Warning,
    /// By the way.
    Dim,
    /// A number or key to type.
    Key,
    /// A word that matched.
    Mark,
    /// Something good.
    Good,
}

/// A piece of text with its label.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Span {
    /// Its label.
    pub label: Label,
    /// Its text.
    pub text: String,
}

impl Span {
    /// Makes a span.
    pub fn new(label: Label, text: impl Into<String>) -> Self {
        Self { label, text: text.into() }
    }
}

/// A line of spans.
pub type Line = Vec<Span>;

/// How to look: width, colour, drawing characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// Columns.
    pub width: usize,
    /// Colour and weight by escape sequences.
    pub styled: bool,
    /// Drawing characters (bars, rules) allowed; off for screen readers.
    pub drawn: bool,
}

impl Default for Look {
    fn default() -> Self {
        Self { width: 80, styled: false, drawn: true }
    }
}

/// A line as text, with escape sequences only if the look is styled.
#[must_use]
pub fn paint(line: &[Span], look: Look) -> String {
    let mut out = String::new();
    for s in line {
        let code = match s.label {
            _ if !look.styled => "",
            Label::Plain => "",
            Label::Strong => "1",
            Label::Emphasis => "3",
            Label::Warning => "1;31",
            Label::Dim => "2",
            Label::Key => "36",
            Label::Mark => "1;33",
            Label::Good => "32",
        };
        if code.is_empty() {
            out.push_str(&s.text);
        } else {
            out.push_str(&format!("\u{1b}[{code}m{}\u{1b}[0m", s.text));
        }
    }
    out
}
