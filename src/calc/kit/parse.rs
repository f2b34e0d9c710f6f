//! Turns typed text into values of one calculator.
//!
//! Owns [`parse_inputs`]: named inputs in any order, sayings of the trade, and values told apart by their dimension.
//! Must not know any single calculator. How names and numbers are paired stands in `pairing.rs`.

use std::ops::Range;

use super::answer::{picked_at, whole};
use super::calculator::{Calculator, Input, InputKind, Need};
use super::hear::set_heard;
use super::pairing::{Name, clauses, names_in, pair};
use super::run::{capital, check_range};
use super::values::{Given, Values};
use crate::units::{Hint, Parsed as Quantity, Preference, Token, UNITS, assume, lex, quantity_at, write};

/// What was understood of a text.
#[derive(Debug, Clone, Default)]
pub struct Parsed {
    /// The values.
    pub values: Values,
    /// What was assumed: units that were not given, values that were placed by their size. Sentences.
    pub notes: Vec<String>,
    /// What could not be used, and why. Sentences.
    pub problems: Vec<String>,
}

/// Reads the inputs of `calculator` out of `text`; never fails, says what it could not use.
#[must_use]
pub fn parse_inputs(calculator: &Calculator, text: &str) -> Parsed {
    let mut text = text.replace(['\n', '\r'], ";");
    let mut tokens = lex(&text);
    let long = tokens.len() > LONGEST;
    if long {
        text.truncate(tokens[LONGEST].span.start);
        tokens.truncate(LONGEST);
    }
    let mut reader =
        Reader { calculator, text: &text, used: vec![false; tokens.len()], tokens, out: Parsed::default() };
    let names = names_in(calculator, &reader.tokens);
    // The calculator's own ear comes first: it knows lists that hold commas.
    if let Some(hear) = calculator.hear {
        let spans = set_heard(&mut reader.out.values, hear(&text));
        for span in spans {
            reader.use_span(&span);
        }
    }
    reader.texts(&names);
    reader.choices();
    reader.named(&names);
    reader.measured();
    reader.bare();
    if let Some(deduce) = calculator.deduce {
        deduce(&mut reader.out.values);
    }
    reader.leftovers(&names);
    if long {
        reader.out.notes.push("Only the beginning of that was read.".to_owned());
    }
    reader.out
}

/// Words and numbers read of one text; nobody gives so many values.
const LONGEST: usize = 200;

struct Reader<'a> {
    calculator: &'a Calculator,
    text: &'a str,
    tokens: Vec<Token>,
    used: Vec<bool>,
    out: Parsed,
}

