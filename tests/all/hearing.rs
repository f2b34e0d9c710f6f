//! What is heard in riders' words. The sentences are invented.

use shakedown::dialogue::Bench;
use shakedown::library::{Library, embedded_files};
use std::sync::OnceLock;

fn bench() -> &'static Bench {
    static ONCE: OnceLock<Bench> = OnceLock::new();
    ONCE.get_or_init(|| Bench::new(Library::load(embedded_files()).0))
}

fn heard(line: &str, finding: &str) -> Option<(String, bool)> {
    let b = bench();
    b.ears
        .hear(line)
        .answers
        .into_iter()
        .find(|h| b.library.findings[h.finding.0].id == finding)
        .map(|h| (b.library.findings[h.finding.0].answers[h.answer.0].id.clone(), h.denied))
}

fn is(line: &str, finding: &str, answer: &str) {
    assert_eq!(heard(line, finding), Some((answer.to_owned(), false)), "{line}");
}

#[test]
fn plain_words_typing_errors_and_spelling_variants() {
    is("my bike creaks when climbing", "sound", "creak");
    is("horrible squealling noise", "sound", "squeal");
    is("the noise comes out of the saddle", "when", "hard-pedalling");
    is("behind my knee it aches", "knee-place", "back");
    is("it started after the wash", "since", "wash");
}

#[test]
fn denial_has_a_scope() {
    assert_eq!(heard("no noise at all, but the fork dives", "sound").map(|h| h.0), Some("none".into()));
    assert_ne!(heard("it does not creak", "sound"), Some(("creak".into(), false)));
    is("it is not the saddle, it is the pedals that creak", "sound", "creak");
}

#[test]
fn what_cannot_be_done_is_no_denial_of_the_thing() {
    is("the front mech won't go to the big ring", "shift-which", "front");
    assert_eq!(heard("I can't hear any creak when coasting", "sound"), Some(("creak".into(), true)));
}

#[test]
fn the_circumstance_under_which_it_stops_is_denied() {
    assert_eq!(
        heard("a shh shh from the back that stops when I pull the brake", "when"),
        Some(("braking".into(), true))
    );
    is("the bike barely stops when I pull the brake", "when", "braking");
}

#[test]
fn a_denial_between_the_words_counts() {
    assert_eq!(
        heard("my back wheel isn't quite centred in the frame", "wheel-in-fork"),
        Some(("centred".into(), true))
    );
    assert_eq!(heard("there's no noise when coasting", "when"), Some(("coasting".into(), true)));
    is("it ticks when freewheeling", "when", "coasting");
}

/// Common practice, no source; the signs in bodies after the emergency and urgent lists of health services (see sources.toml).
#[test]
fn what_must_not_be_ridden_is_heard_however_it_is_said() {
    let b = bench();
    let told = |line: &str| -> Vec<&str> {
        let heard = b.ears.hear(line).dangers;
        heard.iter().filter(|d| d.certain).map(|d| b.library.dangers[d.danger].id.as_str()).collect()
    };
    for (line, danger) in [
        ("front wheel came out when I lifted the bike", "danger-wheel-loose"),
        ("tyre has a cut and I can see the tube through it", "danger-tyre-cut"),
        ("the pedal is hanging half out of the crank", "danger-pedal-coming-off"),
        ("rotor is blue and the brake disappeared on the descent", "danger-no-brake"),
        ("can't feel my hand properly since last week and I drop things", "danger-hand-weak-or-numb-stays"),
        ("I peed blood after a long ride", "danger-blood-in-urine"),
        // A word that only dangers use is not put right to another ("blocked").
        ("I nearly blacked out at a junction", "danger-head-or-chest"),
    ] {
        assert!(told(line).contains(&danger), "{line}: {:?}", told(line));
    }
    for line in ["the left pedal won't come off", "the wheel isn't loose", "I can't feel any play in the headset"] {
        assert!(told(line).is_empty(), "{line}: {:?}", told(line));
    }
}

#[test]
fn all_but_one_is_not_all() {
    assert_eq!(heard("I can get all the gears except the smallest", "gears-reachable"), None);
    assert_eq!(heard("the rotor goes ting ting as it cools", "pain-kind"), None);
}

#[test]
fn a_blamed_part_is_weak_evidence() {
    let b = bench();
    let h = b.ears.hear("I think it is the bottom bracket");
    let blamed = h.answers.iter().find(|h| b.library.findings[h.finding.0].id == "seems-from").unwrap();
    assert!(blamed.reliability < 0.45, "{}", blamed.reliability);
}

