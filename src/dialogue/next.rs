//! What comes next: settle a possible danger, then do what the policy says (ask, offer the work), or end honestly.

use super::bench::Bench;
use super::listen;
use super::reply::{Block, Choice, Likely, Reply, in_minutes, numbered};
use super::setup;
use super::state::{Focus, Outcome, State};
use super::{figures, trying, work};
use crate::belief::{Act, Answering, Belief, Candidate, Situation, What, best_pair, in_words};
use crate::domain::{Cause, CauseKind, DangerLevel, FindingIx, Urgency};

/// Urgent causes together this likely are warned of.
const WARN: f64 = 0.40;
/// What takes no more minutes than this is a look rather than work.
const A_LOOK: f64 = 5.0;
/// At this question the way out of the asking is named.
const MANY_QUESTIONS: usize = 9;
/// From here on, what is urgent and possible is named, to be looked for before riding on.
const LOOK_FIRST: f64 = 0.07;
/// And each of them at least this likely: a list of remote possibilities teaches nobody to look.
const NAMED: f64 = 0.03;
/// Notes less likely than this are not near when nothing is left to offer.
const NEAR: f64 = 0.015;
/// A leading cause less likely than this is not worth showing: nothing stands out yet.
const STANDS_OUT: f64 = 0.03;
/// How many leading causes are shown.
const SHOWN: usize = 3;
/// A pair must beat a single cause by this many bits to be spoken of.
const PAIR_BITS: f64 = 4.0;

/// Goes on with the current thread.
pub(super) fn go_on(state: &mut State, bench: &Bench, reply: &mut Reply) {
    if let Some(d) = open_danger(state) {
        state.focus = Focus::Danger(d);
        repeat_prompt(state, bench, reply);
        return;
    }
    let belief = state.belief(bench);
    where_it_stands(state, bench, &belief, reply);
    let act = situation(state, bench, &belief).next_act();
    match act {
        Act::Ask(q) => ask(state, bench, q.finding, reply),
        Act::Offer(c, p) => offer(state, bench, c, p, reply),
        Act::GiveUp => give_up(state, bench, &belief, reply),
    }
}

/// A figure was asked for: it is shown, and the guide that tells how to set it proposed, unless something urgent or a
/// complaint stands beside it.
pub(super) fn after_figure(state: &mut State, bench: &Bench, wish: figures::Wish, reply: &mut Reply) {
    let belief = state.belief(bench);
    let top = belief.top().filter(|(c, p)| *p >= STANDS_OUT && figures::sets(bench, *c, &wish));
    figures::grant(state, wish, reply);
    match top {
        Some((c, p)) if open_danger(state).is_none() => {
            where_it_stands(state, bench, &belief, reply);
            offer(state, bench, c, p, reply);
        }
        _ => go_on(state, bench, reply),
    }
}

/// Whether something is likely enough to be offered without asking on.
pub(super) fn settled(state: &State, bench: &Bench) -> bool {
    let belief = state.belief(bench);
    let situation = situation(state, bench, &belief);
    !situation.more && situation.offerable().is_some_and(|(c, p)| situation.sure_enough(c, p))
}

/// What the policy needs to know of the conversation.
fn situation<'a>(state: &'a State, bench: &'a Bench, belief: &'a Belief) -> Situation<'a> {
    let t = state.current();
    let findings = &bench.library.findings;
    // What has been heard is not asked again; only a weak denial may be.
    let closed = |f: FindingIx| t.is_some_and(|t| t.asked.contains(&f) || t.passed.contains_key(&f)) || state.heard(f);
    let out = |c: usize| {
        t.is_some_and(|t| t.declined.contains(&c) || t.works.iter().any(|(w, o)| *w == c && *o != Outcome::Helped))
    };
    let mut answering = Answering::default();
    for f in t.into_iter().flat_map(|t| &t.asked) {
        answering.note(&findings[f.0], !t.is_some_and(|t| t.passed.contains_key(f)));
    }
    Situation {
        model: &bench.model,
        findings,
        belief,
        circumstances: &state.shared.circumstances,
        closed: (0..findings.len()).map(|f| closed(FindingIx(f))).collect(),
        known: (0..findings.len()).map(|f| state.known(FindingIx(f))).collect(),
        out: (0..bench.model.len()).map(out).collect(),
        warned: listen::warned(state, bench, DangerLevel::StopRiding),
        answering,
        asked: t.map_or(0, |t| t.asked.len()),
        more: t.is_some_and(|t| t.ask_more > 0),
    }
}

