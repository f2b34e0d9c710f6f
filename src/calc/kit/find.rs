//! Finds the calculator a rider's words ask for.
//!
//! Owns [`by_words`]. Must not know any single calculator: it looks only at titles, asks and input names.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::calculator::Calculator;
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

const EMPTY: &[&str] = &[
    "a", "an", "the", "is", "are", "do", "does", "i", "my", "me", "for", "of", "to", "in", "on", "it", "and", "or", "what", "how",
    "should", "be", "with", "at", "from", "that", "this", "much", "many", "can", "will", "would", "have", "need", "which", "when", "if",
    "s", "so", "we", "you", "get", "got", "there", "as", "by", "not", "no", "im", "i'm", "its", "it's",
];

/// Words cut to their stems, empty words left out, a few spellings joined; units become the thing they measure.
fn stems(text: &str) -> Vec<String> {
    lex(text).iter().filter(|t| t.is_word() && !EMPTY.contains(&t.text.as_str())).map(|t| stem(&t.text)).collect()
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
    for (suffix, least) in [("ings", 4), ("ing", 4), ("edly", 4), ("ies", 3), ("ed", 4), ("es", 4), ("s", 3), ("ly", 4)] {
        if let Some(cut) = word.strip_suffix(suffix)
            && cut.chars().count() >= least
            && !cut.ends_with('s')
        {
            return if suffix == "ies" { format!("{cut}y") } else { cut.trim_end_matches('e').to_owned() };
        }
    }
    if word.len() > 4 { word.trim_end_matches('e').to_owned() } else { word.to_owned() }
}
