"""Numbers as people read them: no powers of ten, no digits that mean nothing, one system of units.

    python3 tests/golden/test_digits.py --program PATH [TEST...]
"""

import html
import re
import sys

sys.dont_write_bytecode = True  # the tree stays as it is

from harness import EXAMPLES, JUNIPER, main, need, tests_of  # noqa: E402

POWER = re.compile(r"(?<![\w.#])\d+(\.\d+)?[eE][-+]?\d+\b")
# Five digits or more and some of them behind the point: 826.85, 2.3272, 1624.5.
LONG = re.compile(r"(?<![\w.^])(?=[\d.]*\.)(?!0\.)\d(?:\.?\d){4,}(?![\w]|\.\d)|(?<![\w.^])0\.0*[1-9]\d{4,}")
# What a line may hold all the same: a temperature to a tenth, as it was given; the ratio on the screen, whose decimals
# are those of the ratio beside it.
ALLOWED = re.compile(r"\d{4}\.\d\sdeg[CF]|air ratio \d\d\.\d{3} ")
METRIC = re.compile(r"(?<![\w`'])(k?Pa|mbar|mm|cm|m|cm2|m2|m3|m3/h|kg|kg/h|kW|MJ|degC|K|L/min)(?![\w'])")
WITH_ROOM = ("--set", "room.volume=46 m3", "--set", "room.air_changes_per_hour=1.7")
TERMS = ("neutral plane", "draft", "spill", "air ratio", "equivalence ratio", "unmixedness")


def questions(kiln):
    yield ("estimate", kiln)
    yield ("check", kiln)
    yield ("room", kiln) if "room" in kiln.stem else ("room", kiln, *WITH_ROOM)
    yield ("oxides", kiln)
    yield ("ladder", kiln)
    yield ("sweep", kiln, "--vary", "damper=5..95%:30%")
    yield ("estimate", kiln, "--damper", "100%", "--gas-pressure", "300 Pa")
    for term in TERMS:
        yield ("why", term, kiln)


def without_a_kiln():
    yield ("exposure", "--ppm", "60", "--hours", "4")
    yield ("exposure", "--ppm", "1.5", "--hours", "0.25")
    yield ("exposure", "--ppm", "12000", "--hours", "12")
    yield ("oxides", "--at", "1240 degC", "--volts", "0.61")
    yield ("oxides", "--at", "700 degC", "--log-po2", "-0.68")
    yield ("oxides", "--at", "900 degC..1200 degC:100 degC", "--co-co2", "0.0002")


def answers(h, kilns):
    """Every answer as lines of plain text: whatever is not for the eye is taken out of a page."""
    for words in [q for kiln in kilns for q in questions(kiln)] + list(without_a_kiln()):
        for units in ("metric", "us"):
            done = h.run(*words, "--units", units, code=None)
            need(done.code in (0, 4), f"{done}")
            yield done, units, done.out.splitlines()


def page_lines(page):
    page = re.sub(r"<style>.*?</style>", "", page, flags=re.S)
    page = re.sub(r"<(svg|path|rect|line|circle)\b[^>]*>", "", page)
    return [html.unescape(re.sub(r"<[^>]*>", " ", line)) for line in page.splitlines()]


def need_readable(done, lines):
    for line in lines:
        found = POWER.search(line)
        need(not found, f"{done}: a power of ten: {line!r}")
        need("degF_diff" not in line and "degC_diff" not in line, f"{done}: {line!r}")
        found = LONG.search(line)
        need(not found or ALLOWED.search(line), f"{done}: {found and found.group(0)} in {line!r}")


def test_text_has_no_senseless_digits(h):
    for done, _, lines in answers(h, EXAMPLES):
        need_readable(done, lines)


def test_pages_have_no_senseless_digits(h):
    for words in (*questions(JUNIPER), *without_a_kiln()):
        for units in ("metric", "us"):
            done = h.run(*words, "--units", units, "--format", "html", code=None)
            need_readable(done, page_lines(done.out))


def test_labels_are_in_the_units_asked_for(h):
    for kiln in EXAMPLES:
        for words in questions(kiln):
            page = h.run(*words, "--units", "us", "--format", "html", code=None).out
            labels = re.findall(r"<b>(.*?)</b>|<th[^>]*>(.*?)</th>|<h2>(.*?)</h2>", page, re.S)
            need(labels or words[0] == "why", f"{words}: {len(labels)} labels")
            for label in (html.unescape("".join(parts)) for parts in labels):
                need(not METRIC.search(label), f"{words}: {label!r}")


if __name__ == "__main__":
    main(__doc__, tests_of(sys.modules[__name__]))