/// The next danger that must be asked about.
fn open_danger(state: &State) -> Option<usize> {
    state.current()?.dangers.iter().find(|(_, s)| s.is_open()).map(|(d, _)| *d)
}

/// Warns once when urgent causes together are likely, or when a body complains.
fn warn_from_belief(state: &mut State, bench: &Bench, belief: &Belief, reply: &mut Reply) {
    let body =
        bench.library.finding("body-part").zip(bench.library.finding("trouble")).is_some_and(|(part, trouble)| {
            let table = &bench.library.findings;
            let none = table[part.0].answer("none");
            let is_body = table[trouble.0].answer("body");
            let part_told = state.known(part).is_some_and(|(a, _)| Some(a) != none);
            part_told || (is_body.is_some() && state.known(trouble).map(|k| k.0) == is_body)
        });
    let body = body || belief.mass(&bench.model, Urgency::SeeClinician) >= WARN;
    if body && !state.thread().clinician {
        state.thread().clinician = true;
        if !listen::warned(state, bench, DangerLevel::SeeClinician) {
            let text = "I can help with the bike, not with illness. See a clinician if it is swollen, hot, locked or giving way, numb or weak for more than a day, came with a fall or a fever, or does not ease within a few weeks. Numbness of the saddle area with bladder or bowel trouble: emergency help at once.";
            insert_warning(reply, "see-clinician", text);
        }
    }
    let stop = belief.mass(&bench.model, Urgency::StopRiding);
    if stop < LOOK_FIRST || listen::warned(state, bench, DangerLevel::StopRiding) {
        return;
    }
    let urgent = |c: &usize| bench.model.urgency[*c] == Urgency::StopRiding;
    let leading: Vec<(usize, f64)> = belief.ranked().into_iter().filter(|(c, _)| urgent(c)).take(2).collect();
    let names = |least: f64| -> Vec<String> {
        leading.iter().filter(|(_, p)| *p > least).map(|(c, _)| lower_first(&bench.library.causes[*c].title)).collect()
    };
    if stop >= WARN && state.thread().warned.is_empty() {
        state.thread().warned.extend(leading.iter().filter(|(_, p)| *p > 0.05).map(|(c, _)| *c));
        let text = format!(
            "Do not ride it until this is cleared up: it may be {}. Checks standing still are fine.",
            names(0.05).join(", or ")
        );
        insert_warning(reply, "stop-riding", &text);
    } else if !unsettled(state, bench) && !state.thread().look_first && !names(NAMED).is_empty() {
        state.thread().look_first = true;
        let text =
            format!("It may be {}. Look for that before you ride on; if so, do not ride.", names(NAMED).join(", or "));
        insert_warning(reply, "look-first", &text);
    }
}

fn insert_warning(reply: &mut Reply, level: &str, text: &str) {
    let at = reply.blocks.iter().take_while(|b| matches!(b, Block::Warning { .. })).count();
    reply.blocks.insert(at, Block::Warning { level: level.into(), text: text.into() });
}

/// Warns of what has become likely and must not wait, then shows the leading causes.
pub(super) fn where_it_stands(state: &mut State, bench: &Bench, belief: &Belief, reply: &mut Reply) {
    warn_from_belief(state, bench, belief, reply);
    show_beliefs(state, bench, belief, reply);
}

/// Shows the leading causes and how they moved.
fn show_beliefs(state: &mut State, bench: &Bench, belief: &Belief, reply: &mut Reply) {
    let block = beliefs(state, bench, belief, SHOWN);
    let t = state.thread();
    if t.first.is_empty() {
        t.first = belief.p.clone();
    }
    t.shown = belief.p.clone();
    if belief.top().is_some_and(|(_, p)| p >= STANDS_OUT) {
        reply.push(block);
    } else {
        reply.aside("Nothing stands out yet.");
    }
}

