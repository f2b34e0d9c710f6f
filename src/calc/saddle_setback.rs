//! Saddle fore-aft and tilt: what a move does to the height, and the same position on another bike.
//!
//! Owns the coupling and the conventions. Must not know knees: the plumb line is a convention, not a law.

use super::kit::common::{AS_DEG1, AS_MM1, BODY, DEGREES, SMALL};
use super::kit::{
    CalcError, Calculator, Example, Input, Outcome, OutputSpec, Preset, Values, ask, check, output, quantity,
};
use crate::units::{DEG, Dimension, MM};

fn wants_height(values: &Values) -> bool {
    let moves = ["forward", "raise", "new-seat-angle"].iter().any(|id| values.has(id));
    moves || !["plumb", "tip", "tilt"].iter().any(|id| values.has(id))
}

const INPUTS: &[Input] = &[
    ask(
        "saddle",
        &["saddle height", "saddle", "bottom bracket to saddle"],
        "How high is the saddle, from the centre of the crank axle to the middle of its top?",
        "Along the seat tube.",
        quantity(Dimension::Length, (0.55, 0.85), (0.35, 1.0), BODY),
    )
    .when(wants_height),
    ask(
        "seat-angle",
        &["seat angle", "seat tube angle"],
        "What is the seat-tube angle?",
        "From the geometry sheet, or an inclinometer along the post.",
        quantity(Dimension::Angle, (1.15, 1.40), (0.95, 1.57), DEGREES),
    )
    .preset(Preset::Value(73.0, &DEG))
    .when(wants_height),
    ask(
        "forward",
        &["saddle move forward", "forward", "saddle forward", "moved forward", "forward by"],
        "By how much does the saddle move forward on its rails?",
        "Backward is negative. Mark the rail with tape first.",
        quantity(Dimension::Length, (-0.04, 0.04), (-0.1, 0.1), SMALL),
    )
    .optional()
    .free(),
    ask(
        "raise",
        &["post pulled out", "raise", "raised", "raised by", "raise by"],
        "By how much is the post pulled out?",
        "Down is negative.",
        quantity(Dimension::Length, (-0.05, 0.05), (-0.3, 0.3), SMALL),
    )
    .optional(),
    ask(
        "new-seat-angle",
        &["new seat angle", "other seat angle", "seat angle of the other bike"],
        "What is the seat-tube angle of the other bike?",
        "To take the position over to it.",
        quantity(Dimension::Angle, (1.15, 1.40), (0.95, 1.57), DEGREES),
    )
    .optional(),
    ask(
        "plumb",
        &["plumb line", "plumb", "knee ahead", "knee over pedal", "knee"],
        "With cranks level: how far ahead of the forward pedal axle does a plumb line from just below the kneecap fall?",
        "Behind the axle is negative. Sit as you ride, bike level; have somebody else hold the line.",
        quantity(Dimension::Length, (-0.06, 0.05), (-0.2, 0.2), SMALL),
    )
    .optional(),
    ask(
        "tip",
        &["saddle tip", "tip", "setback", "nose behind"],
        "How far is the saddle's tip behind the centre of the crank axle?",
        "A plumb line from the tip; measure back from it.",
        quantity(Dimension::Length, (0.0, 0.12), (-0.15, 0.3), SMALL),
    )
    .optional(),
    ask(
        "tilt",
        &["saddle tilt", "tilt", "nose down"],
        "By how much does the nose of the saddle point down?",
        "A flat board on the saddle and a phone's inclinometer; nose up is negative.",
        quantity(Dimension::Angle, (-0.09, 0.16), (-0.6, 0.6), DEGREES),
    )
    .optional(),
];

const OUTPUTS: &[OutputSpec] = &[
    output("height-change", "Saddle height changes by, if the post stays", AS_MM1),
    output("post-change", "To keep the height, move the post by", AS_MM1),
    output("back", "The saddle also moves back by", AS_MM1),
    output("up", "and up by", AS_MM1),
    output("vertical", "Saddle above the crank axle", AS_MM1),
    output("behind", "Saddle behind the crank axle", AS_MM1),
    output("rail-shift", "On the other bike move the saddle forward on its rails by", AS_MM1),
    output("other-height", "Post on the other bike: height along its seat tube", AS_MM1),
    output("plumb", "Knee ahead of the pedal axle", AS_MM1),
    output("tip-margin", "Tip behind the racing limit of 50 mm by", AS_MM1),
    output("tilt", "Nose down by", AS_DEG1),
    output("tilt-margin", "Left to the racing limit of 9 degrees", AS_DEG1),
];

