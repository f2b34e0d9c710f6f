#!/usr/bin/env python3
"""Compares the program's calculators with independent reference libraries.

Needs: Python 3.10 or newer, and from PyPI: bicycleparameters (geometry), scipy and numpy (springs, chains, spokes).
    python3 -m venv .venv && .venv/bin/pip install bicycleparameters scipy

    .venv/bin/python scripts/compare_references.py [--command "COMMAND"]

COMMAND prints the JSON of one calculator; the calculator's id and the typed text are added as two arguments.
Exit code 0: everything agrees; 1: something differs; 2: a library or the program is missing.
"""
import argparse
import json
import math
import shlex
import subprocess
import sys

DEFAULT = "cargo run --quiet --release -- --json --figure"


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--command", default=DEFAULT)
    command = shlex.split(parser.parse_args().command)
    try:
        import numpy
        from bicycleparameters import geometry
        from scipy import constants, integrate, optimize, stats
    except ImportError as missing:
        print(f"missing library: {missing.name}. Install: pip install bicycleparameters scipy", file=sys.stderr)
        return 2

    def figures(calculator: str, text: str) -> dict[str, float]:
        done = subprocess.run([*command, calculator, text], capture_output=True, text=True, check=False)
        try:
            told = json.loads(done.stdout)
            return {figure["id"]: figure["si"] for figure in told["figures"]}
        except (json.JSONDecodeError, KeyError):
            print(f"no figures for {calculator} \"{text}\": {done.stdout[:200]}{done.stderr[:200]}", file=sys.stderr)
            sys.exit(2)

    failures = 0

    def compare(what: str, ours: float, reference: float, within: float) -> None:
        nonlocal failures
        off = abs(ours - reference) / max(abs(reference), 1e-12)
        fine = off <= within
        failures += not fine
        print(f"{'ok  ' if fine else 'FAIL'} {what:<58} {ours:>14.6g} {reference:>14.6g}  off {off:.1e}")

    # Geometry: trail and mechanical trail against bicycleparameters.
    for head, offset, radius in [(73, 45, 340), (66, 44, 368), (71.5, 50, 336), (69, 51, 350)]:
        got = figures("steering-geometry", f"head angle {head}, offset {offset} mm, radius {radius} mm")
        trail, mechanical = geometry.trail(radius / 1000, math.radians(90 - head), offset / 1000)
        compare(f"trail, {head} deg, {offset} mm, {radius} mm", got["trail"], float(trail), 1e-9)
        compare(f"mechanical trail, {head} deg, {offset} mm, {radius} mm", got["mechanical-trail"], float(mechanical), 1e-9)

    # Geometry: pitch of a hardtail against a frame turned numerically until the front axle is back on its level.
    for base, head, sag in [(1180, 66, 32), (1058, 71, 80), (1200, 65, 30)]:
        got = figures("bar-roll", f"wheelbase {base} mm, head angle {head}, sag {sag} mm")

        def level(turn: float) -> float:
            a = math.radians(head)
            x, y = base - sag * math.cos(a), sag * math.sin(a)
            return -x * math.sin(turn) + y * math.cos(turn)

        compare(f"pitch, {base} mm, {head} deg, sag {sag} mm", got["roll"], optimize.brentq(level, 0.0, 0.5), 1e-9)

    # Springs: a line through readings against scipy.stats.linregress.
    readings = [(70, 40.0), (80, 34.5), (90, 30.0), (100, 26.5)]
    got = figures("air-spring", ", ".join(f"{p} psi {s} mm" for p, s in readings) + ", target 32 mm")
    psi = 6894.757
    line = stats.linregress([s / 1000 for _, s in readings], [p * psi for p, _ in readings])
    compare("air spring, pressure for 32 mm", got["pressure"], line.intercept + line.slope * 0.032, 1e-9)

    # Springs: force is the derivative of stored work, stiffness its second (scipy integration, numeric derivative).
    area, volume, gauge = 10e-4, 180e-6, 8e5
    p0 = constants.atm
    for exponent, names in [(1.0, ("slow-force", "slow-rate")), (1.4, ("fast-force", "fast-rate"))]:
        got = figures("air-spring", "piston area 10 cm2, volume 180 ml, pressure 8 bar, compression 30 mm")

        def force(s: float, n: float = exponent) -> float:
            return ((gauge + p0) * (volume / (volume - area * s)) ** n - p0) * area

        work = lambda s: integrate.quad(force, 0.0, s)[0]
        step = 1e-5
        compare(f"air spring force, n {exponent}", got[names[0]], (work(0.030 + step) - work(0.030 - step)) / (2 * step), 1e-6)
        compare(f"air spring rate, n {exponent}", got[names[1]], (force(0.030 + step) - force(0.030 - step)) / (2 * step), 1e-6)

    # Coil: the sag at which force balances weight, found numerically, is the sag asked for.
    got = figures("coil-spring", "rider 80 kg, stroke 60 mm, travel 150 mm, share 60 %, sag 30 %")
    sag = optimize.brentq(lambda s: got["rate"] * s - 80 * 0.6 * constants.g * 2.5, 1e-4, 0.06)
    compare("coil spring, sag of the stroke", sag / 0.060, 0.30, 1e-9)

    # Bounce: frequency and damping against an integrated equation of motion.
    got = figures("bounce", "sag 45 mm")
    solution = integrate.solve_ivp(
        lambda t, y: [y[1], -constants.g / 0.045 * y[0]], (0, 3), [0.01, 0.0], rtol=1e-10, atol=1e-12,
        events=lambda t, y: y[0],
    )
    crossings = solution.t_events[0]
    compare("bounce, frequency", got["frequency"], 0.5 / numpy.diff(crossings).mean(), 1e-6)
    zeta = figures("bounce", "ratio 4")["damping"]
    wide = 2 * math.pi * got["frequency"]
    solution = integrate.solve_ivp(
        lambda t, y: [y[1], -2 * zeta * wide * y[1] - wide**2 * y[0]], (0, 2), [0.01, 0.0], rtol=1e-11, atol=1e-14,
        events=lambda t, y: y[1],
    )
    tops = [y[0] for y in solution.y_events[0] if y[0] > 1e-5]
    compare("bounce, ratio of peaks", tops[0] / tops[1], 4.0, 1e-4)

    # Spokes: distance of two points in space.
    for erd, flange, offset, spokes, crosses, hole in [(555, 58, 39, 36, 3, 2.6), (602, 39, 30, 36, 3, 2.2), (600, 45, 34, 32, 2, 2.5)]:
        text = f"erd {erd} mm, flange diameter {flange} mm, offset {offset} mm, {spokes} spokes, crosses {crosses}, hole diameter {hole} mm"
        got = figures("spoke-length", text)
        turn = 2 * math.pi * crosses / (spokes / 2)
        hub = numpy.array([flange / 2 * math.cos(turn), flange / 2 * math.sin(turn), offset])
        rim = numpy.array([erd / 2, 0.0, 0.0])
        compare(f"spoke, {erd}/{flange}/{offset}, {spokes} x {crosses}", got["length"] * 1000, numpy.linalg.norm(hub - rim) - hole / 2, 1e-9)

    # Spoke pitch against the wave speed on a string.
    got = figures("spoke-tension", "tension 100 kgf, length 279 mm, diameter 2.0 mm")
    speed = math.sqrt(100 * constants.kgf / (7850 * math.pi * 0.001**2))
    compare("spoke pitch, 279 mm", got["pitch"], speed / (2 * 0.279), 1e-6)

    # Chain: centre distance found numerically for the rounded number of links.
    got = figures("chain-length", "single speed, ring 63, sprocket 21, chainstay 500 mm")
    links = lambda c: 2 * c / 12.7 + 42 + (42 / (2 * math.pi)) ** 2 * 12.7 / c
    compare("chain, centre distance for 122 links", got["centre"] * 1000, optimize.brentq(lambda c: links(c) - 122, 400, 600), 1e-9)

    print(f"{failures} differ" if failures else "all agree")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
