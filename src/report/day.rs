//! Days written as `2026-03-14`.
//!
//! Owns reading them and counting between them. Must not ask what day it is.

/// The number of a day, counted from 1970-01-01; `None` when the text is no day of the calendar.
///
/// Counts by whole 400-year turns of the Gregorian calendar (146,097 days each), with the year starting in March so that
/// the leap day is its last.
pub(super) fn number(text: &str) -> Option<i64> {
    let text = text.trim();
    if text.len() != 10 || !text.is_ascii() {
        return None;
    }
    let mut parts = text.split('-');
    let mut part = |digits: usize| {
        parts
            .next()
            .filter(|p| p.len() == digits && p.bytes().all(|b| b.is_ascii_digit()))
            .and_then(|p| p.parse::<i64>().ok())
    };
    let (year, month, day) = (part(4)?, part(2)?, part(2)?);
    let leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    let longest = match month {
        2 => 28 + i64::from(leap),
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => return None,
    };
    if day < 1 || day > longest {
        return None;
    }
    let (year, month) = if month > 2 { (year, month - 3) } else { (year - 1, month + 9) };
    let turn = year.div_euclid(400);
    let of_turn = year.rem_euclid(400);
    let of_year = (153 * month + 2) / 5 + day - 1;
    Some(turn * 146_097 + of_turn * 365 + of_turn / 4 - of_turn / 100 + of_year - 719_468)
}

#[cfg(test)]
mod tests {
    use super::number;

    #[test]
    fn counts_days_as_the_calendar_does() {
        assert_eq!(number("1970-01-01"), Some(0));
        assert_eq!(number("2000-03-01"), Some(11_017)); // 30 years of 365 days, 7 leap days before 2000, 31 + 29 days
        assert_eq!(number("2024-02-29").zip(number("2024-03-01")).map(|(a, b)| b - a), Some(1));
        assert_eq!(number("2026-12-31").zip(number("2027-01-01")).map(|(a, b)| b - a), Some(1));
        for wrong in [
            "2026-02-29",
            "2026-13-01",
            "2026-00-10",
            "2026-1-01",
            "26-01-01",
            "2026-01-32",
            "yesterday",
            "2026/01/01",
            "",
        ] {
            assert_eq!(number(wrong), None, "{wrong}");
        }
    }
}
