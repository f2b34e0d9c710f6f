//! Spoke tension: from the pitch of a plucked spoke, the balance of both sides, the even spread within one.
//!
//! Owns the uncertainty and the limits. Must not know lacing.

use super::kit::common::{AS_COUNT1, AS_HZ, AS_PERCENT0, AS_PLAIN3, FORCES, FRAME, SMALL, TIMES_A_SECOND};
use super::kit::{
    CalcError, Calculator, Example, Input, Outcome, OutputSpec, Preset, Shown, Values, ask, check, numbers_in, output,
    quantity, shown, text,
};
use super::law::spoke::{balance, pitch, tension};
use crate::units::{Dimension, HZ, KGF, LBF, MM, PLAIN};

fn wants_pitch(values: &Values) -> bool {
    !values.has("tension") && !values.has("left-offset") && !values.has("pitches")
}

fn wants_spoke(values: &Values) -> bool {
    values.has("pitch") || values.has("tension") || wants_pitch(values)
}

const INPUTS: &[Input] = &[
    ask("pitch", &["pitch", "note", "frequency", "sounds at", "ping"], "Which pitch has the spoke when plucked?", "A tuner or spectrum program on a phone; pluck near the middle, damp the neighbours, hold crossed spokes apart.", quantity(Dimension::Frequency, (200.0, 700.0), (50.0, 2000.0), TIMES_A_SECOND)).when(wants_pitch),
    ask("length", &["length", "spoke length", "free length"], "How long is the part that sounds?", "From the flange to the nipple; shorter where crossed spokes are laced under each other.", quantity(Dimension::Length, (0.18, 0.31), (0.05, 0.4), FRAME)).when(wants_spoke),
    ask("diameter", &["diameter", "spoke diameter", "gauge", "thickness", "thick"], "How thick is it in the middle?", "A caliper: 2.0 plain, 1.8 or less if butted.", quantity(Dimension::Length, (0.0014, 0.0023), (0.0008, 0.004), SMALL)).preset(Preset::Value(2.0, &MM)).when(wants_spoke),
    ask("tension", &["tension", "wanted tension", "kgf"], "Which tension is wanted, to be told its pitch?", "From the rim's papers.", quantity(Dimension::Force, (400.0, 1300.0), (50.0, 3000.0), FORCES)).optional().free(),
    ask("limit", &["limit", "rim limit", "maximum tension"], "Which greatest tension does the rim's maker allow?", "In its papers; often 120 kgf.", quantity(Dimension::Force, (800.0, 1500.0), (200.0, 4000.0), FORCES)).preset(Preset::Value(120.0, &KGF)).when(wants_spoke),
    ask("left-offset", &["left offset", "left flange"], "How far is the left flange from the hub's middle?", "For the balance of both sides.", quantity(Dimension::Length, (0.012, 0.045), (0.003, 0.12), SMALL)).optional(),
    ask("right-offset", &["right offset", "right flange"], "How far is the right flange from the hub's middle?", "As on the left.", quantity(Dimension::Length, (0.012, 0.045), (0.003, 0.12), SMALL)).when(|v| v.has("left-offset")),
    ask("left-length", &["left spokes", "left length"], "How long are the left spokes?", "If known; nearly the same on both sides.", quantity(Dimension::Length, (0.15, 0.31), (0.05, 0.4), FRAME)).optional(),
    ask("right-length", &["right spokes", "right length"], "How long are the right spokes?", "If known.", quantity(Dimension::Length, (0.15, 0.31), (0.05, 0.4), FRAME)).optional(),
    ask("pitches", &["pitches", "notes"], "Which pitches have the spokes of one side, one after the other?", "In hertz, spoke by spoke from the valve.", text("350 342 361 355")).optional(),
];

const AS_KGF: Shown = shown(&KGF, &LBF, (0, 0));

const OUTPUTS: &[OutputSpec] = &[
    output("tension", "Tension", AS_KGF),
    output("pitch", "Pitch", AS_HZ),
    output("ratio", "Left tension over right, for a centred rim", AS_PLAIN3),
    output("loosest", "Loosest spoke against the mean, tension", AS_PERCENT0),
    output("tightest", "Tightest spoke against the mean, tension", AS_PERCENT0),
    output("loosest-place", "The loosest is number", AS_COUNT1),
];

