//! Gearing: ratio, development, speed, climbing, steps, duplicates and derailleur capacity.
//!
//! Owns the gear table. Must not know chain length or chainline.

use super::kit::common::{
    AS_COUNT, AS_KMH, AS_M2, AS_PERCENT0, AS_PERCENT1, AS_PLAIN2, CADENCE, FRAME, POWERS, SMALL, WEIGHT,
};
use super::kit::{
    CalcError, Calculator, Chart, Example, Given, Heard, Input, Outcome, OutputSpec, Preset, Rung, Table, Values, ask,
    check, numbers_in, output, quantity, text,
};
use super::law::gear::{capacity, development, gain, gear_inches};
use super::law::ride::{Drag, steepest};
use super::law::tyre::{circumference, size};
use crate::units::{Dimension, KMH, M, MM, PLAIN, RPM, TIMES, lex};

const INPUTS: &[Input] = &[
    ask(
        "rings",
        &["rings", "chainrings", "ring", "chainring", "front"],
        "How many teeth have the chainrings?",
        "Stamped on them; all of them, such as 50/34.",
        text("50/34"),
    ),
    ask(
        "sprockets",
        &["sprockets", "cassette", "sprocket", "cog", "freewheel"],
        "How many teeth have the sprockets?",
        "Stamped on the smallest and largest, such as 11-34; all of them for the whole table.",
        text("11-34"),
    ),
    ask(
        "circumference",
        &["circumference", "roll out", "rolled", "wheel circumference"],
        "How far does the wheel roll in one turn?",
        "Roll it out, or give the tyre size instead.",
        quantity(Dimension::Length, (1.2, 2.4), (0.7, 2.8), FRAME),
    )
    .when(|v| !v.has("size"))
    .free(),
    ask(
        "size",
        &["tyre size", "tyre"],
        "Which tyre is on the rear wheel?",
        "Printed on its side, such as 28-622.",
        text("28-622"),
    )
    .optional(),
    ask(
        "cadence",
        &["cadence", "rpm"],
        "At which cadence do you like to pedal?",
        "Turns of the cranks a minute.",
        quantity(Dimension::Frequency, (0.9, 2.0), (0.2, 4.0), CADENCE),
    )
    .preset(Preset::Value(85.0, &RPM))
    .free(),
    ask(
        "crank",
        &["crank", "crank length"],
        "How long are the cranks?",
        "Stamped on the back of the arm.",
        quantity(Dimension::Length, (0.145, 0.180), (0.09, 0.23), SMALL),
    )
    .preset(Preset::Value(170.0, &MM))
    .free(),
    ask(
        "power",
        &["power", "watts"],
        "Which power can you hold on a climb?",
        "From a meter or a guess; 150 to 250 W is common for riders who train.",
        quantity(Dimension::Power, (60.0, 450.0), (10.0, 2500.0), POWERS),
    )
    .optional()
    .free(),
    ask(
        "mass",
        &["weight all up", "all up", "total weight", "weight", "rider and bike"],
        "How heavy are rider, bike and luggage together?",
        "A scale, once with and once without the bike.",
        quantity(Dimension::Mass, (50.0, 150.0), (20.0, 400.0), WEIGHT),
    )
    .when(|v| v.has("power")),
];

const OUTPUTS: &[OutputSpec] = &[
    output("ratio", "Ratio (largest gear)", AS_PLAIN2),
    output("development", "Way for one turn of the cranks (largest gear)", AS_M2),
    output("gear-inches", "Gear inches (largest gear)", AS_PLAIN2),
    output("gain", "Gain ratio (largest gear)", AS_PLAIN2),
    output("speed", "Speed at that cadence (largest gear)", AS_KMH),
    output("low-development", "Way for one turn (smallest gear)", AS_M2),
    output("low-speed", "Speed at that cadence (smallest gear)", AS_KMH),
    output("range", "Largest gear over smallest", AS_PERCENT0),
    output("capacity", "Capacity the derailleur needs, teeth", AS_COUNT),
    output("largest-step", "Largest step between neighbours", AS_PERCENT0),
    output("duplicates", "Gears that nearly repeat another", AS_COUNT),
    output("steepest", "Steepest slope at that cadence and power", AS_PERCENT1),
];

