#!/usr/bin/env python3
"""Scores the search: is an expected note among the first three, for short queries written before the notes were read?

Needs: Python 3.9 or newer, and the release binary (cargo build --release).
    scripts/score_search.py [QUERIES] [BINARY]
"""
import json
import subprocess
import sys

queries = sys.argv[1] if len(sys.argv) > 1 else "tests/complaints/queries.jsonl"
binary = sys.argv[2] if len(sys.argv) > 2 else "target/release/shakedown"
cases = [json.loads(line) for line in open(queries, encoding="utf-8") if line.strip()]
typed = "".join(json.dumps("find " + case["query"]) + "\n" for case in cases)
done = subprocess.run([binary, "--json"], input=typed, capture_output=True, text=True, check=True)
hits = [0, 0]
for case, line in zip(cases, done.stdout.splitlines()):
    found = [note["id"] for block in json.loads(line)["blocks"] if block["block"] == "notes" for note in block["found"]]
    hits[0] += bool(set(found[:1]) & set(case["expect"]))
    hits[1] += bool(set(found[:3]) & set(case["expect"]))
    if not set(found[:3]) & set(case["expect"]):
        print(f"missed: {case['query']!r} wanted {case['expect']}, found {found[:3]}")
print(f"{len(cases)} queries: first {100 * hits[0] / len(cases):.0f} %, in three {100 * hits[1] / len(cases):.0f} %")