pub(super) static CALC: Calculator = Calculator {
    id: "spoke-tension",
    title: "Spoke tension by pitch, and balance",
    asks: &[
        "spoke tension from the sound",
        "pluck the spokes note",
        "how tight should spokes be",
        "uneven spoke tension",
        "spokes keep breaking or going loose",
        "dish left and right tension",
        "hertz to kgf",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Pitch = sqrt(tension / mass per metre) / (2 length): pitch depends on stress, so twice the pitch is four times the tension. Balance: left over right = (left length / left offset) / (right length / right offset).",
    worth: "15 % either way: butted spokes act shorter, crossed ones sound in pairs, stiff ends raise the pitch by up to a tenth. For comparing spokes of one side it is better than for the figure.",
    sources: &["spoke-pitch-allen", "spoke-balance-2023", "spoke-limits", "from-memory"],
    cautions: &[
        "Never above the rim maker's limit; turn nipples by quarter turns, all of a side alike. Cracks at the holes, or many loose spokes: not to be ridden.",
    ],
    examples: &[
        Example {
            says: "tension 100 kgf, length 279 mm, diameter 2.0 mm",
            expect: &[check("pitch", 357.4, &HZ, 0.5)],
            source: "a beam model for the same spoke says about 360 Hz (read); string, computed",
        },
        Example {
            says: "357.37 Hz, length 279 mm",
            expect: &[check("tension", 100.0, &KGF, 0.1)],
            source: "the inverse, computed",
        },
        Example {
            says: "left offset 32 mm, right offset 16 mm, left spokes 287.6 mm, right spokes 285.6 mm",
            expect: &[check("ratio", 0.5035, &PLAIN, 0.001)],
            source: "spoke-balance-2023: about 0.5 (read)",
        },
        Example {
            says: "pitches 350 350 350 350 280",
            expect: &[check("loosest-place", 5.0, &crate::units::TIMES, 0.0)],
            source: "common practice, no source: pluck round and compare",
        },
    ],
    hear: None,
    deduce: None,
    run,
};

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    if let (Some(length), Some(diameter)) = (values.si("length"), values.si("diameter")) {
        let force = match (values.si("pitch"), values.si("tension")) {
            (Some(hz), _) => {
                let force = tension(hz, length, diameter);
                out.figure("tension", force).band(force * 0.85, force * 1.15);
                out.figure("pitch", hz);
                force
            }
            (None, Some(force)) => {
                let hz = pitch(force, length, diameter);
                out.figure("pitch", hz).band(hz, hz * 1.11);
                out.figure("tension", force);
                force
            }
            (None, None) => return Err(CalcError::Missing(vec!["pitch"])),
        };
        let limit = values.si("limit").unwrap_or(f64::MAX);
        if force > limit {
            out.warn("Above the limit: slacken all spokes of this side by quarter turns.");
        } else if force < 0.5 * limit {
            out.warn("Below half of the usual limit: loose spokes work and break; the left side of a rear wheel may be so by its dish.");
        }
    }
    if let (Some(left), Some(right)) = (values.si("left-offset"), values.si("right-offset")) {
        let (l, r) = (values.si("left-length").unwrap_or(1.0), values.si("right-length").unwrap_or(1.0));
        let both = values.has("left-length") && values.has("right-length");
        let ratio = if both { balance((l, left), (r, right)) } else { balance((1.0, left), (1.0, right)) };
        out.figure("ratio", ratio).band(ratio * 0.95, ratio * 1.05);
        out.then("Tighten the side with the smaller offset to its limit; the other follows from dish. Do not even out the two sides.");
    }
    if let Some(text) = values.text("pitches") {
        spread(&numbers_in(text), &mut out)?;
    }
    if out.figures.is_empty() {
        return Err(CalcError::Missing(vec!["pitch"]));
    }
    Ok(out)
}

/// Loosest and tightest of one side; tension goes with the square of the pitch.
fn spread(pitches: &[f64], out: &mut Outcome) -> Result<(), CalcError> {
    if pitches.len() < 3 || pitches.len() > 80 || pitches.iter().any(|p| !(50.0..=2000.0).contains(p)) {
        return Err(CalcError::Unreadable(
            "pitches: three or more between 50 and 2000 Hz are needed, such as 350 342 361".into(),
        ));
    }
    let squares: Vec<f64> = pitches.iter().map(|p| p * p).collect();
    let mean = squares.iter().sum::<f64>() / squares.len() as f64;
    let (mut low, mut high) = (0, 0);
    for (k, square) in squares.iter().enumerate() {
        if *square < squares[low] {
            low = k;
        }
        if *square > squares[high] {
            high = k;
        }
    }
    out.figure("loosest", squares[low] / mean - 1.0);
    out.figure("tightest", squares[high] / mean - 1.0);
    out.figure("loosest-place", (low + 1) as f64);
    if 1.0 - squares[low] / mean > 0.2 {
        out.warn("One spoke is more than a fifth looser than the rest: look for a bent rim or a worn nipple there before tightening it alone.");
    }
    Ok(())
}
