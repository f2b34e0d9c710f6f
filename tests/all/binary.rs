//! The binary itself: arguments, a pipe, JSON lines, exit codes, and a real terminal.

use std::io::Write;
use std::process::{Command, Output, Stdio};

fn shakedown(args: &[&str], input: &str) -> Output {
    let home = tempfile::tempdir().unwrap();
    let mut child = Command::new(env!("CARGO_BIN_EXE_shakedown"))
        .args(args)
        .env("HOME", home.path())
        .env_remove("XDG_STATE_HOME")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(input.as_bytes()).unwrap();
    child.wait_with_output().unwrap()
}

fn text(out: &Output) -> String {
    String::from_utf8(out.stdout.clone()).unwrap()
}

#[test]
fn a_pipe_gets_plain_text_and_success() {
    let out = shakedown(&[], "rear disc brake squeals since the wash\ndon't know\nleave\n");
    assert!(out.status.success());
    let t = text(&out);
    assert!(t.contains("Understood:") && !t.contains('\u{1b}'), "{t}");
}

/// The conversation in the README is what the program says: what is typed there is typed again.
#[test]
fn the_readme_shows_a_real_conversation() {
    let readme = include_str!("../../README.md");
    let shown = readme.split("```text\n").nth(1).and_then(|rest| rest.split("\n```").next()).unwrap();
    let typed: Vec<&str> = shown.lines().filter_map(|l| l.strip_prefix("> ")).collect();
    assert!(typed.len() > 1, "{shown}");
    let said = text(&shakedown(&["--width", "80"], &(typed.join("\n") + "\n")));
    let lines = |t: &str| -> Vec<String> {
        t.lines().filter(|l| !l.is_empty() && !l.starts_with("> ")).map(str::to_owned).collect()
    };
    assert_eq!(lines(shown), lines(&said));
}

#[test]
fn the_first_complaint_may_be_an_argument() {
    let out = shakedown(&["my", "knee", "hurts", "at", "the", "front"], "");
    assert!(text(&out).contains("BODY:"), "{}", text(&out));
}

#[test]
fn json_lines_hold_the_conversation() {
    let out = shakedown(&["--json"], "{\"line\": \"front disc rubs\"}\n\"don't know\"\nnot json\n");
    let t = text(&out);
    let objects: Vec<serde_json::Value> = t.lines().map(|l| serde_json::from_str(l).unwrap()).collect();
    assert_eq!(objects.len(), 3);
    let kinds: Vec<&str> =
        objects[0]["blocks"].as_array().unwrap().iter().map(|b| b["block"].as_str().unwrap()).collect();
    assert!(kinds.contains(&"understood") && kinds.contains(&"beliefs") && kinds.contains(&"question"), "{kinds:?}");
    assert!(objects[2]["blocks"][0]["text"].as_str().unwrap().contains("not JSON"));
}

#[test]
fn a_rider_is_erased_by_the_whole_name_and_for_good_only() {
    let place = tempfile::tempdir().unwrap();
    let book = place.path().join("book");
    let export = place.path().join("export.jsonl");
    let (book, export) = (book.to_str().unwrap(), export.to_str().unwrap());
    let told = "rider name Wenzel\nbike name blue\nit squeaks when I brake\nleave\n";
    assert!(text(&shakedown(&["--book", book], told)).contains("in the book"));
    let holds = |name: &str| {
        assert!(shakedown(&["--book", book, "--export-book", export], "").status.success());
        std::fs::read_to_string(export).unwrap().contains(name)
    };
    assert!(holds("Wenzel"));
    let short = text(&shakedown(&["--book", book], "erase rider Wenz for good\nerase rider Wenzel\n"));
    assert!(short.contains("but Wenzel") && short.contains("for good") && holds("Wenzel"), "{short}");
    let done = text(&shakedown(&["--book", book], "erase rider wenzel for good\n"));
    assert!(done.contains("is erased") && !holds("Wenzel"), "{done}");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        assert_eq!(std::fs::metadata(export).unwrap().permissions().mode() & 0o077, 0);
    }
}

#[test]
fn a_card_is_written_over_a_card_only() {
    let place = tempfile::tempdir().unwrap();
    let (card, other) = (place.path().join("setup.html"), place.path().join("notes.md"));
    std::fs::write(&other, "my own notes").unwrap();
    let lines = format!("my chain skips\ncard {0}\ncard {0}\ncard {1}\n", card.display(), other.display());
    let t = text(&shakedown(&["--keep-nothing"], &lines));
    assert_eq!(t.matches("Set-up card written").count(), 2, "{t}");
    assert!(t.contains("is no card of mine"), "{t}");
    assert_eq!(std::fs::read_to_string(&other).unwrap(), "my own notes");
}

