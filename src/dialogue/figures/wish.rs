//! A figure asked for in the middle of a message, with all it needs: "inseam 88.5, cranks 170, what's my saddle height?"
//!
//! Owns whether a message asks so, and showing the figure before the conversation goes on. Must not ask for inputs.

use super::begin::told_before;
use super::keep::keep;
use super::show::show;
use super::{CLEAR, CalcRun, HOW};
use crate::calc::{self, Given, Outcome, missing, parse_inputs};
use crate::dialogue::bench::Bench;
use crate::dialogue::reply::Reply;
use crate::dialogue::state::State;
use crate::domain::CauseKind;

/// The winning calculator must be told from the next by this share of its score.
const AHEAD: f64 = 1.15;
/// Least score by words of the clause that asks.
const SPOKEN_OF: f64 = 2.0;

/// A figure wished for and worked out.
#[derive(Clone, Debug)]
pub(in crate::dialogue) struct Wish {
    run: CalcRun,
    outcome: Outcome,
}

/// The figure that a message asks for, when it and what was told before carry every input that is needed and nothing fails.
pub(in crate::dialogue) fn wished(state: &State, line: &str) -> Option<Wish> {
    let questions = questions(line);
    if questions.is_empty() {
        return None;
    }
    let ranked = calc::by_words(line);
    let (calc, score) = ranked.first().copied()?;
    if score < CLEAR || ranked.get(1).is_some_and(|second| score <= AHEAD * second.1) {
        return None;
    }
    // "5 Nm at the stem, what else creaks?" gives a torque and asks for none.
    let meant = |q: &Question| {
        q.of_it || calc::by_words(&q.words).iter().any(|(c, score)| c.id == calc.id && *score >= SPOKEN_OF)
    };
    if !questions.iter().any(meant) {
        return None;
    }
    let told = parse_inputs(calc, line);
    // Without a single unit, "I am 40" would be a leg of 40 inches.
    let sure = |g: &Given| matches!(g, Given::Quantity(q) if q.assumed.is_none());
    if !told.problems.is_empty() {
        return None;
    }
    let mut values = told_before(state, calc);
    for (id, given) in told.values.iter() {
        values.set(id, given.clone());
    }
    if !missing(calc, &values).is_empty() || !values.iter().any(|(_, g)| sure(g)) {
        return None;
    }
    let outcome = calc::run(calc, &values).ok()?;
    Some(Wish { run: CalcRun { calc, values, work: None, notes: told.notes, back: None }, outcome })
}

/// A clause that asks.
struct Question {
    words: String,
    /// It asks about what was told: "is that enough?"
    of_it: bool,
}

/// The clauses of a message that ask for something.
fn questions(line: &str) -> Vec<Question> {
    const WHAT: [&str; 5] = ["what", "whats", "what's", "which", "where should"];
    const OF_IT: [&str; 3] = ["is that", "is this", "is it"];
    let lower = line.to_lowercase().replace('\u{2019}', "'");
    let begins =
        |words: &str, with: &str| words.strip_prefix(with).is_some_and(|rest| rest.is_empty() || rest.starts_with(' '));
    let mut out = Vec::new();
    // A full stop between figures is a decimal point.
    for clause in lower.split([',', ';', '!', '?', '\n']).flat_map(|part| part.split(". ")) {
        let words: Vec<&str> = clause.split_whitespace().collect();
        // "so what pressure", "on 40 mm tyres what pressure": from the opener on.
        let asked = (0..words.len())
            .map(|i| words[i..].join(" "))
            .find(|rest| WHAT.iter().chain(&HOW).any(|o| begins(rest, o)));
        if let Some(words) = asked {
            out.push(Question { words, of_it: false });
        } else if OF_IT.iter().any(|o| begins(&words.join(" "), o)) {
            out.push(Question { words: words.join(" "), of_it: true });
        }
    }
    out
}

/// Shows the figure and keeps it among the settings.
pub(in crate::dialogue) fn grant(state: &mut State, wish: Wish, reply: &mut Reply) {
    show(&wish.run, &wish.outcome, true, reply);
    reply.aside(format!("The whole reckoning: work out {}.", wish.run.calc.id.replace('-', " ")));
    keep(state, &wish.run, &wish.outcome);
    state.last_run = Some(Box::new(wish.run));
}

/// Whether this guide tells how the wished figure is set.
pub(in crate::dialogue) fn sets(bench: &Bench, c: usize, wish: &Wish) -> bool {
    let guide = &bench.library.causes[c];
    guide.kind == CauseKind::Guide && guide.calculators.iter().any(|id| id == wish.run.calc.id)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figure(line: &str) -> Option<(&'static str, f64)> {
        wished(&State::default(), line)
            .map(|w| (w.run.calc.id, w.outcome.figures.first().map_or(f64::NAN, |f| f.quantity.si)))
    }

    #[test]
    fn a_figure_in_the_middle_of_a_message_is_worked_out() {
        // 0.883 x inside leg from the middle of the bottom bracket, the rule compared in peveler-2005: 0.883 x 88.5 cm = 78.15 cm.
        let told = "pubic bone measured 88.5cm. whats my saddle height centre of BB to top of saddle? cranks 170ish";
        let wish = wished(&State::default(), told).unwrap();
        let bb = wish.outcome.figures.iter().find(|f| f.id == "factor-bb").unwrap();
        assert!((bb.quantity.si - 0.7815).abs() < 0.0005, "{}", bb.quantity.si);
        assert_eq!(
            figure("I weigh 82 kg, bike 9, 28 mm tyres, what pressure should I run").unwrap().0,
            "tyre-pressure"
        );
    }

    #[test]
    fn what_was_told_before_counts() {
        let mut state = State::default();
        let asked = "so what saddle height do I start from?";
        assert!(wished(&state, asked).is_none());
        state.shared.said.push("my inside leg is 84 cm".into());
        assert_eq!(wished(&state, asked).unwrap().run.calc.id, "saddle-height");
    }

    #[test]
    fn without_a_question_for_it_or_with_an_input_missing_nothing_is_worked_out() {
        assert!(figure("my inseam is 88.5 cm and the saddle height hurts my knees").is_none());
        assert!(figure("what is my saddle height? I am 40 years old").is_none());
        assert!(figure("what makes the noise at 25 km/h").is_none());
        assert!(figure("tightened the stem to 5 Nm, what else creaks").is_none());
    }
}
