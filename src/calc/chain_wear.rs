//! Chain wear: elongation by rule, caliper or gauge, and what to change.
//!
//! Owns the thresholds and the trap of measuring between rollers. Must not know chain length.

use super::kit::common::{AS_COUNT, AS_MM2, AS_PERCENT2, FRAME, SHARE};
use super::kit::{
    Bar, CalcError, Calculator, Chart, Example, Given, Input, InputKind, Outcome, OutputSpec, Pick, Preset, Values,
    ask, check, count, output, quantity,
};
use crate::units::{Dimension, MM, PERCENT};

const PITCH: f64 = 0.0127;
/// Diameter of a new roller (DIN 8187 / ISO 606 table, read).
const ROLLER: f64 = 0.007_75;

const WAYS: &[Pick] = &[
    Pick {
        id: "pins",
        says: "Rule, pin to pin (or edge to edge of the same side)",
        words: &["rule", "ruler", "pin to pin", "pins", "tape"],
    },
    Pick {
        id: "inside",
        says: "Caliper between the rollers, pushed apart",
        words: &["caliper", "calliper", "inside", "between rollers", "between the rollers"],
    },
    Pick { id: "gauge", says: "A chain gauge with marks", words: &["gauge", "checker", "chain checker", "wear tool"] },
];

fn by_gauge(values: &Values) -> bool {
    values.choice("way") == Some("gauge")
}

fn by_length(values: &Values) -> bool {
    !by_gauge(values)
}

const INPUTS: &[Input] = &[
    ask("way", &["measured with"], "How was it measured?", "", InputKind::Choice(WAYS)).preset(Preset::Choice("pins")),
    ask(
        "measured",
        &["measured length", "measured", "length", "measures", "reading"],
        "How long are the links you measured?",
        "Chain pulled tight; from pin centre to pin centre over as many links as the rule allows.",
        quantity(Dimension::Length, (0.10, 0.70), (0.05, 2.0), FRAME),
    )
    .when(by_length),
    ask(
        "links",
        &["links", "over", "pitches"],
        "Over how many links?",
        "Inner and outer each count one; twelve inches are 24 links.",
        count((8, 60), (2, 160)),
    )
    .when(by_length),
    ask(
        "mark",
        &["gauge mark", "mark", "gauge drops at", "gauge says", "gauge"],
        "Which mark of the gauge drops in fully?",
        "0.5, 0.75 or 1.0 %.",
        quantity(Dimension::Ratio, (0.0, 0.012), (0.0, 0.05), SHARE),
    )
    .when(by_gauge),
];

const OUTPUTS: &[OutputSpec] = &[
    output("wear", "Elongation", AS_PERCENT2),
    output("links", "Over links", AS_COUNT),
    output("new", "New it would measure", AS_MM2),
    output("at-half", "At 0.5 %", AS_MM2),
    output("at-three-quarters", "At 0.75 %", AS_MM2),
    output("at-one", "At 1.0 %", AS_MM2),
    output("grown", "Grown by", AS_MM2),
];