impl Reader<'_> {
    fn use_span(&mut self, span: &Range<usize>) {
        for (token, used) in self.tokens.iter().zip(&mut self.used) {
            *used |= token.span.start >= span.start && token.span.end <= span.end;
        }
    }

    /// Inputs that take the rest of their clause as it stands.
    fn texts(&mut self, names: &[Name]) {
        for name in names {
            let input = &self.calculator.inputs[name.input];
            if !matches!(input.kind, InputKind::Text { .. }) || self.out.values.has(input.id) {
                continue;
            }
            let span = self.list_behind(name, names).or_else(|| self.list_before(name));
            if let Some(span) = span {
                self.out.values.set(input.id, Given::Text(self.text[span.clone()].trim().to_owned()));
                self.use_span(&span);
            }
        }
    }

    /// "cassette 11-51": from the name to the end of the clause or the next name.
    fn list_behind(&self, name: &Name, names: &[Name]) -> Option<Range<usize>> {
        let mut from = name.end;
        while self.tokens.get(from).is_some_and(|t| ["=", ":", "is", "are", "of"].contains(&t.text.as_str())) {
            from += 1;
        }
        let next = names.iter().map(|n| n.start).filter(|&s| s >= from).min().unwrap_or(self.tokens.len());
        let stop = (from..next).find(|&k| matches!(self.tokens[k].text.as_str(), "," | ";")).unwrap_or(next);
        let free = !self.used[from..stop.max(from)].iter().any(|&u| u);
        let listed = stop > from && free && self.tokens[from..stop].iter().any(|t| t.number().is_some());
        listed.then(|| self.tokens[from].span.start..self.tokens[stop - 1].span.end)
    }

    /// "11-51 cassette": the numbers that lead up to the name.
    fn list_before(&self, name: &Name) -> Option<Range<usize>> {
        let part = |k: usize| {
            let token = &self.tokens[k];
            !self.used[k] && (token.number().is_some() || matches!(token.text.as_str(), "/" | "-" | "–" | "x" | "t"))
        };
        let from = (0..name.start).rev().take_while(|&k| part(k)).last()?;
        let listed = self.tokens[from..name.start].iter().any(|t| t.number().is_some());
        listed.then(|| self.tokens[from].span.start..self.tokens[name.start - 1].span.end)
    }

    fn choices(&mut self) {
        for input in self.calculator.inputs {
            if let InputKind::Choice(picks) = input.kind
                && !self.out.values.has(input.id)
                && let Some((k, words)) = picked_at(&self.tokens, picks)
            {
                self.out.values.set(input.id, Given::Choice(picks[k].id));
                for i in words {
                    self.used[i] |= self.tokens[i].number().is_some();
                }
            }
        }
    }

    /// Values beside the name of their input.
    fn named(&mut self, names: &[Name]) {
        for clause in clauses(&self.tokens) {
            let here: Vec<&Name> = names.iter().filter(|n| clause.contains(&n.start)).collect();
            for (name, start, end) in pair(&self.tokens, &clause, &here, &self.used, self.calculator) {
                let input = &self.calculator.inputs[name.input];
                if self.out.values.has(input.id) {
                    continue;
                }
                if let Some(found) = quantity_for(input, &self.tokens[..end], start) {
                    self.place(input, &found, false);
                }
            }
        }
    }

    /// Values with a unit that no name stands beside: placed by what they measure.
    fn measured(&mut self) {
        for start in self.free_numbers().iter().map(|p| p.first).collect::<Vec<_>>() {
            let mut candidates = self.candidates(start, false, false);
            if candidates.is_empty() {
                candidates = self.candidates(start, false, true);
            }
            match candidates.as_slice() {
                [] => self.refuse(start),
                [only] => self.place_at(only, start, true),
                [first, ..] => {
                    if matches!(first.need, Need::Required) {
                        self.place_at(first, start, true);
                    } else {
                        let said = quantity_at(&self.tokens, start, None).map_or(0..0, |p| p.span(&self.tokens));
                        let named: Vec<&str> = candidates.iter().take(4).map(|i| i.name()).collect();
                        let sentence = format!(
                            "\"{}\" could be {}: put the name before it.",
                            &self.text[said.clone()],
                            named.join(" or ")
                        );
                        self.out.problems.push(sentence);
                        self.use_span(&said);
                    }
                }
            }
        }
    }

    /// A value that measures what a required input asks for, but cannot be: the range is said.
    fn refuse(&mut self, start: usize) {
        let open = self.calculator.inputs.iter().find(|input| {
            let wanted = matches!(input.need, Need::Required)
                && !self.out.values.has(input.id)
                && input.applies(&self.out.values);
            wanted && quantity_for(input, &self.tokens, start).is_some_and(|found| found.unit.is_some())
        });
        if let Some(input) = open {
            self.place_at(input, start, true);
        }
    }

    /// Bare numbers that fit an input that must be given.
    fn bare(&mut self) {
        for parsed in self.free_numbers() {
            if parsed.unit.is_some() || parsed.number.worded {
                continue;
            }
            let candidates = self.candidates(parsed.first, true, false);
            if let Some(first) = candidates.first() {
                self.place_at(first, parsed.first, true);
            }
        }
    }

    fn place_at(&mut self, input: &'static Input, start: usize, guessed: bool) {
        if let Some(found) = quantity_for(input, &self.tokens, start) {
            self.place(input, &found, guessed);
        }
    }

    /// Open inputs that the quantity at `start` could belong to: required ones first, in order; unusual values where `odd`.
    fn candidates(&self, start: usize, bare: bool, odd: bool) -> Vec<&'static Input> {
        let fits = |input: &&'static Input| {
            !self.out.values.has(input.id)
                && (input.free || matches!(input.need, Need::Required))
                && (input.free || input.applies(&self.out.values))
                && quantity_for(input, &self.tokens, start).is_some_and(|found| {
                    let unit_told = found.unit.is_some() || bare;
                    unit_told
                        && given(input, &found)
                            .is_some_and(|g| check_range(input, &g).is_ok_and(|warning| odd || warning.is_none()))
                })
        };
        let mut all: Vec<&'static Input> = self.calculator.inputs.iter().filter(fits).collect();
        if bare {
            all.retain(|input| matches!(input.need, Need::Required));
        }
        all.sort_by_key(|input| !matches!(input.need, Need::Required));
        all
    }

    fn free_numbers(&self) -> Vec<Quantity> {
        let mut out = Vec::new();
        let mut i = 0;
        while i < self.tokens.len() {
            let parsed = if self.used[i] { None } else { quantity_at(&self.tokens, i, None) };
            match parsed {
                Some(parsed) if !self.used[parsed.first..parsed.next].iter().any(|&u| u) => {
                    i = parsed.next;
                    let letters =
                        parsed.first > 0 && self.tokens[parsed.first].glued && self.tokens[parsed.first - 1].is_word();
                    if !letters {
                        out.push(parsed);
                    }
                }
                _ => i += 1,
            }
        }
        out
    }

    fn place(&mut self, input: &'static Input, found: &Quantity, guessed: bool) {
        let span = found.span(&self.tokens);
        let said = self.text[span.clone()].to_owned();
        self.use_span(&span);
        let Some(given) = given(input, found) else {
            let need = if matches!(input.kind, InputKind::Count { .. }) {
                "a whole number is needed"
            } else {
                "that is no value to reckon with"
            };
            self.out.problems.push(format!("{} \"{said}\": {need}.", capital(input.name())));
            return;
        };
        if let Err(error) = check_range(input, &given) {
            self.out.problems.push(format!("{}.", capital(&error.to_string())));
            return;
        }
        match &given {
            Given::Quantity(reading) if reading.assumed.is_some() => {
                let written = write(reading.quantity, Preference::AsGiven(reading.unit));
                self.out.notes.push(format!("{} {said} was taken as {written}.", capital(input.name())));
            }
            _ if guessed => self.out.notes.push(format!("{said} was taken as the {}.", input.name())),
            _ => {}
        }
        self.out.values.set(input.id, given);
    }

    fn leftovers(&mut self, names: &[Name]) {
        for name in names {
            self.used[name.start..name.end].fill(true);
        }
        let left: Vec<String> = self
            .free_numbers()
            .iter()
            .filter(|p| !p.number.worded)
            .map(|p| format!("\"{}\"", &self.text[p.span(&self.tokens)]))
            .collect();
        if !left.is_empty() {
            self.out.notes.push(format!("Not used: {}.", left.join(", ")));
        }
    }
}

