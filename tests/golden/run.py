"""Compares the program's output with its own earlier output.

    python3 tests/golden/run.py --program PATH [--rewrite | --self-test] [CASE...]

A case is a folder beside this file:

    args      one argument a line; {tmp} is a scratch folder of this case, {case} the case's folder
    stdin     what standard input holds (optional; else it is empty)
    env       lines NAME=VALUE added to the environment (optional)
    stdout, stderr, exit   what is expected
    output    what is expected in {tmp}/output (only for cases that write it)

The program runs in the source root, so that paths in args and messages are relative to it.

Text has to be the same. Numbers may differ a little, since compilers and libraries round
differently: by 1e-6 of the number, or by one unit of the last printed digit where at least three
digits that count are printed (with fewer, one unit would be as good as another input). Whole
numbers below 100 have to be the same; counts of iterations may differ by 30 per cent; residuals
have to be small on both sides. The version and absolute paths are masked.

What is compared is sameness and not truth: see tests/reference for that.

A self-test is part of every run: expectations are spoiled in several ways, and each spoiled one
has to be refused. The last line says how many cases and self-tests passed and failed.
"""

import argparse
import difflib
import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
TIME_LIMIT_S = 120
RELATIVE = 1e-6
COUNT_SLACK = 0.3
SMALL = 1e-8
STREAMS = ("stdout", "stderr", "exit", "output")
SHOWN_LINES = 12

NUMBER = re.compile(r"(?<![\w.])-?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?(?!\w)")
ROW = '<div class="row"><b>'
COUNT_LINE = re.compile(rf'^(\s*"?(solver[. ])?|{ROW})(density[ _]rounds|pressure[ _]steps)\b')
RESIDUAL_LINE = re.compile(
    rf'^(\s*"?(solver\.)?worst[ _]residual|(  |{ROW})(mass, worst node|elements, worst of)|closure\.'
    rf'|{ROW}(worst residual|energy)</b>|(  |{ROW})CO balance error'
    r'|\s*"(residual_pa|closure_co)"|room\.(residual_pa|closure_co)\b)')
CLOSURE_OPENS = re.compile(r'^(\s*)"closure": \{')
# The energy row of the text has no name of its own: it follows the elements.
ENERGY_ROW = re.compile(r"^  energy {6,}")

VERSION = (
    (re.compile(r"(?m)^damperwise \d+\.\d+\.\d+$"), "damperwise {version}"),
    (re.compile(r'("version": ")\d+\.\d+\.\d+(")'), r"\1{version}\2"),
    (re.compile(r"(?m)^(program\.version,)\d+\.\d+\.\d+(,)"), r"\1{version}\2"),
)


def mask(text, scratch):
    """The text without what differs from machine to machine."""
    text = text.replace(str(scratch), "{tmp}").replace(str(ROOT), "{root}")
    for pattern, replacement in VERSION:
        text = pattern.sub(replacement, text)
    return text


def read(path):
    return path.read_bytes().decode("utf-8", "surrogateescape")


def write(path, text):
    path.write_bytes(text.encode("utf-8", "surrogateescape"))


class Case:
    def __init__(self, folder):
        self.folder = folder
        self.name = folder.name

    def expected(self):
        return {s: read(self.folder / s) for s in STREAMS if (self.folder / s).exists()}

    def run(self, program):
        """What the program says now, as {stream: text}."""
        with tempfile.TemporaryDirectory(prefix="damperwise-golden-") as scratch:
            def fill(text):
                relative = self.folder.relative_to(ROOT).as_posix()
                return text.replace("{tmp}", scratch).replace("{case}", relative)

            args = [fill(line) for line in read(self.folder / "args").split("\n")[:-1]]
            env = {k: v for k, v in os.environ.items() if k != "LANG" and not k.startswith("LC_")}
            env["LC_ALL"] = "C"
            if (self.folder / "env").exists():
                for line in read(self.folder / "env").splitlines():
                    name, _, value = line.partition("=")
                    env[name] = fill(value)
            given = self.folder / "stdin"
            done = subprocess.run([program, *args], cwd=ROOT, env=env, timeout=TIME_LIMIT_S,
                                  input=given.read_bytes() if given.exists() else b"",
                                  stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False)
            actual = {
                "stdout": mask(done.stdout.decode("utf-8", "surrogateescape"), scratch),
                "stderr": mask(done.stderr.decode("utf-8", "surrogateescape"), scratch),
                "exit": f"{done.returncode}\n",
            }
            files = sorted(os.listdir(scratch))
            if files == ["output"]:
                actual["output"] = mask(read(Path(scratch) / "output"), scratch)
            elif files:
                actual["output"] = f"unexpected files: {files}\n"
            return actual