/// The leading causes as a block.
pub(super) fn beliefs(state: &State, bench: &Bench, belief: &Belief, most: usize) -> Block {
    let leak = bench.model.leak();
    let before = state.current().map(|t| t.shown.as_slice()).unwrap_or_default();
    let list: Vec<Likely> = belief
        .ranked()
        .into_iter()
        .filter(|(c, _)| *c != leak)
        .take(most)
        .enumerate()
        .filter(|(i, (_, p))| *i == 0 || *p >= 0.03)
        .map(|(_, (c, p))| Likely {
            id: bench.library.causes[c].id.clone(),
            title: bench.library.causes[c].title.clone(),
            p,
            words: in_words(p).into(),
            moved: before.get(c).map_or(0.0, |b| p - b),
        })
        .collect();
    let rest = 1.0 - list.iter().map(|l| l.p).sum::<f64>();
    Block::Beliefs { list, rest: rest.max(0.0) }
}

/// The best question that can be asked now.
pub(super) fn best_question(state: &State, bench: &Bench, belief: &Belief) -> Option<Candidate> {
    situation(state, bench, belief).best_question()
}

/// The questions most worth asking now, by bits per minute; none that needs measuring.
pub(super) fn questions(state: &State, bench: &Bench, belief: &Belief, most: usize) -> Vec<FindingIx> {
    let measured = |f: FindingIx| bench.library.findings[f.0].how == crate::domain::How::Measure;
    let all = situation(state, bench, belief).questions();
    all.into_iter().map(|c| c.finding).filter(|f| !measured(*f)).take(most).collect()
}

/// Asks for a finding.
pub(super) fn ask(state: &mut State, bench: &Bench, f: FindingIx, reply: &mut Reply) {
    let minutes = bench.library.findings[f.0].minutes;
    let t = state.thread();
    t.asked.push(f);
    t.minutes += minutes;
    t.ask_more = t.ask_more.saturating_sub(1);
    if t.asked.len() == MANY_QUESTIONS {
        reply.aside("Tired of questions? Say: best guess.");
    }
    state.focus = Focus::Finding(f);
    repeat_prompt(state, bench, reply);
}

/// Offers the likeliest at once, because no more questions are wanted.
pub(super) fn propose(state: &mut State, bench: &Bench, reply: &mut Reply) {
    let belief = state.belief(bench);
    match situation(state, bench, &belief).best_offer() {
        Act::Offer(c, p) => offer(state, bench, c, p, reply),
        _ => give_up(state, bench, &belief, reply),
    }
}

/// Offers the work on a cause.
pub(super) fn offer(state: &mut State, bench: &Bench, c: usize, p: f64, reply: &mut Reply) {
    let cause = &bench.library.causes[c];
    if let Some(pair) = pair(state, bench).filter(|p| p.0 == c || p.1 == c) {
        let (a, b) = (&bench.library.causes[pair.0].title, &bench.library.causes[pair.1].title);
        reply.add(format!("No single cause fits all you told me. It may be two at once: {a}, and {b}."));
    }
    let belief = if p >= 0.5 {
        format!("I think it is this ({}):", in_words(p))
    } else {
        format!("My best guess ({}):", in_words(p))
    };
    let belief = if cause.kind == CauseKind::Guide { "This is the way to do it:".to_owned() } else { belief };
    reply.add(format!("{belief} {}.", cause.title));
    if state.shared.trade {
        reply.add(cause.short.clone());
    } else {
        reply.add(first_sentences(cause.summary(), 2));
    }
    let believed = state.belief(bench);
    let sooner = situation(state, bench, &believed).sooner((c, p)).filter(|_| cause.kind == CauseKind::Cause);
    if let Some((s, q)) = sooner {
        let other = &bench.library.causes[s];
        reply.add(format!(
            "Sooner {}, in about {:.0} minutes ({}): {}. If you do that first, tell me what came of it.",
            if other.minutes <= A_LOOK { "looked at" } else { "tried" },
            other.minutes,
            in_words(q),
            lower_first(&other.title)
        ));
    }
    if cause.urgency == Urgency::StopRiding
        && !state.thread().warned.contains(&c)
        && !listen::warned(state, bench, DangerLevel::StopRiding)
    {
        state.thread().warned.insert(c);
        insert_warning(
            reply,
            "stop-riding",
            &format!("Do not ride until this is put right: {}.", lower_first(&cause.title)),
        );
    }
    state.focus = Focus::Offer(c);
    repeat_prompt(state, bench, reply);
}

