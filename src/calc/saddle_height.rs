//! Saddle height: factor, regression and heel methods side by side, to the end from which it is measured.
//!
//! Owns the methods and their conversion between ends. Must not know knee models: that is `leg_model`.

use super::kit::common::{AS_MM0, AS_MM1, BODY, DEGREES, SMALL};
use super::kit::{
    CalcError, Calculator, Example, Input, Outcome, OutputSpec, Pick, Preset, Values, ask, check, output, quantity,
};
use crate::units::{CM, DEG, Dimension, MM};

const ENDS: &[Pick] = &[
    Pick {
        id: "bottom-bracket",
        says: "Centre of the crank axle (bottom bracket) to the saddle top",
        words: &["bottom bracket", "bb", "crank axle", "crank centre", "bracket"],
    },
    Pick {
        id: "pedal-surface",
        says: "Top surface of the pedal at its lowest, crank in line with the seat tube, to the saddle top",
        words: &["pedal surface", "top of the pedal", "pedal top"],
    },
    Pick {
        id: "pedal-axle",
        says: "Centre of the pedal axle to the saddle top",
        words: &["pedal axle", "pedal spindle"],
    },
];

const INPUTS: &[Input] = &[
    ask(
        "inseam",
        &["inside leg", "inseam", "leg length", "inside leg length", "inleg"],
        "How long is the inside of your leg, without shoes?",
        "Stand barefoot with your back to a wall, a thin book pulled up firmly into the crotch; measure from its top edge to the floor. Twice.",
        quantity(Dimension::Length, (0.62, 1.02), (0.45, 1.15), BODY),
    ),
    ask(
        "crank",
        &["crank length", "crank", "crank arm"],
        "How long are the cranks?",
        "It is stamped on the back of the crank arm near the pedal, such as 170.",
        quantity(Dimension::Length, (0.145, 0.180), (0.09, 0.23), SMALL),
    )
    .preset(Preset::Value(170.0, &MM))
    .free(),
    ask(
        "end",
        &["end measured from", "measured from"],
        "From which end will you measure the saddle height?",
        "Say the end, because the figures differ by the crank length or the pedal's thickness.",
        super::kit::InputKind::Choice(ENDS),
    )
    .preset(Preset::Choice("bottom-bracket")),
    ask(
        "shoe-inseam",
        &["inside leg in shoes", "leg in shoes", "inseam in shoes"],
        "How long is the inside of your leg in the shoes you will ride in?",
        "As the barefoot measure, heel to crotch, with the riding shoes on.",
        quantity(Dimension::Length, (0.62, 1.06), (0.45, 1.2), BODY),
    )
    .optional(),
    ask(
        "sole",
        &["sole", "heel thickness", "shoe sole"],
        "How thick is the sole of your riding shoes under the heel?",
        "Measure the shoe from the floor to the inside of the heel.",
        quantity(Dimension::Length, (0.005, 0.045), (0.0, 0.08), SMALL),
    )
    .optional(),
    ask(
        "pedal",
        &["pedal thickness", "pedal stack", "pedal body"],
        "How high does the foot stand above the pedal axle?",
        "From the centre of the pedal axle to the surface the shoe stands on. (About 10 to 20 mm, from memory.)",
        quantity(Dimension::Length, (0.0, 0.03), (-0.02, 0.06), SMALL),
    )
    .preset(Preset::Value(15.0, &MM)),
    ask(
        "extra",
        &["extra sole and pedal", "extra stack", "thicker by", "extra sole"],
        "By how much are soles, cleats and pedals together thicker than ordinary riding shoes on ordinary pedals?",
        "Zero for most people; a thick flat-pedal sole may add some millimetres. The saddle goes up by the same.",
        quantity(Dimension::Length, (0.0, 0.03), (-0.03, 0.06), SMALL),
    )
    .optional(),
    ask(
        "seat-angle",
        &["seat angle", "seat tube angle", "sta"],
        "What is the angle of the seat tube?",
        "From the frame's geometry sheet, or a phone's inclinometer laid along the seat post.",
        quantity(Dimension::Angle, (1.15, 1.40), (0.95, 1.57), DEGREES),
    )
    .preset(Preset::Value(73.0, &DEG)),
    ask(
        "knee-min",
        &["smallest knee bend", "knee bend at the bottom", "knee angle", "kf"],
        "Which knee bend do you want at the bottom of the stroke, filmed while pedalling?",
        "Zero is a straight leg. 30 to 40 degrees is the band for a filmed, moving leg.",
        quantity(Dimension::Angle, (0.42, 0.79), (0.08, 1.2), DEGREES),
    )
    .preset(Preset::Value(35.0, &DEG)),
    ask(
        "knee-max",
        &["largest knee bend", "knee bend at the top", "kf max"],
        "Which knee bend do you want at the top of the stroke?",
        "107 to 113 degrees was usual in filmed mountain bikers.",
        quantity(Dimension::Angle, (1.74, 2.1), (1.4, 2.4), DEGREES),
    )
    .preset(Preset::Value(110.0, &DEG)),
    ask(
        "now",
        &["saddle height now", "saddle now", "present height", "saddle height", "now"],
        "How high is the saddle now, measured to the same end?",
        "Along the seat tube, to the middle of the saddle top.",
        quantity(Dimension::Length, (0.55, 1.05), (0.3, 1.3), BODY),
    )
    .optional(),
    ask(
        "old-crank",
        &["old crank", "old cranks", "cranks before"],
        "If the cranks were changed: how long were the old ones?",
        "Stamped on the back of the old crank arm.",
        quantity(Dimension::Length, (0.145, 0.180), (0.09, 0.23), SMALL),
    )
    .optional(),
    ask(
        "cleat-back",
        &["cleat moved back", "cleat back", "cleats back"],
        "By how much were the cleats moved back?",
        "Towards the heel is positive.",
        quantity(Dimension::Length, (0.0, 0.02), (-0.04, 0.04), SMALL),
    )
    .optional(),
];

