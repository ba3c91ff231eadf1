"""What README, SAFETY and the lessons show: their commands, what they print, and the numbers they quote.

document_checks.txt says where quoted numbers come from. A section is a document, `[README.md]`, whose commands are
numbered in their order, or a term, `[why draft]`, with commands of its own in lines that begin with `$`. A check is

    Fully open, {180} kg go = 1[4]:flue_flow_kg_s*3600

a phrase that the text holds once, with the quoted number or word in braces, and what it has to be: `1:` is the first
command, `1[4]:` the fourth row of its sweep, then a key of the JSON, or `$` and a symbol of the working.
"""

import json
import re
import shlex
from pathlib import Path

from harness import ROOT, need

CHECKS = Path(__file__).with_name("document_checks.txt")
LESSONS = sorted((ROOT / "examples" / "lessons").glob("[1-9]-*.md"))
DOCUMENTS = [ROOT / "README.md", ROOT / "SAFETY.md", ROOT / "examples" / "lessons" / "README.md", *LESSONS]

BLOCK = re.compile(r"^```(?:sh)?\n(.*?)^```$", re.S | re.M)
SPAN = re.compile(r"`(damperwise [^`]+)`")
REFERENCE = re.compile(r"(\d+)(?:\[(\d+)\])?:(\$?[A-Za-z_][A-Za-z0-9_.]*)")
PROMPT = "$ "
# An estimate's first screen ends where this begins.
DETAILS = "\nHazards, warnings and notes\n"
# What a placeholder of a command may be.
PLACEHOLDERS = {"TERM": "draft", "P": "50", "H": "8", "N": "1", "KILN.yaml": "examples/juniper-flat.yaml"}
ROOM_KILN = "examples/room-marlpit-cellar.yaml"


def commands(text):
    """The command lines of the blocks, as they are to be typed."""
    lines = [line for block in BLOCK.findall(text) for line in block.splitlines()]
    lines = [line.removeprefix(PROMPT) for line in lines]
    return [line.split("  #")[0] for line in lines if line.startswith("damperwise ")]


def spans(text):
    """Commands within sentences and tables, with something in the place of their placeholders."""
    found = []
    for span in SPAN.findall(text):
        words = [w.strip("[]") for w in shlex.split(" ".join(span.split()))]
        kiln = ROOM_KILN if words[1] == "room" else PLACEHOLDERS["KILN.yaml"]
        words = [kiln if w == "KILN.yaml" else PLACEHOLDERS.get(w, w) for w in words]
        found.append(words[1:] if len(words) > 2 else [words[1], "--help"])
    return found


def shown(text):
    """[(whole block, command, output)] of the blocks that show a command with what it prints."""
    found = []
    for match in BLOCK.finditer(text):
        block = match.group(1)
        if block.startswith(PROMPT):
            command, _, output = block.partition("\n\n")
            found.append((block, command.removeprefix(PROMPT), output))
    return found


def first_screen(output):
    """What a document shows of an answer."""
    return output.split(DETAILS)[0].rstrip("\n") + "\n"


def look_up(value, path):
    for step in path.split("."):
        value = value[int(step)] if isinstance(value, list) else value[step]
    return value


class Answers:
    """JSON of commands, run when they are asked for."""

    def __init__(self, h, lines):
        self.h = h
        self.words = [shlex.split(line)[1:] for line in lines]
        self.json = {}

    def of(self, number, *more):
        key = (number, *more)
        if key not in self.json:
            self.json[key] = json.loads(self.h.run(*self.words[number - 1], *more, "--format", "json").out)
        return self.json[key]

    def value(self, number, row, key):
        if key.startswith("$"):
            steps = [s for s in self.of(number, "--working")["steps"] if s.get("symbol") == key[1:]]
            return steps[-1]["value"]
        answer = self.of(number)
        return look_up(answer["rows"][int(row) - 1] if row else answer, key)


def work_out(expression, answers, where):
    def replace(match):
        number, row, key = match.groups()
        need(1 <= int(number) <= len(answers.words), f"{where}: there is no command {number}")
        value = answers.value(int(number), row, key)
        need(value is not None, f"{where}: {key} has no value")
        return repr(value)

    text = REFERENCE.sub(replace, expression)
    return eval(text, {"__builtins__": {}}, {})  # pylint: disable=eval-used


def agrees(printed, value):
    """Within the digits that are printed."""
    if isinstance(value, str):
        return printed == value
    decimals = len(printed.split(".")[1]) if "." in printed else 0
    return abs(float(printed) - value) <= 0.5000001 * 10.0 ** -decimals


def checks():
    """{section: ([command], [(phrase, expression)])}"""
    sections = {}
    for line in CHECKS.read_text(encoding="utf-8").splitlines():
        if not line.strip() or line.startswith("#"):
            continue
        if line.startswith("["):
            section = line.strip("[]")
            need(section not in sections, f"two sections {line}")
            sections[section] = ([], [])
        elif line.startswith(PROMPT):
            sections[section][0].append(line.removeprefix(PROMPT))
        else:
            phrase, equals, expression = line.rpartition(" = ")
            need(equals, f"'{line}' is not a check")
            sections[section][1].append((phrase, expression))
    return sections


def check(text, answers, rows, name):
    """Each phrase once in the text, each quoted number what the program says; how many there are."""
    text = " ".join(text.split())
    for phrase, expression in rows:
        where = f"{name}: {phrase} ({expression})"
        quoted = re.findall(r"\{(.+?)\}", phrase)
        need(len(quoted) == 1, f"{where}: one thing in braces")
        plain = phrase.replace("{", "").replace("}", "")
        need(text.count(plain) == 1, f"{where}: the text has this {text.count(plain)} times")
        value = work_out(expression, answers, where)
        need(agrees(quoted[0].strip("`"), value), f"{where}: the program says {value}")
    return len(rows)
