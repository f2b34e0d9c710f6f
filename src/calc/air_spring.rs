//! Air spring: a curve through a rider's own readings, and the physics of a chamber.
//!
//! Owns the fit and its uncertainty. Must not know sag conventions: that is `sag`.

use super::kit::common::{AREAS, AS_MM1, AS_NEWTON, AS_PLAIN2, AS_PRESSURE, AS_SPRING, SHOCK_AIR, SMALL, VOLUMES};
use super::kit::{
    CalcError, Calculator, Chart, Example, Given, Heard, Input, Outcome, OutputSpec, Values, ask, check, output,
    quantity, text,
};
use super::law::gas::{P0, Spring, compressed};
use crate::units::{Dimension, MM, N, N_PER_MM, PLAIN, PSI, lex, quantity_at};

fn fits(values: &Values) -> bool {
    !models(values)
}

fn models(values: &Values) -> bool {
    !values.has("readings") && (values.has("area") || values.has("volume"))
}

const INPUTS: &[Input] = &[
    ask(
        "readings",
        &["readings"],
        "Two or more times: which pressure gave which ring reading?",
        "Set a pressure, cycle the spring, sit, read the ring; then another pressure.",
        text("80 psi 35 mm, 100 psi 28 mm"),
    )
    .when(fits),
    ask(
        "target",
        &["wanted sag", "target", "want", "wanted", "aim"],
        "Which ring reading do you want?",
        "Share of the stroke times the stroke.",
        quantity(Dimension::Length, (0.005, 0.07), (0.001, 0.25), SMALL),
    )
    .when(fits),
    ask(
        "area",
        &["piston area", "area"],
        "How large is the piston's face?",
        "Area of the air piston: 0.785 x diameter squared.",
        quantity(Dimension::Area, (3e-4, 20e-4), (0.5e-4, 60e-4), AREAS),
    )
    .when(models),
    ask(
        "volume",
        &["air volume", "volume", "chamber"],
        "How large is the air room at full length?",
        "Piston area times chamber length.",
        quantity(Dimension::Volume, (40e-6, 400e-6), (5e-6, 3e-3), VOLUMES),
    )
    .when(models),
    ask(
        "pressure",
        &["pressure", "air pressure"],
        "Which pressure is in it at full length?",
        "On the shock pump.",
        quantity(Dimension::Pressure, (2e5, 24e5), (0.4e5, 40e5), SHOCK_AIR),
    )
    .when(models),
    ask(
        "compression",
        &["compression", "compressed", "compressed by", "stroke used"],
        "By how much is it compressed?",
        "Seal to ring.",
        quantity(Dimension::Length, (0.0, 0.2), (0.0, 0.3), SMALL),
    )
    .when(models),
    ask(
        "spacer",
        &["spacer", "volume spacer", "token"],
        "How large is the volume spacer to be tried?",
        "Its volume; negative for one taken out.",
        quantity(Dimension::Volume, (0.0, 60e-6), (-1e-3, 1e-3), VOLUMES),
    )
    .optional(),
];

const OUTPUTS: &[OutputSpec] = &[
    output("pressure", "Pressure for the wanted sag", AS_PRESSURE),
    output("per-mm", "Each millimetre less sag costs", AS_PRESSURE),
    output("target", "Wanted reading", AS_MM1),
    output("slow-force", "Force, slowly (as when setting sag)", AS_NEWTON),
    output("slow-rate", "Stiffness, slowly", AS_SPRING),
    output("fast-force", "Force, fast (as when riding)", AS_NEWTON),
    output("fast-rate", "Stiffness, fast", AS_SPRING),
    output("fast-over-slow", "Fast stiffness over slow", AS_PLAIN2),
    output("spacer-force", "Force with the spacer, fast", AS_NEWTON),
    output("spacer-rate", "Stiffness with the spacer, fast", AS_SPRING),
];

