//! Leg model: knee bend at the bottom of the stroke from segment lengths and set-up, and what the ankle does to it.
//!
//! Owns the use of the two-link leg and its targets by method. Must not know stature: lengths are measured.

use super::kit::common::{AS_DEG1, AS_MM0, AS_MM1, BODY, DEGREES, SMALL};
use super::kit::{
    Bar, CalcError, Calculator, Chart, Example, Input, InputKind, Outcome, OutputSpec, Pick, Preset, Values, ask,
    check, output, quantity,
};
use super::law::leg::{Setup, distance, hip_to_ankle, knee_bend};
use crate::units::{DEG, Dimension, MM};

const METHODS: &[Pick] = &[
    Pick {
        id: "static",
        says: "Standing still, pedal at the bottom: 25 to 35 degrees",
        words: &["static", "standing still"],
    },
    Pick {
        id: "filmed",
        says: "Filmed from the side while pedalling (2-D): 30 to 40 degrees",
        words: &["filmed", "dynamic", "video", "2d"],
    },
    Pick {
        id: "motion-capture",
        says: "Motion capture while pedalling (3-D): 32 to 42 degrees",
        words: &["motion capture", "3d"],
    },
];

fn by_setup(values: &Values) -> bool {
    !values.has("hip-ankle")
}

const INPUTS: &[Input] = &[
    ask(
        "thigh",
        &["thigh", "upper leg", "femur"],
        "How long is the thigh, hip joint to knee joint?",
        "From the bony bump at the side of the hip (it moves as you swing the leg) to the gap at the outside of the knee.",
        quantity(Dimension::Length, (0.34, 0.52), (0.2, 0.65), BODY),
    ),
    ask(
        "shank",
        &["shank", "lower leg", "shin"],
        "How long is the lower leg, knee joint to ankle joint?",
        "From the gap at the outside of the knee to the bony bump outside the ankle.",
        quantity(Dimension::Length, (0.34, 0.52), (0.2, 0.65), BODY),
    ),
    ask(
        "saddle",
        &["saddle height", "saddle", "bottom bracket to saddle"],
        "How high is the saddle, from the centre of the crank axle to the saddle top?",
        "Along the seat tube.",
        quantity(Dimension::Length, (0.55, 0.85), (0.35, 1.0), BODY),
    )
    .when(by_setup),
    ask(
        "hip-ankle",
        &["hip to ankle", "hip ankle distance"],
        "How far is the hip joint from the ankle joint at the bottom of the stroke?",
        "Measured on a picture or directly; then the set-up is not needed.",
        quantity(Dimension::Length, (0.55, 1.0), (0.2, 1.2), BODY),
    )
    .optional(),
    ask(
        "crank",
        &["crank", "crank length"],
        "How long are the cranks?",
        "Stamped on the back of the crank arm.",
        quantity(Dimension::Length, (0.145, 0.180), (0.09, 0.23), SMALL),
    )
    .preset(Preset::Value(170.0, &MM))
    .free()
    .when(by_setup),
    ask(
        "seat-angle",
        &["seat angle", "seat tube angle"],
        "What is the seat-tube angle?",
        "From the geometry sheet.",
        quantity(Dimension::Angle, (1.15, 1.40), (0.95, 1.57), DEGREES),
    )
    .preset(Preset::Value(73.0, &DEG))
    .when(by_setup),
    ask(
        "hip",
        &["hip above saddle", "hip height"],
        "How far is the hip joint above the saddle?",
        "Our assumption is 80 mm; measure it seated if you can.",
        quantity(Dimension::Length, (0.05, 0.12), (0.0, 0.2), SMALL),
    )
    .preset(Preset::Value(80.0, &MM))
    .when(by_setup),
    ask(
        "stack",
        &["sole and pedal", "stack"],
        "How far is the sole of the foot above the pedal axle?",
        "Sole, cleat and half the pedal; our assumption is 30 mm.",
        quantity(Dimension::Length, (0.01, 0.05), (-0.01, 0.09), SMALL),
    )
    .preset(Preset::Value(30.0, &MM))
    .when(by_setup),
    ask(
        "foot",
        &["ball to ankle", "foot lever"],
        "How far behind the ball of the foot is the ankle joint?",
        "Along the sole; our assumption is 130 mm.",
        quantity(Dimension::Length, (0.09, 0.17), (0.04, 0.22), SMALL),
    )
    .preset(Preset::Value(130.0, &MM))
    .when(by_setup),
    ask(
        "ankle",
        &["ankle height"],
        "How high is the ankle joint above the sole?",
        "Our assumption is 75 mm.",
        quantity(Dimension::Length, (0.05, 0.1), (0.03, 0.15), SMALL),
    )
    .preset(Preset::Value(75.0, &MM))
    .when(by_setup),
    ask(
        "heel",
        &["heel up", "heel", "foot angle"],
        "By how much is the heel carried up at the bottom of the stroke?",
        "Zero with the sole level; the heel down is negative. It matters as much as the saddle.",
        quantity(Dimension::Angle, (-0.18, 0.45), (-0.6, 0.9), DEGREES),
    )
    .preset(Preset::Value(10.0, &DEG))
    .when(by_setup),
    ask(
        "method",
        &["angle method"],
        "How will the knee angle be measured?",
        "Targets belong to their method; they are never mixed.",
        InputKind::Choice(METHODS),
    )
    .preset(Preset::Choice("static")),
];

