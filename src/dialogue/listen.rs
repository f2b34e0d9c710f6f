//! Taking in what was typed: facts heard become evidence, dangers are noted, contradictions are pointed out.

use super::bench::Bench;
use super::figures::{Wish, wished};
use super::next;
use super::reply::{Block, Reply, Understood};
use super::state::{DangerStatus, Focus, Observation, State};
use crate::belief::{Evidence, Origin, RepairOutcome, What};
use crate::domain::{AnswerIx, DangerLevel, FindingIx};
use crate::hearing::{Heard, HeardAnswer};
use crate::units;

/// An earlier answer at least this sure is not overwritten without asking.
const SURE: f64 = 0.75;
/// A new one at least this sure is worth the question.
const WORTH_ASKING: f64 = 0.7;
/// How far what an answer means for another finding can be relied on, against the answer itself (own estimate).
const IMPLIED: f64 = 0.85;
/// A later line of so few facts is said on purpose, as an answer is: "the nose points up". The first message, and a long one,
/// tells in passing.
const ON_PURPOSE: usize = 2;

/// What taking in a line brought.
#[derive(Debug, Default)]
pub(super) struct Taken {
    /// Something was heard.
    pub(super) anything: bool,
    /// A contradiction: finding, old answer, new answer.
    pub(super) conflict: Option<(FindingIx, AnswerIx, AnswerIx)>,
    /// A figure was asked for, and worked out.
    pub(super) wish: Option<Wish>,
}

/// A complaint, or more about it: echo, warn, think, ask.
pub(super) fn complaint(state: &mut State, bench: &Bench, line: &str, reply: &mut Reply) {
    let first = state.current().is_none_or(|t| t.said.is_empty());
    let taken = take_in(state, bench, line, reply, None);
    if first && !taken.anything && (says_nothing(line) || state.current().is_some_and(|t| t.likeness.is_empty())) {
        state.threads.pop();
        state.at = state.threads.len().saturating_sub(1);
        reply.add(format!(
            "I could not place \"{}\". Tell me what you feel or hear, at which end of the bike, and when it happens. For example: \"squeal from the front brake since I washed it\".",
            shorten(line)
        ));
        return;
    }
    proceed(state, bench, taken, reply);
}

/// Whether a line is an answer or a courtesy without a question: "yes", "3", "ok thanks".
fn says_nothing(line: &str) -> bool {
    const EMPTY: [&str; 14] =
        ["yes", "no", "ok", "okay", "yeah", "yep", "nope", "sure", "well", "hm", "hmm", "maybe", "please", "thanks"];
    let lower = line.to_lowercase();
    let mut words = lower.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty());
    words.all(|w| EMPTY.contains(&w) || w.chars().all(|c| c.is_ascii_digit()))
}

/// After something was taken in: settle a contradiction, show the figure that was asked for, go on.
pub(super) fn proceed(state: &mut State, bench: &Bench, taken: Taken, reply: &mut Reply) {
    if let Some((finding, old, new)) = taken.conflict {
        state.focus = Focus::Conflict { finding, old, new };
        next::repeat_prompt(state, bench, reply);
    } else if let Some(wish) = taken.wish {
        next::after_figure(state, bench, wish, reply);
    } else {
        next::go_on(state, bench, reply);
    }
}

/// Takes in a line. `answered` is a finding whose answer has just been read from it and is not to be taken again.
pub(super) fn take_in(
    state: &mut State,
    bench: &Bench,
    line: &str,
    reply: &mut Reply,
    answered: Option<FindingIx>,
) -> Taken {
    let heard = bench.ears.hear(line);
    let correcting = is_correction(line);
    let mut taken = Taken { anything: !heard.is_empty(), ..Taken::default() };
    let mut items = Vec::new();
    let id = |h: &HeardAnswer| bench.library.findings[h.finding.0].id.as_str();
    // "The front of my knee" is no end of the bike.
    let body = heard.answers.iter().any(|h| id(h) == "body-part" && !h.denied);
    let later = state.current().is_some_and(|t| !t.said.is_empty());
    let on_purpose = later && heard.answers.len() <= ON_PURPOSE;
    let origin = if on_purpose { Origin::Answered } else { Origin::Said };
    for h in &heard.answers {
        if Some(h.finding) == answered || (body && id(h) == "end") {
            continue;
        }
        take_answer(state, bench, h, origin, correcting, &mut items, &mut taken);
    }
    for h in heard.answers.iter().filter(|h| !h.denied) {
        let told = |f: FindingIx| heard.answers.iter().any(|o| o.finding == f && !o.denied);
        implied(state, bench, h.finding, h.answer, h.reliability, &told);
    }
    for r in &heard.repairs {
        let outcome = if r.held_for_a_while { RepairOutcome::HeldForAWhile } else { RepairOutcome::TriedBefore };
        let what = What::Repair(r.causes.clone(), outcome);
        let again = state.thread().observations.iter().any(|o| o.evidence.what == what);
        if !again {
            items.push(Understood {
                id: "tried".into(),
                about: "tried already".into(),
                value: r.words.clone(),
                denied: false,
            });
            let evidence = Evidence { what, reliability: 0.9, origin: Origin::Said };
            state.observe(bench, Observation { evidence, words: r.words.clone() });
        }
    }
    for q in units::find_all(line) {
        taken.anything = true;
        let text = line.get(q.span.clone()).unwrap_or_default();
        items.push(Understood {
            id: "quantity".into(),
            about: q.dimension.name().trim_start_matches("an ").trim_start_matches("a ").into(),
            value: text.to_owned(),
            denied: false,
        });
    }
    state.thread().said.push(line.to_owned());
    state.shared.said.push(line.to_owned());
    let told = state.thread().said.join(". ");
    let likeness = bench.likeness(&told);
    state.thread().likeness = likeness;
    if !items.is_empty() || !heard.corrected.is_empty() {
        reply.push(Block::Understood { items, corrected: heard.corrected.clone() });
    }
    dangers(state, bench, &heard, reply);
    taken.wish = wished(state, line);
    taken
}

