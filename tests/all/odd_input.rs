//! Whatever is typed: an answer, never a panic, nothing lost.

use proptest::prelude::*;
use shakedown::app::Face;
use shakedown::dialogue::Bench;
use shakedown::library::{Library, embedded_files};
use shakedown::render::Look;
use std::sync::OnceLock;

fn bench() -> &'static Bench {
    static ONCE: OnceLock<Bench> = OnceLock::new();
    ONCE.get_or_init(|| Bench::new(Library::load(embedded_files()).0))
}

#[test]
fn empty_long_emoji_scripts_and_control_characters() {
    let mut face = Face::new(bench(), Look::default(), None, false);
    let long = "brake squeals ".repeat(800);
    for line in [
        "",
        "   ",
        &long,
        "🚲💥🔧",
        "тормоз скрипит",
        "ブレーキが鳴る",
        "a\u{0}b\u{7}\u{1b}[31mc",
        "\u{202e}evil",
        "1e999",
        "NaN",
        "-1",
        "99",
        "....",
        "???",
    ] {
        let text = face.feed(line).text;
        assert!(!text.trim().is_empty(), "{line:?} got no answer");
        assert!(!text.contains('\u{1b}'), "escape sequence came back");
    }
}

#[test]
fn an_answer_that_cannot_be_placed_leaves_the_question_open() {
    let mut face = Face::new(bench(), Look::default(), None, false);
    face.feed("rear disc rubs since I had the wheel out");
    let focus = format!("{:?}", face.session.state.focus);
    let text = face.feed("xyzzy plugh").text;
    assert!(text.contains("could not place"), "{text}");
    assert_eq!(focus, format!("{:?}", face.session.state.focus));
}

#[test]
fn back_restores_exactly() {
    let mut face = Face::new(bench(), Look::default(), None, false);
    face.feed("creak while pedalling, out of the saddle");
    let before = format!("{:?}", face.session.state);
    face.feed("1");
    face.feed("back");
    assert_eq!(before, format!("{:?}", face.session.state));
}

#[test]
fn no_question_is_asked_twice() {
    let mut face = Face::new(bench(), Look::default(), None, false);
    face.feed("click once per pedal turn");
    for _ in 0..30 {
        face.feed("don't know");
    }
    let asked = &face.session.state.threads[0].asked;
    let mut unique = asked.clone();
    unique.sort_unstable();
    unique.dedup();
    assert_eq!(unique.len(), asked.len());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn nothing_typed_ever_panics_or_overflows_the_line(lines in prop::collection::vec(".{0,60}|[1-9]|back|why|likely|more|next|yes|no|card|find brake|80 kg|work out sag", 1..14)) {
        let look = Look { width: 40, ..Look::default() };
        let mut face = Face::new(bench(), look, None, false);
        face.feed("front brake rubs and the saddle creaks");
        for l in lines {
            let text = face.feed(&l).text;
            for out in text.lines() {
                prop_assert!(unicode_width::UnicodeWidthStr::width(out) <= 60, "{out}");
            }
        }
    }
}

#[test]
fn lines_taken_again_do_not_write_in_the_book_again() {
    let folder = tempfile::tempdir().unwrap();
    let book = folder.path().join("book");
    let face = || Face::new(bench(), Look::default(), None, false).with_book_at(&book, 1_780_000_000).unwrap();
    let lines = ["bike name tourer", "recheck plan", "due", "checked 1 tight"];
    let mut first = face();
    let last = lines.map(|l| first.feed(l).text);
    assert!(last[3].contains("Noted as done"), "{}", last[3]);
    let due = first.feed("due").text;
    let mut again = face();
    for l in lines {
        again.feed_again(l);
    }
    assert_eq!(again.feed("due").text, due, "another check was marked as done");
}
