//! Bar roll on a hardtail: how far the bike pitches as the fork sinks, and how far to roll the bar back at rest.
//!
//! Owns the use of the pitch formula. Must not know rear suspension: with it the bike sinks at both ends.

use super::kit::common::{AS_DEG1, AS_DEG2, AS_DEG4, AS_MM0, AS_MM1, AS_MM2, AS_PLAIN3, DEGREES, FRAME, SHARE, SMALL};
use super::kit::{
    CalcError, Calculator, Example, Input, Outcome, OutputSpec, Preset, Values, ask, check, output, quantity,
};
use super::law::frame::{bb_change, pitch, wheelbase_sunk};
use crate::units::{DEG, Dimension, MM, PERCENT, PLAIN};

const INPUTS: &[Input] = &[
    ask(
        "wheelbase",
        &["wheelbase", "axle distance"],
        "How long is the wheelbase?",
        "From axle to axle along the ground, or from the frame's geometry sheet.",
        quantity(Dimension::Length, (0.95, 1.35), (0.6, 2.0), FRAME),
    ),
    ask(
        "head-angle",
        &["head angle", "head tube angle", "steering angle"],
        "What is the head angle?",
        "From the geometry sheet, or a phone's inclinometer along the fork leg with the rider off.",
        quantity(Dimension::Angle, (1.08, 1.32), (0.87, 1.5), DEGREES),
    ),
    ask(
        "sag",
        &["fork sag", "sag", "ring"],
        "By how much does the fork sink with you aboard?",
        "Push the rubber ring down to the seal, sit on the bike in riding kit, get off gently, measure from seal to ring.",
        quantity(Dimension::Length, (0.005, 0.07), (0.0, 0.25), SMALL),
    )
    .optional().free(),
    ask(
        "travel",
        &["fork travel", "travel"],
        "How much travel has the fork?",
        "The length of bright leg that can slide; it is often printed on the fork.",
        quantity(Dimension::Length, (0.05, 0.18), (0.02, 0.25), SMALL),
    )
    .when(|values| !values.has("sag")),
    ask(
        "share",
        &["share of sag", "sag percent", "share", "percent sag"],
        "Which share of the travel is sag?",
        "25 % is common practice where it was not measured.",
        quantity(Dimension::Ratio, (0.1, 0.4), (0.0, 0.9), SHARE),
    )
    .preset(Preset::Value(25.0, &PERCENT))
    .when(|values| !values.has("sag")),
    ask(
        "seat-angle",
        &["seat angle", "seat tube angle"],
        "What is the seat-tube angle?",
        "From the geometry sheet.",
        quantity(Dimension::Angle, (1.15, 1.40), (0.95, 1.57), DEGREES),
    )
    .optional(),
    ask(
        "chainstay",
        &["chainstay", "rear centre"],
        "How long are the chainstays?",
        "From the centre of the crank axle to the rear axle.",
        quantity(Dimension::Length, (0.40, 0.48), (0.25, 0.7), FRAME),
    )
    .preset(Preset::Value(430.0, &MM)),
    ask(
        "drop",
        &["bottom bracket drop", "bb drop", "drop"],
        "How far below the axles is the crank axle?",
        "From the geometry sheet.",
        quantity(Dimension::Length, (0.0, 0.085), (-0.1, 0.12), SMALL),
    )
    .preset(Preset::Value(50.0, &MM)),
    ask(
        "clamp",
        &["clamp diameter", "bar diameter", "clamp"],
        "How thick is the bar in the stem clamp?",
        "31.8 or 35 mm on most bikes; stamped on bar or stem.",
        quantity(Dimension::Length, (0.0254, 0.035), (0.02, 0.05), SMALL),
    )
    .preset(Preset::Value(31.8, &MM)),
];

const OUTPUTS: &[OutputSpec] = &[
    output("roll", "Roll the bar back at rest by", AS_DEG1),
    output("roll-arc", "Seen at the clamp that is", AS_MM1),
    output("sag", "Fork sag reckoned with", AS_MM0),
    output("pitch-per-mm", "Pitch for each mm of sag", AS_DEG4),
    output("head-angle", "Head angle with the rider aboard", AS_DEG2),
    output("seat-angle", "Seat angle with the rider aboard", AS_DEG2),
    output("wheelbase", "Wheelbase with the rider aboard", AS_MM1),
    output("bb-change", "Crank axle rises by (lower is negative)", AS_MM2),
    output("bb-per-mm", "Crank axle for each mm of sag", AS_PLAIN3),
];

