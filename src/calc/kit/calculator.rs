//! How a calculator describes itself.
//!
//! Owns [`Calculator`] and its parts, all plain static data. Must not know how values are parsed or shown.

use super::error::CalcError;
use super::hear::Heard;
use super::outcome::Outcome;
use super::values::{Given, Values};
use crate::units::{Dimension, Unit};

/// One calculator: what it asks, what it tells, and what that is worth.
pub struct Calculator {
    /// Kebab-case name; the file bears the same in snake case.
    pub id: &'static str,
    /// Title in plain words.
    pub title: &'static str,
    /// Ways a rider words the need; calculators are found by them.
    pub asks: &'static [&'static str],
    /// What it needs, in the order in which it is asked.
    pub inputs: &'static [Input],
    /// Every figure it may give.
    pub outputs: &'static [OutputSpec],
    /// The formula in words.
    pub formula: &'static str,
    /// What the result is worth, and where the method ends.
    pub worth: &'static str,
    /// Source ids.
    pub sources: &'static [&'static str],
    /// What to mind where the result can hurt.
    pub cautions: &'static [&'static str],
    /// Worked examples, which run as tests.
    pub examples: &'static [Example],
    /// Reads sayings of the trade that names and units alone do not tell ("32 and 51").
    pub hear: Option<fn(&str) -> Vec<Heard>>,
    /// Fills choices that follow from what was given.
    pub deduce: Option<fn(&mut Values)>,
    /// Computes. Called only with checked, complete values: use [`crate::calc::run`].
    pub run: fn(&Values) -> Result<Outcome, CalcError>,
}

impl Calculator {
    /// The input with this id.
    #[must_use]
    pub fn input(&self, id: &str) -> Option<&'static Input> {
        self.inputs.iter().find(|input| input.id == id)
    }

    /// The output with this id.
    #[must_use]
    pub fn output(&self, id: &str) -> Option<&'static OutputSpec> {
        self.outputs.iter().find(|output| output.id == id)
    }
}

/// One thing a calculator needs to know.
pub struct Input {
    /// Name within the calculator.
    pub id: &'static str,
    /// Words by which it is given in typed text; the first is its name in sentences.
    pub names: &'static [&'static str],
    /// The question in plain words.
    pub question: &'static str,
    /// How it is measured or where it is read.
    pub how: &'static str,
    /// What kind of answer fits.
    pub kind: InputKind,
    /// Whether it must be given.
    pub need: Need,
    /// A value without its name may be taken for it although it need not be given; required inputs always allow that.
    pub free: bool,
    /// Asked only where this holds for what is already given.
    pub only_if: Option<fn(&Values) -> bool>,
}

impl Input {
    /// Whether a quantity lies where this input usually does: what was said of something else seldom does.
    #[must_use]
    pub fn plausible(&self, given: &Given) -> bool {
        match (&self.kind, given) {
            (InputKind::Quantity { dimension, plausible, .. }, Given::Quantity(reading)) => {
                let q = &reading.quantity;
                q.dimension == *dimension && (plausible.0..=plausible.1).contains(&q.si)
            }
            _ => false,
        }
    }

    /// The same input, taken as this where it is not given.
    #[must_use]
    pub const fn preset(mut self, preset: Preset) -> Self {
        self.need = Need::Preset(preset);
        self
    }

    /// The same input, done without where it is not given.
    #[must_use]
    pub const fn optional(mut self) -> Self {
        self.need = Need::Optional;
        self
    }

    /// The same input, also told by its size and unit alone.
    #[must_use]
    pub const fn free(mut self) -> Self {
        self.free = true;
        self
    }

    /// The same input, asked only where `holds`.
    #[must_use]
    pub const fn when(mut self, holds: fn(&Values) -> bool) -> Self {
        self.only_if = Some(holds);
        self
    }

    /// What it is called in a sentence.
    #[must_use]
    pub fn name(&self) -> &'static str {
        self.names.first().copied().unwrap_or(self.id)
    }

    /// Whether the input plays a part, given the values so far.
    #[must_use]
    pub fn applies(&self, values: &Values) -> bool {
        self.only_if.is_none_or(|holds| holds(values))
    }
}

