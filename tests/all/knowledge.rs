//! The built-in notes keep every rule, and hold what the program promises.

use shakedown::domain::CauseKind;
use shakedown::library::check::{Known, run_all};
use shakedown::library::{Library, NoteFile, embedded_files};

#[test]
fn built_in_notes_have_no_problem() {
    let (lib, mut problems) = Library::load(embedded_files());
    let calculators: Vec<&str> = shakedown::calc::ALL.iter().map(|c| c.id).collect();
    problems.extend(run_all(&lib, &Known { calculators: &calculators }));
    let shown: Vec<String> = problems.iter().take(20).map(ToString::to_string).collect();
    assert!(problems.is_empty(), "{} problems:\n{}", problems.len(), shown.join("\n"));
}

#[test]
fn there_is_enough_of_everything() {
    let (lib, _) = Library::load(embedded_files());
    let causes = lib.causes.iter().filter(|c| c.kind == CauseKind::Cause).count();
    let guides = lib.causes.len() - causes;
    let normal = lib.causes.iter().filter(|c| c.normal).count();
    assert!(
        causes >= 220 && normal >= 20 && guides >= 70 && lib.findings.len() >= 180,
        "{causes} {normal} {guides} {}",
        lib.findings.len()
    );
}

#[test]
fn the_learned_model_knows_every_cause() {
    let (lib, _) = Library::load(embedded_files());
    let bytes = std::fs::read(concat!(env!("CARGO_MANIFEST_DIR"), "/knowledge/learned.bin")).unwrap();
    let model = shakedown::hearing::Linear::from_bytes(&bytes).expect("knowledge/learned.bin can be read");
    let missing: Vec<&str> =
        lib.causes.iter().filter(|c| !model.classes.contains(&c.id)).map(|c| c.id.as_str()).collect();
    assert!(missing.is_empty(), "learn anew with scripts/learn: {missing:?}");
    assert!(bytes.len() <= 4 << 20);
}

#[test]
fn a_broken_note_is_reported_with_file_and_line_and_left_out() {
    let mut files = embedded_files();
    let n = Library::load(files.clone()).0.causes.len();
    let note = |path: &str, text: &str| NoteFile { path: path.into(), text: text.to_owned().into(), own: true };
    files.push(note("own/no-head.md", "just text"));
    files.push(note("own/bad-toml.md", "+++\nkind = \"cause\"\nid = [\n+++\nx"));
    files.push(note("own/typo.md", "+++\nkind = \"cause\"\nid = \"typo\"\ntitel = \"x\"\n+++\nx"));
    files.push(note("own/odd.md", "+++\nkind = \"poem\"\n+++\nx"));
    let (lib, problems) = Library::load(files);
    assert_eq!(lib.causes.len(), n);
    assert_eq!(problems.len(), 4, "{problems:?}");
    assert!(problems.iter().any(|p| p.file == "own/bad-toml.md" && p.line >= 3), "{problems:?}");
}

#[test]
fn a_note_of_ones_own_replaces_and_adds() {
    let mut files = embedded_files();
    let original = files.iter().find(|f| f.path.ends_with("/disc-rotor-bent.md")).unwrap().text.to_string();
    let mine = original.replacen("title = \"", "title = \"Mine: ", 1);
    files.push(NoteFile { path: "brakes/disc-rotor-bent.md".into(), text: mine.into(), own: true });
    let (lib, problems) = Library::load(files);
    assert!(problems.is_empty(), "{problems:?}");
    let c = lib.cause("disc-rotor-bent").unwrap();
    assert!(lib.causes[c.0].title.starts_with("Mine: "));
}

/// Books, cards and lists name notes by id; a note that took another one in is still found by the other's.
#[test]
fn a_merged_note_is_found_by_its_former_id() {
    let (lib, _) = Library::load(embedded_files());
    let id = |name: &str| lib.cause(name).map(|c| lib.causes[c.0].id.as_str());
    assert_eq!(id("use-your-gears"), Some("how-to-change-gear"));
    assert_eq!(id("how-to-change-gear"), Some("how-to-change-gear"));

    let taken = |former: &str| {
        let mut files = embedded_files();
        let gears = files.iter_mut().find(|f| f.path.ends_with("/how-to-change-gear.md")).unwrap();
        let line = format!("formerly = [\"{former}\"]");
        gears.text = gears.text.replace("formerly = [\"use-your-gears\"]", &line).into();
        Library::load(files).1
    };
    assert!(taken("a-note-that-went").is_empty());
    let problems = taken("disc-rotor-bent");
    assert!(problems.iter().any(|p| p.to_string().contains("disc-rotor-bent, but that id is taken")), "{problems:?}");
}
