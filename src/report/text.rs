//! The card as plain text, 78 columns wide.
//!
//! Owns its layout. Must not decide what stands on a card.

use super::doc::{Body, Cell, Doc, Part, Table};
use super::wrap::{pad, width, wrap};

/// Width of a card: it leaves a margin on the 80 columns of paper and terminals.
const WIDTH: usize = 78;
/// Between two columns of a table.
const GAP: usize = 2;

/// Writes the card.
pub(super) fn write(doc: &Doc) -> String {
    let mut out = vec![format!("SHAKEDOWN CARD: {}", doc.kind.title().to_uppercase())];
    if !doc.title.is_empty() {
        out.extend(wrap(&doc.title, WIDTH));
    }
    if !doc.facts.is_empty() {
        out.push(String::new());
        let name = doc.facts.iter().map(|f| width(f.0)).max().unwrap_or(0) + 2;
        for (what, text) in &doc.facts {
            hang(&mut out, &pad(&format!("{what}:"), name), text);
        }
    }
    if !doc.stop.is_empty() {
        let rule = "!".repeat(WIDTH);
        out.extend([String::new(), rule.clone(), "!! DO NOT RIDE".into()]);
        for s in &doc.stop {
            hang(&mut out, "!! ", s);
        }
        out.push(rule);
    }
    for part in &doc.parts {
        out.push(String::new());
        write_part(&mut out, part);
    }
    for f in &doc.foot {
        out.push(String::new());
        out.extend(wrap(f, WIDTH));
    }
    let mut text: String = out.iter().map(|l| l.trim_end()).collect::<Vec<_>>().join("\n");
    text.push('\n');
    text
}

fn write_part(out: &mut Vec<String>, part: &Part) {
    out.extend(wrap(&part.title, WIDTH));
    match &part.body {
        Body::Say(text) => hang(out, "  ", text),
        Body::List(items) => items.iter().for_each(|i| hang(out, "  - ", i)),
        Body::Table(t) => out.extend(table(t)),
        Body::Picture(p) => out.extend(p.chart.iter().map(|l| format!("  {l}"))),
        Body::Lines(n) => (0..*n).for_each(|_| out.extend([String::new(), format!("  {}", "_".repeat(WIDTH - 2))])),
    }
}

/// A text behind a lead, its further lines under its first.
fn hang(out: &mut Vec<String>, lead: &str, text: &str) {
    let indent = width(lead);
    let stop = lead.starts_with('!');
    for (i, line) in wrap(text, WIDTH - indent).into_iter().enumerate() {
        let lead = if i == 0 || stop { lead.to_owned() } else { " ".repeat(indent) };
        out.push(lead + &line);
    }
}

/// The table in columns that share the width by what they hold.
fn table(t: &Table) -> Vec<String> {
    let columns = t.head.len();
    let room = (WIDTH - 2).saturating_sub(GAP * columns.saturating_sub(1));
    let rows: Vec<Vec<String>> = t.rows.iter().map(|r| r.iter().map(plain).collect()).collect();
    let demand: Vec<(usize, usize)> = (0..columns)
        .map(|c| {
            let texts = || rows.iter().filter_map(|r| r.get(c)).map(String::as_str).chain([t.head[c]]);
            let full = texts().map(width).max().unwrap_or(1);
            let word = texts().flat_map(|s| s.split(' ')).map(width).max().unwrap_or(1).min(14);
            let cells = || t.rows.iter().filter_map(|r| r.get(c));
            let boxes = cells().any(|c| matches!(c, Cell::Boxes(_)));
            let write = cells().any(|c| *c == Cell::Write);
            match (boxes, write) {
                (true, _) => (full, full),
                (_, true) => (word.max(11), full.max(12)),
                _ => (word, full),
            }
        })
        .collect();
    let widths = share(&demand, room);
    let mut out = Vec::new();
    if t.head.iter().any(|h| !h.is_empty()) {
        let head: Vec<String> = t.head.iter().map(|h| (*h).to_owned()).collect();
        lay(&mut out, &head, &widths, |_| false);
        out.push(format!("  {}", widths.iter().map(|w| "-".repeat(*w)).collect::<Vec<_>>().join(&" ".repeat(GAP))));
    }
    for (row, cells) in rows.iter().zip(&t.rows) {
        if t.pencil {
            out.push(String::new());
        }
        lay(&mut out, row, &widths, |c| cells.get(c) == Some(&Cell::Write));
    }
    out
}

fn plain(cell: &Cell) -> String {
    match cell {
        Cell::Text(t) => t.clone(),
        Cell::Write => String::new(),
        Cell::Boxes(words) => {
            words.iter().map(|w| format!("[ ] {w}").trim_end().to_owned()).collect::<Vec<_>>().join("  ")
        }
    }
}

fn lay(out: &mut Vec<String>, cells: &[String], widths: &[usize], is_line: impl Fn(usize) -> bool) {
    let wrapped: Vec<Vec<String>> = cells
        .iter()
        .zip(widths)
        .enumerate()
        .map(|(c, (text, w))| if is_line(c) { vec!["_".repeat(*w)] } else { wrap(text, *w) })
        .collect();
    for i in 0..wrapped.iter().map(Vec::len).max().unwrap_or(0) {
        let line: Vec<String> =
            wrapped.iter().zip(widths).map(|(lines, w)| pad(lines.get(i).map_or("", String::as_str), *w)).collect();
        out.push(format!("  {}", line.join(&" ".repeat(GAP))));
    }
}

/// Widths that fit the room, from what each column needs at least and what it would take: what is left over the least
/// goes to the columns by what they lack.
fn share(demand: &[(usize, usize)], room: usize) -> Vec<usize> {
    if demand.iter().map(|d| d.1).sum::<usize>() <= room {
        return demand.iter().map(|d| d.1).collect();
    }
    let least: usize = demand.iter().map(|d| d.0).sum();
    if least > room {
        return demand.iter().map(|d| (d.0 * room / least).max(1)).collect();
    }
    let lack: usize = demand.iter().map(|d| d.1 - d.0).sum();
    demand.iter().map(|d| d.0 + (room - least) * (d.1 - d.0) / lack.max(1)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_share_the_room_by_need() {
        assert_eq!(share(&[(5, 10), (5, 20)], 40), [10, 20]);
        assert_eq!(share(&[(10, 10), (10, 110), (10, 210)], 60), [10, 20, 30]);
        assert!(share(&[(50, 500); 4], 30).iter().sum::<usize>() <= 30);
    }

    #[test]
    fn a_table_never_runs_over_the_edge() {
        let t = Table {
            head: vec!["What", "Before", "Now", "How"],
            rows: vec![vec![
                Cell::of("w ".repeat(80)),
                Cell::of("x".repeat(90)),
                Cell::Write,
                Cell::Boxes(&["yes", "no"]),
            ]],
            pencil: true,
        };
        let lines = table(&t);
        assert!(lines.len() > 4 && lines.iter().all(|l| width(l) <= WIDTH), "{lines:#?}");
    }
}
