//! Cockpit geometry: reach and rise of stem, spacers and bar, and what a change does.
//!
//! Owns the meaning of the stem angle. Must not know riders' arms.

use super::kit::common::{AS_DEG1, AS_MM1, DEGREES, SMALL};
use super::kit::{
    CalcError, Calculator, Example, Input, InputKind, Outcome, OutputSpec, Pick, Preset, Values, ask, check, output,
    quantity,
};
use super::law::frame::{spacers, stem};
use crate::units::{Dimension, MM};

const REFERENCES: &[Pick] = &[
    Pick {
        id: "steerer",
        says: "From the perpendicular to the steerer, as stems are marked (+ up, - down)",
        words: &["perpendicular", "as marked"],
    },
    Pick {
        id: "ground",
        says: "From the ground, measured with an inclinometer on the bike",
        words: &["from the ground", "to the ground", "horizontal", "inclinometer"],
    },
    Pick {
        id: "inner",
        says: "The inner angle of stem and steerer, such as 80 or 97",
        words: &["inner angle", "included angle"],
    },
];

const INPUTS: &[Input] = &[
    ask(
        "stem",
        &["stem length", "stem"],
        "How long is the stem?",
        "From the centre of the steerer to the centre of the bar.",
        quantity(Dimension::Length, (0.03, 0.14), (0.0, 0.2), SMALL),
    ),
    ask(
        "stem-angle",
        &["stem angle", "stem rise", "old stem angle"],
        "What is the stem's angle?",
        "Printed on it, such as 6 or 17; minus when it points down.",
        quantity(Dimension::Angle, (-0.45, 0.7), (-1.6, 2.8), DEGREES),
    ),
    ask(
        "head-angle",
        &["head angle", "head tube angle"],
        "What is the head angle?",
        "From the geometry sheet.",
        quantity(Dimension::Angle, (1.08, 1.32), (0.87, 1.57), DEGREES),
    ),
    ask(
        "spacers",
        &["spacers", "spacer"],
        "How high are the spacers under the stem?",
        "All rings between the headset and the stem.",
        quantity(Dimension::Length, (0.0, 0.05), (0.0, 0.12), SMALL),
    )
    .preset(Preset::Value(0.0, &MM)),
    ask(
        "reference",
        &["reference of the stem angle", "angle from"],
        "From where is the stem's angle measured?",
        "A clamp-on stem is marked from the perpendicular to the steerer.",
        InputKind::Choice(REFERENCES),
    )
    .preset(Preset::Choice("steerer")),
    ask(
        "new-stem",
        &["new stem", "other stem", "new stem length"],
        "How long is the other stem?",
        "As for the first.",
        quantity(Dimension::Length, (0.03, 0.14), (0.0, 0.2), SMALL),
    )
    .optional(),
    ask(
        "new-stem-angle",
        &["new stem angle", "other stem angle", "new angle"],
        "What is the other stem's angle?",
        "As for the first.",
        quantity(Dimension::Angle, (-0.45, 0.7), (-1.6, 2.8), DEGREES),
    )
    .optional(),
    ask(
        "new-spacers",
        &["new spacers", "other spacers"],
        "How high will the spacers be?",
        "Moving a spacer above the stem takes it away from below.",
        quantity(Dimension::Length, (0.0, 0.05), (0.0, 0.12), SMALL),
    )
    .optional(),
    ask(
        "add-spacers",
        &["more spacers", "added spacers", "spacers more"],
        "By how much more spacers go under the stem?",
        "Less is negative.",
        quantity(Dimension::Length, (-0.05, 0.05), (-0.12, 0.12), SMALL),
    )
    .optional(),
    ask(
        "bar-rise",
        &["more bar rise", "bar rise"],
        "By how much does the other bar rise more?",
        "Lower is negative.",
        quantity(Dimension::Length, (-0.04, 0.06), (-0.2, 0.2), SMALL),
    )
    .optional(),
    ask(
        "bar-reach",
        &["more bar reach", "bar reach"],
        "By how much does the other bar reach more?",
        "Shorter is negative.",
        quantity(Dimension::Length, (-0.04, 0.04), (-0.2, 0.2), SMALL),
    )
    .optional(),
];

const OUTPUTS: &[OutputSpec] = &[
    output("reach-change", "The bar moves forward by", AS_MM1),
    output("rise-change", "The bar moves up by", AS_MM1),
    output("reach", "Stem and spacers now: forward", AS_MM1),
    output("rise", "Stem and spacers now: up", AS_MM1),
    output("new-reach", "The other way: forward", AS_MM1),
    output("new-rise", "The other way: up", AS_MM1),
    output("ground-angle", "The stem points up from the ground by", AS_DEG1),
];