/// What kind of answer an input takes.
pub enum InputKind {
    /// A value with a unit; ranges in SI units.
    Quantity {
        /// What it measures.
        dimension: Dimension,
        /// Outside this it is computed with a warning.
        plausible: (f64, f64),
        /// Outside this it is refused.
        possible: (f64, f64),
        /// Units a bare number may take, the likeliest first.
        units: &'static [&'static Unit],
    },
    /// One of a few answers.
    Choice(&'static [Pick]),
    /// A whole number.
    Count {
        /// Outside this it is computed with a warning.
        plausible: (u32, u32),
        /// Outside this it is refused.
        possible: (u32, u32),
    },
    /// A list or a designation, read by the calculator itself.
    Text {
        /// What could be typed.
        sample: &'static str,
    },
}

/// One answer of a choice.
pub struct Pick {
    /// Name within the input.
    pub id: &'static str,
    /// The answer as it is shown.
    pub says: &'static str,
    /// Words that mean it in typed text.
    pub words: &'static [&'static str],
}

/// Whether an input must be given.
pub enum Need {
    /// It is asked.
    Required,
    /// It is taken as this, and the result says so.
    Preset(Preset),
    /// The calculator does without it.
    Optional,
}

/// What stands in for an input that was not given.
#[derive(Debug, Clone, Copy)]
pub enum Preset {
    /// A value in a unit.
    Value(f64, &'static Unit),
    /// A choice.
    Choice(&'static str),
    /// A whole number.
    Count(u32),
}

/// In which units a figure is shown.
#[derive(Debug, Clone, Copy)]
pub struct Shown {
    /// The metric unit.
    pub metric: &'static Unit,
    /// The imperial unit.
    pub imperial: &'static Unit,
    /// Decimals in each.
    pub decimals: (u8, u8),
}

/// One figure a calculator may give.
pub struct OutputSpec {
    /// Name within the calculator.
    pub id: &'static str,
    /// What it is, in plain words.
    pub label: &'static str,
    /// Its units.
    pub shown: Shown,
}

/// A worked example: typed text and what must come out.
pub struct Example {
    /// The text as a rider would type it.
    pub says: &'static str,
    /// What must come out.
    pub expect: &'static [Check],
    /// Where the expected value comes from.
    pub source: &'static str,
}

/// One expected figure.
pub struct Check {
    /// Output id.
    pub figure: &'static str,
    /// Expected value, in `unit`.
    pub value: f64,
    /// Its unit.
    pub unit: &'static Unit,
    /// Allowed difference, in `unit`.
    pub within: f64,
}

/// A required input; see [`Input::preset`], [`Input::optional`] and [`Input::when`].
#[must_use]
pub const fn ask(
    id: &'static str,
    names: &'static [&'static str],
    question: &'static str,
    how: &'static str,
    kind: InputKind,
) -> Input {
    Input { id, names, question, how, kind, need: Need::Required, free: false, only_if: None }
}

/// A value with a unit; ranges in SI units.
#[must_use]
pub const fn quantity(
    dimension: Dimension,
    plausible: (f64, f64),
    possible: (f64, f64),
    units: &'static [&'static Unit],
) -> InputKind {
    InputKind::Quantity { dimension, plausible, possible, units }
}

/// A whole number.
#[must_use]
pub const fn count(plausible: (u32, u32), possible: (u32, u32)) -> InputKind {
    InputKind::Count { plausible, possible }
}

/// A list or designation.
#[must_use]
pub const fn text(sample: &'static str) -> InputKind {
    InputKind::Text { sample }
}

/// Units of a figure.
#[must_use]
pub const fn shown(metric: &'static Unit, imperial: &'static Unit, decimals: (u8, u8)) -> Shown {
    Shown { metric, imperial, decimals }
}

/// A figure.
#[must_use]
pub const fn output(id: &'static str, label: &'static str, shown: Shown) -> OutputSpec {
    OutputSpec { id, label, shown }
}

/// An expected figure.
#[must_use]
pub const fn check(figure: &'static str, value: f64, unit: &'static Unit, within: f64) -> Check {
    Check { figure, value, unit, within }
}
