//! Chain length: largest-largest for derailleurs, the exact handbook length for fixed centres, growth of rear suspension.
//!
//! Owns even links and what to take off. Must not know capacity: that is `gearing`.

use super::kit::common::{AS_COUNT, AS_COUNT2, AS_MM1, AS_MM2, FRAME, SMALL};
use super::kit::{
    CalcError, Calculator, Example, Given, Heard, Input, InputKind, Outcome, OutputSpec, Pick, Preset, Values, ask,
    check, count, output, quantity,
};
use super::law::chain::{centre, pitches};
use crate::units::{Dimension, MM, TIMES, lex};

const KINDS: &[Pick] = &[
    Pick { id: "derailleur", says: "With a rear derailleur", words: &["derailleur", "mech", "derailer", "gears"] },
    Pick {
        id: "fixed",
        says: "Single-speed or hub gear, no derailleur",
        words: &[
            "single speed",
            "singlespeed",
            "hub gear",
            "hub gears",
            "fixed",
            "fixie",
            "no derailleur",
            "one gear",
            "belt",
        ],
    },
];

const HALVES: &[Pick] = &[
    Pick { id: "even", says: "Ordinary chain: an even number of links", words: &["even"] },
    Pick { id: "half-link", says: "With a half-link: any number", words: &["half link", "half links"] },
];

const INPUTS: &[Input] = &[
    ask(
        "ring",
        &["ring", "chainring", "largest ring", "largest chainring", "front ring", "big ring"],
        "How many teeth has the (largest) chainring?",
        "It is stamped on the ring, or count them from a marked tooth.",
        count((20, 60), (8, 130)),
    ),
    ask(
        "sprocket",
        &["sprocket", "largest sprocket", "cog", "rear sprocket", "cassette", "biggest cog"],
        "How many teeth has the (largest) sprocket?",
        "Stamped on the sprocket or on the cassette, such as 11-51: the second figure.",
        count((9, 56), (8, 130)),
    ),
    ask(
        "centre",
        &["chainstay", "chainstay length", "centre distance", "center distance", "centre", "rear centre", "stay"],
        "How far is the crank axle from the rear axle?",
        "Centre to centre along the chainstay, axle in the middle of any slot.",
        quantity(Dimension::Length, (0.38, 0.50), (0.15, 1.5), FRAME),
    ),
    ask("kind", &["kind of drive", "drive"], "Derailleur, or a fixed distance?", "", InputKind::Choice(KINDS)).preset(Preset::Choice("derailleur")),
    ask(
        "growth",
        &["chain growth", "growth", "chainstay growth", "rear suspension growth"],
        "On rear suspension: by how much does the distance from crank to rear axle grow at most?",
        "Let the air out, push the wheel through its travel and measure the longest distance; or from the frame's papers.",
        quantity(Dimension::Length, (0.0, 0.04), (0.0, 0.08), SMALL),
    )
    .optional(),
    ask("links-now", &["links of this chain", "links", "chain has", "present links", "links now"], "How many links has the chain in your hand?", "Count inner and outer links, each as one; mark every tenth.", count((90, 140), (20, 400)))
        .optional()
    .free(),
    ask("half", &["half-link"], "Even links or a half-link?", "", InputKind::Choice(HALVES)).preset(Preset::Choice("even")),
    ask(
        "pitch",
        &["pitch", "chain pitch"],
        "What is the pitch of the chain?",
        "12.7 mm (half an inch) on bicycles.",
        quantity(Dimension::Length, (0.0126, 0.0128), (0.005, 0.04), SMALL),
    )
    .preset(Preset::Value(12.7, &MM)),
];

const OUTPUTS: &[OutputSpec] = &[
    output("links", "Links", AS_COUNT),
    output("exact", "Exact length round both sprockets, in links", AS_COUNT2),
    output("centre", "Distance at which that many links are just tight", AS_MM1),
    output("centre-slack", "Distance with the usual slack (0.998)", AS_MM2),
    output("remove", "Links to take off", AS_COUNT),
];