const OUTPUTS: &[OutputSpec] = &[
    output("start", "Saddle height to start from", AS_MM0),
    output("change", "To change from the present height (up is positive)", AS_MM0),
    output("factor-pedal", "1.09 x inside leg, pedal to saddle", AS_MM1),
    output("factor-bb", "0.883 x inside leg, bottom bracket to saddle", AS_MM1),
    output("regression-min", "Regression on the knee bend at the bottom, pedal to saddle", AS_MM1),
    output("regression-max", "Regression on the knee bend at the top, pedal to saddle", AS_MM1),
    output("heel", "Heel on the pedal: pedal surface to saddle", AS_MM1),
    output("crank-agrees", "Crank length at which both factors agree", AS_MM1),
    output("crank-change", "For the other cranks: saddle up along the seat tube", AS_MM1),
    output("knee-room", "Room gained at the top of the stroke", AS_MM1),
    output("back-shift", "By which the saddle also moves back", AS_MM1),
    output("cleat-change", "For the cleats: saddle up", AS_MM1),
];

pub(super) static CALC: Calculator = Calculator {
    id: "saddle-height",
    title: "Saddle height",
    asks: &[
        "how high should my saddle be",
        "seat height for my inside leg",
        "set saddle height",
        "saddle too high or too low",
        "inseam to saddle height",
        "new cranks, how much to raise the saddle",
        "seat post height",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Pedal to saddle = 1.09 x inside leg. Bottom bracket to saddle = 0.883 x inside leg. Two regressions: height in cm = 7.41 + 0.82 leg - 0.1 smallest knee bend + 0.003 leg x seat angle, and 41.63 + 0.78 leg - 0.25 largest knee bend + 0.002 leg x seat angle. Heel method: pedal surface to saddle = inside leg in shoes.",
    worth: "A place to start. The methods differ by a centimetre or two, the heel method reads lower still; the regressions predict within 1.15 cm (adults only). Where the methods end, riding decides: start low and go up in small steps.",
    sources: &["peveler-2005", "gatti-2021", "ferrer-roca-2012", "common-practice", "from-memory"],
    cautions: &[
        "Never pull the seat post out beyond its insertion mark; if the height asks for more, the post is too short.",
        "Pain that stays after the change, or numbness that lasts, is for a clinician, not for the saddle.",
    ],
    examples: &[
        Example {
            says: "inseam 83 cm, crank 170, knee angle 30",
            expect: &[
                check("factor-pedal", 904.7, &MM, 0.1),
                check("factor-bb", 732.9, &MM, 0.1),
                check("regression-min", 90.647, &CM, 0.001),
                check("regression-max", 90.988, &CM, 0.001),
            ],
            source: "Peveler 2005 factors and Gatti 2021 equations (formulae read, values computed)",
        },
        Example {
            says: "inside leg 76 cm",
            expect: &[check("factor-pedal", 828.4, &MM, 0.1), check("factor-bb", 671.1, &MM, 0.1)],
            source: "Peveler 2005 factors (read), values computed",
        },
        Example {
            says: "inseam 821.3 mm with 170 cranks",
            expect: &[check("crank-agrees", 170.0, &MM, 0.1)],
            source: "agreement of both factors, computed",
        },
        Example {
            says: "inseam 83 cm, sole 25 mm, pedal surface",
            expect: &[check("heel", 855.0, &MM, 0.1)],
            source: "common practice, no source: heel to crotch in the riding shoes",
        },
        Example {
            says: "inseam 83 cm, old crank 175 mm, crank 170 mm",
            expect: &[
                check("crank-change", 5.0, &MM, 0.01),
                check("knee-room", 10.0, &MM, 0.01),
                check("back-shift", 1.46, &MM, 0.01),
            ],
            source: "geometry, computed",
        },
    ],
    hear: None,
    deduce: None,
    run,
};

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let leg = values.need("inseam")?;
    let (crank, pedal) = (values.need("crank")?, values.need("pedal")?);
    let angle = values.need("seat-angle")?;
    let (low_bend, high_bend) = (values.need("knee-min")?, values.need("knee-max")?);
    let end = values.choice("end").unwrap_or("bottom-bracket");
    let extra = values.si("extra").unwrap_or(0.0);
    if crank > 0.35 * leg {
        return Err(CalcError::Contradiction(format!(
            "a crank of {} does not go with an inside leg of {}",
            values.say(crank, AS_MM0),
            values.say(leg, AS_MM0)
        )));
    }

    let factor_pedal = 1.09 * leg;
    let factor_bb = 0.883 * leg;
    let regression_min = regression_bottom(leg, low_bend, angle);
    let regression_max = regression_top(leg, high_bend, angle);
    let sole = values.si("sole");
    let shod = values.si("shoe-inseam").unwrap_or(leg + sole.unwrap_or(0.0));
    if shod < leg {
        return Err(CalcError::Contradiction(
            "the inside leg in shoes is shorter than the barefoot one; measure both again".into(),
        ));
    }

    // Everything at the axle of the lowest pedal, then to the end asked for.
    let at_end = |axle: f64| match end {
        "pedal-surface" => axle - pedal,
        "pedal-axle" => axle,
        _ => axle - crank,
    };
    let factor_1 = at_end(factor_pedal + extra);
    let factor_2 = at_end(factor_bb + crank + extra);
    let bottom = at_end(regression_min + extra);
    let top = at_end(regression_max + extra);
    let heel = at_end(shod + pedal);
    let all = [factor_1, factor_2, bottom, top];
    let (low, high) = (all.iter().copied().fold(f64::MAX, f64::min), all.iter().copied().fold(f64::MIN, f64::max));

    out.figure("start", low).band(low, high).note(end_note(end));
    if let Some(now) = values.si("now") {
        out.figure("change", low - now);
        if (low - now).abs() > 0.02 * now {
            out.warn("That is a large change: go there in steps over several rides, and ask yourself first whether both heights were measured to the same end.");
        }
    }
    out.figure("factor-pedal", factor_pedal)
        .note("axle or surface of the pedal: the sources disagree, by the pedal's thickness");
    out.figure("factor-bb", factor_bb).note("does not see the crank length");
    out.figure("regression-min", regression_min).band(regression_min - 0.0115, regression_min + 0.0115);
    out.figure("regression-max", regression_max).band(regression_max - 0.0115, regression_max + 0.0115);
    out.figure("heel", shod).note("reads lower than the others: a floor, not an aim");
    out.figure("crank-agrees", (1.09 - 0.883) * leg);

    let factor_band = Some((at_end(1.06 * leg + extra), at_end(factor_pedal + pedal + extra)));
    out.method(
        ("1.09 x inside leg", "peveler-2005", "106 to 109 % is quoted; whether to axle or surface is disputed."),
        "start",
        factor_1,
        factor_band,
    );
    out.method(
        ("0.883 x inside leg", "peveler-2005", "No different from 1.09 in trials, but blind to the crank."),
        "start",
        factor_2,
        None,
    );
    out.method(
        ("regression, knee at the bottom", "gatti-2021", "Predicts within 1.15 cm; adults."),
        "start",
        bottom,
        Some((bottom - 0.0115, bottom + 0.0115)),
    );
    out.method(
        ("regression, knee at the top", "gatti-2021", "Predicts within 1.15 cm; adults."),
        "start",
        top,
        Some((top - 0.0115, top + 0.0115)),
    );
    out.method(("heel on the pedal", "common-practice", "Needs no figures; reads low."), "start", heel, None);
    out.methods_chart();

    if sole.is_none() && !values.has("shoe-inseam") {
        out.assume("Heel method without shoes: add the thickness of the sole.");
    }
    changes(values, &mut out, crank, angle);
    if leg < 0.68 {
        out.warn("The formulae were found on adults; for a child, start lower and let both feet reach the ground.");
    }
    out.then(format!("Set {} and tighten the clamp to the value printed on it.", values.say(low, AS_MM0)));
    out.then(
        "Ride twenty minutes. With the ball of the foot on the pedal at its lowest the knee keeps a slight bend and the hips stay level.",
    );
    out.then(format!(
        "If the knee aches in front or the legs feel cramped, raise by 3 mm a ride, not beyond {}.",
        values.say(high, AS_MM0)
    ));
    out.then("If the hips rock, the toes reach, or it aches behind the knee, go down 3 mm at a time.");
    out.then("Write the height down, with the end it was measured from and the crank length.");
    Ok(out)
}

