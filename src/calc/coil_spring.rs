//! Coil spring: the rate for a rider, the nearest springs sold, and what sag they give.
//!
//! Owns the rate from sag and leverage. Must not know air springs.

use super::kit::Chart;
use super::kit::common::{AS_MM1, AS_PERCENT1, AS_PLAIN2, AS_SPRING, RATES, SHARE, SMALL, WEIGHT};
use super::kit::{
    CalcError, Calculator, Example, Input, Outcome, OutputSpec, Preset, Rung, Shown, Values, ask, check, output,
    quantity, shown,
};
use super::law::spring::coil_rate;
use crate::units::{Dimension, LB_PER_IN, MM, N_PER_MM, PERCENT, PLAIN};

const INPUTS: &[Input] = &[
    ask(
        "rider",
        &["rider weight", "rider", "weight", "weigh"],
        "How heavy are you with everything you wear and carry?",
        "Step on a scale in riding kit.",
        quantity(Dimension::Mass, (35.0, 140.0), (15.0, 250.0), WEIGHT),
    ),
    ask(
        "stroke",
        &["stroke", "shock stroke"],
        "How long is the shock's stroke?",
        "The second figure of its size, such as 230x60.",
        quantity(Dimension::Length, (0.035, 0.095), (0.015, 0.30), SMALL),
    ),
    ask(
        "travel",
        &["travel", "wheel travel", "rear travel"],
        "How far does the wheel travel?",
        "From the frame's papers. For a fork it is the same as the stroke.",
        quantity(Dimension::Length, (0.08, 0.22), (0.03, 0.35), SMALL),
    ),
    ask(
        "share",
        &["share on this wheel", "share", "rear share", "weight on the rear"],
        "Which share of the rider stands on this wheel?",
        "A scale under the wheel, rider in position; about 60 % at the rear (from memory).",
        quantity(Dimension::Ratio, (0.45, 0.72), (0.2, 0.9), SHARE),
    )
    .preset(Preset::Value(60.0, &PERCENT)),
    ask(
        "sag",
        &["wanted sag", "sag", "target", "target sag"],
        "Which share of the travel do you want as sag?",
        "30 % for plush or long travel, 25 % for efficient (common practice).",
        quantity(Dimension::Ratio, (0.15, 0.40), (0.05, 0.7), SHARE),
    )
    .preset(Preset::Value(30.0, &PERCENT))
    .free(),
    ask(
        "step",
        &["spring step", "step"],
        "In which steps are springs for this shock sold?",
        "Often 50 lb/in, some 25 (from memory).",
        quantity(Dimension::SpringRate, (4000.0, 9000.0), (500.0, 30_000.0), RATES),
    )
    .preset(Preset::Value(50.0, &LB_PER_IN)),
    ask(
        "spring",
        &["spring fitted", "spring", "spring rate", "present spring", "rate"],
        "Which rate has the spring that is fitted?",
        "Printed on it, such as 450 or 450x2.75.",
        quantity(Dimension::SpringRate, (35_000.0, 140_000.0), (3000.0, 300_000.0), RATES),
    )
    .optional()
    .free(),
];

/// Springs are sold by the pound an inch everywhere.
const AS_SOLD: Shown = shown(&LB_PER_IN, &LB_PER_IN, (0, 0));

const OUTPUTS: &[OutputSpec] = &[
    output("rate", "Spring rate", AS_SOLD),
    output("softer", "Next softer spring sold", AS_SOLD),
    output("harder", "Next harder spring sold", AS_SOLD),
    output("sag-softer", "Sag with the softer", AS_PERCENT1),
    output("sag-harder", "Sag with the harder", AS_PERCENT1),
    output("sag-fitted", "Sag with the spring fitted", AS_PERCENT1),
    output("leverage", "Leverage", AS_PLAIN2),
    output("wheel-rate", "Rate at the wheel", AS_SPRING),
    output("wheel-sag", "Sag at the wheel", AS_MM1),
];

