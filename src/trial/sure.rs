//! How sure one can be, in plain words.
//!
//! Owns the sentences. They speak only of what was compared, and never call a value more than better than another.

use super::sign::{Tally, share_interval, sign_test};
use super::strength::{Strengths, fit_gently};

/// How sure one can be that there is a difference at all. The bounds are common practice (5 % and 1 %) and a looser one of
/// ours (20 %).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sureness {
    /// Nothing told yet.
    Open,
    /// A hint: chance at most 20 %.
    Hint,
    /// Fairly sure: chance at most 5 %.
    Fairly,
    /// Hardly luck: chance at most 1 %.
    HardlyLuck,
}

impl Sureness {
    /// From the two-sided chance.
    #[must_use]
    pub fn of(chance: f64) -> Self {
        match chance {
            p if p <= 0.01 => Sureness::HardlyLuck,
            p if p <= 0.05 => Sureness::Fairly,
            p if p <= 0.20 => Sureness::Hint,
            _ => Sureness::Open,
        }
    }
}

/// How many more pairs, all for the one that leads, would make it fairly sure (5 %); 0 if it is.
#[must_use]
pub fn further(tally: Tally) -> u32 {
    let (lead, trail) = (tally.better.max(tally.worse), tally.better.min(tally.worse));
    let sure = |more: u32| sign_test(Tally { better: lead + more, worse: trail, same: 0 }) <= 0.05;
    // Enough of the same in a row outweigh any count, so this ends.
    (0..).find(|more| sure(*more)).unwrap_or(u32::MAX)
}

/// What the rides say about two values. `one` and `other` as a person reads them ("746 mm"), `tally.better` for `one`;
/// `planned` is the number of pairs that was fixed beforehand, if it was.
#[must_use]
pub fn statement(one: &str, other: &str, tally: Tally, planned: Option<u32>) -> (Sureness, String) {
    let chance = sign_test(tally);
    let sureness = Sureness::of(chance);
    let n = tally.telling();
    let mut text = Vec::new();
    if n == 0 {
        let felt = if tally.same > 0 {
            format!("{} ridden without a difference", pairs(tally.same))
        } else {
            "No pair ridden".into()
        };
        return (Sureness::Open, format!("{felt}: nothing can be said about {one} against {other} yet."));
    }
    let (lead, trail, wins) =
        if tally.better >= tally.worse { (one, other, tally.better) } else { (other, one, tally.worse) };
    if tally.better == tally.worse {
        text.push(format!("{one} and {other} came out better equally often, {wins} of {n} pairs each."));
    } else {
        text.push(format!("{lead} felt better than {trail} in {wins} of {}.", pairs(n)));
    }
    if tally.same > 0 {
        text.push(format!(
            "{} without a difference {} left out.",
            pairs(tally.same),
            if tally.same == 1 { "is" } else { "are" }
        ));
    }
    text.push(match sureness {
        Sureness::Open => format!("Luck alone does as much {}: this tells nothing yet.", odds(chance)),
        Sureness::Hint => format!("Luck alone would do as much {}: a hint, no more.", odds(chance)),
        Sureness::Fairly => {
            format!("Luck alone would do as much only {}: fairly sure that there is a difference.", odds(chance))
        }
        Sureness::HardlyLuck => format!("Luck alone would do as much only {}: hardly luck.", odds(chance)),
    });
    let more = further(tally);
    if more > 0 && tally.better != tally.worse {
        text.push(format!(
            "To be fairly sure it takes {more} more {} with the same result.",
            if more == 1 { "pair" } else { "pairs" }
        ));
    }
    if sureness >= Sureness::Fairly
        && let Some((low, high)) = share_interval(Tally { better: wins, worse: n - wins, same: 0 })
    {
        text.push(format!(
            "On rides like these it would be preferred between {} and {} times in 100.",
            of_100(low),
            of_100(high)
        ));
    }
    if planned != Some(n + tally.same) {
        text.push(
            "The number of pairs was not fixed beforehand, or is not reached: take the odds as a little too good."
                .into(),
        );
    }
    text.push("Only these two were compared.".into());
    (sureness, text.join(" "))
}

/// What the rides say about several values at once. `names` as a person reads them, `wins[i][j]` how often `i` was better
/// than `j` (a draw is half for both). `None` for a table that fits nothing.
#[must_use]
pub fn standing(names: &[String], wins: &[Vec<f64>]) -> Option<(Strengths, String)> {
    /// Half a win each way: so that few rides do not claim too much. Ours, no source.
    const EXTRA: f64 = 0.5;
    /// Standard errors that set two values apart at about 5 %, two-sided (normal distribution).
    const APART: f64 = 1.96;
    if names.len() != wins.len() {
        return None;
    }
    let fitted = fit_gently(wins, EXTRA).ok()?;
    let mut order: Vec<usize> = (0..names.len()).collect();
    order.sort_by(|a, b| fitted.share[*b].total_cmp(&fitted.share[*a]).then(a.cmp(b)));
    let (lead, rest) = order.split_first()?;
    let told = |j: &&usize| {
        let (by, error) = fitted.apart(*lead, **j);
        by > APART * error
    };
    let (behind, open): (Vec<&usize>, Vec<&usize>) = rest.iter().partition(told);
    let list = |which: &[&usize]| which.iter().map(|j| names[**j].as_str()).collect::<Vec<_>>().join(", ");
    let mut text = format!("{} leads so far.", names[*lead]);
    for j in rest.iter().take(3) {
        text += &format!(
            " Against {} it would be preferred about {} times in 100.",
            names[*j],
            of_100(fitted.chance(*lead, *j))
        );
    }
    if !open.is_empty() {
        text += &format!(" It cannot be told apart yet from: {}.", list(&open));
    }
    if !behind.is_empty() {
        text += &format!(" It is fairly surely ahead of: {}.", list(&behind));
    }
    text += " Rough figures, from few rides, about these values only.";
    Some((fitted, text))
}

