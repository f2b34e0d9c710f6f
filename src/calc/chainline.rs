//! Chainline: how far the chain runs aslant in each gear.
//!
//! Owns offsets and angles. Must not know what a derailleur can do about it.

use super::kit::common::{AS_DEG2, AS_MM1, AS_PERCENT2, FRAME, SMALL};
use super::kit::{
    CalcError, Calculator, Example, Input, Outcome, OutputSpec, Preset, Table, Values, ask, check, count, output,
    quantity,
};
use crate::units::{DEG, Dimension, MM, PERCENT};

fn no_offset(values: &Values) -> bool {
    !values.has("offset")
}

fn cassette(values: &Values) -> bool {
    no_offset(values) && values.has("sprockets")
}

const INPUTS: &[Input] = &[
    ask(
        "centre",
        &["chainstay", "centre distance", "centre", "distance"],
        "How far is the crank axle from the rear axle?",
        "Along the chainstay.",
        quantity(Dimension::Length, (0.35, 0.50), (0.15, 1.5), FRAME),
    ),
    ask(
        "offset",
        &["sideways offset", "offset", "lateral offset", "out of line"],
        "How far is ring and sprocket out of line sideways, if you measured it?",
        "A straight edge along the ring towards the sprockets.",
        quantity(Dimension::Length, (0.0, 0.03), (-0.08, 0.08), SMALL),
    )
    .optional()
    .free(),
    ask(
        "front",
        &["front chainline", "chainline", "ring chainline"],
        "How far is the middle of the ring set from the bike's middle plane?",
        "From the middle of the seat tube to the middle of the rings: half the tube plus the gap.",
        quantity(Dimension::Length, (0.040, 0.060), (0.02, 0.09), SMALL),
    )
    .when(no_offset),
    ask(
        "rear",
        &["rear chainline", "cassette chainline", "sprocket chainline"],
        "How far is the middle of the sprocket set from the bike's middle plane?",
        "From the middle of the axle's width to the middle of the sprockets.",
        quantity(Dimension::Length, (0.036, 0.056), (0.01, 0.09), SMALL),
    )
    .when(no_offset),
    ask(
        "sprockets",
        &["sprockets", "speeds", "number of sprockets", "speed"],
        "How many sprockets are there?",
        "Count them.",
        count((1, 12), (1, 14)),
    )
    .optional(),
    ask(
        "spacing",
        &["spacing", "sprocket spacing"],
        "How far are the sprockets apart, centre to centre?",
        "Set width divided by the gaps; about 3.9 mm on 11, more on fewer (from memory).",
        quantity(Dimension::Length, (0.0033, 0.0055), (0.002, 0.015), SMALL),
    )
    .preset(Preset::Value(3.9, &MM))
    .when(cassette),
    ask("rings", &["rings", "number of rings"], "How many rings are there?", "Count them.", count((1, 3), (1, 4)))
        .preset(Preset::Count(1))
        .when(no_offset),
    ask(
        "ring-spacing",
        &["ring spacing"],
        "How far are the rings apart?",
        "Centre to centre; about 7.5 mm (from memory).",
        quantity(Dimension::Length, (0.004, 0.012), (0.002, 0.03), SMALL),
    )
    .preset(Preset::Value(7.5, &MM))
    .when(|v| no_offset(v) && v.si("rings").is_some_and(|n| n > 1.0)),
];

const OUTPUTS: &[OutputSpec] = &[
    output("offset", "Out of line by (set middles)", AS_MM1),
    output("angle", "Angle of the chain", AS_DEG2),
    output("worst-in", "Outer ring with the largest sprocket: inner extreme", AS_DEG2),
    output("worst-out", "Inner ring with the smallest sprocket: outer extreme", AS_DEG2),
    output("loss", "Pull lost sideways", AS_PERCENT2),
    output("move", "To even out, move the rings outwards by", AS_MM1),
];

