"""No output without its row in the table of outputs: the JSON of every command over all examples is walked, and
the program outputs_ask says which row each key has.
"""

import json
import re
import subprocess
import sys
from pathlib import Path

import harness
from harness import EXAMPLES, JUNIPER, need
from working_sheet import leaves

AT = ["oxides", "--at", "1220 degC"]
SERIES = "examples/helper-headache.csv"
# Inputs under the names and kinds that the description gives them, words beside their numbers.
MIXED = {"inputs.*", "assumptions.*.*", "axes.*.values.*", "rules.*.*"}


def questions():
    """Command of the report, arguments."""
    for kiln in EXAMPLES:
        for command in ("estimate", "check", "room", "oxides", "ladder"):
            yield command, [command, kiln]
        yield "estimate", ["estimate", kiln, "--damper", "1%"]
        yield "room", ["room", kiln, "--damper", "5%"]
        yield "why", ["why", "draft", kiln]
        for command in ("sweep", "room", "oxides"):
            yield command, [command, kiln, "--vary", "damper=5%..95%:45%"]
        yield "oxides", ["oxides", kiln, "--vary", "damper=5%,95%", "--glaze", "transparent"]
    yield "sweep", ["sweep", JUNIPER, "--vary", "damper=20%,40%", "--vary", "gas_pressure=10 kPa,20 kPa"]
    yield "estimate", ["estimate", JUNIPER, "--gas-pressure", "0.1 Pa"]
    yield "exposure", ["exposure", "--ppm", "200", "--hours", "3"]
    yield "exposure", ["exposure", "--series", SERIES, "--symptoms"]
    yield "oxides", [*AT, "--co-co2", "0.12"]
    yield "oxides", [*AT, "--volts", "0.72", "--sensor", "zirconia"]
    yield "oxides", ["oxides", "--at", "900..1250:50 degC", "--co-co2", "0.12", "--glaze", "transparent"]
    yield "why", ["why", "draft"]
    yield "why", ["why", "--list"]
    yield "check --keys", ["check", "--keys"]


def reports(h):
    """Command and JSON of everything that can be asked; what a kiln cannot be asked is left out."""
    for command, args in questions():
        done = h.run(*args, "--format", "json", code=None)
        if done.out:
            yield command, json.loads(done.out)


def without_axes(report):
    """A sweep begins its rows with the inputs that were varied, by their own names."""
    for row in report.get("rows") or []:
        for key in list(row):
            if key in ("solved", "word", "temperature_k"):
                break
            del row[key]
    return report


def ask(h, keys):
    """Key of the row, kind and unit for each (command, key)."""
    program = Path(h.program).parent.parent / "tests" / "outputs_ask"
    text = "".join(f"{command}\t{key}\n" for command, key in keys)
    out = subprocess.run([program], input=text, text=True, check=True, stdout=subprocess.PIPE).stdout
    answers = [tuple(line.split("\t")) for line in out.splitlines()]
    need(len(answers) == len(keys), f"{len(answers)} answers to {len(keys)} keys")
    return answers


def kind_of(value):
    return ("yes or no" if isinstance(value, bool) else "count" if isinstance(value, int)
            else "number" if isinstance(value, float) else "word")


def look(found):
    """Names every key without a row, and every value of another kind than its row says."""
    wrong, groups, nulls = [], set(), []
    for (command, key), (row, kind, _), value in found:
        if row == "-":
            if value is None:
                nulls.append((command, key))
            else:
                wrong.append(f"{command}: {key} has no row")
            continue
        steps = row.split(".")
        groups.update((command, ".".join(steps[:i])) for i in range(1, len(steps)))
        if value is not None and row not in MIXED and kind != kind_of(value):
            wrong.append(f"{command}: {key} is {value!r}, its row says {kind}")
    # A group that is not there at this setting is null in one piece.
    wrong.extend(f"{command}: {key} is null and has no row" for command, key in nulls
                 if (command, key) not in groups)
    return wrong


def walk(h, all_reports):
    keys, values = [], []
    for command, report in all_reports:
        for key, value in leaves(without_axes(report)):
            keys.append((command, key))
            values.append(value)
    return list(zip(keys, ask(h, keys), values))


def test_every_output_has_its_row(h):
    found = walk(h, reports(h))
    need(len(found) > 10000, f"only {len(found)} outputs")
    need({command for (command, _), _, _ in found} ==
         {"estimate", "sweep", "check", "check --keys", "room", "exposure", "why", "oxides", "ladder"},
         "a command is missing")
    wrong = look(found)
    need(not wrong, "\n".join(sorted(set(wrong))[:20]))


def test_an_output_without_a_row_is_seen(h):
    """The check above is able to fail."""
    report = json.loads(h.run("estimate", JUNIPER, "--format", "json").out)
    for change in (lambda r: r.update(made_up=1.5),
                   lambda r: r["closure"].update(made_up=1.5),
                   lambda r: r["flows"][0].update(made_up_pa=1.5),
                   lambda r: r.update(made_up=None),
                   lambda r: r.update(air_ratio="a word"),
                   lambda r: r.update(solved=1.5)):
        changed = json.loads(json.dumps(report))
        change(changed)
        wrong = look(walk(h, [("estimate", changed)]))
        need(len(wrong) == 1, f"{wrong} for one change")
    need(not look(walk(h, [("estimate", report)])), "the report itself is wrong")


def documented(readme):
    """Keys of README's table of what `estimate` gives, which goes on in words for the other commands."""
    section = readme[readme.index("## JSON"):readme.index("`room` gives")]
    return {key for cell in re.findall(r"^\| (`.*?) \|", section, re.MULTILINE)
            for key in re.findall(r"`([a-z0-9_]+)`", cell)}


def test_readme_names_every_key(h):
    readme = (Path(harness.ROOT) / "README.md").read_text(encoding="utf-8")
    report = json.loads(h.run("estimate", JUNIPER, "--format", "json").out)
    keys, listed = set(report), documented(readme)
    need(keys == listed, f"not in README: {sorted(keys - listed)}; in README alone: {sorted(listed - keys)}")
    need("made_up" in documented(readme.replace("| `doubt` |", "| `doubt`, `made_up` |")), "the table is not read")


if __name__ == "__main__":
    harness.main(__doc__, harness.tests_of(sys.modules[__name__]))
