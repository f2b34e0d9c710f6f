//! Calculators in the conversation: inputs asked one by one or taken from what was said, the result shown and kept.

use super::answer::{Read, read_choice};
use super::bench::Bench;
use super::listen;
use super::next;
use super::record::{RecordedCurve, RecordedFigure, RecordedLadder, RecordedMark, RecordedRung};
use super::reply::{Bar, Block, Figure, Reply, numbered};
use super::state::{Focus, Setting, State};
use super::work::{self, Work};
use crate::calc::{
    self, Calculator, Chart, Given, Input, InputKind, Outcome, Values, missing, outcome_json, parse_answer,
    parse_inputs,
};
use crate::units;

/// A calculator whose inputs are being asked.
#[derive(Clone, Debug)]
pub struct CalcRun {
    calc: &'static Calculator,
    values: Values,
    /// The work it serves, if any.
    work: Option<Work>,
    /// Notes on what was assumed, to be shown with the result.
    notes: Vec<String>,
}

/// Least score by words for a calculator to be begun by a question.
const CLEAR: f64 = 4.0;

/// Whether there is a calculator of this id.
pub(super) fn exists(id: &str) -> bool {
    calc::find(id).is_some()
}

/// The command: a list, a calculator by name, or by words, with inputs after it.
pub(super) fn command(state: &mut State, bench: &Bench, rest: &str, reply: &mut Reply) {
    if rest.is_empty() {
        reply.add("What I can work out; say work out and a name, with what you know after it:");
        let items = calc::ALL.iter().map(|c| format!("{}: {}", c.id, c.title)).collect();
        reply.push(Block::List { items });
        return;
    }
    let lower = rest.to_lowercase();
    let by_name = calc::ALL
        .iter()
        .copied()
        .filter_map(|c| {
            let spaced = c.id.replace('-', " ");
            let hit = [c.id, spaced.as_str()].into_iter().find(|n| lower.starts_with(*n))?;
            Some((hit.len(), c))
        })
        .max_by_key(|(n, _)| *n);
    let (calc, text) = match by_name {
        Some((n, c)) => (Some(c), rest.get(n..).unwrap_or_default()),
        None => (calc::by_words(rest).first().map(|f| f.0), rest),
    };
    match calc {
        Some(c) => begin(state, bench, c, text, None, reply),
        None => {
            reply.add(format!("I have no calculator for \"{}\".", listen::shorten(rest)));
            command(state, bench, "", reply);
        }
    }
}

/// A question for a figure ("how long a chain for 32 and 51?") begins its calculator. True when one was begun.
pub(super) fn begin_by_words(state: &mut State, bench: &Bench, line: &str, reply: &mut Reply) -> bool {
    let l = line.to_lowercase();
    let asks = [
        "how long",
        "how high",
        "how much",
        "how many",
        "how hard",
        "how low",
        "what pressure",
        "what psi",
        "which pressure",
        "what sag",
        "what size",
        "what spring",
        "what length",
        "which spring",
        "how far",
        "how tight",
        "how fast",
        "what gear",
        "what is the gear",
    ];
    let short = line.split_whitespace().count() <= 14;
    let figures = line.chars().any(|c| c.is_ascii_digit());
    let bare = figures && short && !units::find_all(line).is_empty() && bench.ears.hear(line).answers.len() <= 1;
    let question = asks.iter().any(|a| l.starts_with(a)) && short;
    if !(question || bare) {
        return false;
    }
    let found = calc::by_words(line);
    let Some((calc, score)) = found.first().copied() else { return false };
    let clear = found.get(1).is_none_or(|second| score > 1.15 * second.1);
    let parsed = parse_inputs(calc, line);
    if score < CLEAR || (!question && (!clear || parsed.values.iter().count() < 2)) {
        return false;
    }
    begin(state, bench, calc, line, None, reply);
    true
}

/// Begins a calculator that a step of the work wants.
pub(super) fn begin_in_work(state: &mut State, bench: &Bench, id: &str, work: Work, reply: &mut Reply) {
    match calc::find(id) {
        Some(c) => begin(state, bench, c, "", Some(work), reply),
        None => work::after_figures(state, bench, work, reply),
    }
}

fn begin(
    state: &mut State,
    bench: &Bench,
    calc: &'static Calculator,
    text: &str,
    work: Option<Work>,
    reply: &mut Reply,
) {
    let mut run = CalcRun { calc, values: Values::new(), work, notes: Vec::new() };
    // What was said before comes first, so that what is said now wins.
    for line in &state.shared.said {
        if !units::find_all(line).is_empty() {
            let known = parse_inputs(calc, line);
            for (id, given) in known.values.iter() {
                if matches!(given, Given::Quantity(_)) {
                    run.values.set(id, given.clone());
                }
            }
        }
    }
    for input in calc.inputs {
        if let Some(Ok(given)) = state.shared.inputs.get(input.id).map(|typed| parse_answer(input, typed)) {
            run.values.set(input.id, given);
        }
    }
    if !run.values.is_empty() {
        run.notes.push("some inputs taken from what you told before".into());
    }
    if !text.trim().is_empty() {
        let told = parse_inputs(calc, text);
        for p in told.problems {
            reply.add(p);
        }
        run.notes.extend(told.notes);
        for (id, given) in told.values.iter() {
            run.values.set(id, given.clone());
        }
    }
    go_on(state, bench, run, reply);
}

