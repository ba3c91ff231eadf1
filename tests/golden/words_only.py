#!/usr/bin/env python3
"""Which golden files changed in more than words since a commit.

    python3 tests/golden/words_only.py BASE [PATH...]

Every number of each golden file, in order, is held against those that the file had at BASE: wording
and line breaks may differ, numbers may not. A line for each file whose numbers differ, with the first
difference; the exit code is 1 when there is one.
"""

import re
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
# A number by itself: not the 2 of CO2, not the hyphen of a word.
NUMBER = re.compile(r"(?<![\w.])[-+]?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?(?![A-Za-z_]\w*\.)")


def git(*words):
    return subprocess.run(["git", "-C", str(ROOT), *words], check=True, capture_output=True).stdout.decode()


def numbers(text):
    return NUMBER.findall(text)


def main(base, paths):
    changed = git("diff", "--name-only", "--diff-filter=M", base, "--", *(paths or [str(HERE)])).split("\n")
    bad = same = 0
    for name in (n for n in changed if n and Path(n).name in ("stdout", "stderr")):
        old, new = numbers(git("show", f"{base}:{name}")), numbers((ROOT / name).read_text())
        if old == new:
            same += 1
            continue
        bad += 1
        at = next((i for i, pair in enumerate(zip(old, new)) if pair[0] != pair[1]), min(len(old), len(new)))
        print(f"{name}: {' '.join(old[at:at + 3]) or '(end)'} -> {' '.join(new[at:at + 3]) or '(end)'}")
    print(f"{same} golden files changed in words alone, {bad} in numbers")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2:]))
