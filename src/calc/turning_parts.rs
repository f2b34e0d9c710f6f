//! Turning parts: which part turns as often as a noise is heard.
//!
//! Owns the table of orders and the nearest matches. Must not know causes: it names parts that turn so, not what is wrong.

use super::kit::common::{AS_COUNT, AS_PLAIN2, CADENCE, DEGREES, FRAME, NUMBER, SMALL, TIMES_A_SECOND};
use super::kit::{
    Bar, CalcError, Calculator, Chart, Example, Given, Heard, Input, Outcome, OutputSpec, Preset, Shown, Table, Values,
    ask, check, count, output, quantity, shown, text,
};
use super::law::bearing::orders;
use super::law::gear::repeats;
use super::law::tyre::{circumference, size};
use crate::units::{DEG, Dimension, HZ, PLAIN, RPM, TIMES};

fn has_bearing(values: &Values) -> bool {
    values.has("balls")
}

fn drive(values: &Values) -> bool {
    !has_bearing(values) || values.has("ring") || values.has("sprocket")
}

const INPUTS: &[Input] = &[
    ask(
        "ring",
        &["ring", "chainring"],
        "How many teeth has the ring in use?",
        "Stamped on it.",
        count((20, 60), (8, 130)),
    )
    .when(drive),
    ask(
        "sprocket",
        &["sprocket", "cog"],
        "How many teeth has the sprocket in use?",
        "Count from the largest inwards, or read it.",
        count((9, 52), (8, 130)),
    )
    .when(drive),
    ask(
        "links",
        &["links", "chain links", "chain"],
        "How many links has the chain?",
        "Count, or take 110 to 126.",
        count((90, 140), (20, 400)),
    )
    .preset(Preset::Count(114))
    .when(drive)
    .free(),
    ask(
        "cadence",
        &["cadence", "rpm", "pedalling at"],
        "At which cadence was it heard?",
        "Count one foot for 15 seconds, times four.",
        quantity(Dimension::Frequency, (0.5, 2.2), (0.05, 40.0), CADENCE),
    )
    .preset(Preset::Value(80.0, &RPM))
    .free(),
    ask(
        "per-crank",
        &["times a crank turn", "per crank turn", "times a turn", "per turn", "each turn"],
        "How often is it heard for one turn of the cranks?",
        "Once, twice, every third turn (0.33).",
        quantity(Dimension::Plain, (0.05, 12.0), (0.005, 200.0), NUMBER),
    )
    .optional(),
    ask(
        "heard",
        &["rate heard", "heard", "clicks at", "rate", "ticks"],
        "How often is it heard in a second?",
        "Count over ten seconds, or from a recording.",
        quantity(Dimension::Frequency, (0.05, 60.0), (0.005, 2000.0), TIMES_A_SECOND),
    )
    .optional()
    .free(),
    ask(
        "engagement",
        &["points of engagement", "engagement", "freewheel points", "points"],
        "How many points of engagement has the freewheel?",
        "From the hub's papers.",
        count((12, 120), (4, 1000)),
    )
    .optional(),
    ask(
        "pulley",
        &["pulley", "guide pulley", "jockey wheel"],
        "How many teeth has a guide pulley?",
        "Count them.",
        count((9, 18), (6, 30)),
    )
    .preset(Preset::Count(11))
    .when(drive),
    ask("size", &["tyre size", "tyre"], "Which tyre?", "To reckon speed, such as 28-622.", text("28-622")).optional(),
    ask(
        "circumference",
        &["circumference"],
        "How far does the wheel roll in a turn?",
        "Rolled out.",
        quantity(Dimension::Length, (1.2, 2.4), (0.7, 2.8), FRAME),
    )
    .optional(),
    ask(
        "balls",
        &["balls", "ball bearings", "rollers"],
        "How many balls has the bearing on one side?",
        "Count them; cup-and-cone fronts often have 10, rears 9.",
        count((5, 24), (3, 60)),
    )
    .optional(),
    ask(
        "ball",
        &["ball diameter", "ball"],
        "How thick is a ball?",
        "3/16 in at the front, 1/4 in at the rear of many cup-and-cone hubs.",
        quantity(Dimension::Length, (0.002, 0.009), (0.0005, 0.05), SMALL),
    )
    .when(has_bearing),
    ask(
        "circle",
        &["pitch circle", "ball circle", "pitch diameter"],
        "How large is the circle on which the balls' centres run?",
        "Middle of inner and outer race.",
        quantity(Dimension::Length, (0.012, 0.06), (0.004, 0.5), SMALL),
    )
    .when(has_bearing),
    ask(
        "contact",
        &["contact angle"],
        "At which contact angle do the balls touch?",
        "0 for plain cartridge bearings, more for angular ones.",
        quantity(Dimension::Angle, (0.0, 0.8), (0.0, 1.4), DEGREES),
    )
    .preset(Preset::Value(0.0, &DEG))
    .when(has_bearing),
];

