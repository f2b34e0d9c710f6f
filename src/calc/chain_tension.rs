//! Chain tension: the pull of the chain from pedal force or power, and the load on a part.
//!
//! Owns pull and safety factor. Must not know gears.

use super::kit::common::{AS_COUNT1, AS_MM1, AS_NEWTON, AS_NM, CADENCE, FORCES, POWERS, SMALL};
use super::kit::{
    CalcError, Calculator, Example, Input, Outcome, OutputSpec, Preset, Shown, Values, ask, check, count, output,
    quantity, shown,
};
use super::law::chain::pitch_diameter;
use crate::units::{Dimension, MM, MPH, MPS, N, NM, TIMES};

fn by_force(values: &Values) -> bool {
    !values.has("power")
}

const INPUTS: &[Input] = &[
    ask(
        "ring",
        &["ring", "chainring", "sprocket", "teeth"],
        "How many teeth has the ring (or the sprocket that turns at the given cadence)?",
        "Stamped on it.",
        count((20, 60), (8, 130)),
    ),
    ask(
        "force",
        &["pedal force", "force", "push"],
        "How hard is the pedal pushed?",
        "Standing on it, your weight: 80 kg push with 785 N.",
        quantity(Dimension::Force, (100.0, 1500.0), (1.0, 5000.0), FORCES),
    )
    .when(by_force),
    ask(
        "crank",
        &["crank", "crank length"],
        "How long is the crank?",
        "Stamped on the back of the arm.",
        quantity(Dimension::Length, (0.145, 0.180), (0.09, 0.25), SMALL),
    )
    .preset(Preset::Value(170.0, &MM))
    .when(by_force)
    .free(),
    ask(
        "power",
        &["power", "watts"],
        "Which power goes through the chain?",
        "Instead of a force; with the cadence.",
        quantity(Dimension::Power, (50.0, 1500.0), (1.0, 50_000.0), POWERS),
    )
    .optional()
    .free(),
    ask(
        "cadence",
        &["cadence", "rpm", "turns"],
        "At which cadence?",
        "Turns a minute of that ring.",
        quantity(Dimension::Frequency, (0.5, 2.5), (0.05, 60.0), CADENCE),
    )
    .when(|v| v.has("power")),
    ask(
        "strength",
        &["breaking load", "strength"],
        "At which load does the chain break?",
        "The law asks for at least 8010 N.",
        quantity(Dimension::Force, (6230.0, 14_000.0), (500.0, 200_000.0), FORCES),
    )
    .preset(Preset::Value(8010.0, &N)),
    ask(
        "pitch",
        &["pitch", "chain pitch"],
        "What is the pitch of the chain?",
        "12.7 mm on bicycles.",
        quantity(Dimension::Length, (0.0126, 0.0128), (0.005, 0.04), SMALL),
    )
    .preset(Preset::Value(12.7, &MM)),
];

const AS_MPS: Shown = shown(&MPS, &MPH, (2, 2));

const OUTPUTS: &[OutputSpec] = &[
    output("tension", "Pull of the chain", AS_NEWTON),
    output("torque", "Torque at the ring", AS_NM),
    output("factor", "Breaking load over pull", AS_COUNT1),
    output("radius", "Pitch radius of the ring", AS_MM1),
    output("chain-speed", "Speed of the chain", AS_MPS),
];

pub(super) static CALC: Calculator = Calculator {
    id: "chain-tension",
    title: "Chain tension and torque",
    asks: &[
        "how hard does the chain pull",
        "chain tension from pedal force",
        "force on the chain standing on the pedals",
        "torque at the crank",
        "will the chain break",
        "load on hub and sprocket",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Pull = pedal force x crank / pitch radius of the ring, crank level; pitch radius = p / (2 sin(180/N)). Or pull = power / chain speed, chain speed = teeth x pitch x turns a second.",
    worth: "Exact at the moment it is told for; over a turn the pull swings widely. The breaking load is a legal least, good chains hold more.",
    sources: &["bhandari-2010", "cfr-1512", "iso-9633"],
    cautions: &[
        "A chain that skips or has a stiff or bent link can part far below its strength: replace it before riding hard.",
    ],
    examples: &[
        Example {
            says: "force 100 N, crank 7 in, ring 52",
            expect: &[check("tension", 169.06, &N, 0.3)],
            source: "a published ratio of 1.69 for a 7 in crank on 8.281 in (read)",
        },
        Example {
            says: "power 14.32 kW, 1000 rpm, sprocket 17, pitch 19.05 mm, breaking load 31100 N",
            expect: &[check("factor", 11.722_224, &TIMES, 1e-5), check("chain-speed", 5.3975, &MPS, 1e-6)],
            source: "bhandari-2010, example 14.1 (read)",
        },
        Example {
            says: "pedal force 56 kgf, crank 170, ring 32",
            expect: &[check("torque", 93.36, &NM, 0.04), check("tension", 1441.3, &N, 0.6)],
            source: "inputs of a student page (read), computed with the true pitch radius",
        },
    ],
    hear: None,
    deduce: None,
    run,
};

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let (teeth, pitch) = (values.need("ring")?, values.need("pitch")?);
    let radius = pitch_diameter(teeth, pitch) / 2.0;
    let tension = if let Some(power) = values.si("power") {
        let speed = teeth * pitch * values.need("cadence")?;
        out.figure("chain-speed", speed);
        power / speed
    } else {
        values.need("force")? * values.need("crank")? / radius
    };
    out.figure("tension", tension);
    out.figure("torque", tension * radius);
    out.figure("radius", radius);
    let factor = values.need("strength")? / tension;
    out.figure("factor", factor);
    if factor < 2.0 {
        out.warn("That is more than half of what the chain must hold: check the figures, and inspect the chain after such loads.");
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::super::kit::{parse_inputs, run};
    use super::*;

    #[test]
    fn a_wrong_radius_is_not_used() {
        // A student page takes 50 mm for 32 teeth and would get 1868 N; the pitch radius is 64.8 mm.
        let outcome = run(&CALC, &parse_inputs(&CALC, "force 56 kgf, crank 170 mm, ring 32").values).unwrap();
        let pull = outcome.get("tension").unwrap().quantity.si;
        assert!((pull - 1868.0).abs() > 400.0);
        assert!((outcome.get("radius").unwrap().quantity.value_in(&MM).unwrap() - 64.8).abs() < 0.05);
    }

    #[test]
    fn a_textbook_drive() {
        // Textbook companion 30-3 (READ): 9.52 mm, 21 teeth, 1000 rpm, 2.56 kW -> 3.332 m/s, 767.6 N (with its 4-figure speed).
        let values = parse_inputs(&CALC, "power 2.56 kW, 1000 rpm, ring 21, pitch 9.52 mm").values;
        let outcome = run(&CALC, &values).unwrap();
        assert!((outcome.get("chain-speed").unwrap().quantity.si - 3.332).abs() < 1e-3);
        assert!((outcome.get("tension").unwrap().quantity.si - 768.3).abs() < 1.0);
    }
}
