//! Sag: where the ring should stand, what it says, and which pressure to try next.
//!
//! Owns shares and the small-step rule. Must not know spring curves: that is `air_spring` and `coil_spring`.

use super::kit::common::{AS_MM1, AS_PERCENT1, AS_PLAIN3, AS_PRESSURE, SHARE, SHOCK_AIR, SMALL};
use super::kit::{
    Bar, CalcError, Calculator, Chart, Example, Input, InputKind, Outcome, OutputSpec, Pick, Preset, Values, ask,
    check, output, quantity,
};
use crate::units::{Dimension, MM, PERCENT, PLAIN, PSI};

const PLACES: &[Pick] = &[
    Pick { id: "fork", says: "Fork", words: &["fork", "front", "forks"] },
    Pick { id: "shock", says: "Rear shock", words: &["shock", "rear", "back", "damper"] },
];

const STYLES: &[Pick] = &[
    Pick { id: "efficient", says: "Efficient: 25 % of the travel", words: &["efficient", "firm"] },
    Pick { id: "plush", says: "Plush, or a long-travel bike: 30 %", words: &["plush", "long travel", "soft"] },
    Pick { id: "cross-country", says: "Cross-country: 15 to 25 %", words: &["cross country", "xc"] },
    Pick { id: "trail", says: "Trail: 25 to 30 %", words: &["trail", "all mountain"] },
    Pick { id: "downhill", says: "Enduro, downhill: 30 to 35 %", words: &["enduro", "downhill", "dh", "park"] },
];

const INPUTS: &[Input] = &[
    ask("place", &["fork or shock", "which end"], "Fork or rear shock?", "Set the rear first, then the fork.", InputKind::Choice(PLACES)),
    ask(
        "stroke",
        &["stroke", "shock stroke", "fork travel", "travel", "full stroke"],
        "How long is the full stroke: fork travel, or the stroke of the shock's shaft?",
        "Measure the bright leg or shaft from the seal to where the ring stands at full travel, or read it on the part (a shock says, for example, 210x55: the second figure).",
        quantity(Dimension::Length, (0.030, 0.205), (0.015, 0.30), SMALL),
    ),
    ask(
        "ring",
        &["ring reading", "ring", "o ring", "o-ring", "sag", "sag reading"],
        "How far from the seal does the ring stand after you sat on the bike?",
        "Push the ring to the seal, sit still in riding kit, hands on the bar, get off gently, measure from seal to ring.",
        quantity(Dimension::Length, (0.003, 0.09), (0.0, 0.30), SMALL),
    )
    .optional().free(),
    ask("style", &["feel", "style"], "How should it feel?", "25 % feels efficient, 30 % plush.", InputKind::Choice(STYLES)).preset(Preset::Choice("efficient")),
    ask(
        "target",
        &["wanted sag", "target", "aim", "target sag"],
        "Which share of the stroke do you want as sag, if you know it?",
        "A percentage; without it the feel decides.",
        quantity(Dimension::Ratio, (0.12, 0.40), (0.03, 0.7), SHARE),
    )
    .optional().free(),
    ask(
        "pressure",
        &["pressure", "air", "air pressure", "fork pressure", "shock pressure"],
        "Which pressure is in it now?",
        "Read on the shock pump while it is screwed on; the hiss when it comes off is the hose emptying.",
        quantity(Dimension::Pressure, (2.0e5, 24e5), (0.4e5, 35e5), SHOCK_AIR),
    )
    .optional().free(),
    ask(
        "max-pressure",
        &["max pressure", "maximum", "maximum pressure", "marked maximum"],
        "Which greatest pressure is printed on it?",
        "On the fork or shock, or in its instructions.",
        quantity(Dimension::Pressure, (5e5, 30e5), (1e5, 40e5), SHOCK_AIR),
    )
    .optional(),
    ask(
        "wheel-travel",
        &["wheel travel", "rear travel", "rear wheel travel"],
        "How far does the rear wheel travel?",
        "From the frame's papers; only for the rear shock.",
        quantity(Dimension::Length, (0.08, 0.22), (0.03, 0.35), SMALL),
    )
    .optional(),
];

