//! Tyre pressure: load, width and two methods, capped by tyre and rim.
//!
//! Owns the choice of a start and a trial plan. Must not know sizes beyond the width, nor temperature.

use super::kit::common::{AIR, AS_KG1, AS_PRESSURE, SMALL, WEIGHT};
use super::kit::{
    CalcError, Calculator, Chart, Example, Given, Heard, Input, InputKind, Outcome, OutputSpec, Pick, Preset, Values,
    ask, check, output, quantity,
};
use super::law::tyre::{PRESSURE_BAND, pressure, size};
use crate::units::{BAR, Dimension, KG, LB, MM, PSI, Reading, find_all};

const SPLITS: &[Pick] = &[
    Pick { id: "45-55", says: "45 % front, 55 % rear (measured on recreational riders)", words: &["45 55"] },
    Pick {
        id: "40-60",
        says: "40 % front, 60 % rear (upright, or luggage at the back)",
        words: &["40 60", "upright", "rear rack", "panniers"],
    },
    Pick {
        id: "50-50",
        says: "50 % each (stretched forward, or a load in front; no source)",
        words: &["50 50", "low bars"],
    },
];

const RIMS: &[Pick] = &[
    Pick { id: "hooked", says: "Rim with hooks, or not known", words: &["hooked", "hooks"] },
    Pick {
        id: "hookless",
        says: "Hookless rim (straight side)",
        words: &["hookless", "straight side", "tss", "no hooks"],
    },
];

const INSIDES: &[Pick] = &[
    Pick { id: "tube", says: "With inner tube", words: &["with tube", "tubes", "inner tube", "tubed"] },
    Pick { id: "tubeless", says: "Tubeless", words: &["tubeless", "sealant", "no tube", "no tubes"] },
];

const GROUND: &[Pick] = &[
    Pick { id: "smooth", says: "Smooth roads", words: &["smooth", "asphalt", "tarmac", "road", "pavement"] },
    Pick { id: "mixed", says: "Mixed", words: &["mixed", "hardpack"] },
    Pick {
        id: "rough",
        says: "Rough roads, gravel or trails",
        words: &["rough", "gravel", "trail", "trails", "cobbles", "rocky", "off road"],
    },
];