pub(super) static CALC: Calculator = Calculator {
    id: "chain-length",
    title: "Chain length",
    asks: &[
        "how long a chain",
        "how long a chain for 32 and 51",
        "how many links",
        "size a new chain",
        "chain too long or too short",
        "links to take off a new chain",
        "chain length for a single speed",
        "bigger cassette, longer chain",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Links = 2 C / p + (N1 + N2) / 2 + ((N2 - N1) / 2 pi)^2 x p / C, C centre distance, p pitch. Without a derailleur: up to the next even number, and the distance that makes it tight. With one: round the largest ring and largest sprocket, up to the next even number, and two links more (one pair, inner and outer). On rear suspension with C at its longest.",
    worth: "Exact for fixed centres, to a hundredth of a link. For derailleurs it reckons what the chain laid round both largest would show: lay it round and look before cutting.",
    sources: &["bhandari-2010", "common-practice"],
    cautions: &[
        "Cut long first: links come off more easily than they go on. A chain too short for the largest pair can tear the derailleur off.",
    ],
    examples: &[
        Example {
            says: "single speed, ring 63, sprocket 21, chainstay 500 mm",
            expect: &[
                check("exact", 121.875_097, &TIMES, 1e-5),
                check("links", 122.0, &TIMES, 0.0),
                check("centre", 500.804_717, &MM, 1e-4),
            ],
            source: "bhandari-2010, example 14.3 (read)",
        },
        Example {
            says: "fixed, ring 34, sprocket 17, pitch 19.05 mm, centre distance 762 mm",
            expect: &[
                check("exact", 105.683_011, &TIMES, 1e-5),
                check("links", 106.0, &TIMES, 0.0),
                check("centre-slack", 763.496_160, &MM, 1e-4),
            ],
            source: "bhandari-2010, example 14.4 (read)",
        },
        Example {
            says: "fixed, ring 51, sprocket 17, pitch 9.52 mm, centre 300 mm, half-link",
            expect: &[check("exact", 97.954, &TIMES, 1e-3), check("links", 98.0, &TIMES, 0.0)],
            source: "textbook companion, example 30-1 (read)",
        },
        Example {
            says: "how long a chain for 32 and 51, chainstay 435 mm",
            expect: &[check("links", 114.0, &TIMES, 0.0)],
            source: "common practice, no source: largest to largest, two links more",
        },
    ],
    hear: Some(hear),
    deduce: None,
    run,
};

/// "32 and 51", "32x51", "34/50", "11-51".
fn hear(text: &str) -> Vec<Heard> {
    let tokens = lex(text);
    let teeth = |k: usize| {
        let value = tokens.get(k)?.number()?;
        let next = tokens.get(k + 1).map_or("", |t| t.text.as_str());
        let sane = value.fract() == 0.0
            && (9.0..=60.0).contains(&value)
            && !["mm", "cm", "in", "links", "link", "speed"].contains(&next);
        sane.then_some(value as u32)
    };
    let joined = |k: usize, words: &[&str]| tokens.get(k).is_some_and(|t| words.contains(&t.text.as_str()));
    for i in 0..tokens.len() {
        let (Some(first), Some(second)) = (teeth(i), teeth(i + 2)) else { continue };
        let span = tokens[i].span.start..tokens[i + 2].span.end;
        let heard = |input: &'static str, teeth: u32| Heard { input, given: Given::Count(teeth), span: span.clone() };
        if joined(i + 1, &["-", "–"]) && second >= first + 8 {
            return vec![heard("sprocket", second)];
        }
        if joined(i + 1, &["and", "x", "×", "&", "+"]) {
            return vec![heard("ring", first), heard("sprocket", second)];
        }
    }
    Vec::new()
}

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let (ring, sprocket) = (values.need("ring")?, values.need("sprocket")?);
    let (base, pitch) = (values.need("centre")?, values.need("pitch")?);
    let growth = values.si("growth").unwrap_or(0.0);
    let length = base + growth;
    let fixed = values.choice("kind") == Some("fixed");
    let odd = values.choice("half") == Some("half-link");
    if (ring + sprocket) * pitch / (2.0 * std::f64::consts::PI) >= length {
        return Err(CalcError::Contradiction(
            "ring and sprocket would touch at this distance; check the centre distance".into(),
        ));
    }
    let exact = pitches(ring, sprocket, length, pitch);
    let up = |x: f64| if odd { (x - 1e-9).ceil() } else { 2.0 * ((x - 1e-9) / 2.0).ceil() };
    let links = if fixed { up(exact) } else { up(exact) + 2.0 };
    out.figure("links", links).note(if fixed { "rounded up" } else { "largest pair, rounded up, and two more" });
    out.figure("exact", exact);
    if fixed {
        let tight = centre(ring, sprocket, links, pitch)
            .ok_or_else(|| CalcError::NoAnswer("so few links do not go round these sprockets".into()))?;
        out.figure("centre", tight);
        out.figure("centre-slack", tight * 0.998).note("a chain pulled dead tight wears and drags");
        if growth > 0.0 {
            out.warn(
                "A fixed chain cannot follow a rear end whose distance grows: it needs a tensioner or a derailleur.",
            );
        }
        out.then(format!(
            "The axle must come to {} from the crank axle; see that the slot allows it.",
            values.say(tight * 0.998, AS_MM1)
        ));
        out.then("Turn the cranks a full turn: rings are not quite round, set the slack at the tightest place.");
    } else {
        if growth == 0.0 {
            out.assume(
                "No rear suspension, or its growth is nil; with one, measure where it stretches the chain most.",
            );
        }
        out.then("Lay the chain round the largest ring and largest sprocket, not through the derailleur.");
        out.then("Where the ends meet, add two links (one inner, one outer), then cut.");
        out.then("Shift to largest and largest: the two bends of the derailleur cage should be almost, not quite, pulled straight.");
    }
    if let Some(now) = values.si("links-now") {
        let surplus = now - links;
        out.figure("remove", surplus);
        if surplus < 0.0 {
            out.warn(format!("The chain is {} links too short: do not fit it.", -surplus));
        } else if surplus > 0.0 {
            out.then(format!("Take off {surplus} links: count them from the end, mark, count again, then cut."));
        }
        if !odd && now % 2.0 != 0.0 {
            out.warn("An ordinary chain has an even number of links; count again, or it has a half-link.");
        }
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::super::kit::{parse_inputs, run};
    use super::*;

    fn links(text: &str) -> f64 {
        let parsed = parse_inputs(&CALC, text);
        run(&CALC, &parsed.values).unwrap_or_else(|e| panic!("{text}: {e}")).get("links").unwrap().quantity.si
    }

    #[test]
    fn growth_and_teeth_only_lengthen() {
        let plain = links("32 and 51, chainstay 435 mm");
        assert!(links("32 and 51, chainstay 435 mm, growth 25 mm") >= plain + 2.0);
        let mut before = 0.0;
        for teeth in 28..52 {
            let now = links(&format!("ring {teeth}, sprocket 42, chainstay 440 mm"));
            assert!(now >= before && now % 2.0 == 0.0);
            before = now;
        }
        assert_eq!(links("ring 32, cassette 11-51, chainstay 435 mm"), plain);
        assert_eq!(links("51 and 32, chainstay 435 mm"), plain);
    }

    #[test]
    fn a_chain_in_the_hand_is_counted() {
        let outcome = run(&CALC, &parse_inputs(&CALC, "32 and 51, chainstay 435 mm, 126 links").values).unwrap();
        assert_eq!(outcome.get("remove").unwrap().quantity.si, 12.0);
        let short = run(&CALC, &parse_inputs(&CALC, "32 and 51, chainstay 435 mm, links 110").values).unwrap();
        assert!(short.warnings.iter().any(|w| w.contains("too short")));
    }
}
