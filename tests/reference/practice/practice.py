#!/usr/bin/env python3
"""Kilns drawn by rules of thumb beside what practice takes as usual.

    practice.py --program PROGRAM [--csv FILE]

Every *.yaml beside this file is worked out, wide open and at three marks of its dampers, and each number is
held to the band of bands.csv. A band is common practice, not a law, and nothing is tuned to it: a number
outside is shown and counted, and is no failure. The exit code is 1 when a design has no solution, when a
number of a design is not in the table or has no band or several, or when a band names no known source.
"""
import argparse
import csv
import json
import math
import pathlib
import re
import subprocess
import sys

HERE = pathlib.Path(__file__).resolve().parent
SOURCES = HERE.parents[2] / "config" / "sources.yaml"
LEAST_DESIGNS = 10
QUANTITIES = {
    "air_ratio_wide_open": "air ratio, damper wide open",
    "mark_neutral": "damper open at neutral",
    "mark_reducing": "damper open at equivalence ratio 1.1",
    "primary_air": "primary air at neutral",
    "plane_reducing": "neutral plane / height, ratio 1.1",
    "plane_lean": "neutral plane / height, air ratio 1.1",
    "spill_reducing": "spill into the room, ratio 1.1",
    "steepness": "steepness at neutral",
}
REDUCING, LEAN = 1.1, 1.0 / 1.1
LOW_PRESSURE_PA = 5000.0


class Fault(Exception):
    """What makes the table useless."""


def answer(program, *args):
    done = subprocess.run([program, *map(str, args), "--format", "json"], capture_output=True, text=True,
                          check=False)
    if done.returncode not in (0, 4):
        raise Fault("%s: exit code %d: %s" % (" ".join(map(str, args)), done.returncode, done.stderr[:300]))
    return json.loads(done.stdout)


def crossing(rows, phi):
    """Open share at which the equivalence ratio rises over phi as the damper closes; None: it never does, or is
    over it wide open."""
    rows = sorted((r for r in rows if r["solved"]), key=lambda r: -r["damper"])
    for wide, shut in zip(rows, rows[1:]):
        low, high = wide["equivalence_ratio"], shut["equivalence_ratio"]
        if low < phi <= high:
            return wide["damper"] + (phi - low) / (high - low) * (shut["damper"] - wide["damper"])
    return None


def sort_of(path, kiln):
    """Form and gas of a design, as bands.csv names them."""
    form = next((f for f in ("blown", "updraft", "downdraft", "crossdraft") if f in path.stem), None)
    if form is None:
        raise Fault("%s: the name says neither updraft, downdraft, crossdraft nor blown" % path.name)
    gas = kiln["inputs"]["kiln.fuel"]
    if gas == "propane":
        low = kiln["inputs"]["operating.gas_pressure_pa"] <= LOW_PRESSURE_PA
        gas = "propane low" if low else "propane high"
    return form, gas


def plane(point, height_m):
    """Height of the neutral plane by that of the chamber, or what is there in its place."""
    if point is None:
        return None
    if point["neutral_plane_m"] is None:
        return "all out" if point["pressure_floor_pa"] > 0.0 else "all in"
    return point["neutral_plane_m"] / height_m


def numbers_of(program, path):
    """Form, gas and {quantity: number, a word, or None where the mark is never reached}."""
    kiln = answer(program, "check", path)
    rows = answer(program, "sweep", path, "--vary", "damper=1..100%:1%")["rows"]
    if not rows[-1]["solved"]:
        raise Fault("%s: no solution with the damper wide open" % path.name)
    marks = {phi: crossing(rows, phi) for phi in (1.0, REDUCING, LEAN)}
    at = {}
    for phi, mark in marks.items():
        at[phi] = None
        if mark is not None:
            at[phi] = answer(program, "estimate", path, "--damper", "%.6f%%" % (100.0 * mark))
            if not at[phi]["solved"]:
                raise Fault("%s: no solution at %.3f" % (path.name, mark))
    neutral, reducing, lean = at[1.0], at[REDUCING], at[LEAN]
    height_m = kiln["inputs"]["kiln.chamber.height_m"]
    spill = None
    if reducing is not None:
        out = reducing["into_room_by_openings_kg_s"]
        spill = out / (out + reducing["flue_flow_kg_s"])
    numbers = {
        "air_ratio_wide_open": rows[-1]["air_ratio"],
        "mark_neutral": marks[1.0],
        "mark_reducing": marks[REDUCING],
        "primary_air": neutral and neutral["primary_aeration"],
        "plane_reducing": plane(reducing, height_m),
        "plane_lean": plane(lean, height_m),
        "spill_reducing": spill,
        "steepness": neutral and -neutral["dphi_ddamper"],
    }
    return (*sort_of(path, kiln), numbers)