# ---- comparing -----------------------------------------------------------------------------------


def line_kinds(lines):
    """For each line: "count", "residual" or "" by what its numbers are."""
    kinds = []
    closes = None
    for line in lines:
        kind = ""
        if closes is not None:
            kind = "residual"
            if line.startswith(closes):
                closes = None
        elif CLOSURE_OPENS.match(line):
            closes = CLOSURE_OPENS.match(line).group(1) + "}"
        elif COUNT_LINE.match(line):
            kind = "count"
        elif RESIDUAL_LINE.match(line):
            kind = "residual"
        elif ENERGY_ROW.match(line) and kinds and kinds[-1] == "residual":
            kind = "residual"
        kinds.append(kind)
    return kinds


def last_digit(number):
    """One unit of the last printed digit, or 0 when too few digits are printed."""
    mantissa, _, exponent = number.lower().lstrip("-").partition("e")
    whole, _, decimals = mantissa.partition(".")
    if len((whole + decimals).lstrip("0")) < 3:
        return 0.0
    return 10.0 ** (int(exponent or 0) - len(decimals))


def same_number(want, got, kind):
    if want == got:
        return True
    a, b = float(want), float(got)
    if kind == "residual":
        return abs(a) < SMALL and abs(b) < SMALL
    if kind == "count":
        return abs(a - b) <= COUNT_SLACK * abs(a)
    # A little more than one unit: the numbers themselves are binary.
    digit = 1.001 * max(last_digit(want), last_digit(got))
    return abs(a - b) <= max(RELATIVE * max(abs(a), abs(b)), digit)


def same_between(want, got, slack):
    """Text between two numbers; a number that got longer may push the blanks beside it."""
    if want == got:
        return True
    if slack == 0 or abs(len(want) - len(got)) > slack:
        return False
    return re.sub(" +", " ", want).strip() == re.sub(" +", " ", got).strip()


def same_line(want, got, kind):
    if want == got:
        return True
    a, b = NUMBER.findall(want), NUMBER.findall(got)
    if len(a) != len(b) or not all(same_number(x, y, kind) for x, y in zip(a, b)):
        return False
    pieces = list(zip(NUMBER.split(want), NUMBER.split(got)))
    if len(NUMBER.split(want)) != len(NUMBER.split(got)):
        return False
    longer = [abs(len(x) - len(y)) for x, y in zip(a, b)]
    for i, (x, y) in enumerate(pieces):
        slack = sum(longer[max(i - 1, 0):i + 1])
        if not same_between(x, y, slack):
            return False
    return True


def excerpts(want, got):
    """The part of two long lines where they begin to differ."""
    if max(len(want), len(got)) <= 100:
        return want, got
    first = next((i for i, (x, y) in enumerate(zip(want, got)) if x != y), min(len(want), len(got)))
    begin = max(first - 40, 0)
    lead = "..." if begin else ""
    return lead + want[begin:begin + 100], lead + got[begin:begin + 100]


