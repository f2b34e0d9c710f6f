//! Brake wear: what is left of rotor, pad or rim, and for how far.
//!
//! Owns the comparison with the mark and the straight line through two readings. Must not know heat.

use super::kit::common::{AS_KM, AS_MM2, AS_PERCENT0, DISTANCE, SMALL};
use super::kit::{
    CalcError, Calculator, Example, Input, InputKind, Outcome, OutputSpec, Pick, Values, ask, check, output, quantity,
};
use crate::units::{Dimension, KM, MM, PERCENT};

const PARTS: &[Pick] = &[
    Pick { id: "rotor", says: "Disc rotor", words: &["rotor", "disc", "disk", "rotors"] },
    Pick { id: "pad", says: "Brake pad (friction material)", words: &["pad", "pads", "friction material"] },
    Pick { id: "rim", says: "Rim wall", words: &["rim", "rims", "rim wall"] },
];

const INPUTS: &[Input] = &[
    ask("part", &["worn part"], "Rotor, pad or rim?", "", InputKind::Choice(PARTS)),
    ask(
        "now",
        &["thickness now", "now", "thickness", "measures", "left"],
        "How thick is it now, at its thinnest?",
        "A caliper with narrow points, or a micrometer: the braking track, not the rim's or rotor's edge; for pads the friction material without its metal.",
        quantity(Dimension::Length, (0.0004, 0.005), (0.0, 0.012), SMALL),
    ),
    ask(
        "minimum",
        &["least thickness", "minimum", "min", "mark", "limit", "least"],
        "Which least thickness is marked?",
        "Etched on the rotor (MIN. TH.), in the rim's papers; a rim may have a groove or dots instead.",
        quantity(Dimension::Length, (0.0004, 0.002), (0.0001, 0.006), SMALL),
    )
    .when(|v| v.choice("part") == Some("rim")),
    ask(
        "new",
        &["thickness when new", "new", "when new", "originally"],
        "How thick was it when new?",
        "From its papers or a new one beside it.",
        quantity(Dimension::Length, (0.0015, 0.006), (0.0005, 0.015), SMALL),
    )
    .optional(),
    ask(
        "before",
        &["earlier thickness", "before", "earlier", "last time", "was"],
        "How thick was it at an earlier reading?",
        "From your notes.",
        quantity(Dimension::Length, (0.0005, 0.006), (0.0001, 0.015), SMALL),
    )
    .optional(),
    ask(
        "between",
        &["distance between readings", "between", "since then", "ridden", "km between", "ago"],
        "How far was it ridden between the readings?",
        "From the log.",
        quantity(Dimension::Length, (100e3, 20_000e3), (1e3, 200_000e3), DISTANCE),
    )
    .when(|v| v.has("before")),
];

const OUTPUTS: &[OutputSpec] = &[
    output("left", "Left to the minimum", AS_MM2),
    output("minimum", "Minimum reckoned with", AS_MM2),
    output("worn", "Worn share of what may wear", AS_PERCENT0),
    output("life", "At the same wear it lasts another", AS_KM),
];

pub(super) static CALC: Calculator = Calculator {
    id: "brake-wear",
    title: "Rotor, pad and rim wear",
    asks: &[
        "are my brake pads worn",
        "minimum rotor thickness",
        "rotor worn out",
        "rim wear",
        "how much pad is left",
        "when to replace brake pads",
        "thin disc",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Left = thickness now - minimum. Life = left x distance ridden / (earlier - now).",
    worth: "The mark on the part decides. Without one: rotors 1.5 mm for the common 1.8 mm new (makers' marks run from 1.4 to 1.8 mm), pads about 0.5 mm of material (from memory). Life is a straight line; wet and grit bend it.",
    sources: &["rotor-wear-zinn", "from-memory"],
    cautions: &[
        "Below the minimum do not ride: thin rotors bend and fail when hot, bare pads do not brake, thin rims burst under tyre pressure.",
        "A rim brake's rim with a hollow track, a bulge or a crack ends its life whatever the figure says.",
    ],
    examples: &[
        Example {
            says: "rotor now 1.6 mm",
            expect: &[check("left", 0.1, &MM, 1e-6), check("minimum", 1.5, &MM, 1e-6)],
            source: "rotor-wear-zinn: 1.80 new, 1.5 least (read)",
        },
        Example {
            says: "rotor now 1.5 mm, min 1.4 mm, new 1.6 mm",
            expect: &[check("worn", 50.0, &PERCENT, 0.01)],
            source: "rotor-wear-zinn: 1.60 new, 1.4 least (read)",
        },
        Example {
            says: "pads now 2 mm, before 3 mm, between 1000 km",
            expect: &[check("life", 1500.0, &KM, 0.01)],
            source: "arithmetic with 0.5 mm from memory",
        },
    ],
    hear: None,
    deduce: None,
    run,
};

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let now = values.need("now")?;
    let part = values.choice("part").unwrap_or("rotor");
    let minimum = match (values.si("minimum"), part) {
        (Some(minimum), _) => minimum,
        (None, "pad") => {
            out.assume("Least pad material 0.5 mm, from memory; the pad's maker decides.");
            0.0005
        }
        (None, "rim") => return Err(CalcError::Missing(vec!["minimum"])),
        (None, _) => {
            let thin = values.si("new").is_some_and(|new| new < 0.0017);
            let least: f64 = if thin { 0.0014 } else { 0.0015 };
            out.assume(format!(
                "Least rotor thickness {}: read the mark on the rotor, makers differ.",
                values.say(least, AS_MM2)
            ));
            least
        }
    };
    let left = now - minimum;
    out.figure("left", left).band(left - 0.05e-3, left + 0.05e-3);
    out.figure("minimum", minimum);
    if let Some(new) = values.si("new") {
        if new <= minimum {
            return Err(CalcError::Contradiction(
                "new it was thinner than its minimum: one of the two was misread".into(),
            ));
        }
        if now > new + 0.1e-3 {
            return Err(CalcError::Contradiction("it is thicker now than when new: measure again".into()));
        }
        out.figure("worn", (new - now) / (new - minimum));
    }
    if let Some(before) = values.si("before") {
        let worn = before - now;
        if worn < 0.02e-3 {
            return Err(CalcError::Contradiction(
                "it did not get thinner between the readings: the difference is below what a caliper shows".into(),
            ));
        }
        let life = (left.max(0.0)) * values.need("between")? / worn;
        out.figure("life", life).band(life * 0.6, life * 1.5).note("a rough figure: wet and grit halve it");
    }
    if left <= 0.0 {
        out.warn("Worn out: replace it before the next ride.");
    } else if left < 0.1e-3 || (part == "pad" && left < 0.5e-3) {
        out.warn("Nearly worn out: have the new part ready and look every ride.");
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::super::kit::{parse_inputs, run};
    use super::*;

    #[test]
    fn readings_that_contradict() {
        let refused = |text: &str| run(&CALC, &parse_inputs(&CALC, text).values).is_err();
        assert!(refused("rotor now 1.8 mm, new 1.6 mm"));
        assert!(refused("rotor now 1.6 mm, before 1.6 mm, between 500 km"));
        assert!(refused("rim now 1.2 mm"));
    }
}
