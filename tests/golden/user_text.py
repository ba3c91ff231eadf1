"""Everything a user can read, as texts with their places: for tests of wording.

Documents, lessons, data and example files with their comments, string literals of the sources, and what the
golden cases print. White space is one blank throughout, so that a phrase is found across line breaks.
"""

import bisect
import re

from harness import ROOT

# What a C file holds beside code: comments, characters, strings and #includes.
C_PARTS = re.compile(r"/\*.*?\*/|//[^\n]*|'(?:\\.|[^'\\\n])+'|\"(?:\\.|[^\"\\\n])*\"|#include[^\n]*", re.S)
ESCAPES = {"n": " ", "t": " ", '"': '"', "\\": "\\", "'": "'"}
# Between two literals that the compiler joins there is white space at most, or a macro of <inttypes.h>.
JOINS = re.compile(r"(?:\s|\bPRI\w+\b)*")


class Text:
    """One piece of text; where() gives the line of a place in it."""

    def __init__(self, name, pieces):
        self.name = name
        self.starts, self.lines, parts, length = [], [], [], 0
        for line, piece in pieces:
            words = " ".join(piece.split())
            if not words:
                continue
            self.starts.append(length)
            self.lines.append(line)
            parts.append(words)
            length += len(words) + 1
        self.text = " ".join(parts)

    def where(self, offset):
        return f"{self.name}:{self.lines[bisect.bisect_right(self.starts, offset) - 1]}"


def literals(source):
    """(line, text) of each string literal; adjacent ones are one."""
    found, end = [], -1
    for part in C_PARTS.finditer(source):
        shown = part.group(0)
        if not shown.startswith('"'):
            continue
        text = re.sub(r"\\(.)", lambda m: ESCAPES.get(m.group(1), " "), shown[1:-1])
        if found and end >= 0 and JOINS.fullmatch(re.sub(r"/\*.*?\*/", " ", source[end:part.start()], flags=re.S)):
            found[-1].append((source.count("\n", 0, part.start()) + 1, text))
        else:
            found.append([(source.count("\n", 0, part.start()) + 1, text)])
        end = part.end()
    return found


def lines_of(path, comment=None):
    text = path.read_text(encoding="utf-8")
    for number, line in enumerate(text.split("\n"), 1):
        yield number, re.sub(comment, "", line) if comment else line


def name_of(path):
    return path.relative_to(ROOT).as_posix()


def documents():
    paths = [ROOT / "README.md", ROOT / "SAFETY.md", *sorted((ROOT / "examples" / "lessons").glob("*.md"))]
    return [Text(name_of(p), lines_of(p)) for p in paths]


def data_files():
    paths = [*sorted((ROOT / "config").glob("*.yaml")), *sorted((ROOT / "examples").glob("*.*")),
             ROOT / "tests" / "support" / "packages.sh"]
    return [Text(name_of(p), lines_of(p, r"^\s*#+")) for p in paths]


def sources():
    texts = []
    for path in sorted((ROOT / "src").rglob("*.[ch]")):
        texts += [Text(name_of(path), pieces) for pieces in literals(path.read_text(encoding="utf-8"))]
    return texts


def golden():
    paths = [p for name in ("stdout", "stderr", "output") for p in (ROOT / "tests" / "golden").glob(f"*/{name}")]
    return [Text(name_of(p), enumerate(p.read_text(encoding="utf-8", errors="replace").split("\n"), 1))
            for p in sorted(paths)]


def everything():
    return documents() + data_files() + sources() + golden()
