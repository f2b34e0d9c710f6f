//! Torque: units, a wrench with an extension, and what a steel bolt can bear.
//!
//! Owns the three tasks and their limits. Must not name a tightening value for any bicycle part: the part does that itself.

use super::kit::common::{AS_NEWTON, AS_NM, DEGREES, NUMBER, SHARE, SMALL, TORQUES};
use super::kit::{
    CalcError, Calculator, Example, Given, Input, InputKind, Outcome, OutputSpec, Pick, Preset, Shown, Values, ask,
    check, output, quantity, shown,
};
use super::law::bolt::{CLASSES, THREADS, preload, setting, torque};
use crate::units::{DEG, Dimension, LBF_FT, LBF_IN, N, NM, PERCENT, PLAIN};

const TASKS: &[Pick] = &[
    Pick { id: "convert", says: "Turn one unit of torque into another", words: &["convert", "conversion"] },
    Pick {
        id: "extension",
        says: "What to set on a torque wrench with an extension or crow-foot",
        words: &["crowfoot", "crow foot", "extension", "adapter"],
    },
    Pick {
        id: "bolt",
        says: "What a steel bolt of a size and class can bear",
        words: &["bolt", "preload", "proof load", "m4", "m5", "m6", "m8"],
    },
];

const SIZES: &[Pick] = &[
    Pick { id: "m4", says: "M4", words: &["m4"] },
    Pick { id: "m5", says: "M5", words: &["m5"] },
    Pick { id: "m6", says: "M6", words: &["m6"] },
    Pick { id: "m8", says: "M8", words: &["m8"] },
];

const GRADES: &[Pick] = &[
    Pick { id: "8.8", says: "8.8", words: &["8.8"] },
    Pick { id: "10.9", says: "10.9", words: &["10.9"] },
    Pick { id: "12.9", says: "12.9", words: &["12.9"] },
];

const KNOWN: &[Pick] = &[
    Pick { id: "wanted", says: "The torque wanted at the bolt", words: &["wanted", "want", "at the bolt"] },
    Pick { id: "set", says: "The torque set on the wrench", words: &["set to", "set at", "set on", "wrench reads"] },
];

fn is_bolt(values: &Values) -> bool {
    values.choice("task") == Some("bolt")
}

fn is_extension(values: &Values) -> bool {
    values.choice("task") == Some("extension")
}

fn not_bolt(values: &Values) -> bool {
    !is_bolt(values)
}

const INPUTS: &[Input] = &[
    ask("task", &["task"], "What do you want to know?", "", InputKind::Choice(TASKS)),
    ask(
        "torque",
        &["torque", "tightness", "recommended torque"],
        "Which torque?",
        "The value printed on the part, with its unit.",
        quantity(Dimension::Torque, (0.5, 70.0), (0.05, 500.0), TORQUES),
    )
    .free()
    .when(not_bolt),
    ask(
        "wrench",
        &["wrench", "wrench length", "lever length"],
        "How long is the wrench, from the middle of its square to the middle of its grip?",
        "Measure where your hand pulls; hold it only there.",
        quantity(Dimension::Length, (0.1, 0.7), (0.03, 2.0), SMALL),
    )
    .when(is_extension),
    ask(
        "adapter",
        &["adapter", "extension", "crowfoot", "crow foot", "adapter length"],
        "How long is the adapter, from the middle of the square to the middle of the bolt?",
        "Only a crow-foot or bar that lengthens the wrench counts; a socket extension in line with the bolt changes nothing.",
        quantity(Dimension::Length, (0.01, 0.2), (0.0, 1.0), SMALL),
    )
    .when(is_extension),
    ask(
        "adapter-angle",
        &["adapter angle", "angle"],
        "At which angle does the adapter stand to the wrench?",
        "0 in line and longer, 90 at a right angle (no change), 180 turned back.",
        quantity(Dimension::Angle, (0.0, 3.15), (-3.2, 3.2), DEGREES),
    )
    .preset(Preset::Value(0.0, &DEG))
    .when(is_extension),
    ask("known", &["kind of torque given", "given torque"], "Is that torque wanted at the bolt, or set on the wrench?", "", InputKind::Choice(KNOWN))
        .preset(Preset::Choice("wanted"))
        .when(is_extension),
    ask("thread", &["thread", "size"], "Which thread?", "Measure the bolt across its thread: 5 mm is M5.", InputKind::Choice(SIZES)).when(is_bolt),
    ask("class", &["property class", "class", "grade"], "Which property class?", "Stamped on the head, such as 8.8.", InputKind::Choice(GRADES))
        .preset(Preset::Choice("8.8"))
        .when(is_bolt),
    ask(
        "friction",
        &["nut factor", "friction", "k"],
        "Which nut factor?",
        "0.20 as received, about 0.15 greased; it varies from 0.10 to 0.50.",
        quantity(Dimension::Plain, (0.12, 0.30), (0.05, 0.6), NUMBER),
    )
    .preset(Preset::Value(0.20, &PLAIN))
    .when(is_bolt),
    ask(
        "share",
        &["share of proof", "share"],
        "Which share of the proof load?",
        "Three quarters is customary for joints that are undone again (from memory).",
        quantity(Dimension::Ratio, (0.4, 0.8), (0.05, 1.0), SHARE),
    )
    .preset(Preset::Value(75.0, &PERCENT))
    .when(is_bolt),
];

