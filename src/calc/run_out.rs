//! Run-out and clearance of a wheel: measured wobble and room against law, standards and practice.
//!
//! Owns the comparison. Must not know how to true a wheel.

use super::kit::common::{AS_MM2, SMALL};
use super::kit::{
    Bar, CalcError, Calculator, Chart, Example, Input, InputKind, Outcome, OutputSpec, Pick, Preset, Values, ask,
    check, output, quantity,
};
use crate::units::{Dimension, MM};

const BRAKES: &[Pick] = &[
    Pick { id: "rim", says: "Rim brake", words: &["rim brake", "rim brakes"] },
    Pick { id: "other", says: "Disc or hub brake", words: &["disc", "discs", "disk", "hub brake", "coaster"] },
];

fn nothing_else(values: &Values) -> bool {
    !values.has("gap") && !values.has("radial")
}

const INPUTS: &[Input] = &[
    ask(
        "lateral",
        &["side to side", "lateral", "sideways", "wobble", "run out"],
        "How much does the rim move side to side over one turn?",
        "A pointer fixed to fork or stay, smallest to largest gap; the whole span counts.",
        quantity(Dimension::Length, (0.0, 0.004), (0.0, 0.06), SMALL),
    )
    .when(nothing_else),
    ask(
        "radial",
        &["up and down", "radial", "hop", "out of round"],
        "How much does it move up and down?",
        "As sideways, at the rim's outer edge.",
        quantity(Dimension::Length, (0.0, 0.004), (0.0, 0.06), SMALL),
    )
    .optional(),
    ask(
        "gap",
        &["gap", "clearance", "room", "tyre clearance"],
        "How much room is between tyre and frame or fork at the tightest place of the turn?",
        "A drill shank as a feeler.",
        quantity(Dimension::Length, (0.0005, 0.03), (0.0, 0.2), SMALL),
    )
    .optional(),
    ask("brake", &["brake"], "Which brake?", "", InputKind::Choice(BRAKES)).preset(Preset::Choice("rim")),
];

const OUTPUTS: &[OutputSpec] = &[
    output("lateral", "Side to side", AS_MM2),
    output("radial", "Up and down", AS_MM2),
    output("yardstick", "Yardstick reckoned with", AS_MM2),
    output("over", "More than the yardstick by", AS_MM2),
    output("gap", "Room at the tightest place", AS_MM2),
    output("law-margin", "More than the law's 1.6 mm by", AS_MM2),
    output("race-margin", "More than 4 mm by", AS_MM2),
];

pub(super) static CALC: Calculator = Calculator {
    id: "run-out",
    title: "Wheel wobble and clearance",
    asks: &[
        "wheel wobbles side to side",
        "how true must a wheel be",
        "wheel not round hop",
        "tyre rubs the frame clearance",
        "run-out limit",
        "buckled wheel",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Full indicator reading over one turn without axle play, both sides of the rim, the greater counts. Compared with 0.8 mm for rim brakes (a standard for assisted bikes) or 2 mm for others (a manual), and the gap with 1.6 mm by law and 4 mm asked of racing bikes.",
    worth: "No United States law limits wobble: clearance is its test. Standards differ by brake and kind; builders work to about 0.15 mm (from memory). What matters is whether it rubs, and whether it grows.",
    sources: &["tbis-4210-7", "tbis-15194", "cfr-1512", "en-14781", "from-memory"],
    cautions: &[
        "A wheel that touches frame, fork or brake while turning is not to be ridden; nor one whose wobble came from a blow or a broken spoke until it was looked at.",
    ],
    examples: &[
        Example {
            says: "side to side 1.5 mm",
            expect: &[check("over", 0.7, &MM, 1e-6)],
            source: "tbis-15194: 0.8 mm for rim-brake wheels (read in part)",
        },
        Example {
            says: "gap 3 mm",
            expect: &[check("law-margin", 1.4, &MM, 1e-6), check("race-margin", -1.0, &MM, 1e-6)],
            source: "cfr-1512 11(b): 1.6 mm; en-14781: 4 mm (read)",
        },
        Example {
            says: "lateral 0.4 mm, radial 0.3 mm, disc",
            expect: &[check("lateral", 0.4, &MM, 1e-9), check("radial", 0.3, &MM, 1e-9)],
            source: "common practice, no source: measured as it is",
        },
    ],
    hear: None,
    deduce: None,
    run,
};

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let rim_brake = values.choice("brake") == Some("rim");
    let yardstick = if rim_brake { 0.0008 } else { 0.002 };
    let (lateral, radial) = (values.si("lateral"), values.si("radial"));
    if let Some(most) = [lateral, radial].into_iter().flatten().reduce(f64::max) {
        for (id, value) in [("lateral", lateral), ("radial", radial)] {
            if let Some(value) = value {
                out.figure(id, value).band((value - 0.0001).max(0.0), value + 0.0001);
            }
        }
        out.figure("yardstick", yardstick);
        out.figure("over", most - yardstick).note(if most <= yardstick { "within it" } else { "true it" });
        if most > 0.005 {
            out.warn("So large a wobble comes from a blow, a broken spoke or a loose hub: find that first.");
        }
        let bar =
            |label: &str, v: f64| Bar { label: label.to_owned(), value: v * 1000.0, low: v * 1000.0, high: v * 1000.0 };
        out.chart = Some(Chart::Bars {
            unit: "mm",
            bars: vec![
                bar("this wheel", most),
                bar("builders, about", 0.000_15),
                bar("standard, rim brake", 0.0008),
                bar("a manual", 0.002),
            ],
        });
        out.then("Check the hub for play first, then each spoke by hand and ear, then true by quarter turns.");
    }
    if let Some(gap) = values.si("gap") {
        out.figure("gap", gap);
        out.figure("law-margin", gap - 0.0016);
        out.figure("race-margin", gap - 0.004);
        if gap < 0.0016 {
            out.warn(
                "Less than the law's 1.6 mm: do not ride so; a narrower tyre or a straight, centred wheel is needed.",
            );
        } else if gap < 0.004 {
            out.warn("It clears the law but leaves no room for mud, stones or a bent rim.");
        }
        if lateral.is_some_and(|l| l > 2.0 * gap) {
            out.warn("The wobble is larger than twice the gap: it must touch somewhere; one of the figures is off.");
        }
    }
    if out.figures.is_empty() {
        return Err(CalcError::Missing(vec!["side to side"]));
    }
    Ok(out)
}
