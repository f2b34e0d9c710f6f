//! What a calculation tells.
//!
//! Owns [`Outcome`] and its parts, charts as data only. Must not know terminals or wording beyond plain sentences.

use super::calculator::{Calculator, Shown};
use super::values::say;
use crate::units::{Dimension, Preference, Quantity};

/// One computed value.
#[derive(Debug, Clone)]
pub struct Figure {
    /// Output id.
    pub id: &'static str,
    /// What it is.
    pub label: &'static str,
    /// The value.
    pub quantity: Quantity,
    /// Lowest and highest value that is credible, SI units.
    pub band: Option<(f64, f64)>,
    /// A remark, or empty.
    pub note: String,
    /// In which units it is shown.
    pub shown: Shown,
}

impl Figure {
    /// The value written in the preferred measures.
    #[must_use]
    pub fn say(&self, preference: Preference) -> String {
        say(self.quantity.si, self.shown, preference)
    }

    /// The band written in the preferred measures.
    #[must_use]
    pub fn say_band(&self, preference: Preference) -> Option<String> {
        let (low, high) = self.band?;
        Some(format!("{} to {}", say(low, self.shown, preference), say(high, self.shown, preference)))
    }

    /// Adds a band, SI units.
    pub fn band(&mut self, low: f64, high: f64) -> &mut Self {
        self.band = Some((low.min(high), low.max(high)));
        self
    }

    /// Adds a remark.
    pub fn note(&mut self, note: impl Into<String>) -> &mut Self {
        self.note = note.into();
        self
    }
}

/// One of several methods that answer the same question.
#[derive(Debug, Clone)]
pub struct MethodLine {
    /// What the method is called in plain words.
    pub name: &'static str,
    /// Its result.
    pub quantity: Quantity,
    /// Its band, SI units.
    pub band: Option<(f64, f64)>,
    /// Source id.
    pub source: &'static str,
    /// What it is worth, in one sentence.
    pub worth: &'static str,
    /// In which units it is shown.
    pub shown: Shown,
}

/// One bar of a chart.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// What it stands for.
    pub label: String,
    /// Its value, in the chart's unit.
    pub value: f64,
    /// Lower end of its band.
    pub low: f64,
    /// Upper end of its band.
    pub high: f64,
}

/// One rung of a ladder.
#[derive(Debug, Clone, PartialEq)]
pub struct Rung {
    /// What it stands for.
    pub label: String,
    /// Its value, in the chart's unit.
    pub value: f64,
}

/// A picture as data.
#[derive(Debug, Clone, PartialEq)]
pub enum Chart {
    /// Methods or parts side by side, each with its band.
    Bars {
        /// Unit symbol.
        unit: &'static str,
        /// The bars.
        bars: Vec<Bar>,
    },
    /// A curve with marks on it.
    Curve {
        /// What runs across, with its unit symbol.
        across: (&'static str, &'static str),
        /// What runs up, with its unit symbol.
        up: (&'static str, &'static str),
        /// The curve.
        points: Vec<(f64, f64)>,
        /// Marked points.
        marks: Vec<(String, f64, f64)>,
    },
    /// Values on one scale, lowest first.
    Ladder {
        /// Unit symbol.
        unit: &'static str,
        /// The rungs.
        rungs: Vec<Rung>,
    },
}

/// A table of written values.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// What it shows.
    pub title: String,
    /// Column heads.
    pub head: Vec<String>,
    /// Rows as written.
    pub rows: Vec<Vec<String>>,
}

/// Everything a calculation tells.
#[derive(Debug, Clone)]
pub struct Outcome {
    /// Which calculator told it.
    pub calculator: &'static Calculator,
    /// The figures, the most wanted first.
    pub figures: Vec<Figure>,
    /// Methods side by side where several answer the same question.
    pub methods: Vec<MethodLine>,
    /// What was taken because it was not given.
    pub assumed: Vec<String>,
    /// What is odd about the values or the result.
    pub warnings: Vec<String>,
    /// What to mind.
    pub cautions: Vec<String>,
    /// A picture.
    pub chart: Option<Chart>,
    /// A table.
    pub table: Option<Table>,
    /// What to do next, in small steps.
    pub next: Vec<String>,
}

