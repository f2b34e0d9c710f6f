//! Reading an answer at an open prompt: a number, the answer's words, or something else altogether.

use super::bench::Bench;
use super::listen;
use super::next;
use super::reply::{Block, Reply};
use super::state::{DangerStatus, Focus, Observation, Passed, State};
use super::work;
use crate::belief::{Evidence, Origin, What};
use crate::domain::{AnswerIx, Danger, DangerLevel, Finding, FindingIx};
use crate::units;

/// What an answer was read as.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Read {
    /// One of the choices, from 0.
    Choice(usize),
    /// "Don't know".
    DontKnow,
    /// "Can't check now".
    CantNow,
}

const DONT_KNOW: [&str; 17] = [
    "dont know",
    "don't know",
    "dunno",
    "no idea",
    "not sure",
    "unsure",
    "idk",
    "can't say",
    "cant say",
    "no clue",
    "i don't know",
    "i dont know",
    "cannot say",
    "can't tell",
    "cant tell",
    "hard to say",
    "?",
];
const CANT_NOW: [&str; 15] = [
    "can't check",
    "cant check",
    "cannot check",
    "can't check now",
    "cant check now",
    "cannot check now",
    "not now",
    "later",
    "can't now",
    "cant now",
    "skip",
    "pass",
    "next question",
    "can't do that",
    "cant do that",
];
const YES: [&str; 12] =
    ["yes", "y", "yeah", "yep", "yup", "yes it does", "it does", "it is", "sure", "true", "correct", "right"];
const NO: [&str; 8] = ["no", "n", "nope", "nah", "it doesn't", "it doesnt", "it isn't", "not at all"];
/// What denies a question that does not ask for yes or no.
const NONE: [&str; 6] = ["none", "nothing", "neither", "none of these", "none of them", "nothing at all"];

/// A line that is a number and nothing else.
pub(super) fn bare_number(line: &str) -> Option<usize> {
    line.trim().trim_end_matches(['.', ')']).parse().ok()
}

/// A number at the beginning, and what follows it.
fn leading_number(line: &str) -> Option<(usize, &str)> {
    let digits: usize = line.chars().take_while(char::is_ascii_digit).count();
    let (number, rest) = line.split_at(digits);
    let clear = rest.is_empty() || rest.starts_with(['.', ')', ',', ';', ':', ' ']);
    let rest = rest.trim_start_matches(['.', ')', ',', ';', ':', ' ']);
    // "3 mm" or "2 weeks" is a quantity, not a choice.
    let quantity = rest
        .split_whitespace()
        .next()
        .is_some_and(|w| units::by_symbol(w).is_some() || ["weeks", "days", "rides", "times", "years"].contains(&w));
    number.parse().ok().filter(|_| clear && !quantity).map(|n| (n, rest))
}

fn is_one_of(line: &str, list: &[&str]) -> bool {
    let l = line.to_lowercase().replace('’', "'");
    let l = l.trim().trim_end_matches(['.', '!', ',']);
    list.contains(&l) || (l == "?" && list.contains(&"?"))
}

/// Reads an answer to `says` (texts) with `ids`; `None` when it is none of them.
pub(super) fn read_choice(line: &str, ids: &[&str], says: &[&str]) -> Option<(Read, String)> {
    if is_one_of(line, &DONT_KNOW) {
        return Some((Read::DontKnow, String::new()));
    }
    if is_one_of(line, &CANT_NOW) {
        return Some((Read::CantNow, String::new()));
    }
    let line = without_hedge(line);
    if let Some((n, rest)) = leading_number(line) {
        return match n {
            n if n >= 1 && n <= ids.len() => Some((Read::Choice(n - 1), rest.to_owned())),
            _ => None,
        };
    }
    let by_id = |id: &str| ids.iter().position(|i| *i == id);
    if is_one_of(line, &YES)
        && let Some(i) = by_id("yes")
    {
        return Some((Read::Choice(i), String::new()));
    }
    if is_one_of(line, &NO)
        && let Some(i) = by_id("no")
    {
        return Some((Read::Choice(i), String::new()));
    }
    let l = line.to_lowercase();
    for (word, id) in [("yes", "yes"), ("yeah", "yes"), ("yep", "yes"), ("no", "no"), ("nope", "no")] {
        if let (Some(rest), Some(i)) = (l.strip_prefix(word).filter(|r| r.starts_with([',', '.', ' ', ';'])), by_id(id))
        {
            let from = line.len() - rest.len();
            return Some((
                Read::Choice(i),
                line.get(from..).unwrap_or_default().trim_start_matches([',', '.', ' ', ';']).to_owned(),
            ));
        }
    }
    by_words(&l, ids, says).map(|i| (Read::Choice(i), String::new()))
}

