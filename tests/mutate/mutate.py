"""Tests the tests: changes one thing of the source at a time and looks whether a test turns red.

    sh tests/mutate.sh [--layer physics|model|io|all] [--sample N --seed S] [--file F] [...]

The tree is copied to a scratch folder and built there once (-O1, one shared library). Each edit
(see edits.py) is compiled alone, the library linked again, and the tests that cover the file are
run, those of the same name first and the golden output last, until one fails. A test that takes far
more time than it did before the edit has failed. An edit that does not compile, or that the compiler
turns into the same object code, is not counted.

The library is large enough that a full run takes hours; a seeded sample takes minutes. Survivors are
listed with the reason from survivors.txt where there is one:

    io/show_number.c: text of the line [edit] -> why no test can or need see it

where "[edit]" (as printed) may be left out to mean every edit of such a line. A reason does not turn
a survivor into a caught one. The exit code is 1 when a layer's share is below its bar.
"""

import argparse
import concurrent.futures
import hashlib
import math
import os
import random
import re
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path

sys.dont_write_bytecode = True
from edits import find_edits  # noqa: E402

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
BARS = {"physics": 0.90, "model": 0.90, "io": 0.80}
LAYERS = ("api", "base", "numerics", "physics", "model", "study", "io")
FLAGS = ["-std=c17", "-O1", "-fPIC", "-w", "-ffp-contract=off"]
# Fewer random cases; the tests read these.
SHORT = {"DW_KILNS": "60", "DW_POINTS": "300", "DW_ROOMS": "20"}
WALL_LIMIT_S = 120
MEMORY_LIMIT = 4 << 30
FILE_LIMIT = 64 << 20

# Tests by layer, in the order they are worth trying. A unit test is named by its folder.
RUNS = {
    "physics": ["unit/physics", "reference", "unit/model", "unit/study", "consistency", "golden"],
    "model": ["unit/model", "unit/study", "unit/facade", "consistency", "golden"],
    "io": ["unit/io", "unit/facade", "bad_input", "consistency", "golden"],
}
CONSISTENCY = {
    "physics": ("thermo", "equilibrium_cea", "kiln_laws", "ware_scenarios", "study"),
    "model": ("kiln_laws", "room_laws", "ware_scenarios", "study"),
    "io": ("study",),
}


def say(text):
    print(text, flush=True)


def run(command, **options):
    return subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
                          check=False, **options)


def must(command):
    done = run(command)
    if done.returncode != 0:
        sys.exit(f"{' '.join(map(str, command))}\n{done.stdout}")
    return done.stdout


@dataclass
class Test:
    name: str                 # unit/model/test_kiln
    group: str
    command: list
    seconds: float = 0.0
    kills: dict = field(default_factory=dict)


@dataclass(frozen=True)
class Mutant:
    layer: str
    file: str                 # model/kiln.c
    edit: object
    line_text: str

    def label(self):
        return f"{self.file}:{self.edit.line}: {self.edit.text}"


