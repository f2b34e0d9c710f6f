//! Brake heat: energy of a stop or a descent and how hot rotor or rim would get.
//!
//! Owns the upper bound without cooling, and bedding-in counts. Must not know pads.

use super::kit::common::{AS_JOULE, AS_RISE, AS_WATT, G, NUMBER, SECONDS, SHARE, SPEEDS, WAY, WEIGHT};
use super::kit::{
    CalcError, Calculator, Example, Input, InputKind, Outcome, OutputSpec, Pick, Preset, Values, ask, check, count,
    output, quantity,
};
use super::law::ride::rise;
use crate::units::{Dimension, JOULE, PLAIN, RISE_C, WATT};

const KINDS: &[Pick] = &[
    Pick { id: "disc", says: "Disc brake", words: &["disc", "disk", "rotor", "discs", "rotors"] },
    Pick { id: "rim", says: "Rim brake", words: &["rim", "rims", "rim brake"] },
];

fn descent(values: &Values) -> bool {
    ["drop", "slope", "way", "time"].iter().any(|id| values.has(id))
}

const INPUTS: &[Input] = &[
    ask(
        "mass",
        &["weight all up", "all up", "mass", "total weight", "rider and bike", "weight"],
        "How heavy are rider, bike and luggage together?",
        "A scale, with and without the bike.",
        quantity(Dimension::Mass, (45.0, 180.0), (20.0, 500.0), WEIGHT),
    ),
    ask(
        "speed",
        &["speed", "from", "at"],
        "How fast: before the stop, or held on the descent?",
        "From a speedometer.",
        quantity(Dimension::Speed, (2.0, 20.0), (0.3, 35.0), SPEEDS),
    )
    .when(|v| !v.has("drop")),
    ask(
        "drop",
        &["metres of drop", "drop", "height", "descent of", "metres down"],
        "How many metres does the descent drop?",
        "From a map.",
        quantity(Dimension::Length, (2.0, 1500.0), (0.1, 5000.0), WAY),
    )
    .optional(),
    ask(
        "slope",
        &["slope", "grade", "gradient"],
        "How steep is it?",
        "In per cent.",
        quantity(Dimension::Ratio, (0.02, 0.2), (0.001, 0.6), SHARE),
    )
    .optional()
    .free(),
    ask(
        "way",
        &["way along the road", "along", "length of the descent", "road length"],
        "How long is the descent along the road?",
        "From a map.",
        quantity(Dimension::Length, (20.0, 20_000.0), (1.0, 100_000.0), WAY),
    )
    .optional(),
    ask(
        "time",
        &["time", "for", "braking for"],
        "For how long is the brake held?",
        "From a watch.",
        quantity(Dimension::Time, (2.0, 1200.0), (0.1, 20_000.0), SECONDS),
    )
    .optional()
    .free(),
    ask(
        "metal",
        &["rotor mass", "rotor", "rotor weight", "rim mass", "rim", "heated mass"],
        "How heavy is one rotor (or one rim)?",
        "A scale; steel rotors of 160 to 200 mm are about 100 to 200 g (from memory).",
        quantity(Dimension::Mass, (0.07, 0.9), (0.02, 5.0), super::kit::common::METAL),
    ),
    ask(
        "brakes",
        &["brakes", "rotors", "number of brakes", "rims"],
        "How many brakes share the work evenly?",
        "One or two.",
        count((1, 2), (1, 4)),
    )
    .preset(Preset::Count(1)),
    ask(
        "heat",
        &["specific heat", "c"],
        "What is the metal's specific heat, in J/(kg K)?",
        "Steel 450 to 500; aluminium about 900 (from memory).",
        quantity(Dimension::Plain, (440.0, 920.0), (100.0, 5000.0), NUMBER),
    )
    .preset(Preset::Value(500.0, &PLAIN)),
    ask("kind", &["brake kind"], "Disc or rim brake?", "", InputKind::Choice(KINDS)).preset(Preset::Choice("disc")),
];

const OUTPUTS: &[OutputSpec] = &[
    output("rise", "It would get hotter by, with nothing cooling it", AS_RISE),
    output("energy", "Energy to be braked away", AS_JOULE),
    output("power", "Power while braking", AS_WATT),
    output("each", "Energy for each brake", AS_JOULE),
];

