"""README, SAFETY and the lessons: every command in them is run, and what they show is what is printed.

    python3 tests/golden/test_documents.py --program build/src/damperwise [--rewrite]

With --rewrite the blocks that show a command with its answer take what the program prints now; the numbers that
sentences quote are those of document_checks.txt and stay as they are.
"""

import re
import sys

import documents
import harness
import user_text
from documents import DOCUMENTS, first_screen, shown
from harness import ROOT, need

README = ROOT / "README.md"
SAFETY = ROOT / "SAFETY.md"


def answer_to(h, command):
    return first_screen(h.run(*documents.shlex.split(command)[1:]).out)


def test_every_command_runs(h):
    count = 0
    for path in DOCUMENTS:
        text = path.read_text(encoding="utf-8")
        for line in documents.commands(text):
            need(h.run(*documents.shlex.split(line)[1:]).out, f"{path.name}: '{line}' prints nothing")
            count += 1
        for words in documents.spans(text):
            need(h.run(*words).out, f"{path.name}: {words} prints nothing")
            count += 1
    need(count >= 30, f"only {count} commands")


def test_what_is_shown_is_what_is_printed(h):
    blocks = 0
    for path in DOCUMENTS:
        for _, command, output in shown(path.read_text(encoding="utf-8")):
            need(output == answer_to(h, command), f"{path.name}: '{command}' prints something else; see --rewrite")
            blocks += 1
    need(blocks >= 2, f"only {blocks} answers are shown")


def test_quoted_numbers(h):
    """Of README and of the texts of `why`; those of the lessons are in test_lessons.py."""
    count = 0
    for name, (lines, rows) in documents.checks().items():
        if name.startswith("why "):
            text = " ".join(h.run(*name.split()).out.split())
        elif name.startswith("examples/lessons/"):
            continue
        else:
            text = (ROOT / name).read_text(encoding="utf-8")
            lines = documents.commands(text)
        count += documents.check(text, documents.Answers(h, lines), rows, name)
    need(count >= 15, f"only {count} checked numbers")


def test_the_description_in_short_is_one(h):
    text = README.read_text(encoding="utf-8")
    block = re.search(r"```yaml\n(.*?)```", text, re.S).group(1)
    h.run("check", "-", stdin=block)
    solved = h.run("estimate", "-", "--format", "json", stdin=block)
    need('"solved": true' in solved.out, "the description in short is not solved")


def test_the_reading_guide_fits_the_screen(_h):
    """Each line of the screen that the guide explains is there, by its label."""
    text = README.read_text(encoding="utf-8")
    screen = shown(text)[0][2]
    guide = text.split("How to read it")[1].split("After the first screen")[0]
    labels = re.findall(r"^- \*\*(.+?)\*\*", guide, re.M)
    need(len(labels) >= 5, f"the guide explains {labels}")
    for label in labels:
        need(re.search(rf"^{re.escape(label)}\b", screen, re.M), f"no line of the screen begins with '{label}'")


def test_ten_things_to_measure(_h):
    text = README.read_text(encoding="utf-8")
    rows = re.findall(r"^\| (\d+) \| \*\*(.+?)\*\*.*? \| (.+?) \| (.+?) \|$", text, re.M)
    need([int(r[0]) for r in rows] == list(range(1, 11)), f"rows {[r[0] for r in rows]}")
    first = text.split("\n## ")[0]
    for word in ("day and a half", "damper", "blind", "carbon monoxide", "SAFETY.md"):
        need(word in first, f"the opening does not say '{word}'")


def limits():
    """[(body, ppm, time, provenance)] of config/co.yaml."""
    text = (ROOT / "config" / "co.yaml").read_text(encoding="utf-8")
    return re.findall(r"\{body: ([^,]+), .*? over: ([^,]+), ppm: ([\d.]+),.*? provenance: (\w+),", text)


def test_safety_names_every_level(_h):
    """No verdict of `room` cites a level that SAFETY does not have, nor one marked otherwise."""
    rows = [line.strip("| ").split(" | ") for line in SAFETY.read_text(encoding="utf-8").splitlines()
            if re.match(r"\|.*\d+ (?:over|at) ", line)]
    found = limits()
    need(len(found) >= 38, f"only {len(found)} limits are read")
    for body, over, ppm, provenance in found:
        level = f"{ppm} at any time" if over == "any time" else f"{ppm} over {over}"
        name = body.split(" (")[0]
        hits = [r for r in rows if re.match(rf"{re.escape(name)}\b", r[0]) and
                re.search(rf"(?<![\d.]){re.escape(level)}\b", r[1]) and provenance in r[2]]
        need(hits, f"SAFETY has no row for {body}: {level}, {provenance}")


def section(text, heading):
    return re.split(r"^## ", text.split(f"\n## {heading}\n")[1], flags=re.M)[0]


def test_safety_people_first_then_the_gas(_h):
    text = SAFETY.read_text(encoding="utf-8")
    for heading in ("If someone feels ill, or an alarm sounds", "If you smell gas",
                    "If gas burns where it should not", "If the power, a fan or the compressed air fails"):
        steps = re.findall(r"^\d+\. (.+?)(?=^\d+\. |\n\n|\Z)", section(text, heading), re.M | re.S)
        need(len(steps) >= 3, f"'{heading}' has {len(steps)} steps")
        need(re.search(r"\b[Ee]verybody\b", steps[0]), f"'{heading}' does not begin with people: {steps[0]}")
        need(re.search(r"\b[Ss]hut the\b.*\b(?:gas|valve)\b", steps[1], re.S), f"'{heading}': second is {steps[1]}")
    fire = " ".join(section(text, "If gas burns where it should not").split())
    need("Do not put out gas that is burning while it still flows" in fire, "gas fires are put out")
    pupils = section(text, "Pupils, visitors and helpers")
    need("line on the floor" in pupils, "pupils and visitors are not kept away")
    lighting = section(text, "Lighting, and relighting")
    need(lighting.index("**Purge**") < lighting.index("warm a cold stack") < lighting.index("Flame first"),
         "a cold stack is warmed at another time")


def rewrite(h):
    for path in DOCUMENTS:
        old = text = path.read_text(encoding="utf-8")
        for block, command, _ in shown(text):
            new = f"{documents.PROMPT}{command}\n\n{answer_to(h, command)}"
            text = text.replace(f"```\n{block}```", f"```\n{new}```")
        if text != old:
            path.write_text(text, encoding="utf-8")
            print(f"rewrote {user_text.name_of(path)}")


if __name__ == "__main__":
    if "--rewrite" in sys.argv:
        sys.argv.remove("--rewrite")
        harness.main(__doc__, [rewrite])
    harness.main(__doc__, harness.tests_of(sys.modules[__name__]))
