//! An outcome as JSON: SI values beside the person's units.
//!
//! Owns [`outcome_json`]. Must not know any single calculator.

use serde_json::{Map, Value, json};

use super::calculator::Shown;
use super::outcome::{Chart, Outcome, bare};
use super::values::{Given, Values};
use crate::units::{Preference, write};

/// Everything `outcome` tells and the values it was computed from, for another program.
#[must_use]
pub fn outcome_json(values: &Values, outcome: &Outcome) -> Value {
    let preference = values.preference();
    let mut given = Map::new();
    for (id, value) in values.iter() {
        given.insert(id.to_owned(), given_json(value));
    }
    let figures: Vec<Value> = outcome
        .figures
        .iter()
        .map(|figure| {
            let mut value = value_json(figure.quantity.si, figure.shown, preference);
            value["id"] = json!(figure.id);
            value["label"] = json!(figure.label);
            value["text"] = json!(figure.say(preference));
            value["band_si"] = figure.band.map_or(Value::Null, |(low, high)| json!([low, high]));
            value["note"] = if figure.note.is_empty() { Value::Null } else { json!(figure.note) };
            value
        })
        .collect();
    let methods: Vec<Value> = outcome
        .methods
        .iter()
        .map(|line| {
            let mut value = value_json(line.quantity.si, line.shown, preference);
            value["name"] = json!(line.name);
            value["text"] = json!(line.say(preference));
            value["band_si"] = line.band.map_or(Value::Null, |(low, high)| json!([low, high]));
            value["source"] = json!(line.source);
            value["worth"] = json!(line.worth);
            value
        })
        .collect();
    json!({
        "calculator": outcome.calculator.id,
        "title": outcome.calculator.title,
        "given": given,
        "figures": figures,
        "methods": methods,
        "assumed": outcome.assumed,
        "warnings": outcome.warnings,
        "cautions": outcome.cautions,
        "next": outcome.next,
        "worth": outcome.calculator.worth,
        "sources": outcome.calculator.sources,
        "chart": outcome.chart.as_ref().map(chart_json),
        "table": outcome.table.as_ref().map(|t| json!({"title": t.title, "head": t.head, "rows": t.rows})),
    })
}

fn value_json(si: f64, shown: Shown, preference: Preference) -> Value {
    let unit = if preference == Preference::Imperial { shown.imperial } else { shown.metric };
    let symbol = if bare(unit.dimension) { "" } else { unit.symbol };
    json!({ "si": si, "si_unit": unit.dimension.si_symbol(), "value": unit.value_of(si), "unit": symbol })
}

fn given_json(given: &Given) -> Value {
    match given {
        Given::Quantity(reading) => json!({
            "si": reading.quantity.si,
            "si_unit": reading.quantity.dimension.si_symbol(),
            "value": reading.unit.value_of(reading.quantity.si),
            "unit": reading.unit.symbol,
            "text": write(reading.quantity, Preference::AsGiven(reading.unit)),
            "unit_assumed": reading.assumed.is_some(),
        }),
        Given::Choice(pick) => json!({ "choice": pick }),
        Given::Count(n) => json!({ "count": n }),
        Given::Text(text) => json!({ "text": text }),
    }
}

fn chart_json(chart: &Chart) -> Value {
    match chart {
        Chart::Bars { unit, bars } => json!({
            "kind": "bars",
            "unit": unit,
            "bars": bars.iter().map(|b| json!({"label": b.label, "value": b.value, "low": b.low, "high": b.high})).collect::<Vec<_>>(),
        }),
        Chart::Curve { across, up, points, marks } => json!({
            "kind": "curve",
            "across": { "label": across.0, "unit": across.1 },
            "up": { "label": up.0, "unit": up.1 },
            "points": points,
            "marks": marks.iter().map(|(label, x, y)| json!({"label": label, "across": x, "up": y})).collect::<Vec<_>>(),
        }),
        Chart::Ladder { unit, rungs } => json!({
            "kind": "ladder",
            "unit": unit,
            "rungs": rungs.iter().map(|r| json!({"label": r.label, "value": r.value})).collect::<Vec<_>>(),
        }),
    }
}
