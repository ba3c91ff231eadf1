"""The working as it is printed: every number of the report has its steps, and a reader who works
them out with the printed numbers gets the printed results.

The formulas are worked out here by Python, not by the program.
"""

import csv
import io
import json
import math
import re
import sys
from decimal import ROUND_HALF_EVEN, Decimal

import harness
from harness import EXAMPLES, JUNIPER, need

RESULT_DIGITS = 6
NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_]*|[0-9.]+(?:[eE][-+]?[0-9]+)?")


# ---- arithmetic ----------------------------------------------------------------------------------


class Column(list):
    """Numbers of a table's column, with arithmetic row by row."""

    def _with(self, other, of):
        others = other if isinstance(other, Column) else [other] * len(self)
        need(len(self) == len(others), "columns of different length in one formula")
        return Column(of(a, b) for a, b in zip(self, others))

    def __add__(self, other): return self._with(other, lambda a, b: a + b)
    def __sub__(self, other): return self._with(other, lambda a, b: a - b)
    def __mul__(self, other): return self._with(other, lambda a, b: a * b)
    def __truediv__(self, other): return self._with(other, lambda a, b: a / b)
    def __pow__(self, other): return self._with(other, lambda a, b: a ** b)
    def __radd__(self, other): return self._with(other, lambda a, b: b + a)
    def __rsub__(self, other): return self._with(other, lambda a, b: b - a)
    def __rmul__(self, other): return self._with(other, lambda a, b: b * a)
    def __rtruediv__(self, other): return self._with(other, lambda a, b: b / a)
    def __neg__(self): return Column(-a for a in self)


def each(of):
    return lambda x: Column(of(a) for a in x) if isinstance(x, Column) else of(x)


def pair(of):
    def apply(a, b):
        if isinstance(a, Column):
            return a._with(b, of)
        return b._with(a, of) if isinstance(b, Column) else of(a, b)
    return apply


FUNCTIONS = {"sqrt": each(math.sqrt), "exp": each(math.exp), "ln": each(math.log),
             "log10": each(math.log10), "sin": each(math.sin), "asin": each(math.asin),
             "abs": each(abs), "max": pair(max), "min": pair(min), "sum": math.fsum,
             "pi": math.pi}


def work_out(formula, numbers):
    """The value of a formula; names are looked up, ^ is a power."""
    known = {}

    def name(match):
        word = match.group(0)
        if word[0].isdigit() or word[0] == ".":
            return f"({float(word)!r})"
        if word not in FUNCTIONS:
            need(word in numbers, f"'{word}' of '{formula}' is not put in")
        known[f"v_{word}"] = numbers[word] if word in numbers else FUNCTIONS[word]
        return f"v_{word}"

    text = NAME.sub(name, formula).replace("^", "**")
    return eval(text, {"__builtins__": {}}, known)  # pylint: disable=eval-used


def rounded(value, digits):
    """To so many digits that count, as a decimal."""
    number = Decimal(repr(float(value)))
    if number == 0:
        return Decimal(0)
    return number.quantize(Decimal(1).scaleb(number.adjusted() - digits + 1), ROUND_HALF_EVEN)


def digits_of(printed):
    mantissa = printed.lower().split("e")[0].lstrip("-").replace(".", "").lstrip("0")
    return len(mantissa)


def same(value, printed, digits):
    """Is this the printed number, to its digits? A digit that would round either way may be one off."""
    wanted = Decimal(printed)
    if wanted == 0:
        return abs(value) < 1e-12
    got = rounded(value, digits)
    return abs(got - wanted) <= abs(wanted) * Decimal("1e-11") or abs(
        Decimal(repr(float(value))) - wanted) <= Decimal("0.5001") * Decimal(1).scaleb(
            wanted.adjusted() - digits + 1)


# ---- reading -------------------------------------------------------------------------------------