/// Asks what is missing, or computes.
fn go_on(state: &mut State, bench: &Bench, run: CalcRun, reply: &mut Reply) {
    if missing(run.calc, &run.values).is_empty() {
        return finish(state, bench, run, reply);
    }
    state.focus = Focus::Calc(Box::new(run));
    next::repeat_prompt(state, bench, reply);
}

/// Shows the open input.
pub(super) fn prompt(run: &CalcRun, reply: &mut Reply) {
    let open = missing(run.calc, &run.values);
    let Some(input) = open.first() else { return };
    let answers = match &input.kind {
        InputKind::Choice(picks) => numbered(picks.iter().map(|p| (p.id, p.says))),
        _ => Vec::new(),
    };
    reply.push(Block::Question {
        id: format!("{}.{}", run.calc.id, input.id),
        text: format!("For the {}: {}", run.calc.title.to_lowercase(), input.question),
        minutes: 1.0,
        how: "measure".into(),
        safety: false,
        answers,
    });
    let left = match open.len() {
        1 => String::new(),
        n => format!(" ({} more after this.)", n - 1),
    };
    reply.aside(format!("{} Or: don't know, stop.{left}", input.how));
}

/// How the open input is measured.
pub(super) fn how(run: &CalcRun, reply: &mut Reply) {
    match missing(run.calc, &run.values).first() {
        Some(input) => reply.add(format!("{} {}", input.question, input.how)),
        None => reply.add(run.calc.worth),
    }
}

/// An answer to the open input.
pub(super) fn answer(state: &mut State, bench: &Bench, mut run: CalcRun, line: &str, reply: &mut Reply) {
    let Some(input) = missing(run.calc, &run.values).first().copied() else { return finish(state, bench, run, reply) };
    if let Some((Read::DontKnow | Read::CantNow, _)) = read_choice(line, &[], &[]) {
        return without(state, bench, run, input, reply);
    }
    match parse_answer(input, line) {
        Ok(given) => {
            if let Given::Quantity(r) = &given
                && let Some(unit) = r.assumed
            {
                reply.aside(format!("Taken as {}.", units::write_in(r.quantity, unit, None)));
            }
            state.shared.inputs.insert(input.id.to_owned(), line.to_owned());
            run.values.set(input.id, given);
            go_on(state, bench, run, reply);
        }
        Err(sentence) => {
            let told = parse_inputs(run.calc, line);
            if !told.values.is_empty() {
                for (id, given) in told.values.iter() {
                    run.values.set(id, given.clone());
                }
                for p in told.problems.iter().chain(&told.notes) {
                    reply.aside(p.clone());
                }
                return go_on(state, bench, run, reply);
            }
            if !super::reading::question(state, bench, line, reply) {
                let heard = bench.ears.hear(line);
                if heard.answers.len() + heard.dangers.len() >= 2 {
                    listen::take_in(state, bench, line, reply, None);
                    reply.aside("Noted. The figure is still wanted.");
                } else {
                    reply.add(sentence);
                }
            }
            state.focus = Focus::Calc(Box::new(run));
            next::repeat_prompt(state, bench, reply);
        }
    }
}

/// Goes on without a figure that is not known.
fn without(state: &mut State, bench: &Bench, run: CalcRun, input: &Input, reply: &mut Reply) {
    match run.work {
        Some(work) => {
            reply.aside(format!("Then without the figure. To get it later: work out {}.", run.calc.id));
            work::after_figures(state, bench, work, reply);
        }
        None => {
            reply.add(format!("It cannot be worked out without it. {} {}", input.question, input.how));
            state.focus = Focus::Open;
        }
    }
}

/// Leaves an open calculation; false when none is open.
pub(super) fn leave(state: &mut State, bench: &Bench, reply: &mut Reply) -> bool {
    let Focus::Calc(run) = state.focus.clone() else { return false };
    match run.work {
        Some(work) => work::after_figures(state, bench, work, reply),
        None => {
            state.focus = Focus::Open;
            reply.aside("Calculation left.");
            if state.current().is_some_and(|t| !t.said.is_empty()) {
                next::go_on(state, bench, reply);
            }
        }
    }
    true
}