pub(super) static CALC: Calculator = Calculator {
    id: "brake-heat",
    title: "Brake heat",
    asks: &[
        "how hot do my brakes get",
        "long descent brakes",
        "rotor temperature",
        "rim brake heat tyre blow off",
        "bed in new pads how many stops",
        "brakes fade downhill",
        "tandem descent brakes",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Energy of a stop = mass x speed^2 / 2; of a descent at steady speed = mass x g x drop, air and rolling ignored. Rise = energy / (brakes x metal mass x specific heat).",
    worth: "An upper bound: air cools while it heats, and drag takes its share. Good for comparing rotors, riders and descents, not for a thermometer.",
    sources: &["brake-heat-qa", "bedding-in", "tbis-4210-2", "from-memory"],
    cautions: &[
        "Do not touch rotor or rim after a descent. Brake in bursts, front and rear in turn, and stop to cool before the lever softens.",
        "Rim brakes heat the tyre: on long descents a tube can burst. Heavy loads want a disc or a drag brake.",
    ],
    examples: &[
        Example {
            says: "100 kg, from 10 m/s, rotor 150 g",
            expect: &[check("energy", 5000.0, &JOULE, 0.01), check("rise", 66.7, &RISE_C, 0.1)],
            source: "brake-heat-qa: 5000 J, 67 K (read)",
        },
        Example {
            says: "100 kg, drop 9.95 m, rotor 150 g",
            expect: &[check("rise", 130.0, &RISE_C, 0.15)],
            source: "brake-heat-qa: 9751 J, 130 K with g 9.8 (read)",
        },
        Example {
            says: "80 kg, slope 7 %, speed 6 m/s, for 60 s, rim brake, rim 0.80 kg, brakes 2, specific heat 450",
            expect: &[check("rise", 27.44, &RISE_C, 0.05), check("power", 329.3, &WATT, 0.5)],
            source: "a textbook exercise put right (read; it prints 28.35)",
        },
    ],
    hear: None,
    deduce: None,
    run,
};

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let mass = values.need("mass")?;
    let (brakes, metal, c) = (values.need("brakes")?, values.need("metal")?, values.need("heat")?);
    let energy = if descent(values) {
        let drop = drop(values)?;
        let energy = mass * G * drop;
        if let (Some(speed), Some(slope)) = (values.si("speed"), values.si("slope")) {
            out.figure("power", mass * G * slope * speed);
        } else if let Some(time) = values.si("time") {
            out.figure("power", energy / time);
        }
        energy
    } else {
        let speed = values.need("speed")?;
        mass * speed * speed / 2.0
    };
    let up = rise(energy, brakes * metal, c);
    out.figure("rise", up).band(0.0, up).note("an upper bound");
    out.figure("energy", energy);
    out.figure("each", energy / brakes);
    let rim = values.choice("kind") == Some("rim");
    if rim && up > 40.0 {
        out.warn("Hot enough to matter for tube and rim strip: stop and let the rims cool, or brake in bursts.");
    } else if up > 600.0 {
        out.warn("No rotor gets that hot: on so long a descent the cooling decides. It says how much there is to cool away; brake in bursts, use both brakes, stop half way.");
    } else if !rim && up > 250.0 {
        out.warn(
            "Far beyond what one rotor should take without cooling: brake in bursts, use both brakes, stop half way.",
        );
    }
    out.then("New pads: 6 to 7 drags of 5 to 6 s from about 30 km/h, or 10 to 40 slow-downs from 20 to 25 km/h to walking pace; the published counts differ. One brake at a time, never to a standstill with a locked wheel, let it cool between.");
    Ok(out)
}

/// Metres dropped: given, or slope times way, or slope times speed times time.
fn drop(values: &Values) -> Result<f64, CalcError> {
    if let Some(drop) = values.si("drop") {
        return Ok(drop);
    }
    let slope = values.si("slope").ok_or(CalcError::Missing(vec!["slope"]))?;
    let way = match (values.si("way"), values.si("time"), values.si("speed")) {
        (Some(way), ..) => way,
        (None, Some(time), Some(speed)) => time * speed,
        _ => return Err(CalcError::Missing(vec!["time"])),
    };
    // Slope is rise over level ground; over the road it is the sine, the same to a per cent below 14 %.
    Ok(way * slope)
}
