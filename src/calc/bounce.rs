//! Bounce and damping: how fast a bike bobs, how quickly it calms, and which way to turn the rebound.
//!
//! Owns frequency and damping ratio from what can be counted or filmed. Must not know valves or oil.

use super::kit::common::{AS_HZ, AS_PERCENT0, AS_PLAIN3, NUMBER, SECONDS, SMALL};
use super::kit::{
    CalcError, Calculator, Example, Input, Outcome, OutputSpec, Values, ask, check, count, output, quantity,
};
use super::law::spring::{damping_ratio, frequency, overshoot};
use crate::units::{Dimension, HZ, PERCENT, PLAIN};

fn counted(values: &Values) -> bool {
    values.has("bounces") || values.has("time")
}

fn no_other(values: &Values) -> bool {
    !counted(values) && !values.has("ratio")
}

const INPUTS: &[Input] = &[
    ask(
        "sag",
        &["sag", "wheel sag"],
        "How far does the wheel sink under the rider?",
        "At the wheel, or at the fork: seal to ring.",
        quantity(Dimension::Length, (0.008, 0.07), (0.001, 0.3), SMALL),
    )
    .when(no_other),
    ask(
        "bounces",
        &["bounces", "bobs", "times"],
        "How many bounces did you count?",
        "Film it, or let go of a pressed saddle and count.",
        count((1, 30), (1, 500)),
    )
    .when(counted),
    ask(
        "time",
        &["time", "seconds", "in"],
        "In how many seconds?",
        "From the film.",
        quantity(Dimension::Time, (0.3, 30.0), (0.05, 600.0), SECONDS),
    )
    .when(counted),
    ask(
        "ratio",
        &["ratio", "peak ratio", "first over second"],
        "How many times higher is one rebound than the next?",
        "From a film: height of one peak over rest, divided by the next peak's.",
        quantity(Dimension::Plain, (1.2, 40.0), (1.01, 1000.0), NUMBER),
    )
    .optional(),
    ask(
        "clicks",
        &["rebound clicks", "clicks"],
        "How many clicks from fully closed (slow) is the rebound now?",
        "Turn in gently to the stop and count, then turn back.",
        count((0, 20), (0, 60)),
    )
    .optional(),
];

const OUTPUTS: &[OutputSpec] = &[
    output("frequency", "It bobs", AS_HZ),
    output("counted", "It was counted at", AS_HZ),
    output("damping", "Damping ratio", AS_PLAIN3),
    output("overshoot", "It swings past rest by", AS_PERCENT0),
    output("static", "Sag that belongs to the counted bobbing", super::kit::common::AS_MM1),
];

pub(super) static CALC: Calculator = Calculator {
    id: "bounce",
    title: "Bounce and damping",
    asks: &[
        "rebound too fast or too slow",
        "fork bounces back too quickly",
        "how many clicks of rebound",
        "bike pogo bobbing",
        "wallow after bumps",
        "natural frequency of suspension",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Bobbing of a linear spring: sqrt(g / sag) / 2 pi, that is 0.4985 / sqrt(sag in m) a second. Damping ratio from two following peaks: ln r / sqrt(4 pi^2 + (ln r)^2).",
    worth: "The frequency is exact for a linear spring without friction; air springs are stiffer when fast, seals stick. The damping ratio from two peaks is good to a tenth at best. Feel and control over a known bump decide.",
    sources: &["common-practice", "from-memory"],
    cautions: &[
        "One click at a time, and never force an adjuster beyond its stop. A fork that clunks or leaks oil is for a workshop.",
    ],
    examples: &[
        Example {
            says: "sag 45 mm",
            expect: &[check("frequency", 2.350, &HZ, 0.001)],
            source: "linear spring, computed",
        },
        Example {
            says: "sag 250 mm",
            expect: &[check("frequency", 0.997, &HZ, 0.001)],
            source: "the case of 250 kg on 1 kg/mm, inputs (read), value computed",
        },
        Example {
            says: "ratio 4",
            expect: &[check("damping", 0.2155, &PLAIN, 1e-4), check("overshoot", 50.0, &PERCENT, 0.1)],
            source: "logarithmic decrement, from memory, computed",
        },
        Example {
            says: "5 bounces, time 2 s",
            expect: &[check("counted", 2.5, &HZ, 1e-9)],
            source: "common practice, no source: count and divide",
        },
    ],
    hear: None,
    deduce: None,
    run,
};

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    if let Some(sag) = values.si("sag") {
        let hz = frequency(sag);
        out.figure("frequency", hz).band(hz * 0.9, hz * 1.2);
    }
    if let (Some(n), Some(time)) = (values.si("bounces"), values.si("time")) {
        let hz = n / time;
        out.figure("counted", hz).band((n - 0.5).max(0.1) / time, (n + 0.5) / time);
        out.figure("static", (0.4985 / hz).powi(2));
        if let Some(sag) = values.si("sag")
            && (hz / frequency(sag) - 1.0).abs() > 0.4
        {
            out.warn("Count and sag do not belong together: the frame or tyre may be bobbing, not the spring.");
        }
    }
    if let Some(ratio) = values.si("ratio") {
        let zeta = damping_ratio(ratio);
        out.figure("damping", zeta).band(zeta * 0.85, zeta * 1.15);
        out.figure("overshoot", overshoot(zeta));
        rebound(values, zeta, &mut out);
    }
    if out.figures.is_empty() {
        return Err(CalcError::Missing(vec!["sag"]));
    }
    out.then("Set the sag first; rebound follows the spring.");
    Ok(out)
}

/// Which way to turn; the bounds are from memory and said to be so.
fn rebound(values: &Values, zeta: f64, out: &mut Outcome) {
    let clicks = values.si("clicks");
    let at = |change: f64| clicks.map_or_else(String::new, |n| format!(" (to {} from closed)", (n + change).max(0.0)));
    let sentence = if zeta < 0.2 {
        format!("It swings on: close the rebound by one click{}, ride the same bumps, compare.", at(-1.0))
    } else if zeta > 0.6 {
        format!("It creeps back: open the rebound by one click{}, or it packs down over quick bumps.", at(1.0))
    } else {
        "It comes back and settles: leave it and judge by riding.".to_owned()
    };
    out.then(sentence);
    out.assume("Below about 0.2 a bike swings on, above about 0.6 it packs down (from memory).");
    if clicks == Some(0.0) && zeta < 0.2 {
        out.warn("The rebound is already closed: the damper may be worn or low on oil.");
    }
}