def differences(name, want, got):
    """Readable differences between two texts; an empty list when they are the same."""
    a, b = want.split("\n"), got.split("\n")
    kinds = line_kinds(a)
    if len(a) == len(b):
        bad = [i for i in range(len(a)) if not same_line(a[i], b[i], kinds[i])]
        if not bad:
            return []
        out = []
        for i in bad[:SHOWN_LINES]:
            want, got = excerpts(a[i], b[i])
            out += [f"  {name}:{i + 1}", f"    - {want}", f"    + {got}"]
        if len(bad) > SHOWN_LINES:
            out.append(f"  {name}: {len(bad) - SHOWN_LINES} more lines differ")
        return out
    # Numbers that are alike are made the same first, so that the lines that matter stand out.
    bare = [NUMBER.sub("#", line) for line in a], [NUMBER.sub("#", line) for line in b]
    matcher = difflib.SequenceMatcher(None, *bare, autojunk=False)
    out = [f"  {name}: {len(a) - 1} lines expected, {len(b) - 1} found"]
    for tag, i1, i2, j1, j2 in matcher.get_opcodes():
        if tag != "equal":
            out += [f"  {name}:{i + 1}\n    - {a[i]}" for i in range(i1, i2)]
            out += [f"  {name}:{i1 + 1}\n    + {b[j]}" for j in range(j1, j2)]
    return out[:1 + 2 * SHOWN_LINES]


def compare(expected, actual):
    out = []
    for stream in STREAMS:
        want, got = expected.get(stream), actual.get(stream)
        if want is None and got is None:
            continue
        if want is None or got is None:
            out.append(f"  {stream}: {'not expected' if want is None else 'missing'}")
        else:
            out += differences(stream, want, got)
    return out


# ---- spoiling ------------------------------------------------------------------------------------


def spoil(text, pattern, change):
    """The text with `change` applied to the first match that it changes; None without one."""
    for match in re.finditer(pattern, text):
        new = change(match)
        if new is not None and new != match.group(0):
            return text[:match.start()] + new + text[match.end():]
    return None


def scaled(factor, digits):
    """Scales a number outside the lenient lines that is printed with at least that many digits."""
    def change(match):
        line_start = match.string.rfind("\n", 0, match.start()) + 1
        line = match.string[line_start:match.string.find("\n", match.end())]
        lenient = ("density", "pressure steps", "pressure_steps", "worst", "closure", "energy")
        if "version" in line or any(word in line for word in lenient):
            return None
        number = match.group(0)
        if len(re.sub(r"\D", "", number.lstrip("-0.").partition("e")[0])) < digits:
            return None
        return f"{float(number) * factor:.12g}"
    return change


def drop_line(text):
    lines = text.split("\n")
    for i, line in enumerate(lines):
        if line.strip():
            return "\n".join(lines[:i] + lines[i + 1:])
    return None


def repeat_line(text):
    lines = text.split("\n")
    return None if len(lines) < 2 else "\n".join(lines[:1] + lines)