#[test]
fn dangers_are_heard_in_an_aside_and_not_in_innocent_words() {
    let b = bench();
    let certain = |line: &str| b.ears.hear(line).dangers.iter().any(|d| d.certain);
    assert!(certain("squeaks a bit, oh and the frame is cracked near the seat tube lol"));
    assert!(!certain("the chain makes a cracking noise"));
    assert!(!certain("no crack in the frame, I looked"));
}

#[test]
fn the_index_is_built_and_finds() {
    let b = bench();
    let hits = b.index().expect("the index is built").search("rotor rubs", 5, false);
    assert!(!hits.is_empty());
}

#[test]
fn what_was_tried_in_vain_did_not_begin_it() {
    is("it creaks since the new pedals", "since", "new-part");
    for line in
        ["it creaks, new pedals made no odds", "it creaks. Fitted new pedals, same", "new chain didn't help, it skips"]
    {
        assert_eq!(heard(line, "since"), None, "{line}");
    }
}

#[test]
fn a_phrase_stands_within_one_clause() {
    is("I have to pump the brake", "lever-pump", "firmer");
    assert_eq!(heard("tyres pumped, wheels spin, brakes do not touch", "lever-pump"), None);
}

#[test]
fn a_place_called_in_order_is_not_the_place() {
    is("it knocks at the front", "end", "front");
    assert_ne!(heard("the front is fine, the rest beats me up", "end"), Some(("front".into(), false)));
}

#[test]
fn a_question_about_a_part_is_a_guess() {
    let reliability = |line: &str| {
        let b = bench();
        let heard = b.ears.hear(line).answers.into_iter();
        heard.filter(|h| b.library.findings[h.finding.0].id == "slack-in-small-small").map(|h| h.reliability).next()
    };
    let (told, asked) = (reliability("it slaps. The chain is too long"), reliability("it slaps. Chain too long?"));
    assert!(asked.unwrap() < 0.6 * told.unwrap(), "{asked:?} {told:?}");
}

#[test]
fn a_danger_put_right_or_asked_about_is_not_warned_of_at_once() {
    let certain = |line: &str| bench().ears.hear(line).dangers.iter().any(|d| d.certain);
    for line in [
        "my stem snapped on the way here",
        "the stem snapped last year and was replaced, now it has snapped again",
        "is it safe to ride with a cracked frame?",
        "can I ride home on a cracked frame",
        "do not laugh, but my front wheel fell off",
        "might be nothing but the crank fell off, which bolt do I need?",
        "my brake failed on the hill. I replaced the pads with new ones",
        "replaced the pads and the brake failed on the hill",
        "had the frame repaired but it is cracked at the weld",
    ] {
        assert!(certain(line), "{line}");
    }
    for line in [
        "last year the stem snapped and was replaced by the shop",
        "how do I tell whether a second hand bike has a cracked frame?",
        "it pulls to the right on our road. Bent frame?",
        "two broken spokes were replaced by the shop, the wheel runs true but hums",
        "had the cracked rim changed, which tape do I use",
        "my frame was cracked and got replaced under warranty",
        "the brake lever used to come to the bar, new pads cured it",
        "read about speed wobble on road bikes, never had it myself",
    ] {
        assert!(!certain(line), "{line}");
    }
    // Signs in a body are warned of in a question too.
    assert!(certain("could it be the bar height that my face droops on one side?"));
}

/// Common practice, no source: an alarm that cries at brake work or at manners of speech is soon not listened to.
#[test]
fn words_of_the_workshop_are_no_signs_of_the_body() {
    let b = bench();
    for line in [
        "the brake is no better, it will not stop bleeding air",
        "there is a deep cut in the tyre and white threads",
        "the shop is talking rubbish I think",
        "I lost sight of the group on the climb",
        "one brake arm hangs there and the other moves",
        "I can't speak highly enough of these tyres",
        "my tyre is always out of air on the climbing days",
        "I can't tell if I need to go up a size in saddles",
        "I keep asking the same thing in every shop",
        "the saddle is two cm too high and my left leg hurts",
    ] {
        let told: Vec<&str> =
            b.ears.hear(line).dangers.iter().map(|d| b.library.dangers[d.danger].id.as_str()).collect();
        let body =
            ["danger-lump-or-wound", "danger-one-sided-weakness", "danger-head-or-chest", "danger-bladder-bowel"];
        assert!(!told.iter().any(|t| body.contains(t) || *t == "danger-child-seat-loose"), "{line}: {told:?}");
    }
}
