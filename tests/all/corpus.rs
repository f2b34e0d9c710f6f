//! The corpus of the fuzz targets, and a seeded mutation of each of its files, through the same rules as fuzzing.

use std::fs;
use std::path::{Path, PathBuf};

#[expect(unreachable_pub, reason = "the same file is a crate of its own when fuzzing")]
#[path = "../../fuzz/src/lib.rs"]
mod rules;

/// Mutations of each file; `SHAKEDOWN_MUTATIONS` makes them more (`scripts/fuzz.sh` does).
fn mutations(otherwise: u64) -> u64 {
    std::env::var("SHAKEDOWN_MUTATIONS").ok().and_then(|n| n.parse().ok()).unwrap_or(otherwise)
}

fn corpus(target: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/corpus").join(target);
    let mut files: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    files.sort();
    assert!(!files.is_empty(), "the corpus of {target} is empty");
    files
}

/// Numbers that look random; the same each time (xorshift, Marsaglia 2003).
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % n.max(1) as u64) as usize
    }
}

/// Bytes that break readers of JSON and of text.
const ODD: [&[u8]; 12] = [
    b"\"",
    b"{",
    b"}",
    b"\\u0000",
    b"\n",
    b"\xff\xfe",
    b"null",
    b"-1",
    b"9223372036854775807",
    b"1e400",
    b"\xe2\x80\xae",
    b"[[[[",
];

/// One to four small changes: a byte, a cut, a doubled stretch, something odd put in.
fn changed(bytes: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut out = bytes.to_vec();
    for _ in 0..=dice.below(4) {
        let at = dice.below(out.len() + 1);
        let end = (at + dice.below(40)).min(out.len());
        match dice.below(5) {
            0 if at < out.len() => out[at] = dice.below(256) as u8,
            1 => drop(out.drain(at..end)),
            2 => {
                let piece = out[at..end].to_vec();
                let to = dice.below(out.len() + 1);
                out.splice(to..to, piece);
            }
            3 => out.truncate(at.max(1)),
            _ => drop(out.splice(at..at, ODD[dice.below(ODD.len())].iter().copied())),
        }
    }
    out
}

fn play(target: &str, rule: fn(&[u8]), times: u64) {
    for file in corpus(target) {
        let bytes = fs::read(&file).unwrap();
        rule(&bytes);
        let mut dice = Dice(0x5eed ^ bytes.len() as u64 | 1);
        for n in 0..times {
            let bytes = changed(&bytes, &mut dice);
            let done = std::panic::catch_unwind(|| rule(&bytes));
            assert!(done.is_ok(), "{} mutation {n}: {:?}", file.display(), String::from_utf8_lossy(&bytes));
        }
    }
}

#[test]
fn any_bytes_may_be_taken_into_a_book() {
    play("import", rules::import, mutations(60));
}

#[test]
fn any_bytes_may_be_a_conversation() {
    play("conversation", rules::conversation, mutations(6));
}
