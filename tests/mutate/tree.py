"""A copy of the source, built twice: as usual, and once to see which test executes which line.

The tests and the program are linked with a library that holds nothing, libedit.so, before the real
one. An edited file is linked alone as libedit.so of a worker's folder: its functions and tables take
the place of those of the same name, so that the library is never linked again.
"""

import concurrent.futures
import importlib.util
import math
import os
import re
import resource
import shutil
import signal
import subprocess
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path

from reach import Reach, read_counts

ROOT = Path(__file__).resolve().parent.parent.parent
FOLDERS = ("api", "base", "numerics", "physics", "yaml", "data", "kiln", "point", "study", "ware", "room",
           "report", "write", "ask")
# What one asks for: layers as the bars name them, each of several folders of src/.
LAYERS = {"physics": ("physics",),
          "model": ("kiln", "point", "ware", "room"),
          "io": ("yaml", "data", "report", "write")}
FLAGS = ["-std=c17", "-O1", "-fPIC", "-w", "-pipe", "-ffp-contract=off"]
# Fewer random cases and fewer kilns; the tests read these.
SHORT = {"DW_KILNS": "60", "DW_POINTS": "300", "DW_ROOMS": "40", "LC_ALL": "C",
         "DW_EXAMPLES": "gannet-quay tollgate-car-kiln oxides-candlewick-lane"}
WALL_LIMIT_S = 120
CASE_LIMIT_S = 20
MEMORY_LIMIT = 4 << 30
FILE_LIMIT = 64 << 20
# A line that a hundred golden cases execute is not compared a hundred times: of those that execute
# the same lines of the file, for the same command in the same format, so many.
ALIKE = 3

# Nor are tests run for ever that have little to do with a line: an edit that outlives this much of
# other files' tests, the quickest first, has survived.
BUDGET_S = 9.0
# Functions of golden/test_*.py that take longer are left out: they print the whole working of several kilns
# more than once, which others do as well.
OUTSIDE_LIMIT_S = 3.0
# Known to take longer, all of them; or, in test_output.py, to be about the writing of files by the
# program, which belongs to no layer here.
# And locales are not built here, nor the program that lists the outputs.
LEFT_OUT = ("test_locale", "test_output", "test_printed_numbers_give_printed_results",
            "test_every_output_has_its_row", "test_an_output_without_a_row_is_seen")

# Tests by layer. A unit test is named by its folder.
RUNS = {
    "physics": ["unit/physics", "reference", "unit/point", "unit/study", "unit/ware", "unit/room",
                "unit/ask", "consistency", "golden"],
    "model": ["unit/kiln", "unit/point", "unit/study", "unit/ware", "unit/room", "unit/ask",
              "bad_input", "consistency", "golden", "outside"],
    "io": ["unit/yaml", "unit/data", "unit/kiln", "unit/report", "unit/write", "unit/ask", "bad_input",
           "consistency", "golden", "outside"],
}
CONSISTENCY = {
    "physics": ("thermo", "equilibrium_cea", "kiln_laws", "ware_scenarios", "study"),
    "model": ("kiln_laws", "room_laws", "ware_scenarios", "study"),
    "io": ("study",),
}


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
    name: str                 # unit/kiln/test_kiln, golden/ladder-csv, outside/test_cli/test_...
    group: str
    command: list             # "{program}" stands for the program
    seconds: float = 60.0
    executed: dict = field(default_factory=dict)    # {kiln/kiln.c: lines}
    kills: dict = field(default_factory=dict)


