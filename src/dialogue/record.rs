//! What a conversation leaves behind, as plain data: the record that cards are made from.

use serde::{Deserialize, Serialize};

use super::bench::Bench;
use super::next;
use super::state::{DangerStatus, Outcome, State};
use crate::belief::{What, in_words};
use crate::domain::Urgency;

/// A setting on a record.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordedSetting {
    /// What it is.
    pub what: String,
    /// Before, if known.
    pub before: Option<String>,
    /// After.
    pub after: String,
    /// Computed, measured or said.
    pub how: String,
}

/// A record of one conversation, without clock or names of its own: these are added by whoever keeps it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Record {
    /// Rider's measures and facts.
    pub rider: Vec<String>,
    /// Bike facts.
    pub bike: Vec<String>,
    /// Complaints as told, one for each thread.
    pub complaints: Vec<String>,
    /// Findings.
    pub findings: Vec<String>,
    /// Causes with the degree of belief or what came of the work.
    pub causes: Vec<String>,
    /// What was excluded.
    pub excluded: Vec<String>,
    /// Settings before and after.
    pub settings: Vec<RecordedSetting>,
    /// Warnings and cautions.
    pub cautions: Vec<String>,
    /// Next checks.
    pub checks: Vec<String>,
    /// Lines typed: fed again they lead to the same place.
    pub lines: Vec<String>,
}

impl Record {
    /// Makes the record of where a conversation stands.
    #[must_use]
    pub fn of(state: &State, bench: &Bench, lines: &[String]) -> Self {
        let lib = &bench.library;
        let mut r = Record { lines: lines.to_vec(), ..Record::default() };
        for o in &state.shared.facts {
            if let What::Is(f, a) = o.evidence.what {
                let f = &lib.findings[f.0];
                r.bike.push(format!("{}: {}", f.title, f.answers[a.0].says));
            }
        }
        r.rider = state.shared.inputs.iter().map(|(name, text)| format!("{name}: {text}")).collect();
        let mut at = state.clone();
        for i in 0..state.threads.len() {
            at.at = i;
            let t = &state.threads[i];
            if t.said.is_empty() && t.works.is_empty() {
                continue;
            }
            if let Some(first) = t.said.first() {
                r.complaints.push(first.clone());
            }
            r.findings.extend(next::told(&State { shared: Default::default(), ..at.clone() }, bench));
            let belief = at.belief(bench);
            let solved: Vec<usize> = t
                .works
                .iter()
                .filter(|(_, o)| matches!(o, Outcome::Helped | Outcome::Partly))
                .map(|(c, _)| *c)
                .collect();
            for c in &solved {
                let partly = t.works.iter().any(|(w, o)| w == c && *o == Outcome::Partly);
                r.causes.push(format!(
                    "{} ({})",
                    lib.causes[*c].title,
                    if partly { "helped in part" } else { "put right" }
                ));
            }
            if solved.is_empty() {
                for (c, p) in belief.ranked().into_iter().filter(|(c, p)| *c != bench.model.leak() && *p >= 0.1).take(3)
                {
                    r.causes.push(format!("{} ({})", lib.causes[c].title, in_words(p)));
                }
            }
            for (c, o) in &t.works {
                match o {
                    Outcome::No => r.excluded.push(format!("{}: worked on, did not help", lib.causes[*c].title)),
                    Outcome::NotDone => r.checks.push(format!("Still to do: {}", lib.causes[*c].short)),
                    Outcome::Helped | Outcome::Partly => {
                        if let Some(s) = lib.causes[*c].section("Prove it") {
                            let proof = crate::library::steps(&s.markdown);
                            r.checks.extend(proof.first().map(|s| format!("After the next ride: {}", s.text)));
                        }
                    }
                }
            }
            r.excluded.extend(t.declined.iter().map(|c| format!("{}: not it, as told", lib.causes[*c].title)));
            r.settings.extend(t.settings.iter().map(|s| RecordedSetting {
                what: s.what.clone(),
                before: s.before.clone(),
                after: s.after.clone(),
                how: s.how.clone(),
            }));
            for (d, s) in &t.dangers {
                if matches!(s, DangerStatus::Warned | DangerStatus::Unsure) {
                    r.cautions.push(lib.dangers[*d].warn.clone());
                }
            }
            let open_urgent =
                t.warned.iter().filter(|c| bench.model.urgency[**c] == Urgency::StopRiding && !solved.contains(c));
            r.cautions.extend(
                open_urgent.map(|c| format!("Not to be ridden before this is cleared up: {}.", lib.causes[*c].title)),
            );
            r.cautions.extend(t.cautions.iter().cloned());
        }
        r
    }
}
