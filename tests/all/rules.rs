//! Every rule for notes finds the note that breaks it, and leaves alone the notes that keep it.

use shakedown::library::check::{ALL, Known};
use shakedown::library::{Library, NoteFile, Problem};

/// A small set of notes that keeps every rule; `rub` is the note that is broken, `gap` the finding.
const RUB: &str = include_str!("rules/rub.md");
const LOOSE: &str = include_str!("rules/loose.md");
const CENTRE: &str = include_str!("rules/centre.md");
const GAP: &str = include_str!("rules/gap.md");
const TROUBLE: &str = include_str!("rules/trouble.md");
const SHARED: &str = include_str!("rules/shared.toml");
const WORDS: &str = include_str!("rules/words.toml");
const SOURCES: &str = include_str!("rules/sources.toml");

/// One way to break a rule: in `file`, `from` becomes `to`.
struct Breach {
    rule: &'static str,
    file: &'static str,
    from: &'static str,
    to: &'static str,
}

const fn breach(rule: &'static str, file: &'static str, from: &'static str, to: &'static str) -> Breach {
    Breach { rule, file, from, to }
}

const LOOSE_SHOWS: &str =
    "fa = { yes = \"never\" }\nfb = { yes = \"usually\" }\nfc = { yes = \"usually\" }\ngap = { no = \"always\" }";
const RUB_SHOWS: &str =
    "fa = { yes = \"usually\" }\nfb = { no = \"usually\" }\nfc = { no = \"usually\" }\ngap = { yes = \"usually\" }";

const BREACHES: &[Breach] = &[
    breach("links", "rub", "(gap)", "(no-such-note)"),
    breach("links", "rub", "guides = [\"centre\"]", "guides = [\"nowhere\"]"),
    breach("sources", "rub", "[\"common-practice\"]", "[\"hearsay\"]"),
    breach("sources", "rub", "the value printed on the part", "5 Nm"),
    breach("sections", "rub", "## Prove it", "## Well then"),
    breach("sections", "centre", "## Prove it", "## Well then"),
    breach("cautions", "rub", "urgency = \"caution\"", "urgency = \"stop-riding\""),
    breach("cautions", "rub", "Squeeze the brake", "Look at it"),
    breach("distribution", "rub", "yes = \"usually\"", "yes = \"always\", no = \"often\""),
    breach("listened", "gap", "id = \"gap\"", "id = \"gap-unheard\""),
    breach("separable", "loose", LOOSE_SHOWS, RUB_SHOWS),
    breach("phrases", "gap", "\"uneven gap\"", "\"even gap\""),
    breach("phrases", "gap", "\"uneven gap\"", "\"fb seen\""),
    breach("phrases", "gap", "\"uneven gap\"", "\"a|b|c|d|e|f|g a|b|c|d|e|f|g a|b|c|d|e|f|g\""),
    breach(
        "length",
        "gap",
        "Is there a gap",
        "Say now, looking straight down from above with one eye closed and the wheel held still and the light behind it, and without any haste at all, and with nobody leaning on the bar or the seat or the bag, whether there is a gap; is there a gap",
    ),
    breach(
        "length",
        "rub",
        "title = \"Brake",
        "title = \"A title that goes on and on and does not come to the end in time: brake",
    ),
    breach("brand", "rub", "a light floor", "a Lumexo floor"),
    breach("brand", "gap", "with one eye", "with one Lumexo eye"),
    breach("reachable", "centre", "id = \"centre\"", "id = \"centre-alone\""),
    breach("reachable", "rub", "gap = { yes = \"usually\" }", "gap = { no = \"usually\" }"),
    breach("reachable", "loose", "fc = { yes = \"usually\" }", "fc = { yes = \"sometimes\" }"),
    breach(
        "answerable",
        "gap",
        "how = \"look\"\nminutes = 1\nskill = \"beginner\"",
        "how = \"ask\"\nminutes = 1\nskill = \"workshop\"",
    ),
    breach("answerable", "gap", "tools = []", "tools = [\"laser microscope\"]"),
    breach("answerable", "gap", "[[answers]]\nid = \"yes\"", "[needs]\nside = [\"no\"]\n[[answers]]\nid = \"yes\""),
    breach("hazards", "rub", "Loosen both bolts", "Wipe with alcohol. Loosen both bolts"),
    breach("hazards", "rub", "Loosen both bolts", "Spin the wheel and see the rotor. Loosen both bolts"),
    breach("numbers", "rub", "Loosen both bolts", "Move it by 3 mm. Loosen both bolts"),
    breach(
        "reading",
        "rub",
        "One block rubs.",
        "Misalignment necessitates comprehensive recalibration procedures throughout the assembly.",
    ),
    breach("trade-words", "rub", "One block rubs.", "Caliper, piston, hanger, sprocket and jockey wheel rub."),
    breach("riders", "rub", "- it goes shh all the way round\n", ""),
    breach("riders", "loose", "Something taps", "The loose bolt taps"),
    breach("duplicates", "rub", "it goes shh all the way round", "Something taps when I stop 1"),
    breach(
        "pictures",
        "rub",
        "| picture |",
        "| a picture that is much too wide for any window that somebody may have |",
    ),
    breach("pictures", "rub", "| picture |", "\u{2502} picture"),
    breach("pictures", "rub", "```\n\n## How", "\n\n## How"),
    breach("glossary", "words", "the steel disc on the wheel", "rotor"),
];