/// "I think 2" is 2, less surely.
fn without_hedge(line: &str) -> &str {
    let l = line.to_lowercase();
    [
        "i think it is ",
        "i think its ",
        "i think it's ",
        "i think ",
        "i guess ",
        "maybe ",
        "probably ",
        "perhaps ",
        "number ",
    ]
    .iter()
    .find(|h| l.starts_with(**h))
    .and_then(|h| line.get(h.len()..))
    .unwrap_or(line)
}

/// The one answer whose own words hold most of the line's words.
fn by_words(line: &str, ids: &[&str], says: &[&str]) -> Option<usize> {
    let bag = |t: &str| -> Vec<String> { crate::hearing::tokens(t).into_iter().map(|t| t.stem).collect() };
    let said = bag(line);
    if said.is_empty() || said.len() > 8 {
        return None;
    }
    let score = |i: usize| {
        let words: Vec<String> = bag(&format!("{} {}", ids[i].replace('-', " "), says[i]));
        let hits = said.iter().filter(|s| words.contains(s)).count();
        hits as f64 / said.len() as f64
    };
    let mut scored: Vec<(f64, usize)> = (0..ids.len()).map(|i| (score(i), i)).collect();
    scored.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    let best = scored.first()?;
    let clear = scored.get(1).is_none_or(|second| best.0 > second.0);
    (best.0 >= 0.6 && clear).then_some(best.1)
}

/// "I think so", "sort of": an uncertain answer.
fn hedged(line: &str) -> bool {
    let l = line.to_lowercase();
    ["i think", "maybe", "sort of", "kind of", "probably", "perhaps", "possibly", "a bit", "not really sure", "i guess"]
        .iter()
        .any(|h| l.contains(h))
}

/// An answer to a finding's question.
pub(super) fn to_finding(state: &mut State, bench: &Bench, f: FindingIx, line: &str, reply: &mut Reply) {
    let finding = &bench.library.findings[f.0];
    if own_question(state, bench, line, reply) {
        return;
    }
    if let Some(read) = read_measure(finding, line, reply) {
        return answered(state, bench, f, Read::Choice(read.0), line, "", reply);
    }
    let ids: Vec<&str> = finding.answers.iter().map(|a| a.id.as_str()).collect();
    let says: Vec<&str> = finding.answers.iter().map(|a| a.says.as_str()).collect();
    let mut all_ids = ids.clone();
    all_ids.extend(["dont-know", "cant-now"]);
    let mut all_says = says.clone();
    all_says.extend(["don't know", "can't check now"]);
    let hedge = hedged(line);
    if let Some((read, rest)) = read_choice(line, &all_ids, &all_says) {
        let read = match read {
            Read::Choice(i) if i == ids.len() => Read::DontKnow,
            Read::Choice(i) if i > ids.len() => Read::CantNow,
            other => other,
        };
        let line = if hedge { "maybe" } else { line };
        return answered(state, bench, f, read, line, &rest, reply);
    }
    if let Some(n) = finding.negative
        && (is_one_of(line, &NO) || is_one_of(line, &NONE))
    {
        return answered(state, bench, f, Read::Choice(n.0), line, "", reply);
    }
    // Its own phrases, anywhere in the line.
    let heard = bench.ears.hear(line);
    if let Some(h) = heard.answers.iter().find(|h| h.finding == f) {
        let read = if h.denied { finding.negative.map(|n| Read::Choice(n.0)) } else { Some(Read::Choice(h.answer.0)) };
        if let Some(read) = read {
            return answered(state, bench, f, read, line, line, reply);
        }
    }
    if hedge
        && ids.contains(&"yes")
        && let Some(i) = ids.iter().position(|i| *i == "yes")
    {
        return answered(state, bench, f, Read::Choice(i), "maybe", "", reply);
    }
    something_else(state, bench, line, &heard, reply);
}

