"""Line coverage by folder, from gcovr's JSON.

    coverage.py BUILD-FOLDER SOURCE-ROOT

Reads coverage.json and compile_commands.json there. Prints a table of the folders of src/, then the
files that miss most. The exit code is 1 when a folder or the whole has less than is asked for, when
a source file is not built, or when lines are taken out of the count without a reason.
"""
import json
import os
import re
import sys

LEAST_FOLDER = {f"src/{folder}": 95.0 for folder in ("physics", "point", "ware", "room", "study")}
LEAST_ALL = 90.0
# A marker counts as given a reason when words follow it on its line.
MARKER = re.compile(r"(?:GCOVR|LCOV|GCOV)_EXCL_(?:LINE|START|BR_LINE)(.*)")


def folder_of(path):
    return os.path.dirname(path)


def percent(covered, total):
    return 100.0 * covered / total if total else 100.0


def ranges(numbers):
    """1 2 3 7 -> 1-3 7"""
    out = []
    for number in numbers:
        if out and number == out[-1][1] + 1:
            out[-1][1] = number
        else:
            out.append([number, number])
    return " ".join("%d" % a if a == b else "%d-%d" % (a, b) for a, b in out)


def main(arguments):
    if len(arguments) != 2:
        raise SystemExit("usage: coverage.py BUILD-FOLDER SOURCE-ROOT")
    build, root = arguments
    with open(os.path.join(build, "coverage.json"), encoding="utf-8") as file:
        report = json.load(file)
    with open(os.path.join(build, "compile_commands.json"), encoding="utf-8") as file:
        built = {os.path.relpath(entry["file"], root) for entry in json.load(file)}
    files = {}
    for entry in report["files"]:
        if not entry["file"].startswith("src/"):
            continue
        counts = {}
        for line in entry["lines"]:
            # A line may stand more than once; one run of it is enough.
            if not line.get("gcovr/noncode") and not line.get("gcovr/excluded"):
                number = line["line_number"]
                counts[number] = max(counts.get(number, 0), line["count"])
        files[entry["file"]] = counts

    faults = []
    for folder, _, names in os.walk(os.path.join(root, "src")):
        for name in sorted(names):
            path = os.path.relpath(os.path.join(folder, name), root)
            if not name.endswith((".c", ".h")):
                continue
            if name.endswith(".c") and path not in built:
                faults.append("%s is not part of the build, so nothing runs it" % path)
            with open(os.path.join(root, path), encoding="utf-8") as file:
                for number, line in enumerate(file, 1):
                    match = MARKER.search(line)
                    if match and len(re.findall(r"[A-Za-z]+", match.group(1))) < 3:
                        faults.append("%s:%d leaves lines out and does not say why" % (path, number))

    print("%-14s %6s %8s %8s %7s" % ("folder", "lines", "covered", "percent", "least"))
    all_covered = all_total = 0
    for folder in sorted({folder_of(path) for path in files}):
        here = [counts for path, counts in files.items() if folder_of(path) == folder]
        total = sum(len(counts) for counts in here)
        covered = sum(1 for counts in here for count in counts.values() if count)
        all_covered += covered
        all_total += total
        least = LEAST_FOLDER.get(folder)
        share = percent(covered, total)
        print("%-14s %6d %8d %8.1f %7s" % (folder, total, covered, share,
                                         "%.0f" % least if least else ""))
        if least and share < least:
            faults.append("%s: %.1f %% of its lines are run, at least %.0f are asked for" % (
                folder, share, least))
    share = percent(all_covered, all_total)
    print("%-14s %6d %8d %8.1f %7.0f" % ("all", all_total, all_covered, share, LEAST_ALL))
    if share < LEAST_ALL:
        faults.append("all: %.1f %% of the lines are run, at least %.0f are asked for" % (
            share, LEAST_ALL))

    print("\nlines never run, the files with most first")
    missed = sorted(((sorted(n for n, count in counts.items() if not count), path, len(counts))
                     for path, counts in files.items()), key=lambda m: (-len(m[0]), m[1]))
    for numbers, path, total in missed:
        if numbers:
            print("%5.1f  %s: %s" % (percent(total - len(numbers), total), path, ranges(numbers)))
    for fault in faults:
        print("failed: %s" % fault)
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
