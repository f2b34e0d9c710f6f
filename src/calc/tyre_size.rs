//! Tyre and rim sizes: what a designation means, what fits what, how far a turn of the wheel goes.
//!
//! Owns comparison and clearance. Must not know pressures.

use super::kit::common::{AS_COUNT, AS_MM0, AS_MM1, AS_PERCENT2, FRAME, SMALL};
use super::kit::{
    CalcError, Calculator, Example, Given, Heard, Input, Outcome, OutputSpec, Table, Values, ask, check, output,
    quantity, text,
};
use super::law::tyre::{BEAD_SEATS, Size, circumference, size, sizes};
use crate::units::{Dimension, MM, PERCENT};

const INPUTS: &[Input] = &[
    ask(
        "size",
        &["tyre size", "size", "tyre"],
        "Which size is printed on the tyre?",
        "On the side: best the code such as 57-622, else 29x2.4 or 700x28C.",
        text("57-622"),
    ),
    ask(
        "other",
        &["other size", "new size", "other tyre", "new tyre", "instead"],
        "Which other size is it compared with?",
        "As it is printed.",
        text("40-622"),
    )
    .optional(),
    ask(
        "gap",
        &["room at the tyre", "gap", "clearance", "room"],
        "How much room is there now between the tyre and the frame or fork at the tightest place?",
        "Turn the wheel once and measure where it is least.",
        quantity(Dimension::Length, (0.001, 0.04), (0.0, 0.2), SMALL),
    )
    .optional()
    .free(),
    ask(
        "rolled",
        &["roll-out", "rolled", "roll out", "circumference", "measured circumference"],
        "How far does the wheel roll in one turn, rider aboard?",
        "Valve down at a chalk mark, roll straight for one turn (better five), mark again, measure.",
        quantity(Dimension::Length, (1.2, 2.4), (0.7, 2.8), FRAME),
    )
    .optional()
    .free(),
];

const OUTPUTS: &[OutputSpec] = &[
    output("bead-seat", "Bead-seat diameter: what rim and tyre must share", AS_MM0),
    output("width", "Width", AS_MM1),
    output("diameter", "Over all, about", AS_MM0),
    output("circumference", "Distance for one turn, about", AS_MM1),
    output("other-circumference", "With the other tyre", AS_MM1),
    output("speed-change", "The speedometer would be off by", AS_PERCENT2),
    output("gap-above", "Room left above the tyre", AS_MM1),
    output("gap-beside", "Room left beside the tyre", AS_MM1),
    output("rolled-difference", "Rolled against reckoned", AS_PERCENT2),
    output("sensor", "Set the speed sensor to (mm)", AS_COUNT),
];

pub(super) static CALC: Calculator = Calculator {
    id: "tyre-size",
    title: "Tyre and rim sizes",
    asks: &[
        "what does 700x28c mean",
        "does this tyre fit my rim",
        "wider tyre in my frame",
        "wheel circumference for the speedometer",
        "is 29 the same as 700c",
        "57-622",
        "bead seat diameter",
        "27.5 or 650b",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "The code is width-diameter in mm. Rim and tyre fit when the bead-seat diameters are equal. Distance for one turn = pi x (bead seat + 2 x width).",
    worth: "The code is exact, inch names are not: 26 x 1 3/8 is no 26 x 1.75. Reckoned and listed distances differ by 1.2 % for one size, load takes another per cent: what you roll out beats any table.",
    sources: &["iso-5775", "circumference-brown", "cfr-1512", "en-14781", "from-memory"],
    cautions: &[
        "Never force a tyre on a rim of another bead-seat diameter. Tyre and frame stay at least 1.6 mm apart by law, 4 mm is a better rule; mud asks for more.",
    ],
    examples: &[
        Example {
            says: "28-622",
            expect: &[check("circumference", 2130.0, &MM, 0.1)],
            source: "circumference-brown: 622 + 2 x 28 = 678 -> 2130 (read)",
        },
        Example {
            says: "57-622",
            expect: &[check("circumference", 2312.2, &MM, 0.1), check("bead-seat", 622.0, &MM, 1e-6)],
            source: "the same rule, computed; 29 inch and 700C share 622 (read)",
        },
        Example {
            says: "26 x 1 3/8 other size 26x1.75",
            expect: &[check("bead-seat", 590.0, &MM, 1e-6)],
            source: "iso-5775: 590 is not 559 (read)",
        },
        Example {
            says: "size 28-622, other 40-622, gap 8 mm, rolled 2105 mm",
            expect: &[check("gap-beside", 2.0, &MM, 1e-6), check("rolled-difference", -1.17, &PERCENT, 0.01)],
            source: "a 23 mm tyre rolled 1.2 % short under its rider (read); arithmetic",
        },
    ],
    hear: Some(hear),
    deduce: None,
    run,
};

fn hear(text: &str) -> Vec<Heard> {
    let ids = ["size", "other"];
    let heard = |(input, found): (&'static str, Size)| Heard {
        input,
        given: Given::Text(text[found.span.clone()].to_owned()),
        span: found.span,
    };
    let mut found = sizes(text);
    if text.contains("instead of") && found.len() == 2 {
        found.reverse();
    }
    ids.into_iter().zip(found).map(heard).collect()
}

fn read(values: &Values, id: &str) -> Result<Option<Size>, CalcError> {
    let Some(text) = values.text(id) else { return Ok(None) };
    let found = size(text).ok_or_else(|| {
        CalcError::Unreadable(format!(
            "\"{text}\" is no tyre size this can read; something like 57-622, 29x2.4 or 26 x 1 3/8 is understood"
        ))
    })?;
    Ok(Some(found))
}

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    let Some(one) = read(values, "size")? else { return Err(CalcError::Missing(vec!["size"])) };
    let other = read(values, "other")?;
    describe(&one, &mut out);
    if let (Some(width), Some(rolled)) = (one.width, values.si("rolled")) {
        let reckoned = circumference(one.bead_seat, width);
        out.figure("rolled-difference", rolled / reckoned - 1.0).note("up to 1.5 % is ordinary");
        if (rolled / reckoned - 1.0).abs() > 0.03 {
            out.warn("That is more than load and tables explain: measure the roll-out again, or the size was misread.");
        }
        out.figure("sensor", MM.value_of(rolled).round());
    } else if let Some(width) = one.width {
        out.figure("sensor", MM.value_of(circumference(one.bead_seat, width)).round());
    }
    if let Some(other) = other {
        compare(&one, &other, values, &mut out);
    }
    out.table = Some(table());
    Ok(out)
}

