//! The reference page: every calculator with its inputs, sources and checks, as Markdown.
//!
//! Owns [`reference_page`]. Must not know any single calculator.

use std::fmt::Write as _;

use super::calculator::{Calculator, Input, InputKind, Need, Preset};
use crate::calc::ALL;
use crate::units::{Preference, Quantity, Unit, write, write_in};

/// The whole page; the same registry always gives the same page.
#[must_use]
pub fn reference_page() -> String {
    let mut page = String::from(
        "# Calculators\n\nThis page is generated from the calculators themselves. Every example below runs as a test.\n",
    );
    for calculator in ALL {
        one(&mut page, calculator);
    }
    page
}

fn one(page: &mut String, calculator: &Calculator) {
    // Writing to a String cannot fail.
    let _ = write!(page, "\n## {}\n\n`{}`\n\n", calculator.title, calculator.id);
    let _ = write!(page, "{}\n\nWhat it is worth: {}\n\n", calculator.formula, calculator.worth);
    page.push_str("| input | usual | understood | if not given |\n| --- | --- | --- | --- |\n");
    for input in calculator.inputs {
        let (usual, understood) = ranges(&input.kind);
        let _ = writeln!(page, "| {} | {usual} | {understood} | {} |", input.name(), otherwise(input));
    }
    page.push_str("\nTells: ");
    let labels: Vec<&str> = calculator.outputs.iter().map(|output| output.label).collect();
    let _ = write!(page, "{}.\n\nSources: {}.\n", labels.join("; "), calculator.sources.join(", "));
    for caution in calculator.cautions {
        let _ = write!(page, "\n> Caution: {caution}\n");
    }
    page.push_str("\n| typed | must give | checked against |\n| --- | --- | --- |\n");
    for example in calculator.examples {
        let expect: Vec<String> = example
            .expect
            .iter()
            .map(|c| {
                let label = calculator.output(c.figure).map_or(c.figure, |output| output.label);
                let unit = if c.unit.symbol.is_empty() { String::new() } else { format!(" {}", c.unit.symbol) };
                format!("{label} {}{unit} (within {})", c.value, c.within)
            })
            .collect();
        let _ = writeln!(page, "| {} | {} | {} |", example.says.replace('|', "/"), expect.join("; "), example.source);
    }
}

fn ranges(kind: &InputKind) -> (String, String) {
    match kind {
        InputKind::Quantity { dimension, plausible, possible, units } => {
            let span = |(low, high): (f64, f64)| {
                format!("{} to {}", say(low, *dimension, units), say(high, *dimension, units))
            };
            (span(*plausible), span(*possible))
        }
        InputKind::Count { plausible, possible } => {
            (format!("{} to {}", plausible.0, plausible.1), format!("{} to {}", possible.0, possible.1))
        }
        InputKind::Choice(picks) => {
            (picks.iter().map(|pick| pick.says).collect::<Vec<_>>().join("; "), "these".to_owned())
        }
        InputKind::Text { sample } => (format!("such as {sample}"), "lists".to_owned()),
    }
}

fn say(si: f64, dimension: crate::units::Dimension, units: &[&'static Unit]) -> String {
    let quantity = Quantity::si(dimension, si);
    units.first().map_or_else(|| write(quantity, Preference::Metric), |unit| write_in(quantity, unit, None))
}

fn otherwise(input: &Input) -> String {
    match (&input.need, &input.kind) {
        (Need::Required, _) if input.only_if.is_some() => "asked where it plays a part".to_owned(),
        (Need::Required, _) => "asked".to_owned(),
        (Need::Optional, _) => "done without".to_owned(),
        (Need::Preset(Preset::Value(value, unit)), _) => write(Quantity::of(*value, unit), Preference::AsGiven(unit)),
        (Need::Preset(Preset::Count(n)), _) => n.to_string(),
        (Need::Preset(Preset::Choice(id)), InputKind::Choice(picks)) => {
            picks.iter().find(|pick| pick.id == *id).map_or(*id, |pick| pick.says).to_owned()
        }
        (Need::Preset(Preset::Choice(id)), _) => (*id).to_owned(),
    }
}