const INPUTS: &[Input] = &[
    ask(
        "rider",
        &["rider weight", "rider", "body weight", "weight", "weigh", "i weigh", "kitted weight"],
        "How heavy are you, dressed to ride and with what you carry on your body?",
        "Step on a scale in riding kit.",
        quantity(Dimension::Mass, (35.0, 140.0), (12.0, 250.0), WEIGHT),
    )
    .when(|values| !values.has("load")),
    ask(
        "width",
        &["tyre width", "tyre", "width", "front tyre", "front width", "tyres"],
        "How wide is the tyre?",
        "Best with a caliper on the inflated tyre; otherwise the size printed on the side, such as 28 mm or 2.4 in.",
        quantity(Dimension::Length, (0.020, 0.075), (0.016, 0.135), WIDTHS),
    ),
    ask(
        "rear-width",
        &["rear tyre", "rear width", "back tyre", "rear tyre width"],
        "How wide is the rear tyre, if it differs?",
        "As for the front.",
        quantity(Dimension::Length, (0.020, 0.075), (0.016, 0.135), WIDTHS),
    )
    .optional(),
    ask(
        "bike",
        &["bike weight", "bike", "bicycle"],
        "How heavy is the bike?",
        "Weigh yourself with and without it.",
        quantity(Dimension::Mass, (6.0, 35.0), (3.0, 80.0), WEIGHT),
    )
    .preset(Preset::Value(12.0, &KG))
    .when(|values| !values.has("load")),
    ask(
        "luggage",
        &["luggage", "bags", "baggage", "cargo"],
        "How heavy is the luggage on the bike?",
        "Bottles, lock, bags, child.",
        quantity(Dimension::Mass, (0.0, 40.0), (0.0, 200.0), WEIGHT),
    )
    .optional(),
    ask(
        "split",
        &["load split"],
        "How is the load shared between the wheels?",
        "45/55 was measured with a scale under each wheel.",
        InputKind::Choice(SPLITS),
    )
    .preset(Preset::Choice("45-55")),
    ask(
        "load",
        &["wheel load", "load on the wheel", "load"],
        "If you know it: which load stands on this wheel?",
        "A bathroom scale under the wheel, the other wheel on a block of the same height, rider aboard.",
        quantity(Dimension::Mass, (15.0, 90.0), (5.0, 200.0), WEIGHT),
    )
    .optional(),
    ask(
        "ground",
        &["surface", "ground"],
        "What do you ride on?",
        "Rough ground asks for less, smooth for more.",
        InputKind::Choice(GROUND),
    )
    .preset(Preset::Choice("mixed")),
    ask(
        "inside",
        &["tube or tubeless", "setup inside"],
        "Tube or tubeless?",
        "A tubeless valve has a nut at the rim and there is sealant inside.",
        InputKind::Choice(INSIDES),
    )
    .preset(Preset::Choice("tube")),
    ask(
        "rim",
        &["kind of rim", "rim kind"],
        "Has the rim hooks?",
        "It is printed on the rim or in its papers; mostly a question for road and gravel rims.",
        InputKind::Choice(RIMS),
    )
    .preset(Preset::Choice("hooked")),
    ask(
        "tyre-max",
        &[
            "greatest pressure on the tyre",
            "tyre max",
            "tyre maximum",
            "max on the tyre",
            "marked maximum",
            "sidewall max",
            "max pressure",
        ],
        "Which greatest pressure is marked on the tyre?",
        "Moulded on the sidewall.",
        quantity(Dimension::Pressure, (1.5e5, 10e5), (0.5e5, 16e5), AIR),
    )
    .optional(),
    ask(
        "tyre-min",
        &["least pressure on the tyre", "tyre min", "tyre minimum", "marked minimum", "min pressure"],
        "Which least pressure is marked on the tyre?",
        "Moulded on the sidewall, if at all.",
        quantity(Dimension::Pressure, (0.8e5, 8e5), (0.3e5, 12e5), AIR),
    )
    .optional(),
    ask(
        "rim-max",
        &["greatest pressure on the rim", "rim max", "rim maximum", "max on the rim"],
        "Which greatest pressure is marked on the rim?",
        "On the rim or in its papers.",
        quantity(Dimension::Pressure, (1.5e5, 10e5), (0.5e5, 16e5), AIR),
    )
    .optional(),
    ask(
        "rim-inner",
        &["rim inner width", "inner rim width", "rim width", "internal width", "inner width"],
        "How wide is the rim inside?",
        "Printed on the rim, such as 622x25: the second figure.",
        quantity(Dimension::Length, (0.013, 0.045), (0.010, 0.11), SMALL),
    )
    .optional(),
];

const WIDTHS: &[&crate::units::Unit] = &[&MM, &crate::units::INCH];

const OUTPUTS: &[OutputSpec] = &[
    output("front", "Front tyre, to start from", AS_PRESSURE),
    output("rear", "Rear tyre, to start from", AS_PRESSURE),
    output("at-load", "This tyre at this load", AS_PRESSURE),
    output("load-front", "Load on the front wheel", AS_KG1),
    output("load-rear", "Load on the rear wheel", AS_KG1),
    output("law-front", "Load and width rule, front", AS_PRESSURE),
    output("law-rear", "Load and width rule, rear", AS_PRESSURE),
    output("seventh-front", "Weight over seven, front", AS_PRESSURE),
    output("seventh-rear", "Weight over seven, rear", AS_PRESSURE),
    output("cap", "Never above", AS_PRESSURE),
];

