//! Scoring a list of complaints: how well the first message is understood, how the interview ends, whether warnings come.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::plain_search::{full_text, yardsticks};
use super::score_search::{Query, score_queries};
use crate::belief::{Evidence, Origin, What};
use crate::dialogue::{Asked, Bench, Effect, Focus, Observation, Recalled, Session, Turn};

/// A line of a list: a complaint, or a query for the search.
#[derive(Debug, Deserialize)]
#[serde(untagged)]
enum Line {
    Complaint(Case),
    Query(Query),
}

/// A scored complaint.
#[derive(Debug, Deserialize)]
struct Case {
    id: String,
    utterance: String,
    expect: Vec<String>,
    #[serde(default)]
    answers: BTreeMap<String, String>,
    #[serde(default)]
    safety: String,
}

/// What came of one complaint.
#[derive(Debug, Default)]
struct Score {
    /// Rank of the first expected id after the first message, from 1.
    rank: Option<usize>,
    /// Rank when the first offer was made.
    rank_after: Option<usize>,
    /// Rank when all answers of the list are known at once: what no order of questions could better.
    rank_told: Option<usize>,
    /// The first offer was an expected id.
    first_offer: bool,
    /// Questions and minutes until an expected id was offered.
    reached: Option<(usize, f64)>,
    /// Warned to stop riding, or to see a clinician, before any instruction.
    stop: bool,
    /// Told to look for something urgent before riding on.
    look_first: bool,
    clinician: bool,
    offered: String,
    top: String,
    /// The questions asked, each with its answer (`?` for "don't know").
    trail: Vec<String>,
}

/// An interview ends after this many offers, right or wrong.
const MOST_OFFERS: usize = 4;
/// And after this many turns, whatever happens.
const MOST_TURNS: usize = 60;

/// Scores a file of JSON lines.
pub(super) fn score_file(bench: &Bench, text: &str) -> Result<String, String> {
    let lines: Vec<&str> = text.lines().filter(|l| !l.trim().is_empty()).collect();
    score_lines(bench, &lines)
}

/// Scores JSON lines and returns the report: a line for each complaint, then the shares.
///
/// # Errors
/// A sentence naming the line that cannot be read.
pub fn score_lines(bench: &Bench, lines: &[&str]) -> Result<String, String> {
    let mut cases = Vec::new();
    let mut queries = Vec::new();
    for (i, l) in lines.iter().enumerate() {
        match serde_json::from_str::<Line>(l).map_err(|e| format!("line {}: {e}", i + 1))? {
            Line::Complaint(c) => cases.push(c),
            Line::Query(q) => queries.push(q),
        }
    }
    // A list may name notes by the ids they had when it was written.
    let now = |id: &mut String| {
        if let Some(c) = bench.library.cause(id) {
            id.clone_from(&bench.library.causes[c.0].id);
        }
    };
    cases.iter_mut().flat_map(|c| &mut c.expect).chain(queries.iter_mut().flat_map(|q| &mut q.expect)).for_each(now);
    if cases.is_empty() && queries.is_empty() {
        return Err("no complaint and no query in the list".into());
    }
    let mut out = String::new();
    if !queries.is_empty() {
        out.push_str(&score_queries(bench, &queries));
    }
    if cases.is_empty() {
        return Ok(out);
    }
    let scores: Vec<Score> = cases.iter().map(|c| play(bench, c)).collect();
    for (c, s) in cases.iter().zip(&scores) {
        let rank = |r: Option<usize>| r.map_or_else(|| "-".into(), |r| r.to_string());
        out.push_str(&format!(
            "{} first {} told {} after {} offer {} reached {} stop {} clinician {} safety {} | wanted {} | top {} | offered {} | asked {}\n",
            c.id,
            rank(s.rank),
            rank(s.rank_told),
            rank(s.rank_after),
            if s.first_offer { "right" } else { "wrong" },
            s.reached.map_or_else(|| "-".into(), |(q, m)| format!("{q}q/{m:.0}min")),
            s.stop,
            s.clinician,
            c.safety,
            c.expect.join(","),
            s.top,
            s.offered,
            s.trail.join(" ")
        ));
    }
    out.push_str(&summary(&cases, &scores));
    out.push_str(&beside(bench, &cases));
    Ok(out)
}

