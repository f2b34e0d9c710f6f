//! Text from people, made harmless to look at before any card is laid out.
//!
//! Owns which characters may stand on a card. Must not know of forms: each form escapes for itself.

use unicode_width::UnicodeWidthChar;

/// So many marks may sit on one letter; scripts need two or three, a pile of fifty only blots the lines around it.
/// (Our own bound.)
const MARKS: usize = 4;

/// One line of text without control characters and without the marks that turn reading direction by force.
///
/// White space becomes single spaces; a run of control characters becomes one replacement character, so that a damaged
/// text looks damaged. Right-to-left letters stay: forms isolate them instead.
pub(super) fn clean(text: &str) -> String {
    let mut out = String::with_capacity(text.len().min(4096));
    let mut marks = 0;
    for c in text.chars() {
        if c.is_whitespace() {
            if !out.is_empty() && !out.ends_with(' ') {
                out.push(' ');
            }
            marks = 0;
        } else if c.is_control() || is_unassigned(c) {
            if !out.ends_with('\u{fffd}') {
                out.push('\u{fffd}');
            }
            marks = 0;
        } else if !is_hidden(c) {
            marks = if c.width() == Some(0) { marks + 1 } else { 0 };
            if marks <= MARKS {
                out.push(c);
            }
        }
    }
    out.truncate(out.trim_end().len());
    out
}

/// The first `most` characters, with a mark when some were cut off.
pub(super) fn clip(text: &str, most: usize) -> (String, bool) {
    match text.char_indices().nth(most) {
        None => (text.to_owned(), false),
        Some(_) => {
            let kept: String = text.chars().take(most.saturating_sub(4)).collect();
            (format!("{} ...", kept.trim_end()), true)
        }
    }
}

/// Marks that steer or hide text without being seen: direction overrides, embeddings, isolates and marks, zero-width
/// spaces and joins of lines, interlinear notes, language tags (Unicode 16, general category Cf, less the two joiners
/// that scripts and emoji need).
fn is_hidden(c: char) -> bool {
    matches!(c,
        '\u{00ad}' | '\u{061c}' | '\u{180e}' | '\u{200b}' | '\u{200e}' | '\u{200f}'
        | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}'
        | '\u{e0000}'..='\u{e007f}')
}

/// True for a character that cannot be seen and is not plain white space between words.
pub(super) fn is_unseen(c: char) -> bool {
    c.is_control() || is_hidden(c) || is_unassigned(c) || matches!(c, '\u{2028}' | '\u{2029}')
}

/// Code points that are no characters.
fn is_unassigned(c: char) -> bool {
    let n = u32::from(c);
    (0xfdd0..=0xfdef).contains(&n) || n & 0xfffe == 0xfffe
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn takes_out_what_steers_and_keeps_what_speaks() {
        assert_eq!(clean("  a\t\n b\u{2028}c  "), "a b c");
        assert_eq!(clean("x\u{202e}gpj.exe\u{202c}"), "xgpj.exe");
        assert_eq!(clean("a\u{0}\u{1b}[31mb\u{9b}"), "a\u{fffd}[31mb\u{fffd}");
        assert_eq!(clean("אופניים \u{200f}אדומים"), "אופניים אדומים");
        assert_eq!(clean("👩\u{200d}🔧"), "👩\u{200d}🔧");
        assert_eq!(clean(&format!("o{}", "\u{301}".repeat(50))).chars().count(), 5);
    }

    #[test]
    fn cuts_at_characters() {
        assert_eq!(clip("äöü", 3), ("äöü".to_owned(), false));
        assert_eq!(clip("ääääääääää", 8), ("ääää ...".to_owned(), true));
    }
}