fn pair(state: &State, bench: &Bench) -> Option<(usize, usize)> {
    let evidence = state.evidence();
    if evidence.iter().filter(|e| matches!(e.what, What::Is(..))).count() < 3 {
        return None;
    }
    let single = state.belief(bench).ranked();
    // Not two causes of which one is about a part that this bike has not.
    let fits = |c: usize| {
        let needs = bench.library.causes.get(c).map_or(&[][..], |c| c.needs.as_slice());
        needs.iter().all(|n| state.known(n.finding).is_none_or(|(a, _)| n.allowed.contains(&a)))
    };
    best_pair(&bench.model, &evidence, &single, PAIR_BITS)
        .map(|p| (p.first, p.second))
        .filter(|(a, b)| fits(*a) && fits(*b))
}

/// The effort of a repair, in a line.
pub(super) fn effort(cause: &Cause) -> String {
    let skill = match cause.skill {
        crate::domain::Skill::Beginner => "anybody can do it",
        crate::domain::Skill::Handy => "for somebody used to tools",
        crate::domain::Skill::Workshop => "workshop job",
    };
    let tools = if cause.tools.is_empty() { "no tools".to_owned() } else { cause.tools.join(", ") };
    format!("About {}; {skill}. Tools: {tools}.", in_minutes(cause.minutes.max(1.0).round()))
}

/// Nothing is left: what was excluded, and what to tell a mechanic.
fn give_up(state: &mut State, bench: &Bench, belief: &Belief, reply: &mut Reply) {
    reply.push(Block::Heading { text: "This is as far as my notes go".into() });
    let excluded: Vec<String> = state
        .thread()
        .works
        .iter()
        .filter(|(_, o)| *o == Outcome::No)
        .map(|(c, _)| format!("{} (tried, did not help)", bench.library.causes[*c].title))
        .collect();
    if excluded.is_empty() {
        reply.add("What you describe is not in my notes, or I have too little to go by.");
    } else {
        reply.add("Excluded here:");
        reply.push(Block::List { items: excluded });
    }
    let near: Vec<String> = belief
        .ranked()
        .into_iter()
        .filter(|(c, p)| *c != bench.model.leak() && *p >= NEAR)
        .take(3)
        .map(|(c, _)| format!("{} ({})", bench.library.causes[c].title, bench.library.causes[c].id))
        .collect();
    if !near.is_empty() {
        reply.add("Nearest notes:");
        reply.push(Block::List { items: near });
    }
    let told: Vec<String> = told(state, bench).into_iter().take(6).collect();
    if !told.is_empty() {
        reply.add(format!("Tell a mechanic: {}.", told.join("; ")));
    }
    reply.aside("card writes it all down; you can also tell me more, or start over.");
    state.focus = Focus::Open;
}

/// What is known, as short phrases.
pub(super) fn told(state: &State, bench: &Bench) -> Vec<String> {
    let thread = state.current().map(|t| t.observations.as_slice()).unwrap_or_default();
    thread
        .iter()
        .chain(&state.shared.facts)
        .filter_map(|o| match &o.evidence.what {
            What::Is(f, a) => {
                let f = &bench.library.findings[f.0];
                Some(format!("{}: {}", f.title.to_lowercase(), lower_first(&listen::brief(&f.answers[a.0].says))))
            }
            What::Among(f, list) => {
                let f = &bench.library.findings[f.0];
                let says: Vec<String> =
                    list.iter().map(|(a, _)| lower_first(&listen::brief(&f.answers[a.0].says))).collect();
                Some(format!("{}: {}", f.title.to_lowercase(), says.join(" or ")))
            }
            What::IsNot(f, a) => {
                let f = &bench.library.findings[f.0];
                Some(format!("{}: not {}", f.title.to_lowercase(), lower_first(&listen::brief(&f.answers[a.0].says))))
            }
            What::Repair(..) if o.evidence.origin == crate::belief::Origin::Said => Some(format!("tried: {}", o.words)),
            What::Repair(..) | What::Likeness(_) => None,
        })
        .collect()
}

/// Whether a stop-riding warning stands, told or not yet checked.
fn unsettled(state: &State, bench: &Bench) -> bool {
    use super::state::DangerStatus::{Unsure, Warned};
    let grave = |d: usize| bench.library.dangers[d].level >= DangerLevel::StopRiding;
    state.current().is_some_and(|t| {
        !t.warned.is_empty() || t.dangers.iter().any(|(d, s)| matches!(s, Warned | Unsure) && grave(*d))
    })
}