pub(super) static CALC: Calculator = Calculator {
    id: "gearing",
    title: "Gearing",
    asks: &[
        "gear ratio",
        "gear inches",
        "development in metres",
        "is my lowest gear low enough",
        "derailleur capacity",
        "how fast at a cadence of 90 rpm",
        "how steep can I climb",
        "42x15",
        "bigger cassette",
        "spin out on descents",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Ratio = ring / sprocket; development = ratio x circumference; gear inches = development / (0.0254 pi); gain = ratio x wheel radius / crank; speed = cadence x development. Capacity = (largest - smallest ring) + (largest - smallest sprocket). Steepest slope from power = speed x (air + rolling + slope) / 0.98.",
    worth: "Gears are exact; the circumference carries 1 %. The slope is an estimate: drag area 0.4 m2 and rolling 0.005 are from memory. Capacity is one limit, the largest sprocket a derailleur takes is another.",
    sources: &["gear-brown", "martin-1998", "circumference-brown", "from-memory"],
    cautions: &[
        "A derailleur beyond its capacity or largest sprocket can be torn off: ask its maker's papers before fitting.",
    ],
    examples: &[
        Example {
            says: "42x15, circumference 2100 mm",
            expect: &[check("development", 5.88, &M, 0.005)],
            source: "a junior-gear page: 5.88 m (read)",
        },
        Example {
            says: "rings 44/32/24, cassette 12-34, circumference 2100 mm",
            expect: &[check("capacity", 42.0, &TIMES, 1e-9)],
            source: "a published definition of capacity: 42 (read)",
        },
        Example {
            says: "rings 53/39, cassette 12-23, circumference 2.1 m",
            expect: &[check("capacity", 25.0, &TIMES, 1e-9)],
            source: "a published definition of capacity: 25 (read)",
        },
        Example {
            says: "46x17 at 85 rpm, circumference 2096 mm",
            expect: &[check("speed", 28.92, &KMH, 0.01), check("development", 5.672, &M, 0.001)],
            source: "arithmetic",
        },
        Example {
            says: "44x16, crank 170, circumference 2154.5 mm",
            expect: &[check("gear-inches", 74.25, &PLAIN, 0.01), check("gain", 5.547, &PLAIN, 0.001)],
            source: "27 inch wheel, computed",
        },
    ],
    hear: Some(hear),
    deduce: None,
    run,
};

/// "42x15", "28-622".
fn hear(text: &str) -> Vec<Heard> {
    let mut heard = Vec::new();
    if let Some(found) = size(text).filter(|s| s.width.is_some()) {
        heard.push(Heard { input: "size", given: Given::Text(text[found.span.clone()].to_owned()), span: found.span });
    }
    let tokens = lex(text);
    for i in 0..tokens.len() {
        let teeth =
            |k: usize| tokens.get(k).and_then(|t| t.number()).filter(|n| n.fract() == 0.0 && (9.0..=66.0).contains(n));
        if let (Some(ring), Some(sprocket)) = (teeth(i), teeth(i + 2))
            && tokens[i + 1].glued
            && (tokens[i + 1].is("x") || tokens[i + 1].is("×"))
        {
            heard.push(Heard { input: "rings", given: Given::Text(ring.to_string()), span: tokens[i].span.clone() });
            heard.push(Heard {
                input: "sprockets",
                given: Given::Text(sprocket.to_string()),
                span: tokens[i + 2].span.clone(),
            });
        }
    }
    heard
}

fn teeth(values: &Values, id: &'static str) -> Result<Vec<f64>, CalcError> {
    let text = values.text(id).ok_or(CalcError::Missing(vec![id]))?;
    let mut all: Vec<f64> = numbers_in(&text.replace('-', " "));
    if all.is_empty() || all.len() > 16 || all.iter().any(|n| n.fract() != 0.0 || !(8.0..=80.0).contains(n)) {
        return Err(CalcError::Unreadable(format!(
            "{id} \"{text}\": teeth from 8 to 80 are understood, such as 50/34 or 11-34"
        )));
    }
    all.sort_by(f64::total_cmp);
    all.dedup();
    Ok(all)
}

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let (rings, sprockets) = (teeth(values, "rings")?, teeth(values, "sprockets")?);
    let turn = match values.text("size") {
        Some(text) => {
            let unreadable =
                || CalcError::Unreadable(format!("\"{text}\" is no tyre size; something like 28-622 is understood"));
            let size = size(text).ok_or_else(unreadable)?;
            circumference(size.bead_seat, size.width.ok_or_else(unreadable)?)
        }
        None => values.need("circumference")?,
    };
    let (cadence, crank) = (values.need("cadence")?, values.need("crank")?);
    let (Some(&big), Some(&small)) = (rings.last(), rings.first()) else {
        return Err(CalcError::Missing(vec!["rings"]));
    };
    let (Some(&large), Some(&tiny)) = (sprockets.last(), sprockets.first()) else {
        return Err(CalcError::Missing(vec!["sprockets"]));
    };
    let (high, low) = (development(big, tiny, turn), development(small, large, turn));
    out.figure("ratio", big / tiny);
    out.figure("development", high).band(high * 0.99, high * 1.01);
    out.figure("gear-inches", gear_inches(high));
    out.figure("gain", gain(big, tiny, turn, crank));
    out.figure("speed", high * cadence);
    let single = rings.len() == 1 && sprockets.len() == 1;
    if !single {
        out.figure("low-development", low);
        out.figure("low-speed", low * cadence);
        out.figure("range", high / low);
        out.figure("capacity", capacity((small, big), (tiny, large)));
    }
    if let (Some(watts), Some(mass)) = (values.si("power"), values.si("mass")) {
        let drag = Drag { area: 0.4, rolling: 0.005, mass, air: 1.225, drivetrain: 0.98 };
        let slope = steepest(watts, low * cadence, drag);
        let grade = slope / (1.0 - slope * slope).sqrt();
        out.figure("steepest", grade)
            .band(grade - 0.01, grade + 0.01)
            .note("in the smallest gear; below that cadence steeper is possible");
        out.assume("Drag area 0.4 m2, rolling resistance 0.005, no wind (from memory).");
    }
    ladder(&rings, &sprockets, turn, cadence, &mut out);
    Ok(out)
}

