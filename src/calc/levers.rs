//! Brake levers: whether both sides match, and whether the hand can reach.
//!
//! Owns the comparison and the legal reach. Must not know brakes.

use super::kit::common::{AS_DEG1, AS_MM1, DEGREES, SMALL};
use super::kit::{
    CalcError, Calculator, Example, Input, InputKind, Outcome, OutputSpec, Pick, Preset, Values, ask, check, output,
    quantity,
};
use crate::units::{DEG, Dimension, MM};

const RIDERS: &[Pick] = &[
    Pick { id: "adult", says: "A grown-up's bike: at most 89 mm", words: &["adult", "grown up"] },
    Pick {
        id: "child",
        says: "A child's bike: at most 75 mm",
        words: &["child", "child's", "kid", "kids", "kid's", "children's"],
    },
];

fn pair(values: &Values) -> bool {
    !values.has("grip") || values.has("left") || values.has("right")
}

fn angles(values: &Values) -> bool {
    values.has("left-angle") || values.has("right-angle")
}

const INPUTS: &[Input] = &[
    ask(
        "left",
        &["left distance", "left", "left lever"],
        "How far is the left lever's clamp from the left end of the bar?",
        "From the bar end to the same edge of the clamp on both sides.",
        quantity(Dimension::Length, (0.08, 0.25), (0.0, 0.45), SMALL),
    )
    .when(pair),
    ask(
        "right",
        &["right distance", "right", "right lever"],
        "How far is the right lever's clamp from the right end of the bar?",
        "As on the left.",
        quantity(Dimension::Length, (0.08, 0.25), (0.0, 0.45), SMALL),
    )
    .when(pair),
    ask(
        "left-angle",
        &["left angle", "left lever angle"],
        "At which angle does the left lever point down?",
        "A phone's inclinometer along the lever, bike upright.",
        quantity(Dimension::Angle, (-0.1, 1.0), (-1.6, 1.6), DEGREES),
    )
    .optional(),
    ask(
        "right-angle",
        &["right angle", "right lever angle"],
        "At which angle does the right lever point down?",
        "As on the left.",
        quantity(Dimension::Angle, (-0.1, 1.0), (-1.6, 1.6), DEGREES),
    )
    .optional(),
    ask(
        "tolerance",
        &["tolerance"],
        "Which difference do you allow?",
        "2 mm is a hair by eye; hands may ask for more on purpose.",
        quantity(Dimension::Length, (0.0005, 0.01), (0.0, 0.05), SMALL),
    )
    .preset(Preset::Value(2.0, &MM)),
    ask(
        "angle-tolerance",
        &["angle tolerance"],
        "Which difference of angle do you allow?",
        "A phone reads to about a degree.",
        quantity(Dimension::Angle, (0.005, 0.1), (0.0, 0.3), DEGREES),
    )
    .preset(Preset::Value(1.0, &DEG))
    .when(angles),
    ask(
        "grip",
        &["lever reach", "grip", "reach", "grip reach"],
        "How far is the middle of the lever from the grip, over the outside of both?",
        "From the pivot side measured at the middle of the lever, where the fingers pull.",
        quantity(Dimension::Length, (0.04, 0.095), (0.01, 0.2), SMALL),
    )
    .optional(),
    ask("rider", &["kind of rider", "for"], "For a grown-up or a child?", "", InputKind::Choice(RIDERS))
        .preset(Preset::Choice("adult"))
        .when(|values| values.has("grip")),
];

const OUTPUTS: &[OutputSpec] = &[
    output("distance-difference", "Right lever further in by", AS_MM1),
    output("angle-difference", "Right lever points lower by", AS_DEG1),
    output("move", "Move the right lever outwards by", AS_MM1),
    output("reach", "Reach of the lever", AS_MM1),
    output("reach-margin", "Left to the limit", AS_MM1),
];

pub(super) static CALC: Calculator = Calculator {
    id: "levers",
    title: "Lever position and reach",
    asks: &[
        "brake levers not level",
        "levers at different angles",
        "set both levers the same",
        "lever too far for small hands",
        "brake lever reach",
        "one lever lower than the other",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Right minus left, for the distances from the bar ends and for the angles, against a tolerance. Reach against the greatest grip the law allows: 89 mm, or 76 mm on small bikes, 75 mm on young children's.",
    worth: "Measured symmetry is a start. Hands are not always equal: if mirrored feels wrong, close your eyes, put the hands where they fall and clamp the levers there. No standard gives a lever angle; a straight wrist while braking is what all advice shares.",
    sources: &["common-practice", "cfr-1512", "iso-8098"],
    cautions: &[
        "Tighten lever clamps to the value printed on them; a lever that turns in a fall may save a finger, one that slips while braking may not. Try both brakes before riding.",
    ],
    examples: &[
        Example {
            says: "left 150 mm, right 155 mm",
            expect: &[check("distance-difference", 5.0, &MM, 1e-6), check("move", 5.0, &MM, 1e-6)],
            source: "common practice, no source: the same distance from both bar ends",
        },
        Example {
            says: "left 150 mm, right 150 mm, left angle 30, right angle 34 deg",
            expect: &[check("angle-difference", 4.0, &DEG, 1e-6)],
            source: "common practice, no source: the same angle, measured",
        },
        Example {
            says: "lever reach 85 mm",
            expect: &[check("reach-margin", 4.0, &MM, 1e-6)],
            source: "cfr-1512 (b)(3): at most 89 mm (read)",
        },
        Example {
            says: "kid's bike, lever reach 80 mm",
            expect: &[check("reach-margin", -5.0, &MM, 1e-6)],
            source: "iso-8098: at most 75 mm (read); the US figure is 76 mm (read)",
        },
    ],
    hear: None,
    deduce: None,
    run,
};

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    if let (Some(left), Some(right)) = (values.si("left"), values.si("right")) {
        let difference = right - left;
        let matched = difference.abs() <= values.need("tolerance")?;
        out.figure("distance-difference", difference).note(if matched { "they match" } else { "they do not match" });
        out.figure("move", difference).note("negative: inwards");
        if !matched {
            out.then(
                "Loosen the clamp of the one that feels wrong, move it, tighten to the printed value, measure again.",
            );
        }
    }
    if let (Some(left), Some(right)) = (values.si("left-angle"), values.si("right-angle")) {
        let matched = (right - left).abs() <= values.need("angle-tolerance")?;
        out.figure("angle-difference", right - left).note(if matched {
            "they match"
        } else {
            "turn one of them on the bar"
        });
    }
    if let Some(grip) = values.si("grip") {
        let limit = if values.choice("rider") == Some("child") { 0.075 } else { 0.089 };
        out.figure("reach", grip);
        out.figure("reach-margin", limit - grip)
            .note("the first finger should reach the end of the lever without letting go");
        if grip > limit {
            out.warn(
                "Beyond what the law allows on a new bike: turn the reach screw in, or fit levers for smaller hands.",
            );
        }
        out.then("Most levers have a small screw that brings the blade nearer; see that the lever still does not touch the grip when pulled hard.");
    }
    if values.has("left-angle") != values.has("right-angle") {
        return Err(CalcError::Missing(vec!["the other lever's angle"]));
    }
    Ok(out)
}