class Tree:
    """A copy of the source, built once."""

    def __init__(self, scratch, jobs):
        self.dir = scratch
        self.jobs = jobs
        self.tree = scratch / "tree"
        self.cc = os.environ.get("CC", "cc")
        for part in ("src", "tests", "config", "examples"):
            shutil.copytree(ROOT / part, self.tree / part,
                            ignore=shutil.ignore_patterns("__pycache__", "corpus-*"))
        self.include = [f"-I{self.tree}/src/{layer}" for layer in LAYERS]
        self.libs = must(["pkg-config", "--libs", "gsl", "yaml-0.1", "jansson"]).split() + ["-lcsv", "-lm"]
        self.flags = FLAGS + must(["pkg-config", "--cflags", "yaml-0.1", "jansson"]).split()

    def compile(self, source, target, more=()):
        target.parent.mkdir(parents=True, exist_ok=True)
        return run([self.cc, *self.flags, *self.include, *more, "-c", str(source), "-o",
                    str(target)])

    def link_library(self, objects, target):
        return run([self.cc, "-shared", *map(str, objects), "-o", str(target), *self.libs])

    def build(self, wanted):
        """Objects, the library, the program and the tests of the wanted layers."""
        src = self.tree / "src"
        embedded = self.dir / "embedded.c"
        listed = re.search(r"set\(DW_CONFIG_FILES ([^)]*)\)", (src / "CMakeLists.txt").read_text())
        files = ";".join(str(self.tree / "config" / name) for name in listed.group(1).split())
        must(["cmake", f"-DOUT={embedded}", f"-DFILES={files}", "-P", str(src / "embed.cmake")])
        jobs = [(s, self.dir / "obj" / s.relative_to(src).with_suffix(".o"), ())
                for layer in LAYERS for s in sorted((src / layer).glob("*.c"))]
        jobs.append((embedded, self.dir / "obj" / "embedded.o", ()))
        jobs += [(s, self.dir / "obj" / f"{s.stem}.o", ('-DDW_VERSION="0.0.0"', f"-I{src}"))
                 for s in sorted(src.glob("*.c"))]
        self.objects = {str(target.relative_to(self.dir / "obj")): target for _, target, _ in jobs}
        program = sorted((src / "cli").glob("*.c"))
        jobs += [(s, self.dir / "cli" / f"{s.stem}.o", ()) for s in program]

        tests = self.tree / "tests"
        kit = [f"-I{tests}/support", f"-I{tests}/reference", f'-DDW_SOURCE_DIR="{self.tree}"',
               f'-DDW_CONFIG_DIR="{self.tree}/config"', f'-DDW_REFERENCE_DIR="{tests}/reference"',
               f'-DDW_BAD_INPUT_DIR="{tests}/bad_input"']
        support = sorted((tests / "support").glob("*.c"))
        jobs += [(s, self.dir / "kit" / f"{s.stem}.o", kit) for s in support]
        programs = []
        for group in dict.fromkeys(g for layer in wanted for g in RUNS[layer]):
            if group.startswith("unit/"):
                programs += [(f"{group}/{s.stem}", group, [s])
                             for s in sorted((tests / group).glob("test_*.c"))]
            elif group == "consistency":
                programs += [(f"consistency/test_{n}", group, [tests / group / f"test_{n}.c"])
                             for n in dict.fromkeys(n for w in wanted for n in CONSISTENCY[w])]
            elif group in ("reference", "bad_input"):
                # Other files there belong to programs of their own.
                sources = sorted([*(tests / group).glob(f"test_{group}.c"),
                                  *(tests / group).glob(f"{group}_*.c")])
                programs.append((f"{group}/test_{group}", group, sources))
        for name, _, sources in programs:
            jobs += [(s, self.dir / "test" / name / f"{s.stem}.o", kit) for s in sources]
        with concurrent.futures.ThreadPoolExecutor(self.jobs) as pool:
            for job, done in zip(jobs, pool.map(lambda j: self.compile(*j), jobs)):
                if done.returncode != 0 and self.dir / "test" not in job[1].parents:
                    sys.exit(f"{job[0]} does not compile:\n{done.stdout}")

        library = self.dir / "lib" / "libdw.so"
        library.parent.mkdir()
        done = self.link_library(self.objects.values(), library)
        if done.returncode != 0:
            sys.exit(done.stdout)
        shared = [f"-L{library.parent}", "-ldw", "-lcmocka", *self.libs]
        self.program = self.dir / "bin" / "damperwise"
        self.program.parent.mkdir()
        must([self.cc, *[str(self.dir / "cli" / f"{s.stem}.o") for s in program], "-o",
              str(self.program), *shared])
        kit_objects = [str(self.dir / "kit" / f"{s.stem}.o") for s in support]
        kit_library = self.dir / "kit" / "libkit.a"
        must(["ar", "rc", str(kit_library), *kit_objects])
        self.tests, self.unlinked = [], []
        for name, group, sources in programs:
            target = self.dir / "bin" / name.replace("/", ".")
            done = run([self.cc, *[str(self.dir / "test" / name / f"{s.stem}.o") for s in sources],
                        "-o", str(target), str(kit_library), *shared])
            if done.returncode != 0:
                self.unlinked.append(f"{name} (is not built)")
                continue
            self.tests.append(Test(name, group, [str(target)]))
        if (tests / "golden" / "run.py").exists():
            cases = sorted(p.parent.name for p in (tests / "golden").glob("*/args"))
            self.tests.append(Test("golden", "golden", [
                sys.executable, "-B", str(tests / "golden" / "run.py"), "--program",
                str(self.program), *cases]))

    def environment(self, library_dir):
        return {**os.environ, **SHORT, "LD_LIBRARY_PATH": str(library_dir)}

    def run_test(self, test, library_dir):
        """'' when the test passes, else why not."""
        env = self.environment(library_dir)
        # Processor time, so that a busy machine makes no test fail.
        processor = math.ceil(4 * test.seconds) + 3

        def limits():
            resource.setrlimit(resource.RLIMIT_CPU, (processor, processor))
            resource.setrlimit(resource.RLIMIT_AS, (MEMORY_LIMIT, MEMORY_LIMIT))
            resource.setrlimit(resource.RLIMIT_FSIZE, (FILE_LIMIT, FILE_LIMIT))
            resource.setrlimit(resource.RLIMIT_CORE, (0, 0))

        process = subprocess.Popen(test.command, cwd=library_dir, env=env,
                                   stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                                   stderr=subprocess.DEVNULL, start_new_session=True,
                                   preexec_fn=limits)
        try:
            code = process.wait(WALL_LIMIT_S)
        except subprocess.TimeoutExpired:
            os.killpg(process.pid, signal.SIGKILL)
            process.wait()
            return "hangs"
        if code == -signal.SIGXCPU or code == -signal.SIGKILL:
            return "hangs"
        return "" if code == 0 else f"exit {code}"

    def measure(self):
        """Runs every test on the unchanged library. Names of those that fail; they are left out."""
        bad, good = list(self.unlinked), []
        for test in self.tests:
            test.seconds = 60.0
            begin = time.monotonic()
            why = self.run_test(test, self.dir / "lib")
            test.seconds = time.monotonic() - begin
            if why and test.group == "golden":
                # Case by case: one that moved leaves the others useful.
                found = run(test.command, cwd=self.dir / "lib", env=self.environment(self.dir / "lib"))
                cases = re.findall(r"(?m)^FAILED (\S+)", found.stdout)
                test.command = [word for word in test.command if word not in cases]
                bad += [f"golden/{case}" for case in cases]
                why = self.run_test(test, self.dir / "lib")
            if why:
                bad.append(f"{test.name} ({why})")
            else:
                good.append(test)
        self.tests = good
        return bad


