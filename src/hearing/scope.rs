//! What a phrase is said of: denied, wondered about, planned, tried in vain, called in order, hedged.
//!
//! Owns the words of English that tell so and how far they reach. Knows nothing of findings; the ears ask it for each phrase
//! that they have found.

use super::phrase::Match;
use super::token::{NEGATORS, Token};

/// Those of them that deny a place.
const PLACE_NEGATORS: [&str; 8] = ["not", "isnt", "wasnt", "arent", "werent", "nor", "neither", "never"];
/// Words at which the denial ends: "no bite and howls" howls.
const BREAKERS: [&str; 14] = [
    "and", "but", "only", "except", "when", "if", "unless", "until", "because", "just", "sure", "idea", "clue",
    "matter",
];
/// Words of noticing: what is not noticed is not there.
const NOTICING: [&str; 9] = ["hear", "see", "feel", "find", "notice", "spot", "tell", "detect", "make"];
/// Words by which a trouble is said to end: "it stops when I pull the brake".
const ENDING: [&str; 10] =
    ["stops", "stopped", "gone", "away", "vanishes", "disappears", "quiet", "silent", "quietens", "ceases"];
/// Words of a denial that is all about the trouble: "there's no noise when", "it doesn't do it when".
const IT_DOES: [&str; 18] = [
    "noise", "noises", "sound", "sounds", "creak", "creaks", "click", "rub", "pain", "problem", "trouble", "issue",
    "it", "do", "happen", "happens", "any", "there",
];
/// Words that begin the circumstance under which it ends.
const WHENEVER: [&str; 7] = ["when", "whenever", "if", "once", "while", "as", "until"];
/// Words that take something out of "all".
const EXCEPT: [&str; 5] = ["except", "excepting", "apart", "besides", "bar"];
/// How many words a denial reaches.
const REACH: usize = 4;
/// Words that put an event into the past.
const PAST: [&str; 12] =
    ["last", "ago", "year", "years", "month", "months", "summer", "winter", "spring", "autumn", "old", "once"];
/// Words that tell of a thing put right since.
const PUT_RIGHT: [&str; 7] = ["replaced", "renewed", "repaired", "scrap", "scrapped", "mended", "swapped"];
/// Words that after "fitted", "put" or "got" and with "new" say the same.
const FITTED: [&str; 4] = ["fitted", "put", "got", "bought"];
/// Words that tell that it is back all the same.
const BACK: [&str; 3] = ["again", "still", "same"];
/// Words that after "how" ask for a way of doing.
const WAY: [&str; 8] = ["to", "do", "can", "should", "tight", "much", "far", "often"];
/// Words that open a sentence in which something is wondered about.
const WONDERING: [&str; 10] = ["is", "are", "could", "might", "can", "will", "would", "does", "do", "or"];
/// A question of so few words only guesses.
const SHORT: usize = 3;
/// Words by which such a sentence asks what to think of a thing that is so.
const JUDGING: [&str; 16] = [
    "safe",
    "ok",
    "okay",
    "fine",
    "dangerous",
    "normal",
    "bad",
    "serious",
    "matter",
    "ride",
    "hold",
    "last",
    "home",
    "nurse",
    "still",
    "worry",
];
/// Words before a new part that is only thought of: "needs new cables" tells of no new cables.
const PLANNED: [&str; 9] = ["need", "needs", "needing", "want", "wants", "buy", "buying", "order", "should"];
/// Words that soften.
const HEDGES: [&str; 14] = [
    "maybe", "perhaps", "think", "might", "guess", "probably", "possibly", "seems", "assume", "wonder", "reckon",
    "thought", "suppose", "must",
];
/// Words that call a part in order: "the front is fine".
const IN_ORDER: [&str; 10] =
    ["fine", "great", "good", "ok", "okay", "perfect", "lovely", "brilliant", "normal", "silent"];
