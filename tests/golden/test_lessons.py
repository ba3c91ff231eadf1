"""The lessons of examples/lessons: their commands run, and every marked number is what the program says.

A mark is a comment behind a number or a word of the markdown, `84.4<!-- 1:flue_flow_kg_s*3600 -->`:
`1:` is the first command of the file, `1[2]:` the second row of its sweep, followed by a key of the JSON.
"""

import json
import re
import shlex
import sys

import harness
from harness import ROOT, need

LESSONS = sorted((ROOT / "examples" / "lessons").glob("[1-9]-*.md"))
BLOCK = re.compile(r"```sh\n(.*?)```", re.S)
MARK = re.compile(r"`?([^\s`|(]+?)`?<!-- (.+?) -->")
REFERENCE = re.compile(r"(\d+)(?:\[(\d+)\])?:([A-Za-z_][A-Za-z0-9_.]*)")


def commands(text):
    return [line for block in BLOCK.findall(text) for line in block.splitlines() if line.strip()]


def look_up(value, path):
    for step in path.split("."):
        value = value[int(step)] if isinstance(value, list) else value[step]
    return value


def answer(h, line):
    """The JSON of a command, after it has run as it stands."""
    words = shlex.split(line)
    need(words[0] == "damperwise", f"'{line}' is no command of the program")
    plain = h.run(*words[1:])
    need(plain.out, f"'{line}' says nothing")
    return json.loads(h.run(*words[1:], "--format", "json").out)


def work_out(expression, answers, where):
    def replace(match):
        number, row, key = match.groups()
        need(int(number) <= len(answers), f"{where}: there is no command {number}")
        value = answers[int(number) - 1]
        if row:
            value = value["rows"][int(row) - 1]
        value = look_up(value, key)
        need(value is not None, f"{where}: {key} has no value")
        return repr(value)

    text = REFERENCE.sub(replace, expression)
    return eval(text, {"__builtins__": {}}, {})  # pylint: disable=eval-used


def agrees(printed, value):
    """Within the digits that stand there."""
    if isinstance(value, str):
        return printed == value
    decimals = len(printed.split(".")[1]) if "." in printed else 0
    return abs(float(printed) - value) <= 0.5000001 * 10.0 ** -decimals


def test_there_are_six_lessons(_h):
    need(len(LESSONS) == 6, f"{len(LESSONS)} lessons")
    index = (ROOT / "examples" / "lessons" / "README.md").read_text(encoding="utf-8")
    for lesson in LESSONS:
        need(f"({lesson.name})" in index, f"{lesson.name} is not in the list")


def test_answers_are_what_the_program_says(h):
    marks = 0
    for lesson in LESSONS:
        text = lesson.read_text(encoding="utf-8")
        answers = [answer(h, line) for line in commands(text)]
        need(len(answers) >= 2, f"{lesson.name} has too few commands")
        found = MARK.findall(text)
        need(text.count("<!--") == len(found), f"{lesson.name} has a mark without a number before it")
        for printed, expression in found:
            where = f"{lesson.name}: {printed} ({expression})"
            value = work_out(expression, answers, where)
            need(agrees(printed, value), f"{where}: the program says {value}")
            marks += 1
    need(marks >= 50, f"only {marks} marked numbers")


def test_every_lesson_has_its_parts(_h):
    for lesson in LESSONS:
        text = lesson.read_text(encoding="utf-8")
        number = lesson.name[0]
        need(text.startswith(f"# {number}. "), f"{lesson.name} begins otherwise")
        for part in ("**Question.**", "**Type**", "**Look at**", "**Answer.**", "**In the kiln.**"):
            need(part in text, f"{lesson.name} has no {part}")
        need(not harness.JUDGEMENT.search(text), f"{lesson.name} holds a word it must not")


def test_the_first_three_are_short(_h):
    """Fifteen minutes: what is read, not what the comments hold."""
    words = 0
    for lesson in LESSONS[:3]:
        text = re.sub(r"<!--.*?-->", "", lesson.read_text(encoding="utf-8"))
        words += len(text.split())
        for term in ("enthalpy", "stoichiometric", "equivalence", "equilibrium", "gauge", "molar",
                     "density", "zeta", "coefficient"):
            need(term not in text.lower(), f"{lesson.name} says '{term}'")
    need(words < 1300, f"{words} words in the first three lessons")


def test_a_wrong_answer_would_be_seen(_h):
    need(agrees("84.4", 84.43) and not agrees("84.4", 84.46), "numbers are not looked at closely")
    need(agrees("light", "light") and not agrees("light", "medium"), "words are not looked at")


if __name__ == "__main__":
    harness.main(__doc__, harness.tests_of(sys.modules[__name__]))
