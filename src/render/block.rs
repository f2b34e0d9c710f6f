//! One block of a reply as lines.

use unicode_width::UnicodeWidthStr;

use super::chart;
use super::markdown::markdown_lines;
use super::span::{Label, Line, Look, Span};
use super::wrap::wrap;
use crate::dialogue::{Block, Choice, Figure, Found, Likely, Reply, Understood};

/// Renders a whole reply; blocks that belong apart are separated by an empty line.
#[must_use]
pub fn lines(reply: &Reply, look: Look) -> Vec<Line> {
    let mut out: Vec<Line> = Vec::new();
    let mut before: Option<&Block> = None;
    for b in &reply.blocks {
        let block = block(b, look);
        if block.is_empty() {
            continue;
        }
        if before.is_some_and(|p| apart(p, b)) && !out.is_empty() {
            out.push(Vec::new());
        }
        out.extend(block);
        before = Some(b);
    }
    out
}

/// Whether an empty line stands between two blocks.
fn apart(a: &Block, b: &Block) -> bool {
    !matches!(
        (a, b),
        (Block::Say { .. } | Block::Heading { .. }, Block::Say { .. } | Block::List { .. } | Block::Aside { .. })
            | (_, Block::Aside { .. })
            | (Block::Understood { .. }, Block::Beliefs { .. })
            | (Block::Warning { .. }, Block::Warning { .. })
            | (Block::Bars { .. }, Block::Bars { .. })
            | (Block::Aside { .. }, Block::List { .. } | Block::Say { .. })
    )
}

fn plain(text: impl Into<String>) -> Span {
    Span::new(Label::Plain, text)
}

fn block(b: &Block, look: Look) -> Vec<Line> {
    let w = look.width;
    match b {
        Block::Warning { level, text } => {
            let word = match level.as_str() {
                "stop-riding" => "STOP: ",
                "emergency" => "EMERGENCY: ",
                "see-clinician" => "BODY: ",
                "look-first" => "LOOK FIRST: ",
                _ => "CAUTION: ",
            };
            wrap(&[Span::new(Label::Warning, word), Span::new(Label::Strong, text)], w, 2)
        }
        Block::Understood { items, corrected } => understood(items, corrected, w),
        Block::Beliefs { list, rest } => beliefs(list, *rest, look),
        Block::Question { text, minutes, how, safety, answers, .. } => {
            let mut spans = vec![Span::new(Label::Strong, text)];
            if !safety && how != "ask" {
                spans.push(Span::new(Label::Dim, format!(" (about {} min)", number(*minutes))));
            }
            let mut out = wrap(&spans, w, 0);
            out.extend(choices(answers, w));
            out
        }
        Block::Choices { text, choices: list } => {
            let mut out = wrap(&[Span::new(Label::Strong, text)], w, 0);
            out.extend(choices(list, w));
            out
        }
        Block::Heading { text } => {
            let mut out = wrap(&[Span::new(Label::Strong, text)], w, 0);
            if look.drawn {
                let n = out.iter().flatten().map(|s| s.text.chars().count()).max().unwrap_or(0).min(w);
                out.push(vec![Span::new(Label::Dim, "-".repeat(n))]);
            }
            out
        }
        Block::Say { text } => wrap(&[plain(text)], w, 0),
        Block::Aside { text } => wrap(&[Span::new(Label::Dim, text)], w, 0),
        Block::List { items } => {
            items.iter().flat_map(|i| wrap(&[Span::new(Label::Key, "- "), plain(i)], w, 2)).collect()
        }
        Block::Step { number, of, text, cautions } => {
            let mut out = wrap(&[Span::new(Label::Strong, format!("Step {number} of {of}. ")), plain(text)], w, 2);
            for c in cautions {
                out.extend(wrap(&[plain("  "), Span::new(Label::Warning, "Caution: "), plain(c)], w, 4));
            }
            out
        }
        Block::Result { title, figures, inputs, warnings, cautions, worth, sources, next, .. } => {
            result(title, figures, &[("From", inputs), ("Next", next)], warnings, cautions, worth, sources, w)
        }
        Block::Table { title, head, rows } => {
            let mut out = wrap(&[Span::new(Label::Strong, title)], w, 0);
            out.extend(super::markdown::table_lines(head, rows, look));
            out
        }
        Block::Bars { title, bars } => chart::bars(title, bars, look),
        Block::Curve { title, x, y, points, marks } => chart::curve(title, (x, y), points, marks, look),
        Block::Notes { query, found } => notes(query, found, w),
        Block::Markdown { title, text, links, .. } => {
            let mut out = wrap(&[Span::new(Label::Strong, title)], w, 0);
            out.push(Vec::new());
            out.extend(markdown_lines(text, links, look));
            if !links.is_empty() {
                out.push(Vec::new());
                let list: Vec<String> = links.iter().map(|(n, _, t)| format!("{n} {t}")).collect();
                out.extend(wrap(
                    &[Span::new(Label::Dim, format!("Links (read and the number): {}", list.join("; ")))],
                    w,
                    2,
                ));
            }
            out
        }
        Block::Card { text } => {
            text.lines().flat_map(|l| if l.is_empty() { vec![Vec::new()] } else { wrap(&[plain(l)], w, 4) }).collect()
        }
    }
}

