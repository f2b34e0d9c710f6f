//! Taking a note's body apart: sections, steps with their cautions, links.

use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};

use crate::domain::Section;

/// One step of a numbered list, with what stands under it as a quotation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// The step, in Markdown without its number.
    pub text: String,
    /// Cautions under the step, without the word "Caution:".
    pub cautions: Vec<String>,
    /// Ids of calculators linked in the step.
    pub calculators: Vec<String>,
}

/// The heading under which riders' sentences stand.
pub(super) const SAYS: &str = "Riders say";

/// Splits a body at its second-level headings; the first section has an empty heading.
pub(super) fn sections(body: &str) -> Vec<Section> {
    let mut out = vec![Section { heading: String::new(), markdown: String::new() }];
    let mut fenced = false;
    for line in body.lines() {
        if line.trim_start().starts_with("```") {
            fenced = !fenced;
        }
        if let (false, Some(heading)) = (fenced, line.strip_prefix("## ")) {
            out.push(Section { heading: heading.trim().to_owned(), markdown: String::new() });
        } else if let Some(last) = out.last_mut() {
            last.markdown.push_str(line);
            last.markdown.push('\n');
        }
    }
    for s in &mut out {
        s.markdown = s.markdown.trim_matches('\n').to_owned();
    }
    out
}

/// The sentences of a "Riders say" section.
pub(super) fn sentences(markdown: &str) -> Vec<String> {
    markdown
        .lines()
        .filter_map(|l| l.trim_start().strip_prefix("- "))
        .map(|l| l.trim().trim_matches('"').to_owned())
        .filter(|l| !l.is_empty())
        .collect()
}

/// The numbered steps of a section's Markdown, in order; other text is left out.
#[must_use]
pub fn steps(markdown: &str) -> Vec<Step> {
    let mut out: Vec<Step> = Vec::new();
    let mut depth = 0usize;
    let mut quote = 0usize;
    let mut note: Option<String> = None;
    for (event, range) in Parser::new_ext(markdown, Options::ENABLE_TABLES).into_offset_iter() {
        match event {
            Event::Start(Tag::Item) => {
                depth += 1;
                if depth == 1 {
                    out.push(Step { text: String::new(), cautions: Vec::new(), calculators: Vec::new() });
                } else {
                    push(&mut out, " ");
                }
            }
            Event::End(TagEnd::Item) => depth = depth.saturating_sub(1),
            Event::Start(Tag::BlockQuote(_)) => {
                quote += 1;
                if quote == 1 && depth >= 1 {
                    let said = plain_quote(&markdown[range]);
                    if let Some(step) = out.last_mut() {
                        step.cautions.push(said);
                    }
                }
            }
            Event::End(TagEnd::BlockQuote(_)) => quote = quote.saturating_sub(1),
            Event::Start(Tag::Link { dest_url, .. }) if depth >= 1 && quote == 0 => {
                match (dest_url.strip_prefix("calc:"), out.last_mut()) {
                    (Some(id), Some(step)) => step.calculators.push(id.to_owned()),
                    (None, Some(_)) if !dest_url.starts_with("source:") => note = Some(dest_url.to_string()),
                    _ => {}
                }
            }
            // A step is read alone, so the note it refers to is named.
            Event::End(TagEnd::Link) if depth >= 1 && quote == 0 => {
                if let Some(id) = note.take() {
                    push(&mut out, &format!(" (read {id})"));
                }
            }
            Event::Text(t) if depth >= 1 && quote == 0 => push(&mut out, &t),
            Event::Code(t) if depth >= 1 && quote == 0 => push(&mut out, &t),
            Event::SoftBreak | Event::HardBreak if depth >= 1 && quote == 0 => push(&mut out, " "),
            _ => {}
        }
    }
    for s in &mut out {
        s.text = s.text.split_whitespace().collect::<Vec<_>>().join(" ");
    }
    out.retain(|s| !s.text.is_empty());
    out
}

fn push(out: &mut [Step], text: &str) {
    if let Some(step) = out.last_mut() {
        step.text.push_str(text);
    }
}

fn plain_quote(markdown: &str) -> String {
    let mut text = String::new();
    for event in Parser::new(markdown) {
        match event {
            Event::Text(t) | Event::Code(t) => text.push_str(&t),
            Event::SoftBreak | Event::HardBreak => text.push(' '),
            _ => {}
        }
    }
    let text = text.trim().trim_start_matches('>').trim();
    text.strip_prefix("Caution:").unwrap_or(text).trim().to_owned()
}

/// Every link target in a Markdown text, with the line (from 1) on which it stands.
#[must_use]
pub fn link_targets(markdown: &str) -> Vec<(usize, String)> {
    let mut out = Vec::new();
    for (event, range) in Parser::new_ext(markdown, Options::ENABLE_TABLES).into_offset_iter() {
        if let Event::Start(Tag::Link { dest_url, .. }) = event {
            let line = markdown[..range.start].matches('\n').count() + 1;
            out.push((line, dest_url.to_string()));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_carry_their_cautions_and_calculators() {
        let md = "1. Loosen both bolts.\n   > Caution: hot rotor.\n2. Set the [sag](calc:sag)\n   slowly.\n\n- not\n";
        let s = steps(md);
        assert_eq!(s[0].text, "Loosen both bolts.");
        assert_eq!(s[0].cautions, ["hot rotor."]);
        assert_eq!(s[1].text, "Set the sag slowly.");
        assert_eq!(s[1].calculators, ["sag"]);
    }

    #[test]
    fn sections_split_at_headings_only() {
        let s = sections("intro\n\n## A\nx\n## B\n- one\n- \"two\"\n");
        assert_eq!(s.len(), 3);
        assert_eq!(s[0].markdown, "intro");
        assert_eq!(sentences(&s[2].markdown), ["one", "two"]);
    }
}
