//! Days of the calendar from unix seconds.

/// A day as 2026-03-14 (UTC), from unix seconds; civil calendar after Hinnant's public algorithm, from memory.
pub(super) fn day(unix: i64) -> String {
    let z = unix.div_euclid(86_400) + 719_468;
    let era = z.div_euclid(146_097);
    let doe = z.rem_euclid(146_097);
    let yoe = (doe - doe / 1_460 + doe / 36_524 - doe / 146_096) / 365;
    let doy = doe - (365 * yoe + yoe / 4 - yoe / 100);
    let mp = (5 * doy + 2) / 153;
    let d = doy - (153 * mp + 2) / 5 + 1;
    let m = if mp < 10 { mp + 3 } else { mp - 9 };
    let y = yoe + era * 400 + i64::from(m <= 2);
    format!("{y:04}-{m:02}-{d:02}")
}

/// The last second of a day such as 2026-03-14 (UTC), in unix seconds; `None` when it is no such day.
pub(super) fn end_of(day: &str) -> Option<i64> {
    let mut parts = day.splitn(3, '-').map(|p| p.parse::<i64>().ok());
    let (y, m, d) = (parts.next()??, parts.next()??, parts.next()??);
    if !(1..=12).contains(&m) || !(1..=31).contains(&d) {
        return None;
    }
    let y = y - i64::from(m <= 2);
    let (era, yoe) = (y.div_euclid(400), y.rem_euclid(400));
    let doy = (153 * (if m > 2 { m - 3 } else { m + 9 }) + 2) / 5 + d - 1;
    let days = era * 146_097 + yoe * 365 + yoe / 4 - yoe / 100 + doy - 719_468;
    Some(days * 86_400 + 86_399)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_of_the_calendar() {
        assert_eq!(day(0), "1970-01-01");
        // 1 709 164 800 is 29 February 2024, 00:00 UTC (fact of the calendar).
        assert_eq!(day(1_709_164_800), "2024-02-29");
        assert_eq!(end_of("2024-02-29"), Some(1_709_164_800 + 86_399));
        assert_eq!(end_of("1970-01-01"), Some(86_399));
        assert_eq!(end_of("soon"), None);
        for n in (-20_000..40_000).step_by(17) {
            assert_eq!(end_of(&day(n * 86_400)), Some(n * 86_400 + 86_399));
        }
    }
}