pub(super) static CALC: Calculator = Calculator {
    id: "bar-roll",
    title: "Rolling the bar on a hardtail",
    asks: &[
        "how far to roll the bar back",
        "bar roll hardtail sag",
        "handlebar rolled forward when I sit on it",
        "head angle with sag",
        "rotate the handlebar in the stem",
        "grips level with rider aboard",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "A hardtail turns about its rear axle as the fork sinks: pitch = arctan(sag x sin head angle / (wheelbase - sag x cos head angle)). Head and seat angle grow by the pitch; the bar rolls forward by it, so it is rolled back by the same at rest.",
    worth: "Plain geometry for equal wheels and a rigid rear end; it agrees within 2 % with a frame builder's published figures. Which roll feels right is taste: start level with the rider aboard.",
    sources: &["common-practice"],
    cautions: &[
        "After rolling the bar, check that levers still reach, cables are not stretched at full lock, and the clamp bolts have the printed torque.",
    ],
    examples: &[
        Example {
            says: "wheelbase 1058 mm, head angle 71, sag 80 mm, chainstay 425 mm, drop 30 mm",
            expect: &[check("pitch-per-mm", 0.0521, &DEG, 0.00105), check("bb-per-mm", -0.3868, &PLAIN, 0.0078)],
            source: "a frame builder's page of 2007: 0.0521 degrees and -0.3868 mm for each mm (read)",
        },
        Example {
            says: "wheelbase 1090, head angle 70.5, sag 25 mm",
            expect: &[check("head-angle", 71.75, &DEG, 0.05)],
            source: "forum check: 25 mm of sag took 70.5 to \"almost 72\" (read), value computed",
        },
        Example {
            says: "1200 mm wheelbase, 65 degree head angle, fork travel 120 mm",
            expect: &[
                check("roll", 1.312, &DEG, 0.001),
                check("wheelbase", 1187.6, &MM, 0.1),
                check("sag", 30.0, &MM, 0.01),
            ],
            source: "common practice 25 % sag, no source; geometry computed",
        },
    ],
    hear: None,
    deduce: None,
    run,
};

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let (wheelbase, head) = (values.need("wheelbase")?, values.need("head-angle")?);
    let (chainstay, drop) = (values.need("chainstay")?, values.need("drop")?);
    let sag = match values.si("sag") {
        Some(sag) => sag,
        None => values.need("travel")? * values.need("share")?,
    };
    if let Some(travel) = values.si("travel")
        && sag > travel
    {
        return Err(CalcError::Contradiction(format!(
            "a sag of {} is more than the travel of {}",
            values.say(sag, AS_MM0),
            values.say(travel, AS_MM0)
        )));
    }
    if drop.abs() >= chainstay || chainstay >= wheelbase {
        return Err(CalcError::Contradiction(
            "the chainstay must be shorter than the wheelbase and longer than the drop".into(),
        ));
    }
    let angle = pitch(sag, wheelbase, head);
    let rise = bb_change(angle, chainstay, drop);
    out.figure("roll", angle).band(angle * 0.9, angle * 1.1).note("back, so that the bar is level with you aboard");
    out.figure("roll-arc", angle * values.need("clamp")? / 2.0);
    out.figure("sag", sag);
    if sag > 0.0 {
        out.figure("pitch-per-mm", angle / (sag * 1000.0));
        out.figure("bb-per-mm", rise / sag);
    }
    out.figure("head-angle", head + angle);
    if let Some(seat) = values.si("seat-angle") {
        out.figure("seat-angle", seat + angle).note("steeper than the sheet says; the saddle nose dips by the same");
    }
    out.figure("wheelbase", wheelbase_sunk(sag, wheelbase, head));
    out.figure("bb-change", rise);
    out.assume("Rigid rear end (a hardtail) and wheels of equal size.");
    out.then("Sit on the bike as you ride it and have the grips looked at from the side, or lay a phone's inclinometer on the bar.");
    out.then(format!("Loosen the stem's bar clamp a little and roll the bar back by {}.", values.say(angle, AS_DEG1)));
    out.then("Ride, then try 2 mm further and 2 mm less at the clamp, one change a ride; keep the better.");
    Ok(out)
}
