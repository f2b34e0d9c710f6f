//! Plain searches over the same notes, as yardsticks for the first message: full text as it is, SQLite's full text, and
//! the commonest cause.

use rusqlite::{Connection, params};

use crate::dialogue::Bench;
use crate::library::NoteRef;

/// Ranks ids for a text, best first.
type Rank = dyn Fn(&str) -> Vec<String>;

/// A way of ranking causes by a first message.
pub(super) struct Yardstick {
    /// What it is called in the report.
    pub(super) name: &'static str,
    /// How it ranks.
    pub(super) rank: Box<Rank>,
}

/// All yardsticks over a bench.
pub(super) fn yardsticks(bench: &Bench) -> Vec<Yardstick> {
    let ids: Vec<String> = bench.library.causes.iter().map(|c| c.id.clone()).collect();
    let mut common: Vec<(f64, String)> = bench.model.prior.iter().copied().zip(ids.iter().cloned()).collect();
    common.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    let common: Vec<String> = common.into_iter().map(|(_, id)| id).collect();
    let mut out = vec![Yardstick { name: "commonest cause", rank: Box::new(move |_| common.clone()) }];
    if let Ok(fts) = fts5(bench) {
        out.push(Yardstick { name: "SQLite FTS5", rank: Box::new(move |text| fts_ranks(&fts, text)) });
    }
    out
}

/// Ranks by this house's own full-text index alone.
pub(super) fn full_text(bench: &Bench, text: &str) -> Vec<String> {
    let hits = bench.index().map(|i| i.search(text, 50, true)).unwrap_or_default();
    hits.into_iter()
        .filter_map(|h| match h.note {
            NoteRef::Cause(c) => Some(bench.library.causes[c.0].id.clone()),
            _ => None,
        })
        .collect()
}

fn fts5(bench: &Bench) -> rusqlite::Result<Connection> {
    let conn = Connection::open_in_memory()?;
    conn.execute_batch("CREATE VIRTUAL TABLE note USING fts5(id UNINDEXED, body, tokenize = 'porter')")?;
    for c in &bench.library.causes {
        let body: Vec<&str> = c.sections.iter().map(|s| s.markdown.as_str()).collect();
        let text = format!("{}\n{}\n{}", c.title, c.also.join("\n"), body.join("\n"));
        conn.execute("INSERT INTO note (id, body) VALUES (?1, ?2)", params![c.id, text])?;
    }
    Ok(conn)
}

fn fts_ranks(conn: &Connection, text: &str) -> Vec<String> {
    let words: Vec<String> = text
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .map(|w| format!("\"{}\"", w.to_lowercase()))
        .collect();
    let ranked = || -> rusqlite::Result<Vec<String>> {
        let mut q = conn.prepare_cached("SELECT id FROM note WHERE note MATCH ?1 ORDER BY rank LIMIT 50")?;
        q.query_map([words.join(" OR ")], |r| r.get(0))?.collect()
    };
    ranked().unwrap_or_default()
}