fn pairs(n: u32) -> String {
    if n == 1 { "1 pair".into() } else { format!("{n} pairs") }
}

/// "1 time in 16": whole numbers are read more easily than shares.
fn odds(chance: f64) -> String {
    match chance {
        p if p >= 0.75 => "nearly always".into(),
        p if p > 0.4 => "about every other time".into(),
        p => format!("1 time in {:.0}", 1.0 / p),
    }
}

fn of_100(share: f64) -> String {
    format!("{:.0}", 100.0 * share)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn said(better: u32, worse: u32, same: u32) -> (Sureness, String) {
        statement("746 mm", "742 mm", Tally { better, worse, same }, Some(better + worse + same))
    }

    #[test]
    fn five_of_five_is_a_hint_and_eight_of_eight_hardly_luck() {
        let (sure, text) = said(5, 0, 0);
        assert_eq!(sure, Sureness::Hint);
        assert_eq!(
            text,
            "746 mm felt better than 742 mm in 5 of 5 pairs. Luck alone would do as much 1 time in 16: a hint, no more. \
             To be fairly sure it takes 1 more pair with the same result. Only these two were compared."
        );
        let (sure, text) = said(0, 8, 1);
        assert_eq!(sure, Sureness::HardlyLuck);
        assert_eq!(
            text,
            "742 mm felt better than 746 mm in 8 of 8 pairs. 1 pair without a difference is left out. Luck alone would do as \
             much only 1 time in 128: hardly luck. On rides like these it would be preferred between 63 and 100 times in 100. \
             Only these two were compared."
        );
    }

    #[test]
    fn little_says_little() {
        assert_eq!(said(0, 0, 0).1, "No pair ridden: nothing can be said about 746 mm against 742 mm yet.");
        assert!(said(0, 0, 2).1.starts_with("2 pairs ridden without a difference:"));
        let (sure, text) = said(2, 2, 0);
        assert!(sure == Sureness::Open && text.contains("equally often, 2 of 4 pairs each"));
        let (sure, text) = said(2, 1, 0);
        assert!(sure == Sureness::Open && text.contains("tells nothing yet"));
        assert_eq!([further(Tally::default()), further(Tally { better: 5, ..Tally::default() })], [6, 1]);
        let early = statement("a", "b", Tally { better: 6, worse: 0, same: 0 }, Some(10)).1;
        assert!(early.contains("not fixed beforehand, or is not reached"));
    }

    #[test]
    fn several_values_are_ranked_with_what_cannot_be_told() {
        let names: Vec<String> = ["742 mm", "746 mm", "750 mm"].map(str::to_owned).into();
        let wins = vec![vec![0.0, 1.0, 8.0], vec![4.0, 0.0, 12.0], vec![0.0, 0.0, 0.0]];
        let (fitted, text) = standing(&names, &wins).unwrap();
        assert!(text.starts_with("746 mm leads so far."), "{text}");
        assert!(
            text.contains("cannot be told apart yet from: 742 mm.") && text.contains("surely ahead of: 750 mm."),
            "{text}"
        );
        assert!((fitted.share.iter().sum::<f64>() - 1.0).abs() < 1e-9);
        assert!(standing(&names[..2], &wins).is_none());
        assert!(standing(&[], &[]).is_none());
    }

    proptest! {
        /// Whatever was ridden, nothing is called the best, and sureness is only claimed where the test bears it out.
        #[test]
        fn nothing_is_ever_called_the_best(better in 0u32..40, worse in 0u32..40, same in 0u32..5) {
            let (sure, text) = said(better, worse, same);
            prop_assert!(!text.contains("best") && !text.contains("optim") && !text.contains("prove"));
            prop_assert_eq!(sure >= Sureness::Fairly, sign_test(Tally { better, worse, same }) <= 0.05);
            prop_assert_eq!(further(Tally { better, worse, same }) == 0, sure >= Sureness::Fairly);
            let names: Vec<String> = vec!["a".into(), "b".into()];
            let wins = vec![vec![0.0, f64::from(better)], vec![f64::from(worse), 0.0]];
            prop_assert!(!standing(&names, &wins).unwrap().1.contains("best"));
        }
    }
}
