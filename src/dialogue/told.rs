//! Settings told in the conversation: "measured saddle height 733 mm", "set the front tyre to 30 psi".
//!
//! Owns reading them, comparing them with the card and noting them. Must not know how a book is kept.

use super::apart::apart;
use super::bench::Bench;
use super::next;
use super::record::RecordedFigure;
use super::reply::{Block, Reply};
use super::state::{Focus, Setting, State};
use super::trying;
use crate::trial::{SUBJECTS, Subject};
use crate::units::{self, Dimension, Hint, Quantity, Reading, Unit};

/// Words of one kind that stand for the word of a setting's id.
const SAME: [(&str, &str); 6] = [
    ("seat", "saddle"),
    ("tire", "tyre"),
    ("handlebar", "bar"),
    ("levers", "lever"),
    ("damper", "shock"),
    ("forks", "fork"),
];
/// Longest line, in words, that is taken for a setting when it was not begun by a command.
const SHORT: usize = 9;
/// What a figure that was measured has in place of its calculator.
const MEASURED: &str = "measured";
/// A distance below this is no reading of what was ridden, in metres.
const RIDDEN: f64 = 100.0;

/// A setting as it was told.
#[derive(Clone, Debug)]
pub(super) struct Told {
    subject: &'static Subject,
    reading: Reading,
}

/// Units in which a setting is read, the likeliest first.
pub(super) fn units_of(s: &Subject) -> &'static [&'static Unit] {
    static LENGTHS: &[&Unit] = &[&units::MM, &units::CM, &units::INCH];
    static ANGLES: &[&Unit] = &[&units::DEG];
    static PRESSURES: &[&Unit] = &[&units::PSI, &units::BAR];
    static SHARES: &[&Unit] = &[&units::PERCENT];
    static COUNTS: &[&Unit] = &[&units::TIMES];
    let id = s.id;
    if id.contains("pressure") {
        PRESSURES
    } else if id.contains("sag") {
        SHARES
    } else if id.contains("roll") || id.contains("tilt") || id.contains("angle") {
        ANGLES
    } else if id.contains("rebound") || id.contains("compression") {
        COUNTS
    } else {
        LENGTHS
    }
}

/// Where a drawing shows the setting; its own id where none does.
fn place(s: &Subject) -> &'static str {
    match s.id {
        "fork-sag" => "sag-fork",
        "shock-sag" => "sag-rear",
        "front-tyre-pressure" => "tyre-front",
        "rear-tyre-pressure" => "tyre-rear",
        other => other,
    }
}

/// A value of a setting in words.
pub(super) fn say(si: f64, unit: &'static Unit) -> String {
    let decimals = u8::from(unit.symbol == "bar" || unit.symbol == "cm");
    units::write_in(Quantity::si(unit.dimension, si), unit, Some(decimals))
}

fn words(line: &str) -> Vec<String> {
    let plain = line.to_lowercase();
    let word = |w: &str| SAME.iter().find(|s| s.0 == w).map_or_else(|| w.to_owned(), |s| s.1.to_owned());
    plain.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).map(word).collect()
}

/// The setting that a line names: all words of its id stand in it.
fn named(line: &str) -> Option<&'static Subject> {
    let words = words(line);
    let named = |s: &&Subject| s.id.split('-').all(|part| words.iter().any(|w| w == part));
    SUBJECTS.iter().filter(named).max_by_key(|s| s.id.split('-').count())
}

/// Reads a setting with its value; `None` when either is missing or there are two of them.
///
/// Sag may be told as a length of the travel: "24 mm of 120 mm".
pub(super) fn read(line: &str) -> Option<Told> {
    let subject = named(line)?;
    let list = units_of(subject);
    let dimension = list[0].dimension;
    let found = units::find_all(line);
    if let (true, [part, whole]) = (dimension == Dimension::Ratio, found.as_slice()) {
        let both = part.dimension == Dimension::Length && whole.dimension == Dimension::Length;
        let share = part.reading.quantity.si / whole.reading.quantity.si;
        return (both && share > 0.0 && share < 1.0)
            .then(|| Told { subject, reading: Reading::exact(share * 100.0, &units::PERCENT) });
    }
    let mut of_kind = found.iter().filter(|f| f.dimension == dimension);
    match (of_kind.next(), of_kind.next()) {
        (Some(f), None) => Some(Told { subject, reading: f.reading.clone() }),
        (None, _) if found.is_empty() => {
            // A bare number takes the likeliest unit, and that is said.
            let at = line.find(|c: char| c.is_ascii_digit())?;
            let reading =
                units::read(line.get(at..)?, dimension, Hint { plausible: (0.0, f64::MAX), units: list }).ok()?;
            Some(Told { subject, reading })
        }
        _ => None,
    }
}

/// What to say of a short line that names a setting and gives a value that does not measure it, in its unit or at all.
pub(super) fn misread(line: &str) -> Option<String> {
    let subject = named(line)?;
    if line.split_whitespace().count() > SHORT || units::find_all(line).is_empty() || read(line).is_some() {
        return None;
    }
    let unit = units_of(subject)[0];
    let example = match unit.dimension {
        Dimension::Ratio => "25 %, or 30 mm of 120 mm travel",
        Dimension::Angle => "3 deg",
        Dimension::Pressure => "30 psi, or 2 bar",
        Dimension::Count => "5 clicks",
        _ => "742 mm",
    };
    Some(format!(
        "I know {}, but not one value of it in that line; this would be understood: {example}.",
        subject.title
    ))
}