fn changes(values: &Values, out: &mut Outcome, crank: f64, angle: f64) {
    if let Some(old) = values.si("old-crank") {
        let up = old - crank;
        out.figure("crank-change", up).note("shorter cranks: up; longer ones: down");
        out.figure("knee-room", 2.0 * up);
        out.figure("back-shift", up * angle.cos());
    }
    if let Some(back) = values.si("cleat-back") {
        // x sin p with the heel up by 0 to 20 degrees; the middle is shown.
        let part = |degrees: f64| -back * f64::to_radians(degrees).sin();
        out.figure("cleat-change", part(10.0))
            .band(part(0.0), part(20.0))
            .note("small; more the higher the heel is carried");
    }
}

fn end_note(end: &str) -> &'static str {
    match end {
        "pedal-surface" => {
            "from the pedal's surface at its lowest, crank in line with the seat tube, to the saddle top; the lowest of the methods"
        }
        "pedal-axle" => {
            "from the pedal axle, crank in line with the seat tube, to the saddle top; the lowest of the methods"
        }
        _ => "from the centre of the crank axle along the seat tube to the saddle top; the lowest of the methods",
    }
}

/// Gatti et al. 2021, smallest knee bend; metres and radians.
fn regression_bottom(leg: f64, bend: f64, seat_angle: f64) -> f64 {
    let i = leg * 100.0;
    (7.41 + 0.82 * i - 0.1 * bend.to_degrees() + 0.003 * i * seat_angle.to_degrees()) / 100.0
}