/// A question of the person's own while something else is asked; the open question stays open. True when it was one.
fn own_question(state: &mut State, bench: &Bench, line: &str, reply: &mut Reply) -> bool {
    if !line.trim_end().ends_with('?') || line.trim() == "?" {
        return false;
    }
    if super::reading::question(state, bench, line, reply) {
        next::repeat_prompt(state, bench, reply);
        return true;
    }
    super::figures::begin_by_words(state, bench, line, reply)
}

/// A measurement, placed in its band; speaks up when it cannot be.
fn read_measure(finding: &Finding, line: &str, reply: &mut Reply) -> Option<AnswerIx> {
    let unit = finding.unit.as_deref()?;
    // A bare number that stands before an answer on the screen means that answer; a measurement has its unit.
    let listed = finding.answers.len();
    if bare_number(line).is_some_and(|n| (listed + 1..=listed + 2).contains(&n)) {
        return None;
    }
    if bare_number(line).is_some_and(|n| (1..=listed).contains(&n)) {
        reply.aside(format!(
            "Taken as number {} of the list; a measurement is written with its unit: {} {unit}.",
            line.trim(),
            line.trim()
        ));
        return None;
    }
    match super::figures::measure(line, unit) {
        Some(Ok((value, assumed))) => {
            let at = finding.answers.iter().position(|a| a.band.is_some_and(|b| value >= b.from && value < b.below));
            if at.is_none() {
                reply.add(format!("{value} {unit} is outside what this check can show."));
            } else if assumed {
                reply.aside(format!("Taken as {value} {unit}."));
            }
            at.map(AnswerIx)
        }
        Some(Err(sentence)) => {
            reply.add(sentence);
            None
        }
        None => None,
    }
}

/// Takes an answer to finding `f`, and whatever else the line says.
fn answered(state: &mut State, bench: &Bench, f: FindingIx, read: Read, line: &str, rest: &str, reply: &mut Reply) {
    let finding = &bench.library.findings[f.0];
    match read {
        Read::Choice(i) => {
            let a = AnswerIx(i);
            let skill = match state.shared.trade {
                true => 0.03,
                false => 0.0,
            };
            let reliability = (finding.reliability() + skill) * if hedged(line) { 0.65 } else { 1.0 };
            let evidence =
                Evidence { what: What::Is(f, a), reliability: reliability.min(0.99), origin: Origin::Answered };
            state.observe(bench, Observation { evidence, words: finding.answers[i].says.clone() });
            listen::implied(state, bench, f, a, reliability, &|_| false);
        }
        Read::DontKnow => {
            state.thread().passed.insert(f, Passed::DontKnow);
        }
        Read::CantNow => {
            state.thread().passed.insert(f, Passed::CantNow);
        }
    }
    state.focus = Focus::Open;
    let mut conflict = listen::Taken::default();
    if rest.split_whitespace().count() > 1 {
        conflict = listen::take_in(state, bench, rest, reply, Some(f));
    }
    listen::proceed(state, bench, conflict, reply);
}

/// A line that is no answer: new facts, a correction, a second complaint, a question, or nothing that can be placed.
fn something_else(state: &mut State, bench: &Bench, line: &str, heard: &crate::hearing::Heard, reply: &mut Reply) {
    if super::reading::question(state, bench, line, reply) {
        next::repeat_prompt(state, bench, reply);
        return;
    }
    if let Some(second) = second_complaint(line) {
        super::command::open_thread(state);
        listen::complaint(state, bench, second, reply);
        return;
    }
    if !heard.is_empty() || !units::find_all(line).is_empty() {
        let focus = state.focus.clone();
        let taken = listen::take_in(state, bench, line, reply, None);
        if taken.conflict.is_some() || state.thread().dangers.values().any(|s| s.is_open()) {
            return listen::proceed(state, bench, taken, reply);
        }
        if let Some(wish) = taken.wish {
            super::figures::grant(state, wish, reply);
        }
        // The open question stays open if it was not answered by the way.
        // Unless what was told settles the matter.
        if let Focus::Finding(f) = focus
            && state.known(f).is_none_or(|(_, sure)| sure < 0.6)
            && !next::settled(state, bench)
        {
            state.focus = Focus::Finding(f);
            let belief = state.belief(bench);
            next::where_it_stands(state, bench, &belief, reply);
            next::repeat_prompt(state, bench, reply);
            return;
        }
        return next::go_on(state, bench, reply);
    }
    reply.add(format!("I could not place \"{}\" here. A number will do, or other words.", listen::shorten(line)));
    reply.aside("You can also tell me something new, ask a question, or say: help.");
    next::repeat_prompt(state, bench, reply);
}