/// Reads a setting from a line that no command begins: short, no question, and saying that it is so.
pub(super) fn volunteered(line: &str) -> Option<Told> {
    let lower = line.to_lowercase();
    let says = [" is ", " now ", " at ", " stands ", " measures ", "measured "].iter().any(|w| lower.contains(w));
    let asks = lower.contains('?') || ["how", "what", "which", "is ", "should"].iter().any(|w| lower.starts_with(w));
    (says && !asks && line.split_whitespace().count() <= SHORT).then(|| read(line)).flatten()
}

/// Reads a distance ridden, in metres, with its text.
pub(super) fn distance(line: &str) -> Option<(f64, String)> {
    let named = words(line).iter().any(|w| ["distance", "odometer", "ridden", "mileage"].contains(&w.as_str()));
    let found = units::find_all(line);
    let mut lengths = found.iter().filter(|f| f.dimension == Dimension::Length && f.reading.quantity.si >= RIDDEN);
    match (named, lengths.next(), lengths.next()) {
        (true, Some(f), None) => {
            Some((f.reading.quantity.si, units::write_in(f.reading.quantity, f.reading.unit, Some(0))))
        }
        _ => None,
    }
}

/// Notes a setting: as found (`set` false), or as set on purpose and from now on the baseline (`set` true).
pub(super) fn take(state: &mut State, bench: &Bench, told: &Told, set: bool, reply: &mut Reply) {
    let what = told.subject.title;
    let (si, unit) = (told.reading.quantity.si, told.reading.unit);
    let text = say(si, unit);
    let card = state.shared.settings.iter().find(|s| s.what == what).cloned();
    let compared = card.as_ref().and_then(|s| apart(what, si, unit.symbol, &s.card)).unwrap_or_default();
    if told.reading.assumed.is_some() {
        reply.aside(format!("Taken as {text}."));
    }
    reply.add(format!("Noted: {what} {text} ({}).", if set { "set" } else { "measured" }));
    if !compared.is_empty() {
        reply.add(format!("The {what} is {compared}."));
    }
    let earlier = state.current().and_then(|t| t.settings.iter().find(|s| s.what == what)).cloned();
    // What was found stays the value before when it is then set.
    let before = match earlier {
        Some(e) if set && e.how == "measured" => Some(e.after),
        Some(e) => e.before,
        None => card.as_ref().map(|s| s.now.text.clone()),
    };
    let figures = &mut state.thread().figures;
    figures.retain(|f| f.calculator != MEASURED || f.id != place(told.subject));
    figures.push(RecordedFigure {
        calculator: MEASURED.into(),
        id: place(told.subject).into(),
        label: what.into(),
        shown: text.clone(),
        si,
        unit: unit.symbol.into(),
        ..RecordedFigure::default()
    });
    let settings = &mut state.thread().settings;
    settings.retain(|s| s.what != what);
    settings.push(Setting {
        what: what.into(),
        before,
        after: text,
        how: if set { "set and measured" } else { "measured" }.into(),
        si: Some(si),
        unit: unit.symbol.into(),
        compared,
        baseline: set || card.is_none(),
    });
    if set && let Some(warning) = trying::also_set(state, what) {
        reply.push(Block::Warning { level: "caution".into(), text: warning });
    }
    if !matches!(state.focus, Focus::Open) {
        next::repeat_prompt(state, bench, reply);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reads(line: &str) -> Option<(&'static str, f64)> {
        read(line).map(|t| (t.subject.id, (t.reading.quantity.si * 1e4).round() / 1e4))
    }

    #[test]
    fn settings_are_read_by_name_and_value() {
        assert_eq!(reads("saddle height 733 mm"), Some(("saddle-height", 0.733)));
        assert_eq!(reads("the seat height to 73.3 cm"), Some(("saddle-height", 0.733)));
        assert_eq!(reads("sag of the fork 28 %"), Some(("fork-sag", 0.28)));
        assert_eq!(reads("saddle height 733"), Some(("saddle-height", 0.733)));
        assert_eq!(reads("pressure of the front tire 30 psi").map(|r| r.0), Some("front-tyre-pressure"));
        assert_eq!(reads("saddle height"), None);
        assert_eq!(reads("saddle height 733 mm or 740 mm"), None);
        assert_eq!(reads("up my bike"), None);
        assert_eq!(reads("fork sag 30 mm of 120 mm"), Some(("fork-sag", 0.25)));
        assert_eq!(reads("shock sag 15mm out of 60mm stroke"), Some(("shock-sag", 0.25)));
        assert_eq!(reads("fork sag 24 mm"), None);
        assert_eq!(reads("fork sag 120 mm of 30 mm"), None);
    }

    #[test]
    fn a_value_that_does_not_measure_the_setting_is_told_apart_from_a_complaint() {
        assert!(misread("fork sag 24 mm").is_some_and(|m| m.contains("30 mm of 120 mm")));
        assert!(misread("saddle height 3 degrees").is_some());
        assert!(misread("saddle height 733 mm").is_none());
        assert!(misread("the saddle height wrong and now it hurts").is_none());
        assert!(misread("my brakes on fire").is_none());
    }

    #[test]
    fn what_is_volunteered_is_told_from_questions_and_complaints() {
        assert!(volunteered("the saddle height is 733 mm now").is_some());
        assert!(volunteered("is the saddle height 733 mm right").is_none());
        assert!(volunteered("saddle height 733 mm").is_none());
        assert!(
            volunteered("my knee hurts at the front since I moved the saddle height, it is 733 mm now I think")
                .is_none()
        );
    }

    #[test]
    fn a_distance_ridden_is_no_short_length() {
        assert_eq!(distance("distance 1200 km"), Some((1_200_000.0, "1200 km".into())));
        assert_eq!(distance("odometer 2 m"), None);
        assert_eq!(distance("saddle height 733 mm"), None);
    }
}