/// Gatti et al. 2021, largest knee bend; metres and radians.
fn regression_top(leg: f64, bend: f64, seat_angle: f64) -> f64 {
    let i = leg * 100.0;
    (41.63 + 0.78 * i - 0.25 * bend.to_degrees() + 0.002 * i * seat_angle.to_degrees()) / 100.0
}

#[cfg(test)]
mod tests {
    use super::super::kit::{parse_inputs, run};
    use super::*;

    fn figure(text: &str, id: &str) -> f64 {
        let parsed = parse_inputs(&CALC, text);
        run(&CALC, &parsed.values)
            .unwrap_or_else(|e| panic!("{text}: {e}"))
            .get(id)
            .unwrap()
            .quantity
            .value_in(&MM)
            .unwrap()
    }

    #[test]
    fn the_ends_differ_by_crank_and_pedal() {
        let at = |end: &str| figure(&format!("inseam 83 cm, crank 172.5 mm, pedal thickness 12 mm, {end}"), "start");
        assert!((at("pedal axle") - at("bottom bracket") - 172.5).abs() < 1e-6);
        assert!((at("pedal axle") - at("pedal surface") - 12.0).abs() < 1e-6);
    }

    #[test]
    fn thicker_soles_and_shorter_cranks_raise_the_saddle() {
        let plain = figure("inseam 83 cm, crank 170 mm", "start");
        assert!((figure("inseam 83 cm, crank 170 mm, extra sole and pedal 5 mm", "start") - plain - 5.0).abs() < 1e-6);
        assert!(figure("inseam 84 cm, crank 170 mm", "start") > plain);
        assert!(figure("inseam 83 cm, crank 165 mm", "start") >= plain);
        let now = format!("inseam 83 cm, crank 170 mm, saddle height now {plain:.6} mm");
        assert!(figure(&now, "change").abs() < 1e-3);
    }

    #[test]
    fn contradictions_are_named() {
        let refused = |text: &str| run(&CALC, &parse_inputs(&CALC, text).values).unwrap_err().to_string();
        assert!(refused("inseam 50 cm, crank 220 mm").contains("does not go with"));
        assert!(refused("inseam 83 cm, inside leg in shoes 80 cm").contains("shorter than the barefoot"));
    }

    #[test]
    fn the_published_regressions() {
        // Gatti et al. 2021 (READ), values CALC.
        let cm =
            |i: f64, bend: f64, angle: f64| regression_bottom(i / 100.0, bend.to_radians(), angle.to_radians()) * 100.0;
        assert!((cm(83.0, 30.0, 73.0) - 90.647).abs() < 1e-3);
        assert!((cm(80.0, 35.0, 74.0) - 87.270).abs() < 1e-3);
        assert!((cm(90.0, 30.0, 73.0) - 97.920).abs() < 1e-3);
        let top = regression_top(0.83, 110f64.to_radians(), 73f64.to_radians());
        assert!((top * 100.0 - 90.988).abs() < 1e-3);
    }
}
