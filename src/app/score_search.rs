//! Scoring short queries: is a right note among the first that the search lists?

use serde::Deserialize;

use super::plain_search::{full_text, yardsticks};
use crate::dialogue::{Bench, Block, Effect, Session, Turn};

/// A query, and the notes that answer it.
#[derive(Debug, Deserialize)]
pub(super) struct Query {
    query: String,
    pub(super) expect: Vec<String>,
}

/// Scores queries, and plain searches beside ours on the same list.
pub(super) fn score_queries(bench: &Bench, queries: &[Query]) -> String {
    let mut out = String::new();
    let mut line = |name: &str, rank: &dyn Fn(&str) -> Vec<String>, misses: bool| {
        let mut within = [0usize; 2];
        for q in queries {
            let found = rank(&q.query);
            let place = found.iter().position(|id| q.expect.contains(id));
            within[0] += usize::from(place == Some(0));
            within[1] += usize::from(place.is_some_and(|p| p < 3));
            if misses && place.is_none_or(|p| p >= 3) {
                let found: Vec<&str> = found.iter().take(3).map(String::as_str).collect();
                out.push_str(&format!(
                    "missed {:?} | wanted {} | found {}\n",
                    q.query,
                    q.expect.join(","),
                    found.join(",")
                ));
            }
        }
        let [first, three] = within.map(|n| 100.0 * n as f64 / queries.len() as f64);
        out.push_str(&format!("{name}: first {first:.0} %, in three {three:.0} %\n"));
    };
    line(&format!("search, {} queries", queries.len()), &|q| ours(bench, q), true);
    line("beside it, plain full text (tantivy BM25)", &|q| full_text(bench, q), false);
    for y in yardsticks(bench) {
        line(&format!("beside it, {}", y.name), &*y.rank, false);
    }
    out
}

/// What the conversation lists for `find`.
fn ours(bench: &Bench, query: &str) -> Vec<String> {
    let effects = Session::new().step(bench, Turn::Line(format!("find {query}")));
    effects
        .iter()
        .filter_map(|e| match e {
            Effect::Say(reply) => Some(&reply.blocks),
            _ => None,
        })
        .flatten()
        .filter_map(|b| match b {
            Block::Notes { found, .. } => Some(found.iter().map(|f| f.id.clone())),
            _ => None,
        })
        .flatten()
        .collect()
}
