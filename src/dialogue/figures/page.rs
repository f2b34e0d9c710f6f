//! A calculator's own page, and a measurement read at a finding's prompt.

use crate::calc;
use crate::units;

/// A calculator's own page: title and Markdown.
pub(in crate::dialogue) fn note(id: &str) -> Option<(String, String)> {
    let c = calc::find(id)?;
    let mut text = format!("{}\n\n## What it needs\n\n", c.formula);
    for i in c.inputs {
        text.push_str(&format!("- **{}**: {} {}\n", i.name(), i.question, i.how));
    }
    text.push_str(&format!("\n## What it is worth\n\n{}\n\n", c.worth));
    for k in c.cautions {
        text.push_str(&format!("> Caution: {k}\n\n"));
    }
    let sources: Vec<String> = c.sources.iter().map(|s| format!("[{s}](source:{s})")).collect();
    text.push_str(&format!("Sources: {}. To use it: work out {}.\n", sources.join(", "), c.id));
    Some((c.title.to_owned(), text))
}

/// A finding's measurement at its prompt: the value in the finding's unit, and whether the unit was assumed.
///
/// `None` when the text holds no number; `Err` is a sentence to show.
pub(in crate::dialogue) fn measure(text: &str, unit: &str) -> Option<Result<(f64, bool), String>> {
    let unit = units::by_symbol(unit)?;
    if !text.chars().any(|c| c.is_ascii_digit()) {
        return None;
    }
    let hint = units::Hint { plausible: (0.0, f64::MAX), units: std::slice::from_ref(unit_list(unit)) };
    Some(match units::read(text, unit.dimension, hint) {
        Ok(r) => Ok((r.quantity.value_in(unit).unwrap_or(f64::NAN), r.assumed.is_some())),
        Err(e) => Err(format!("{e}")),
    })
}

/// The table's own entry for a unit, which lives as long as the program.
fn unit_list(unit: &'static units::Unit) -> &'static &'static units::Unit {
    units::UNITS.iter().find(|u| std::ptr::eq(**u, unit)).unwrap_or(&units::UNITS[0])
}
