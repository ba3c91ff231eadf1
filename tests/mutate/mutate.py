"""Tests the tests: changes one thing of the source at a time and looks whether a test turns red.

    sh tests/mutate.sh [--layer physics|model|io|all] [--sample N --seed S] [--file F] [...]

The tree is copied to a scratch folder and built there (see tree.py), and every test is run alone on
a copy that counts lines, each golden case and each function of golden/test_*.py for itself. An edit
(see edits.py) is compiled alone, and the tests that execute its line are run until one fails: those of
the same name first, then those that have caught most in this file, then the quickest. A test that takes
far more time than it did before the edit has failed. An edit on a line that no test executes has
survived. An edit that does not compile, or that the compiler turns into the same object code, is not
counted.

All edits take over an hour on two cores; a seeded sample takes minutes. Survivors are listed with
the reason from survivors.txt where there is one:

    report/show_number.c: text of the line [edit] -> why no test can or need see it

where the file may be a pattern (io/data_*.c), "[edit]" (as printed) may be left out to mean every edit of
such a line, and "[begins...]" means every edit that begins so. A reason does not turn a survivor into
a caught one. The exit code is 1 when a layer's share is below its bar; in a sample,
when it is below by more than two standard errors of that sample, so that a draw does not decide.
"""

import argparse
import concurrent.futures
import fnmatch
import hashlib
import math
import random
import re
import resource
import signal
import sys
import tempfile
import threading
import time
from dataclasses import dataclass
from pathlib import Path

sys.dont_write_bytecode = True
from edits import find_edits  # noqa: E402
from tree import ALIKE, BUDGET_S, CONSISTENCY, FILE_LIMIT, LAYERS, MEMORY_LIMIT, ROOT, RUNS, Tree  # noqa: E402

HERE = ROOT / "tests" / "mutate"
BARS = {"physics": 0.90, "model": 0.90, "io": 0.80}


def say(text):
    print(text, flush=True)


@dataclass(frozen=True)
class Mutant:
    layer: str
    file: str                 # kiln/kiln.c
    edit: object
    line_text: str

    def label(self):
        return f"{self.file}:{self.edit.line}: {self.edit.text}"


def same_name(test, file):
    """Named after the file, or after its family: test_data_slips for data_co.c."""
    stem, name = Path(file).stem, test.name.rsplit("/", 1)[-1].removeprefix("test_")
    family = stem.split("_")[0]
    return stem == name or name.endswith("_" + stem) or name.startswith((stem + "_", family + "_")) or \
        stem.startswith(name + "_")


class Hunt:
    def __init__(self, tree, options):
        self.tree = tree
        self.options = options
        self.lock = threading.Lock()
        self.workers = [tree.dir / f"worker{i}" for i in range(options.jobs)]
        for worker in self.workers:
            worker.mkdir()
            tree.add_program(worker)
        self.seen = set()
        self.original = {}
        self.end = time.monotonic() + options.time_limit if options.time_limit else math.inf

    def order(self, mutant):
        """Tests that execute the line of a mutant, the likeliest to see it first."""
        groups = RUNS[mutant.layer]
        lines = self.tree.reach.lines_of(mutant.file, mutant.edit.line)
        tests = [t for t in self.tree.tests if t.group in groups and
                 t.executed.get(mutant.file, 0) & lines and
                 (t.group != "consistency" or
                  t.name.rsplit("test_", 1)[-1] in CONSISTENCY[mutant.layer])]

        def rank(test):
            return (not same_name(test, mutant.file), -test.kills.get(mutant.file, 0),
                    test.seconds)
        with self.lock:
            tests.sort(key=rank)
        alike, chosen, spent = {}, [], 0.0
        for test in tests:
            if test.group == "golden":
                same = test.executed[mutant.file], self.tree.kinds[test.name]
                alike[same] = alike.get(same, 0) + 1
                if alike[same] > ALIKE:
                    continue
            if not same_name(test, mutant.file) and test.kills.get(mutant.file, 0) == 0:
                spent += test.seconds
                if spent > BUDGET_S:
                    break
            chosen.append(test)
        return chosen

    def digest(self, path):
        return hashlib.sha256(path.read_bytes()).hexdigest()

    def try_one(self, mutant):
        """(verdict, by): not-run, no-compile, same, survived, or caught by a test."""
        if time.monotonic() > self.end:
            return "not-run", ""
        with self.lock:
            worker = self.workers.pop()
        try:
            return self.judge(mutant, worker)
        finally:
            with self.lock:
                self.workers.append(worker)

    def judge(self, mutant, worker):
        source = self.tree.tree / "src" / mutant.file
        # Compiled as the same name everywhere, since an object may hold it.
        changed, target = worker / "edit.c", worker / "edit.o"
        if mutant.file not in self.original:
            changed.write_text(source.read_text())
            self.tree.compile(changed.name, target, cwd=worker)
            self.original[mutant.file] = self.digest(target)
        changed.write_text(mutant.edit.apply(source.read_text()))
        if self.tree.compile(changed.name, target, cwd=worker).returncode != 0:
            return "no-compile", ""
        digest = self.digest(target)
        with self.lock:
            if digest == self.original[mutant.file] or (mutant.file, digest) in self.seen:
                return "same", ""
            self.seen.add((mutant.file, digest))
        if self.tree.link_edit(target, worker).returncode != 0:
            return "no-compile", ""
        tests = self.order(mutant)
        for test in tests:
            why = self.tree.run_case(test.name, worker) if test.group == "golden" else \
                self.tree.run_test(test, worker)
            if why:
                with self.lock:
                    test.kills[mutant.file] = test.kills.get(mutant.file, 0) + 1
                return "caught", f"{test.name}, {why}"
        return "survived", "" if tests else "no test executes it"


