//! One thing at a time: finding what else was changed between two rides.

use std::collections::BTreeMap;

/// Part of a value by which two readings of it may differ and still be the same.
const ROUNDING: f64 = 1e-6;

/// Names of the settings, other than the one on trial, that differ between two rides, in order.
///
/// Settings known for one ride only are not counted: nothing is known of a change. Values in SI units.
#[must_use]
pub fn others_changed(tried: &str, before: &BTreeMap<String, f64>, after: &BTreeMap<String, f64>) -> Vec<String> {
    let differs = |a: f64, b: f64| (a - b).abs() > ROUNDING * a.abs().max(b.abs());
    before
        .iter()
        .filter(|(name, was)| name.as_str() != tried && after.get(*name).is_some_and(|is| differs(**was, *is)))
        .map(|(name, _)| name.clone())
        .collect()
}

/// The warning for it, or `None` if nothing else was changed. `tried` and `others` as a person reads them.
#[must_use]
pub fn two_things(tried: &str, others: &[String]) -> Option<String> {
    let (last, rest) = others.split_last()?;
    let others = if rest.is_empty() { last.clone() } else { format!("{} and {last}", rest.join(", ")) };
    let (it, was) = if rest.is_empty() { ("that", "was") } else { ("those", "were") };
    Some(format!(
        "Not only {tried}: {others} {was} changed as well. Nobody can tell from this ride which of them made the difference, \
         so it is not counted. Put {it} back as before and ride the pair again."
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn settings(list: &[(&str, f64)]) -> BTreeMap<String, f64> {
        list.iter().map(|(n, v)| ((*n).to_owned(), *v)).collect()
    }

    #[test]
    fn only_others_that_really_differ_are_named() {
        let before = settings(&[("saddle-height", 0.742), ("pressure", 2.0e5), ("roll", 0.1), ("gone", 1.0)]);
        let after = settings(&[("saddle-height", 0.746), ("pressure", 2.2e5), ("roll", 0.1 + 1e-12), ("new", 1.0)]);
        assert_eq!(others_changed("saddle-height", &before, &after), ["pressure"]);
        assert!(others_changed("saddle-height", &before, &before).is_empty());
    }

    #[test]
    fn the_warning_names_all_of_them() {
        assert_eq!(two_things("saddle height", &[]), None);
        let one = two_things("saddle height", &["tyre pressure".into()]).unwrap();
        assert!(one.starts_with("Not only saddle height: tyre pressure was changed as well."));
        let more = two_things("saddle height", &["tyre pressure".into(), "bar roll".into(), "sag".into()]).unwrap();
        assert!(more.contains("tyre pressure, bar roll and sag were changed"));
    }
}
