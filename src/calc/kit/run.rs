//! The one way to run a calculator.
//!
//! Owns completion with presets, the range checks and the last look at the result. Must not know any formula.

use super::calculator::{Calculator, Input, InputKind, Need, Preset};
use super::error::CalcError;
use super::outcome::Outcome;
use super::values::{Given, Values};
use crate::units::{Preference, Quantity, Unit, write};

/// The inputs still to be asked, in order.
#[must_use]
pub fn missing(calculator: &Calculator, values: &Values) -> Vec<&'static Input> {
    let values = deduced(calculator, values);
    let wanted =
        |input: &&Input| matches!(input.need, Need::Required) && !values.has(input.id) && input.applies(&values);
    calculator.inputs.iter().filter(wanted).collect()
}

/// Checks the values and computes.
///
/// # Errors
/// A [`CalcError`]: inputs missing, a value outside its possible range, values that contradict each other, or no answer.
pub fn run(calculator: &'static Calculator, values: &Values) -> Result<Outcome, CalcError> {
    let mut full = deduced(calculator, values);
    let absent: Vec<&'static str> = missing(calculator, &full).iter().map(|input| input.name()).collect();
    if !absent.is_empty() {
        return Err(CalcError::Missing(absent));
    }
    let (mut assumed, mut warnings) = (Vec::new(), Vec::new());
    for input in calculator.inputs {
        if let Need::Preset(preset) = &input.need
            && !full.has(input.id)
            && input.applies(&full)
        {
            full.fill(input.id, *preset);
            assumed.push(format!("{} not given: {} taken.", capital(input.name()), preset_text(input, *preset)));
        }
    }
    for input in calculator.inputs {
        if let Some(given) = full.get(input.id)
            && let Some(warning) = check_range(input, given)?
        {
            warnings.push(warning);
        }
    }
    let mut outcome = (calculator.run)(&full)?;
    if !outcome.is_finite() {
        return Err(CalcError::NoAnswer("these values give no answer; check them".to_owned()));
    }
    outcome.assumed.splice(0..0, assumed);
    outcome.warnings.splice(0..0, warnings);
    Ok(outcome)
}

fn deduced(calculator: &Calculator, values: &Values) -> Values {
    let mut full = values.clone();
    if let Some(deduce) = calculator.deduce {
        deduce(&mut full);
    }
    full
}

/// A warning where the value is outside its plausible range.
///
/// # Errors
/// [`CalcError::Impossible`] where it is outside its possible range or no number, [`CalcError::Unreadable`] for the wrong kind.
pub(super) fn check_range(input: &Input, given: &Given) -> Result<Option<String>, CalcError> {
    match (&input.kind, given) {
        (InputKind::Quantity { dimension, plausible, possible, units }, Given::Quantity(reading)) => {
            let si = reading.quantity.si;
            let unit = reading.unit;
            let say = |si: f64| say_range(si, unit, *dimension, units);
            if reading.quantity.dimension != *dimension {
                return Err(CalcError::Unreadable(format!("{} is {}", input.name(), dimension.name())));
            }
            if !(possible.0..=possible.1).contains(&si) {
                let mut written = if si.is_finite() { say(si) } else { "that".to_owned() };
                if reading.assumed.is_some() {
                    written = format!("{written} (the unit was taken from the size)");
                }
                return Err(CalcError::Impossible {
                    name: input.name(),
                    given: written,
                    low: say(possible.0),
                    high: say(possible.1),
                });
            }
            let odd = !(plausible.0..=plausible.1).contains(&si);
            Ok(odd.then(|| {
                format!(
                    "{} of {} is unusual; {} to {} is usual. Check it.",
                    capital(input.name()),
                    say(si),
                    say(plausible.0),
                    say(plausible.1)
                )
            }))
        }
        (InputKind::Count { plausible, possible }, Given::Count(n)) => {
            if !(possible.0..=possible.1).contains(n) {
                return Err(CalcError::Impossible {
                    name: input.name(),
                    given: n.to_string(),
                    low: possible.0.to_string(),
                    high: possible.1.to_string(),
                });
            }
            let odd = !(plausible.0..=plausible.1).contains(n);
            Ok(odd.then(|| {
                format!(
                    "{} of {n} is unusual; {} to {} is usual. Check it.",
                    capital(input.name()),
                    plausible.0,
                    plausible.1
                )
            }))
        }
        (InputKind::Choice(picks), Given::Choice(pick)) if picks.iter().any(|p| p.id == *pick) => Ok(None),
        (InputKind::Text { .. }, Given::Text(_)) => Ok(None),
        _ => Err(CalcError::Unreadable(format!("{} cannot be that", input.name()))),
    }
}

fn say_range(si: f64, unit: &'static Unit, dimension: crate::units::Dimension, units: &[&'static Unit]) -> String {
    let unit = if unit.dimension == dimension { unit } else { units.first().copied().unwrap_or(unit) };
    write(Quantity::si(dimension, si), Preference::AsGiven(unit))
}

fn preset_text(input: &Input, preset: Preset) -> String {
    match (preset, &input.kind) {
        (Preset::Value(value, unit), _) => write(Quantity::of(value, unit), Preference::AsGiven(unit)),
        (Preset::Count(n), _) => n.to_string(),
        (Preset::Choice(id), InputKind::Choice(picks)) => {
            picks.iter().find(|pick| pick.id == id).map_or(id, |pick| pick.says).to_lowercase()
        }
        (Preset::Choice(id), _) => id.to_owned(),
    }
}

pub(super) fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}