const AS_EVERY: Shown = shown(&PLAIN, &PLAIN, (2, 2));
const AS_ORDER: Shown = shown(&PLAIN, &PLAIN, (4, 4));

const OUTPUTS: &[OutputSpec] = &[
    output("heard", "Heard for each turn of the cranks", AS_PLAIN2),
    output("wheel", "Wheel turns for each turn of the cranks", AS_PLAIN2),
    output("chain", "Turns of the cranks for one round of the chain", AS_EVERY),
    output("repeat-sprocket", "The same sprocket tooth meets the same link every so many sprocket turns", AS_COUNT),
    output("repeat-ring", "The same ring tooth meets the same link every so many crank turns", AS_COUNT),
    output("tooth", "Teeth a second at ring and sprocket", super::kit::common::AS_HZ),
    output("freewheel", "Freewheel clicks a second when coasting at this speed", super::kit::common::AS_HZ),
    output("engagement-angle", "Freewheel engages every", super::kit::common::AS_DEG2),
    output("bearing-outer", "Bearing, mark on the outer race: for each wheel turn", AS_ORDER),
    output("bearing-inner", "Bearing, mark on the inner race", AS_ORDER),
    output("bearing-cage", "Bearing, cage", AS_ORDER),
    output("bearing-ball", "Bearing, ball spin (a fault on a ball strikes twice as often)", AS_ORDER),
];

