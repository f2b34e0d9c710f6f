//! The checks on notes: one rule, one file. All problems of all rules come out in one run.

mod answerable;
mod brand;
mod cautions;
mod distribution;
mod duplicates;
mod glossary;
mod hazards;
mod length;
mod links;
mod listened;
mod numbers;
mod phrases;
mod pictures;
mod reachable;
mod reading;
mod riders;
mod sections;
mod separable;
mod sources;
mod trade_words;

pub use phrases::MOST_SEQUENCES;

use super::load::Library;
use super::problem::Problem;

/// A rule that notes must keep.
pub struct Rule {
    /// Unique id.
    pub id: &'static str,
    /// Why the rule is there.
    pub why: &'static str,
    /// Finds breaches.
    pub run: fn(&Library, &Known) -> Vec<Problem>,
}

/// Names from other rooms that notes may refer to.
pub struct Known<'k> {
    /// Ids of calculators.
    pub calculators: &'k [&'k str],
}

/// Every rule, in the order of running.
pub static ALL: &[&Rule] = &[
    &links::RULE,
    &sources::RULE,
    &sections::RULE,
    &cautions::RULE,
    &distribution::RULE,
    &listened::RULE,
    &separable::RULE,
    &phrases::RULE,
    &length::RULE,
    &brand::RULE,
    &reachable::RULE,
    &answerable::RULE,
    &hazards::RULE,
    &numbers::RULE,
    &reading::RULE,
    &trade_words::RULE,
    &riders::RULE,
    &duplicates::RULE,
    &pictures::RULE,
    &glossary::RULE,
];

/// Runs every rule; problems sorted by file and line.
#[must_use]
pub fn run_all(library: &Library, known: &Known) -> Vec<Problem> {
    let mut out: Vec<Problem> = ALL
        .iter()
        .flat_map(|r| {
            (r.run)(library, known).into_iter().map(|mut p| {
                p.what = format!("[{}] {}", r.id, p.what);
                p
            })
        })
        .collect();
    out.sort();
    out.dedup();
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_rule_has_its_own_id_and_file() {
        let mut ids: Vec<&str> = ALL.iter().map(|r| r.id).collect();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), ALL.len());
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/library/check");
        let files = std::fs::read_dir(folder).unwrap().count() - 1;
        assert_eq!(files, ALL.len(), "a rule's file is not listed in ALL");
    }
}
