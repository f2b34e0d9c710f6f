//! Prose as a reader meets it: a note's Markdown without its marks, and how hard it is to read.

use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};

/// The words of a Markdown text, one paragraph or list item a line; pictures in characters are left out.
#[must_use]
pub fn prose(markdown: &str) -> String {
    let mut out = String::new();
    let mut picture = false;
    for event in Parser::new_ext(markdown, Options::ENABLE_TABLES) {
        match event {
            Event::Start(Tag::CodeBlock(_)) => picture = true,
            Event::End(TagEnd::CodeBlock) => picture = false,
            Event::Text(t) | Event::Code(t) if !picture => out.push_str(&t),
            Event::SoftBreak | Event::HardBreak => out.push(' '),
            Event::Start(Tag::Item | Tag::BlockQuote(_))
            | Event::End(
                TagEnd::Paragraph | TagEnd::Item | TagEnd::Heading(_) | TagEnd::TableCell | TagEnd::BlockQuote(_),
            ) if !out.is_empty() && !out.ends_with('\n') => out.push('\n'),
            _ => {}
        }
    }
    out
}

/// The lines of a Markdown text that stand outside fences: labels in a picture are no sentences, and not searched.
#[must_use]
pub fn without_pictures(markdown: &str) -> String {
    let mut picture = false;
    let mut out = String::with_capacity(markdown.len());
    for line in markdown.split_inclusive('\n') {
        let fence = line.trim_start().starts_with("```");
        picture ^= fence;
        if !fence && !picture {
            out.push_str(line);
        }
    }
    out
}

/// The sentences of a text: they end at `.`, `!` or `?` before a space, and at the end of a line.
pub fn sentences_of(text: &str) -> impl Iterator<Item = &str> {
    text.lines().flat_map(|line| {
        let mut rest = line;
        std::iter::from_fn(move || {
            if rest.is_empty() {
                return None;
            }
            let end = rest
                .char_indices()
                .find(|(i, c)| {
                    matches!(c, '.' | '!' | '?') && rest[i + 1..].chars().next().is_none_or(|n| " )\"".contains(n))
                })
                .map_or(rest.len(), |(i, _)| i + 1);
            let (sentence, after) = rest.split_at(end);
            rest = after;
            Some(sentence.trim())
        })
        .filter(|s| s.chars().any(char::is_alphanumeric))
    })
}

/// The school grade for which a text reads easily: the automated readability index,
/// 4.71 letters a word + 0.5 words a sentence - 21.43 (Smith & Senter 1967, AMRL-TR-66-220; from memory).
///
/// It counts letters instead of syllables, so it is exact to compute. An empty text has grade 0.
#[must_use]
pub fn reading_grade(text: &str) -> f64 {
    let (mut letters, mut words) = (0usize, 0usize);
    for word in text.split_whitespace() {
        let n = word.chars().filter(|c| c.is_alphanumeric()).count();
        letters += n;
        words += usize::from(n > 0);
    }
    if words == 0 {
        return 0.0;
    }
    let sentences = sentences_of(text).count().max(1);
    4.71 * letters as f64 / words as f64 + 0.5 * words as f64 / sentences as f64 - 21.43
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prose_has_no_marks_and_no_pictures() {
        let md = "The [rotor](calc:x) *rubs*.\n\n1. One.\n   > Caution: hot.\n2. Two\n\n```\n|| picture ||\n```\n";
        assert_eq!(prose(md), "The rotor rubs.\nOne.\nCaution: hot.\nTwo\n");
        assert_eq!(without_pictures("a\n```\n| b |\n```\nc"), "a\nc");
        assert_eq!(sentences_of("It rubs. See it? Yes (no.) 2.5 turns\nEnd").count(), 5);
    }

    #[test]
    fn the_grade_is_the_published_formula() {
        // 11 letters in 4 words and 2 sentences.
        assert!((reading_grade("It rubs. Not ok.") - (4.71 * 11.0 / 4.0 + 1.0 - 21.43)).abs() < 1e-9);
        assert!(reading_grade("Misalignment necessitates comprehensive recalibration procedures.") > 20.0);
    }
}
