//! Tests over every calculator as a whole: what is forgotten in one of them fails here.

use proptest::prelude::*;

use super::*;
use crate::calc::{ALL, find};
use crate::units::{Preference, Quantity, Reading, UNITS};

/// Source ids that may stand in a calculator.
const SOURCES: &str = "common-practice, from-memory, cfr-1512, tbis-4210-1, tbis-4210-2, tbis-4210-4, tbis-4210-5, tbis-4210-7, \
tbis-4210-8, tbis-4210-9, tbis-15194, en-14766, en-14781, iso-8098, iso-5775, iso-9633, iso-898-1, uci-1-3, peveler-2005, bini-2011, \
bini-2020, gatti-2021, ferrer-roca-2012, ferrer-roca-2014, millour-2020, fonda-2014, fit-review-2021, mtb-kinematics-2021, johnston-2017, \
priego-2018, priego-2024, scoz-2021, patterson-2003, noth-1980, niosh-2009, lowe-2004, salai-1999, farrell-2003, silberman-2005, \
napier-2023, barratt-2011, too-2020, lin-2025, nhs-knee, nhs-knee-pathway, nice-neuro, nhs-saddle-numbness, berto-heine, marchand-drop, \
kukula-2013, tss-rims, pump-gauges, gauge-comparison, us-atmosphere-1976, openstax-physics, sag-ranges, sag-scaling-2021, leverage-2, \
pelz-2004, redfield-2014, nakae-2011, kado-2014, bhandari-2010, wear-brown, wear-zinn, gear-brown, spicer-2001, creak-guide, creak-brown, \
dekra-2020, aashto-bicycle, riel-2005, rotor-wear-zinn, bedding-in, brake-heat-qa, spoke-formula, spoke-balance-2023, spoke-pitch-allen, \
spoke-limits, us-army-tm, martin-1998, circumference-brown, hub-bearings-sutherland, horizon-kops";

#[test]
fn every_file_of_the_folder_is_registered() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/calc");
    let mut files: Vec<String> = std::fs::read_dir(folder)
        .unwrap()
        .filter_map(|entry| entry.unwrap().file_name().into_string().ok())
        .filter_map(|name| name.strip_suffix(".rs").map(str::to_owned))
        .filter(|stem| stem != "mod")
        .collect();
    let mut ids: Vec<String> = ALL.iter().map(|calculator| calculator.id.replace('-', "_")).collect();
    files.sort();
    ids.sort();
    assert_eq!(files, ids);
    ids.dedup();
    assert_eq!(ids.len(), ALL.len());
}

