"""What test_cli.py and test_output.py share: running the program and keeping count.

Every text the program writes through run() is looked at for a word that no output may hold: an
estimate is never a judgement that a setting is without danger.
"""

import argparse
import os
import re
import subprocess
import sys
import tempfile
import traceback
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
# All of them, or those that DW_EXAMPLES names without ".yaml".
EXAMPLES = [path for path in sorted((ROOT / "examples").glob("*.yaml"))
            if path.stem in os.environ.get("DW_EXAMPLES", path.stem).split()]
JUNIPER = ROOT / "examples" / "juniper-flat.yaml"
TIME_LIMIT_S = 300

JUDGEMENT = re.compile(r"\bsafe\b", re.IGNORECASE)


class Failure(Exception):
    """A check did not hold."""


class Skip(Exception):
    """This machine cannot make the situation; said loudly, counted as neither."""


def need(condition, message):
    if not condition:
        raise Failure(message)


class Done:
    def __init__(self, args, code, out, err):
        self.args, self.code, self.out, self.err = args, code, out, err

    def __str__(self):
        words = " ".join(str(a) for a in self.args[1:])[:200]
        return f"'{words}' gave {self.code}: {self.err[:300]!r}"


class Harness:
    def __init__(self, program):
        self.program = str(Path(program).resolve())
        self.runs = 0
        self.passed = self.failed = self.skipped = 0
        # One for all tests; the tests make folders in it.
        self.scratch = None

    def run(self, *args, code=0, stdin=b"", **more):
        """Runs the program; a wrong exit code or a forbidden word is a failure."""
        command = [self.program, *[str(a) for a in args]]
        if isinstance(stdin, str):
            stdin = stdin.encode()
        options = {"cwd": ROOT, "input": stdin, "stdout": subprocess.PIPE,
                   "stderr": subprocess.PIPE, "timeout": TIME_LIMIT_S, "check": False, **more}
        if hasattr(stdin, "fileno"):
            options["stdin"] = options.pop("input")
        raw = subprocess.run(command, **options)  # pylint: disable=subprocess-run-check
        done = Done(command, raw.returncode, (raw.stdout or b"").decode(),
                    (raw.stderr or b"").decode())
        self.runs += 1
        found = JUDGEMENT.search(done.out + done.err)
        need(not found, f"{done}: the output holds the word {found and found.group(0)!r}")
        need(code is None or done.code == code, f"{done}, expected exit code {code}")
        return done

    def folder(self, name):
        path = self.scratch / name
        path.mkdir()
        return path

    def all_of(self, tests):
        with tempfile.TemporaryDirectory(prefix="damperwise-cli-") as scratch:
            self.scratch = Path(scratch)
            for test in tests:
                name = test.__name__
                try:
                    test(self)
                except Skip as skip:
                    self.skipped += 1
                    print(f"SKIPPED {name}: {skip}")
                except Failure as failure:
                    self.failed += 1
                    print(f"FAILED {name}: {failure}")
                except Exception:  # pylint: disable=broad-except
                    self.failed += 1
                    print(f"FAILED {name}:\n{traceback.format_exc()}")
                else:
                    self.passed += 1
        if self.skipped:
            print(f"{self.skipped} skipped, see above")
        print(f"{self.passed} passed, {self.failed} failed")
        return 1 if self.failed or not self.passed else 0


def main(doc, tests):
    parser = argparse.ArgumentParser(description=doc.splitlines()[0])
    parser.add_argument("--program", required=True)
    parser.add_argument("test", nargs="*", help="only these")
    options = parser.parse_args()
    if not os.access(options.program, os.X_OK):
        sys.exit(f"there is no program {options.program}")
    chosen = [t for t in tests if not options.test or t.__name__ in options.test]
    sys.exit(Harness(options.program).all_of(chosen))


def tests_of(module):
    """Functions named test_..., in the order they are written."""
    return [f for name, f in vars(module).items() if name.startswith("test_") and callable(f)]
