//! Pressure after a change of temperature or height, for tyres and air springs.
//!
//! Owns the gauge-to-absolute step. Must not know which pressure is right.

use super::kit::common::{AIR, AS_PERCENT1, AS_PRESSURE, WARMTH, WAY};
use super::kit::{
    CalcError, Calculator, Example, Input, Outcome, OutputSpec, Preset, Values, ask, check, output, quantity,
};
use super::law::gas::{gauge_after, outside};
use crate::units::{BAR, CELSIUS, Dimension, KPA, M, PSI};

const INPUTS: &[Input] = &[
    ask(
        "pressure",
        &["pressure", "filled to", "pumped to"],
        "Which pressure was read?",
        "On the gauge, before the change.",
        quantity(Dimension::Pressure, (0.8e5, 25e5), (0.1e5, 40e5), AIR),
    ),
    ask(
        "from",
        &["temperature before", "from", "filled at", "at", "pumped at"],
        "At which temperature was it filled?",
        "Air and tyre at rest in the room.",
        quantity(Dimension::Temperature, (253.0, 318.0), (223.0, 373.0), WARMTH),
    )
    .preset(Preset::Value(20.0, &CELSIUS))
    .free(),
    ask(
        "to",
        &["temperature after", "to", "ridden at", "outside", "then"],
        "At which temperature will it be?",
        "The air the tyre stands in; sun and braking make it warmer.",
        quantity(Dimension::Temperature, (253.0, 323.0), (223.0, 373.0), WARMTH),
    )
    .when(|v| !v.has("height-to")),
    ask(
        "height-from",
        &["height before", "from height", "altitude before", "low"],
        "At which height above the sea was it filled?",
        "From a map.",
        quantity(Dimension::Length, (0.0, 3000.0), (-400.0, 9000.0), WAY),
    )
    .preset(Preset::Value(0.0, &M)),
    ask(
        "height-to",
        &["height after", "height", "altitude", "to height", "up to", "at height"],
        "At which height will it be?",
        "From a map.",
        quantity(Dimension::Length, (0.0, 4500.0), (-400.0, 9000.0), WAY),
    )
    .optional()
    .free(),
    ask(
        "growth",
        &["volume growth", "tyre grows", "volume"],
        "By which share does the room for the air grow?",
        "Nil for a stiff tyre or a spring at rest.",
        quantity(Dimension::Ratio, (0.0, 0.06), (-0.5, 1.0), super::kit::common::SHARE),
    )
    .optional(),
];

const OUTPUTS: &[OutputSpec] = &[
    output("after", "The gauge will read", AS_PRESSURE),
    output("change", "Change", AS_PRESSURE),
    output("share", "Change as a share", AS_PERCENT1),
];

pub(super) static CALC: Calculator = Calculator {
    id: "pressure-temperature",
    title: "Pressure, temperature and height",
    asks: &[
        "tyre pressure in the cold",
        "pressure after a night in the frost",
        "does pressure rise in the sun",
        "fork pressure at altitude",
        "tyres softer in winter",
        "pump up warm indoors and ride in the cold",
        "pressure on the plane or up the mountain",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "On absolute pressure (gauge plus the air outside): after = before x warmer kelvin / colder kelvin / volume ratio. A gauge reads that less the air outside, which falls with height as in the standard atmosphere.",
    worth: "Good to a per cent for a tight tyre or spring between -33 and 67 degrees Celsius. Near 7 bar absolute ten degrees are about 0.24 bar. Many published examples forget the air outside and come out low.",
    sources: &["openstax-physics", "us-atmosphere-1976"],
    cautions: &[
        "Do not fill to the marked maximum in the cold for use in the heat; never leave a full tyre in a hot car or beside a stove.",
    ],
    examples: &[
        Example {
            says: "250 kPa from 35 C to -40 C",
            expect: &[check("after", 164.5, &KPA, 0.5)],
            source: "openstax-physics chapter 13 no. 22: 1.64e5 Pa (read)",
        },
        Example {
            says: "658 kPa from 20 C to 60 C",
            expect: &[check("after", 761.6, &KPA, 0.1)],
            source: "a published answer: 761.66 kPa with whole kelvins (read)",
        },
        Example {
            says: "80 psi at 18 C to 43 C",
            expect: &[check("after", 88.13, &PSI, 0.02)],
            source: "computed; an answer site's 86.7 psi is a slip",
        },
        Example {
            says: "5 bar, height 2000 m",
            expect: &[check("after", 5.218, &BAR, 0.001)],
            source: "us-atmosphere-1976, computed",
        },
    ],
    hear: None,
    deduce: None,
    run,
};

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let gauge = values.need("pressure")?;
    let from = values.need("from")?;
    let to = values.si("to").unwrap_or(from);
    let low = values.need("height-from")?;
    let high = values.si("height-to").unwrap_or(low);
    let growth = 1.0 + values.si("growth").unwrap_or(0.0);
    let after = gauge_after(gauge, (from, to), (outside(low), outside(high)), growth);
    out.figure("after", after).band(after * 0.98, after * 1.02);
    out.figure("change", after - gauge);
    out.figure("share", (after - gauge) / gauge);
    if after < 0.0 {
        out.warn("No pressure would be left: the air shrinks below the air outside.");
    }
    if !(240.0..=340.0).contains(&from) || !(240.0..=340.0).contains(&to) {
        out.warn("Outside -33 to 67 degrees Celsius the rule is only rough, and the rubber changes as well.");
    }
    if !values.has("to") {
        out.assume("The same temperature before and after.");
    }
    out.assume("Nothing leaks, and the room for the air stays as it is unless told otherwise.");
    out.then("Pump at the temperature you will ride in, or correct by this figure and check once outside.");
    Ok(out)
}
