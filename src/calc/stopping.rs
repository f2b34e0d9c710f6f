//! Stopping: deceleration from a stop, planned distance, and the limit at which the rear wheel lifts.
//!
//! Owns the yardsticks. Must not know brakes' insides.

use super::kit::common::{AS_BRAKING, AS_G, AS_M1, AS_M2, AS_SECONDS, FRAME, G, NUMBER, SECONDS, SHARE, SPEEDS, WAY};
use super::kit::{
    Bar, CalcError, Calculator, Chart, Example, Input, Outcome, OutputSpec, Preset, Values, ask, check, output,
    quantity,
};
use super::law::ride::{corrected, deceleration, pitch_over, planned};
use crate::units::{Dimension, G0, M, MPS2, PERCENT, PLAIN, SECOND};

fn wants_speed(values: &Values) -> bool {
    !(values.has("ahead") && values.has("height"))
}

fn planning(values: &Values) -> bool {
    values.has("speed") && !values.has("distance")
}

const INPUTS: &[Input] = &[
    ask(
        "speed",
        &["speed", "from", "at", "going"],
        "How fast were you when the brakes bit?",
        "From a speedometer.",
        quantity(Dimension::Speed, (2.0, 18.0), (0.5, 35.0), SPEEDS),
    )
    .when(wants_speed),
    ask(
        "distance",
        &["distance", "stopped in", "in", "within", "took"],
        "In how many metres did you stop?",
        "From a mark on a dry, flat, clean road, hands ready at the levers; the mean of three.",
        quantity(Dimension::Length, (1.5, 60.0), (0.2, 1000.0), WAY),
    )
    .optional()
    .free(),
    ask(
        "wanted-speed",
        &["intended speed", "test speed", "for"],
        "For which speed should the distance hold?",
        "To compare runs begun at slightly different speeds.",
        quantity(Dimension::Speed, (2.0, 18.0), (0.5, 35.0), SPEEDS),
    )
    .optional(),
    ask(
        "down",
        &["downhill", "slope", "down"],
        "How steep does it go down?",
        "In per cent; uphill is negative.",
        quantity(Dimension::Ratio, (-0.05, 0.2), (-0.4, 0.5), SHARE),
    )
    .preset(Preset::Value(0.0, &PERCENT))
    .free(),
    ask(
        "reaction",
        &["reaction time", "reaction"],
        "How long until the brakes bite?",
        "Planners use 2.5 s.",
        quantity(Dimension::Time, (0.3, 3.0), (0.0, 10.0), SECONDS),
    )
    .preset(Preset::Value(2.5, &SECOND))
    .when(planning),
    ask(
        "friction",
        &["planned friction", "friction", "grip", "f"],
        "Which friction is planned with?",
        "0.25 is a planner's figure for wet roads.",
        quantity(Dimension::Plain, (0.15, 0.8), (0.02, 1.2), NUMBER),
    )
    .preset(Preset::Value(0.25, &PLAIN))
    .when(planning),
    ask(
        "ahead",
        &["mass centre behind the front wheel", "behind the front wheel", "mass centre behind", "ahead"],
        "How far behind the front wheel's contact is the mass centre of rider and bike?",
        "Wheelbase times the rear wheel's share of the weight.",
        quantity(Dimension::Length, (0.45, 0.8), (0.1, 2.0), FRAME),
    )
    .optional(),
    ask(
        "height",
        &["mass centre height", "height"],
        "How high is the mass centre of rider and bike?",
        "About the height of the saddle or a little above (from memory).",
        quantity(Dimension::Length, (0.8, 1.3), (0.3, 2.0), FRAME),
    )
    .when(|v| v.has("ahead")),
];

const OUTPUTS: &[OutputSpec] = &[
    output("deceleration", "Mean deceleration of that stop", AS_BRAKING),
    output("in-g", "as a share of gravity", AS_G),
    output("corrected", "Distance put right for the other speed", AS_M2),
    output("law-distance", "Distance at which the law's deceleration would stop it", AS_M1),
    output("braking", "Planned braking distance (wet)", AS_M2),
    output("reaction", "Way during the reaction", AS_M2),
    output("total", "Planned stopping distance", AS_M1),
    output("lift", "The rear wheel lifts at", AS_G),
    output("time", "Time to stop", AS_SECONDS),
];