def read_reasons(path):
    """[(file, text of the line, edit or '', reason)]"""
    reasons = []
    if not path.exists():
        return reasons
    for number, line in enumerate(path.read_text().splitlines(), 1):
        line = line.strip()
        if not line or line.startswith("#"):
            continue
        where, arrow, reason = line.rpartition(" -> ")
        file, colon, text = where.partition(": ")
        if not arrow or not colon or not reason:
            sys.exit(f"{path}:{number}: expected 'file: text of the line -> reason'")
        edit = ""
        if text.endswith("]") and " [" in text:
            text, _, edit = text[:-1].rpartition(" [")
        reasons.append((file, " ".join(text.split()), edit.strip(), reason))
    return reasons


def reason_of(mutant, reasons):
    for file, text, edit, reason in reasons:
        fits = mutant.edit.text.startswith(edit[:-3]) if edit.endswith("...") and \
            edit != mutant.edit.text else edit in ("", mutant.edit.text)
        if fits and text in mutant.line_text and fnmatch.fnmatchcase(mutant.file, file):
            return reason
    return ""


def named(path, names):
    return any(path.match(name) for name in names.split(","))


def all_mutants(src, layers, only, without):
    mutants = []
    for layer in layers:
        for path in sorted(p for folder in LAYERS[layer] for p in (src / folder).glob("*.c")):
            file = f"{path.parent.name}/{path.name}"
            if only and not named(path, only[0]) or without and named(path, without):
                continue
            source = path.read_text()
            lines = source.splitlines()
            for edit in find_edits(source):
                if only and only[1] and edit.line not in only[1]:
                    continue
                text = " ".join(lines[edit.line - 1].split())
                mutants.append(Mutant(layer, file, edit, text))
    return mutants


def lines_asked(text):
    """'kiln/kiln.c:12-20' -> ('kiln/kiln.c', range)"""
    file, _, lines = text.partition(":")
    if not lines:
        return file, None
    first, _, last = lines.partition("-")
    return file, range(int(first), int(last or first) + 1)


def survivors_of(log):
    """{(file, edit, text of the line)} of an earlier run: line numbers may have changed since."""
    return set(re.findall(r"(?m)^survived ([^:]+):\d+: (.*)\n {9}(.*)$", log))


def hunt_all(hunt, mutants, verbose):
    reasons = read_reasons(HERE / "survivors.txt")
    verdicts = []
    begin = time.monotonic()
    with concurrent.futures.ThreadPoolExecutor(hunt.options.jobs) as pool:
        for n, (mutant, (verdict, by)) in enumerate(
                zip(mutants, pool.map(hunt.try_one, mutants)), 1):
            verdicts.append((mutant, verdict))
            if verdict == "survived":
                reason = reason_of(mutant, reasons)
                say(f"survived {mutant.label()}\n         {mutant.line_text}"
                    + (f"\n         {by}" if by else "")
                    + (f"\n         listed: {reason}" if reason else ""))
            elif verbose and verdict != "not-run":
                say(f"{verdict:8} {mutant.label()}" + (f"  ({by})" if by else ""))
            if n % 200 == 0:
                say(f"... {n} of {len(mutants)} edits, {time.monotonic() - begin:.0f} s")
    return verdicts, reasons


