//! The card as Markdown, with tables; charts stand as indented code.
//!
//! Owns the escaping: whatever people wrote shows as they wrote it. Must not decide what stands on a card.

use super::doc::{Body, Cell, Doc, Part, Table};

/// Writes the card.
pub(super) fn write(doc: &Doc) -> String {
    let mut out = vec![format!("# {}", doc.kind.title())];
    if !doc.title.is_empty() {
        out.push(format!("**{}**", escape(&doc.title)));
    }
    if !doc.facts.is_empty() {
        out.push(lines(doc.facts.iter().map(|(what, text)| format!("- {what}: {}", escape(text)))));
    }
    if !doc.stop.is_empty() {
        let first = "> **DO NOT RIDE**".to_owned();
        out.push(lines(std::iter::once(first).chain(doc.stop.iter().map(|s| format!(">\n> {}", escape(s))))));
    }
    for part in &doc.parts {
        out.push(format!("## {}", escape(&part.title)));
        out.push(body(part));
    }
    if !doc.foot.is_empty() {
        out.push("---".to_owned());
        out.extend(doc.foot.iter().map(|f| escape(f)));
    }
    out.join("\n\n") + "\n"
}

fn lines(items: impl IntoIterator<Item = String>) -> String {
    items.into_iter().collect::<Vec<_>>().join("\n")
}

fn body(part: &Part) -> String {
    match &part.body {
        Body::Say(text) => escape(text),
        Body::List(items) => lines(items.iter().map(|i| format!("- {}", escape(i)))),
        Body::Table(t) => table(t),
        // Indented code ends only at a line without indent, which clean text (one line) cannot make.
        Body::Picture(p) => lines(p.chart.iter().map(|l| format!("    {l}").trim_end().to_owned())),
        Body::Lines(n) => vec!["\\_".repeat(40); *n].join("\n\n"),
    }
}

fn table(t: &Table) -> String {
    let row = |cells: Vec<String>| format!("| {} |", cells.join(" | "));
    let head = row(t.head.iter().map(|h| escape(h)).collect());
    let rule = row(vec!["---".to_owned(); t.head.len()]);
    lines([head, rule].into_iter().chain(t.rows.iter().map(|r| row(r.iter().map(cell).collect()))))
}

fn cell(cell: &Cell) -> String {
    match cell {
        Cell::Text(t) => escape(t),
        Cell::Write => "\\_".repeat(8),
        Cell::Boxes(words) => {
            words.iter().map(|w| format!("\\[ \\] {w}").trim_end().to_owned()).collect::<Vec<_>>().join(" ")
        }
    }
}

/// Escapes what Markdown, its tables and its bare links would take as theirs (the inline rules of the CommonMark
/// specification 0.31, with tables, struck text and bare links as common additions).
fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    let chars: Vec<char> = text.chars().collect();
    let digits = chars.iter().take_while(|c| c.is_ascii_digit()).count();
    for (i, &c) in chars.iter().enumerate() {
        let next = chars.get(i + 1).copied().unwrap_or(' ');
        let special = match c {
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '|' | '~' | '&' | '#' | '@' | '$' => true,
            // A picture's mark, a link's colon, a link's "www.".
            '!' => next == '[',
            ':' => next == '/' || i > 0 && chars[i - 1].is_ascii_alphabetic() && !next.is_whitespace(),
            '.' if i >= 3 => chars[i - 3..i].iter().all(|w| w.eq_ignore_ascii_case(&'w')),
            _ => false,
        };
        // What would begin a list, a rule or a heading's underline.
        let opens = match c {
            '-' | '+' | '=' => i == 0,
            '.' | ')' => i > 0 && i == digits && next == ' ',
            _ => false,
        };
        if special || opens {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::escape;

    #[test]
    fn leaves_ordinary_words_alone() {
        for plain in
            ["Saddle height: 733 mm (30 to 35 degrees)", "3.5 bar, front; 2.0 mm", "rear axle - left", "at 10:30"]
        {
            assert_eq!(escape(plain), plain);
        }
    }

    #[test]
    fn escapes_what_would_become_markup() {
        assert_eq!(escape("1. a"), "1\\. a");
        assert_eq!(escape("- a | b"), "\\- a \\| b");
        assert_eq!(escape("<b>&amp;"), "\\<b\\>\\&amp;");
        assert_eq!(escape("see http://x.y or www.x.y"), "see http\\://x.y or www\\.x.y");
    }
}