/// Name in a breach, path in the folder, text.
fn files() -> Vec<(&'static str, &'static str, String)> {
    // Ten blind sentences, told apart by a number only.
    let ten =
        |note: &str, says: &str| format!("{note}{}", (1..=10).map(|n| format!("- {says} {n}\n")).collect::<String>());
    // The shared findings, all of one shape: yes or no.
    let finding = |id: &str| SHARED.replace("ID", id);
    vec![
        ("rub", "brakes/rub.md", RUB.to_owned()),
        ("loose", "brakes/loose.md", ten(LOOSE, "Something taps when I stop")),
        ("centre", "brakes/centre.md", ten(CENTRE, "how is that thing set up")),
        ("gap", "brakes/findings/gap.md", GAP.to_owned()),
        ("trouble", "intake/trouble.md", TROUBLE.to_owned()),
        ("fa", "intake/fa.md", finding("fa")),
        ("fb", "intake/fb.md", finding("fb")),
        ("fc", "intake/fc.md", finding("fc")),
        ("side", "intake/side.md", finding("side")),
        ("words", "brakes/words.toml", WORDS.to_owned()),
        ("sources", "sources.toml", SOURCES.to_owned()),
    ]
}

/// Problems of one rule, with one file changed.
fn problems(rule: &str, file: &str, change: impl Fn(String) -> String) -> Vec<Problem> {
    let files = files()
        .into_iter()
        .map(|(name, path, mut t)| {
            if name == file {
                t = change(t);
            }
            // A changed id needs a file of its name.
            let id = t.lines().find_map(|l| l.strip_prefix("id = \"")).map(|l| l.trim_end_matches('"').to_owned());
            let path = match (id, path.rsplit_once('/')) {
                (Some(id), Some((folder, _))) if path.ends_with(".md") => format!("{folder}/{id}.md"),
                _ => path.to_owned(),
            };
            NoteFile { path, text: t.into(), own: false }
        })
        .collect();
    let (library, read) = Library::load(files);
    if file.is_empty() {
        assert!(read.is_empty(), "the small set cannot be read: {read:?}");
    }
    let rule = ALL.iter().find(|r| r.id == rule).expect("a breach names a rule");
    (rule.run)(&library, &Known { calculators: &[] })
}

#[test]
fn notes_that_keep_the_rules_are_left_alone() {
    for rule in ALL {
        let found = problems(rule.id, "", |t| t);
        assert!(found.is_empty(), "{}: {found:?}", rule.id);
    }
}

#[test]
fn every_rule_finds_the_note_that_breaks_it() {
    let mut missed = Vec::new();
    for b in BREACHES {
        let before = files().into_iter().find(|(name, ..)| *name == b.file);
        assert!(before.is_some_and(|(.., t)| t.contains(b.from)), "{}: {:?} is not in {}", b.rule, b.from, b.file);
        if problems(b.rule, b.file, |t| t.replace(b.from, b.to)).is_empty() {
            missed.push(format!("{}: {} for {}", b.rule, b.to, b.from));
        }
    }
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}

#[test]
fn every_rule_has_a_breach() {
    for rule in ALL {
        assert!(BREACHES.iter().any(|b| b.rule == rule.id), "{} has no note that breaks it", rule.id);
    }
}
