//! A note in a terminal: headings, lists, tables, emphasis, links by number.

use pulldown_cmark::{CodeBlockKind, Event, Options, Parser, Tag, TagEnd};
use unicode_width::UnicodeWidthStr;

use super::span::{Label, Line, Look, Span};
use super::wrap::wrap;

/// Renders Markdown; `links` are the numbers of link targets.
#[must_use]
pub fn markdown_lines(text: &str, links: &[(usize, String, String)], look: Look) -> Vec<Line> {
    let mut page = Page {
        look,
        out: Vec::new(),
        spans: Vec::new(),
        lists: Vec::new(),
        quote: 0,
        strong: 0,
        emphasis: 0,
        marker: None,
    };
    let mut link: Option<String> = None;
    let mut table: Option<Vec<Vec<String>>> = None;
    let mut code: Option<String> = None;
    for event in Parser::new_ext(text, Options::ENABLE_TABLES) {
        match event {
            Event::Start(Tag::Heading { .. }) => page.blank(),
            Event::End(TagEnd::Heading(_)) => {
                for s in &mut page.spans {
                    s.label = Label::Strong;
                }
                page.flush();
            }
            Event::Start(Tag::Paragraph) if page.lists.is_empty() && page.quote == 0 => page.blank(),
            Event::End(TagEnd::Paragraph) => page.flush(),
            Event::Start(Tag::List(start)) => {
                page.flush();
                if page.lists.is_empty() {
                    page.blank();
                }
                page.lists.push(start);
            }
            Event::End(TagEnd::List(_)) => {
                page.lists.pop();
            }
            Event::Start(Tag::Item) => {
                page.flush();
                let marker = match page.lists.last_mut() {
                    Some(Some(n)) => {
                        let m = format!("{n}. ");
                        *n += 1;
                        m
                    }
                    _ => "- ".to_owned(),
                };
                page.marker = Some(marker);
            }
            Event::End(TagEnd::Item) => page.flush(),
            Event::Start(Tag::BlockQuote(_)) => {
                page.flush();
                page.quote += 1;
            }
            Event::End(TagEnd::BlockQuote(_)) => {
                page.flush();
                page.quote = page.quote.saturating_sub(1);
            }
            Event::Start(Tag::Strong) => page.strong += 1,
            Event::End(TagEnd::Strong) => page.strong -= 1,
            Event::Start(Tag::Emphasis) => page.emphasis += 1,
            Event::End(TagEnd::Emphasis) => page.emphasis -= 1,
            Event::Start(Tag::Link { dest_url, .. }) => link = Some(dest_url.to_string()),
            Event::End(TagEnd::Link) => {
                if let Some(n) = link.take().and_then(|t| links.iter().find(|(_, id, _)| *id == t).map(|(n, _, _)| *n))
                {
                    page.spans.push(Span::new(Label::Key, format!(" [{n}]")));
                }
            }
            Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(_) | CodeBlockKind::Indented)) => {
                page.flush();
                page.blank();
                code = Some(String::new());
            }
            Event::End(TagEnd::CodeBlock) => {
                if let Some(text) = code.take() {
                    page.picture(&text);
                }
            }
            Event::Start(Tag::Table(_)) => table = Some(Vec::new()),
            Event::Start(Tag::TableRow | Tag::TableHead) => {
                if let Some(rows) = &mut table {
                    rows.push(Vec::new());
                }
            }
            Event::Start(Tag::TableCell) => {
                if let Some(row) = table.as_mut().and_then(|t| t.last_mut()) {
                    row.push(String::new());
                }
            }
            Event::End(TagEnd::Table) => {
                if let Some(rows) = table.take() {
                    page.table(&rows);
                }
            }
            Event::Text(t) | Event::Code(t) => match (&mut table, &mut code) {
                (Some(rows), _) => {
                    if let Some(cell) = rows.last_mut().and_then(|r| r.last_mut()) {
                        cell.push_str(&t);
                    }
                }
                (None, Some(text)) => text.push_str(&t),
                (None, None) => page.text(&t),
            },
            Event::SoftBreak => page.text(" "),
            Event::HardBreak => page.flush(),
            Event::Rule => page.blank(),
            _ => {}
        }
    }
    page.flush();
    while page.out.first().is_some_and(Vec::is_empty) {
        page.out.remove(0);
    }
    while page.out.last().is_some_and(Vec::is_empty) {
        page.out.pop();
    }
    page.out
}

