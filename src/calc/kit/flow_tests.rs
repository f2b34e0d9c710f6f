//! The dialogue's use of the calculators: asked one by one, fed with text, refused with reasons.

use super::*;
use crate::calc::{ALL, find};
use crate::units::{Preference, Quantity, write};

/// A middle answer as a rider would type it.
fn answer(input: &Input) -> String {
    match &input.kind {
        InputKind::Quantity { dimension, plausible, units, .. } => {
            let middle = Quantity::si(*dimension, plausible.0 + 0.45 * (plausible.1 - plausible.0));
            write(middle, Preference::AsGiven(units[0]))
        }
        InputKind::Count { plausible, .. } => plausible.0.midpoint(plausible.1).to_string(),
        InputKind::Choice(_) => "1".to_owned(),
        InputKind::Text { sample } => (*sample).to_owned(),
    }
}

#[test]
fn asked_one_by_one_every_calculator_comes_to_an_end() {
    for calculator in ALL {
        let mut values = Values::new();
        for _ in 0..20 {
            let Some(input) = missing(calculator, &values).first().copied() else { break };
            let typed = answer(input);
            let given = parse_answer(input, &typed)
                .unwrap_or_else(|e| panic!("{} {} \"{typed}\": {e}", calculator.id, input.id));
            values.set(input.id, given);
        }
        assert!(missing(calculator, &values).is_empty(), "{}", calculator.id);
        let outcome = run(calculator, &values);
        let fine = matches!(outcome, Ok(_) | Err(CalcError::Contradiction(_) | CalcError::NoAnswer(_)));
        assert!(fine, "{}: {outcome:?}", calculator.id);
    }
}

#[test]
fn every_choice_of_every_calculator_leads_somewhere() {
    for calculator in ALL {
        for input in calculator.inputs {
            let InputKind::Choice(picks) = &input.kind else { continue };
            for (k, pick) in picks.iter().enumerate() {
                let number = parse_answer(input, &(k + 1).to_string());
                assert_eq!(number, Ok(Given::Choice(pick.id)), "{} {}", calculator.id, input.id);
                assert_eq!(
                    parse_answer(input, pick.says),
                    Ok(Given::Choice(pick.id)),
                    "{} {}",
                    calculator.id,
                    pick.says
                );
                for words in pick.words {
                    assert_eq!(parse_answer(input, words), Ok(Given::Choice(pick.id)), "{} {words}", calculator.id);
                }
                let mut values = Values::new();
                values.set(input.id, Given::Choice(pick.id));
                for _ in 0..20 {
                    let Some(next) = missing(calculator, &values).first().copied() else { break };
                    values.set(next.id, parse_answer(next, &answer(next)).unwrap());
                }
                let outcome = run(calculator, &values);
                assert!(!matches!(outcome, Err(CalcError::Missing(_))), "{} {}: {outcome:?}", calculator.id, pick.id);
            }
        }
    }
}

#[test]
fn named_inputs_in_any_order_and_manner() {
    let saddle = find("saddle-height").unwrap();
    let wanted = parse_inputs(saddle, "inseam 83 cm, crank 170 mm").values;
    for text in [
        "crank 170 mm, inseam 83 cm",
        "inseam=83cm crank=170mm",
        "crank: 170 mm; inseam: 83 cm",
        "83 cm inseam, 170 mm cranks",
        "83 cm inseam 170 mm crank",
        "my inside leg is 83 cm and the cranks are 170 mm long",
        "inside leg 83 cm with 170 mm cranks",
        "83 cm, 170 mm",
        "inseam 83 cm\ncrank 170 mm",
        "INSEAM 83 CM, CRANK 170 MM",
    ] {
        let parsed = parse_inputs(saddle, text);
        for id in ["inseam", "crank"] {
            assert_eq!(parsed.values.si(id), wanted.si(id), "{text}: {id} {:?} {:?}", parsed.notes, parsed.problems);
        }
    }
    let bare = parse_inputs(saddle, "inseam 83 crank 170");
    assert_eq!(bare.values.si("inseam"), wanted.si("inseam"));
    assert!(bare.notes.iter().any(|note| note.contains("83 was taken as 83 cm")), "{:?}", bare.notes);
    let stone = parse_inputs(find("tyre-pressure").unwrap(), "i weigh 11 st 4 and ride 28c tyres");
    assert!(
        (stone.values.si("rider").unwrap() - 71.668).abs() < 0.01
            && (stone.values.si("width").unwrap() - 0.028).abs() < 1e-9
    );
    assert_eq!(stone.values.preference(), Preference::Imperial);
}

#[test]
fn bad_input_is_named_with_its_range() {
    let cases = [
        ("saddle-height", "inseam 8 cm", "45 cm to 115 cm"),
        ("saddle-height", "inside leg 83 m", "45 cm to 115 cm"),
        ("tyre-pressure", "rider 80 kg, tyre 240 mm", "135 mm"),
        ("tyre-pressure", "rider -80 kg, tyre 28 mm", "12 kg"),
        ("sag", "fork travel 0 mm", "15 mm"),
        ("chain-length", "ring 32.5, sprocket 51", "whole number"),
        ("pressure-temperature", "900 psi from 20 C to 40 C", "psi"),
    ];
    for (id, text, part) in cases {
        let parsed = parse_inputs(find(id).unwrap(), text);
        let all = parsed.problems.join(" ");
        let said = all.contains(part) || (part.ends_with("cm") && all.contains("0.45 m to 1.15 m"));
        assert!(said, "{id} {text}: {:?} {:?}", parsed.problems, parsed.notes);
    }
    // Outside the plausible range: computed, with a warning.
    let odd = parse_inputs(find("saddle-height").unwrap(), "inseam 50 cm, crank 120 mm");
    let outcome = run(find("saddle-height").unwrap(), &odd.values).unwrap();
    assert!(outcome.warnings.iter().any(|w| w.contains("unusual")), "{:?}", outcome.warnings);
    // The wrong kind of value.
    let inseam = find("saddle-height").unwrap().input("inseam").unwrap();
    assert!(parse_answer(inseam, "80 kg").unwrap_err().contains("is a weight"));
    assert!(parse_answer(inseam, "83 or 95").unwrap_err().contains("two figures"));
}

#[test]
fn json_carries_si_beside_the_persons_units() {
    let saddle = find("saddle-height").unwrap();
    let values = parse_inputs(saddle, "inside leg 32.5 in, crank 170").values;
    let json = outcome_json(&values, &run(saddle, &values).unwrap());
    assert_eq!(json["given"]["inseam"]["unit"], "in");
    assert!((json["given"]["inseam"]["si"].as_f64().unwrap() - 0.8255).abs() < 1e-9);
    assert_eq!(json["given"]["crank"]["unit_assumed"], true);
    let first = &json["figures"][0];
    assert_eq!((first["si_unit"].as_str(), first["unit"].as_str()), (Some("m"), Some("in")));
    assert!((first["si"].as_f64().unwrap() / first["value"].as_f64().unwrap() - 0.0254).abs() < 1e-9);
}

#[test]
fn what_if_changes_only_what_it_changes() {
    let sag = find("sag").unwrap();
    let mut values = parse_inputs(sag, "fork, travel 140 mm, ring 30 mm").values;
    let before = run(sag, &values).unwrap().get("target-mm").unwrap().quantity.si;
    values.set("stroke", parse_answer(sag.input("stroke").unwrap(), "120 mm").unwrap());
    let after = run(sag, &values).unwrap().get("target-mm").unwrap().quantity.si;
    assert!((before - after - 0.005).abs() < 1e-9);
}