pub(super) static CALC: Calculator = Calculator {
    id: "tyre-pressure",
    title: "Tyre pressure",
    asks: &[
        "what tyre pressure",
        "what pressure should i run",
        "how hard should my tyres be",
        "what psi",
        "80 kg on 2.4s",
        "pressure for my weight",
        "how much air in the tyres",
        "ride harsh, tyres too hard",
        "pinch flats, tyres too soft",
        "hookless maximum pressure",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Load and width rule: psi = 120 x wheel load in lb / (tyre width in mm)^1.5, for each wheel by its share of rider, bike and luggage; from the rule that a tyre should lose 15 % of its height under load. Beside it, for tyres of 45 mm and more: front psi = body weight in lb / 7, rear 2 to 3 psi more. Both are capped by the lower mark of tyre and rim, and by 5 bar on hookless rims.",
    worth: "A start, give or take 10 %: published fits of the same chart differ by that much, and pump gauges by 5 % or far more. The chart was made for tyres of about 20 to 37 mm; wider is a stretch. Then by feel, one wheel at a time, always with the same gauge.",
    sources: &[
        "kukula-2013",
        "berto-heine",
        "marchand-drop",
        "tss-rims",
        "tbis-4210-1",
        "pump-gauges",
        "gauge-comparison",
        "common-practice",
        "from-memory",
    ],
    cautions: &[
        "Never above the lower of the marks on tyre and rim, nor above 5 bar (73 psi) on a hookless rim, whatever a rule says.",
        "A tyre that squirms in corners or a rim that touches the ground has too little air: stop and pump.",
    ],
    examples: &[
        Example {
            says: "wheel load 100 lb, tyre 28 mm",
            expect: &[check("at-load", 81.0, &PSI, 0.1)],
            source: "power law of kukula-2013 (formula read), value computed",
        },
        Example {
            says: "80 kg on 2.4s",
            expect: &[check("seventh-front", 25.2, &PSI, 0.1), check("law-front", 23.0, &PSI, 0.2)],
            source: "common practice, no source: body weight in lb over seven; law computed",
        },
        Example {
            says: "I weigh 78 kg, 9 kg bike, tyres 30 mm, hookless, tyre max 6 bar",
            expect: &[check("cap", 5.0, &BAR, 0.001)],
            source: "tss-rims: 5 bar on hookless rims, the lower mark wins (read)",
        },
        Example {
            says: "rider 78 kg, bike 12 kg, tyre 40 mm",
            expect: &[check("load-front", 40.5, &KG, 0.001), check("load-rear", 49.5, &KG, 0.001)],
            source: "marchand-drop: 45/55 measured (read), loads computed",
        },
    ],
    hear: Some(hear),
    deduce: None,
    run,
};

/// "on 2.4s", "29x2.4", "28c": the width.
fn hear(text: &str) -> Vec<Heard> {
    let mut heard = Vec::new();
    if let Some(size) = size(text)
        && let Some(width) = size.width
    {
        let unit = if text[size.span.clone()].contains(['.', '/']) && size.by_name { &crate::units::INCH } else { &MM };
        let given = Given::Quantity(Reading::exact(unit.value_of(width), unit));
        heard.push(Heard { input: "width", given, span: size.span });
    }
    for found in find_all(text) {
        if found.dimension == Dimension::Length && found.reading.assumed.is_some() {
            heard.push(Heard { input: "width", given: Given::Quantity(found.reading), span: found.span });
        }
    }
    heard
}

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let width = values.need("width")?;
    let rear_width = values.si("rear-width").unwrap_or(width);
    let cap = cap(values);
    if let (Some(min), Some(cap)) = (values.si("tyre-min"), cap)
        && min > cap
    {
        return Err(CalcError::Contradiction(
            "the least pressure marked is above the greatest allowed; read the marks again".into(),
        ));
    }
    if let Some(load) = values.si("load") {
        let law = pressure(load, width);
        let start = capped(law, values, cap, "", &mut out);
        out.figure("at-load", start).band(law * (1.0 - PRESSURE_BAND), law * (1.0 + PRESSURE_BAND));
    } else {
        both_wheels(values, width, rear_width, cap, &mut out)?;
    }
    if let Some(cap) = cap {
        out.figure("cap", cap).note("the lowest of the marks and limits");
    } else {
        out.assume("No marks given: read the greatest pressure on tyre and rim and stay below the lower one.");
    }
    remarks(values, width.max(rear_width), &mut out);
    curve(values, width, &mut out);
    Ok(out)
}