def same_name(test, file):
    stem, name = Path(file).stem, test.name.rsplit("/", 1)[-1].removeprefix("test_")
    return stem == name or name.endswith("_" + stem) or name.startswith(stem + "_") or \
        stem.startswith(name + "_")


class Hunt:
    def __init__(self, tree, options):
        self.tree = tree
        self.options = options
        self.lock = threading.Lock()
        self.workers = [tree.dir / f"worker{i}" for i in range(options.jobs)]
        for worker in self.workers:
            worker.mkdir()
        self.seen = set()
        self.original = {}
        self.end = time.monotonic() + options.time_limit if options.time_limit else math.inf

    def order(self, mutant):
        """Tests of a mutant, the likeliest to see it first."""
        groups = RUNS[mutant.layer]
        tests = [t for t in self.tree.tests if t.group in groups and
                 (t.group != "consistency" or
                  t.name.rsplit("test_", 1)[-1] in CONSISTENCY[mutant.layer])]

        def rank(test):
            last = test.group == "golden"
            named = not same_name(test, mutant.file)
            kills = test.kills.get(mutant.file, 0)
            return last, named, -kills, groups.index(test.group), test.seconds
        with self.lock:
            return sorted(tests, key=rank)

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
        changed = worker / "src" / mutant.file
        target = worker / "obj" / Path(mutant.file).with_suffix(".o")
        changed.parent.mkdir(parents=True, exist_ok=True)
        name = str(Path(mutant.file).with_suffix(".o"))
        with self.lock:
            if mutant.file not in self.original:
                # Compiled from the same path, since an object may hold it.
                changed.write_text(source.read_text())
                self.tree.compile(changed, target)
                self.original[mutant.file] = self.digest(target)
        changed.write_text(mutant.edit.apply(source.read_text()))
        if self.tree.compile(changed, target).returncode != 0:
            return "no-compile", ""
        digest = self.digest(target)
        with self.lock:
            if digest == self.original[mutant.file] or (mutant.file, digest) in self.seen:
                return "same", ""
            self.seen.add((mutant.file, digest))
        objects = [target if key == name else path for key, path in self.tree.objects.items()]
        if self.tree.link_library(objects, worker / "libdw.so").returncode != 0:
            return "no-compile", ""
        for test in self.order(mutant):
            why = self.tree.run_test(test, worker)
            if why:
                with self.lock:
                    test.kills[mutant.file] = test.kills.get(mutant.file, 0) + 1
                return "caught", f"{test.name}, {why}"
        return "survived", ""


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
        if file == mutant.file and text in mutant.line_text and edit in ("", mutant.edit.text):
            return reason
    return ""


def all_mutants(src, layers, only):
    mutants = []
    for layer in layers:
        for path in sorted((src / layer).glob("*.c")):
            file = f"{layer}/{path.name}"
            if only and only[0] not in (path.name, file, f"src/{file}"):
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
    """'model/kiln.c:12-20' -> ('model/kiln.c', range)"""
    file, _, lines = text.partition(":")
    if not lines:
        return file, None
    first, _, last = lines.partition("-")
    return file, range(int(first), int(last or first) + 1)


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
                    + (f"\n         listed: {reason}" if reason else ""))
            elif verbose and verdict != "not-run":
                say(f"{verdict:8} {mutant.label()}" + (f"  ({by})" if by else ""))
            if n % 200 == 0:
                say(f"... {n} of {len(mutants)} edits, {time.monotonic() - begin:.0f} s")
    return verdicts, reasons


def report(verdicts, reasons, layers):
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
        if share < BARS[layer]:
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
                        help="only this file of the layer")
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
    with tempfile.TemporaryDirectory(prefix="damperwise-mutate-") as scratch:
        tree = Tree(Path(scratch), options.jobs)
        mutants = all_mutants(tree.tree / "src", layers, options.file)
        if options.again:
            lost = set(re.findall(r"(?m)^survived (.*)$", options.again.read_text()))
            mutants = [m for m in mutants if m.label() in lost]
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
    good = report(verdicts, reasons, layers)
    return 0 if good and not bad else 1


if __name__ == "__main__":
    sys.exit(main())
