//! Lines of bounded width, in columns of a fixed-width type.
//!
//! Owns breaking and padding. Must not know what the text means.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// Columns that a text takes.
pub(super) fn width(text: &str) -> usize {
    text.width()
}

/// Breaks at spaces into lines of at most `room` columns; a word longer than that is broken where it must be.
pub(super) fn wrap(text: &str, room: usize) -> Vec<String> {
    let room = room.max(4);
    let mut lines = vec![String::new()];
    let mut at = 0;
    for word in text.split(' ').filter(|w| !w.is_empty()) {
        let w = width(word);
        let gap = usize::from(at > 0);
        if at + gap + w <= room {
            if gap == 1 {
                push(&mut lines, " ");
            }
            push(&mut lines, word);
            at += gap + w;
            continue;
        }
        if at > 0 {
            lines.push(String::new());
        }
        at = 0;
        for c in word.chars() {
            let w = c.width().unwrap_or(0);
            if at + w > room {
                lines.push(String::new());
                at = 0;
            }
            push(&mut lines, c.encode_utf8(&mut [0; 4]));
            at += w;
        }
    }
    lines
}

fn push(lines: &mut [String], text: &str) {
    if let Some(last) = lines.last_mut() {
        last.push_str(text);
    }
}

/// The text filled up with spaces to `columns`.
pub(super) fn pad(text: &str, columns: usize) -> String {
    format!("{text}{}", " ".repeat(columns.saturating_sub(width(text))))
}

/// At most `columns` of the text, with a mark where it was cut.
pub(super) fn cut(text: &str, columns: usize) -> String {
    if width(text) <= columns {
        return text.to_owned();
    }
    let mut out = String::new();
    let mut at = 2;
    for c in text.chars() {
        at += c.width().unwrap_or(0);
        if at > columns {
            break;
        }
        out.push(c);
    }
    out.push_str("..");
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_wider_than_its_room() {
        let text = "Saddle height measured along the seat tube 車輪が左右に振れているか確かめる aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa b";
        for room in [4, 7, 12, 40] {
            let lines = wrap(text, room);
            assert!(lines.iter().all(|l| width(l) <= room), "{room}: {lines:?}");
            let all: String = lines.concat().chars().filter(|c| *c != ' ').collect();
            assert_eq!(all, text.chars().filter(|c| *c != ' ').collect::<String>());
        }
    }

    #[test]
    fn pads_and_cuts_by_columns() {
        assert_eq!(pad("車", 4), "車  ");
        assert_eq!(cut("abcdef", 6), "abcdef");
        assert_eq!(cut("abcdefg", 6), "abcd..");
        assert!(width(&cut("車輪車輪", 5)) <= 5);
    }
}