fn describe(one: &Size, out: &mut Outcome) {
    out.figure("bead-seat", one.bead_seat);
    if let Some(width) = one.width {
        out.figure("width", width).note("as named; on a wide rim it is wider, measure it");
        out.figure("diameter", one.bead_seat + 2.0 * width);
        let turn = circumference(one.bead_seat, width);
        out.figure("circumference", turn).band(turn * 0.985, turn * 1.015).note("roll it out for better");
    }
    if one.ambiguous {
        out.warn("This inch name is used for more than one diameter: go by the code such as 57-622 on the tyre.");
    }
    if one.from_memory {
        out.assume("The diameter of this size is from memory; check it against the code on the tyre.");
    }
}

fn compare(one: &Size, other: &Size, values: &Values, out: &mut Outcome) {
    if (one.bead_seat - other.bead_seat).abs() > 1e-6 {
        out.warn(format!(
            "They do not fit the same rim: {} against {}.",
            values.say(one.bead_seat, AS_MM0),
            values.say(other.bead_seat, AS_MM0)
        ));
    } else {
        out.then("Both fit the same bead seat; see that the rim's maker allows the width.");
    }
    if let (Some(a), Some(b)) = (one.width, other.width) {
        let turn = circumference(other.bead_seat, b);
        out.figure("other-circumference", turn);
        out.figure("speed-change", circumference(one.bead_seat, a) / turn - 1.0).note("until the sensor is set anew");
        if let Some(gap) = values.si("gap") {
            let above = gap - ((other.bead_seat - one.bead_seat) / 2.0 + b - a);
            let beside = gap - (b - a) / 2.0;
            out.figure("gap-above", above);
            out.figure("gap-beside", beside);
            let least = above.min(beside);
            if least < 0.0016 {
                out.warn("Too tight: less than 1.6 mm is not allowed, and a bent rim or a stone would lock the wheel.");
            } else if least < 0.004 {
                out.warn("Tight: it clears the law's 1.6 mm but not the 4 mm asked of racing bikes; no room for mud or a bent rim.");
            }
        }
    }
}

fn table() -> Table {
    let names = |mm: u32| match mm {
        622 => "700C, 29 in",
        584 => "650B, 27.5 in",
        559 => "26 in decimal (26x2.1)",
        590 => "26 x 1 3/8, 650A",
        571 => "650C",
        507 => "24 in decimal",
        406 => "20 in decimal",
        203 => "12 1/2 in",
        _ => "",
    };
    let rows = BEAD_SEATS.iter().filter(|(mm, memory)| !memory && !names(*mm).is_empty());
    Table {
        title: "Bead-seat diameters".into(),
        head: vec!["mm".into(), "also called".into()],
        rows: rows.map(|(mm, _)| vec![mm.to_string(), names(*mm).to_owned()]).collect(),
    }
}
