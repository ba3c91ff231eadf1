"""What the tests of the working share: formulas worked out by Python, a working read from JSON and
text, and what must hold of any.

The formulas are worked out here, not by the program.
"""

import json
import math
import re
from decimal import ROUND_HALF_EVEN, Decimal

import harness
from harness import need

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
    def __rpow__(self, other): return self._with(other, lambda a, b: b ** a)
    def __neg__(self): return Column(-a for a in self)


def each(of):
    return lambda x: Column(of(a) for a in x) if isinstance(x, Column) else of(x)


def pair(of):
    def apply(a, b):
        if isinstance(a, Column):
            return a._with(b, of)
        return b._with(a, of) if isinstance(b, Column) else of(a, b)
    return apply


def betainc(x, a, b):
    """Regularised incomplete beta function by its continued fraction."""
    if isinstance(x, Column):
        return Column(betainc(*row) for row in zip(x, *(
            c if isinstance(c, Column) else [c] * len(x) for c in (a, b))))
    if x > (a + 1) / (a + b + 2):
        return 1.0 - betainc(1.0 - x, b, a)
    front = math.exp(math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) +
                     b * math.log1p(-x)) / a
    value, c, d = 1.0, 1.0, 0.0
    for i in range(20001):
        m = i // 2
        if i == 0:
            term = 1.0
        elif i % 2 == 0:
            term = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        else:
            term = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        d = 1.0 / (1.0 + term * d)
        c = 1.0 + term / c
        value *= c * d
        if i > 1 and abs(1.0 - c * d) < 1e-15:
            break
    return front * (value - 1.0)


FUNCTIONS = {"sqrt": each(math.sqrt), "exp": each(math.exp), "ln": each(math.log),
             "log10": each(math.log10), "sin": each(math.sin), "asin": each(math.asin),
             "abs": each(abs), "max": pair(max), "min": pair(min), "sum": math.fsum,
             "largest": max, "betainc": betainc, "pi": math.pi}


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
    """Digits that count; noughts at the end of a whole number may be there to fill its places."""
    mantissa = printed.lower().split("e")[0].lstrip("-")
    if "." not in mantissa:
        mantissa = mantissa.rstrip("0")
    return len(mantissa.replace(".", "").lstrip("0"))


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
    """A report, the working of it as JSON, and the same as text."""

    def __init__(self, h, *args):
        self.name = " ".join(str(getattr(a, "stem", a)) for a in args)
        self.report = json.loads(h.run(*args, "--format", "json").out)
        self.json = json.loads(h.run(*args, "--working", "--format", "json").out)
        self.text = h.run(*args, "--working").out
        self.steps = self.json["steps"]
        self.tables = {t["number"]: t for t in self.json["tables"]}

    def column(self, table, symbol, what):
        """The last column of that name: a table may use one twice."""
        for column in reversed(self.tables[table]["columns"]):
            if column["symbol"] == symbol:
                return Column(float(p) if p != "-" and p is not None else math.nan
                              for p in column[what])
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

    def row_keys(self, table):
        return self.tables[table].get("row_keys", self.tables[table]["rows"])

    def explained(self):
        """Every key that has a step: (step, row of its table or None)."""
        keys = {}
        for step in self.steps:
            for key in step["explains"]:
                if "*" not in key:
                    keys.setdefault(key, (step, None))
                    continue
                need("table" in step, f"{self.name}: {key} of step {step['number']}, which is no column")
                for row, own in enumerate(self.row_keys(step["table"])):
                    if own != "":
                        keys.setdefault(key.replace("*", own), (step, row))
        return keys

    def printed_column(self, step):
        return next(c["printed"] for c in reversed(self.tables[step["table"]]["columns"])
                    if c["symbol"] == step["symbol"])

    def value_of(self, step, row):
        """What a step gives, by the JSON."""
        if row is None:
            return step["value"]
        symbol = step["symbol"] if step["kind"] == "value" else step["solved_for"]
        return self.column(step["table"], symbol, "values")[row]


# ---- what holds of any working -------------------------------------------------------------------

# Keys that are what is left of a balance: the working shows both its sides.
CLOSURES = re.compile(r"closure\..*|solver\..*|room\.closure_co")


# Dry gas has no water, and the report no key for it.
NO_KEY = {"gas_dry.H2O"}


def check_keys(w, energy=None):
    """Every key has its step, with the report's number, or a reason. Returns how many have which."""
    plain, worked = 0, 0
    explained = w.explained()
    reasons = {n["key"]: n["reason"] for n in w.json["not_worked"]}
    keys = dict(leaves(w.report))
    for key, value in keys.items():
        if key not in explained:
            reason = next((r for p, r in reasons.items() if matches(p, key)), None)
            need(value is None or reason, f"{w.name}: {key} = {value} has no working")
            plain += 1
            continue
        worked += 1
        step, row = explained[key]
        need(value is not None, f"{w.name}: {key} has a working and no value")
        if CLOSURES.fullmatch(key):
            size = max(abs(step["left"]), abs(step["right"]))
            # Energy is against the heat that comes in.
            if key == "closure.energy":
                size = energy
            need(abs(step["left"] - step["right"]) <= 1e-8 * size,
                 f"{w.name}: {key} does not close: {step['left']} and {step['right']}")
            continue
        own = w.value_of(step, row)
        need(abs(own - value) <= 2e-11 * abs(value) + 1e-300,
             f"{w.name}: {key} is {value}, its working says {own}")
    for key in explained:
        need(key in keys or key in NO_KEY, f"{w.name}: {key} has a working and is not in the report")
    return worked, plain