const OUTPUTS: &[OutputSpec] = &[
    output("knee", "Knee bend at the bottom (0 is straight)", AS_DEG1),
    output("hip-ankle", "Hip to ankle", AS_MM1),
    output("straight", "The leg is straight at", AS_MM1),
    output("short-by", "The leg is too short by", AS_MM1),
    output("height-for-target", "Saddle height for the middle of the target", AS_MM0),
    output("mm-per-degree", "Saddle height for each degree of knee", AS_MM1),
];

pub(super) static CALC: Calculator = Calculator {
    id: "leg-model",
    title: "Knee angle from leg lengths",
    asks: &[
        "knee angle at the bottom of the stroke",
        "what knee bend will I have",
        "leg model",
        "can my leg reach the pedal",
        "how many degrees for a centimetre of saddle",
        "heel up or heel down",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Two links: cos(180 - knee bend) = (thigh^2 + shank^2 - hip-to-ankle^2) / (2 thigh shank). Hip to ankle comes from saddle height, seat angle, crank, foot and the angle at which the heel is carried, crank in line with the seat tube.",
    worth: "Direction and size near the usual set-up, never better than 5 degrees. Ten degrees of heel are worth about twelve of knee. With a rigid ankle it makes 2 mm a degree; in trials riders' ankles gave and it took about 5 mm a degree.",
    sources: &[
        "peveler-2005",
        "fit-review-2021",
        "millour-2020",
        "mtb-kinematics-2021",
        "fonda-2014",
        "ferrer-roca-2014",
        "gatti-2021",
    ],
    cautions: &[
        "A target for a still leg is not one for a moving leg, nor a 2-D one for 3-D: compare only with angles measured the same way.",
        "Pain that stays is for a clinician.",
    ],
    examples: &[
        Example {
            says: "thigh 428.75 mm, shank 430.5 mm, hip to ankle 830 mm",
            expect: &[check("knee", 29.99, &DEG, 0.05)],
            source: "law of cosines, computed (34.77 / 29.99 / 24.30 at 820 / 830 / 840 mm)",
        },
        Example {
            says: "thigh 428.75 mm, shank 430.5 mm, saddle height 732.89 mm",
            expect: &[check("knee", 29.74, &DEG, 0.1), check("hip-ankle", 830.5, &MM, 0.1)],
            source: "planar chain, computed",
        },
        Example {
            says: "thigh 428.75 mm, shank 430.5 mm, saddle height 732.89 mm, heel -10",
            expect: &[check("short-by", 11.65, &MM, 0.2), check("straight", 859.25, &MM, 0.01)],
            source: "planar chain, computed: heel down it cannot reach",
        },
        Example {
            says: "thigh 430 mm, shank 430 mm, hip to ankle 860 mm",
            expect: &[check("knee", 0.0, &DEG, 0.01)],
            source: "common practice, no source: a straight leg has no bend",
        },
    ],
    hear: None,
    deduce: None,
    run,
};

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let (thigh, shank) = (values.need("thigh")?, values.need("shank")?);
    let setup = match values.si("hip-ankle") {
        Some(_) => None,
        None => Some(setup(values)?),
    };
    let d = match setup {
        Some(at) => hip_to_ankle(at),
        None => values.need("hip-ankle")?,
    };
    let (low, high) = target(values);
    let bend = knee_bend(thigh, shank, d);
    if let Some(bend) = bend {
        let (near, far) = setup.map_or((bend, bend), |at| {
            let other = |by: f64| {
                let d = hip_to_ankle(Setup { heel_up: at.heel_up + by, ..at });
                knee_bend(thigh, shank, d).unwrap_or(0.0)
            };
            (other(-10f64.to_radians()), other(10f64.to_radians()))
        });
        let least = 5f64.to_radians();
        let band = (near.min(bend - least).max(0.0), far.max(bend + least));
        let verdict = if bend < low {
            "straighter than the target: the saddle is high for it"
        } else if bend > high {
            "more bent than the target: the saddle is low for it"
        } else {
            "within the target"
        };
        out.figure("knee", bend).band(band.0, band.1).note(verdict);
        let degrees = |angle: f64| angle.to_degrees();
        let bar = |label: &str, v: f64, l: f64, h: f64| Bar {
            label: label.to_owned(),
            value: degrees(v),
            low: degrees(l),
            high: degrees(h),
        };
        out.chart = Some(Chart::Bars {
            unit: "deg",
            bars: vec![bar("this set-up", bend, band.0, band.1), bar("target", f64::midpoint(low, high), low, high)],
        });
    } else if d > thigh + shank {
        out.figure("short-by", d - thigh - shank);
        out.warn("The leg cannot reach: with this heel the foot would leave the pedal or the hips would rock.");
    } else {
        return Err(CalcError::NoAnswer("the knee cannot fold so far; check the lengths".into()));
    }
    out.figure("hip-ankle", d);
    out.figure("straight", thigh + shank);
    if let Some(at) = setup {
        heights(thigh, shank, at, f64::midpoint(low, high), &mut out);
    }
    out.then(
        "Change one thing at a time, 3 mm of saddle or the way the heel is carried, and look again after some rides.",
    );
    Ok(out)
}

