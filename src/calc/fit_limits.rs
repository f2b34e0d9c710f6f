//! Fit limits: stand-over, insertion marks, toe room, lean, bar height, and a child on a bike.
//!
//! Owns the comparison with law and standards. Must not know how a bike should feel.

use super::kit::common::{AS_DEG1, AS_MM1, BODY, DEGREES, SMALL};
use super::kit::{
    CalcError, Calculator, Example, Given, Input, InputKind, Outcome, OutputSpec, Pick, Values, ask, check, output,
    quantity,
};
use crate::units::{DEG, Dimension, MM};

const CHECKS: &[Pick] = &[
    Pick {
        id: "stand-over",
        says: "Standing over the top tube",
        words: &["stand over", "standover", "top tube", "straddle"],
    },
    Pick {
        id: "post",
        says: "How deep the seat post must sit",
        words: &["seat post", "seatpost", "insertion", "post"],
    },
    Pick {
        id: "toe",
        says: "Toe against the front wheel",
        words: &["toe overlap", "toe clearance", "toe hits", "toes"],
    },
    Pick { id: "lean", says: "Pedal against the ground in a lean", words: &["pedal strike", "lean"] },
    Pick {
        id: "bar",
        says: "How high the bar may stand above the saddle",
        words: &["bar above saddle", "bar too high"],
    },
    Pick {
        id: "child",
        says: "A child's feet on the ground",
        words: &["child", "kid", "feet on the ground", "feet flat"],
    },
];

fn is(values: &Values, what: &str) -> bool {
    values.choice("what") == Some(what)
}

const INPUTS: &[Input] = &[
    ask("what", &["limit to check", "limit"], "Which limit do you want to check?", "", InputKind::Choice(CHECKS)),
    ask(
        "inseam",
        &["inside leg", "inseam", "leg"],
        "How long is the inside of the leg, in shoes?",
        "Floor to crotch.",
        quantity(Dimension::Length, (0.40, 1.02), (0.25, 1.15), BODY),
    )
    .when(|v| is(v, "stand-over") || is(v, "child")),
    ask(
        "top-tube",
        &["top tube", "top tube height", "stand over height", "standover height"],
        "How high is the top tube where you stand over it?",
        "From the floor, straight up to where you stand over it.",
        quantity(Dimension::Length, (0.40, 0.90), (0.2, 1.2), BODY),
    )
    .when(|v| is(v, "stand-over")),
    ask(
        "post",
        &["post diameter", "seat post", "seatpost", "post"],
        "How thick is the seat post?",
        "Stamped on it, such as 27.2.",
        quantity(Dimension::Length, (0.0222, 0.035), (0.018, 0.045), SMALL),
    )
    .when(|v| is(v, "post")),
    ask(
        "mark",
        &["depth in the frame", "mark", "mark at", "inserted"],
        "How much of the post is inside the frame?",
        "Pull it out, measure from its lower end to where the frame's edge was.",
        quantity(Dimension::Length, (0.04, 0.3), (0.0, 0.6), SMALL),
    )
    .optional(),
    ask(
        "toe",
        &["toe clearance", "toe room", "pedal to tyre"],
        "How far is the pedal's centre from the tyre or mudguard at its nearest?",
        "Crank level, front wheel turned; from the pedal axle's middle to the arc of tyre or guard.",
        quantity(Dimension::Length, (0.05, 0.15), (0.0, 0.4), SMALL),
    )
    .when(|v| is(v, "toe")),
    ask(
        "lean",
        &["lean angle", "lean"],
        "At which lean does the pedal touch, pedal level and crank lowest?",
        "Lean the bike with a helper, inclinometer on the seat tube.",
        quantity(Dimension::Angle, (0.3, 0.9), (0.0, 1.4), DEGREES),
    )
    .when(|v| is(v, "lean")),
    ask(
        "bar",
        &["bar above saddle", "bar height"],
        "How high is the top of the grips above the saddle?",
        "Saddle at its lowest, bar at its highest.",
        quantity(Dimension::Length, (-0.15, 0.35), (-0.5, 0.8), SMALL),
    )
    .when(|v| is(v, "bar")),
    ask(
        "saddle-low",
        &["lowest saddle", "saddle from the ground", "saddle above the ground", "saddle"],
        "How high above the ground is the saddle at its lowest?",
        "Straight up from the floor to the saddle's top.",
        quantity(Dimension::Length, (0.3, 0.85), (0.15, 1.2), BODY),
    )
    .when(|v| is(v, "child")),
];

const OUTPUTS: &[OutputSpec] = &[
    output("stand-over", "Room over the top tube", AS_MM1),
    output("highest-top-tube", "The top tube may be at most", AS_MM1),
    output("least-insertion", "At least this much of the post stays in the frame", AS_MM1),
    output("insertion-margin", "More than the least by", AS_MM1),
    output("toe-margin", "Toe room beyond 89 mm", AS_MM1),
    output("lean-margin", "Lean beyond 25 degrees", AS_DEG1),
    output("bar-margin", "Left to the limit of 400 mm", AS_MM1),
    output("feet-margin", "Leg longer than the lowest saddle height by", AS_MM1),
];

