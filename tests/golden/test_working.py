"""The working as it is printed: every number of the report has its steps, and a reader who works
them out with the printed numbers gets the printed results. Here for operating points and rules of thumb; the
other commands are in test_working_commands.py.
"""

import csv
import io
import json
import re
import sys

import harness
from harness import EXAMPLES, JUNIPER, need
from working_sheet import (RESULT_DIGITS, Working, check_arithmetic, check_keys, check_order,
                           check_reasons, check_text, count_noticed, leaves, same, work_out)


def workings(h):
    for kiln in EXAMPLES:
        yield Working(h, "estimate", kiln)
    yield Working(h, "estimate", "tests/golden/estimate-joints/kiln.yaml")
    for more in (["--damper", "8%"], ["--damper", "100%"], ["--temperature", "700 degC"],
                 ["--temperature", "420 degC"],
                 ["--set", "model.unmixedness=0", "--temperature", "1280 degC"],
                 ["--set", "stack.heat_loss_ua=20 W/K"]):
        yield Working(h, "estimate", JUNIPER, *more)


# ---- tests ---------------------------------------------------------------------------------------


def test_every_key_of_the_report_has_its_working(h):
    plain, worked = 0, 0
    for w in workings(h):
        counts = check_keys(w, energy=w.report["heat_input_net_w"])
        worked += counts[0]
        plain += counts[1]
    need(worked > 1000 and plain > 300, f"only {worked} numbers with a working, {plain} without")


def test_reasons_are_no_way_out(h):
    """A key with a reason to have no working is a word, a count, or what was put in, or takes the whole
    kiln at other settings: not a result of this one."""
    check_reasons(Working(h, "estimate", JUNIPER), [
        r"damper_words(_not_reached)?\..*", r"doubt\.left_after_best_reading",
        r"setting\..*", r"assumptions\..*", r"doubt\.inputs\..*",
        r"datum_height_m|unmixedness|flows\.\d+\.(height_m|dp_pa)"])


def test_printed_numbers_give_printed_results(h):
    checked = sum(check_arithmetic(w) for w in workings(h))
    need(checked > 2500, f"only {checked} steps checked")


def test_a_wrong_number_would_be_seen(h):
    """The checks above are able to fail."""
    seen = count_noticed(Working(h, "estimate", JUNIPER), 1.0003)
    need(seen > 100, f"only {seen} steps notice a number that is off by 3 in 10000")


def test_the_text_prints_what_the_json_says(h):
    for w in workings(h):
        check_text(w)


def test_steps_follow_from_what_stands_before(h):
    check_order(Working(h, "estimate", JUNIPER))


def test_what_is_found_by_solving_says_by_which_balance(h):
    w = Working(h, "estimate", JUNIPER)
    found = {s.get("solved_for") for s in w.steps if s["kind"] == "balance"}
    for symbol in ("p", "p_s", "M_gas", "n_mean", "pi_C", "pi_H", "pi_E", "pi_N"):
        need(symbol in found, f"no balance for {symbol}")


def test_formats_of_the_working(h):
    html = h.run("estimate", JUNIPER, "--working", "--format", "html").out
    for word in ("<!doctype html>", "viewport", "m_gas1 = n*m_g", "</html>"):
        need(word in html, f"the page has no {word}")
    need("http" not in re.sub(r"https?://\S*", "", html) and "<script" not in html,
         "the page asks for something from elsewhere")
    rows = list(csv.reader(io.StringIO(
        h.run("estimate", JUNIPER, "--working", "--format", "csv").out)))
    need(rows[0] == ["key", "value", "unit", "label"], f"columns {rows[0]}")
    us = h.run("estimate", JUNIPER, "--working", "--units", "us").out
    need("in the report: 12.3 lb/h" in us, "results are not shown in US units")


def test_working_of_one_row_of_a_sweep(h):
    vary = ["--vary", "damper=20..80%:20%", "--vary", "gas_pressure=10 kPa,20 kPa"]
    rows = json.loads(h.run("sweep", JUNIPER, *vary, "--format", "json").out)
    for point, damper, gas in ((1, "20%", "10 kPa"), (4, "40%", "20 kPa"), (7, "80%", "10 kPa")):
        args = [*vary, "--at-point", str(point)]
        one = json.loads(h.run("sweep", JUNIPER, *args, "--format", "json").out)
        alone = json.loads(h.run("estimate", JUNIPER, "--damper", damper, "--gas-pressure", gas,
                                 "--format", "json").out)
        for key in ("equivalence_ratio", "pressure_floor_pa"):
            need(one[key] == alone[key], f"row {point} is not {damper} and {gas}")
        worked = json.loads(h.run("sweep", JUNIPER, *args, "--working", "--format", "json").out)
        phi = next(s["value"] for s in worked["steps"] if "equivalence_ratio" in s["explains"])
        need(abs(phi - one["equivalence_ratio"]) < 1e-10, f"working of row {point} is of another row")
    need(rows, "no rows")
    done = h.run("sweep", JUNIPER, *vary, "--at-point", "9", code=3)
    need("1 to 8" in done.err, str(done))
    done = h.run("sweep", JUNIPER, *vary, "--working", code=2)
    need("--at-point" in done.err, str(done))
    done = h.run("estimate", JUNIPER, "--at-point", "1", code=2)
    need("an option of sweep, room and oxides" in done.err, str(done))
    for bad in ("0", "-1", "two", "", "99999999999"):
        h.run("sweep", JUNIPER, *vary, f"--at-point={bad}", code=2)


def test_working_of_the_rules(h):
    for kiln in EXAMPLES:
        check = json.loads(h.run("check", kiln, "--format", "json").out)
        worked = json.loads(h.run("check", kiln, "--working", "--format", "json").out)
        values = sorted(s["value"] for s in worked["steps"])
        rules = sorted(v for k, v in leaves(check) if re.search(r"rules\.\d+\.value", k) and
                       isinstance(v, float))
        for value in values:
            need(any(abs(value - r) <= 1e-10 * abs(r) for r in rules) or not rules,
                 f"{kiln.stem}: {value} is no rule's")
        for s in worked["steps"]:
            numbers = {i["symbol"]: float(i["printed"]) for i in s["inputs"]}
            need(same(work_out(s["formula"], numbers), s["printed"], RESULT_DIGITS),
                 f"{kiln.stem}: {s['formula']}")


def test_not_solved_has_no_steps(h):
    done = h.run("estimate", JUNIPER, "--set", "operating.gas_pressure=400 kPa", "--damper", "0%",
                 "--working", code=None)
    if done.code == 0:
        raise harness.Skip("this setting has a solution")
    need("NOT SOLVED" in done.out and "m_gas1" not in done.out, str(done))


def test_working_and_what_has_none(h):
    for args in (["why", "draft"], ["check", "--keys"]):
        done = h.run(*args, "--working", code=2)
        need("--working is an option of estimate, sweep, check, room, exposure, oxides and ladder" in done.err,
             str(done))


if __name__ == "__main__":
    harness.main(__doc__, harness.tests_of(sys.modules[__name__]))