fn take_answer(
    state: &mut State,
    bench: &Bench,
    h: &HeardAnswer,
    origin: Origin,
    correcting: bool,
    items: &mut Vec<Understood>,
    taken: &mut Taken,
) {
    let f = &bench.library.findings[h.finding.0];
    let (what, reliability) = match (h.denied, f.negative) {
        (true, Some(n)) if n != h.answer => (What::Is(h.finding, n), h.reliability),
        (true, _) => (What::IsNot(h.finding, h.answer), h.reliability),
        (false, _) if !h.others.is_empty() => {
            let all: Vec<AnswerIx> = std::iter::once(h.answer).chain(h.others.iter().copied()).collect();
            let share = 1.0 / all.len() as f64;
            (What::Among(h.finding, all.into_iter().map(|a| (a, share)).collect()), h.reliability)
        }
        (false, _) => (What::Is(h.finding, h.answer), h.reliability),
    };
    // What is found on the way does not change what the person came with.
    if f.id == "trouble" && state.heard(h.finding) && !correcting {
        return;
    }
    if let (Some((old, sure)), What::Is(_, new)) = (state.known(h.finding), &what) {
        if old == *new && sure >= reliability {
            return;
        }
        if old != *new && !correcting {
            if sure >= SURE && reliability >= WORTH_ASKING && !f.several {
                taken.conflict = Some((h.finding, old, *new));
                return;
            }
            if sure > reliability && !f.several {
                return;
            }
        }
    } else if matches!(what, What::IsNot(..) | What::Among(..)) && state.known(h.finding).is_some() {
        return;
    }
    let reliability = if correcting { reliability.max(0.9) } else { reliability };
    items.push(Understood {
        id: f.id.clone(),
        about: f.title.to_lowercase(),
        value: match &what {
            What::Is(_, a) | What::IsNot(_, a) => brief(&f.answers[a.0].says),
            What::Among(_, list) => {
                list.iter().map(|(a, _)| brief(&f.answers[a.0].says)).collect::<Vec<_>>().join(" or ")
            }
            _ => brief(&f.answers[h.answer.0].says),
        },
        denied: matches!(what, What::IsNot(..)),
    });
    let evidence = Evidence { what, reliability, origin };
    state.observe(bench, Observation { evidence, words: h.words.clone() });
}

/// What an answer means for other findings of which nothing was `told`: who tells of a creak is bothered by a noise, and
/// is not asked what bothers him.
pub(super) fn implied(
    state: &mut State,
    bench: &Bench,
    finding: FindingIx,
    answer: AnswerIx,
    reliability: f64,
    told: &dyn Fn(FindingIx) -> bool,
) {
    let f = &bench.library.findings[finding.0];
    if f.negative == Some(answer) {
        return;
    }
    for &(target, meant) in &f.means {
        if !told(target) && !state.heard(target) {
            let evidence =
                Evidence { what: What::Is(target, meant), reliability: reliability * IMPLIED, origin: Origin::Said };
            state.observe(bench, Observation { evidence, words: f.answers[answer.0].says.clone() });
        }
    }
}

/// Notes dangers told; warns of the certain ones at once, before everything else of the reply.
fn dangers(state: &mut State, bench: &Bench, heard: &Heard, reply: &mut Reply) {
    let mut warnings = Vec::new();
    for d in &heard.dangers {
        let note = &bench.library.dangers[d.danger];
        let status = state.thread().dangers.get(&d.danger).copied();
        if d.certain && !matches!(status, Some(DangerStatus::Warned | DangerStatus::Denied)) {
            state.thread().dangers.insert(d.danger, DangerStatus::Warned);
            warnings.push((note.level, Block::Warning { level: note.level.word().into(), text: note.warn.clone() }));
        } else if status.is_none() && !warned(state, bench, DangerLevel::Emergency) {
            // In an emergency nothing lesser is asked.
            let status = if d.wondered { DangerStatus::Wondered } else { DangerStatus::Open };
            state.thread().dangers.insert(d.danger, status);
        }
    }
    warnings.sort_by_key(|(level, _)| std::cmp::Reverse(*level));
    // Two warnings are read, five are not.
    for (i, (_, w)) in warnings.into_iter().take(2).enumerate() {
        reply.blocks.insert(i, w);
    }
}

/// Whether any certain danger of this level or graver has been warned of.
pub(super) fn warned(state: &State, bench: &Bench, least: DangerLevel) -> bool {
    state.current().is_some_and(|t| {
        t.dangers.iter().any(|(d, s)| *s == DangerStatus::Warned && bench.library.dangers[*d].level >= least)
    })
}

/// "No, the front" and the like: what follows replaces what was understood.
pub(super) fn is_correction(line: &str) -> bool {
    let l = line.to_lowercase();
    let starts = [
        "no,",
        "no ",
        "nope",
        "not the",
        "wrong",
        "actually",
        "i meant",
        "i mean",
        "correction",
        "sorry,",
        "not quite",
        "rather",
    ];
    starts.iter().any(|s| l.starts_with(s))
}

/// The first words of an answer, for an echo.
pub(super) fn brief(says: &str) -> String {
    let end = says.find([',', ':', '(', ';']).unwrap_or(says.len());
    says[..end].trim().to_owned()
}

/// A line cut short for quoting it back.
pub(super) fn shorten(line: &str) -> String {
    let mut out: String = line.chars().take(60).collect();
    if out.chars().count() < line.chars().count() {
        out.push('…');
    }
    out
}