def check_reasons(w, allowed):
    """A number with a reason to have no working is one of those few that are allowed."""
    explained = w.explained()
    reasons = [n["key"] for n in w.json["not_worked"]]
    for key, value in leaves(w.report):
        if not isinstance(value, float) or key in explained:
            continue
        if any(matches(p, key) for p in reasons):
            need(any(re.fullmatch(p, key) for p in allowed),
                 f"{w.name}: {key} is a result and has no working")


def _check_sides(where, left, right, left_printed, right_printed):
    need(same(left, left_printed, RESULT_DIGITS) and same(right, right_printed, RESULT_DIGITS),
         f"{where}: {left} and {right}, printed {left_printed} and {right_printed}")
    need(abs(left - right) <= 1e-5 * max(abs(left), abs(right), 1e-30),
         f"{where}: {left} is not {right}")


def as_column(value, rows):
    return value if isinstance(value, Column) else Column([value] * rows)


def check_arithmetic(w):
    """Printed numbers give printed results. Returns how many steps were worked out."""
    for s in w.steps:
        numbers = w.put_in(s, "printed")
        where = f"{w.name}, step {s['number']}, {s['formula']}"
        if s["kind"] == "balance":
            left, right = (work_out(side, numbers) for side in s["formula"].split("="))
            if "table" not in s:
                _check_sides(where, left, right, s["left_printed"], s["right_printed"])
                continue
            rows = len(s["left_printed"])
            sides = zip(as_column(left, rows), as_column(right, rows), s["left_printed"],
                        s["right_printed"])
            for row, (a, b, a_printed, b_printed) in enumerate(sides):
                _check_sides(f"{where}, row {row}", a, b, a_printed, b_printed)
        elif "table" in s:
            printed = w.printed_column(s)
            for value, shown in zip(as_column(work_out(s["formula"], numbers), len(printed)),
                                    printed):
                need(same(value, shown, max(digits_of(shown), RESULT_DIGITS)),
                     f"{where}: {value}, printed {shown}")
        else:
            got = work_out(s["formula"], numbers)
            need(same(got, s["printed"], RESULT_DIGITS), f"{where}: {got}, printed {s['printed']}")
    return len(w.steps)


def shown_rows(w, values, words):
    """What people see of a column: all of it, or both ends and how many are left out."""
    if len(values) <= 60:
        return values
    need(f"({len(values) - 30}" in words, f"{w.name}: {len(values) - 30} rows are not said to be left out")
    return values[:20] + values[-10:]


def check_text(w):
    """The text prints what the JSON says."""
    flat = " ".join(w.text.split())
    words = set(w.text.split())
    for s in w.steps:
        head = s["formula"] if s["kind"] == "balance" else f"{s['symbol']} = {s['formula']}"
        need(" ".join(head.split()) in flat, f"{w.name}: the text has no '{head}'")
        if s["kind"] == "balance" and "table" in s:
            result = f"for each row, with {s['solved_for']} from table {s['table']}"
            for shown in (shown_rows(w, s["left_printed"], words) +
                          shown_rows(w, s["right_printed"], words)):
                need(shown in words, f"{w.name}: {shown} of step {s['number']} is not printed")
        elif s["kind"] == "balance":
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
            for shown in shown_rows(w, c["printed"], words):
                need(shown in words, f"{w.name}: {shown} of {c['symbol']} is not printed")


def check_order(w):
    """Steps follow from what stands before."""
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


def check_width(w):
    """Everything fits a screen but a formula, which is in one piece, and a number with its unit."""
    formulas = {" ".join(s["formula"].split()) for s in w.steps}
    for line in w.text.split("Keys of the JSON without a working")[0].splitlines():
        need(len(line) <= 80 or any(f in line for f in formulas),
             f"{w.name}: longer than 80 columns: {line}")


def count_noticed(w, factor):
    """Steps that notice a number put in that is off by a factor: the checks are able to fail."""
    seen = 0
    for s in w.steps:
        if s["kind"] != "value" or "table" in s or not s["inputs"] or float(s["printed"]) == 0.0:
            continue
        first = next((i for i in s["inputs"] if "table" not in i and float(i["printed"]) != 0.0),
                     None)
        if first is None:
            continue
        numbers = w.put_in(s, "printed")
        numbers[first["symbol"]] *= factor
        seen += not same(work_out(s["formula"], numbers), s["printed"], RESULT_DIGITS)
    return seen
