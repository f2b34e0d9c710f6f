//! The TOML heads of notes, as serde reads them. Nothing outside this room sees these types.

use std::collections::BTreeMap;

use serde::Deserialize;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CauseHead {
    #[allow(dead_code, reason = "read once already to choose the shape of the head")]
    pub(super) kind: String,
    pub(super) id: String,
    pub(super) title: String,
    pub(super) short: String,
    #[serde(default)]
    pub(super) also: Vec<String>,
    /// Ids of notes that this one took in: books and lists that name them still find it.
    #[serde(default)]
    pub(super) formerly: Vec<String>,
    pub(super) common: String,
    pub(super) urgency: String,
    #[serde(default)]
    pub(super) normal: bool,
    pub(super) minutes: f64,
    pub(super) skill: String,
    #[serde(default)]
    pub(super) tools: Vec<String>,
    #[serde(default)]
    pub(super) calculators: Vec<String>,
    #[serde(default)]
    pub(super) guides: Vec<String>,
    #[serde(default)]
    pub(super) sources: Vec<String>,
    #[serde(default)]
    pub(super) repairs: Vec<String>,
    #[serde(default)]
    pub(super) needs: BTreeMap<String, Vec<String>>,
    #[serde(default)]
    pub(super) shows: BTreeMap<String, BTreeMap<String, String>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AnswerHead {
    pub(super) id: String,
    pub(super) says: String,
    pub(super) usual: f64,
    #[serde(default)]
    pub(super) phrases: Vec<String>,
    pub(super) from: Option<f64>,
    pub(super) below: Option<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct MeasureHead {
    pub(super) quantity: String,
    pub(super) unit: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FindingHead {
    #[allow(dead_code, reason = "read once already to choose the shape of the head")]
    pub(super) kind: String,
    pub(super) id: String,
    pub(super) title: String,
    pub(super) ask: String,
    pub(super) trade: String,
    pub(super) how: String,
    pub(super) minutes: f64,
    pub(super) skill: String,
    #[serde(default)]
    pub(super) tools: Vec<String>,
    #[serde(default)]
    pub(super) fact: bool,
    /// More than one answer may hold.
    #[serde(default)]
    pub(super) several: bool,
    /// The answers name places.
    #[serde(default)]
    pub(super) place: bool,
    /// How far an answer can be relied on, where less than usual (0 to 1).
    pub(super) sure: Option<f64>,
    /// How far words heard in passing can be relied on beside that (0 to 1).
    pub(super) heard: Option<f64>,
    pub(super) family: Option<String>,
    pub(super) negative: Option<String>,
    #[serde(default)]
    pub(super) needs: BTreeMap<String, Vec<String>>,
    #[serde(default)]
    pub(super) means: BTreeMap<String, String>,
    pub(super) measure: Option<MeasureHead>,
    pub(super) answers: Vec<AnswerHead>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct DangerHead {
    #[allow(dead_code, reason = "read once already to choose the shape of the head")]
    pub(super) kind: String,
    pub(super) id: String,
    pub(super) title: String,
    pub(super) level: String,
    #[serde(default)]
    pub(super) certain: Vec<String>,
    #[serde(default)]
    pub(super) possible: Vec<String>,
    #[serde(default)]
    pub(super) ask: String,
    #[serde(default)]
    #[allow(dead_code, reason = "written by authors for readers of the note; the program asks yes or no")]
    pub(super) yes: Vec<String>,
    /// Finding and answer that a "yes" stands for.
    #[serde(default)]
    pub(super) tells: BTreeMap<String, String>,
    pub(super) warn: String,
    #[serde(default)]
    pub(super) sources: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SourceHead {
    pub(super) id: String,
    pub(super) title: String,
    pub(super) kind: String,
    pub(super) read: String,
    #[serde(default)]
    pub(super) note: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SourcesFile {
    #[serde(default)]
    pub(super) source: Vec<SourceHead>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SynonymHead {
    pub(super) word: String,
    pub(super) like: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct GlossaryHead {
    pub(super) term: String,
    pub(super) means: String,
    #[serde(default)]
    pub(super) everyday: bool,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WordsFile {
    #[serde(default)]
    pub(super) synonyms: Vec<SynonymHead>,
    #[serde(default)]
    pub(super) glossary: Vec<GlossaryHead>,
}