fn both_wheels(
    values: &Values,
    width: f64,
    rear_width: f64,
    cap: Option<f64>,
    out: &mut Outcome,
) -> Result<(), CalcError> {
    let rider = values.need("rider")?;
    let total = rider + values.need("bike")? + values.si("luggage").unwrap_or(0.0);
    let front_share = match values.choice("split") {
        Some("40-60") => 0.40,
        Some("50-50") => 0.50,
        _ => 0.45,
    };
    let (load_front, load_rear) = (total * front_share, total * (1.0 - front_share));
    let (law_front, law_rear) = (pressure(load_front, width), pressure(load_rear, rear_width));
    let wide = width.min(rear_width) >= 0.045;
    let seventh = PSI.to_si(LB.value_of(rider) / 7.0);
    let seventh_rear = seventh + PSI.to_si(2.5);
    // The ground chooses a place inside the band, no more.
    let place = match values.choice("ground") {
        Some("smooth") => 1.0 + PRESSURE_BAND / 2.0,
        Some("rough") => 1.0 - PRESSURE_BAND / 2.0,
        _ => 1.0,
    };
    let mut wheel = |id: &'static str, name: &str, law: f64, rule: f64| {
        let middle = if wide { f64::midpoint(law, rule) } else { law };
        let start = capped(middle * place, values, cap, name, out);
        let (low, high) = if wide { (law.min(rule), law.max(rule)) } else { (law, law) };
        let top = (high * (1.0 + PRESSURE_BAND)).min(cap.unwrap_or(f64::MAX));
        out.figure(id, start).band((low * (1.0 - PRESSURE_BAND)).min(start), top.max(start));
    };
    wheel("front", "front", law_front, seventh);
    wheel("rear", "rear", law_rear, seventh_rear);
    out.figure("load-front", load_front);
    out.figure("load-rear", load_rear);
    out.figure("law-front", law_front);
    out.figure("law-rear", law_rear);
    let band = |p: f64| Some((p * (1.0 - PRESSURE_BAND), p * (1.0 + PRESSURE_BAND)));
    const LAW: &str = "A fit to a published chart, +-10 %; made for narrow tyres.";
    const RULE: &str = "A mechanic's rule for mountain-bike tyres; sees weight only.";
    out.method(("load and width, front", "kukula-2013", LAW), "front", law_front, band(law_front));
    out.method(("load and width, rear", "kukula-2013", LAW), "rear", law_rear, band(law_rear));
    if wide {
        out.figure("seventh-front", seventh);
        out.figure("seventh-rear", seventh_rear).band(seventh + PSI.to_si(2.0), seventh + PSI.to_si(3.0));
        out.method(("weight over seven, front", "common-practice", RULE), "front", seventh, None);
        out.method(
            ("weight over seven, rear", "common-practice", RULE),
            "rear",
            seventh_rear,
            Some((seventh + PSI.to_si(2.0), seventh + PSI.to_si(3.0))),
        );
    }
    Ok(())
}

fn cap(values: &Values) -> Option<f64> {
    let hookless = (values.choice("rim") == Some("hookless")).then_some(5e5);
    [values.si("tyre-max"), values.si("rim-max"), hookless].into_iter().flatten().reduce(f64::min)
}

fn capped(start: f64, values: &Values, cap: Option<f64>, name: &str, out: &mut Outcome) -> f64 {
    let say = |p: f64| values.say(p, AS_PRESSURE);
    let wheel = if name.is_empty() { "this".to_owned() } else { format!("the {name}") };
    if let Some(cap) = cap.filter(|&cap| start > cap) {
        out.warn(format!(
            "The rule would give {} for {wheel} tyre; {} is the limit. A wider tyre would carry this load better.",
            say(start),
            say(cap)
        ));
        return cap;
    }
    if let Some(min) = values.si("tyre-min").filter(|&min| start < min) {
        out.warn(format!(
            "The rule would give {} for {wheel} tyre; its least marked pressure is {}.",
            say(start),
            say(min)
        ));
        return min;
    }
    start
}

