//! The trade's words: what riders call things, and what the trade's words mean.

/// Words that are read as one word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Synonym {
    /// The word all are read as.
    pub word: String,
    /// What people say instead.
    pub like: Vec<String>,
}

/// A trade word and its meaning.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GlossaryEntry {
    /// The word.
    pub term: String,
    /// What it means, in everyday words.
    pub means: String,
    /// Plain sentences use the word in another sense, or everybody knows it: a text is not searched for it.
    pub everyday: bool,
}

/// All synonyms and the glossary, in the order of their files.
#[derive(Clone, Debug, Default)]
pub struct Vocabulary {
    /// Synonym groups.
    pub synonyms: Vec<Synonym>,
    /// The glossary, sorted by term.
    pub glossary: Vec<GlossaryEntry>,
}

/// What follows a trade word that is being explained.
const EXPLAINS: &[&str] = &["(", "is a ", "is the ", "is an ", "is how ", "are the "];

impl Vocabulary {
    /// The trade words of a Markdown text that stand there unexplained, in the order of the text: neither followed by
    /// brackets or "is the", nor within brackets or a link. A word is looked at where it first stands.
    #[must_use]
    pub fn unexplained(&self, markdown: &str) -> Vec<&GlossaryEntry> {
        let words = words(markdown);
        let mut found: Vec<(usize, usize, &GlossaryEntry, bool)> = Vec::new();
        for entry in self.glossary.iter().filter(|g| !g.everyday) {
            let term: Vec<String> = split_words(&entry.term);
            let at = words.windows(term.len().max(1)).position(|w| {
                w.iter().zip(&term).enumerate().all(|(i, (w, t))| {
                    let plural =
                        i + 1 == term.len() && w.text.strip_prefix(t.as_str()).is_some_and(|e| e == "s" || e == "es");
                    w.text == *t || plural
                })
            });
            if let Some(at) = at {
                let last = &words[at + term.len() - 1];
                let after = markdown[last.end..].trim_start();
                let said = words[at].inside || EXPLAINS.iter().any(|e| after.starts_with(e));
                found.push((at, term.len(), entry, said));
            }
        }
        // A longer term takes its words: "brake pad" is not a "pad".
        let longer = |a: &(usize, usize, &GlossaryEntry, bool)| {
            found.iter().any(|b| b.1 > a.1 && b.0 <= a.0 && a.0 + a.1 <= b.0 + b.1)
        };
        let mut out: Vec<_> = found.iter().filter(|f| !f.3 && !longer(f)).map(|f| (f.0, f.2)).collect();
        out.sort_by_key(|(at, _)| *at);
        out.into_iter().map(|(_, g)| g).collect()
    }

    /// The glossary entry of a term, in any case; of its singular; or of the word it is read as ("mech": derailleur).
    #[must_use]
    pub fn means(&self, term: &str) -> Option<&GlossaryEntry> {
        let exact = |t: &str| self.glossary.iter().find(|g| g.term.eq_ignore_ascii_case(t));
        let either =
            |t: &str| exact(t).or_else(|| exact(t.strip_suffix('s')?)).or_else(|| exact(t.strip_suffix("es")?));
        either(term).or_else(|| {
            let same = |w: &String| {
                w.eq_ignore_ascii_case(term) || term.strip_suffix('s').is_some_and(|t| w.eq_ignore_ascii_case(t))
            };
            self.synonyms.iter().filter(|s| s.like.iter().any(same)).find_map(|s| either(&s.word))
        })
    }
}

struct Word {
    text: String,
    end: usize,
    /// Within brackets or a link.
    inside: bool,
}

fn split_words(text: &str) -> Vec<String> {
    text.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).map(str::to_lowercase).collect()
}

fn words(markdown: &str) -> Vec<Word> {
    let mut out = Vec::new();
    let mut depth = 0i32;
    let mut start = None;
    let mut picture = false;
    let mut from = 0;
    for line in markdown.split_inclusive('\n') {
        let fence = line.trim_start().starts_with("```");
        picture ^= fence;
        if !fence && !picture {
            for (i, c) in line.char_indices().map(|(i, c)| (from + i, c)).chain([(from + line.len(), ' ')]) {
                match (c.is_alphanumeric(), start) {
                    (true, None) => start = Some(i),
                    (false, Some(s)) => {
                        out.push(Word { text: markdown[s..i].to_lowercase(), end: i, inside: depth > 0 });
                        start = None;
                    }
                    _ => {}
                }
                match c {
                    '(' | '[' => depth += 1,
                    ')' | ']' => depth = (depth - 1).max(0),
                    _ => {}
                }
            }
        }
        from += line.len();
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_is_found_by_plural_and_by_what_it_is_read_as() {
        let entry =
            GlossaryEntry { term: "derailleur".into(), means: "the arm that moves the chain".into(), everyday: false };
        let read = Synonym { word: "derailleur".into(), like: vec!["mech".into()] };
        let v = Vocabulary { synonyms: vec![read], glossary: vec![entry] };
        for asked in ["Derailleur", "derailleurs", "mech", "mechs"] {
            assert!(v.means(asked).is_some(), "{asked}");
        }
        assert!(v.means("rotor").is_none());
    }

    #[test]
    fn a_word_is_unexplained_unless_brackets_or_a_link_follow() {
        let entry = |t: &str| GlossaryEntry { term: t.into(), means: "something".into(), everyday: t == "stay" };
        let v = Vocabulary {
            synonyms: Vec::new(),
            glossary: ["brake pad", "caliper", "pad", "rotor", "stay", "sag"].map(entry).to_vec(),
        };
        let text =
            "The caliper (a clamp) and its brake pads stay off the rotor; set [sag](calc:sag).\n\n```\npad\n```\n";
        let found: Vec<&str> = v.unexplained(text).into_iter().map(|g| g.term.as_str()).collect();
        assert_eq!(found, ["brake pad", "rotor"]);
    }
}
