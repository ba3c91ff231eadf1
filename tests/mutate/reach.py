"""Which test executes which line: the library built once more with --coverage, each test run alone.

A set of lines is a whole number with the bit of each line set, so that a few hundred tests by a
hundred files stay small. Built without optimisation, so that every line has its own count.
"""

import json
import os
import subprocess
from dataclasses import dataclass, field


@dataclass
class File:
    """What is known of one source file."""
    lines: int = 0                                  # the lines that have a count
    functions: dict = field(default_factory=dict)   # (first, last): lines of its own


def read_counts(folder):
    """{file: (lines with a count, lines executed, [(first, last)])} of a folder of .gcda files."""
    found = {}
    counts = sorted(p.relative_to(folder).as_posix() for p in folder.rglob("*.gcda"))
    if not counts:
        return found
    done = subprocess.run([os.environ.get("GCOV", "gcov"), "--json-format", "--stdout", *counts],
                          cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True,
                          check=True)
    for text in done.stdout.splitlines():
        for item in json.loads(text)["files"]:
            name = item["file"]
            if not name.endswith(".c"):
                continue
            known = executed = 0
            for line in item["lines"]:
                bit = 1 << line["line_number"]
                known |= bit
                if line["count"]:
                    executed |= bit
            found[name] = (known, executed,
                           [(f["start_line"], f["end_line"]) for f in item["functions"]])
    return found


class Reach:
    """Adds up what read_counts() finds; says which lines decide whether a test runs an edit."""

    def __init__(self):
        self.files = {}

    def add(self, counts):
        """Takes in one test's counts; {file: lines executed}."""
        for name, (known, _, functions) in counts.items():
            file = self.files.setdefault(name, File())
            file.lines |= known
            for span in functions:
                file.functions[span] = True
        return {name: executed for name, (_, executed, _) in counts.items() if executed}

    def lines_of(self, name, line):
        """The lines of which one must be executed for an edit at that line to matter; 0: none is known.

        A line with a count stands for itself. Others, such as the second line of a long expression,
        go with the nearest lines that have one before and behind it in their function. What stands
        outside all functions, such as a table, goes with every line of the file.
        """
        file = self.files.get(name)
        if file is None:
            return 0
        inside = [span for span in file.functions if span[0] <= line <= span[1]]
        if not inside:
            return file.lines
        if file.lines >> line & 1:
            return 1 << line
        first, last = max(inside)
        found = 0
        for step, end in ((-1, first - 1), (1, last + 1)):
            at = line
            while at != end and not file.lines >> at & 1:
                at += step
            if at != end:
                found |= 1 << at
        return found
