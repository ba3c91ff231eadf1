"""What comes from outside: options, names of files and names in files that are not meant well.

    python3 tests/golden/test_outside.py --program PATH [TEST...]
"""

import csv
import io
import json
import os
import re
import shutil
import sys

sys.dont_write_bytecode = True  # the tree stays as it is

from harness import JUNIPER, ROOT, main, need, tests_of  # noqa: E402

# Whatever a terminal could obey: control characters but the line break, those of two bytes in UTF-8 too.
STEERS = re.compile("[\x00-\x09\x0b-\x1f\x7f\x80-\x9f\ufffd]")
EVIL = "\x1b[31m\x07\x7f\u009b2J"
SHOWN = r"\x1b[31m\x07\x7f\x9b2J"
COMMANDS = ("estimate", "sweep", "check", "room", "exposure", "why", "oxides", "ladder")


# ---- options -------------------------------------------------------------------------------------


def test_help_of_no_command_is_wrong_usage(h):
    for words, said in ((("nonsense", "--help"), "unknown command 'nonsense'"),
                        (("--help", "nonsense"), "unknown command 'nonsense'"),
                        (("estimte", "--help"), "did you mean 'estimate'?"),
                        ((JUNIPER, "--help"), "unknown command")):
        done = h.run(*words, code=2)
        need(done.out == "" and said in done.err, f"{done}: says not {said!r}")
    for command in COMMANDS:
        done = h.run(command, "--help")
        need(f"damperwise {command}" in done.out and done.err == "", f"{done}")
    need("Commands:" in h.run("--help").out, "no general help")


def test_a_single_hyphen_is_named(h):
    for words, said in ((("estimate", JUNIPER, "-damper", "40%"), "'-damper', did you mean '--damper'"),
                        (("estimate", JUNIPER, "-damper=40%"), "'-damper=40%', did you mean '--damper'"),
                        (("estimate", "-damper", "40%", JUNIPER), "'-damper', did you mean '--damper'"),
                        (("-help",), "'-help', did you mean '--help'"),
                        (("estimate", JUNIPER, "-dampr", "40%"), "'-dampr', did you mean '--damper'"),
                        (("estimate", JUNIPER, "-x"), "unknown option '-x'; options begin with two hyphens"),
                        (("estimate", JUNIPER, "-x", "-damper"), "unknown option '-x'")):
        done = h.run(*words, code=2)
        need(said in done.err, f"{done}: says not {said!r}")
        need("juniper" not in done.err, f"{done}: blames the kiln")


def test_a_value_in_two_words_is_explained(h):
    done = h.run("estimate", JUNIPER, "--damper", "40", "%", code=2)
    need("'%' is one word too many" in done.err and "quotes" in done.err, f"{done}")


# ---- terminals -----------------------------------------------------------------------------------


def need_harmless(done, said=SHOWN):
    for text in (done.out, done.err):
        found = STEERS.search(text)
        need(not found, f"{done}: {found and found.group(0)!r} reaches the terminal")
    need(said in done.out + done.err, f"{done}: the escape is not to be seen")


def test_arguments_cannot_steer_a_terminal(h):
    for words in ((EVIL,), ("--" + EVIL,), ("-" + EVIL,), (EVIL, "--help"), ("estimate", EVIL),
                  ("estimate", JUNIPER, EVIL), ("estimate", JUNIPER, "--format", EVIL),
                  ("estimate", JUNIPER, "--set", EVIL), ("estimate", JUNIPER, "--set", EVIL + "=1"),
                  ("estimate", JUNIPER, "--output", EVIL + "/x"), ("sweep", JUNIPER, "--vary", EVIL),
                  ("sweep", JUNIPER, "--at-point", EVIL), ("estimate", JUNIPER, "--config", EVIL),
                  ("exposure", "--series", EVIL), ("why", EVIL), ("estimate", JUNIPER, "--units", EVIL)):
        done = h.run(*words, code=None)
        need(done.code in (2, 3, 5), f"{done}")
        need_harmless(done)
    # Values are shown as far as their kind of message shows them.
    for words in (("estimate", JUNIPER, "--damper", EVIL), ("exposure", "--ppm", EVIL, "--hours", "1"),
                  ("sweep", JUNIPER, "--vary", "damper=" + EVIL), ("oxides", "--at", EVIL, "--volts", "0.6"),
                  ("oxides", JUNIPER, "--glaze", EVIL), ("exposure", "--ppm", "9", "--hours", "1", "--sex", EVIL)):
        done = h.run(*words, code=3)
        need_harmless(done, "")
    # Bytes that are not UTF-8: half of a character, a control character of one byte.
    for bad in (b"\xff\x9b2J", b"\xc3"):
        done = h.run("estimate", JUNIPER, os.fsdecode(bad), code=2)
        need_harmless(done, r"\x" + bad[:1].hex())


def test_file_names_cannot_steer_a_terminal(h):
    folder = h.folder("names")
    kiln, series, wrong = folder / (EVIL + ".yaml"), folder / (EVIL + ".csv"), folder / (EVIL + "w.yaml")
    shutil.copy(JUNIPER, kiln)
    shutil.copy(ROOT / "examples" / "helper-headache.csv", series)
    wrong.write_text("damperwise: 1\nkilm: {}\n")
    need_harmless(h.run("estimate", wrong, code=3))
    for layout in ("text", "csv"):
        for words in (("estimate", kiln), ("check", kiln), ("exposure", "--series", series)):
            done = h.run(*words, "--format", layout)
            need(layout == "csv" or not STEERS.search(done.out), f"{done}: a control character")
            need(not STEERS.search(done.err), f"{done}: a control character")
    need_harmless(h.run("estimate", kiln, "--output", kiln, code=5))


def with_name(name):
    return JUNIPER.read_text(encoding="utf-8").replace("Juniper Flat community kiln", json.dumps(name))


def test_names_in_a_file_cannot_steer_a_terminal(h):
    for words in (("estimate",), ("check",), ("sweep", "--vary", "damper=40%"), ("oxides",), ("ladder",)):
        done = h.run(*words, "-", stdin=with_name("kiln \x1b[31m"), code=None)
        need(done.code in (0, 3), f"{done}")
        need_harmless(done, r"\x1b[31m")


# ---- spreadsheets --------------------------------------------------------------------------------


def test_a_name_is_no_formula(h):
    for name in ("=1+1", "+A1", "-A1", "@SUM(A1)", "=cmd|' /C calc'!A0"):
        text = with_name(name)
        for words in (("estimate",), ("check",)):
            out = h.run(*words, "-", "--format", "csv", stdin=text).out
            fields = [f for row in csv.reader(io.StringIO(out, newline="")) for f in row]
            need("'" + name in fields, f"{name}: not in the CSV of {words}")
            for field in fields:
                number = re.fullmatch(r"[-+]?[\d.][\w. %/+-]*", field)
                need(not re.match(r"[=+@\t\r-]", field) or number, f"{field!r} in CSV is a formula")
        need(json.loads(h.run("estimate", "-", "--format", "json", stdin=text).out)["kiln"] == name, "JSON too")


if __name__ == "__main__":
    main(__doc__, tests_of(sys.modules[__name__]))
