//! The rides of a trial: what to ride, what was felt, and the end.

use super::begin::{baseline, manner, word};
use super::series::{PAIRS, Series};
use super::{Handing, Manner, Trying, others};
use crate::dialogue::answer::{Read, read_choice};
use crate::dialogue::bench::Bench;
use crate::dialogue::listen;
use crate::dialogue::next;
use crate::dialogue::reply::{Block, Reply, numbered};
use crate::dialogue::state::{Focus, Setting, State};
use crate::trial::{Felt, Pair, others_changed, sheet, statement, two_things};

/// Shows what the trial asks.
pub(in crate::dialogue) fn prompt(t: &Trying, reply: &mut Reply) {
    let Some(s) = t.series() else {
        reply.push(Block::Question {
            id: format!("trial.{}", t.subject.id),
            text: format!("Where does the {} stand now? That is the baseline.", t.subject.title),
            minutes: 1.0,
            how: "measure".into(),
            safety: false,
            answers: Vec::new(),
        });
        reply.aside(t.subject.limits);
        return;
    };
    match t.manner {
        Manner::Open => {
            reply.push(Block::Choices {
                text: "Can somebody else set it for you, so that you do not know which is which? Feelings follow what one knows.".into(),
                choices: numbered([("no", "No, I set it myself"), ("yes", "Yes: blind, six pairs of rides")]),
            });
        }
        _ if t.handing(&s) == Some(Handing::Word) => {
            reply.add("To whoever sets the bike: the rider looks away now. Type any word; it shuffles the order.");
        }
        _ if t.handing(&s) == Some(Handing::Call) => {
            reply.add("Another series of six pairs. To whoever sets the bike: when the rider looks away, type sheet.");
        }
        Manner::Blind { seed: Some(seed), .. } if t.handing(&s).is_some() => {
            reply.push(Block::Heading { text: "Only for whoever sets the bike".into() });
            reply.push(Block::List { items: sheet(&s.order(seed), &t.say(s.stands), &t.say(s.tries)) });
            reply.add("Write it down, clear the screen, type ready, and keep it to yourself until the last verdict.");
        }
        _ if !s.stop => ask(t, &s, reply),
        _ => {}
    }
}

/// Which pair to ride, and the question after it.
fn ask(t: &Trying, s: &Series, reply: &mut Reply) {
    let (first, second) = if t.is_blind() {
        let pair = format!("Pair {} of {PAIRS}:", s.ridden + 1);
        reply.add(format!(
            "{pair} have the bike set, ride it; have it set again, ride it again. Nothing else changed. {}",
            t.subject.ride
        ));
        ("The first".to_owned(), "The second".to_owned())
    } else {
        let (first, second) = (t.say(s.stands), t.say(s.tries));
        reply.add(format!("Ride {first} and then {second}, nothing else changed. {}", t.subject.ride));
        (first, second)
    };
    reply.aside(format!("Feel for: {}. {}", t.subject.feel.join("; "), t.subject.limits));
    reply.push(Block::Choices {
        text: "After the rides: which was better?".into(),
        choices: numbered([
            ("first".to_owned(), first),
            ("second".to_owned(), second),
            ("same".to_owned(), "No difference".to_owned()),
            ("changed".to_owned(), "Something else was changed too".to_owned()),
            ("stop".to_owned(), "Stop the trial here".to_owned()),
        ]),
    });
}