pub(super) static CALC: Calculator = Calculator {
    id: "turning-parts",
    title: "Which part turns that often",
    asks: &[
        "click once per crank turn",
        "noise every third turn of the pedals",
        "which part clicks at this rate",
        "tick twice a second",
        "is it the chain or the wheel",
        "how often does the chain go round",
        "bearing fault frequency",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "For each turn of the cranks: crank 1, wheel ring/sprocket, chain ring/links, guide pulley ring/pulley, teeth ring. The same tooth meets the same link every links / gcd(links, teeth) turns. Bearing with n balls: outer n (1 - r) / 2, inner n (1 + r) / 2 for each turn, r = ball / circle x cos(contact).",
    worth: "Exact for what is geared together; bearings slip 1 to 3 %. A match names parts that turn so, it does not prove which is guilty: stop pedalling, then coast, then brake, and hear what changes.",
    sources: &["creak-brown", "creak-guide", "hub-bearings-sutherland", "from-memory"],
    cautions: &[
        "Listen on a quiet road or on a stand; keep fingers and clothes away from turning parts. A noise with play, a wobble or a bang is a reason to stop.",
    ],
    examples: &[
        Example {
            says: "ring 42, sprocket 15, 110 links",
            expect: &[check("chain", 2.619, &PLAIN, 0.001), check("wheel", 2.8, &PLAIN, 1e-9)],
            source: "kinematics, computed; creak-guide: chain noises come every 2 to 3 turns (read)",
        },
        Example {
            says: "ring 42, sprocket 15, chain 96 links",
            expect: &[check("repeat-sprocket", 32.0, &TIMES, 0.0)],
            source: "published: 96 links and 15 teeth meet again every 32 turns (read)",
        },
        Example {
            says: "ring 42, sprocket 14, chain 96 links",
            expect: &[check("repeat-sprocket", 48.0, &TIMES, 0.0)],
            source: "published: 14 teeth every 48 turns (read)",
        },
        Example {
            says: "9 balls, ball 7.94 mm, pitch circle 39.04 mm",
            expect: &[check("bearing-outer", 3.5848, &PLAIN, 1e-3), check("bearing-inner", 5.4152, &PLAIN, 1e-3)],
            source: "published orders of a 9-ball bearing (read), its sizes from memory",
        },
        Example {
            says: "ring 50, sprocket 17, 90 rpm, heard 0.65 Hz",
            expect: &[check("tooth", 75.0, &HZ, 1e-6)],
            source: "kinematics, computed",
        },
    ],
    hear: Some(hear),
    deduce: None,
    run,
};

fn hear(text: &str) -> Vec<Heard> {
    let lower = text.to_lowercase();
    let mut heard = Vec::new();
    let sayings: [(&str, f64); 8] = [
        ("once per crank turn", 1.0),
        ("once per turn", 1.0),
        ("once a turn", 1.0),
        ("every turn", 1.0),
        ("twice per turn", 2.0),
        ("twice a turn", 2.0),
        ("every other turn", 0.5),
        ("every third turn", 1.0 / 3.0),
    ];
    if let Some((phrase, times)) = sayings.iter().find(|(phrase, _)| lower.contains(phrase))
        && let Some(start) = lower.find(phrase)
        && text.is_char_boundary(start)
    {
        let given = Given::Quantity(crate::units::Reading::exact(*times, &PLAIN));
        heard.push(Heard { input: "per-crank", given, span: start..start + phrase.len() });
    }
    if let Some(found) = size(text).filter(|s| s.width.is_some()) {
        heard.push(Heard { input: "size", given: Given::Text(text[found.span.clone()].to_owned()), span: found.span });
    }
    heard
}

/// One part and how often it comes round for each turn of the cranks.
struct Part {
    name: String,
    order: f64,
}

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let cadence = values.need("cadence")?;
    let mut parts = Vec::new();
    let mut wheel = 1.0;
    if let (Some(ring), Some(sprocket)) = (values.si("ring"), values.si("sprocket")) {
        wheel = ring / sprocket;
        geared(values, ring, sprocket, cadence, &mut parts, &mut out)?;
    }
    if has_bearing(values) {
        let (balls, ball, circle) = (values.need("balls")?, values.need("ball")?, values.need("circle")?);
        if ball >= circle || balls * ball > std::f64::consts::PI * circle * 1.02 {
            return Err(CalcError::Contradiction(
                "so many balls of that size do not fit on that circle; check count and sizes".into(),
            ));
        }
        let o = orders(balls, ball, circle, values.need("contact")?);
        let mut add = |id: &'static str, name: &str, order: f64| {
            out.figure(id, order).band(order * 0.97, order * 1.03);
            parts.push(Part { name: name.to_owned(), order: order * wheel });
        };
        add("bearing-outer", "hub bearing, outer race", o.outer);
        add("bearing-inner", "hub bearing, inner race", o.inner);
        add("bearing-cage", "hub bearing, cage", o.cage);
        add("bearing-ball", "hub bearing, ball", o.ball);
    }
    let per_crank = values.si("per-crank").or_else(|| values.si("heard").map(|hz| hz / cadence));
    if let Some(heard) = per_crank {
        matches(heard, if values.has("per-crank") { 0.2 } else { 0.12 }, &parts, &mut out);
    }
    table(&parts, cadence, &mut out);
    Ok(out)
}

