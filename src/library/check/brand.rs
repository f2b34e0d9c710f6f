//! No brand, no product, no person: a capitalised word inside a sentence must be a known one.

use regex::Regex;

use super::{Known, Problem, Rule};
use crate::library::{Library, without_pictures};

pub(super) static RULE: Rule = Rule { id: "brand", why: "the notes stay free of brands and people", run };

/// Capitalised words that name no product: sentence-like labels, units, standards, law, places of law, letters as shapes.
const ALLOWED: &[&str] = &[
    "I",
    "A",
    "B",
    "C",
    "D",
    "E",
    "H",
    "L",
    "M",
    "N",
    "O",
    "Q",
    "R",
    "S",
    "T",
    "U",
    "V",
    "W",
    "X",
    "Y",
    "Z",
    "Caution",
    "Allen",
    "Torx",
    "ISO",
    "EN",
    "CFR",
    "TBIS",
    "US",
    "UK",
    "EU",
    "NHS",
    "NICE",
    "UCI",
    "MTB",
    "BMX",
    "LED",
    "PDF",
    "Nm",
    "IT",
    "OK",
    "DIY",
    "Berto",
    "Presta",
    "Schrader",
    "Dunlop",
    "French",
    "English",
    "Dutch",
    "British",
    "Italian",
    "Woods",
    "Monday",
    "Sunday",
    "Saturday",
    "Friday",
    "Bowden",
    "Achilles",
    "Celsius",
    "DOT",
    "GPS",
    "ITB",
    "BB",
    "QR",
    "PSI",
    "Pa",
    "Ackermann",
    "Hooke",
    "January",
    "March",
    "June",
    "October",
    "November",
    "December",
    "KOPS",
    "STI",
    "TV",
    "CO2",
    "CO",
    "USB",
    "ETRTO",
    "BSD",
    "ERD",
    "HA",
    "STA",
    "PCD",
    "BCD",
    "ID",
    "OD",
];

fn run(library: &Library, _known: &Known) -> Vec<Problem> {
    let mut out = Vec::new();
    // A capitalised word that follows a small word directly is not the beginning of a sentence.
    let Ok(inside) = Regex::new(r"[a-z,] ([A-Z][A-Za-z0-9]+)") else { return out };
    let allowed = |w: &str| {
        ALLOWED.contains(&w) || w.chars().skip(1).all(|c| c.is_ascii_digit()) || w.chars().all(|c| !c.is_lowercase())
    };
    let sources: String = library.sources.iter().map(|s| s.title.as_str()).collect::<Vec<_>>().join(" ");
    let mut read = |path: &str, text: &str| {
        for m in inside.captures_iter(text) {
            let word = &m[1];
            if !allowed(word) && !sources.contains(word) {
                out.push(Problem::new(
                    path,
                    0,
                    format!("\"{word}\" is capitalised inside a sentence"),
                    "is it a brand or a person? write what it is",
                ));
            }
        }
    };
    for c in &library.causes {
        read(&c.path, &c.title);
        read(&c.path, &c.short);
        for s in c.sections.iter().filter(|s| s.heading != "Riders say") {
            read(&c.path, &without_pictures(&s.markdown));
        }
    }
    for f in &library.findings {
        read(&f.path, &f.ask);
        read(&f.path, &without_pictures(&f.body));
        for a in &f.answers {
            read(&f.path, &a.says);
        }
    }
    for d in &library.dangers {
        read(&d.path, &d.warn);
        read(&d.path, &without_pictures(&d.body));
    }
    for g in &library.vocabulary.glossary {
        read("words.toml", &g.means);
    }
    out
}