/// Words by which something done is said to have changed nothing.
const IN_VAIN: [&str; 9] = ["still", "same", "difference", "diff", "odds", "luck", "joy", "nothing", "anyway"];
/// Words that say so when denied: "didn't help", "no different".
const OF_EFFECT: [&str; 13] = [
    "help",
    "helped",
    "helps",
    "better",
    "different",
    "change",
    "changed",
    "cured",
    "cure",
    "fixed",
    "worked",
    "quieter",
    "good",
];
/// Words that put an event at the beginning of the trouble, whatever was said of it: "since the new chain".
const EVER_SINCE: [&str; 4] = ["since", "after", "when", "until"];
/// Words of doing.
pub(super) const DONE: [&str; 30] = [
    "tried",
    "changed",
    "replaced",
    "swapped",
    "tightened",
    "tighten",
    "cleaned",
    "clean",
    "lubed",
    "greased",
    "adjusted",
    "fitted",
    "put",
    "bled",
    "moved",
    "raised",
    "lowered",
    "checked",
    "regreased",
    "repacked",
    "oiled",
    "wiped",
    "sanded",
    "got",
    "new",
    "trued",
    "turned",
    "fiddled",
    "did",
    "took",
];

/// Whether a denial reaches the phrase. A negator inside the phrase is part of what it says.
///
/// The words of `unable` deny only what would have been noticed: "I can't hear a creak".
pub(super) fn denied(words: &[Token], m: &Match, unable: &[&str]) -> bool {
    denied_at(words, m.start, unable) || m.parts.iter().any(|p| *p != m.start && denied_at(words, *p, unable))
}

fn denied_at(words: &[Token], at: usize, unable: &[&str]) -> bool {
    let first = &words[at];
    let mut distance = 0;
    for t in words[..at].iter().rev() {
        distance += 1;
        if t.clause != first.clause || distance > REACH || BREAKERS.contains(&t.word.as_str()) {
            return false;
        }
        if NEGATORS.contains(&t.word.as_str()) {
            // "I can't feel my hand" is no "I can't feel any play".
            let next = at + 1 - distance;
            let mut noticed = words.iter().enumerate().skip(next).take(2);
            let mut noticing = || {
                noticed.any(|(i, n)| {
                    let own = words.get(i + 1).is_some_and(Token::is_light);
                    NOTICING.contains(&n.word.as_str()) && !(n.word == "feel" && own)
                })
            };
            return !unable.contains(&t.word.as_str()) || noticing();
        }
    }
    false
}

/// Whether the phrase is the circumstance under which the trouble ends: "stops when I pull the brake". What barely stops, and
/// a bike that does, is another matter.
pub(super) fn ended(words: &[Token], m: &Match) -> bool {
    let sentence = words[m.start].sentence;
    let is = |i: usize, list: &[&str]| words[i].sentence == sentence && list.contains(&words[i].word.as_str());
    let Some(when) = (m.start.saturating_sub(3)..=m.end).find(|i| is(*i, &WHENEVER)) else { return false };
    // "No noise when coasting", "it doesn't do it when I coast".
    let told = (when.saturating_sub(4)..when).rev().take_while(|i| is(*i, &NEGATORS) || is(*i, &IT_DOES)).last();
    if told.is_some_and(|i| (i..when).any(|k| is(k, &NEGATORS))) {
        return true;
    }
    let Some(end) = when.checked_sub(1).filter(|i| is(*i, &ENDING)) else { return false };
    let barely = |i: usize| is(i, &NEGATORS) || is(i, &["barely", "hardly", "only", "bike", "wheel", "i", "brake"]);
    end.checked_sub(1).is_none_or(|before| !barely(before))
}

/// Whether something is taken out of the "all" that the phrase speaks of: "all gears except the smallest".
pub(super) fn excepted(words: &[Token], m: &Match) -> bool {
    let all = words[m.start..=m.end].iter().any(|t| ["all", "every", "each", "any"].contains(&t.word.as_str()));
    let after = words.iter().skip(m.end + 1).take(3).take_while(|t| t.sentence == words[m.end].sentence);
    all && after.into_iter().any(|t| EXCEPT.contains(&t.word.as_str()))
}

