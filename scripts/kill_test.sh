#!/bin/sh
# Rough treatment of the book at length: 300 kills while writing, taking in, erasing and opening; two programs writing in one
# book for a minute; and, where the system allows a private mount (unshare, Linux), a disk that fills and one that is fixed.
#
# Needs: cargo. Takes about three minutes. SHAKEDOWN_KILLS and SHAKEDOWN_SECONDS change the lengths.
set -eu
cd "$(dirname "$0")/.."
: "${SHAKEDOWN_KILLS:=300}" "${SHAKEDOWN_SECONDS:=60}"
export SHAKEDOWN_KILLS SHAKEDOWN_SECONDS

cargo test --offline --test book -- --test-threads=1

if command -v unshare >/dev/null && unshare -rm true 2>/dev/null; then
    place=$(mktemp -d)
    trap 'rm -rf "$place"' EXIT
    # The mounts are seen by this one command only and are gone when it ends.
    unshare -rm sh -euc '
        mkdir "$1/small" "$1/fixed"
        mount -t tmpfs -o size=1m tmpfs "$1/small"
        mount -t tmpfs -o size=1m tmpfs "$1/fixed"
        : >"$1/fixed/book"
        mount -o remount,ro "$1/fixed"
        SHAKEDOWN_SMALL=$1/small SHAKEDOWN_FIXED=$1/fixed \
            cargo test --offline --test book -- --ignored --exact a_small_disk_fills_and_a_fixed_one_is_told
    ' sh "$place"
else
    echo "small and fixed disks left out: no private mounts here" >&2
fi
