"""The lessons of examples/lessons: their parts, and every number in them is what the program says.

document_checks.txt says which number of the JSON each of them is.
"""

import sys

import documents
import harness
from documents import LESSONS, agrees
from harness import ROOT, need


def section(lesson):
    return f"examples/lessons/{lesson.name}"


def test_there_are_six_lessons(_h):
    need(len(LESSONS) == 6, f"{len(LESSONS)} lessons")
    index = (ROOT / "examples" / "lessons" / "README.md").read_text(encoding="utf-8")
    for lesson in LESSONS:
        need(f"({lesson.name})" in index, f"{lesson.name} is not in the list")
        title = lesson.read_text(encoding="utf-8").split("\n")[0].split(". ", 1)[1]
        need(f"[{title}]" in index, f"the list has another title for {lesson.name}")


def test_answers_are_what_the_program_says(h):
    count, sections = 0, documents.checks()
    for lesson in LESSONS:
        text = lesson.read_text(encoding="utf-8")
        lines = documents.commands(text)
        need(len(lines) >= 2, f"{lesson.name} has too few commands")
        need(section(lesson) in sections, f"{lesson.name} has no checks")
        rows = sections[section(lesson)][1]
        count += documents.check(text, documents.Answers(h, lines), rows, lesson.name)
    need(count >= 50, f"only {count} checked numbers")


def test_every_lesson_has_its_parts(_h):
    for lesson in LESSONS:
        text = lesson.read_text(encoding="utf-8")
        number = lesson.name[0]
        need(text.startswith(f"# {number}. "), f"{lesson.name} begins otherwise")
        for part in ("**Question.**", "**Type**", "**Look at**", "**Answer.**", "**In the kiln.**"):
            need(part in text, f"{lesson.name} has no {part}")
        need(not harness.JUDGEMENT.search(text), f"{lesson.name} holds a word it must not")


def test_lessons_read_as_plain_text(_h):
    for path in sorted((ROOT / "examples" / "lessons").glob("*.md")):
        need("<!--" not in path.read_text(encoding="utf-8"), f"{path.name} holds a comment")


def test_the_first_three_are_short(_h):
    """Fifteen minutes, and no physics."""
    words = 0
    for lesson in LESSONS[:3]:
        text = lesson.read_text(encoding="utf-8")
        words += len(text.split())
        for term in ("enthalpy", "stoichiometric", "equivalence", "equilibrium", "gauge", "molar",
                     "density", "zeta", "coefficient"):
            need(term not in text.lower(), f"{lesson.name} says '{term}'")
    need(words < 1300, f"{words} words in the first three lessons")


def test_a_wrong_answer_would_be_seen(h):
    need(agrees("84.4", 84.43) and not agrees("84.4", 84.46), "numbers are not looked at closely")
    need(agrees("light", "light") and not agrees("light", "medium"), "words are not looked at")
    answers = documents.Answers(h, ["damperwise estimate examples/juniper-flat.yaml"])
    documents.check("fired at 20 kPa", answers, [("at {20} kPa", "1:setting.gas_pressure_pa/1000")], "x")
    for text, phrase in (("at 21 kPa", "at {21} kPa"), ("20 kPa", "at {20} kPa"), ("at 20 kPa at 20 kPa", "at {20} kPa"),
                         ("at 20 kPa", "at 20 kPa")):
        try:
            documents.check(text, answers, [(phrase, "1:setting.gas_pressure_pa/1000")], "x")
        except harness.Failure:
            continue
        need(False, f"'{phrase}' of '{text}' passes")


if __name__ == "__main__":
    harness.main(__doc__, harness.tests_of(sys.modules[__name__]))