/// Whether a word names what was worked on in vain: "tightened the headset, no difference".
pub(super) fn worked_on(words: &[Token], at: usize) -> bool {
    let clause = words[at].clause;
    let done = words[..at].iter().any(|t| t.clause == clause && DONE.contains(&t.word.as_str()));
    let in_vain = |t: &Token| t.clause.abs_diff(clause) <= 1 && IN_VAIN.contains(&t.word.as_str());
    done && words.iter().any(in_vain)
}

/// Whether something new or done is told of as tried in vain: "new pedals made no odds", "bled the brake. Still knocking".
pub(super) fn done_in_vain(words: &[Token], m: &Match) -> bool {
    let (sentence, clause) = (words[m.end].sentence, words[m.end].clause);
    let here = |t: &&Token| t.sentence == sentence;
    let new = ["new", "different", "another", "brand"];
    let done = words[..=m.end].iter().filter(|t| t.clause == words[m.start].clause);
    let mut done = done.filter(|t| DONE.contains(&t.word.as_str()) || new.contains(&t.word.as_str()));
    let opening = m.start.saturating_sub(3);
    let began = words[opening..=m.end].iter().filter(here).any(|t| EVER_SINCE.contains(&t.word.as_str()));
    if began || done.next().is_none() {
        return false;
    }
    // Said in the same sentence, not long after, or as the beginning of the next.
    let after = |t: &Token| t.sentence == sentence && t.clause <= clause + 3;
    let next = words.iter().filter(|t| t.sentence == sentence + 1).take(3).count();
    let end = words.iter().rposition(|t| t.sentence == sentence).unwrap_or(m.end) + next;
    (m.end + 1..=end).any(|i| {
        let t = &words[i];
        let denied = words[i.saturating_sub(3)..i].iter().any(|n| NEGATORS.contains(&n.word.as_str()));
        let vain = IN_VAIN.contains(&t.word.as_str()) || denied && OF_EFFECT.contains(&t.word.as_str());
        vain && (after(t) || t.sentence == sentence + 1)
    })
}

/// Whether a place is denied: only by a word right before it that denies no doing.
pub(super) fn place_denied(words: &[Token], at: usize) -> bool {
    let before = words[..at].iter().rev().take(2).filter(|t| t.clause == words[at].clause);
    before.into_iter().any(|t| PLACE_NEGATORS.contains(&t.word.as_str()))
}

/// Whether the part that ends here is called in order: "the front is great".
pub(super) fn in_order(words: &[Token], end: usize) -> bool {
    let clause = words[end].clause;
    let mut after = words[end + 1..].iter().take(3).take_while(|t| t.clause == clause);
    let is = after.next().is_some_and(|t| ["is", "are", "was", "feels", "works", "runs"].contains(&t.word.as_str()));
    is && after.any(|t| IN_ORDER.contains(&t.word.as_str()))
}

/// Whether a new part is only thought of, not fitted.
pub(super) fn planned(words: &[Token], m: &Match) -> bool {
    std::iter::once(m.start).chain(m.parts).any(|at| {
        let first = &words[at];
        let new = matches!(first.word.as_str(), "new" | "another" | "replacement" | "different");
        let mut before = words[..at].iter().rev().take(3).filter(|t| t.clause == first.clause);
        new && before.any(|t| PLANNED.contains(&t.word.as_str()))
    })
}

/// Whether a danger is wondered about rather than told: "is the frame cracked?", "how do I see a cracked frame", not "is it safe
/// with a cracked frame?". One that is `certain` if told is only wondered about in one breath with the question: "do not
/// laugh, my wheel fell off" tells it.
pub(super) fn wondered(words: &[Token], m: &Match, certain: bool) -> bool {
    let here: Vec<&Token> = words.iter().filter(|t| t.sentence == words[m.start].sentence).collect();
    let said = |i: usize, list: &[&str]| here.get(i).is_some_and(|t| list.contains(&t.word.as_str()));
    let before = here[0].word != words[m.start].word || here[0].clause != words[m.start].clause;
    let one_breath = here[0].clause == words[m.end].clause
        && !words[..m.start].iter().any(|t| t.clause == words[m.start].clause && t.word == "but");
    // "Bent frame?"
    let short = words[m.end].asked && here.len() <= SHORT;
    let asks = before && said(0, &WONDERING) && (!certain || words[m.end].asked);
    let how = before && said(0, &["how"]) && said(1, &WAY);
    let judged = here.iter().any(|t| JUDGING.contains(&t.word.as_str()));
    (short || asks || how || hearsay(&here)) && (!certain || one_breath) && !judged
}