def leaves(value, path=""):
    """(key, value) of everything in a JSON, lists counted from 0."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from leaves(inner, f"{path}.{key}" if path else key)
    elif isinstance(value, list):
        for i, inner in enumerate(value):
            yield from leaves(inner, f"{path}.{i}" if path else str(i))
    else:
        yield path, value


def matches(pattern, key):
    a, b = pattern.split("."), key.split(".")
    return len(a) == len(b) and all(x in ("*", y) for x, y in zip(a, b))


class Working:
    def __init__(self, h, kiln, *more):
        self.report = json.loads(h.run("estimate", kiln, "--format", "json", *more).out)
        self.json = json.loads(h.run("estimate", kiln, "--working", "--format", "json", *more).out)
        self.text = h.run("estimate", kiln, "--working", *more).out
        self.steps = self.json["steps"]
        self.tables = {t["number"]: t for t in self.json["tables"]}
        self.name = f"{kiln.stem} {' '.join(more)}"

    def column(self, table, symbol, what):
        for column in self.tables[table]["columns"]:
            if column["symbol"] == symbol:
                return Column(float(p) for p in column[what])
        raise harness.Failure(f"{self.name}: table {table} has no column {symbol}")

    def put_in(self, step, what):
        """What a step is made of: as printed, or as the JSON has it."""
        numbers = {}
        for i in step["inputs"]:
            if "table" in i:
                numbers[i["symbol"]] = self.column(i["table"], i["symbol"],
                                                   "printed" if what == "printed" else "values")
            else:
                numbers[i["symbol"]] = float(i[what])
        return numbers


def workings(h):
    for kiln in EXAMPLES:
        yield Working(h, kiln)
    for more in (["--damper", "8%"], ["--damper", "100%"], ["--temperature", "700 degC"],
                 ["--temperature", "420 degC"],
                 ["--set", "model.unmixedness=0", "--temperature", "1280 degC"],
                 ["--set", "stack.heat_loss_ua=20 W/K"]):
        yield Working(h, JUNIPER, *more)


# ---- tests ---------------------------------------------------------------------------------------


def test_every_key_of_the_report_has_its_working(h):
    plain, worked = 0, 0
    for w in workings(h):
        steps = {}
        for s in w.steps:
            for key in s["explains"]:
                steps.setdefault(key, s)
        reasons = {n["key"]: n["reason"] for n in w.json["not_worked"]}
        for key, value in leaves(w.report):
            step = steps.get(key)
            if step is None:
                wild = ".".join(key.split(".")[:-1] + ["*"])
                step = steps.get(wild)
            if step is None:
                reason = next((r for p, r in reasons.items() if matches(p, key)), None)
                need(value is None or reason, f"{w.name}: {key} = {value} has no working")
                plain += 1
                continue
            worked += 1
            if "table" in step:
                row = w.tables[step["table"]]["rows"].index(key.split(".")[-1])
                own = w.column(step["table"], step["symbol"], "values")[row]
            elif step["kind"] == "balance" and (key.startswith("closure.") or
                                                key.startswith("solver.")):
                size = max(abs(step["left"]), abs(step["right"]))
                # Energy is against the heat that comes in.
                if key == "closure.energy":
                    size = w.report["heat_input_net_w"]
                need(abs(step["left"] - step["right"]) <= 1e-8 * size,
                     f"{w.name}: {key} does not close: {step['left']} and {step['right']}")
                continue
            else:
                own = step["value"]
            need(value is not None, f"{w.name}: {key} has a working and no value")
            need(abs(own - value) <= 2e-11 * abs(value) + 1e-300,
                 f"{w.name}: {key} is {value}, its working says {own}")
    need(worked > 1000 and plain > 300, f"only {worked} numbers with a working, {plain} without")


def test_reasons_are_no_way_out(h):
    """A key with a reason to have no working is a word, a count, or what was put in: not a result."""
    w = Working(h, JUNIPER)
    results = [k for k, v in leaves(w.report) if isinstance(v, float) and not k.startswith(
        ("setting.", "assumptions.", "doubt.inputs."))]
    reasons = [n["key"] for n in w.json["not_worked"]]
    excused = [k for k in results if any(matches(p, k) for p in reasons)]
    explained = {k for s in w.steps for k in s["explains"]}
    unexplained = [k for k in excused if k not in explained]
    for key in unexplained:
        need(re.fullmatch(r"datum_height_m|unmixedness|flows\.\d+\.(height_m|dp_pa)", key),
             f"{key} is a result and has no working")


def test_printed_numbers_give_printed_results(h):
    checked = 0
    for w in workings(h):
        for s in w.steps:
            numbers = w.put_in(s, "printed")
            where = f"{w.name}, step {s['number']}, {s['formula']}"
            if s["kind"] == "balance":
                left, right = (work_out(side, numbers) for side in s["formula"].split("="))
                need(same(left, s["left_printed"], RESULT_DIGITS) and
                     same(right, s["right_printed"], RESULT_DIGITS),
                     f"{where}: {left} and {right}, printed {s['left_printed']} and "
                     f"{s['right_printed']}")
                need(abs(left - right) <= 1e-5 * max(abs(left), abs(right), 1e-30),
                     f"{where}: {left} is not {right}")
            elif "table" in s:
                got = work_out(s["formula"], numbers)
                printed = next(c["printed"] for c in w.tables[s["table"]]["columns"]
                               if c["symbol"] == s["symbol"])
                for value, shown in zip(got, printed):
                    need(same(value, shown, max(digits_of(shown), RESULT_DIGITS)),
                         f"{where}: {value}, printed {shown}")
            else:
                got = work_out(s["formula"], numbers)
                need(same(got, s["printed"], RESULT_DIGITS), f"{where}: {got}, printed {s['printed']}")
            checked += 1
    need(checked > 2500, f"only {checked} steps checked")


def test_a_wrong_number_would_be_seen(h):
    """The checks above are able to fail."""
    w = Working(h, JUNIPER)
    seen = 0
    for s in w.steps:
        if s["kind"] != "value" or "table" in s or not s["inputs"] or float(s["printed"]) == 0.0:
            continue
        numbers = w.put_in(s, "printed")
        first = next((i for i in s["inputs"] if "table" not in i and float(i["printed"]) != 0.0), None)
        if first is None:
            continue
        numbers[first["symbol"]] *= 1.0003
        seen += not same(work_out(s["formula"], numbers), s["printed"], RESULT_DIGITS)
    need(seen > 100, f"only {seen} steps notice a number that is off by 3 in 10000")


def test_the_text_prints_what_the_json_says(h):
    for w in workings(h):
        flat = " ".join(w.text.split())
        for s in w.steps:
            head = s["formula"] if s["kind"] == "balance" else f"{s['symbol']} = {s['formula']}"
            need(" ".join(head.split()) in flat, f"{w.name}: the text has no '{head}'")
            if s["kind"] == "balance":
                result = f"left {s['left_printed']}, right {s['right_printed']}"
            elif "table" in s:
                result = f"column {s['symbol']} of table {s['table']}"
            else:
                result = f"{s['symbol']} = {s['printed']} {s['unit']}".strip()
            need(result in flat, f"{w.name}: the text has no '{result}'")
            for i in s["inputs"]:
                if "table" not in i:
                    put = f"{i['symbol']} {i['printed']} {i['unit']}".strip()
                    need(put in flat, f"{w.name}: the text has no '{put}'")
        for t in w.json["tables"]:
            need(f"Table {t['number']}: {t['title']}" in flat, f"{w.name}: no table {t['number']}")
            for c in t["columns"]:
                for shown in c["printed"]:
                    need(shown in flat, f"{w.name}: {shown} of {c['symbol']} is not printed")


def test_steps_follow_from_what_stands_before(h):
    w = Working(h, JUNIPER)
    for s in w.steps:
        for i in s["inputs"]:
            match = re.fullmatch(r"step (\d+)", i["from"])
            if match:
                before = w.steps[int(match.group(1)) - 1]
                need(before["number"] < s["number"], f"step {s['number']} looks ahead")
                need(before["symbol"] == i["symbol"], f"step {s['number']}: {i['symbol']} is from "
                                                      f"step {before['number']}, {before['symbol']}")
            match = re.fullmatch(r"balance (\d+)", i["from"])
            if match:
                balance = w.steps[int(match.group(1)) - 1]
                need(balance["kind"] == "balance" and balance["solved_for"] == i["symbol"],
                     f"{i['symbol']} is said to be found by step {balance['number']}")


def test_what_is_found_by_solving_says_by_which_balance(h):
    w = Working(h, JUNIPER)
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
    need("belongs to sweep" in done.err, str(done))
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


def test_working_and_commands_without_one(h):
    done = h.run("exposure", "--ppm", "50", "--hours", "1", "--working", code=2)
    need("--working belongs to" in done.err, str(done))
    h.run("check", "--keys", "--working", code=2)


if __name__ == "__main__":
    harness.main(__doc__, harness.tests_of(sys.modules[__name__]))
