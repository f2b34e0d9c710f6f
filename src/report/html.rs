//! The card as one page: nothing to fetch, nothing that runs, fit for a phone and for paper in black and white.
//!
//! Owns the page, its policy and the escaping of every text. Must not decide what stands on a card.

use super::PAGE_LIMIT;
use super::card;
use super::doc::{Body, Cell, Doc, Part, Table};
use super::fit::{self, Limits};
use super::kind::Kind;
use super::picture::Entry;
use super::sheet;
use crate::dialogue::Record;

/// The one style sheet; the policy below lets in no other.
const STYLE: &str = include_str!("page.css");

/// SHA-256 of the style sheet as the policy wants it (Content Security Policy Level 3, section 2.3.1). A test computes it
/// anew and prints what it must be after a change of the sheet.
const STYLE_HASH: &str = "nt0FOOaVAatNxoewVh37C2tK3SH2Qudhl+QVZNL9uPE=";

/// The page, with as much of the record as its weight allows.
pub(super) fn page(kind: Kind, record: &Record) -> String {
    let at = |limits: &Limits| write(&card::of(kind, &fit::fitted(record, limits)));
    let [first, others @ ..] = &fit::PAGE;
    let mut page = at(first);
    for limits in others {
        if page.len() <= PAGE_LIMIT {
            break;
        }
        page = at(limits);
    }
    page
}

