//! Finds the calculator a rider's words ask for.
//!
//! Owns [`by_words`]. Must not know any single calculator: it looks only at titles, asks and input names.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::calculator::{Calculator, InputKind, Need};
use crate::calc::ALL;
use crate::units::lex;

/// What one calculator is known by.
struct Known {
    calculator: &'static Calculator,
    weights: BTreeMap<String, f64>,
    asks: Vec<Vec<String>>,
}

static KNOWN: LazyLock<(Vec<Known>, BTreeMap<String, f64>)> = LazyLock::new(|| {
    let mut known = Vec::new();
    let mut spread: BTreeMap<String, f64> = BTreeMap::new();
    for &calculator in ALL {
        let mut weights: BTreeMap<String, f64> = BTreeMap::new();
        let mut add = |text: &str, weight: f64| {
            for stem in stems(text) {
                let entry = weights.entry(stem).or_insert(0.0);
                *entry = entry.max(weight);
            }
        };
        add(&calculator.id.replace('-', " "), 3.0);
        add(calculator.title, 2.0);
        for ask in calculator.asks {
            add(ask, 2.0);
        }
        for input in calculator.inputs {
            for name in input.names {
                add(name, 1.0);
            }
        }
        for stem in weights.keys() {
            *spread.entry(stem.clone()).or_insert(0.0) += 1.0;
        }
        let asks = calculator.asks.iter().map(|ask| stems(ask)).collect();
        known.push(Known { calculator, weights, asks });
    }
    let rarity = spread.into_iter().map(|(stem, n)| (stem, (1.0 + ALL.len() as f64 / n).ln())).collect();
    (known, rarity)
});

/// Calculators that the words of `text` speak of, the best first, with a score above zero.
///
/// Scores compare calculators for one text only; below about 4 the match is weak.
#[must_use]
pub fn by_words(text: &str) -> Vec<(&'static Calculator, f64)> {
    let (known, rarity) = &*KNOWN;
    let mut typed = stems(text);
    let exact = text.trim().to_lowercase().replace(' ', "-");
    typed.dedup();
    let mut ranked: Vec<(&'static Calculator, f64)> = Vec::new();
    for one in known {
        let mut seen: Vec<&str> = Vec::new();
        let mut score = 0.0;
        for stem in &typed {
            if let Some(weight) = one.weights.get(stem)
                && !seen.contains(&stem.as_str())
            {
                seen.push(stem);
                score += weight * rarity.get(stem).copied().unwrap_or(1.0);
            }
        }
        // A whole wording that stands in the text counts by how much it says.
        let wording = |ask: &Vec<String>| {
            let all = !ask.is_empty() && ask.iter().all(|s| typed.contains(s));
            if all { ask.iter().map(|s| 2.0 * rarity.get(s).copied().unwrap_or(1.0)).sum() } else { 0.0 }
        };
        score += one.asks.iter().map(wording).fold(0.0, f64::max);
        score += heard(one.calculator, text);
        if exact == one.calculator.id {
            score += 1000.0;
        }
        if score > 0.0 {
            ranked.push((one.calculator, score));
        }
    }
    ranked.sort_by(|a, b| b.1.total_cmp(&a.1));
    ranked
}

/// What the calculator's own ear makes of the text: its sayings speak for it.
fn heard(calculator: &Calculator, text: &str) -> f64 {
    let Some(hear) = calculator.hear else { return 0.0 };
    let weight = |id: &str| match calculator.input(id) {
        Some(input) if matches!(input.need, Need::Required) => {
            if matches!(input.kind, InputKind::Text { .. }) {
                5.0
            } else {
                2.0
            }
        }
        _ => 0.0,
    };
    hear(text).iter().map(|one| weight(one.input)).fold(0.0, f64::max)
}

const EMPTY: &[&str] = &[
    "a", "an", "the", "is", "are", "do", "does", "i", "my", "me", "for", "of", "to", "in", "on", "it", "and", "or",
    "what", "how", "should", "be", "with", "at", "from", "that", "this", "much", "many", "can", "will", "would",
    "have", "need", "which", "when", "if", "s", "so", "we", "you", "get", "got", "there", "as", "by", "not", "no",
    "im", "i'm", "its", "it's",
];

/// Words cut to their stems, empty words left out, a few spellings joined; units become the thing they measure.
fn stems(text: &str) -> Vec<String> {
    lex(text)
        .iter()
        .filter(|t| t.is_word() && t.text.chars().count() > 1 && !EMPTY.contains(&t.text.as_str()))
        .map(|t| stem(&t.text))
        .collect()
}

fn stem(word: &str) -> String {
    let word = match word {
        "tire" | "tires" | "tyres" => "tyre",
        "disc" | "disk" | "discs" => "rotor",
        "seat" | "seats" => "saddle",
        "psi" | "bar" | "psis" => "pressure",
        "rear" => "back",
        "cog" | "cogs" | "sprockets" => "sprocket",
        "chainring" | "chainrings" | "rings" => "ring",
        "handlebar" | "handlebars" | "bars" => "handlebar",
        "tight" | "tighten" | "tightened" | "tightening" | "tightness" => "tight",
        "kph" | "kmh" | "mph" => "speed",
        other => other,
    };
    for (suffix, least) in [("ings", 4), ("ing", 4), ("edly", 4), ("ies", 3), ("ed", 4), ("es", 4), ("s", 3), ("ly", 4)]
    {
        if let Some(cut) = word.strip_suffix(suffix)
            && cut.chars().count() >= least
            && !cut.ends_with('s')
        {
            return if suffix == "ies" { format!("{cut}y") } else { cut.trim_end_matches('e').to_owned() };
        }
    }
    if word.len() > 4 { word.trim_end_matches('e').to_owned() } else { word.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn riders_words_find_their_calculator() {
        let cases = include_str!("find_cases.txt");
        let mut wrong = Vec::new();
        for line in cases.lines().filter(|line| !line.trim().is_empty()) {
            let (want, text) = line.split_once('|').unwrap();
            let ranked = by_words(text);
            if ranked.first().map(|(c, _)| c.id) != Some(want) {
                wrong.push(format!("{text}: {:?}", ranked.iter().take(3).map(|(c, s)| (c.id, *s)).collect::<Vec<_>>()));
            }
        }
        assert!(wrong.is_empty(), "{wrong:#?}");
    }

    #[test]
    fn ids_find_themselves_and_nonsense_finds_nothing() {
        for calculator in ALL {
            assert_eq!(by_words(calculator.id)[0].0.id, calculator.id);
            assert_eq!(by_words(&calculator.id.replace('-', " "))[0].0.id, calculator.id);
        }
        assert!(by_words("").is_empty() && by_words("🚲 qwzx").is_empty());
    }
}