const AS_LBF_IN: Shown = shown(&LBF_IN, &LBF_IN, (1, 1));
const AS_LBF_FT: Shown = shown(&LBF_FT, &LBF_FT, (1, 1));

const OUTPUTS: &[OutputSpec] = &[
    output("setting", "Set the wrench to", AS_NM),
    output("at-bolt", "Reaches the bolt", AS_NM),
    output("newton-metres", "In newton metres", AS_NM),
    output("inch-pounds", "In inch-pounds", AS_LBF_IN),
    output("foot-pounds", "In foot-pounds", AS_LBF_FT),
    output("must-survive", "A joint with this recommended value must hold without failing", AS_NM),
    output("proof-load", "Proof load of the bolt", AS_NEWTON),
    output("bolt-limit", "What the steel bolt alone would bear", AS_NM),
    output("preload", "Clamping force from this torque", AS_NEWTON),
];

pub(super) static CALC: Calculator = Calculator {
    id: "torque",
    title: "Torque and fasteners",
    asks: &[
        "how tight should this bolt be",
        "how tight should the pedals be",
        "how tight should cranks, stem and axles be",
        "convert newton metres to inch pounds",
        "torque wrench with extension or crowfoot",
        "nm to in-lb",
        "how much can an m5 bolt take",
        "tighten stem bolts",
        "clamping force of a bolt",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "1 N m = 8.851 lbf in = 0.7376 lbf ft. With an adapter A on a wrench L at an angle: setting = wanted x L / (L + A x cos angle). Steel bolt: torque = K x diameter x preload, K 0.20 (0.15 to 0.30); limit at three quarters of the proof load of its class.",
    worth: "Units are exact, the extension is plain leverage. Clamping force from a torque is good to +-35 % dry and +-25 % greased, and the nut factor alone spreads as 1 to 2. The bolt's limit says nothing about light alloy threads, thin tubes or carbon: those fail far earlier.",
    sources: &["us-army-tm", "iso-898-1", "tbis-4210-2", "from-memory"],
    cautions: &[
        "The value printed on the part, or in its maker's instructions, always wins; without one, ask the maker. No figure here is a recommendation for a bicycle part.",
        "Carbon, thin tubes and alloy threads fail far below what a steel bolt bears.",
    ],
    examples: &[
        Example {
            says: "5 N m",
            expect: &[
                check("inch-pounds", 44.2537, &LBF_IN, 1e-4),
                check("foot-pounds", 3.687_81, &LBF_FT, 1e-4),
                check("must-survive", 7.5, &NM, 1e-9),
            ],
            source: "exact by definition; tbis-4210-2: failure torque at least 1.5 times (read)",
        },
        Example {
            says: "torque 300 in-lb, wrench 10 in, adapter 4 in",
            expect: &[check("setting", 214.29, &LBF_IN, 0.05)],
            source: "US Army TM 1-1500-204-23-9 (read)",
        },
        Example {
            says: "want 40 ft-lb, wrench length 12 in, crowfoot 4 in",
            expect: &[check("setting", 30.0, &LBF_FT, 0.01)],
            source: "US Army TM 9-2350-261-20-1 (read)",
        },
        Example {
            says: "wrench reads 100 N m, wrench 500 mm, adapter 150 mm",
            expect: &[check("at-bolt", 130.0, &NM, 1e-6)],
            source: "published metric example 500, 650, 100 -> 130 (read)",
        },
        Example {
            says: "M5 bolt class 8.8",
            expect: &[check("proof-load", 8230.0, &N, 1.0), check("bolt-limit", 6.17, &NM, 0.01)],
            source: "iso-898-1 (read); a machinery manual prints 6.1 N m (read)",
        },
        Example {
            says: "bolt m8 8.8",
            expect: &[check("proof-load", 21_200.0, &N, 1.0), check("bolt-limit", 25.44, &NM, 0.01)],
            source: "iso-898-1 (read); a machinery manual prints 25 N m (read)",
        },
    ],
    hear: None,
    deduce: Some(deduce),
    run,
};

fn deduce(values: &mut Values) {
    let task = if values.has("adapter") || values.has("wrench") {
        "extension"
    } else if values.has("thread") {
        "bolt"
    } else if values.has("torque") {
        "convert"
    } else {
        return;
    };
    values.set_if_absent("task", Given::Choice(task));
}

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    match values.choice("task") {
        Some("extension") => extension(values, &mut out)?,
        Some("bolt") => bolt(values, &mut out)?,
        _ => convert(values.need("torque")?, &mut out),
    }
    Ok(out)
}