pub(super) static CALC: Calculator = Calculator {
    id: "air-spring",
    title: "Air spring",
    asks: &[
        "pressure for a wanted sag from my readings",
        "air spring curve",
        "volume spacer effect",
        "tokens in the fork",
        "stiffness of an air shock",
        "i measured sag at two pressures",
    ],
    inputs: INPUTS,
    outputs: OUTPUTS,
    formula: "Under the same rider the slow spring obeys p0 = a - b x sag on absolute pressure (p V constant), so a straight line through the readings gives the pressure for a wanted sag. The chamber: p V^n constant, n = 1 slowly, 1.4 fast; force = (p - outside) x area; stiffness = n p area^2 / volume.",
    worth: "The line holds between the readings and a little beyond; negative chambers bend it. Slow is isothermal, riding nearly adiabatic: up to 1.4 times as stiff.",
    sources: &["pelz-2004", "sag-scaling-2021", "pump-gauges"],
    cautions: &[
        "Never above the greatest pressure printed on the part. Let all air out before opening anything, and leave opening to a workshop.",
    ],
    examples: &[
        Example {
            says: "80 psi 35 mm, 100 psi 28 mm, target 31.5 mm",
            expect: &[check("pressure", 90.0, &PSI, 0.01)],
            source: "middle of two readings on a line, arithmetic; scipy.stats.linregress in scripts",
        },
        Example {
            says: "piston area 10 cm2, volume 180 ml, pressure 8 bar, compression 30 mm",
            expect: &[
                check("slow-force", 980.3, &N, 1.0),
                check("slow-rate", 7.211, &N_PER_MM, 0.008),
                check("fast-force", 1062.1, &N, 1.1),
                check("fast-rate", 10.859, &N_PER_MM, 0.011),
            ],
            source: "gas law, computed",
        },
        Example {
            says: "area 10 cm2, volume 180 ml, pressure 8 bar, compression 0 mm",
            expect: &[check("fast-over-slow", 1.4, &PLAIN, 1e-9)],
            source: "pelz-2004: the ratio is 1.4 for air (read)",
        },
        Example {
            says: "readings 70 psi 40 mm, 80 psi 34 mm, 90 psi 30 mm; want 30 mm",
            expect: &[check("target", 30.0, &MM, 1e-9)],
            source: "arithmetic",
        },
    ],
    hear: Some(hear),
    deduce: None,
    run,
};

/// (pressure, sag) pairs in SI units, with the bytes of each.
fn readings(text: &str) -> Vec<(f64, f64, std::ops::Range<usize>)> {
    let tokens = lex(text);
    let mut found = Vec::new();
    let mut i = 0;
    while i < tokens.len() {
        let Some(parsed) = quantity_at(&tokens, i, Some(Dimension::Pressure)) else {
            i += 1;
            continue;
        };
        if let Some(unit) = parsed.unit
            && let Some(reading) = parsed.reading(unit, None)
            && matches!(unit.dimension, Dimension::Pressure | Dimension::Length)
        {
            found.push((unit.dimension, reading.quantity.si, parsed.span(&tokens)));
        }
        i = parsed.next;
    }
    let mut pairs = Vec::new();
    let mut k = 0;
    while k + 1 < found.len() {
        let (a, b) = (&found[k], &found[k + 1]);
        let apart = text.get(a.2.end..b.2.start).unwrap_or("");
        if a.0 != b.0 && apart.len() <= 12 && !apart.contains([',', ';', '.']) {
            let (p, s) = if a.0 == Dimension::Pressure { (a.1, b.1) } else { (b.1, a.1) };
            pairs.push((p, s, a.2.start..b.2.end));
            k += 2;
        } else {
            k += 1;
        }
    }
    pairs
}

fn hear(text: &str) -> Vec<Heard> {
    let pairs = readings(text);
    let (Some(first), Some(last)) = (pairs.first(), pairs.last()) else { return Vec::new() };
    if pairs.len() < 2 {
        return Vec::new();
    }
    let span = first.2.start..last.2.end;
    vec![Heard { input: "readings", given: Given::Text(text[span.clone()].to_owned()), span }]
}

fn run(values: &Values) -> Result<Outcome, CalcError> {
    let mut out = Outcome::of(&CALC);
    match values.text("readings") {
        Some(text) => fit(values, text, &mut out)?,
        None => chamber(values, &mut out)?,
    }
    Ok(out)
}