/// The quantity at a token as this input would read it: its own unit, or none.
pub(super) fn quantity_for(input: &Input, tokens: &[Token], start: usize) -> Option<Quantity> {
    match &input.kind {
        InputKind::Quantity { dimension, .. } => {
            let found = quantity_at(tokens, start, Some(*dimension))?;
            found.unit.is_none_or(|unit| unit.dimension == *dimension).then_some(found)
        }
        InputKind::Count { .. } => {
            let found = quantity_at(tokens, start, Some(crate::units::Dimension::Count))?;
            found.unit.is_none_or(|unit| unit.dimension == crate::units::Dimension::Count).then_some(found)
        }
        _ => None,
    }
}

fn given(input: &Input, found: &Quantity) -> Option<Given> {
    match &input.kind {
        InputKind::Quantity { plausible, units, .. } => {
            let hint = Hint { plausible: *plausible, units };
            let unit = found.unit.unwrap_or_else(|| assume(&found.number, hint));
            found.reading(unit, Some(*plausible)).map(Given::Quantity)
        }
        InputKind::Count { .. } => {
            let unit =
                found.unit.or_else(|| UNITS.iter().copied().find(|u| u.dimension == crate::units::Dimension::Count))?;
            let reading = found.reading(unit, None)?;
            (reading.spread.is_none()).then(|| whole(reading.quantity.si).map(Given::Count)).flatten()
        }
        _ => None,
    }
}