fn ladder(rings: &[f64], sprockets: &[f64], turn: f64, cadence: f64, out: &mut Outcome) {
    let mut gears: Vec<(f64, f64, f64)> = Vec::new();
    for &ring in rings {
        gears.extend(sprockets.iter().map(|&sprocket| (ring, sprocket, development(ring, sprocket, turn))));
    }
    gears.sort_by(|a, b| a.2.total_cmp(&b.2));
    if sprockets.len() > 2 {
        let step = sprockets.windows(2).map(|w| w[1] / w[0] - 1.0).fold(0.0, f64::max);
        out.figure("largest-step", step);
        let near = gears.windows(2).filter(|w| w[0].0 != w[1].0 && w[1].2 / w[0].2 < 1.03).count();
        out.figure("duplicates", near as f64).note("within 3 % of a gear on another ring");
    }
    let rungs = gears.iter().map(|(r, s, d)| Rung { label: format!("{r}x{s}"), value: *d }).collect();
    out.chart = Some(Chart::Ladder { unit: "m", rungs });
    let row = |g: &(f64, f64, f64)| {
        vec![
            format!("{}x{}", g.0, g.1),
            format!("{:.2}", g.0 / g.1),
            format!("{:.2}", g.2),
            format!("{:.0}", gear_inches(g.2)),
            format!("{:.1}", g.2 * cadence * 3.6),
        ]
    };
    out.table = Some(Table {
        title: "Gears, smallest first".into(),
        head: ["gear", "ratio", "m a turn", "gear inches", "km/h"].map(str::to_owned).to_vec(),
        rows: gears.iter().map(row).collect(),
    });
}

#[cfg(test)]
mod tests {
    use super::super::kit::{parse_inputs, run};
    use super::*;

    #[test]
    fn a_whole_drivetrain() {
        let text = "rings 50/34, cassette 11 12 13 14 15 17 19 21 24 27 30, 28-622, 250 watts, all up 85 kg";
        let outcome = run(&CALC, &parse_inputs(&CALC, text).values).unwrap();
        assert_eq!(outcome.table.as_ref().unwrap().rows.len(), 22);
        let get = |id: &str| outcome.get(id).unwrap().quantity.si;
        assert_eq!(get("capacity"), 35.0);
        assert!((get("largest-step") - 0.1429).abs() < 1e-3);
        assert!(get("steepest") > 0.05 && get("steepest") < 0.15);
    }
}
