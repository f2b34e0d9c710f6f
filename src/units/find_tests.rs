//! Values in what riders write, and numbers that are none.

use super::*;

fn said(text: &str) -> Vec<String> {
    let found = find_all(text);
    for one in &found {
        assert!(text.get(one.span.clone()).is_some(), "span of {text}");
    }
    found
        .iter()
        .map(|f| crate::units::write(f.reading.quantity, crate::units::Preference::AsGiven(f.reading.unit)))
        .collect()
}

#[test]
fn values_with_units() {
    for (text, want) in [
        ("got 40 psi in them, i weigh 95kg, 2.4 in tyres, sag 20 mm", vec!["40 psi", "95 kg", "2.4 in", "20 mm"]),
        ("tyre pressure fine 80psi, chain oiled", vec!["80 psi"]),
        ("130 psi in the rear shock and the O ring ends at 50 of 53.5mm", vec!["130 psi", "53.5 mm"]),
        ("I'm a big lad, 21 stone, old seven speed screw on", vec!["21 st"]),
        ("me 5ft10 and 11st 4", vec!["5 ft 10 in", "11 st 4 lb"]),
        ("dropped the saddle 3cm, 1/2 turn on the barrel", vec!["3 cm", "1/2 turn"]),
        ("about twice a second at 15 km/h", vec!["15 km/h"]),
        ("18% hill, 170 kg all up", vec!["18 %", "170 kg"]),
        ("32t ring and 51t cassette", vec!["32 teeth", "51 teeth"]),
        ("crank bolt done to 40 Nm", vec!["40 N m"]),
        ("lost 20-30 psi overnight", vec!["25 psi"]),
        // Not a weight of 2.1 kg.
        ("the pressure is 2.1 kg/cm2", vec!["2.1 kg/cm2"]),
        ("heated up to 20 °C", vec!["20 °C"]),
        ("turn it a quarter turn", vec!["1/4 turn"]),
        ("29\" wheels, 120-mm fork", vec!["29 in", "120 mm"]),
    ] {
        assert_eq!(said(text), want, "{text}");
    }
}

#[test]
fn what_the_trade_says_loosely() {
    for (text, want) in [
        ("40 pounds in them and they feel hard", vec!["40 psi"]),
        ("got 40 in them", vec!["40 psi"]),
        ("100/90 psi", vec!["100 psi", "90 psi"]),
        ("100/90 on 25s", vec!["100 psi", "90 psi", "25 mm"]),
        ("80 kg on 2.4s", vec!["80 kg", "2.4 in"]),
        ("i run 28c tyres", vec!["28 mm"]),
        ("i weigh 185 pounds with pack", vec!["185 lb"]),
        ("450 lb spring on the shock", vec!["450 lb/in"]),
        ("torque wrench at 5 and the post slips", vec!["5 N m"]),
        ("pumped the tyres to 60 lbs", vec!["60 psi"]),
    ] {
        assert_eq!(said(text), want, "{text}");
    }
    assert!(find_all("got 40 in them")[0].reading.assumed.is_some());
    assert!(find_all("got 40 psi in them")[0].reading.assumed.is_none());
}

#[test]
fn no_false_alarms() {
    for text in [
        "1x12 drivetrain",
        "29x2.4 tyres and 700x28c before",
        "27 years old",
        "26 x 1 3/8 wheels on an old roadster",
        "700c wheel",
        "57-622",
        "M5 bolt with a T25 key",
        "in 1st it clips something, 2nd is fine",
        "when I was in the hardest gear",
        "3 rings in front, 2 in the back",
        "use a 6mm allen key",
        "it's a 10 speed, 11s chain",
        "bought in 2019 for 400",
        "2 of 3 bolts",
        "gear 7 on the back",
        "my 2 kids",
        "one spoke broke, joined the chain one link for link",
        "50/34 rings",
        "one foot drops a bit each turn",
        "",
        "🚲🚲",
    ] {
        assert_eq!(said(text), Vec::<String>::new(), "{text}");
    }
}