fn write(doc: &Doc) -> String {
    let mut h = String::with_capacity(32_000);
    let name = doc.kind.title();
    let title = if doc.title.is_empty() { name.to_owned() } else { format!("{name}: {}", doc.title) };
    h.push_str("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
    h.push_str(&format!(
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'sha256-{STYLE_HASH}'; base-uri 'none'; form-action 'none'\">\n"
    ));
    h.push_str("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
    h.push_str("<meta name=\"color-scheme\" content=\"light\">\n<meta name=\"referrer\" content=\"no-referrer\">\n");
    h.push_str("<meta name=\"format-detection\" content=\"telephone=no, date=no, address=no, email=no\">\n");
    h.push_str(&format!(
        "<title>{}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<header>\n<h1>{name}</h1>\n",
        escape(&title)
    ));
    if !doc.title.is_empty() {
        h.push_str(&format!("<p class=\"title\">{}</p>\n", said(&doc.title)));
    }
    if !doc.facts.is_empty() {
        h.push_str("<dl class=\"facts\">");
        for (what, text) in &doc.facts {
            h.push_str(&format!("<div><dt>{what}</dt><dd>{}</dd></div>", said(text)));
        }
        h.push_str("</dl>\n");
    }
    h.push_str("</header>\n");
    if !doc.stop.is_empty() {
        h.push_str("<div class=\"stop\" role=\"alert\"><h2>DO NOT RIDE</h2>");
        for s in &doc.stop {
            h.push_str(&format!("<p>{}</p>", said(s)));
        }
        h.push_str("</div>\n");
    }
    h.push_str("<main>\n");
    let printed = sheet::printed(doc);
    for (part, printed) in doc.parts.iter().zip(&printed) {
        write_part(&mut h, part, *printed);
    }
    h.push_str("</main>\n<footer>");
    let left: Vec<&str> = doc.parts.iter().zip(&printed).filter(|p| !p.1).map(|p| p.0.title.as_str()).collect();
    if !left.is_empty() {
        h.push_str(&format!(
            "<p class=\"paper\">Only on the screen, to keep to one sheet: {}.</p>",
            said(&left.join("; "))
        ));
    }
    for f in &doc.foot {
        h.push_str(&format!("<p>{}</p>", said(f)));
    }
    h.push_str("</footer>\n</body>\n</html>\n");
    h
}

fn write_part(h: &mut String, part: &Part, printed: bool) {
    let class = match (sheet::is_wide(part), printed) {
        (true, _) => " class=\"wide\"",
        (false, false) => " class=\"screen\"",
        (false, true) => "",
    };
    h.push_str(&format!("<section{class}>\n<h2>{}</h2>\n", said(&part.title)));
    match &part.body {
        Body::Say(text) => h.push_str(&format!("<p>{}</p>\n", said(text))),
        Body::List(items) => {
            h.push_str("<ul>\n");
            for i in items {
                h.push_str(&format!("<li>{}</li>\n", said(i)));
            }
            h.push_str("</ul>\n");
        }
        Body::Table(t) => write_table(h, t),
        Body::Picture(p) => {
            h.push_str(&format!("<figure>{}", p.svg));
            if !p.caption.is_empty() {
                h.push_str(&format!("<figcaption>{}</figcaption>", said(&p.caption)));
            }
            if !p.legend.is_empty() {
                let entry = |e: &Entry| format!("<strong>{}</strong> {}: {}", e.name, said(&e.shown), e.says);
                let entries: Vec<String> = p.legend.iter().map(entry).collect();
                h.push_str(&format!("<p class=\"legend\">{}.</p>", entries.join("; ")));
            }
            h.push_str("</figure>\n");
        }
        Body::Lines(n) => (0..*n).for_each(|_| h.push_str("<div class=\"line\"></div>\n")),
    }
    h.push_str("</section>\n");
}

fn write_table(h: &mut String, t: &Table) {
    // On a phone a wide table folds: each row becomes a block, each cell carries its head.
    let class = match (t.head.len() > 2, t.pencil) {
        (true, true) => " class=\"fold pencil\"",
        (true, false) if matches!(t.rows.first().and_then(|r| r.first()), Some(Cell::Text(_))) => {
            " class=\"fold named\""
        }
        (true, false) => " class=\"fold\"",
        (false, true) => " class=\"pencil\"",
        (false, false) => "",
    };
    h.push_str(&format!("<table{class}>\n<thead><tr>"));
    for head in &t.head {
        h.push_str(&format!("<th scope=\"col\">{head}</th>"));
    }
    h.push_str("</tr></thead>\n<tbody>\n");
    for row in &t.rows {
        h.push_str("<tr>");
        for (head, cell) in t.head.iter().zip(row) {
            let label =
                if head.is_empty() || t.head.len() <= 2 { String::new() } else { format!(" data-head=\"{head}\"") };
            match cell {
                Cell::Text(text) if text.is_empty() => h.push_str("<td></td>"),
                Cell::Text(text) => h.push_str(&format!("<td{label}>{}</td>", said(text))),
                Cell::Write => h.push_str(&format!("<td{label} class=\"write\"></td>")),
                Cell::Boxes(words) => {
                    let one = if words.len() == 1 { " class=\"one\"" } else { "" };
                    h.push_str(&format!("<td{label}{one}>"));
                    for w in *words {
                        h.push_str(&format!("<span class=\"tick\"><span class=\"box\"></span>{w}</span>"));
                    }
                    h.push_str("</td>");
                }
            }
        }
        h.push_str("</tr>\n");
    }
    h.push_str("</tbody>\n</table>\n");
}

/// Escaped text in its own direction: right-to-left words cannot turn what stands beside them.
fn said(text: &str) -> String {
    if text.is_ascii() { escape(text) } else { format!("<bdi>{}</bdi>", escape(text)) }
}

/// Escapes a text for elements and quoted attributes (HTML, section 13.1: the characters that can end or open either).
pub(super) fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use sha2::{Digest, Sha256};

    /// Base 64 of RFC 4648, section 4.
    fn base64(bytes: &[u8]) -> String {
        const SIGNS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
        let mut out = String::new();
        for chunk in bytes.chunks(3) {
            let n = chunk.iter().chain([0, 0].iter()).take(3).fold(0u32, |n, b| n << 8 | u32::from(*b));
            for i in 0..4 {
                let sign = char::from(SIGNS[(n >> (18 - 6 * i)) as usize & 63]);
                out.push(if i <= chunk.len() { sign } else { '=' });
            }
        }
        out
    }

    #[test]
    fn the_policy_lets_in_this_style_sheet_and_no_other() {
        assert_eq!(base64(b"foob"), "Zm9vYg=="); // RFC 4648, section 10
        assert_eq!(STYLE_HASH, base64(&Sha256::digest(STYLE)), "put the right-hand value into STYLE_HASH");
    }

    #[test]
    fn the_style_sheet_asks_for_nothing() {
        for word in ["url(", "@import", "@font-face", "expression", "</"] {
            assert!(!STYLE.contains(word), "{word}");
        }
    }

    #[test]
    fn escapes_what_ends_an_element_or_an_attribute() {
        assert_eq!(escape("<a href='x'>\"&"), "&lt;a href=&#39;x&#39;&gt;&quot;&amp;");
        assert_eq!(said("אב"), "<bdi>אב</bdi>");
    }
}