/// "Another thing: the saddle creaks" and the like.
pub(super) fn second_complaint(line: &str) -> Option<&str> {
    let l = line.to_lowercase();
    [
        "another thing:",
        "another thing,",
        "another problem:",
        "another problem,",
        "second problem:",
        "also, another thing",
        "different problem:",
        "another complaint:",
    ]
    .iter()
    .find(|s| l.starts_with(**s))
    .and_then(|s| line.get(s.len()..))
    .map(|r| r.trim_start_matches([':', ',', ' ']))
}

/// An answer to a danger's question.
pub(super) fn to_danger(state: &mut State, bench: &Bench, d: usize, line: &str, reply: &mut Reply) {
    let danger: &Danger = &bench.library.dangers[d];
    let read =
        read_choice(line, &["yes", "no", "dont-know", "cant-now"], &["Yes", "No", "Don't know", "Can't check now"]);
    let Some((read, rest)) = read else {
        if super::reading::question(state, bench, line, reply) {
            next::repeat_prompt(state, bench, reply);
            return;
        }
        let heard = bench.ears.hear(line);
        if heard.is_empty() {
            reply.add(format!(
                "I could not place \"{}\". Please answer this first: yes, no, don't know or can't check now.",
                listen::shorten(line)
            ));
            return;
        }
        let taken = listen::take_in(state, bench, line, reply, None);
        return listen::proceed(state, bench, taken, reply);
    };
    let status = match read {
        Read::Choice(0) => DangerStatus::Warned,
        Read::Choice(1) => DangerStatus::Denied,
        _ => DangerStatus::Unsure,
    };
    let before = state.thread().dangers.insert(d, status);
    told_by_danger(state, bench, danger, status);
    if status == DangerStatus::Unsure && before == Some(DangerStatus::Wondered) {
        // Only a worry so far: look, before riding on.
        let text = format!("Until you have checked, do not take it for granted. If it is so: {}", danger.warn);
        reply.push(Block::Warning { level: "look-first".into(), text });
    } else if status != DangerStatus::Denied {
        let unsure = if status == DangerStatus::Unsure { "Until you have checked: " } else { "" };
        reply.push(Block::Warning { level: danger.level.word().into(), text: format!("{unsure}{}", danger.warn) });
        if danger.level == DangerLevel::StopRiding {
            state.shared.circumstances.can_ride = false;
        }
    }
    state.focus = Focus::Open;
    let mut taken = listen::Taken::default();
    if rest.split_whitespace().count() > 1 {
        taken = listen::take_in(state, bench, &rest, reply, None);
    }
    listen::proceed(state, bench, taken, reply);
}

/// What a "yes" or "no" to a danger's question says of findings: the check has been made and is not asked for again.
fn told_by_danger(state: &mut State, bench: &Bench, danger: &Danger, status: DangerStatus) {
    for &(f, a) in &danger.tells {
        let finding = &bench.library.findings[f.0];
        let (what, words) = match status {
            DangerStatus::Warned => (What::Is(f, a), finding.answers[a.0].says.clone()),
            DangerStatus::Denied if state.known(f).is_none() => {
                (What::IsNot(f, a), format!("not: {}", finding.answers[a.0].says))
            }
            _ => continue,
        };
        let reliability = finding.reliability();
        let evidence = Evidence { what, reliability, origin: Origin::Answered };
        state.observe(bench, Observation { evidence, words });
        if status == DangerStatus::Warned {
            listen::implied(state, bench, f, a, reliability, &|_| false);
        }
    }
}