def report(verdicts, reasons, layers, sampled):
    """The table; True when every layer is at its bar."""
    good = True
    say("")
    say("layer      counted  caught  share   bar    survivors without a reason")
    for layer in layers:
        mine = [(m, v) for m, v in verdicts if m.layer == layer]
        caught = sum(v == "caught" for _, v in mine)
        lost = [m for m, v in mine if v == "survived"]
        counted = caught + len(lost)
        if counted == 0:
            say(f"{layer:10} nothing counted")
            continue
        share = caught / counted
        without = sum(not reason_of(m, reasons) for m in lost)
        say(f"{layer:10} {counted:7} {caught:7}  {100 * share:5.1f} %  {100 * BARS[layer]:.0f} %"
            f"   {without} of {len(lost)}")
        chance = 2.0 * math.sqrt(BARS[layer] * (1.0 - BARS[layer]) / counted) if sampled else 0.0
        if share < BARS[layer] - chance:
            good = False
            say(f"{layer} is below its bar")
    left = [v for _, v in verdicts]
    say(f"{len(left)} edits: {left.count('caught')} caught, {left.count('survived')} survived, "
        f"{left.count('same')} same object code, {left.count('no-compile')} did not compile"
        + (f", {left.count('not-run')} not run (time limit)" if "not-run" in left else ""))
    return good


def main():
    parser = argparse.ArgumentParser(prog="tests/mutate.sh", description="Tests the tests: changes "
                                     "one thing of the source at a time in a copy.")
    parser.add_argument("--layer", choices=(*BARS, "all"), default="all")
    parser.add_argument("--sample", type=int, metavar="N", help="N edits drawn at random")
    parser.add_argument("--seed", type=int, default=1, help="of the sample (default 1)")
    parser.add_argument("--file", type=lines_asked, metavar="F[:LINE[-LINE]]",
                        help="only this file of the layer, or files: 'a.c,b_*.c'")
    parser.add_argument("--without", metavar="F", help="all but these files")
    parser.add_argument("--again", type=Path, metavar="LOG",
                        help="only what survived in the output of an earlier run")
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--list", action="store_true", help="list the edits, run nothing")
    parser.add_argument("--time-limit", type=float, metavar="SECONDS",
                        help="begin no further edit after that")
    parser.add_argument("--verbose", action="store_true", help="a line for every edit")
    options = parser.parse_args()

    layers = list(BARS) if options.layer == "all" else [options.layer]
    # Ended from outside, the scratch folder goes too.
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))
    # For the golden cases, whose limits are those of this process.
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY_LIMIT, MEMORY_LIMIT))
    resource.setrlimit(resource.RLIMIT_FSIZE, (FILE_LIMIT, FILE_LIMIT))
    with tempfile.TemporaryDirectory(prefix="damperwise-mutate-") as scratch:
        tree = Tree(Path(scratch), options.jobs)
        mutants = all_mutants(tree.tree / "src", layers, options.file, options.without)
        if options.again:
            lost = survivors_of(options.again.read_text())
            mutants = [m for m in mutants if (m.file, m.edit.text, m.line_text) in lost]
        if options.sample is not None and options.sample < len(mutants):
            mutants = random.Random(options.seed).sample(mutants, options.sample)
        if not mutants:
            sys.exit("no edit to make")
        if options.list:
            for m in sorted(mutants, key=lambda m: (m.file, m.edit.start)):
                say(m.label())
            say(f"{len(mutants)} edits")
            return 0
        layers = [layer for layer in layers if any(m.layer == layer for m in mutants)]
        begin = time.monotonic()
        tree.build(layers)
        bad = tree.measure()
        for name in bad:
            say(f"LEFT OUT: {name} fails without any edit")
        say(f"{len(mutants)} edits, seed {options.seed}, {len(tree.tests)} tests, built in "
            f"{time.monotonic() - begin:.0f} s")
        verdicts, reasons = hunt_all(Hunt(tree, options), mutants, options.verbose)
    good = report(verdicts, reasons, layers, options.sample is not None)
    return 0 if good and not bad else 1


if __name__ == "__main__":
    sys.exit(main())