fn geared(
    values: &Values,
    ring: f64,
    sprocket: f64,
    cadence: f64,
    parts: &mut Vec<Part>,
    out: &mut Outcome,
) -> Result<(), CalcError> {
    let (links, pulley) = (values.need("links")?, values.need("pulley")?);
    if links < ring.max(sprocket) {
        return Err(CalcError::Contradiction(
            "a chain has more links than its largest ring has teeth; count again".into(),
        ));
    }
    let wheel = ring / sprocket;
    out.figure("wheel", wheel);
    out.figure("chain", links / ring).note("a stiff link or a bad joint is heard once in that time");
    out.figure("repeat-sprocket", f64::from(repeats(links as u32, sprocket as u32)));
    out.figure("repeat-ring", f64::from(repeats(links as u32, ring as u32)));
    out.figure("tooth", ring * cadence);
    let mut part = |name: &str, order: f64| parts.push(Part { name: name.to_owned(), order });
    part("chain, one link", ring / links);
    part("crank, one pedal, bottom bracket", 1.0);
    part("both pedals or both crank strokes", 2.0);
    part("wheel, tyre, rim, rotor, one spoke", wheel);
    part("guide pulley", ring / pulley);
    part("teeth of ring and sprocket", ring);
    if let Some(points) = values.si("engagement") {
        out.figure("engagement-angle", 2.0 * std::f64::consts::PI / points);
        out.figure("freewheel", points * wheel * cadence);
        part("freewheel, coasting at this speed", points * wheel);
    }
    let turn = match values.text("size").and_then(size) {
        Some(one) => one.width.map(|width| circumference(one.bead_seat, width)),
        None => values.si("circumference"),
    };
    if let Some(turn) = turn {
        out.then(format!(
            "At this cadence the bike rolls at {}.",
            values.say(turn * wheel * cadence, super::kit::common::AS_KMH)
        ));
    }
    Ok(())
}

/// Counted turns are told in round numbers, rates more closely.
fn matches(heard: f64, within: f64, parts: &[Part], out: &mut Outcome) {
    out.figure("heard", heard);
    let off = |part: &Part| (heard / part.order).ln().abs();
    let mut near: Vec<&Part> = parts.iter().filter(|part| off(part) < within).collect();
    near.sort_by(|a, b| off(a).total_cmp(&off(b)));
    match near.as_slice() {
        [] => out.then("No part turns that often: count again over more turns, in another gear; if the rate follows speed, look at the wheels, if it follows neither, it is friction or something loose."),
        found => {
            let names: Vec<&str> = found.iter().take(3).map(|part| part.name.as_str()).collect();
            out.then(format!("Turning that often: {}.", names.join("; or ")));
            out.then("Change gear at the same speed: what follows the cranks stays with the pedals, what follows the wheel stays with the speed.");
        }
    }
}

fn table(parts: &[Part], cadence: f64, out: &mut Outcome) {
    let mut sorted: Vec<&Part> = parts.iter().collect();
    sorted.sort_by(|a, b| a.order.total_cmp(&b.order));
    let rows = sorted
        .iter()
        .map(|p| vec![p.name.clone(), format!("{:.2}", p.order), format!("{:.2}", p.order * cadence)])
        .collect();
    out.table = Some(Table {
        title: "How often each part comes round".into(),
        head: ["part", "for each crank turn", "a second"].map(str::to_owned).to_vec(),
        rows,
    });
    let bars =
        sorted.iter().map(|p| Bar { label: p.name.clone(), value: p.order, low: p.order, high: p.order }).collect();
    out.chart = Some(Chart::Bars { unit: "a crank turn", bars });
}

#[cfg(test)]
mod tests {
    use super::super::kit::{parse_inputs, run};
    use super::*;

    #[test]
    fn a_noise_is_matched() {
        let next = |text: &str| run(&CALC, &parse_inputs(&CALC, text).values).unwrap().next.join(" ");
        assert!(next("ring 32, sprocket 16, once per turn").contains("bottom bracket"));
        assert!(next("ring 42, sprocket 15, 110 links, per crank turn 0.38").contains("chain, one link"));
        assert!(next("ring 42, sprocket 15, 90 rpm, heard 4.2 Hz").contains("wheel"));
        assert!(next("ring 42, sprocket 15, per crank turn 7.3").contains("No part"));
    }

    #[test]
    fn freewheels() {
        // 30 km/h on 2.105 m is 3.959 wheel turns a second; 36 points click 142.5 times (CALC). 36 -> 10 degrees.
        let rpm = 30.0 / 3.6 / 2.105 * 60.0 / 2.0;
        let text = format!("ring 34, sprocket 17, {rpm:.4} rpm, engagement 36");
        let outcome = run(&CALC, &parse_inputs(&CALC, &text).values).unwrap();
        assert!((outcome.get("freewheel").unwrap().quantity.si - 142.5).abs() < 0.1);
        assert!((outcome.get("engagement-angle").unwrap().quantity.value_in(&DEG).unwrap() - 10.0).abs() < 1e-9);
    }
}
