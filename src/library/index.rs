//! The full-text index over all notes, in memory.

use tantivy::collector::TopDocs;
use tantivy::directory::RamDirectory;
use tantivy::indexer::SingleSegmentIndexWriter;
use tantivy::query::{BooleanQuery, BoostQuery, Occur, Query, TermQuery};
use tantivy::schema::{Field, INDEXED, IndexRecordOption, STORED, Schema, TextFieldIndexing, TextOptions};
use tantivy::tokenizer::{
    Language, LowerCaser, RemoveLongFilter, SimpleTokenizer, Stemmer, TextAnalyzer, TokenizerManager,
};
use tantivy::{Index as Tantivy, IndexReader, Searcher, TantivyDocument, Term};

use super::load::{Library, NoteRef};
use crate::domain::{CauseIx, FindingIx};

/// Name under which the stemming tokenizer is registered.
const STEMMED: &str = "stemmed";
/// Working memory of the one-time indexing, in bytes.
const ARENA: usize = 16_000_000;

/// A note found, with its score (higher is better; comparable only within one search).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hit {
    /// The note.
    pub note: NoteRef,
    /// BM25 score with the fields' boosts.
    pub score: f32,
}

/// The index, built once from a library.
pub struct Index {
    reader: IndexReader,
    analyzer: TextAnalyzer,
    fields: Fields,
}

#[derive(Clone, Copy)]
struct Fields {
    kind: Field,
    at: Field,
    title: Field,
    says: Field,
    body: Field,
}

/// How much a word counts by where it stands: title and other names, riders' sentences, body.
const BOOSTS: [f32; 3] = [2.2, 1.6, 0.7];

impl Index {
    /// Indexes every cause, guide, finding and danger of the library.
    ///
    /// # Errors
    /// Only when the in-memory index cannot be written, which means memory has run out.
    pub fn build(library: &Library) -> tantivy::Result<Self> {
        let mut schema = Schema::builder();
        let text = TextOptions::default().set_indexing_options(
            TextFieldIndexing::default().set_tokenizer(STEMMED).set_index_option(IndexRecordOption::WithFreqs),
        );
        let fields = Fields {
            kind: schema.add_u64_field("kind", STORED | INDEXED),
            at: schema.add_u64_field("at", STORED),
            title: schema.add_text_field("title", text.clone()),
            says: schema.add_text_field("says", text.clone()),
            body: schema.add_text_field("body", text),
        };
        let analyzer = analyzer();
        let tokenizers = TokenizerManager::default();
        tokenizers.register(STEMMED, analyzer.clone());
        let builder = Tantivy::builder().schema(schema.build()).tokenizers(tokenizers);
        let mut writer: SingleSegmentIndexWriter =
            builder.single_segment_index_writer(RamDirectory::create(), ARENA)?;
        let mut add = |kind: u64, at: usize, title: &str, says: &str, body: &str| {
            let mut doc = TantivyDocument::default();
            doc.add_u64(fields.kind, kind);
            doc.add_u64(fields.at, at as u64);
            doc.add_text(fields.title, title);
            doc.add_text(fields.says, says);
            doc.add_text(fields.body, super::prose::without_pictures(body));
            writer.add_document(doc)
        };
        for (i, c) in library.causes.iter().enumerate() {
            let title = format!("{} {} {}", c.title, c.also.join(" "), c.id.replace('-', " "));
            let body: String = c
                .sections
                .iter()
                .filter(|s| s.heading != super::split::SAYS)
                .map(|s| s.markdown.as_str())
                .collect::<Vec<_>>()
                .join("\n");
            add(0, i, &title, &c.says.join("\n"), &format!("{}\n{body}", c.short))?;
        }
        for (i, f) in library.findings.iter().enumerate() {
            let says: Vec<&str> = f.answers.iter().flat_map(|a| a.phrases.iter().map(String::as_str)).collect();
            add(1, i, &format!("{} {}", f.title, f.trade), &says.join("\n"), &format!("{}\n{}", f.ask, f.body))?;
        }
        for (i, d) in library.dangers.iter().enumerate() {
            add(2, i, &d.title, &d.certain.join("\n"), &format!("{}\n{}", d.warn, d.body))?;
        }
        let index = writer.finalize()?;
        Ok(Self { reader: index.reader()?, analyzer, fields })
    }

    /// Notes that contain any of the words, best first.
    ///
    /// `causes_only` leaves findings and dangers out. No word, no hit.
    #[must_use]
    pub fn search(&self, text: &str, limit: usize, causes_only: bool) -> Vec<Hit> {
        let words = self.words(text);
        if words.is_empty() || limit == 0 {
            return Vec::new();
        }
        let mut clauses: Vec<(Occur, Box<dyn Query>)> = Vec::new();
        for word in &words {
            for (field, boost) in [self.fields.title, self.fields.says, self.fields.body].into_iter().zip(BOOSTS) {
                let term = TermQuery::new(Term::from_field_text(field, word), IndexRecordOption::WithFreqs);
                clauses.push((Occur::Should, Box::new(BoostQuery::new(Box::new(term), boost))));
            }
        }
        let mut query: Box<dyn Query> = Box::new(BooleanQuery::new(clauses));
        if causes_only {
            let kind = TermQuery::new(Term::from_field_u64(self.fields.kind, 0), IndexRecordOption::Basic);
            let kind = BoostQuery::new(Box::new(kind), 0.0);
            query = Box::new(BooleanQuery::new(vec![(Occur::Must, query), (Occur::Must, Box::new(kind))]));
        }
        let searcher = self.reader.searcher();
        let found = searcher.search(&*query, &TopDocs::with_limit(limit).order_by_score()).unwrap_or_default();
        let mut hits: Vec<Hit> = found
            .into_iter()
            .filter_map(|(score, at)| self.note(&searcher, at).map(|note| Hit { note, score }))
            .collect();
        // Equal scores come in the order of documents, which is the order of ids.
        hits.sort_by(|a, b| b.score.total_cmp(&a.score));
        hits
    }

    /// The stems of a text, each once, in order.
    #[must_use]
    pub fn words(&self, text: &str) -> Vec<String> {
        let mut analyzer = self.analyzer.clone();
        let mut stream = analyzer.token_stream(text);
        let mut out: Vec<String> = Vec::new();
        while let Some(token) = stream.next() {
            if !out.iter().any(|o| o == &token.text) && out.len() < 200 {
                out.push(token.text.clone());
            }
        }
        out
    }

    fn note(&self, searcher: &Searcher, at: tantivy::DocAddress) -> Option<NoteRef> {
        use tantivy::schema::Value;
        let doc: TantivyDocument = searcher.doc(at).ok()?;
        let kind = doc.get_first(self.fields.kind)?.as_u64()?;
        let at = usize::try_from(doc.get_first(self.fields.at)?.as_u64()?).ok()?;
        Some(match kind {
            0 => NoteRef::Cause(CauseIx(at)),
            1 => NoteRef::Finding(FindingIx(at)),
            _ => NoteRef::Danger(at),
        })
    }
}

fn analyzer() -> TextAnalyzer {
    TextAnalyzer::builder(SimpleTokenizer::default())
        .filter(RemoveLongFilter::limit(40))
        .filter(LowerCaser)
        .filter(Stemmer::new(Language::English))
        .build()
}
