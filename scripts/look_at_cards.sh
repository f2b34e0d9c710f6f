#!/bin/sh
# Takes pictures of the golden cards as a browser shows them, to be looked at by a person: phone width, desktop width,
# and print on A4 and on Letter. Fails when a card that should fit one sheet needs more.
#
# usage: scripts/look_at_cards.sh [FOLDER]      (default: target/cards)
#
# Needs: chromium, pdfinfo and pdftoppm, openssl. On Debian: apt-get install chromium poppler-utils openssl
# It opens no network connection: the pages are files and ask for nothing.
set -eu

root=$(cd "$(dirname "$0")/.." && pwd)
out=${1:-$root/target/cards}
for tool in chromium pdfinfo pdftoppm openssl; do
    command -v "$tool" >/dev/null || { echo "$tool is missing; on Debian: apt-get install chromium poppler-utils openssl" >&2; exit 2; }
done
mkdir -p "$out"
profile=$(mktemp -d)
work=$(mktemp -d)
trap 'rm -rf "$profile" "$work"' EXIT

browse() {
    chromium --headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking \
        --disable-component-update --disable-sync --user-data-dir="$profile" "$@" >"$work/log" 2>&1 || { cat "$work/log" >&2; exit 1; }
}

# The page with the sheet's size set in its style; the policy then needs the new style's hash.
on_sheet() {
    style=$(sed -n '/<style>/,/<\/style>/p' "$1" | sed "s/@page{/@page{size:$2;/")
    inner=${style#*<style>}
    inner=${inner%</style>*}
    hash=$(printf '%s' "$inner" | openssl dgst -sha256 -binary | base64)
    sed "s/@page{/@page{size:$2;/; s|'sha256-[^']*'|'sha256-$hash'|" "$1" >"$3"
}

bad=0
for card in "$root"/tests/cards/*/*.html; do
    name=$(basename "$(dirname "$card")")-$(basename "$card" .html)
    # A browser's window has a least width above a phone's, so the phone is a frame inside the window.
    printf '<!DOCTYPE html><body style="margin:0;background:#999"><iframe src="file://%s" style="width:390px;height:2600px;border:0;background:#fff"></iframe>' "$card" >"$work/phone.html"
    browse --window-size=520,2600 --hide-scrollbars --screenshot="$out/$name-phone.png" "file://$work/phone.html"
    browse --window-size=1280,2000 --hide-scrollbars --screenshot="$out/$name-desktop.png" "file://$card"
    for sheet in A4 Letter; do
        on_sheet "$card" "$sheet" "$work/$sheet.html"
        browse --no-pdf-header-footer --print-to-pdf="$out/$name-$sheet.pdf" "file://$work/$sheet.html"
        pdftoppm -gray -r 80 -png "$out/$name-$sheet.pdf" "$out/$name-$sheet"
        pages=$(pdfinfo "$out/$name-$sheet.pdf" | sed -n 's/^Pages: *//p')
        size=$(pdfinfo "$out/$name-$sheet.pdf" | sed -n 's/^Page size: *//p')
        echo "$name on $sheet: $pages page(s), $size"
        [ "$pages" -eq 1 ] || bad=1
    done
done
echo "pictures are in $out"
if [ "$bad" -ne 0 ]; then
    echo "a card needs more than one sheet" >&2
    exit 1
fi
