//! Steering geometry: trail, mechanical trail, flop, and what angle, offset, tyre and sag do to them.
//!
//! Owns the use of the trail formulae. Must not know how steering feels: that is for the rider.

use super::kit::common::{AS_DEG1, AS_MM1, DEGREES, FRAME, SMALL};
use super::kit::{
    CalcError, Calculator, Example, Given, Heard, Input, Outcome, OutputSpec, Values, ask, check, output, quantity,
    text,
};
use super::law::frame::{flop, mechanical_trail, pitch, trail};
use super::law::tyre::size;
use crate::units::{Dimension, MM};

const INPUTS: &[Input] = &[
    ask(
        "head-angle",
        &["head angle", "head tube angle", "steering angle"],
        "What is the head angle?",
        "From the geometry sheet, or an inclinometer on the fork with the rider off.",
        quantity(Dimension::Angle, (1.08, 1.32), (0.7, 1.57), DEGREES),
    ),
    ask(
        "offset",
        &["offset", "fork offset", "rake", "fork rake"],
        "How far ahead of the steering axis is the axle (offset, rake)?",
        "From the fork's papers.",
        quantity(Dimension::Length, (0.035, 0.060), (-0.05, 0.15), SMALL),
    ),
    ask(
        "radius",
        &["wheel radius", "radius", "rolling radius"],
        "How large is the wheel's radius: half its diameter?",
        "From the ground to the centre of the axle, rider aboard.",
        quantity(Dimension::Length, (0.24, 0.38), (0.10, 0.42), FRAME),
    )
    .when(|values| !values.has("size")),
    ask(
        "size",
        &["tyre size", "tyre", "wheel size"],
        "Which tyre is on the front wheel?",
        "Printed on its side, such as 57-622 or 29x2.4.",
        text("57-622"),
    )
    .optional(),
    ask(
        "new-offset",
        &["new offset", "other offset", "new rake"],
        "Which offset has the other fork?",
        "From its papers.",
        quantity(Dimension::Length, (0.035, 0.060), (-0.05, 0.15), SMALL),
    )
    .optional(),
    ask(
        "new-head-angle",
        &["new head angle", "other head angle"],
        "Which head angle will it be?",
        "As for the first.",
        quantity(Dimension::Angle, (1.08, 1.32), (0.7, 1.57), DEGREES),
    )
    .optional(),
    ask(
        "sag",
        &["fork sag", "sag", "fork sinks"],
        "By how much does the fork sink?",
        "Seal to ring, rider aboard; a longer fork is negative.",
        quantity(Dimension::Length, (-0.03, 0.06), (-0.15, 0.25), SMALL),
    )
    .optional(),
    ask(
        "wheelbase",
        &["wheelbase"],
        "How long is the wheelbase?",
        "Axle to axle.",
        quantity(Dimension::Length, (0.95, 1.35), (0.6, 2.0), FRAME),
    )
    .when(|values| values.has("sag")),
];

const OUTPUTS: &[OutputSpec] = &[
    output("trail", "Trail", AS_MM1),
    output("mechanical-trail", "Mechanical trail (square to the steering axis)", AS_MM1),
    output("flop", "Wheel flop", AS_MM1),
    output("new-trail", "Trail after the change", AS_MM1),
    output("trail-change", "Trail changes by", AS_MM1),
    output("new-head-angle", "Head angle after the change", AS_DEG1),
    output("radius", "Wheel radius reckoned with", AS_MM1),
];

