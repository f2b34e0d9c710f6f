//! Rules of the house, kept by tests: the import table, the size of files, no forgotten test file.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut out = Vec::new();
    let mut stack = vec![folder.to_path_buf()];
    while let Some(dir) = stack.pop() {
        for e in fs::read_dir(dir).unwrap() {
            let p = e.unwrap().path();
            if p.is_dir() {
                stack.push(p);
            } else if p.extension().is_some_and(|e| e == "rs") {
                out.push(p);
            }
        }
    }
    out.sort();
    out
}

/// The table between the marks in DEVELOPERS.md: room -> rooms it may import.
fn import_table() -> BTreeMap<String, Vec<String>> {
    let text = fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let begin = text.find("<!-- import table -->").expect("DEVELOPERS.md has the import table");
    let end = text.find("<!-- end of import table -->").expect("the import table ends");
    text[begin..end]
        .lines()
        .filter(|l| l.starts_with("| `"))
        .map(|l| {
            let cells: Vec<&str> = l.split('|').map(str::trim).collect();
            let names = |cell: &str| -> Vec<String> { cell.split('`').skip(1).step_by(2).map(str::to_owned).collect() };
            (names(cells[1]).remove(0), names(cells[2]))
        })
        .collect()
}

#[test]
fn rooms_import_only_what_the_table_allows() {
    let table = import_table();
    let src = root().join("src");
    let mut breaches = Vec::new();
    for file in sources(&src) {
        let inside = file.strip_prefix(&src).unwrap();
        let room = inside.components().next().unwrap().as_os_str().to_string_lossy().trim_end_matches(".rs").to_owned();
        if ["lib", "main"].contains(&room.as_str()) {
            continue;
        }
        let Some(allowed) = table.get(&room) else {
            breaches.push(format!("room {room} is not in the table"));
            continue;
        };
        let text = fs::read_to_string(&file).unwrap();
        for (n, line) in text.lines().enumerate() {
            for part in line.split("crate::").skip(1) {
                let to: String = part.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
                if to != room && table.contains_key(&to) && !allowed.contains(&to) {
                    breaches.push(format!("{}:{}: {room} imports {to}", inside.display(), n + 1));
                }
            }
        }
    }
    assert!(breaches.is_empty(), "{}", breaches.join("\n"));
}

#[test]
fn files_stay_under_600_lines_without_their_tests() {
    let mut long = Vec::new();
    for file in sources(&root().join("src")) {
        let text = fs::read_to_string(&file).unwrap();
        let code = text.split("#[cfg(test)]").next().unwrap_or(&text).lines().count();
        if code > 600 && !file.ends_with("tests.rs") {
            long.push(format!("{}: {code}", file.display()));
        }
    }
    assert!(long.is_empty(), "split these: {long:?}");
}

#[test]
fn every_source_file_opens_with_what_it_owns() {
    let bare: Vec<String> = sources(&root().join("src"))
        .into_iter()
        .filter(|f| !fs::read_to_string(f).unwrap().starts_with("//!"))
        .map(|f| f.display().to_string())
        .collect();
    assert!(bare.is_empty(), "no //! in {bare:?}");
}

#[test]
fn pure_rooms_touch_no_world() {
    let banned = ["std::fs", "std::env", "SystemTime", "Instant::now", "std::net", "println!", "eprintln!"];
    let mut breaches = Vec::new();
    for room in ["units", "domain", "calc", "belief", "hearing", "dialogue", "render", "report"] {
        for file in sources(&root().join("src").join(room)) {
            if file.ends_with("registry.rs") || file.to_string_lossy().ends_with("tests.rs") {
                continue;
            }
            let text = fs::read_to_string(&file).unwrap();
            let code = text.split("#[cfg(test)]").next().unwrap_or(&text);
            for b in banned.iter().filter(|b| code.contains(**b)) {
                breaches.push(format!("{}: {b}", file.display()));
            }
        }
    }
    assert!(breaches.is_empty(), "{}", breaches.join("\n"));
}

#[test]
fn no_test_file_is_forgotten() {
    let main = fs::read_to_string(root().join("tests/all/main.rs")).unwrap();
    for file in sources(&root().join("tests/all")) {
        let stem = file.file_stem().unwrap().to_string_lossy().into_owned();
        assert!(stem == "main" || main.contains(&format!("mod {stem};")), "{stem} is not listed in tests/all/main.rs");
    }
}

#[test]
fn readme_promises_two_commands_right_under_the_job() {
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let head: String = readme.lines().take(30).collect::<Vec<_>>().join("\n");
    assert!(head.contains("cargo run --release") && head.contains("cargo test"));
}
