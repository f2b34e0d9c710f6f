//! A figure beside another: what would be if an input were changed.

use crate::calc::{self, Given, Input, parse_inputs};
use crate::dialogue::reply::{Block, Reply};
use crate::dialogue::state::State;

/// "What if 20 mm less travel?": the last calculation again with something changed. True when there was one.
pub(in crate::dialogue) fn what_if(state: &mut State, rest: &str, reply: &mut Reply) -> bool {
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