impl std::fmt::Debug for Calculator {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.id)
    }
}

impl Outcome {
    /// The figure with this id.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<&Figure> {
        self.figures.iter().find(|figure| figure.id == id)
    }

    pub(in crate::calc) fn of(calculator: &'static Calculator) -> Self {
        Self {
            calculator,
            figures: Vec::new(),
            methods: Vec::new(),
            assumed: Vec::new(),
            warnings: Vec::new(),
            cautions: calculator.cautions.iter().map(|&c| c.to_owned()).collect(),
            chart: None,
            table: None,
            next: Vec::new(),
        }
    }

    /// Adds the figure `id`, SI units; the label and units come from the calculator's outputs.
    pub(in crate::calc) fn figure(&mut self, id: &'static str, si: f64) -> &mut Figure {
        static PLAIN: Shown = Shown { metric: &crate::units::PLAIN, imperial: &crate::units::PLAIN, decimals: (3, 3) };
        let spec = self.calculator.output(id);
        let shown = spec.map_or(PLAIN, |spec| spec.shown);
        let label = spec.map_or(id, |spec| spec.label);
        let quantity = Quantity::si(shown.metric.dimension, si);
        debug_assert!(spec.is_some(), "{} has no output {id}", self.calculator.id);
        self.figures.push(Figure { id, label, quantity, band: None, note: String::new(), shown });
        let last = self.figures.len() - 1;
        &mut self.figures[last]
    }

    /// Adds a method line, SI units, shown like the output `like`.
    pub(in crate::calc) fn method(
        &mut self,
        (name, source, worth): (&'static str, &'static str, &'static str),
        like: &'static str,
        si: f64,
        band: Option<(f64, f64)>,
    ) {
        let Some(spec) = self.calculator.output(like) else { return };
        let quantity = Quantity::si(spec.shown.metric.dimension, si);
        self.methods.push(MethodLine { name, quantity, band, source, worth, shown: spec.shown });
    }

    pub(in crate::calc) fn warn(&mut self, sentence: impl Into<String>) {
        self.warnings.push(sentence.into());
    }

    pub(in crate::calc) fn then(&mut self, sentence: impl Into<String>) {
        self.next.push(sentence.into());
    }

    pub(in crate::calc) fn assume(&mut self, sentence: impl Into<String>) {
        self.assumed.push(sentence.into());
    }

    /// A chart of the method lines in their metric unit.
    pub(in crate::calc) fn methods_chart(&mut self) {
        let Some(first) = self.methods.first() else { return };
        let unit = first.shown.metric;
        let bars = self.methods.iter().map(|m| {
            let value = unit.value_of(m.quantity.si);
            let (low, high) = m.band.map_or((value, value), |(l, h)| (unit.value_of(l), unit.value_of(h)));
            Bar { label: m.name.to_owned(), value, low, high }
        });
        self.chart = Some(Chart::Bars { unit: unit.symbol, bars: bars.collect() });
    }

    /// Whether every value is a number to reckon with.
    pub(super) fn is_finite(&self) -> bool {
        let band = |b: Option<(f64, f64)>| b.is_none_or(|(l, h)| l.is_finite() && h.is_finite());
        self.figures.iter().all(|f| f.quantity.si.is_finite() && band(f.band))
            && self.methods.iter().all(|m| m.quantity.si.is_finite() && band(m.band))
    }
}

impl MethodLine {
    /// The value written in the preferred measures.
    #[must_use]
    pub fn say(&self, preference: Preference) -> String {
        say(self.quantity.si, self.shown, preference)
    }
}

/// Whether a dimension is shown without a unit symbol.
pub(super) fn bare(dimension: Dimension) -> bool {
    matches!(dimension, Dimension::Count | Dimension::Plain)
}