pub(super) static CALC: Calculator = Calculator {
    id: "fit-limits",
    title: "Limits of size and fit",
    asks: &[
        "is the frame too big stand over",
        "how far can I pull the seat post out",
        "minimum insertion",
        "toe overlap normal",
        "is this bike too big for my child",
        "pedal strikes the ground in corners",
        "stand over height",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Stand-over: inside leg minus top-tube height, at least 25.4 mm. Post: at least two diameters in the frame, or to its mark if that is deeper. Toe: at least 89 mm from pedal centre to tyre arc on bikes without foot retention. Lean: at least 25 degrees. Bar: at most 400 mm above the saddle. A child: both feet on the ground at the lowest saddle.",
    worth: "Limits from United States law and a Taiwanese text of the bicycle standard; other countries may differ. They say what is allowed on a new bike, not what fits you best.",
    sources: &["cfr-1512", "tbis-4210-2", "common-practice"],
    cautions: &[
        "The mark on the post itself, and the frame maker's own depth, always win; a frame may need more than the mark. A post pulled too far breaks the frame or throws the rider.",
    ],
    examples: &[
        Example {
            says: "inseam 830 mm, top tube 790 mm",
            expect: &[check("highest-top-tube", 804.6, &MM, 0.01), check("stand-over", 40.0, &MM, 1e-6)],
            source: "cfr-1512 19(c): at least 25.4 mm (read)",
        },
        Example {
            says: "seat post 27.2 mm",
            expect: &[check("least-insertion", 54.4, &MM, 1e-6)],
            source: "cfr-1512 15(b): two diameters (read)",
        },
        Example {
            says: "toe clearance 80 mm",
            expect: &[check("toe-margin", -9.0, &MM, 1e-6)],
            source: "cfr-1512 17(d): 89 mm (read)",
        },
        Example {
            says: "pedal strike at a lean of 27 deg",
            expect: &[check("lean-margin", 2.0, &DEG, 1e-6)],
            source: "cfr-1512 17(c): 25 degrees (read)",
        },
        Example {
            says: "child, inside leg 45 cm, lowest saddle 43 cm",
            expect: &[check("feet-margin", 20.0, &MM, 1e-6)],
            source: "common practice, no source: both feet on the ground",
        },
    ],
    hear: None,
    deduce: Some(deduce),
    run,
};

fn deduce(values: &mut Values) {
    let by = [
        ("top-tube", "stand-over"),
        ("toe", "toe"),
        ("lean", "lean"),
        ("bar", "bar"),
        ("saddle-low", "child"),
        ("post", "post"),
    ];
    if let Some((_, what)) = by.iter().find(|(id, _)| values.has(id)) {
        values.set_if_absent("what", Given::Choice(what));
    }
}

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    if let (Some(leg), Some(tube)) = (values.si("inseam"), values.si("top-tube")) {
        let room = leg - tube;
        let note =
            if room >= 0.0254 { "an inch or more: enough by law" } else { "less than an inch: the frame is too tall" };
        out.figure("stand-over", room).note(note);
        out.figure("highest-top-tube", leg - 0.0254);
        if room < 0.0254 {
            out.warn("Stepping off in a hurry would hurt: this frame is too tall for this leg.");
        }
    }
    if let Some(post) = values.si("post") {
        let least = 2.0 * post;
        out.figure("least-insertion", least).note("or to its own mark, whichever is deeper");
        if let Some(depth) = values.si("mark") {
            out.figure("insertion-margin", depth - least);
            if depth < least {
                out.warn("Do not ride it so: the post is pulled out beyond its least insertion.");
            }
        }
    }
    if let Some(toe) = values.si("toe") {
        let note = if toe >= 0.089 {
            "toe and wheel stay apart"
        } else {
            "toe and wheel can touch in a slow, tight turn; common on small frames, mind it when starting and turning"
        };
        out.figure("toe-margin", toe - 0.089).note(note);
    }
    if let Some(lean) = values.si("lean") {
        out.figure("lean-margin", lean - 25f64.to_radians())
            .note("nothing but the tyres should touch before 25 degrees");
        if lean < 25f64.to_radians() {
            out.warn("The pedal touches early: in corners keep the inner pedal up; look for a bent crank, long cranks or a sunk fork.");
        }
    }
    if let Some(bar) = values.si("bar") {
        out.figure("bar-margin", 0.4 - bar)
            .note("United States law says 406 mm in second-hand accounts; the lower figure is used");
    }
    if let (Some(leg), Some(saddle)) = (values.si("inseam"), values.si("saddle-low")) {
        let margin = leg - saddle;
        out.figure("feet-margin", margin).note(if margin >= 0.0 {
            "both feet reach the ground"
        } else {
            "the feet do not reach: too big for now"
        });
        if margin < 0.0 {
            out.warn("A child who cannot put both feet down will fall to the side when stopping: use a smaller bike.");
        }
    }
    if out.figures.is_empty() {
        return Err(CalcError::Missing(vec!["one of the measures"]));
    }
    Ok(out)
}