/// Which of two answers holds.
pub(super) fn to_conflict(
    state: &mut State,
    bench: &Bench,
    f: FindingIx,
    old: AnswerIx,
    new: AnswerIx,
    line: &str,
    reply: &mut Reply,
) {
    let says = &bench.library.findings[f.0].answers;
    let texts =
        [says[old.0].says.as_str(), says[new.0].says.as_str(), "sometimes one, sometimes the other", "don't know"];
    let Some((read, _)) = read_choice(line, &["old", "new", "both", "dont-know"], &texts) else {
        if bench.ears.hear(line).answers.iter().any(|h| h.finding != f) {
            // More was told instead: the newer word holds for now, and what was told is taken in.
            let evidence = Evidence { what: What::Is(f, new), reliability: 0.5, origin: Origin::Answered };
            state.observe(bench, Observation { evidence, words: says[new.0].says.clone() });
            state.focus = Focus::Open;
            let taken = listen::take_in(state, bench, line, reply, Some(f));
            return listen::proceed(state, bench, taken, reply);
        }
        reply.add(format!("I could not place \"{}\". Answer 1 to 4.", listen::shorten(line)));
        next::repeat_prompt(state, bench, reply);
        return;
    };
    let (answer, reliability) = match read {
        Read::Choice(0) => (old, 0.9),
        Read::Choice(1) => (new, 0.9),
        // Both or neither is sure: doubt about both.
        _ => (new, 0.3),
    };
    let evidence = Evidence { what: What::Is(f, answer), reliability, origin: Origin::Answered };
    state.observe(bench, Observation { evidence, words: says[answer.0].says.clone() });
    state.focus = Focus::Open;
    next::go_on(state, bench, reply);
}

/// An answer to an offer of work.
pub(super) fn to_offer(state: &mut State, bench: &Bench, c: usize, line: &str, reply: &mut Reply) {
    let texts = [
        "yes lead me through it show me how ok go",
        "ask me more first",
        "it is not that, no, done that already",
        "show me the whole note",
    ];
    let mut read = read_choice(line, &["lead", "more", "not", "note"], &texts);
    if read.is_none() {
        if is_one_of(line, &YES) || is_one_of(line, &["ok", "okay", "go", "go on", "lead", "please"]) {
            read = Some((Read::Choice(0), String::new()));
        } else if is_one_of(line, &NO) {
            read = Some((Read::Choice(2), String::new()));
        }
    }
    match read {
        Some((Read::Choice(0), _)) => work::begin(state, bench, c, reply),
        Some((Read::Choice(1), _)) => {
            state.thread().ask_more = 2;
            state.focus = Focus::Open;
            let belief = state.belief(bench);
            if next::best_question(state, bench, &belief).is_none() {
                state.thread().ask_more = 0;
                reply.add("I have no further question that would tell anything.");
                state.focus = Focus::Offer(c);
                next::repeat_prompt(state, bench, reply);
            } else {
                next::go_on(state, bench, reply);
            }
        }
        Some((Read::Choice(2), rest)) => {
            let t = state.thread();
            t.declined.insert(c);
            let what = What::Repair(vec![c], crate::belief::RepairOutcome::TriedBefore);
            let evidence = Evidence { what, reliability: 0.95, origin: Origin::Answered };
            t.observations.push(Observation { evidence, words: format!("not: {}", bench.library.causes[c].title) });
            state.focus = Focus::Open;
            let mut taken = listen::Taken::default();
            if rest.split_whitespace().count() > 1 {
                taken = listen::take_in(state, bench, &rest, reply, None);
            }
            listen::proceed(state, bench, taken, reply);
        }
        Some((Read::Choice(_), _)) => {
            let id = bench.library.causes[c].id.clone();
            super::reading::show(state, bench, &id, reply);
            next::repeat_prompt(state, bench, reply);
        }
        Some((Read::DontKnow | Read::CantNow, _)) => {
            state.thread().ask_more = 1;
            state.focus = Focus::Open;
            next::go_on(state, bench, reply);
        }
        None => {
            if own_question(state, bench, line, reply) {
                return;
            }
            if super::reading::question(state, bench, line, reply) {
                next::repeat_prompt(state, bench, reply);
                return;
            }
            let heard = bench.ears.hear(line);
            if heard.is_empty() && units::find_all(line).is_empty() {
                reply.add(format!(
                    "I could not place \"{}\". Answer 1 to 4, or tell me something new.",
                    listen::shorten(line)
                ));
                next::repeat_prompt(state, bench, reply);
                return;
            }
            state.focus = Focus::Open;
            let taken = listen::take_in(state, bench, line, reply, None);
            listen::proceed(state, bench, taken, reply);
        }
    }
}
