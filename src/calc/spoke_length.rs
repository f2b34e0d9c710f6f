//! Spoke length for any lacing, both sides of a wheel.
//!
//! Owns the lacing limits. Must not know tension.

use super::kit::common::{AS_DEG1, AS_MM1, FRAME, SMALL};
use super::kit::{
    CalcError, Calculator, Example, Input, Outcome, OutputSpec, Preset, Values, ask, check, count, output, quantity,
};
use super::law::spoke::{Side, length};
use crate::units::{Dimension, MM};

const INPUTS: &[Input] = &[
    ask(
        "rim",
        &["effective rim diameter", "erd", "rim diameter", "rim"],
        "What is the rim's effective diameter (ERD)?",
        "Two old spokes with nipples glued so that their ends meet where a spoke should end: measure across the rim, add their lengths. Or the rim's papers.",
        quantity(Dimension::Length, (0.35, 0.62), (0.2, 0.75), FRAME),
    ),
    ask(
        "flange",
        &["flange diameter", "flange", "hole circle", "pcd"],
        "How large is the circle of spoke holes in the hub flange?",
        "Centre to centre of opposite holes.",
        quantity(Dimension::Length, (0.03, 0.105), (0.015, 0.4), SMALL),
    ),
    ask(
        "offset",
        &["flange offset", "offset", "centre to flange"],
        "How far is that flange from the hub's middle?",
        "Middle of the axle's lock-nuts to the middle of the flange.",
        quantity(Dimension::Length, (0.012, 0.045), (0.0, 0.12), SMALL),
    ),
    ask(
        "spokes",
        &["spokes", "holes", "hole count"],
        "How many spokes has the whole wheel?",
        "Count them.",
        count((16, 40), (8, 144)),
    ),
    ask(
        "crosses",
        &["crosses", "cross", "crossings", "x"],
        "How many other spokes does each cross?",
        "0 for radial; 3 is common.",
        count((0, 4), (0, 9)),
    )
    .preset(Preset::Count(3)),
    ask(
        "hole",
        &["hole diameter", "flange hole", "spoke hole"],
        "How wide are the holes in the flange?",
        "A drill shank; about 2.5 mm (from memory).",
        quantity(Dimension::Length, (0.002, 0.003), (0.0, 0.006), SMALL),
    )
    .preset(Preset::Value(2.5, &MM)),
    ask(
        "other-flange",
        &["other flange diameter", "other flange", "second flange"],
        "How large is the hole circle of the other flange?",
        "If it differs.",
        quantity(Dimension::Length, (0.03, 0.105), (0.015, 0.4), SMALL),
    )
    .optional(),
    ask(
        "other-offset",
        &["other offset", "second offset"],
        "How far is the other flange from the middle?",
        "As for the first.",
        quantity(Dimension::Length, (0.012, 0.045), (0.0, 0.12), SMALL),
    )
    .optional(),
];

const OUTPUTS: &[OutputSpec] = &[
    output("length", "Spoke length", AS_MM1),
    output("other-length", "Spoke length, other side", AS_MM1),
    output("angle", "Lacing angle at the hub", AS_DEG1),
];

pub(super) static CALC: Calculator = Calculator {
    id: "spoke-length",
    title: "Spoke length",
    asks: &[
        "how long must the spokes be",
        "spoke length for a 3 cross wheel",
        "build a wheel spokes",
        "replace a broken spoke length",
        "erd and flange",
        "spoke calculator",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Length = sqrt(offset^2 + r1^2 + r2^2 - 2 r1 r2 cos a) - hole / 2; r1 half the hole circle, r2 half the ERD, a = 720 degrees x crosses / spokes.",
    worth: "Exact geometry: the ERD decides. Round to the nearest millimetre; 1 mm short is better than 1 mm long. Measure the ERD yourself, printed ones differ by what their makers mean.",
    sources: &["spoke-formula", "from-memory"],
    cautions: &[
        "Replace all spokes of a side that has broken more than one; wheels with spokes missing are not to be ridden (the law asks for all of them).",
    ],
    examples: &[
        Example {
            says: "erd 555 mm, flange diameter 58 mm, offset 39 mm, 36 spokes, 3 cross, hole diameter 2.6 mm",
            expect: &[check("length", 265.8, &MM, 0.05)],
            source: "spoke-formula: published example 265.8 (read)",
        },
        Example {
            says: "erd 602 mm, flange 39 mm, offset 30 mm, spokes 36, crosses 3, hole diameter 2.2 mm",
            expect: &[check("length", 292.18, &MM, 0.01)],
            source: "spoke-formula: sample inputs (read), value computed",
        },
        Example {
            says: "erd 600 mm, flange 40 mm, offset 35 mm, 32 spokes, radial, hole diameter 0 mm",
            expect: &[check("length", 282.18, &MM, 0.01)],
            source: "radial lacing by Pythagoras, computed",
        },
    ],
    hear: Some(hear),
    deduce: None,
    run,
};

fn hear(text: &str) -> Vec<super::kit::Heard> {
    let lower = text.to_lowercase();
    let found = lower.find("radial").filter(|&start| text.is_char_boundary(start));
    found
        .map(|start| super::kit::Heard { input: "crosses", given: super::kit::Given::Count(0), span: start..start + 6 })
        .into_iter()
        .collect()
}

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let spokes = values.need("spokes")?;
    if spokes % 2.0 != 0.0 {
        return Err(CalcError::Contradiction("the whole wheel has an even number of spokes; count both sides".into()));
    }
    let side = Side {
        rim: values.need("rim")?,
        flange: values.need("flange")?,
        offset: values.need("offset")?,
        hole: values.need("hole")?,
        spokes: spokes / 2.0,
        crosses: values.need("crosses")?,
    };
    if side.flange >= side.rim {
        return Err(CalcError::Contradiction("the flange is larger than the rim; the two may be swapped".into()));
    }
    let angle = 2.0 * std::f64::consts::PI * side.crosses / side.spokes;
    if angle > 0.55 * std::f64::consts::PI {
        return Err(CalcError::NoAnswer(format!("{} crossings cannot be laced with {spokes} spokes", side.crosses)));
    }
    let one = length(side);
    out.figure("length", one).band(one - 0.001, one + 0.001).note("round to a whole millimetre, rather down");
    if values.has("other-flange") || values.has("other-offset") {
        let other = Side {
            flange: values.si("other-flange").unwrap_or(side.flange),
            offset: values.si("other-offset").unwrap_or(side.offset),
            ..side
        };
        if other.flange >= other.rim {
            return Err(CalcError::Contradiction("the other flange is larger than the rim; check it".into()));
        }
        let two = length(other);
        out.figure("other-length", two).band(two - 0.001, two + 0.001);
    } else {
        out.assume("The other side has the same flange and offset; a rear or disc wheel seldom has.");
    }
    out.figure("angle", angle);
    if angle > std::f64::consts::FRAC_PI_2 + 0.02 {
        out.warn("Beyond a right angle the spoke heads lie under neighbouring spokes: one crossing less is usual.");
    }
    Ok(out)
}