/// Shows the open prompt again.
pub(super) fn repeat_prompt(state: &State, bench: &Bench, reply: &mut Reply) {
    match &state.focus {
        Focus::Open => {
            if state.current().is_none_or(|t| t.said.is_empty()) {
                reply.add("Tell me what is the matter, in your own words. Or: help.");
            } else {
                reply.aside("Tell me more, or: likely, card, start over, another.");
            }
        }
        Focus::Danger(d) => {
            let danger = &bench.library.dangers[*d];
            reply.push(Block::Question {
                id: danger.id.clone(),
                text: format!("First, for safety: {}", danger.ask),
                minutes: 0.3,
                how: "ask".into(),
                safety: true,
                answers: numbered([
                    ("yes", "Yes"),
                    ("no", "No"),
                    ("dont-know", "Don't know"),
                    ("cant-now", "Can't check now"),
                ]),
            });
        }
        Focus::Finding(f) => reply.push(question(state, bench, *f)),
        Focus::Conflict { finding, old, new } => {
            let f = &bench.library.findings[finding.0];
            let (o, n) = (&f.answers[old.0].says, &f.answers[new.0].says);
            reply.push(Block::Choices {
                text: format!(
                    "Before, I understood ({}): {}. Now: {}. Which holds?",
                    f.title.to_lowercase(),
                    lower_first(&listen::brief(o)),
                    lower_first(&listen::brief(n))
                ),
                choices: numbered([
                    ("old", o.as_str()),
                    ("new", n.as_str()),
                    ("both", "Sometimes one, sometimes the other"),
                    ("dont-know", "Don't know"),
                ]),
            });
        }
        Focus::Offer(c) => {
            let cause = &bench.library.causes[*c];
            let (text, first) = match (cause.normal, cause.urgency) {
                (true, _) if unsettled(state, bench) => (
                    "If it is this, nothing is wrong apart from the warning above. Clear that up first.".to_owned(),
                    "Show me how to be sure",
                ),
                (true, _) => ("If it is this, nothing is wrong.".to_owned(), "Show me how to be sure"),
                (_, Urgency::SeeClinician) => ("This belongs before a clinician.".to_owned(), "Show me what to do"),
                _ => (effort(cause), "Lead me through it"),
            };
            reply.push(Block::Choices {
                text,
                choices: numbered([
                    ("lead", first),
                    ("more", "Ask me more first"),
                    ("not", "It is not that, or I have done that already"),
                    ("note", "Show me the whole note"),
                ]),
            });
        }
        Focus::Work(w) => work::prompt(state, bench, w, reply),
        Focus::Calc(run) => figures::prompt(run, reply),
        Focus::Setup => setup::prompt(state, bench, reply),
        Focus::Trying(t) => trying::prompt(t, reply),
    }
}

/// A finding's question as a block, with its answers numbered.
pub(super) fn question(state: &State, bench: &Bench, f: FindingIx) -> Block {
    let finding = &bench.library.findings[f.0];
    let mut answers: Vec<Choice> = numbered(finding.answers.iter().map(|a| (a.id.as_str(), a.says.as_str())));
    let n = answers.len();
    answers.push(Choice { number: n + 1, id: "dont-know".into(), says: "Don't know".into() });
    answers.push(Choice { number: n + 2, id: "cant-now".into(), says: "Can't check now".into() });
    Block::Question {
        id: finding.id.clone(),
        text: if state.shared.trade { finding.trade.clone() } else { finding.ask.clone() },
        minutes: finding.minutes,
        how: finding.how.word().into(),
        safety: false,
        answers,
    }
}

/// The text with a small first letter, unless it begins with an abbreviation.
pub(super) fn lower_first(text: &str) -> String {
    let mut chars = text.chars();
    match (chars.next(), text.chars().nth(1)) {
        (Some(a), Some(b)) if a.is_uppercase() && !b.is_uppercase() && !b.is_ascii_digit() => {
            a.to_lowercase().chain(chars).collect()
        }
        _ => text.to_owned(),
    }
}

/// The first sentences of a Markdown text, plain.
pub(super) fn first_sentences(markdown: &str, most: usize) -> String {
    let plain = super::reading::plain(markdown);
    let mut out = String::new();
    let mut count = 0;
    let chars: Vec<char> = plain.chars().collect();
    for (i, c) in chars.iter().enumerate() {
        out.push(*c);
        let ends = matches!(c, '.' | '!' | '?') && chars.get(i + 1).is_none_or(|n| n.is_whitespace());
        if ends {
            count += 1;
            if count == most {
                break;
            }
        }
    }
    out
}