#[test]
fn every_calculator_describes_itself() {
    let known: Vec<&str> = SOURCES.split(',').map(str::trim).collect();
    for calculator in ALL {
        let id = calculator.id;
        assert!(find(id).is_some_and(|found| found.id == id));
        assert!(id.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{id}");
        assert!(calculator.asks.len() >= 4, "{id}: say more ways in which riders ask for it");
        assert!(calculator.formula.len() > 40 && calculator.worth.len() > 40, "{id}");
        assert!(!calculator.sources.is_empty() && !calculator.cautions.is_empty(), "{id}");
        for source in calculator.sources {
            assert!(known.contains(source), "{id}: unknown source {source}");
        }
        assert!(calculator.examples.len() >= 3, "{id}: three worked examples at least");
        let named = |e: &Example| e.source.contains("(read") || e.source.contains("common practice");
        assert!(calculator.examples.iter().any(named), "{id}: one example published or common practice");
    }
}

#[test]
fn every_input_can_be_asked_and_named() {
    for calculator in ALL {
        let mut seen: Vec<&str> = Vec::new();
        for input in calculator.inputs {
            let place = format!("{} {}", calculator.id, input.id);
            assert!(input.question.ends_with('?'), "{place}");
            for name in input.names {
                assert!(!seen.contains(name), "{place}: \"{name}\" names two inputs");
                seen.push(name);
            }
            match &input.kind {
                InputKind::Quantity { dimension, plausible, possible, units } => {
                    assert!(
                        possible.0 <= plausible.0 && plausible.0 < plausible.1 && plausible.1 <= possible.1,
                        "{place}"
                    );
                    assert!(!units.is_empty() && units.iter().all(|unit| unit.dimension == *dimension), "{place}");
                    assert!(!input.how.is_empty(), "{place}: how is it measured");
                }
                InputKind::Count { plausible, possible } => {
                    assert!(
                        possible.0 <= plausible.0 && plausible.0 < plausible.1 && plausible.1 <= possible.1,
                        "{place}"
                    );
                }
                InputKind::Choice(picks) => {
                    assert!(picks.len() >= 2, "{place}");
                    if let Need::Preset(Preset::Choice(id)) = &input.need {
                        assert!(picks.iter().any(|pick| pick.id == *id), "{place}");
                    }
                }
                InputKind::Text { sample } => assert!(!sample.is_empty(), "{place}"),
            }
            if let (Need::Preset(Preset::Value(value, unit)), InputKind::Quantity { plausible, .. }) =
                (&input.need, &input.kind)
            {
                let si = unit.to_si(*value);
                assert!(plausible.0 - 1e-9 <= si && si <= plausible.1 + 1e-9, "{place}: implausible preset");
            }
        }
        for source in calculator.outputs.iter().map(|output| output.label) {
            assert!(!source.is_empty());
        }
    }
}

#[test]
fn every_example_comes_out() {
    for calculator in ALL {
        for example in calculator.examples {
            let place = format!("{}: {}", calculator.id, example.says);
            let parsed = parse_inputs(calculator, example.says);
            assert!(parsed.problems.is_empty(), "{place}: {:?}", parsed.problems);
            assert!(!parsed.notes.iter().any(|note| note.starts_with("Not used")), "{place}: {:?}", parsed.notes);
            let outcome =
                run(calculator, &parsed.values).unwrap_or_else(|error| panic!("{place}: {error}\n{:?}", parsed.values));
            for check in example.expect {
                let figure = outcome.get(check.figure).unwrap_or_else(|| panic!("{place}: no figure {}", check.figure));
                let got = check.unit.value_of(figure.quantity.si);
                assert_eq!(figure.quantity.dimension, check.unit.dimension, "{place}: {}", check.figure);
                assert!(
                    (got - check.value).abs() <= check.within + 1e-12,
                    "{place}: {} is {got}, wanted {}",
                    check.figure,
                    check.value
                );
            }
            for figure in &outcome.figures {
                assert!(calculator.output(figure.id).is_some(), "{place}: undeclared figure {}", figure.id);
                if let Some((low, high)) = figure.band {
                    assert!(low <= high, "{place}: {}", figure.id);
                }
            }
            let json = outcome_json(&parsed.values, &outcome);
            assert_eq!(json["figures"].as_array().unwrap().len(), outcome.figures.len());
        }
    }
}

#[test]
fn a_change_of_units_changes_no_figure() {
    for calculator in ALL {
        for example in calculator.examples {
            let values = parse_inputs(calculator, example.says).values;
            let mut other = values.clone();
            for (id, given) in values.iter() {
                if let Given::Quantity(reading) = given {
                    let dimension = reading.quantity.dimension;
                    let unit = UNITS.iter().rev().find(|u| u.dimension == dimension).copied().unwrap();
                    let value = unit.value_of(reading.quantity.si);
                    other.set(id, Given::Quantity(Reading::exact(value, unit)));
                }
            }
            let (one, two) = (run(calculator, &values).unwrap(), run(calculator, &other).unwrap());
            for (a, b) in one.figures.iter().zip(&two.figures) {
                let within = 1e-6 * a.quantity.si.abs().max(1e-6);
                assert!(
                    (a.quantity.si - b.quantity.si).abs() <= within,
                    "{} {}: {} {}",
                    calculator.id,
                    a.id,
                    a.quantity.si,
                    b.quantity.si
                );
            }
        }
    }
}

#[test]
fn no_number_no_formula() {
    for calculator in ALL {
        for example in calculator.examples {
            let values = parse_inputs(calculator, example.says).values;
            for input in calculator.inputs {
                let InputKind::Quantity { dimension, units, possible, .. } = &input.kind else { continue };
                for si in [
                    f64::NAN,
                    f64::INFINITY,
                    f64::NEG_INFINITY,
                    possible.0 - 1.0 - possible.0.abs(),
                    possible.1 * 2.0 + 1.0,
                ] {
                    let mut bad = values.clone();
                    let mut reading = Reading::exact(1.0, units[0]);
                    reading.quantity = Quantity::si(*dimension, si);
                    bad.set(input.id, Given::Quantity(reading));
                    let refused = run(calculator, &bad);
                    assert!(refused.is_err(), "{} {} took {si}", calculator.id, input.id);
                }
            }
        }
    }
}

#[test]
fn nothing_given_is_asked_for() {
    for calculator in ALL {
        let empty = Values::new();
        let asked = missing(calculator, &empty);
        if asked.is_empty() {
            continue;
        }
        assert!(matches!(run(calculator, &empty), Err(CalcError::Missing(_))), "{}", calculator.id);
        for input in asked {
            assert!(parse_answer(input, "").is_err() && parse_answer(input, "🚲 nan").is_err(), "{}", input.id);
        }
    }
}

#[test]
fn the_page_lists_everything_and_is_stable() {
    let page = reference_page();
    assert_eq!(page, reference_page());
    for calculator in ALL {
        assert!(page.contains(&format!("`{}`", calculator.id)));
        for example in calculator.examples {
            assert!(page.contains(example.source));
        }
    }
}

#[test]
fn figures_read_in_both_measures() {
    for calculator in ALL {
        for example in calculator.examples {
            let outcome = run(calculator, &parse_inputs(calculator, example.says).values).unwrap();
            for figure in &outcome.figures {
                let (metric, imperial) = (figure.say(Preference::Metric), figure.say(Preference::Imperial));
                assert!(metric.chars().any(|c| c.is_ascii_digit()), "{metric}");
                assert!(imperial.chars().any(|c| c.is_ascii_digit()), "{imperial}");
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn any_text_is_borne(text in "\\PC{0,60}", which in 0usize..64) {
        let calculator = ALL[which % ALL.len()];
        let parsed = parse_inputs(calculator, &text);
        let _ = run(calculator, &parsed.values);
        let _ = by_words(&text);
        for input in calculator.inputs {
            let _ = parse_answer(input, &text);
        }
    }

    #[test]
    fn any_possible_value_is_borne(which in 0usize..64, shares in proptest::collection::vec(0.0f64..=1.0, 24), picks in proptest::collection::vec(0usize..6, 24)) {
        let calculator = ALL[which % ALL.len()];
        let mut values = Values::new();
        for (k, input) in calculator.inputs.iter().enumerate() {
            let share = if picks[k] == 0 { 0.0 } else if picks[k] == 1 { 1.0 } else { shares[k] };
            match &input.kind {
                InputKind::Quantity { dimension, possible, units, .. } => {
                    let mut reading = Reading::exact(1.0, units[0]);
                    reading.quantity = Quantity::si(*dimension, possible.0 + share * (possible.1 - possible.0));
                    values.set(input.id, Given::Quantity(reading));
                }
                InputKind::Count { possible, .. } => {
                    values.set(input.id, Given::Count(possible.0 + (share * f64::from(possible.1 - possible.0)) as u32));
                }
                InputKind::Choice(all) => values.set(input.id, Given::Choice(all[picks[k] % all.len()].id)),
                InputKind::Text { sample } => values.set(input.id, Given::Text((*sample).to_owned())),
            }
        }
        if let Ok(outcome) = run(calculator, &values) {
            for figure in &outcome.figures {
                prop_assert!(figure.quantity.si.is_finite());
            }
            let _ = outcome_json(&values, &outcome).to_string();
        }
    }
}