/// Least squares line of absolute pressure over sag, with the spread of a prediction.
fn fit(values: &Values, text: &str, out: &mut Outcome) -> Result<(), CalcError> {
    let pairs = readings(text);
    let unreadable =
        || CalcError::Unreadable("two or more readings are needed, such as 80 psi 35 mm, 100 psi 28 mm".into());
    if pairs.len() < 2 {
        return Err(unreadable());
    }
    if pairs.iter().any(|&(p, s, _)| !(0.1e5..=40e5).contains(&p) || !(0.0005..=0.3).contains(&s)) {
        return Err(CalcError::Contradiction("a reading lies outside 0.1 to 40 bar or 0.5 to 300 mm".into()));
    }
    let n = pairs.len() as f64;
    let (mean_p, mean_s) = (pairs.iter().map(|r| r.0).sum::<f64>() / n, pairs.iter().map(|r| r.1).sum::<f64>() / n);
    let spread: f64 = pairs.iter().map(|r| (r.1 - mean_s).powi(2)).sum();
    if spread < 1e-7 {
        return Err(CalcError::Contradiction(
            "the readings stand at the same sag; take one at a clearly other pressure".into(),
        ));
    }
    let slope = pairs.iter().map(|r| (r.1 - mean_s) * (r.0 - mean_p)).sum::<f64>() / spread;
    if slope >= 0.0 {
        return Err(CalcError::Contradiction(
            "more pressure gave more sag: a reading is wrong, or the chambers were not levelled out".into(),
        ));
    }
    let at = |s: f64| mean_p + slope * (s - mean_s);
    let target = values.need("target")?;
    let pressure = at(target);
    // Reading errors: 2 psi on the gauge, 1 mm on the ring; residuals where there are more than two readings.
    let reading = PSI.to_si(2.0).hypot(slope * 0.001);
    let residual = if pairs.len() > 2 {
        (pairs.iter().map(|r| (r.0 - at(r.1)).powi(2)).sum::<f64>() / (n - 2.0)).sqrt()
    } else {
        0.0
    };
    let sd = reading.max(residual) * (1.0 / n + (target - mean_s).powi(2) / spread).sqrt();
    let least = pairs.iter().map(|r| r.1).fold(f64::MAX, f64::min);
    let most = pairs.iter().map(|r| r.1).fold(f64::MIN, f64::max);
    let beyond = (least - target).max(target - most);
    if beyond > (most - least) || pressure <= 0.0 {
        return Err(CalcError::NoAnswer(format!(
            "the wanted {} lies too far outside the readings ({} to {}); take another reading nearer to it",
            values.say(target, AS_MM1),
            values.say(least, AS_MM1),
            values.say(most, AS_MM1)
        )));
    }
    if beyond > 1e-9 {
        out.warn("The wanted sag lies outside the readings: this is drawn on beyond them. Go there in steps.");
    }
    out.figure("pressure", pressure).band(pressure - 2.0 * sd, pressure + 2.0 * sd).note("then read the ring again");
    out.figure("per-mm", -slope * 0.001);
    out.figure("target", target);
    let scale = |s: f64| (MM.value_of(s), PSI.value_of(at(s)));
    let (from, to) = (least.min(target), most.max(target));
    out.chart = Some(Chart::Curve {
        across: ("sag", "mm"),
        up: ("pressure", "psi"),
        points: (0..=8).map(|k| scale(from + (to - from) * f64::from(k) / 8.0)).collect(),
        marks: pairs
            .iter()
            .map(|r| ("reading".to_owned(), MM.value_of(r.1), PSI.value_of(r.0)))
            .chain([("wanted".to_owned(), MM.value_of(target), PSI.value_of(pressure))])
            .collect(),
    });
    Ok(())
}

fn chamber(values: &Values, out: &mut Outcome) -> Result<(), CalcError> {
    let spring = Spring { area: values.need("area")?, volume: values.need("volume")?, gauge: values.need("pressure")? };
    let s = values.need("compression")?;
    let gone = || {
        CalcError::Contradiction(
            "the piston would use up the whole air room; check area, volume and compression".into(),
        )
    };
    let slow = compressed(spring, s, 1.0).ok_or_else(gone)?;
    let fast = compressed(spring, s, 1.4).ok_or_else(gone)?;
    out.figure("slow-force", slow.1);
    out.figure("slow-rate", slow.2);
    out.figure("fast-force", fast.1);
    out.figure("fast-rate", fast.2);
    out.figure("fast-over-slow", fast.2 / slow.2);
    if let Some(spacer) = values.si("spacer") {
        let less = Spring { volume: spring.volume - spacer, ..spring };
        let with = compressed(less, s, 1.4).ok_or_else(gone)?;
        out.figure("spacer-force", with.1).note("at the same pressure and compression");
        out.figure("spacer-rate", with.2);
        out.then(
            "A spacer acts mostly deep in the travel: fit one if the last bit is used up too often at the right sag.",
        );
    }
    out.assume(format!("Air outside {}, no negative chamber.", values.say(P0, AS_PRESSURE)));
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::super::kit::{parse_inputs, run};
    use super::*;

    #[test]
    fn readings_that_cannot_be() {
        let refused = |text: &str| run(&CALC, &parse_inputs(&CALC, text).values).unwrap_err().to_string();
        assert!(refused("80 psi 28 mm, 100 psi 35 mm, target 30 mm").contains("more pressure gave more sag"));
        assert!(refused("80 psi 28 mm, 100 psi 28 mm, target 30 mm").contains("same sag"));
        assert!(refused("80 psi 35 mm, 100 psi 28 mm, target 12 mm").contains("too far outside"));
    }

    #[test]
    fn a_line_gives_its_own_points_back() {
        // An isothermal spring under one load: p0 = (load + outside)(1 - s / length).
        let p = |s: f64| PSI.value_of(12e5 * (1.0 - s / 0.18) - P0);
        let text =
            format!("{:.4} psi 20 mm, {:.4} psi 30 mm, {:.4} psi 40 mm, target 35 mm", p(0.020), p(0.030), p(0.040));
        let outcome = run(&CALC, &parse_inputs(&CALC, &text).values).unwrap();
        let got = outcome.get("pressure").unwrap().quantity.value_in(&PSI).unwrap();
        assert!((got - p(0.035)).abs() < 1e-3);
    }
}
