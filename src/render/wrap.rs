//! Breaking labelled text into lines of a given width.

use unicode_width::UnicodeWidthStr;

use super::span::{Label, Line, Span};

/// Breaks spans into lines; continuation lines begin with `indent` spaces. Words longer than a line are cut.
pub(super) fn wrap(spans: &[Span], width: usize, indent: usize) -> Vec<Line> {
    let width = width.max(12);
    let indent = indent.min(width / 3);
    let mut lines: Vec<Line> = vec![Vec::new()];
    let mut column = 0;
    for span in spans {
        let mut rest = span.text.as_str();
        while !rest.is_empty() {
            let blank = rest.len() - rest.trim_start_matches(' ').len();
            let word_end = rest[blank..].find(' ').map_or(rest.len(), |e| e + blank);
            let (piece, next) = rest.split_at(word_end);
            rest = next;
            let (spaces, mut word) = piece.split_at(blank);
            if column + spaces.len() + word.width() > width && column > indent {
                lines.push(vec![Span::new(Label::Plain, " ".repeat(indent))]);
                column = indent;
            } else if !(column == 0 && lines.len() > 1) {
                column += spaces.len();
                push(&mut lines, span.label, spaces);
            }
            while column + word.width() > width {
                let mut cut = 0;
                let mut used = 0;
                for (i, c) in word.char_indices() {
                    let w = unicode_width::UnicodeWidthChar::width(c).unwrap_or(0);
                    if column + used + w > width {
                        break;
                    }
                    used += w;
                    cut = i + c.len_utf8();
                }
                if cut == 0 {
                    break;
                }
                push(&mut lines, span.label, &word[..cut]);
                word = &word[cut..];
                lines.push(vec![Span::new(Label::Plain, " ".repeat(indent))]);
                column = indent;
            }
            column += word.width();
            push(&mut lines, span.label, word);
        }
    }
    for l in &mut lines {
        if let Some(last) = l.last_mut() {
            last.text.truncate(last.text.trim_end().len());
        }
    }
    lines
}

fn push(lines: &mut [Line], label: Label, text: &str) {
    if text.is_empty() {
        return;
    }
    if let Some(line) = lines.last_mut() {
        match line.last_mut() {
            Some(last) if last.label == label => last.text.push_str(text),
            _ => line.push(Span::new(label, text)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_fit_and_words_survive() {
        let text = "one two three four five six seven eightnineteneleventwelve end";
        let lines = wrap(&[Span::new(Label::Plain, text)], 14, 2);
        let plain: Vec<String> = lines.iter().map(|l| l.iter().map(|s| s.text.as_str()).collect()).collect();
        assert!(plain.iter().all(|l| l.width() <= 14), "{plain:?}");
        let joined: String = plain.concat().replace(' ', "");
        assert_eq!(joined, text.replace(' ', ""));
    }
}
