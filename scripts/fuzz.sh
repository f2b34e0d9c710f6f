#!/bin/sh
# Fuzzes what is read from outside, each target for a time: the import of a book, and conversations (cards taken up, saved
# lines, lines typed). What it finds lies in fuzz/artifacts/; put it into fuzz/corpus/<target>/ and mend it.
#
# usage: scripts/fuzz.sh SECONDS [TARGET ...]      (targets: import conversation; default: both)
#
# Needs a nightly toolchain (rustup toolchain install nightly) and cargo-fuzz (cargo install cargo-fuzz). Without them it
# says so and plays the corpus with many seeded mutations through an ordinary test instead.
set -eu
cd "$(dirname "$0")/.."
seconds=${1:?usage: scripts/fuzz.sh SECONDS [TARGET ...]}
shift
[ $# -gt 0 ] || set -- import conversation

missing=
rustup run nightly cargo --version >/dev/null 2>&1 || missing="a nightly toolchain (rustup toolchain install nightly)"
command -v cargo-fuzz >/dev/null || missing="${missing:+$missing and }cargo-fuzz (cargo install cargo-fuzz)"
if [ -n "$missing" ]; then
    echo "fuzzing needs $missing; the corpus is played with mutations instead" >&2
    # Two mutations of each file of the corpus for each second asked for.
    SHAKEDOWN_MUTATIONS=$((seconds * 2)) exec cargo test --test all corpus
fi
for target in "$@"; do
    echo "== $target, $seconds s"
    # What it learns goes to target/, so that the small corpus under version control stays small.
    learned=target/fuzz-corpus/$target
    mkdir -p "$learned"
    RUSTUP_TOOLCHAIN=nightly cargo fuzz run "$target" "$learned" "fuzz/corpus/$target" -- \
        -max_total_time="$seconds" -max_len=20000 -timeout=60 -rss_limit_mb=4096
done