pub(super) static CALC: Calculator = Calculator {
    id: "coil-spring",
    title: "Coil spring rate",
    asks: &[
        "which coil spring for my weight",
        "spring rate for my shock",
        "coil too soft or too stiff",
        "450 lb spring",
        "how much preload",
        "coil shock spring",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Rate = mass on the wheel x g x leverage / (sag share x stroke), leverage = wheel travel / stroke. Rate at the wheel = rate / leverage squared.",
    worth: "Exact for a linear spring and a constant leverage; real frames change theirs, so expect 10 % either way. The same sag share suits any weight: the rate goes with it.",
    sources: &["leverage-2", "sag-scaling-2021", "common-practice", "from-memory"],
    cautions: &[
        "Preload only takes up slack: no more turns than the shock's maker allows (often two or three, from memory). A spring must have at least the shock's stroke, or it binds.",
    ],
    examples: &[
        Example {
            says: "rider 80 kg, stroke 60 mm, travel 150 mm, share 60 %, sag 30 %",
            expect: &[
                check("rate", 65.38, &N_PER_MM, 0.065),
                check("rate", 373.3, &LB_PER_IN, 0.37),
                check("wheel-sag", 45.0, &MM, 0.045),
                check("wheel-rate", 10.46, &N_PER_MM, 0.01),
            ],
            source: "textbook mechanics, computed",
        },
        Example {
            says: "170 lb, stroke 55 mm, wheel travel 140 mm, share 62 %, sag 28 %",
            expect: &[check("rate", 442.5, &LB_PER_IN, 0.1)],
            source: "textbook mechanics, computed",
        },
        Example {
            says: "rider 80 kg, stroke 57 mm, travel 160 mm",
            expect: &[check("leverage", 2.807, &PLAIN, 0.001)],
            source: "leverage-2: 160 / 57 gives 2.8 (read)",
        },
    ],
    hear: None,
    deduce: None,
    run,
};

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let mass = values.need("rider")? * values.need("share")?;
    let (stroke, travel, sag) = (values.need("stroke")?, values.need("travel")?, values.need("sag")?);
    if travel < stroke - 1e-9 {
        return Err(CalcError::Contradiction(
            "the wheel travels less than the shock's stroke; the two may be swapped".into(),
        ));
    }
    let leverage = travel / stroke;
    let rate = coil_rate(mass, leverage, sag, stroke);
    out.figure("rate", rate).band(rate * 0.9, rate * 1.1);
    let step = values.need("step")?;
    let (softer, harder) = ((rate / step).floor() * step, ((rate / step).floor() + 1.0) * step);
    if softer > 0.0 {
        out.figure("softer", softer);
        out.figure("sag-softer", sag * rate / softer);
    }
    out.figure("harder", harder);
    out.figure("sag-harder", sag * rate / harder);
    if let Some(fitted) = values.si("spring") {
        out.figure("sag-fitted", sag * rate / fitted);
    }
    out.figure("leverage", leverage).note("an average; it changes through the travel");
    out.figure("wheel-rate", rate / (leverage * leverage));
    out.figure("wheel-sag", sag * travel);
    let rung = |label: &str, value: f64| Rung { label: label.to_owned(), value: LB_PER_IN.value_of(value) };
    let mut rungs = vec![rung("next softer sold", softer), rung("reckoned", rate), rung("next harder sold", harder)];
    if let Some(fitted) = values.si("spring") {
        rungs.push(rung("fitted", fitted));
    }
    rungs.sort_by(|a, b| a.value.total_cmp(&b.value));
    out.chart = Some(Chart::Ladder { unit: "lb/in", rungs });
    out.then("Take the nearer of the two; between them heavier or faster riders take the harder.");
    out.then("Measure the sag with it, preload just taken up, and correct by the ring, not by preload turns.");
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::super::kit::{parse_inputs, run};
    use super::*;

    #[test]
    fn rate_goes_with_weight() {
        let rate = |kg: u32| {
            let values = parse_inputs(&CALC, &format!("rider {kg} kg, stroke 60 mm, travel 150 mm")).values;
            run(&CALC, &values).unwrap().get("rate").unwrap().quantity.si
        };
        // sag-scaling-2021 (READ): 120 kg needs about twice the rate of 60 kg.
        assert!((rate(120) / rate(60) - 2.0).abs() < 1e-9);
    }
}