fn convert(torque: f64, out: &mut Outcome) {
    out.figure("newton-metres", torque);
    out.figure("inch-pounds", torque);
    out.figure("foot-pounds", torque);
    out.figure("must-survive", 1.5 * torque)
        .note("a standard's test of bars, stems, posts and saddles; never a value to tighten to");
}

fn extension(values: &Values, out: &mut Outcome) -> Result<(), CalcError> {
    let given = values.need("torque")?;
    let (wrench, adapter, angle) = (values.need("wrench")?, values.need("adapter")?, values.need("adapter-angle")?);
    let lever = wrench + adapter * angle.cos();
    if lever < 0.2 * wrench {
        return Err(CalcError::Contradiction(
            "an adapter turned back and nearly as long as the wrench leaves no lever; check both lengths".into(),
        ));
    }
    if values.choice("known") == Some("set") {
        out.figure("at-bolt", given / setting(1.0, wrench, adapter, angle));
        out.figure("setting", given);
    } else {
        let set = setting(given, wrench, adapter, angle);
        out.figure("setting", set).band(set * 0.96, set * 1.04);
        out.figure("at-bolt", given);
    }
    let set = out.get("setting").map_or(given, |f| f.quantity.si);
    out.figure("newton-metres", set);
    out.figure("inch-pounds", set);
    out.figure("foot-pounds", set);
    out.then("Hold the wrench at the middle of its grip only: the length was measured there.");
    Ok(())
}

fn bolt(values: &Values, out: &mut Outcome) -> Result<(), CalcError> {
    let thread = THREADS.iter().find(|t| Some(t.id) == values.choice("thread"));
    let class = CLASSES.iter().position(|c| Some(*c) == values.choice("class"));
    let (Some(thread), Some(class)) = (thread, class) else { return Err(CalcError::Missing(vec!["thread"])) };
    let k = values.need("friction")?;
    let proof = thread.proof[class];
    let force = values.need("share")? * proof;
    out.figure("proof-load", proof);
    out.figure("bolt-limit", torque(force, k, thread.diameter))
        .band(torque(force, 0.15, thread.diameter), torque(force, 0.30, thread.diameter))
        .note("a limit of the bolt, not a tightening value");
    if let Some(given) = values.si("torque") {
        let pull = preload(given, k, thread.diameter);
        out.figure("preload", pull).band(pull * 0.65, pull * 1.35).note("+-35 % as received, +-25 % greased");
        if pull > proof {
            out.warn("That torque would stretch the bolt beyond its proof load.");
        }
    }
    Ok(())
}