/// How plain searches over the same notes rank the same first messages.
fn beside(bench: &Bench, cases: &[Case]) -> String {
    let scored: Vec<&Case> = cases.iter().filter(|c| !c.expect.is_empty()).collect();
    let n = scored.len().max(1) as f64;
    let line = |name: &str, rank: &dyn Fn(&str) -> Vec<String>| {
        let ranks: Vec<Option<usize>> =
            scored.iter().map(|c| rank(&c.utterance).iter().position(|id| c.expect.contains(id))).collect();
        let within = |k: usize| 100.0 * ranks.iter().filter(|r| r.is_some_and(|r| r < k)).count() as f64 / n;
        format!(
            "beside it, {name}: first {:.0} %, in three {:.0} %, in ten {:.0} %\n",
            within(1),
            within(3),
            within(10)
        )
    };
    let mut out = line("plain full text (tantivy BM25)", &|text| full_text(bench, text));
    for y in yardsticks(bench) {
        out.push_str(&line(y.name, &*y.rank));
    }
    out
}

fn summary(cases: &[Case], scores: &[Score]) -> String {
    let scored: Vec<&Score> = cases.iter().zip(scores).filter(|(c, _)| !c.expect.is_empty()).map(|(_, s)| s).collect();
    let n = scored.len().max(1) as f64;
    let share = |f: &dyn Fn(&Score) -> bool| 100.0 * scored.iter().filter(|s| f(s)).count() as f64 / n;
    let within = |k: usize| share(&|s: &Score| s.rank.is_some_and(|r| r <= k));
    let mrr = scored.iter().map(|s| s.rank.map_or(0.0, |r| 1.0 / r as f64)).sum::<f64>() / n;
    let mut questions: Vec<usize> = scored.iter().filter_map(|s| s.reached.map(|r| r.0)).collect();
    questions.sort_unstable();
    let mut minutes: Vec<f64> = scored.iter().filter_map(|s| s.reached.map(|r| r.1)).collect();
    minutes.sort_by(f64::total_cmp);
    let warned = |safety: &str, f: &dyn Fn(&Score) -> bool| {
        let of: Vec<&Score> = cases.iter().zip(scores).filter(|(c, _)| c.safety == safety).map(|(_, s)| s).collect();
        format!("{} of {}", of.iter().filter(|s| f(s)).count(), of.len())
    };
    format!(
        "complaints scored: {}\nafter the first message: first {:.0} %, in three {:.0} %, in ten {:.0} %, mean reciprocal rank {mrr:.2}\n\
         all answers at once: first {:.0} %, in three {:.0} %\n\
         after the interview: offered first {:.0} %, reached within {MOST_OFFERS} offers {:.0} %\n\
         median until reached: {} questions, {:.0} minutes\n\
         warned: stop-riding {} ({} told to stop or to look first), see-clinician {}; harmless told to stop: {} (to look first: {})\n",
        scored.len(),
        within(1),
        within(3),
        within(10),
        share(&|s: &Score| s.rank_told == Some(1)),
        share(&|s: &Score| s.rank_told.is_some_and(|r| r <= 3)),
        share(&|s: &Score| s.first_offer),
        share(&|s: &Score| s.reached.is_some()),
        questions.get(questions.len() / 2).copied().unwrap_or(0),
        minutes.get(minutes.len() / 2).copied().unwrap_or(0.0),
        warned("stop-riding", &|s| s.stop),
        warned("stop-riding", &|s| s.stop || s.look_first),
        warned("see-clinician", &|s| s.clinician),
        warned("none", &|s| s.stop),
        warned("none", &|s| s.look_first && !s.stop),
    )
}