pub(super) static CALC: Calculator = Calculator {
    id: "saddle-setback",
    title: "Saddle fore-aft and tilt",
    asks: &[
        "saddle forward or back",
        "knee over pedal plumb line",
        "move the saddle on its rails",
        "saddle tilt nose down",
        "copy my position to another bike",
        "setback",
        "sliding forward on the saddle",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "The saddle sits at height x cos(seat angle) behind and height x sin(seat angle) above the crank axle. Moving it forward along level rails changes the distance to the axle; pulling the post out by d moves it back by d x cos and up by d x sin. The same place over another frame: rail shift = above x (1/tan old - 1/tan new), forward positive.",
    worth: "The geometry is exact. The plumb line is listed as personal experience, not as science, and its landmark varies. In one clinic's table the knee marker was 5 to 35 mm behind the axle.",
    sources: &["fit-review-2021", "silberman-2005", "mtb-kinematics-2021", "uci-1-3", "salai-1999", "common-practice"],
    cautions: &[
        "Stay between the end marks of the rails, and tighten the clamp to the value printed on it. Numbness that lasts is for a clinician.",
    ],
    examples: &[
        Example {
            says: "saddle height 730 mm, forward 10 mm",
            expect: &[check("height-change", -2.86, &MM, 0.01)],
            source: "geometry at 73 degrees, computed",
        },
        Example {
            says: "saddle 730 mm, raise 10 mm",
            expect: &[check("back", 2.92, &MM, 0.01), check("up", 9.56, &MM, 0.01)],
            source: "geometry at 73 degrees, computed",
        },
        Example {
            says: "tip 60 mm, tilt 3 deg",
            expect: &[check("tip-margin", 10.0, &MM, 1e-6), check("tilt-margin", 6.0, &DEG, 1e-6)],
            source: "uci-1-3: tip 50 mm behind, at most 9 degrees (read)",
        },
    ],
    hear: None,
    deduce: None,
    run,
};

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    if let Some(height) = values.si("saddle") {
        let angle = values.si("seat-angle").unwrap_or(73f64.to_radians());
        position(values, height, angle, &mut out);
    }
    if let Some(plumb) = values.si("plumb") {
        out.figure("plumb", plumb)
            .band(plumb - 0.01, plumb + 0.01)
            .note("good to a centimetre at best: landmark and posture vary");
        let usual = (-0.035..=0.01).contains(&plumb);
        out.then(if usual {
            "That is a usual place: leave it unless something hurts."
        } else if plumb > 0.0 {
            "Further forward than usual: try the saddle 5 mm back, keep the height, ride, compare."
        } else {
            "Further back than usual: try the saddle 5 mm forward, keep the height, ride, compare."
        });
    }
    if let Some(tip) = values.si("tip") {
        out.figure("tip-margin", tip - 0.05).note("a racing rule only");
    }
    if let Some(tilt) = values.si("tilt") {
        out.figure("tilt", tilt);
        out.figure("tilt-margin", 9f64.to_radians() - tilt.abs()).note("a racing rule only");
        if tilt < 0.0 {
            out.warn("Nose up presses where nerves run: start from level.");
        } else if tilt > 9f64.to_radians() {
            out.warn("Steep: the rider slides forward on to hands and knees. Go back towards level.");
        }
        out.then("Start level; if there is pressure in front, tip the nose down by one degree at a time. In a club, a forward tilt eased most riders' backs (salai-1999).");
    }
    if out.figures.is_empty() {
        return Err(CalcError::Missing(vec!["saddle"]));
    }
    Ok(out)
}

fn position(values: &Values, height: f64, angle: f64, out: &mut Outcome) {
    let (behind, above) = (height * angle.cos(), height * angle.sin());
    if let Some(forward) = values.si("forward") {
        let changed = (behind - forward).hypot(above) - height;
        out.figure("height-change", changed).note("distance from crank axle to saddle");
        out.figure("post-change", -changed);
        out.then("Move the saddle, correct the post, ride, and only then judge.");
    }
    if let Some(raise) = values.si("raise") {
        out.figure("back", raise * angle.cos());
        out.figure("up", raise * angle.sin());
    }
    out.figure("vertical", above);
    out.figure("behind", behind);
    if let Some(new) = values.si("new-seat-angle") {
        let shift = above * (1.0 / new.tan() - 1.0 / angle.tan());
        out.figure("rail-shift", shift).note("forward; negative is back");
        out.figure("other-height", above / new.sin());
        if shift.abs() > 0.02 {
            out.warn("More than most rails allow: another post with more or less setback may be needed.");
        }
        out.assume("The same saddle, cranks, pedals and shoes on both bikes.");
    }
}

#[cfg(test)]
mod tests {
    use super::super::kit::{parse_inputs, run};
    use super::*;

    #[test]
    fn the_same_angle_moves_nothing() {
        let values = parse_inputs(&CALC, "saddle 730 mm, seat angle 73.5, new seat angle 73.5").values;
        let outcome = run(&CALC, &values).unwrap();
        assert!(outcome.get("rail-shift").unwrap().quantity.si.abs() < 1e-12);
        assert!((outcome.get("other-height").unwrap().quantity.si - 0.730).abs() < 1e-12);
        // A steeper seat tube carries the saddle further forward, so it goes back on its rails.
        let steeper =
            run(&CALC, &parse_inputs(&CALC, "saddle 730 mm, seat angle 73, new seat angle 75").values).unwrap();
        assert!(steeper.get("rail-shift").unwrap().quantity.si < -0.02);
    }
}