/// An answer at the trial's prompt.
pub(in crate::dialogue) fn answer(state: &mut State, bench: &Bench, mut t: Trying, line: &str, reply: &mut Reply) {
    let Some(s) = t.series() else { return baseline(state, bench, t, line, reply) };
    match t.manner {
        Manner::Open => return manner(state, bench, t, line, reply),
        Manner::Blind { seed, .. } if t.handing(&s).is_some() => {
            let said = |words: &[&str]| words.contains(&line.to_lowercase().as_str());
            match t.handing(&s) {
                Some(Handing::Word) => return word(state, bench, t, line, reply),
                Some(Handing::Call) if said(&["sheet"]) => {
                    t.manner = Manner::Blind { seed, handed: 2 * s.number + 1 };
                }
                Some(Handing::Sheet(_)) if said(&["ready", "done", "ok", "yes"]) => {
                    t.manner = Manner::Blind { seed, handed: 2 * s.number + 2 };
                }
                _ => {}
            }
            state.focus = Focus::Trying(Box::new(t));
            return next::repeat_prompt(state, bench, reply);
        }
        _ if s.stop => return end(state, t, reply),
        _ => {}
    }
    let (first, second) = match t.manner {
        Manner::Blind { .. } => ("the first".to_owned(), "the second".to_owned()),
        _ => (t.say(s.stands), t.say(s.tries)),
    };
    let says = [
        first.as_str(),
        second.as_str(),
        "no difference the same",
        "something else was changed too",
        "stop the trial here end",
    ];
    // As the trial card asks: the second ride against the one before.
    let plain = line.trim_end_matches(['.', '!']).to_lowercase();
    let line = match plain.as_str() {
        "better" | "much better" | "a bit better" | "a little better" => "2",
        "worse" | "much worse" | "a bit worse" | "a little worse" => "1",
        _ => line,
    };
    let felt = match read_choice(line, &["first", "second", "same", "changed", "stop"], &says).map(|c| c.0) {
        Some(Read::Choice(0)) => Felt::First,
        Some(Read::Choice(1)) => Felt::Second,
        Some(Read::Choice(2) | Read::DontKnow) => Felt::Same,
        Some(Read::Choice(3)) => {
            t.also.push("something else".into());
            Felt::Same
        }
        Some(_) => return end(state, t, reply),
        None => {
            reply.add(format!("I could not place \"{}\". Answer 1 to 5.", listen::shorten(line)));
            state.focus = Focus::Trying(Box::new(t));
            return;
        }
    };
    let [a, b] = match t.manner {
        Manner::Blind { seed: Some(seed), .. } => s.order(seed).get(s.ridden).map(|o| s.pair(*o)),
        _ => None,
    }
    .unwrap_or([s.stands, s.tries]);
    let mut pair = Pair::new(a, b, felt);
    pair.changed = others_changed(t.subject.title, &t.others, &others(state, t.subject.title));
    for also in std::mem::take(&mut t.also) {
        if !pair.changed.contains(&also) {
            pair.changed.push(also);
        }
    }
    if let Some(text) = two_things(t.subject.title, &pair.changed) {
        reply.push(Block::Warning { level: "caution".into(), text });
    }
    let counted = pair.changed.is_empty();
    t.rides.push(pair);
    let now = t.series();
    if counted {
        say_how_it_stands(&t, &s, now.as_ref(), reply);
    }
    if now.is_some_and(|n| n.stop) {
        return end(state, t, reply);
    }
    state.focus = Focus::Trying(Box::new(t));
    next::repeat_prompt(state, bench, reply);
}

/// After a pair: what the rides say; in a blind series nothing until its last verdict is in.
fn say_how_it_stands(t: &Trying, s: &Series, now: Option<&Series>, reply: &mut Reply) {
    let Some(bracket) = t.bracket else { return };
    let (stands, tries) = (t.say(s.stands), t.say(s.tries));
    match t.manner {
        Manner::Blind { seed: Some(seed), .. } => {
            if now.is_some_and(|n| n.number == s.number && !n.stop) {
                return reply.aside("Noted; it stays sealed until the last pair.");
            }
            reply.add("All verdicts are in; the order is opened:");
            reply.push(Block::List { items: sheet(&s.order(seed), &stands, &tries) });
            let tally = bracket.tally(&t.rides, s.tries, s.stands);
            reply.add(statement(&tries, &stands, tally, Some(PAIRS as u32)).1);
        }
        _ => reply.aside(statement(&stands, &tries, bracket.tally(&t.rides, s.stands, s.tries), None).1),
    }
}

/// Ends a trial: what to keep, and how sure that is.
fn end(state: &mut State, mut t: Trying, reply: &mut Reply) {
    // Verdicts that are still sealed are opened now: fewer than planned, and the words say so.
    let keep = t.series().map_or(t.baseline, |s| s.stands);
    t.ended = true;
    if t.bracket.is_some() {
        t.kept = Some(keep);
        reply.add(format!("Keep {} for now.", t.say(keep)));
        if let Some(v) = t.verdict() {
            reply.add(v);
        }
        let what = t.subject.title;
        let settings = &mut state.thread().settings;
        settings.retain(|s| s.what != what);
        settings.push(Setting {
            what: what.into(),
            before: Some(t.say(t.baseline)),
            after: t.say(keep),
            how: format!("trial, {} pair(s) ridden", t.rides.len()),
            si: Some(keep),
            unit: t.unit.map(|u| u.symbol.to_owned()).unwrap_or_default(),
            compared: String::new(),
            baseline: true,
        });
    }
    reply.aside("card trial shows it; the next trial changes another single thing.");
    state.shared.trials.retain(|k| k.what != t.subject.title);
    state.trials.push(t);
    state.focus = Focus::Open;
}