/// Whether a sentence tells of something read, planned or never met: "read about speed wobble, never had it myself".
fn hearsay(sentence: &[&Token]) -> bool {
    let pair = |w: &[&Token]| {
        matches!(
            (w[0].word.as_str(), w[1].word.as_str()),
            ("read" | "reading" | "heard", "about" | "of" | "that")
                | ("thinking", "of" | "about")
                | ("never", "had" | "happened" | "crashed")
        )
    };
    sentence.windows(2).any(pair)
}

/// What was done to a part that is no longer there.
const EXCHANGED: [&str; 8] = ["replaced", "changed", "swapped", "renewed", "fixed", "repaired", "mended", "replacing"];
/// Words before it that say that it was done.
const BEEN: [&str; 4] = ["was", "were", "been", "got"];

/// Whether a danger is one of the past, put right since: "the stem snapped last year and was replaced", not "the brake failed. I
/// replaced its pads last week".
pub(super) fn put_right(words: &[Token], m: &Match) -> bool {
    let sentence = words[m.start].sentence;
    let past = words.iter().any(|t| t.sentence == sentence && PAST.contains(&t.word.as_str()));
    let any = |list: &[&str], sentences: usize| {
        let near = words[m.start..].iter().take_while(|t| t.sentence <= sentence + sentences);
        near.into_iter().any(|t| list.contains(&t.word.as_str()))
    };
    let mended = any(&PUT_RIGHT, 1) || any(&FITTED, 1) && any(&["new"], 1);
    // "The lever used to come to the bar."
    let gone = words[m.start.saturating_sub(3)..=m.end].windows(2).any(|w| w[0].word == "used" && w[1].word == "to");
    (past && mended || gone || exchanged(words, m)) && !any(&BACK, 1) && !any(&["now"], 0)
}

/// Whether the very part that is told of was exchanged: "replaced the snapped axle", "two broken spokes were replaced", "had the
/// cracked rim changed".
fn exchanged(words: &[Token], m: &Match) -> bool {
    let said = |i: usize, list: &[&str]| words.get(i).is_some_and(|t| list.contains(&t.word.as_str()));
    let clause = |i: &usize| words[*i].clause == words[m.start].clause;
    let before = (m.start.saturating_sub(4)..m.start).filter(clause);
    let close: Vec<usize> = before.rev().take_while(|i| !said(*i, &["and", "but", "then", "after", "so"])).collect();
    let after: Vec<usize> =
        (m.end + 1..words.len().min(m.end + 8)).take_while(|i| words[*i].sentence == words[m.start].sentence).collect();
    let passive = |i: &usize| said(*i, &BEEN) && (said(i + 1, &EXCHANGED) || said(i + 2, &EXCHANGED));
    // "Snapped a brake cable in March and had both inner and outer replaced."
    let let_do = |i: &usize| said(*i, &["had"]) && (i + 1..i + 7).any(|k| said(k, &EXCHANGED));
    let had = close.iter().any(|i| said(*i, &["had", "got", "have"]));
    close.iter().any(|i| said(*i, &EXCHANGED))
        || after.iter().any(|i| passive(i) || let_do(i))
        || had && after.iter().take(2).any(|i| said(*i, &EXCHANGED))
}

pub(super) fn hedged(words: &[Token], m: &Match) -> bool {
    words.iter().any(|t| t.clause == words[m.start].clause && HEDGES.contains(&t.word.as_str()))
}