#[test]
fn mistakes_of_the_user_exit_with_two() {
    assert_eq!(shakedown(&["--no-such-option"], "").status.code(), Some(2));
    assert_eq!(shakedown(&["--score", "/no/such/file"], "").status.code(), Some(2));
}

#[test]
fn help_version_and_completions() {
    assert!(text(&shakedown(&["--help"], "")).contains("Exit codes"));
    assert!(text(&shakedown(&["--version"], "")).starts_with("shakedown "));
    assert!(text(&shakedown(&["--completions", "bash"], "")).contains("shakedown"));
}

#[cfg(unix)]
mod terminal {
    use rexpect::process::WaitStatus;
    use rexpect::session::spawn_command;
    use std::process::Command;

    fn command(home: &std::path::Path) -> Command {
        let mut c = Command::new(env!("CARGO_BIN_EXE_shakedown"));
        c.env("HOME", home).env_remove("XDG_STATE_HOME").env("NO_COLOR", "1").env("TERM", "xterm");
        c
    }

    /// Ends the input. The editor drops what comes while it restarts, so the key is pressed until it is taken.
    fn end(mut p: rexpect::session::PtySession) {
        for _ in 0..50 {
            std::thread::sleep(std::time::Duration::from_millis(400));
            if p.process().status() != Some(WaitStatus::StillAlive) {
                break;
            }
            p.send_control('d').unwrap();
        }
        p.exp_eof().unwrap();
    }

    #[test]
    fn ctrl_c_drops_the_line_and_the_conversation_can_be_taken_up_again() {
        let home = tempfile::tempdir().unwrap();
        let mut p = spawn_command(command(home.path()), Some(20_000)).unwrap();
        p.exp_string("What is the matter").unwrap();
        p.send_line("creak while pedalling").unwrap();
        p.exp_string("Understood:").unwrap();
        p.send("half a line").unwrap();
        p.send_control('c').unwrap();
        // The editor drops what is typed while it restarts.
        std::thread::sleep(std::time::Duration::from_millis(500));
        p.send_line("likely").unwrap();
        p.exp_string("read 1").unwrap();
        p.exp_string("> ").unwrap();
        end(p);
        let mut p = spawn_command(command(home.path()), Some(20_000)).unwrap();
        p.exp_string("Take it up again?").unwrap();
        p.send_line("1").unwrap();
        p.exp_string("read 1").unwrap();
        p.exp_string("> ").unwrap();
        std::thread::sleep(std::time::Duration::from_millis(500));
        p.send_line("leave").unwrap();
        p.exp_eof().unwrap();
        let mut p = spawn_command(command(home.path()), Some(20_000)).unwrap();
        p.exp_string("What is the matter").unwrap();
        end(p);
    }

    #[test]
    fn a_complaint_typed_at_the_offer_to_go_on_is_answered_next() {
        let home = tempfile::tempdir().unwrap();
        let folder = home.path().join(".local/state/shakedown");
        std::fs::create_dir_all(&folder).unwrap();
        std::fs::write(folder.join("conversation.jsonl"), b"\"creak while pedalling\"\n").unwrap();
        let mut p = spawn_command(command(home.path()), Some(20_000)).unwrap();
        p.exp_string("Take it up again?").unwrap();
        p.send_line("there is a crack in my fork").unwrap();
        p.exp_string("That is answered next.").unwrap();
        p.exp_string("> ").unwrap();
        std::thread::sleep(std::time::Duration::from_millis(500));
        p.send_line("2").unwrap();
        p.exp_string("STOP").unwrap();
        p.exp_string("> ").unwrap();
        end(p);
        let saved = std::fs::read_to_string(folder.join("conversation.jsonl")).unwrap();
        assert_eq!(saved, "\"there is a crack in my fork\"\n");
    }

    #[test]
    fn a_damaged_saved_conversation_is_said_and_survived() {
        let home = tempfile::tempdir().unwrap();
        let folder = home.path().join(".local/state/shakedown");
        std::fs::create_dir_all(&folder).unwrap();
        std::fs::write(folder.join("conversation.jsonl"), b"\"front brake rubs\"\n\xff\xfe{broken\n").unwrap();
        std::fs::write(folder.join("history.txt"), b"\xff\xfe\x00garbage").unwrap();
        let mut p = spawn_command(command(home.path()), Some(20_000)).unwrap();
        p.exp_string("could not be read").unwrap();
        p.exp_string("Take it up again?").unwrap();
        p.send_line("2").unwrap();
        p.exp_string("What is the matter").unwrap();
        end(p);
    }
}