pub(super) static CALC: Calculator = Calculator {
    id: "cockpit",
    title: "Stem, spacers and bar",
    asks: &[
        "shorter stem, how much closer",
        "what does a different stem do",
        "raise the handlebar with spacers",
        "stem angle reach and rise",
        "bar too far away or too low",
        "flip the stem",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "The stem points up from the ground by 90 - head angle + stem angle; forward = length x cos of that, up = length x sin. A spacer h moves the bar back by h x cos(head angle) and up by h x sin(head angle).",
    worth: "Exact geometry to about a millimetre, if the stem's angle is taken from the perpendicular to the steerer, as it is marked. What the body needs is another question: change by a centimetre at most and ride.",
    sources: &["tbis-4210-2", "common-practice"],
    cautions: &[
        "Tighten stem bolts to the values printed on the stem; set the headset play again after any change of spacers. The steerer ends at most 5 mm below the top of a clamp-on stem (tbis-4210-2).",
        "Check cables and hoses at full lock both ways.",
    ],
    examples: &[
        Example {
            says: "stem 90 mm, stem angle -10, head angle 72.5, new stem angle 0",
            expect: &[check("rise-change", 15.3, &MM, 0.1), check("reach-change", -3.4, &MM, 0.1)],
            source: "a published worked example: 15.3 mm higher, 3.4 mm shorter (read)",
        },
        Example {
            says: "110 mm stem, stem angle -6 deg, head angle 73",
            expect: &[check("reach", 107.98, &MM, 0.01), check("rise", 20.99, &MM, 0.01)],
            source: "geometry, computed",
        },
        Example {
            says: "stem 100 mm, stem angle 6, head angle 73, spacers 20 mm, new spacers 30 mm",
            expect: &[check("reach-change", -2.92, &MM, 0.01), check("rise-change", 9.56, &MM, 0.01)],
            source: "geometry of a 10 mm spacer, computed",
        },
        Example {
            says: "stem 110 mm, stem angle -6 from the ground, head angle 73",
            expect: &[check("reach", 109.4, &MM, 0.05), check("rise", -11.5, &MM, 0.05)],
            source: "right only for an angle to the ground, computed",
        },
    ],
    hear: None,
    deduce: None,
    run,
};

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let head = values.need("head-angle")?;
    let marked = |angle: f64| match values.choice("reference") {
        Some("ground") => angle - (std::f64::consts::FRAC_PI_2 - head),
        Some("inner") => angle - std::f64::consts::FRAC_PI_2,
        _ => angle,
    };
    let (length, angle, height) = (values.need("stem")?, marked(values.need("stem-angle")?), values.need("spacers")?);
    if angle.abs() > 1.2 {
        return Err(CalcError::Contradiction("no stem points so steeply from the perpendicular to the steerer; say whether the angle is the inner one or from the ground".into()));
    }
    let place = |length: f64, angle: f64, height: f64| {
        let (a, b) = (stem(length, angle, head), spacers(height, head));
        (a.0 + b.0, a.1 + b.1)
    };
    let now = place(length, angle, height);
    let changes = ["new-stem", "new-stem-angle", "new-spacers", "add-spacers", "bar-rise", "bar-reach"]
        .iter()
        .any(|id| values.has(id));
    if changes {
        let mut new = place(
            values.si("new-stem").unwrap_or(length),
            values.si("new-stem-angle").map_or(angle, marked),
            values.si("new-spacers").unwrap_or(height) + values.si("add-spacers").unwrap_or(0.0),
        );
        new.0 += values.si("bar-reach").unwrap_or(0.0);
        new.1 += values.si("bar-rise").unwrap_or(0.0);
        out.figure("reach-change", new.0 - now.0).note("forward; negative is closer to you");
        out.figure("rise-change", new.1 - now.1).note("up; negative is lower");
        out.figure("new-reach", new.0);
        out.figure("new-rise", new.1);
        if (new.0 - now.0).hypot(new.1 - now.1) > 0.03 {
            out.warn(
                "That is a large move of the hands: steering and breathing space change with it; go half way first.",
            );
        }
    }
    out.figure("reach", now.0).note("from the centre of the steerer at the top of the headset");
    out.figure("rise", now.1);
    out.figure("ground-angle", std::f64::consts::FRAC_PI_2 - head + angle);
    out.then("Square the bar by sighting it against the two fork legs, then ride the same loop before and after.");
    Ok(out)
}