/// A table as lines; read row by row where it does not fit.
pub(super) fn table_lines(head: &[String], rows: &[Vec<String>], look: Look) -> Vec<Line> {
    let all: Vec<Vec<String>> = std::iter::once(head.to_vec()).chain(rows.iter().cloned()).collect();
    let mut page = Page {
        look,
        out: Vec::new(),
        spans: Vec::new(),
        lists: Vec::new(),
        quote: 0,
        strong: 0,
        emphasis: 0,
        marker: None,
    };
    page.table(&all);
    page.out
}

struct Page {
    look: Look,
    out: Vec<Line>,
    spans: Vec<Span>,
    lists: Vec<Option<u64>>,
    quote: usize,
    strong: usize,
    emphasis: usize,
    marker: Option<String>,
}

impl Page {
    fn text(&mut self, t: &str) {
        let label = match (self.quote > 0 && (t.starts_with("Caution")), self.strong > 0, self.emphasis > 0) {
            (true, _, _) => Label::Warning,
            (_, true, _) => Label::Strong,
            (_, _, true) => Label::Emphasis,
            _ => Label::Plain,
        };
        self.spans.push(Span::new(label, t));
    }

    fn blank(&mut self) {
        if self.out.last().is_some_and(|l| !l.is_empty()) {
            self.out.push(Vec::new());
        }
    }

    fn flush(&mut self) {
        if self.spans.is_empty() {
            return;
        }
        let depth = self.lists.len().saturating_sub(1) * 2 + if self.quote > 0 { 3 } else { 0 };
        let mut line = vec![Span::new(Label::Plain, " ".repeat(depth))];
        let mut hang = depth;
        if let Some(m) = self.marker.take() {
            hang += m.len();
            line.push(Span::new(Label::Key, m));
        } else if !self.lists.is_empty() && self.quote == 0 {
            line.push(Span::new(Label::Plain, "  "));
            hang += 2;
        }
        line.append(&mut self.spans);
        self.out.extend(wrap(&line, self.look.width, hang));
    }

    /// A picture in characters keeps its lines: never wrapped, all set in alike, and less far where the window is narrow.
    /// Read aloud it would be noise, so a screen reader is only told of it.
    fn picture(&mut self, text: &str) {
        if !self.look.drawn {
            self.out.push(vec![Span::new(Label::Dim, "(Here stands a picture in characters.)")]);
            return;
        }
        let wide = text.lines().map(UnicodeWidthStr::width).max().unwrap_or(0);
        let inset = " ".repeat(self.look.width.saturating_sub(wide).min(4));
        for l in text.lines() {
            self.out.push(vec![Span::new(Label::Plain, format!("{inset}{l}").trim_end().to_owned())]);
        }
        self.out.push(Vec::new());
    }

    fn table(&mut self, rows: &[Vec<String>]) {
        self.blank();
        let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
        let widths: Vec<usize> =
            (0..columns).map(|c| rows.iter().filter_map(|r| r.get(c)).map(|t| t.width()).max().unwrap_or(0)).collect();
        let fits = widths.iter().sum::<usize>() + 2 * columns <= self.look.width && self.look.drawn;
        for (i, row) in rows.iter().enumerate() {
            let label = if i == 0 { Label::Strong } else { Label::Plain };
            if fits {
                let text: String =
                    row.iter().zip(&widths).map(|(t, w)| format!("{t}{}", " ".repeat(w + 2 - t.width()))).collect();
                self.out.push(vec![Span::new(label, text.trim_end().to_owned())]);
            } else if i > 0 {
                // A table that does not fit is read row by row, each cell with its heading.
                let heads = &rows[0];
                let text: Vec<String> = row
                    .iter()
                    .enumerate()
                    .map(|(c, t)| format!("{}: {t}", heads.get(c).map_or("", String::as_str)))
                    .collect();
                self.out.extend(wrap(&[Span::new(Label::Plain, format!("- {}", text.join("; ")))], self.look.width, 2));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(text: &str, width: usize) -> Vec<String> {
        let look = Look { width, styled: false, drawn: true };
        markdown_lines(text, &[], look).iter().map(|l| l.iter().map(|s| s.text.as_str()).collect()).collect()
    }

    #[test]
    fn a_picture_keeps_its_lines_at_any_width() {
        let picture = "+--------------------------------+\n|    one pad        other pad    |\n   under it";
        let text = format!("Before the picture.\n\n```\n{picture}\n```\n\nAfter it.");
        for (width, inset) in [(80, 4), (40, 4), (36, 2), (20, 0)] {
            let lines = shown(&text, width);
            let wanted: Vec<String> = picture.lines().map(|l| format!("{}{l}", " ".repeat(inset))).collect();
            assert!(lines.windows(wanted.len()).any(|w| w == wanted), "at {width}: {lines:?}");
        }
    }
}