/// What a book without this bike would answer.
fn guessed_bike(effect: &Effect) -> Option<Recalled> {
    match effect {
        Effect::Book(Asked::Bike { line, .. }) => Some(Recalled { line: line.clone(), ..Recalled::default() }),
        _ => None,
    }
}

/// The conversation after the first message, had the person told all answers of the list with it.
fn told_everything(bench: &Bench, session: &Session, case: &Case) -> Session {
    let mut all = session.clone();
    for (id, answer) in &case.answers {
        let Some(f) = bench.library.finding(id) else { continue };
        let finding = &bench.library.findings[f.0];
        let Some(a) = finding.answer(answer) else { continue };
        let evidence = Evidence { what: What::Is(f, a), reliability: finding.reliability(), origin: Origin::Answered };
        all.state.observe(bench, Observation { evidence, words: finding.answers[a.0].says.clone() });
    }
    all
}

fn play(bench: &Bench, case: &Case) -> Score {
    let mut score = Score::default();
    let mut session = Session::new();
    let mut line = case.utterance.clone();
    let mut offers = 0;
    let id = |c: usize| bench.library.causes[c].id.as_str();
    let wanted = |c: usize| case.expect.iter().any(|e| e == id(c));
    let rank = |session: &Session| {
        let belief = session.state.belief(bench);
        belief
            .ranked()
            .into_iter()
            .filter(|(c, _)| *c != bench.model.leak())
            .position(|(c, _)| wanted(c))
            .map(|r| r + 1)
    };
    for turn in 0..MOST_TURNS {
        let mut effects = session.step(bench, Turn::Line(line.clone()));
        // "My nephew came back, now it wobbles" may name a bike; with no book here it is a complaint.
        if let Some(guess) = effects.iter().find_map(guessed_bike) {
            effects = session.step(bench, Turn::Recalled(Box::new(guess)));
        }
        if offers == 0 {
            for e in &effects {
                let Effect::Say(r) = e else { continue };
                score.stop |= r.warns("stop-riding");
                score.look_first |= r.warns("look-first");
                score.clinician |= r.warns("see-clinician");
            }
        }
        if turn == 0 {
            score.rank = rank(&session);
            let all = told_everything(bench, &session, case);
            score.rank_told = rank(&all);
            let belief = session.state.belief(bench);
            score.top = belief
                .ranked()
                .into_iter()
                .filter(|(c, _)| *c != bench.model.leak())
                .take(3)
                .map(|(c, p)| format!("{}:{p:.2}", id(c)))
                .collect::<Vec<_>>()
                .join(" ");
        }
        line = match &session.state.focus {
            Focus::Finding(f) => {
                let f = &bench.library.findings[f.0];
                let answer = case.answers.get(&f.id).and_then(|a| f.answer(a));
                score.trail.push(format!("{}={}", f.id, answer.map_or("?", |a| &f.answers[a.0].id)));
                answer.map_or_else(|| "don't know".into(), |a| (a.0 + 1).to_string())
            }
            Focus::Danger(d) => {
                case.answers.get(&bench.library.dangers[*d].id).cloned().unwrap_or_else(|| "don't know".into())
            }
            Focus::Conflict { finding, old, new } => {
                let f = &bench.library.findings[finding.0];
                let told = case.answers.get(&f.id).and_then(|a| f.answer(a));
                if told == Some(*new) {
                    "2".into()
                } else if told == Some(*old) {
                    "1".into()
                } else {
                    "don't know".into()
                }
            }
            Focus::Offer(c) => {
                offers += 1;
                if offers == 1 {
                    score.first_offer = wanted(*c);
                    score.rank_after = rank(&session);
                    score.offered = id(*c).to_owned();
                }
                if wanted(*c) {
                    let t = session.state.current();
                    score.reached = t.map(|t| (t.asked.len(), t.minutes));
                    break;
                }
                if offers == MOST_OFFERS {
                    break;
                }
                "3".into()
            }
            Focus::Calc(_) => "stop".into(),
            Focus::Setup => "4".into(),
            Focus::Open | Focus::Work(_) | Focus::Trying(_) => break,
        };
    }
    score
}