fn remarks(values: &Values, width: f64, out: &mut Outcome) {
    if width > 0.060 {
        out.warn(
            "The load and width rule was made for narrower tyres; at this width trust the trial more than the figure.",
        );
    }
    let road = values.choice("rim") == Some("hookless");
    if let Some(inner) = values.si("rim-inner") {
        if inner >= width {
            out.warn(
                "The rim is as wide as the tyre: one of the two figures is wrong, or they do not belong together.",
            );
        } else if road && width - inner < 0.005 - 1e-9 {
            out.warn("On hookless road rims the tyre should be at least 5 mm wider than the rim inside; check the rim's list of tyres.");
        }
    }
    if values.choice("inside") == Some("tube") && width >= 0.045 {
        out.warn("With tubes, low pressures pinch: if you feel the rim touch, go up at once.");
    }
    out.assume("Pump gauges read 2 to 5 % wrong, cheap ones far more: use one gauge for both wheels, always.");
    let step = if width >= 0.045 { "1 psi (0.1 bar)" } else { "3 psi (0.2 bar)" };
    out.then("Pump both tyres to the start and ride a short loop you know.");
    out.then(format!("Let {step} out of the front and ride the loop again; keep it if it grips and calms, undo it if it squirms or the rim is felt."));
    out.then("Then the same at the rear. One wheel, one step a ride.");
    out.then("Write both figures down with the gauge they were read on, and check weekly.");
}

/// Pressure against width for the front wheel's load.
fn curve(values: &Values, width: f64, out: &mut Outcome) {
    let Some(load) = values.si("load").or_else(|| out.get("load-front").map(|f| f.quantity.si)) else { return };
    let points =
        (20..=64).step_by(4).map(|mm| (f64::from(mm), BAR.value_of(pressure(load, MM.to_si(f64::from(mm)))))).collect();
    let mark = ("your tyre".to_owned(), MM.value_of(width), BAR.value_of(pressure(load, width)));
    let _ = values;
    out.chart = Some(Chart::Curve { across: ("tyre width", "mm"), up: ("pressure", "bar"), points, marks: vec![mark] });
}

#[cfg(test)]
mod tests {
    use super::super::kit::{parse_inputs, run};
    use super::*;

    fn figure(text: &str, id: &str) -> f64 {
        let parsed = parse_inputs(&CALC, text);
        assert!(parsed.problems.is_empty(), "{text}: {:?}", parsed.problems);
        run(&CALC, &parsed.values).unwrap().get(id).unwrap().quantity.si
    }

    #[test]
    fn more_load_more_air_wider_less() {
        let mut before = 0.0;
        for kg in [50, 60, 70, 80, 90, 100, 110] {
            let now = figure(&format!("rider {kg} kg, tyre 32 mm"), "rear");
            assert!(now > before);
            before = now;
        }
        let mut before = f64::MAX;
        for mm in [23, 25, 28, 32, 35, 40, 44, 50, 58, 66] {
            let now = figure(&format!("rider 80 kg, tyre {mm} mm"), "law-rear");
            assert!(now < before);
            before = now;
        }
    }

    #[test]
    fn limits_win_over_rules() {
        assert!(figure("rider 120 kg, tyre 25 mm, hookless", "rear") <= 5e5);
        let four = figure("rider 120 kg, tyre 25 mm, tyre max 6 bar, rim max 4 bar", "front");
        assert!((four - 4e5).abs() < 1.0);
        let parsed = parse_inputs(&CALC, "rider 80 kg, tyre 30 mm, tyre min 6 bar, tyre max 4 bar");
        assert!(matches!(run(&CALC, &parsed.values), Err(CalcError::Contradiction(_))));
    }
}