const OUTPUTS: &[OutputSpec] = &[
    output("target-mm", "The ring should stand at", AS_MM1),
    output("target", "Sag aimed at", AS_PERCENT1),
    output("sag", "Sag now", AS_PERCENT1),
    output("next-pressure", "Pressure to try next", AS_PRESSURE),
    output("rate-change", "The spring wants, times its stiffness", AS_PLAIN3),
    output("leverage", "Leverage, wheel travel over stroke", AS_PLAIN3),
    output("wheel-sag", "Sag at the wheel", AS_MM1),
];

/// Largest change of pressure in one go.
const STEP: f64 = 0.10;

pub(super) static CALC: Calculator = Calculator {
    id: "sag",
    title: "Sag of fork and shock",
    asks: &[
        "how much sag",
        "set sag on the fork",
        "shock pressure for sag",
        "where should the rubber ring be",
        "fork too soft bottoms out",
        "fork too hard harsh",
        "o-ring reading percent",
        "suspension set up",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Sag in per cent = ring reading / full stroke. Ring for a wanted sag = share x stroke. Next pressure = present pressure x sag / wanted sag, at most 10 % at a time, then read the ring again. With a constant leverage the same share holds at the wheel.",
    worth: "The share is convention: 25 % efficient, 30 % plush by common practice; guides give 15 to 25 % for cross-country, 25 to 30 % for trail, 30 to 35 % for downhill, and one gives the reverse. An air spring is not quite proportional, hence small steps. What the ring says counts, a maker's chart only guides.",
    sources: &["common-practice", "sag-ranges", "sag-scaling-2021", "leverage-2"],
    cautions: &[
        "Never above the greatest pressure printed on the fork or shock.",
        "Only a shock pump: a tyre pump moves too much air at once. Never open an air spring under pressure.",
    ],
    examples: &[
        Example {
            says: "fork, 100 mm travel, ring 20 mm",
            expect: &[check("sag", 20.0, &PERCENT, 1e-6)],
            source: "sag-ranges: 20 mm of 100 mm is 20 % (read)",
        },
        Example {
            says: "fork travel 120 mm",
            expect: &[check("target-mm", 30.0, &MM, 1e-6)],
            source: "common practice, no source: 25 % for an efficient feel",
        },
        Example {
            says: "rear shock stroke 42.5 mm, wheel travel 90 mm",
            expect: &[check("leverage", 2.118, &PLAIN, 0.001)],
            source: "leverage-2: 90 / 42.5 gives 2.1 (read)",
        },
        Example {
            says: "shock, stroke 50 mm, ring 15 mm, target 27 %, pressure 150 psi",
            expect: &[check("rate-change", 1.1111, &PLAIN, 1e-3), check("next-pressure", 165.0, &PSI, 0.1)],
            source: "sag-scaling-2021: 30 to 27 % needs 1.11 times the rate (read); the step is capped at 10 %",
        },
    ],
    hear: None,
    deduce: None,
    run,
};

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let stroke = values.need("stroke")?;
    let shock = values.choice("place") == Some("shock");
    let (low, middle, high) = match values.choice("style") {
        Some("plush") => (0.275, 0.30, 0.325),
        Some("cross-country") => (0.15, 0.20, 0.25),
        Some("trail") => (0.25, 0.275, 0.30),
        Some("downhill") => (0.30, 0.325, 0.35),
        _ => (0.225, 0.25, 0.275),
    };
    let target = values.si("target");
    let (low, middle, high) = target.map_or((low, middle, high), |t| (t - 0.02, t, t + 0.02));
    out.figure("target-mm", middle * stroke).band(low * stroke, high * stroke).note("from the seal, with you aboard");
    out.figure("target", middle).band(low, high);
    if let Some(ring) = values.si("ring") {
        if ring > stroke + 0.0005 {
            return Err(CalcError::Contradiction(format!(
                "the ring stands at {}, beyond the full stroke of {}; one of the two is wrong",
                values.say(ring, AS_MM1),
                values.say(stroke, AS_MM1)
            )));
        }
        let sag = ring / stroke;
        out.figure("sag", sag).band((ring - 0.001).max(0.0) / stroke, (ring + 0.001) / stroke);
        pressure(values, sag, (low, middle, high), &mut out)?;
        let bar = |label: &str, value: f64, low: f64, high: f64| Bar {
            label: label.to_owned(),
            value: value * 100.0,
            low: low * 100.0,
            high: high * 100.0,
        };
        out.chart =
            Some(Chart::Bars { unit: "%", bars: vec![bar("now", sag, sag, sag), bar("aimed at", middle, low, high)] });
    }
    if let Some(travel) = values.si("wheel-travel").filter(|_| shock) {
        let leverage = travel / stroke;
        if leverage < 1.0 {
            return Err(CalcError::Contradiction(
                "the wheel travels less than the shock's stroke; the two may be swapped".into(),
            ));
        }
        out.figure("leverage", leverage).note("an average; it changes through the travel");
        out.figure("wheel-sag", middle * travel).band(low * travel, high * travel);
    }
    out.then("Set the rear first, then the fork: each moves the weight on the other.");
    out.then(
        "Cycle it a few times after each change of air, so that its chambers level out, then measure again, twice.",
    );
    out.then("Ride a known stretch; keep a note of pressure, ring and how often the last bit of travel was used.");
    Ok(out)
}