class Tree:
    def __init__(self, scratch, jobs):
        self.dir = scratch
        self.jobs = jobs
        self.tree = scratch / "tree"
        self.cc = os.environ.get("CC", "cc")
        self.reach = Reach()
        for part in ("src", "tests", "config", "examples"):
            shutil.copytree(ROOT / part, self.tree / part,
                            ignore=shutil.ignore_patterns("__pycache__", "corpus*"))
        # Documents that tests read.
        for name in ("README.md", "SAFETY.md", "DEVELOPERS.md", "CMakeLists.txt"):
            shutil.copy2(ROOT / name, self.tree / name)
        self.include = [f"-I{self.tree}/src/{folder}" for folder in FOLDERS]
        self.libs = must(["pkg-config", "--libs", "gsl", "yaml-0.1", "jansson"]).split() + \
            ["-lcsv", "-lm"]
        self.flags = FLAGS + must(["pkg-config", "--cflags", "yaml-0.1", "jansson"]).split()

    # ---- building --------------------------------------------------------------------------------

    def compile(self, source, target, more=(), cwd=None):
        target.parent.mkdir(parents=True, exist_ok=True)
        return run([self.cc, *self.flags, *self.include, *more, "-c", str(source), "-o",
                    str(target)], cwd=cwd)

    def compile_all(self, jobs):
        with concurrent.futures.ThreadPoolExecutor(self.jobs) as pool:
            for job, done in zip(jobs, pool.map(lambda j: self.compile(*j), jobs)):
                if done.returncode != 0 and self.dir / "test" not in job[1].parents:
                    sys.exit(f"{job[0]} does not compile:\n{done.stdout}")

    def programs(self, wanted):
        """[(name, group, sources)] of the tests in C."""
        tests, found = self.tree / "tests", []
        for group in dict.fromkeys(g for layer in wanted for g in RUNS[layer]):
            if group.startswith("unit/"):
                found += [(f"{group}/{s.stem}", group, [s])
                          for s in sorted((tests / group).glob("test_*.c"))
                          if s.stem not in LEFT_OUT]
            elif group == "consistency":
                found += [(f"consistency/test_{n}", group, [tests / group / f"test_{n}.c"])
                          for n in dict.fromkeys(n for w in wanted for n in CONSISTENCY[w])]
            elif group in ("reference", "bad_input"):
                # Other files there belong to programs of their own.
                found.append((f"{group}/test_{group}", group, sorted(
                    [*(tests / group).glob(f"test_{group}.c"),
                     *(tests / group).glob(f"{group}_*.c")])))
        return found

    def build(self, wanted):
        """The library, its copy with counts, the program and the tests of the wanted layers."""
        src, tests = self.tree / "src", self.tree / "tests"
        embedded = self.dir / "embedded.c"
        listed = re.search(r"set\(DW_CONFIG_FILES ([^)]*)\)", (src / "CMakeLists.txt").read_text())
        files = ";".join(str(self.tree / "config" / name) for name in listed.group(1).split())
        must(["cmake", f"-DOUT={embedded}", f"-DFILES={files}", "-P", str(src / "embed.cmake")])
        # Nothing packed: what reads the data is tested by all that uses them.
        packed = self.dir / "packed.c"
        packed.write_text('#include "built_in.h"\nconst dw_packed *const dw_built_in_data;\n')
        library = [(s, s.relative_to(src).with_suffix(".o"),
                    ('-DDW_VERSION="0.0.0"',) if folder == "ask" else ())
                   for folder in FOLDERS for s in sorted((src / folder).glob("*.c"))]
        wanted_folders = [folder for layer in wanted for folder in LAYERS[layer]]
        jobs = [(s, self.dir / "obj" / o, more) for s, o, more in library]
        made = [(s, self.dir / "obj" / f"{s.stem}.o", ()) for s in (embedded, packed)]
        jobs += made
        counted = [(s, self.dir / "count" / "obj" / o,
                    (*more, "-O0", "--coverage") if o.parent.name in wanted_folders else more)
                   for s, o, more in library]
        kit = [f"-I{tests}/support", f"-I{tests}/reference", f'-DDW_SOURCE_DIR="{self.tree}"',
               f'-DDW_CONFIG_DIR="{self.tree}/config"', f'-DDW_REFERENCE_DIR="{tests}/reference"',
               f'-DDW_BAD_INPUT_DIR="{tests}/bad_input"']
        program = [(s, self.dir / "cli" / f"{s.stem}.o", ()) for s in sorted((src / "cli").glob("*.c"))]
        support = [(s, self.dir / "kit" / f"{s.stem}.o", kit)
                   for s in sorted((tests / "support").glob("*.c"))]
        programs = self.programs(wanted)
        of_tests = [(s, self.dir / "test" / name / f"{s.stem}.o", kit)
                    for name, _, sources in programs for s in sources]
        self.compile_all(jobs + counted + program + support + of_tests)

        self.lib = self.dir / "lib"
        for folder, objects in ((self.lib, [j[1] for j in jobs]),
                                (self.dir / "count", [j[1] for j in counted + made])):
            folder.mkdir(exist_ok=True)
            must([self.cc, "-shared", "--coverage", *map(str, objects), "-o",
                  str(folder / "libdw.so"), *self.libs])
            must([self.cc, "-shared", "-o", str(folder / "libedit.so"), "-xc", "/dev/null"])
        shared = [f"-L{self.lib}", "-Wl,--no-as-needed", "-ledit", "-ldw", "-lcmocka", *self.libs]
        (self.dir / "bin").mkdir()
        # Found beside the program before anywhere else, so that a worker has a program of its own.
        self.program = self.dir / "bin" / "damperwise"
        must([self.cc, *[str(j[1]) for j in program], "-o", str(self.program), *shared,
              f"-Wl,-rpath,$ORIGIN:{self.lib}"])
        for folder in (self.lib, self.dir / "count"):
            self.add_program(folder)
        kit_library = self.dir / "kit" / "libkit.a"
        must(["ar", "rc", str(kit_library), *[str(j[1]) for j in support]])
        self.tests, self.unlinked = [], []
        for name, group, sources in programs:
            target = self.dir / "bin" / name.replace("/", ".")
            done = run([self.cc, *[str(self.dir / "test" / name / f"{s.stem}.o") for s in sources],
                        "-o", str(target), str(kit_library), *shared])
            if done.returncode != 0:
                self.unlinked.append(f"{name} (is not built)")
                continue
            self.tests.append(Test(name, group, [str(target)]))
        golden = tests / "golden"
        spec = importlib.util.spec_from_file_location("golden_run", golden / "run.py")
        self.golden = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(self.golden)
        self.golden.TIME_LIMIT_S = CASE_LIMIT_S
        self.cases, self.kinds = {}, {}
        for folder in sorted(p.parent for p in golden.glob("*/args")):
            case = self.golden.Case(folder)
            self.cases[f"golden/{folder.name}"] = (case, case.expected())
            words = (folder / "args").read_text()
            found = re.search(r"(?m)^--format[=\n](\w+)$", words)
            self.kinds[f"golden/{folder.name}"] = (words.split("\n")[0],
                                                   found.group(1) if found else "text")
            self.tests.append(Test(f"golden/{folder.name}", "golden", [
                sys.executable, "-B", str(golden / "run.py"), "--program", "{program}",
                folder.name]))
        for path in sorted(golden.glob("test_*.py")):
            if path.stem in LEFT_OUT:
                continue
            for name in re.findall(r"(?m)^def (test_\w+)", path.read_text()):
                if name in LEFT_OUT:
                    continue
                self.tests.append(Test(f"outside/{path.stem}/{name}", "outside", [
                    sys.executable, "-B", str(path), "--program", "{program}", name]))

    def add_program(self, folder):
        shutil.copy2(self.program, folder / "damperwise")

    def link_edit(self, target, worker):
        return run(["ld", "-shared", str(target), "-o", str(worker / "libedit.so")])

    # ---- running ---------------------------------------------------------------------------------

    def run_test(self, test, folder, more=None):
        """'' when the test passes with the libraries of the folder, else why not."""
        # The library of tests that are not to be changed is that of self.lib.
        env = {**os.environ, **SHORT, **(more or {}), "LD_LIBRARY_PATH": f"{folder}:{self.lib}"}
        command = [str(folder / "damperwise") if word == "{program}" else word
                   for word in test.command]
        # Processor time, so that a busy machine makes no test fail.
        processor = math.ceil(4 * test.seconds) + 3

        def limits():
            resource.setrlimit(resource.RLIMIT_CPU, (processor, processor))
            resource.setrlimit(resource.RLIMIT_AS, (MEMORY_LIMIT, MEMORY_LIMIT))
            resource.setrlimit(resource.RLIMIT_FSIZE, (FILE_LIMIT, FILE_LIMIT))
            resource.setrlimit(resource.RLIMIT_CORE, (0, 0))

        process = subprocess.Popen(command, cwd=folder, env=env, stdin=subprocess.DEVNULL,
                                   stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                                   start_new_session=True, preexec_fn=limits)
        try:
            code = process.wait(WALL_LIMIT_S)
        except subprocess.TimeoutExpired:
            os.killpg(process.pid, signal.SIGKILL)
            process.wait()
            return "hangs"
        if code in (-signal.SIGXCPU, -signal.SIGKILL):
            return "hangs"
        return "" if code == 0 else f"exit {code}"

    def run_case(self, name, folder):
        """The same for a golden case, within this process: its own Python would take the most time."""
        case, expected = self.cases[name]
        try:
            actual = case.run(str(folder / "damperwise"))
        except subprocess.TimeoutExpired:
            return "hangs"
        return "differs" if self.golden.compare(expected, actual) else ""

    def measure_one(self, numbered):
        """Runs a test on the library that counts; '' when it passes, else why not."""
        number, test = numbered
        folder = self.dir / "count"
        counts = self.dir / "counts" / str(number)
        strip = len((folder / "obj").parts) - 1
        begin = time.monotonic()
        why = self.run_test(test, folder,
                            {"GCOV_PREFIX": str(counts), "GCOV_PREFIX_STRIP": str(strip)})
        test.seconds = time.monotonic() - begin
        if why:
            return f"{test.name} ({why})"
        if test.group == "golden":
            # As it is run from here on, without a Python of its own.
            begin = time.monotonic()
            self.run_case(test.name, self.lib)
            test.seconds = time.monotonic() - begin
        for gcda in counts.rglob("*.gcda"):
            gcno = gcda.relative_to(counts).with_suffix(".gcno")
            (counts / gcno).symlink_to(folder / "obj" / gcno)
        test.found = read_counts(counts) if counts.exists() else {}
        shutil.rmtree(counts, ignore_errors=True)
        return ""

    def measure(self):
        """Runs every test on the unchanged library; names of those that fail, which are left out."""
        bad = list(self.unlinked)
        src = f"{self.tree}/src/"
        with concurrent.futures.ThreadPoolExecutor(self.jobs) as pool:
            for test, why in zip(self.tests, pool.map(self.measure_one, enumerate(self.tests))):
                if why:
                    bad.append(why)
                    test.executed = None
                    continue
                test.executed = self.reach.add(
                    {name.removeprefix(src): counts for name, counts in test.found.items()})
                del test.found
        self.tests = [t for t in self.tests if t.executed is not None and
                      (t.group != "outside" or t.seconds <= OUTSIDE_LIMIT_S)]
        return bad
