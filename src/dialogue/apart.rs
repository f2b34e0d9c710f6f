//! How far a value is from the card, in words: "9 mm lower than on the card of 3 May 2026 (measured)".
//!
//! Owns the sentence and its rounding. Must not know where the card's value was kept.

use super::held::Noted;
use crate::trial::SUBJECTS;
use crate::units::{self, Dimension, Quantity, Unit};

/// Names of the months.
const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// A day such as `2026-05-03` as "3 May 2026"; what is no such day stays as it is.
#[must_use]
pub fn day_in_words(day: &str) -> String {
    let parts: Vec<&str> = day.split('-').collect();
    let [year, month, date] = parts.as_slice() else { return day.to_owned() };
    match (month.parse::<usize>().ok().and_then(|m| MONTHS.get(m.wrapping_sub(1))), date.parse::<u8>()) {
        (Some(month), Ok(date)) => format!("{date} {month} {year}"),
        _ => day.to_owned(),
    }
}

/// Reads a day as people write it, as `2026-05-03`: "3 May 2026", "May 3", "2026-05-03"; without a year it is the last such
/// day up to `today` (as `2026-05-03`; without it the year must be given).
pub(super) fn read_day(text: &str, today: &str) -> Option<String> {
    let lower = text.to_lowercase();
    let parts: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).filter(|p| !p.is_empty()).collect();
    let month =
        |p: &str| MONTHS.iter().position(|m| p.len() >= 3 && m.to_lowercase().starts_with(p)).map(|i| i as u32 + 1);
    let date = |p: &str| p.trim_end_matches(|c: char| c.is_alphabetic()).parse::<u32>().ok();
    let (year, month, day) = match parts.as_slice() {
        [y, m, d] if y.len() == 4 && y.parse::<u32>().is_ok() => (Some(*y), m.parse().ok()?, date(d)?),
        [a, b, rest @ ..] if rest.len() <= 1 => match (month(a), month(b)) {
            (None, Some(m)) => (rest.first().copied(), m, date(a)?),
            (Some(m), None) => (rest.first().copied(), m, date(b)?),
            _ => return None,
        },
        _ => return None,
    };
    let leap = |y: u32| y.is_multiple_of(4) && (!y.is_multiple_of(100) || y.is_multiple_of(400));
    let longest = |y: u32| match month {
        2 => 28 + u32::from(leap(y)),
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    };
    let fits = |y: u32| (1..=12).contains(&month) && (1..=longest(y)).contains(&day);
    let iso = |y: u32| format!("{y:04}-{month:02}-{day:02}");
    match year {
        Some(y) => y.parse().ok().filter(|y| (1900..=9999).contains(y) && fits(*y)).map(iso),
        None => {
            let this: u32 = today.get(..4)?.parse().ok()?;
            // Eight years back there is always a 29 February.
            (this.saturating_sub(8)..=this).rev().filter(|y| fits(*y)).map(iso).find(|d| d.as_str() <= today)
        }
    }
}

/// How far `now` (SI units, shown in `unit`) is from the card; `None` when the card holds no number.
pub(super) fn apart(what: &str, now: f64, unit: &str, card: &Noted) -> Option<String> {
    let was = card.si?;
    let by = now - was;
    let than = format!("on the card of {} ({})", day_in_words(&card.on), card.source);
    let unit = units::by_symbol(unit).or_else(|| units::by_symbol(&card.unit));
    let amount = amount(by.abs(), unit);
    if !amount.chars().any(|c| ('1'..='9').contains(&c)) {
        return Some(format!("as {than}"));
    }
    let (more, less) = SUBJECTS
        .iter()
        .find(|s| s.title.eq_ignore_ascii_case(what) || s.id == what)
        .map_or(("more", "less"), |s| (s.plus, s.minus));
    Some(format!("{amount} {} than {than}", if by > 0.0 { more } else { less }))
}

/// The size of a difference: no finer than anybody measures it.
fn amount(si: f64, unit: Option<&'static Unit>) -> String {
    let in_unit = |u: &'static Unit, decimals: u8| units::write_in(Quantity::si(u.dimension, si), u, Some(decimals));
    match unit {
        Some(u) if u.symbol == units::INCH.symbol => in_unit(u, 2),
        Some(u) if u.dimension == Dimension::Length && si < 0.01 => in_unit(&units::MM, 1),
        Some(u) if u.dimension == Dimension::Length && si < 1.0 => in_unit(&units::MM, 0),
        Some(u) if u.dimension == Dimension::Ratio => {
            format!("{:.0} percentage points", 100.0 * si)
        }
        Some(u) if u.symbol == units::BAR.symbol => in_unit(u, 2),
        Some(u) if u.dimension == Dimension::Pressure || u.dimension == Dimension::Angle => in_unit(u, 0),
        Some(u) => in_unit(u, 1),
        None => format!("{si:.1}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_read_as_people_write_them() {
        let read = |text: &str| read_day(text, "2026-11-27");
        for text in ["2026-05-03", "3 May 2026", "may 3rd, 2026", "3 may", "May 3", "3. May"] {
            assert_eq!(read(text).as_deref(), Some("2026-05-03"), "{text}");
        }
        // The last one up to today; a leap day only where there was one (facts of the calendar).
        assert_eq!(read("24 December").as_deref(), Some("2025-12-24"));
        assert_eq!(read("29 February").as_deref(), Some("2024-02-29"));
        for text in ["", "yesterday", "31 April 2026", "29 February 2026", "2026-13-01", "May", "3 May 26"] {
            assert_eq!(read(text), None, "{text}");
        }
        assert_eq!(read_day("3 May", ""), None);
    }

    fn card(si: f64, source: &str) -> Noted {
        Noted { si: Some(si), on: "2026-05-03".into(), source: source.into(), ..Noted::default() }
    }

    #[test]
    fn says_which_way_in_the_words_of_the_setting() {
        let said = |what, now, unit, was| apart(what, now, unit, &card(was, "measured")).unwrap();
        assert_eq!(said("saddle height", 0.733, "mm", 0.742), "9 mm lower than on the card of 3 May 2026 (measured)");
        assert_eq!(
            said("saddle height", 0.7445, "cm", 0.742),
            "2.5 mm higher than on the card of 3 May 2026 (measured)"
        );
        assert_eq!(said("saddle height", 0.742_01, "mm", 0.742), "as on the card of 3 May 2026 (measured)");
        assert!(said("sag of the fork", 0.31, "%", 0.28).starts_with("3 percentage points softer than"));
        assert!(said("pressure of the front tyre", 2.2e5, "bar", 2.0e5).starts_with("0.2 bar harder than"));
        assert!(said("Stem: length", 0.09, "mm", 0.1).starts_with("10 mm less than"));
        assert_eq!(apart("saddle height", 0.7, "mm", &Noted::default()), None);
    }

    #[test]
    fn a_day_that_is_none_stays() {
        assert_eq!(day_in_words("2026-13-03"), "2026-13-03");
        assert_eq!(day_in_words(""), "");
        assert_eq!(day_in_words("2024-02-29"), "29 February 2024");
    }
}