fn pressure(
    values: &Values,
    sag: f64,
    (low, middle, high): (f64, f64, f64),
    out: &mut Outcome,
) -> Result<(), CalcError> {
    let inside = (low - 1e-9..=high + 1e-9).contains(&sag);
    if inside && values.si("target").is_none_or(|t| (sag - t).abs() < 0.01) {
        out.then("The sag is inside its band: leave the spring and judge by riding.");
    }
    if sag <= 0.0 {
        out.warn("The ring did not move: it was not at the seal, the lockout is on, or the spring is far too hard.");
        return Ok(());
    }
    if sag > 0.9 {
        out.warn("It is nearly bottomed by your weight alone: the air may have leaked; do not ride it so.");
    }
    out.figure("rate-change", sag / middle);
    let Some(now) = values.si("pressure") else { return Ok(()) };
    let wanted = now * sag / middle;
    let step = wanted.clamp(now * (1.0 - STEP), now * (1.0 + STEP));
    let max = values.si("max-pressure");
    if max.is_some_and(|max| now > max * 1.001) {
        return Err(CalcError::Contradiction(
            "the present pressure is above the greatest one printed; let air out first".into(),
        ));
    }
    let next = step.min(max.unwrap_or(f64::MAX));
    let note = if (step - wanted).abs() > 1.0 {
        "a first step; read the ring again before the next"
    } else {
        "then read the ring again"
    };
    out.figure("next-pressure", next).band(next * 0.97, next * 1.03).note(note);
    if max.is_some_and(|max| step > max) {
        out.warn("The wanted sag would need more than the greatest pressure printed: the spring is at its end; ask for another or take more sag.");
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::super::kit::{parse_inputs, run};
    use super::*;

    #[test]
    fn refusals() {
        let refused = |text: &str| run(&CALC, &parse_inputs(&CALC, text).values).unwrap_err().to_string();
        assert!(refused("fork travel 100 mm, ring 120 mm").contains("beyond the full stroke"));
        assert!(refused("shock stroke 60 mm, wheel travel 40 mm").contains("swapped"));
        assert!(parse_inputs(&CALC, "fork travel 0 mm").problems[0].contains("15 mm"));
        assert!(refused("fork").contains("stroke"));
    }

    #[test]
    fn heavier_needs_more_air_and_no_step_is_large() {
        let next = |ring: u32| {
            let values = parse_inputs(&CALC, &format!("fork travel 120 mm, ring {ring} mm, pressure 70 psi")).values;
            run(&CALC, &values).unwrap().get("next-pressure").unwrap().quantity.value_in(&PSI).unwrap()
        };
        assert!((next(30) - 70.0).abs() < 1e-9);
        assert!(next(33) > next(31) && next(20) < next(28));
        assert!((next(60) - 77.0).abs() < 1e-9 && (next(5) - 63.0).abs() < 1e-9);
    }
}
