//! Wear that a calculation read: the part's own measure, to be noted beside its limit.
//!
//! Owns which calculators read wear. Must not know how it is kept.

use super::CalcRun;
use crate::calc::{Given, Outcome};
use crate::dialogue::state::WearRead;
use crate::units;

/// A chain is worn at 1/16 in over 12 in (source: wear-brown); some wait for twice that.
const CHAIN: f64 = 1.0 / 192.0;

/// What was read, if this calculator reads wear.
pub(super) fn worn(run: &CalcRun, outcome: &Outcome) -> Option<WearRead> {
    match run.calc.id {
        "chain-wear" => {
            let figure = outcome.get("wear")?;
            Some(WearRead {
                what: "chain, elongation".into(),
                shown: figure.say(run.values.preference()),
                si: figure.quantity.si,
                unit: units::PERCENT.symbol.into(),
                limit: Some(CHAIN),
            })
        }
        "brake-wear" => {
            let Some(Given::Quantity(now)) = run.values.get("now") else { return None };
            Some(WearRead {
                what: format!("brake {}, thickness", run.values.choice("part").unwrap_or("rotor")),
                shown: units::write_in(now.quantity, now.unit, None),
                si: now.quantity.si,
                unit: now.unit.symbol.into(),
                limit: outcome.get("minimum").map(|f| f.quantity.si),
            })
        }
        _ => None,
    }
}
