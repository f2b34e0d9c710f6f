//! The page of all calculators with their sources and checks is fresh, and what is known outside agrees.

#[test]
fn the_page_of_calculators_is_fresh() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/calculators.md");
    let page = shakedown::calc::reference_page();
    if std::env::var_os("SHAKEDOWN_WRITE").is_some() {
        std::fs::write(path, &page).unwrap();
    }
    let kept = std::fs::read_to_string(path).unwrap_or_default();
    assert!(kept == page, "tests/calculators.md is stale: SHAKEDOWN_WRITE=1 cargo test --test all calculators");
}

/// Every source that a calculator names stands in the notes' list of sources.
#[test]
fn calculators_name_known_sources() {
    let (library, _) = shakedown::library::Library::load(shakedown::library::embedded_files());
    for c in shakedown::calc::ALL {
        for s in c.sources {
            assert!(library.source(s).is_some(), "{} names {s}", c.id);
        }
    }
}

/// Stages of the set-up name guides that exist; every calculator linked in a guide exists (checked with the notes).
#[test]
fn a_set_up_leads_somewhere() {
    let bench =
        shakedown::dialogue::Bench::new(shakedown::library::Library::load(shakedown::library::embedded_files()).0);
    let mut face = shakedown::app::Face::new(&bench, shakedown::render::Look::default(), None, false);
    face.feed("new bike, help me set it up");
    let mut stages = 0;
    for _ in 0..60 {
        let text = face.feed("skip").text;
        stages += usize::from(text.contains("Stage "));
        if text.contains("Set-up ended") {
            assert!(stages >= 10, "{stages} stages only");
            return;
        }
    }
    panic!("the set-up did not end");
}