pub(super) static CALC: Calculator = Calculator {
    id: "chain-wear",
    title: "Chain wear",
    asks: &[
        "is my chain worn",
        "chain stretch",
        "when to replace the chain",
        "12 inches on the ruler chain",
        "new chain skips on old cassette",
        "chain checker 0.75",
        "chain elongation",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Elongation = (measured - links x 12.7 mm) / (links x 12.7 mm). Between rollers one roller of 7.75 mm is added first.",
    worth: "A rule over 24 links shows 0.1 %. Between rollers it over-reads, because worn rollers add to it. Sources part on the limit: one says 0.52 % (1/16 in over 12 in), another 1.04 %, the first also for aluminium, titanium or 11-tooth sprockets; industry's 1.5 to 3 % is for other machines.",
    sources: &["wear-brown", "wear-zinn"],
    cautions: &["A worn chain can jump under full effort and throw the rider: no sprints on it."],
    examples: &[
        Example {
            says: "12 1/16 in over 24 links",
            expect: &[check("wear", 0.5208, &PERCENT, 1e-3)],
            source: "wear-brown: replace at 1/16 in over 12 in (read)",
        },
        Example {
            says: "12 1/8 in over 24 links with a ruler",
            expect: &[check("wear", 1.0417, &PERCENT, 1e-3)],
            source: "wear-zinn: 1/8 in (read)",
        },
        Example {
            says: "measured 255 mm over 20 links",
            expect: &[
                check("wear", 0.394, &PERCENT, 1e-3),
                check("at-half", 255.27, &MM, 1e-6),
                check("at-three-quarters", 255.905, &MM, 1e-6),
                check("at-one", 256.54, &MM, 1e-6),
            ],
            source: "a published limit of 255 mm over 21 pins (read); lengths exact",
        },
        Example {
            says: "caliper inside 132.60 mm over 11 links",
            expect: &[check("grown", 0.65, &MM, 1e-6), check("wear", 0.465, &PERCENT, 1e-3)],
            source: "a caliper limit of 132.60 mm (read), taken apart",
        },
    ],
    hear: None,
    deduce: Some(deduce),
    run,
};

/// The number of links follows from the length, as long as the chain is worn by less than half a link over it.
fn deduce(values: &mut Values) {
    if values.has("mark") {
        values.set_if_absent("way", Given::Choice("gauge"));
    }
    if let Some(measured) = values.si("measured").filter(|m| m.is_finite() && (0.05..=2.0).contains(m)) {
        let whole = if values.choice("way") == Some("inside") { measured + ROLLER } else { measured };
        let links = ((whole + 0.0005) / PITCH).floor();
        if links <= 33.0 && (whole - links * PITCH) / (links * PITCH) < 0.02 {
            values.set_if_absent("links", Given::Count(links as u32));
        }
    }
}

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let wear = if by_gauge(values) {
        let mark = values.need("mark")?;
        out.figure("wear", mark)
            .band(mark, mark + 0.0025)
            .note("at least this; gauges press between rollers and over-read");
        mark
    } else {
        let (measured, links) = (values.need("measured")?, values.need("links")?);
        let inside = values.choice("way") == Some("inside");
        let new = links * PITCH - if inside { ROLLER } else { 0.0 };
        let wear = (measured - new) / (links * PITCH);
        if !(-0.01..0.06).contains(&wear) {
            return Err(CalcError::Contradiction(format!(
                "{links} links of a new chain measure {}; count the links again",
                values.say(new, AS_MM2)
            )));
        }
        let slack = 0.000_25 / (links * PITCH);
        out.figure("wear", wear).band(wear - slack, wear + slack);
        out.figure("grown", measured - new);
        out.figure("new", new);
        out.figure("links", links);
        for (id, share) in [("at-half", 0.005), ("at-three-quarters", 0.0075), ("at-one", 0.010)] {
            out.figure(id, new + share * links * PITCH);
        }
        if inside {
            out.warn("Between rollers their own wear is counted in: if the result is near a limit, measure pin to pin before buying.");
        }
        if wear < -0.0005 {
            out.warn("Shorter than new: the chain was not pulled tight, or the count is off.");
        }
        wear
    };
    verdict(wear, &mut out);
    let bar = |label: &str, v: f64| Bar { label: label.to_owned(), value: v * 100.0, low: v * 100.0, high: v * 100.0 };
    out.chart = Some(Chart::Bars {
        unit: "%",
        bars: vec![bar("this chain", wear), bar("replace (one source)", 0.0052), bar("replace (another)", 0.0104)],
    });
    Ok(out)
}

fn verdict(wear: f64, out: &mut Outcome) {
    let sentence = if wear < 0.004 {
        "Still good: clean, oil, measure again in some hundred kilometres."
    } else if wear < 0.0052 {
        "Near the earliest limit: have a chain ready."
    } else if wear < 0.0078 {
        "Replace the chain now; the sprockets are then probably still sound. Try the new chain hard in each gear."
    } else if wear < 0.0104 {
        "Overdue: replace the chain; some sprockets may be gone and skip under the new chain."
    } else {
        "Worn out: chain, sprockets and the ring most used probably go together; a new chain alone may skip."
    };
    out.then(sentence);
}

#[cfg(test)]
mod tests {
    use super::super::kit::{parse_inputs, run};
    use super::*;

    #[test]
    fn check_lengths_are_exact() {
        for (links, half, three, one) in
            [(24u32, 306.324, 307.086, 307.848), (20, 255.27, 255.905, 256.54), (10, 127.635, 127.953, 128.27)]
        {
            let values =
                parse_inputs(&CALC, &format!("measured {} mm over {links} links", f64::from(links) * 12.7)).values;
            let outcome = run(&CALC, &values).unwrap();
            for (id, mm) in [("at-half", half), ("at-three-quarters", three), ("at-one", one)] {
                assert!((outcome.get(id).unwrap().quantity.value_in(&MM).unwrap() - mm).abs() < 6e-4, "{links} {id}");
            }
            assert!(outcome.get("wear").unwrap().quantity.si.abs() < 1e-9);
        }
    }

    #[test]
    fn between_rollers_is_not_pin_to_pin() {
        // "132.56 over 10 links" does not fit 10 pitches pin to pin (127 mm): as such it would be 4.4 %.
        let wrong = run(&CALC, &parse_inputs(&CALC, "measured 132.56 mm over 10 links").values).unwrap();
        assert!(wrong.get("wear").unwrap().quantity.si > 0.04);
        let right = run(&CALC, &parse_inputs(&CALC, "caliper inside 132.56 mm").values).unwrap();
        assert!((right.get("wear").unwrap().quantity.si - 0.0044).abs() < 1e-4);
    }
}