fn finish(state: &mut State, bench: &Bench, run: CalcRun, reply: &mut Reply) {
    match calc::run(run.calc, &run.values) {
        Ok(outcome) => {
            show(&run, &outcome, reply);
            keep(state, &run, &outcome);
            state.last_run = Some(Box::new(run.clone()));
            match run.work {
                Some(work) => work::after_figures(state, bench, work, reply),
                None => {
                    state.focus = Focus::Open;
                    reply.aside("what if and a changed value (what if 20 mm less) compares; settings lists what was worked out.");
                }
            }
        }
        Err(e) => {
            reply.add(format!("{e}."));
            match run.work {
                Some(work) => work::after_figures(state, bench, work, reply),
                None => state.focus = Focus::Open,
            }
        }
    }
}

/// The outcome as blocks.
fn show(run: &CalcRun, outcome: &Outcome, reply: &mut Reply) {
    let preference = run.values.preference();
    let figures: Vec<Figure> = outcome
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
    let in_work = run.work.is_some();
    let mut figures = figures;
    if in_work {
        // Beside the step only what the step needs; the whole result stands behind "work out".
        figures.truncate(3);
        warnings.truncate(2);
    }
    reply.push(Block::Result {
        id: run.calc.id.into(),
        title: run.calc.title.into(),
        figures,
        inputs,
        warnings,
        cautions: outcome.cautions.iter().take(if in_work { 1 } else { usize::MAX }).cloned().collect(),
        worth: if in_work { String::new() } else { run.calc.worth.into() },
        sources: if in_work { Vec::new() } else { run.calc.sources.iter().map(|s| (*s).to_owned()).collect() },
        next: outcome.next.iter().take(if in_work { 2 } else { usize::MAX }).cloned().collect(),
        data: outcome_json(&run.values, outcome),
    });
    if in_work {
        return;
    }
    if let Some(table) = &outcome.table {
        reply.push(Block::Table { title: table.title.clone(), head: table.head.clone(), rows: table.rows.clone() });
    }
    match &outcome.chart {
        Some(Chart::Bars { unit, bars }) => reply.push(Block::Bars {
            title: format!("Side by side ({unit})"),
            bars: bars
                .iter()
                .map(|b| Bar {
                    label: b.label.clone(),
                    value: b.value,
                    lo: b.low,
                    hi: b.high,
                    shown: format!("{:.4} {unit}", Trim(b.value)),
                })
                .collect(),
        }),
        Some(Chart::Ladder { unit, rungs }) => reply.push(Block::Bars {
            title: format!("Ladder ({unit})"),
            bars: rungs
                .iter()
                .map(|r| Bar {
                    label: r.label.clone(),
                    value: r.value,
                    lo: r.value,
                    hi: r.value,
                    shown: format!("{:.4} {unit}", Trim(r.value)),
                })
                .collect(),
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

/// A number with at most four figures that matter.
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
        Given::Quantity(r) => units::write_in(r.quantity, r.unit, None),
        Given::Choice(c) => (*c).to_owned(),
        Given::Count(n) => n.to_string(),
        Given::Text(t) => t.clone(),
    }
}

/// Keeps the first figures as settings for the card, and all of it for the pictures.
fn keep(state: &mut State, run: &CalcRun, outcome: &Outcome) {
    let preference = run.values.preference();
    let id = run.calc.id;
    let known = state.shared.settings.clone();
    let t = state.thread();
    t.figures.retain(|f| f.calculator != id);
    for f in &outcome.figures {
        let end = match (id, f.id) {
            // The side view knows the height from the crank axle only, and sag by its end.
            ("saddle-height", "start") if run.values.choice("end").is_some_and(|e| e != "bottom-bracket") => {
                "start-from-pedal"
            }
            ("sag", "sag") if run.values.choice("place") == Some("fork") => "sag-fork",
            ("sag", "sag") => "sag-rear",
            (_, other) => other,
        };
        t.figures.push(RecordedFigure {
            calculator: id.into(),
            id: end.into(),
            label: f.label.into(),
            // Beside a drawing there is no room for the second unit.
            shown: f.say(preference).split(" (").next().unwrap_or_default().to_owned(),
            si: f.quantity.si,
            unit: f.shown.metric.symbol.into(),
            lo: f.band.map(|b| b.0),
            hi: f.band.map(|b| b.1),
        });
    }
    let title = run.calc.title;
    match &outcome.chart {
        Some(Chart::Curve { across, up, points, marks }) => {
            t.curves.retain(|c| c.title != title);
            t.curves.push(RecordedCurve {
                title: title.into(),
                x: format!("{} {}", across.0, across.1),
                y: format!("{} {}", up.0, up.1),
                points: points.clone(),
                marks: marks
                    .iter()
                    .map(|(label, x, y)| RecordedMark { x: *x, y: *y, label: label.clone(), role: String::new() })
                    .collect(),
            });
        }
        Some(Chart::Ladder { unit, rungs }) => {
            let rungs = rungs.iter().map(|r| RecordedRung {
                label: r.label.clone(),
                value: r.value,
                ..RecordedRung::default()
            });
            t.ladders.retain(|l| l.title != title);
            t.ladders.push(RecordedLadder { title: title.into(), unit: (*unit).into(), rungs: rungs.collect() });
        }
        Some(Chart::Bars { unit, bars }) => {
            let rungs = bars.iter().map(|b| RecordedRung {
                label: b.label.clone(),
                value: b.value,
                shown: String::new(),
                lo: Some(b.low),
                hi: Some(b.high),
            });
            t.methods.retain(|l| l.title != title);
            t.methods.push(RecordedLadder { title: title.into(), unit: (*unit).into(), rungs: rungs.collect() });
        }
        None => {}
    }
    for f in outcome.figures.iter().take(3) {
        let what = format!("{}: {}", run.calc.title, f.label.to_lowercase());
        let band = f.say_band(preference).map(|b| format!(" ({b})")).unwrap_or_default();
        let after = format!("{}{band}", f.say(preference));
        let settings = &mut state.thread().settings;
        let before =
            settings.iter().find(|s| s.what == what).map(|s| s.after.clone()).or_else(|| on_card(&known, &what));
        settings.retain(|s| s.what != what);
        settings.push(Setting { what, before, after, how: "computed".into() });
    }
}

/// The value that the book holds for a setting.
fn on_card(known: &[(String, String, Option<f64>)], what: &str) -> Option<String> {
    known.iter().find(|(w, _, _)| w == what).map(|(_, text, _)| text.clone())
}

/// "What if 20 mm less travel?": the last calculation again with something changed. True when there was one.
pub(super) fn what_if(state: &mut State, rest: &str, reply: &mut Reply) -> bool {
    let Some(last) = state.last_run.clone() else { return false };
    let told = parse_inputs(last.calc, rest);
    let changed: Vec<&'static str> = told.values.iter().map(|(id, _)| id).collect();
    let mut values = last.values.clone();
    for (id, given) in told.values.iter() {
        values.set(id, relative(rest, given, last.values.get(id)).unwrap_or_else(|| given.clone()));
    }
    if changed.is_empty() {
        let names: Vec<&str> = last.calc.inputs.iter().map(Input::name).take(6).collect();
        reply.add(format!(
            "I could not tell what changes. Name it: what if {} ... (also: {}).",
            names.first().unwrap_or(&""),
            names.join(", ")
        ));
        return true;
    }
    match (calc::run(last.calc, &last.values), calc::run(last.calc, &values)) {
        (Ok(before), Ok(after)) => {
            let preference = values.preference();
            let rows: Vec<Vec<String>> = after
                .figures
                .iter()
                .map(|f| {
                    let old = before.get(f.id).map_or_else(|| "-".to_owned(), |b| b.say(preference));
                    vec![f.label.to_owned(), old, f.say(preference)]
                })
                .collect();
            reply.push(Block::Table {
                title: format!(
                    "{}, with {}",
                    last.calc.title,
                    changed.iter().filter_map(|id| last.calc.input(id)).map(Input::name).collect::<Vec<_>>().join(", ")
                ),
                head: vec![String::new(), "before".into(), "then".into()],
                rows,
            });
            reply.aside("Only compared; nothing is changed.");
        }
        (_, Err(e)) | (Err(e), _) => reply.add(format!("{e}.")),
    }
    true
}

/// "20 mm less", "5 mm more": a change, not a value.
fn relative(text: &str, given: &Given, before: Option<&Given>) -> Option<Given> {
    let words: Vec<String> = text.to_lowercase().split(|c: char| !c.is_alphanumeric()).map(str::to_owned).collect();
    let has = |list: &[&str]| words.iter().any(|w| list.contains(&w.as_str()));
    let sign = if has(&["less", "shorter", "lower", "lighter", "narrower", "fewer", "minus", "smaller"]) {
        -1.0
    } else if has(&["more", "longer", "higher", "heavier", "wider", "plus", "bigger"]) {
        1.0
    } else {
        return None;
    };
    match (given, before?) {
        (Given::Quantity(change), Given::Quantity(old)) => {
            let mut r = old.clone();
            r.quantity.si += sign * change.quantity.si;
            Some(Given::Quantity(r))
        }
        (Given::Count(n), Given::Count(old)) => {
            let to = f64::from(*old) + sign * f64::from(*n);
            (to >= 0.0).then_some(Given::Count(to as u32))
        }
        _ => None,
    }
}

/// A calculator's own page: title and Markdown.
pub(super) fn note(id: &str) -> Option<(String, String)> {
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
pub(super) fn measure(text: &str, unit: &str) -> Option<Result<(f64, bool), String>> {
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