fn choices(list: &[Choice], width: usize) -> Vec<Line> {
    let one = |c: &Choice| vec![Span::new(Label::Key, format!("{:>3} ", c.number)), plain(&c.says)];
    // Many short answers go in two columns, so that the question stays on the screen.
    let rows = list.len().div_ceil(2);
    let widest = |part: &[Choice]| part.iter().map(|c| UnicodeWidthStr::width(c.says.as_str()) + 4).max().unwrap_or(0);
    let (left, right) = list.split_at(rows);
    let column = widest(left) + 2;
    if list.len() > 7 && column + widest(right) <= width {
        return (0..rows)
            .map(|r| {
                let mut line = one(&list[r]);
                if let Some(right) = list.get(r + rows) {
                    let used = UnicodeWidthStr::width(list[r].says.as_str()) + 4;
                    line.push(plain(" ".repeat(column.saturating_sub(used))));
                    line.extend(one(right));
                }
                line
            })
            .collect();
    }
    list.iter().flat_map(|c| wrap(&one(c), width, 4)).collect()
}

fn understood(items: &[Understood], corrected: &[(String, String)], w: usize) -> Vec<Line> {
    let mut out = Vec::new();
    if !items.is_empty() {
        let mut spans = vec![Span::new(Label::Dim, "Understood: ")];
        for (i, u) in items.iter().enumerate() {
            let end = if i + 1 < items.len() { "; " } else { "." };
            spans.push(Span::new(Label::Dim, format!("{}: ", u.about)));
            spans.push(plain(format!("{}{}{end}", if u.denied { "not " } else { "" }, u.value)));
        }
        out.extend(wrap(&spans, w, 2));
    }
    if !corrected.is_empty() {
        let list: Vec<String> = corrected.iter().map(|(a, b)| format!("{a} as {b}")).collect();
        out.extend(wrap(&[Span::new(Label::Dim, format!("Read {}.", list.join(", ")))], w, 2));
    }
    out
}

fn beliefs(list: &[Likely], rest: f64, look: Look) -> Vec<Line> {
    let mut out = Vec::new();
    for (i, l) in list.iter().enumerate() {
        let mut spans =
            vec![Span::new(Label::Key, format!("{:>3} ", if i == 0 { "now".to_owned() } else { "or".to_owned() }))];
        if look.drawn && look.width >= 60 {
            spans.push(Span::new(Label::Good, format!("{} ", chart::meter(l.p, 8))));
        }
        spans.push(plain(format!("{} ", l.title)));
        let moved = match l.moved {
            m if m >= 0.08 => ", up",
            m if m <= -0.08 => ", down",
            _ => "",
        };
        spans.push(Span::new(Label::Dim, format!("({}{moved})", l.words)));
        out.extend(wrap(&spans, look.width, 4));
    }
    if list.len() > 3 && rest > 0.05 {
        out.push(vec![Span::new(Label::Dim, format!("    all others together: about {:.0} in 100", rest * 100.0))]);
    }
    out
}

#[allow(clippy::too_many_arguments, reason = "the parts of one block, named at the one call")]
fn result(
    title: &str,
    figures: &[Figure],
    lists: &[(&str, &Vec<String>)],
    warnings: &[String],
    cautions: &[String],
    worth: &str,
    sources: &[String],
    w: usize,
) -> Vec<Line> {
    let mut out = wrap(&[Span::new(Label::Strong, title)], w, 0);
    for f in figures {
        let mut spans = vec![plain(format!("  {}: ", f.label)), Span::new(Label::Good, f.shown.clone())];
        if let Some(b) = &f.band {
            spans.push(plain(format!(" ({b})")));
        }
        if !f.note.is_empty() {
            spans.push(Span::new(Label::Dim, format!(" {}", f.note)));
        }
        out.extend(wrap(&spans, w, 4));
    }
    for text in warnings {
        out.extend(wrap(&[Span::new(Label::Warning, "  Mind: "), plain(text)], w, 4));
    }
    for text in cautions {
        out.extend(wrap(&[Span::new(Label::Warning, "  Caution: "), plain(text)], w, 4));
    }
    for (name, list) in lists.iter().filter(|(_, l)| !l.is_empty()) {
        out.extend(wrap(&[Span::new(Label::Dim, format!("  {name}: ")), plain(list.join("; "))], w, 4));
    }
    if !worth.is_empty() {
        out.extend(wrap(&[Span::new(Label::Dim, format!("  Worth: {worth}"))], w, 4));
    }
    if !sources.is_empty() {
        out.extend(wrap(&[Span::new(Label::Dim, format!("  Sources: {}", sources.join(", ")))], w, 4));
    }
    out
}

fn notes(query: &str, found: &[Found], w: usize) -> Vec<Line> {
    let mut out = wrap(&[Span::new(Label::Dim, format!("Notes on \"{query}\":"))], w, 0);
    for f in found {
        out.extend(wrap(
            &[
                Span::new(Label::Key, format!("{:>3} ", f.number)),
                Span::new(Label::Strong, f.title.clone()),
                Span::new(Label::Dim, format!(" ({})", f.kind)),
            ],
            w,
            4,
        ));
        let mut spans = vec![plain("    ")];
        let mut at = 0;
        for (s, e) in &f.marks {
            spans.push(Span::new(Label::Dim, &f.passage[at..*s]));
            spans.push(Span::new(Label::Mark, &f.passage[*s..*e]));
            at = *e;
        }
        spans.push(Span::new(Label::Dim, &f.passage[at..]));
        if !f.passage.is_empty() {
            out.extend(wrap(&spans, w, 4));
        }
    }
    out
}

fn number(x: f64) -> String {
    if x < 1.0 { "1".into() } else { format!("{x:.0}") }
}