pub(super) static CALC: Calculator = Calculator {
    id: "stopping",
    title: "Braking and stopping",
    asks: &[
        "how far to stop",
        "stopping distance",
        "are my brakes good enough",
        "stopped from 25 km/h in 5 m",
        "over the bars when braking",
        "braking downhill",
        "weak brakes test",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Deceleration = speed^2 / (2 distance). Planned distance = V^2 / (254 (f - down slope)) with V in km/h, plus speed x reaction time. The rear wheel lifts at (mass centre behind the front contact) / (its height) of gravity, less the slope.",
    worth: "A mean over the stop; a metre of error in a short stop is a quarter of it. The law's yardstick is 15 ft from 15 mph, 0.50 g (the speed from memory). Bicycles in a test reached 0.54 to 0.67 g dry and 0.44 to 0.59 g wet. The rear wheel lifts at 0.60 to 0.67 g seated, measured 0.63, and 0.83 hanging off the back.",
    sources: &["cfr-1512", "aashto-bicycle", "dekra-2020", "riel-2005", "en-14766", "from-memory"],
    cautions: &[
        "Test brakes at walking pace first, on a clear, flat place; never on a road with traffic. Brakes that fade or come to the bar: do not ride.",
        "Front and rear together, body back and low; a locked front wheel falls.",
    ],
    examples: &[
        Example {
            says: "from 15 mph in 15 ft",
            expect: &[check("in-g", 0.501, &G0, 0.001)],
            source: "cfr-1512 5(b)(1): 15 ft (read), speed from memory",
        },
        Example {
            says: "from 25 km/h in 3.66 m",
            expect: &[check("deceleration", 6.59, &MPS2, 0.01)],
            source: "dekra-2020: best dry stop 3.66 m (read)",
        },
        Example {
            says: "speed 30 km/h",
            expect: &[check("braking", 14.17, &M, 0.01), check("reaction", 20.83, &M, 0.01)],
            source: "aashto-bicycle formula, 0.25 and 2.5 s (read)",
        },
        Example {
            says: "ahead 0.7 m, height 1 m, downhill 10 %",
            expect: &[check("lift", 0.6, &G0, 1e-6)],
            source: "riel-2005: 0.7 g on the level, 0.6 g down 10 % (read)",
        },
        Example {
            says: "speed 25.8 km/h, stopped in 6.10 m, for 25.0 km/h",
            expect: &[check("corrected", 5.728, &M, 0.001)],
            source: "en-14766 track method (read)",
        },
    ],
    hear: None,
    deduce: None,
    run,
};

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let down = values.need("down")?;
    let mut bars = Vec::new();
    let mut bar =
        |label: &str, v: f64, low: f64, high: f64| bars.push(Bar { label: label.to_owned(), value: v, low, high });
    if let Some(speed) = values.si("speed") {
        if let Some(distance) = values.si("distance") {
            let a = deceleration(speed, distance);
            if a > 1.3 * G {
                return Err(CalcError::Contradiction("no bicycle stops so hard: speed or distance was misread".into()));
            }
            let lift = 0.60 - down..0.67 - down;
            out.figure("deceleration", a)
                .band(deceleration(speed, distance + 0.3), deceleration(speed, (distance - 0.3).max(0.1)));
            out.figure("in-g", a).note(verdict(a / G));
            out.figure("time", 2.0 * distance / speed);
            out.figure("law-distance", speed * speed / (2.0 * 0.501 * G)).note("at 0.50 g");
            bar("this stop", a / G, a / G, a / G);
            if lift.contains(&(a / G)) || a / G > lift.end {
                out.warn("That is near or beyond where the rear wheel lifts: harder braking throws the rider.");
            }
            if let Some(wanted) = values.si("wanted-speed") {
                out.figure("corrected", corrected(distance, speed, wanted));
                if (wanted - speed).abs() > 1.5 / 3.6 {
                    out.warn("The speeds differ by more than 1.5 km/h: the standard would not count that run.");
                }
            }
        } else {
            let way = speed * values.need("reaction")?;
            match planned(speed, values.need("friction")?, down) {
                Some(braking) => {
                    out.figure("total", braking + way).band(braking * 0.5 + speed, braking + way);
                    out.figure("braking", braking);
                    out.figure("reaction", way);
                }
                None => {
                    return Err(CalcError::NoAnswer(
                        "the slope takes all of that grip: such a descent cannot be braked to a stop".into(),
                    ));
                }
            }
        }
    }
    if let (Some(ahead), Some(height)) = (values.si("ahead"), values.si("height")) {
        let limit = pitch_over(ahead, height, down);
        out.figure("lift", limit * G).band((limit - 0.06) * G, (limit + 0.06) * G);
        if limit <= 0.1 {
            out.warn("At that slope and place of the mass centre the bike tips almost by itself: get off, or far back and low.");
        }
    }
    bar("law's yardstick", 0.50, 0.50, 0.50);
    bar("bicycles tested, dry", 0.60, 0.54, 0.67);
    bar("bicycles tested, wet", 0.52, 0.44, 0.59);
    bar("rear wheel lifts, seated", 0.635 - down, 0.60 - down, 0.67 - down);
    out.chart = Some(Chart::Bars { unit: "g", bars });
    Ok(out)
}

fn verdict(g: f64) -> &'static str {
    if g >= 0.5 {
        "as good as the law asks of both hand brakes"
    } else if g >= 0.3 {
        "less than the law asks of both brakes: look at pads, cables or hoses, and at the surface"
    } else {
        "weak: do not ride in traffic before the brakes are put right"
    }
}