def read_bands():
    lines = (HERE / "bands.csv").read_text(encoding="utf-8").splitlines()
    bands = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    sources = set(re.findall(r"^ *- key: (\S+)", SOURCES.read_text(encoding="utf-8"), re.M))
    for band in bands:
        band["low"], band["high"] = float(band["low"]), float(band["high"])
        if band["quantity"] not in QUANTITIES or not band["low"] < band["high"]:
            raise Fault("bands.csv: %s %s" % (band["quantity"], band["form"]))
        if band["source"] not in sources or not band["mark"]:
            raise Fault("bands.csv: %s %s has no known source, or no mark" % (band["quantity"], band["form"]))
    return bands


def band_of(bands, quantity, form, gas):
    fits = [b for b in bands if b["quantity"] == quantity and b["gas"] in (gas, "any") and
            (b["form"] == form or (b["form"] == "natural" and form != "blown"))]
    if len(fits) != 1:
        raise Fault("%d bands for %s of %s, %s" % (len(fits), quantity, form, gas))
    return fits[0]


def judged(value, band):
    inside = isinstance(value, float) and band["low"] <= value <= band["high"]
    return "inside" if inside else "outside"


def table_of(program):
    """Rows of the table, and the faults."""
    table, faults = [], []
    bands = read_bands()
    designs = sorted(HERE.glob("*.yaml"))
    if len(designs) < LEAST_DESIGNS:
        faults.append("%d designs, at least %d are wanted" % (len(designs), LEAST_DESIGNS))
    for path in designs:
        try:
            form, gas, numbers = numbers_of(program, path)
            for quantity in QUANTITIES:
                value = numbers[quantity]
                if isinstance(value, float) and not math.isfinite(value):
                    raise Fault("%s: %s is %s" % (path.name, quantity, value))
                band = band_of(bands, quantity, form, gas)
                table.append({"design": path.stem, "gas": gas, "quantity": quantity, "value": value,
                              "low": band["low"], "high": band["high"], "judged": judged(value, band),
                              "mark": band["mark"], "source": band["source"]})
        except (Fault, KeyError, TypeError) as fault:
            faults.append("%s: %r" % (path.name, fault))
    if len(table) != len(designs) * len(QUANTITIES):
        faults.append("%d rows for %d designs" % (len(table), len(designs)))
    return table, faults


def shown(value):
    return "never" if value is None else value if isinstance(value, str) else "%.3f" % value


def page(table):
    lines = ["Kilns drawn by rules of thumb, and what practice takes as usual. The bands are common practice",
             "without a source, unless the last column says more; outside is worth a look, and no failure.", ""]
    counts = []
    for quantity, words in QUANTITIES.items():
        rows = [row for row in table if row["quantity"] == quantity]
        inside = sum(row["judged"] == "inside" for row in rows)
        counts.append("  %-40s %2d inside, %2d outside" % (words, inside, len(rows) - inside))
        lines.append(words)
        lines += ["  %-20s %-13s %7s   %4.2f to %4.2f   %-8s %s" % (
            row["design"], row["gas"], shown(row["value"]), row["low"], row["high"], row["judged"],
            row["mark"]) for row in rows]
    inside = sum(row["judged"] == "inside" for row in table)
    return "\n".join([*lines, "", *counts,
                      "  %-40s %2d inside, %2d outside" % ("all", inside, len(table) - inside)]) + "\n"


def main(arguments):
    parser = argparse.ArgumentParser()
    parser.add_argument("--program", required=True)
    parser.add_argument("--csv")
    options = parser.parse_args(arguments)
    try:
        table, faults = table_of(options.program)
    except Fault as fault:
        table, faults = [], [str(fault)]
    if options.csv and table:
        with open(options.csv, "w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, list(table[0]))
            writer.writeheader()
            writer.writerows(table)
    sys.stdout.write(page(table))
    for fault in faults:
        sys.stdout.write("failed: %s\n" % fault)
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