fn setup(values: &Values) -> Result<Setup, CalcError> {
    Ok(Setup {
        saddle: values.need("saddle")?,
        seat_angle: values.need("seat-angle")?,
        crank: values.need("crank")?,
        hip: values.need("hip")?,
        stack: values.need("stack")?,
        foot: values.need("foot")?,
        ankle: values.need("ankle")?,
        heel_up: values.need("heel")?,
    })
}

fn target(values: &Values) -> (f64, f64) {
    let (low, high): (f64, f64) = match values.choice("method") {
        Some("filmed") => (30.0, 40.0),
        Some("motion-capture") => (32.0, 42.0),
        _ => (25.0, 35.0),
    };
    (low.to_radians(), high.to_radians())
}

/// The saddle height for the target and what a degree costs, by this model and as measured.
fn heights(thigh: f64, shank: f64, at: Setup, bend: f64, out: &mut Outcome) {
    let solve = |bend: f64| {
        let wanted = distance(thigh, shank, bend);
        let (mut low, mut high) = (0.2, 1.3);
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            if hip_to_ankle(Setup { saddle: middle, ..at }) < wanted { low = middle } else { high = middle }
        }
        f64::midpoint(low, high)
    };
    let height = solve(bend);
    let width = 5f64.to_radians();
    out.figure("height-for-target", height).band(solve(bend + width), solve((bend - width).max(0.02)));
    let slope = (solve(bend - 0.05) - solve(bend + 0.05)) / 0.1f64.to_degrees();
    out.figure("mm-per-degree", slope).note("with a rigid ankle; measured riders needed more");
    out.method(
        ("this model, rigid ankle", "fit-review-2021", "Too lively: real ankles give."),
        "mm-per-degree",
        slope,
        None,
    );
    out.method(
        ("regression on filmed riders", "gatti-2021", "1 mm for each degree of smallest knee bend."),
        "mm-per-degree",
        0.001,
        None,
    );
    out.method(
        ("trial with 4 % of height", "ferrer-roca-2014", "About 37 mm moved the knee 7 degrees and the ankle 8."),
        "mm-per-degree",
        0.0054,
        None,
    );
}