pub(super) static CALC: Calculator = Calculator {
    id: "steering-geometry",
    title: "Steering geometry",
    asks: &[
        "trail of my fork",
        "fork offset and trail",
        "steering feels nervous or floppy",
        "wheel flop",
        "what does a longer fork do to the head angle",
        "head angle and trail",
        "rake",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Trail = (R cos head angle - offset) / sin head angle, R the wheel's radius. Mechanical trail = R cos head angle - offset. Flop = trail x sin x cos of the head angle. Sag steepens the head angle by the pitch of the bike.",
    worth: "Exact geometry; the radius under load is a few millimetres smaller than the size says. More offset means less trail, a steeper angle means less trail. What a rider feels depends on weight, tyre and bar as well.",
    sources: &["iso-5775", "common-practice"],
    cautions: &[
        "A fork of other length or offset than the frame was made for changes more than trail: ask the frame's maker before fitting it.",
    ],
    examples: &[
        Example {
            says: "head angle 72, offset 50 mm, radius 336 mm",
            expect: &[check("trail", 56.6, &MM, 0.1)],
            source: "published forum table 59.7 / 56.6 / 50.4 (read)",
        },
        Example {
            says: "head angle 73, offset 43 mm, radius 336 mm, new offset 50 mm",
            expect: &[
                check("trail", 57.76, &MM, 0.05),
                check("new-trail", 50.4, &MM, 0.1),
                check("trail-change", -7.32, &MM, 0.01),
            ],
            source: "published forum table (read): more offset, less trail",
        },
        Example {
            says: "head angle 73, offset 45 mm, radius 340 mm",
            expect: &[
                check("trail", 56.89, &MM, 0.05),
                check("mechanical-trail", 54.41, &MM, 0.05),
                check("flop", 15.91, &MM, 0.05),
            ],
            source: "geometry, computed",
        },
        Example {
            says: "head angle 66, offset 44 mm, 29x2.4, sag 30 mm, wheelbase 1200",
            expect: &[check("radius", 371.96, &MM, 0.01)],
            source: "iso-5775 diameters: 622 mm plus two widths, computed",
        },
    ],
    hear: Some(hear),
    deduce: None,
    run,
};

/// "29x2.4", "57-622".
fn hear(text: &str) -> Vec<Heard> {
    let heard = |found: super::law::tyre::Size| Heard {
        input: "size",
        given: Given::Text(text[found.span.clone()].to_owned()),
        span: found.span,
    };
    size(text).filter(|s| s.width.is_some()).map(heard).into_iter().collect()
}

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let (head, offset) = (values.need("head-angle")?, values.need("offset")?);
    let radius = match values.text("size") {
        Some(text) => {
            let unreadable = || {
                CalcError::Unreadable(format!(
                    "\"{text}\" is no tyre size; something like 57-622 or 29x2.4 is understood"
                ))
            };
            let size = size(text).ok_or_else(unreadable)?;
            size.bead_seat / 2.0 + size.width.ok_or_else(unreadable)?
        }
        None => values.need("radius")?,
    };
    let now = trail(radius, offset, head);
    out.figure("trail", now);
    out.figure("mechanical-trail", mechanical_trail(radius, offset, head));
    out.figure("flop", flop(radius, offset, head));
    out.figure("radius", radius);
    if now < 0.0 {
        out.warn("Negative trail does not steer by itself: check offset and angle.");
    }
    let mut new_head = values.si("new-head-angle").unwrap_or(head);
    if let Some(sag) = values.si("sag") {
        new_head += pitch(sag, values.need("wheelbase")?, new_head);
    }
    let changed = ["new-offset", "new-head-angle", "sag"].iter().any(|id| values.has(id));
    if changed {
        let then = trail(radius, values.si("new-offset").unwrap_or(offset), new_head);
        out.figure("new-trail", then);
        out.figure("trail-change", then - now).note(if then < now {
            "quicker, less steady"
        } else {
            "steadier, slower"
        });
        out.figure("new-head-angle", new_head);
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::super::kit::parse_inputs;
    use super::*;

    #[test]
    fn a_diameter_is_refused() {
        let parsed = parse_inputs(&CALC, "head angle 73, offset 45 mm, radius 680 mm");
        assert!(parsed.problems[0].contains("420 mm"), "{:?}", parsed.problems);
    }
}