pub(super) static CALC: Calculator = Calculator {
    id: "chainline",
    title: "Chainline",
    asks: &[
        "chainline offset",
        "chain runs at an angle",
        "which gears cross chain",
        "cross chaining noise",
        "chain rubs in the extreme gears",
        "single speed chain out of line",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Angle = arctan(sideways offset / centre distance). Chainline = distance of a set's middle from the bike's middle plane; equal front and rear values keep the extremes smallest.",
    worth: "Exact geometry. What angle is too much has no source: noise and wear grow with it, and modern chains bend far. The pull lost is negligible.",
    sources: &["spicer-2001", "from-memory"],
    cautions: &[
        "If the chain touches a neighbouring sprocket or ring in an extreme gear, do not ride there under load: it can climb and jam.",
    ],
    examples: &[
        Example {
            says: "offset 5 mm, centre distance 391 mm",
            expect: &[check("angle", 0.733, &DEG, 0.001), check("loss", 0.0082, &PERCENT, 0.0005)],
            source: "forum check: 0.73 degrees, 0.01 % (read), computed",
        },
        Example {
            says: "chainstay 435 mm, front chainline 52 mm, rear chainline 45 mm",
            expect: &[check("offset", 7.0, &MM, 1e-6), check("move", -7.0, &MM, 1e-6)],
            source: "definition of chainline (read), arithmetic",
        },
        Example {
            says: "chainstay 435 mm, front chainline 49 mm, rear chainline 45 mm, 12 sprockets, spacing 3.6 mm",
            expect: &[check("worst-in", 3.13, &DEG, 0.01), check("worst-out", -2.08, &DEG, 0.01)],
            source: "geometry, computed",
        },
    ],
    hear: None,
    deduce: None,
    run,
};

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let centre = values.need("centre")?;
    let angle = |offset: f64| (offset / centre).atan();
    if let Some(offset) = values.si("offset") {
        out.figure("offset", offset);
        out.figure("angle", angle(offset));
        out.figure("loss", 1.0 - angle(offset).cos());
        return Ok(out);
    }
    let (front, rear) = (values.need("front")?, values.need("rear")?);
    let offset = front - rear;
    out.figure("offset", offset).note("rings further out than sprockets is positive");
    out.figure("angle", angle(offset));
    out.figure("loss", 1.0 - angle(offset).cos());
    out.figure("move", -offset).note("negative: inwards, with spacers or another axle, if the parts allow it");
    let n = values.si("sprockets").unwrap_or(1.0);
    let rings = values.si("rings").unwrap_or(1.0);
    if n > 1.0 {
        gears(offset, n, rings, values, angle, &mut out);
    }
    Ok(out)
}

/// Every gear; positive where the chain runs inwards to the rear.
fn gears(offset: f64, n: f64, rings: f64, values: &Values, angle: impl Fn(f64) -> f64, out: &mut Outcome) {
    let (spacing, apart) = (values.si("spacing").unwrap_or(0.0039), values.si("ring-spacing").unwrap_or(0.0075));
    let side = |ring: f64, sprocket: f64| {
        offset + (ring - (rings + 1.0) / 2.0) * apart + ((n + 1.0) / 2.0 - sprocket) * spacing
    };
    // Sprocket 1 is the innermost (largest), ring 1 the innermost (smallest).
    let (inner, outer) = (side(rings, 1.0), side(1.0, n));
    out.figure("worst-in", angle(inner));
    out.figure("worst-out", angle(outer));
    let worst = inner.abs().max(outer.abs());
    let mut rows = Vec::new();
    for ring in 1..=rings as u32 {
        for sprocket in 1..=n as u32 {
            let s = side(f64::from(ring), f64::from(sprocket));
            let note = if s.abs() > worst * 2.0 / 3.0 { "far across" } else { "" };
            rows.push(vec![
                ring.to_string(),
                sprocket.to_string(),
                values.say(s, AS_MM1),
                format!("{:.2}", angle(s).to_degrees()),
                note.to_owned(),
            ]);
        }
    }
    out.table = Some(Table {
        title: "Gears, innermost ring and largest sprocket first".into(),
        head: ["ring", "sprocket", "out of line", "degrees", ""].map(str::to_owned).to_vec(),
        rows,
    });
}
