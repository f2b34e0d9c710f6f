//! The outcome of a calculation as blocks.
//!
//! Must not keep anything.

use super::CalcRun;
use crate::calc::{Chart, Given, Outcome, outcome_json};
use crate::dialogue::reply::{Bar, Block, Figure, Reply};
use crate::units;

/// The outcome as blocks; in brief, only what is needed beside a step or a proposal: the whole result stands behind "work out".
pub(super) fn show(run: &CalcRun, outcome: &Outcome, brief: bool, reply: &mut Reply) {
    let preference = run.values.preference();
    let mut figures: Vec<Figure> = outcome
        .figures
        .iter()
        .map(|f| Figure {
            id: f.id.into(),
            label: f.label.into(),
            shown: f.say(preference),
            si: f.quantity.si,
            band: f.say_band(preference),
            note: f.note.clone(),
        })
        .collect();
    let inputs: Vec<String> = run
        .values
        .iter()
        .filter_map(|(id, given)| run.calc.input(id).map(|i| format!("{} {}", i.name(), said(given))))
        .chain(outcome.assumed.iter().map(|a| a.trim_end_matches('.').to_owned()))
        .collect();
    let mut warnings = outcome.warnings.clone();
    warnings.extend(run.notes.iter().filter(|n| n.contains("taken as")).cloned());
    if brief {
        figures.truncate(3);
        warnings.truncate(2);
    }
    reply.push(Block::Result {
        id: run.calc.id.into(),
        title: run.calc.title.into(),
        figures,
        inputs,
        warnings,
        cautions: outcome.cautions.iter().take(if brief { 1 } else { usize::MAX }).cloned().collect(),
        worth: if brief { String::new() } else { run.calc.worth.into() },
        sources: if brief { Vec::new() } else { run.calc.sources.iter().map(|s| (*s).to_owned()).collect() },
        next: outcome.next.iter().take(if brief { 2 } else { usize::MAX }).cloned().collect(),
        data: outcome_json(&run.values, outcome),
    });
    if brief {
        return;
    }
    if let Some(table) = &outcome.table {
        reply.push(Block::Table { title: table.title.clone(), head: table.head.clone(), rows: table.rows.clone() });
    }
    match &outcome.chart {
        Some(Chart::Bars { unit, bars }) => reply.push(Block::Bars {
            title: format!("Side by side ({unit})"),
            bars: bars.iter().map(|b| bar(&b.label, b.value, b.low, b.high, unit)).collect(),
        }),
        Some(Chart::Ladder { unit, rungs }) => reply.push(Block::Bars {
            title: format!("Ladder ({unit})"),
            bars: rungs.iter().map(|r| bar(&r.label, r.value, r.value, r.value, unit)).collect(),
        }),
        Some(Chart::Curve { across, up, points, marks }) => reply.push(Block::Curve {
            title: run.calc.title.into(),
            x: format!("{} {}", across.0, across.1),
            y: format!("{} {}", up.0, up.1),
            points: points.clone(),
            marks: marks.iter().map(|(n, x, y)| (*x, *y, n.clone())).collect(),
        }),
        None => {}
    }
}

fn bar(label: &str, value: f64, lo: f64, hi: f64, unit: &str) -> Bar {
    Bar { label: label.to_owned(), value, lo, hi, shown: format!("{} {unit}", Trim(value)) }
}

/// A number with about three figures that matter.
struct Trim(f64);

impl std::fmt::Display for Trim {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self.0.abs() {
            v if v >= 100.0 => write!(f, "{:.0}", self.0),
            v if v >= 10.0 => write!(f, "{:.1}", self.0),
            _ => write!(f, "{:.2}", self.0),
        }
    }
}

fn said(given: &Given) -> String {
    match given {
        // As it was typed: 172.5 is no 173.
        Given::Quantity(r) => units::write_in(r.quantity, r.unit, Some(r.unit.decimals.max(1))),
        Given::Choice(c) => (*c).to_owned(),
        Given::Count(n) => n.to_string(),
        Given::Text(t) => t.clone(),
    }
}