WORD = r"\b(?:air|kiln|gas|unknown|error|damper|Usage|option)\b"
LONG_NUMBER = r"(?<![\w.])-?\d+\.\d+(?:e[-+]?\d+)?(?![\w.])"
SPOILED = (
    ("a changed word", lambda t: spoil(t, WORD, lambda m: "wrong")),
    ("a number off by 1e-4", lambda t: spoil(t, LONG_NUMBER, scaled(1.0001, 7))),
    ("a number off by 2 per cent", lambda t: spoil(t, LONG_NUMBER, scaled(1.02, 3))),
    ("a changed sign", lambda t: spoil(t, r"(?<![\w.])-(?=\d+\.\d*[1-9])(?!\d\.\de-)", lambda m: "")),
    ("a missing line", drop_line),
    ("an extra line", repeat_line),
    ("null for a number", lambda t: spoil(t, r"(?<=: )-?\d+\.\d+(?=,\n)", lambda m: "null")),
    ("a count off by half", lambda t: spoil(
        t, r'(?<="pressure_steps": )\d+|(?<=pressure steps {20})\d+',
        lambda m: str(int(m.group(0)) * 3 // 2))),
    ("a residual of 1e-3", lambda t: spoil(
        t, r'(?<="mass": )-?\d[-+.e\d]*|(?<=  mass, worst node {18})\d[-+.e\d]*', lambda m: "0.001")),
    ("trailing blank", lambda t: spoil(t, r"(?<=\S)\n", lambda m: " \n")),
)
KEPT = (
    ("a number off by 1e-9", lambda t: spoil(t, LONG_NUMBER, scaled(1 + 1e-9, 12))),
    ("a count off by a tenth", lambda t: spoil(
        t, r'(?<="pressure_steps": )\d+|(?<=pressure steps {20})\d+',
        lambda m: str(int(m.group(0)) * 11 // 10))),
    ("another small residual", lambda t: spoil(
        t, r'(?<="mass": )-?\d[-+.e\d]*|(?<=  mass, worst node {18})\d[-+.e\d]*', lambda m: "-3e-15")),
    ("one unit of the last of three digits", lambda t: spoil(
        t, r"(?<= )\d\d\.\d(?= (?:kW|kg/h)\b)",
        lambda m: f"{float(m.group(0)) + 0.1:.1f}" if float(m.group(0)) < 99.8 else None)),
)


def self_test(runs):
    """Spoils what each case expects. Returns (passed, messages of failures)."""
    passed, failures = 0, []
    used = {name: 0 for name, _ in SPOILED + KEPT}
    for case, actual in runs:
        for stream in ("stdout", "stderr", "output"):
            for name, change in SPOILED + KEPT:
                new = change(actual[stream]) if actual.get(stream) else None
                if new is None:
                    continue
                used[name] += 1
                seen = bool(compare({**actual, stream: new}, actual))
                if seen == any(name == kept for kept, _ in KEPT):
                    verb = "refused" if seen else "not seen"
                    failures.append(f"self-test: {name} was {verb} in {case.name}/{stream}")
        for name, spoiled in (
                ("exit", {**actual, "exit": "1\n"}),
                ("stderr", {**actual, "stderr": actual["stderr"] + "damperwise: more\n"}),
                ("no stdout", {k: v for k, v in actual.items() if k != "stdout"}),
                ("output", {**actual, "output": "other\n"})):
            if not compare(spoiled, actual):
                failures.append(f"self-test: spoiled {name} was not seen in {case.name}")
    for name, count in used.items():
        if count == 0:
            failures.append(f"self-test: no case has a place for {name}")
        elif not any(f": {name} was" in f for f in failures):
            passed += 1
    return passed + (0 if any("spoiled" in f for f in failures) else 1), failures


# ---- running -------------------------------------------------------------------------------------


def rewrite(case, actual):
    """Puts what the program says now in the case; returns whether something moved."""
    moved = False
    for stream in STREAMS:
        path = case.folder / stream
        old = read(path) if path.exists() else None
        new = actual.get(stream)
        if new == old:
            continue
        moved = True
        if new is None:
            path.unlink()
        else:
            write(path, new)
    return moved


def main():
    parser = argparse.ArgumentParser(description="Compares with earlier output.")
    parser.add_argument("--program", required=True, type=Path)
    parser.add_argument("--rewrite", action="store_true", help="take what the program says now")
    parser.add_argument("--self-test", action="store_true", help="only the self-test")
    parser.add_argument("case", nargs="*", help="only these")
    options = parser.parse_args()
    program = str(options.program.resolve())
    if not os.access(program, os.X_OK):
        sys.exit(f"there is no program {program}")

    folders = sorted(path.parent for path in HERE.glob("*/args"))
    if options.case:
        folders = [f for f in folders if f.name in options.case]
    if not folders:
        sys.exit("no case")
    passed, failed, runs = 0, 0, []
    for case in map(Case, folders):
        try:
            actual = case.run(program)
        except subprocess.TimeoutExpired:
            print(f"FAILED {case.name}: not ready after {TIME_LIMIT_S} s")
            failed += 1
            continue
        runs.append((case, actual))
        if options.self_test:
            continue
        expected = case.expected()
        found = compare(expected, actual)
        if not {"stdout", "stderr", "exit"} <= expected.keys():
            found.append("  stdout, stderr and exit have to be there; --rewrite makes them")
        if options.rewrite:
            # What differs in rounding alone stays as it is.
            if found and rewrite(case, actual):
                print(f"rewritten {case.name}")
            passed += 1
            continue
        if found:
            failed += 1
            print(f"FAILED {case.name}  (- expected, + found)")
            print("\n".join(found))
        else:
            passed += 1
    if not options.case:
        good, failures = self_test(runs)
        passed += good
        failed += len(failures)
        for failure in failures:
            print(f"FAILED {failure}")
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
