"""Live comparison of the program's laws with general-purpose reference libraries.

    PYTHON compare.py [--ask PROGRAM] [--seed N] [--states N] [--csv FILE]

Draws random states, asks the program (by `ask`, tests/reference/ask.c) and the libraries, and
prints one line a comparison: what, library and version, how many values, the worst and the typical
(median) deviation, the limit. Then the last line says how many comparisons passed and failed; the
exit code is 0 when none failed. PYTHON is the one that venv.sh makes; NASA CEA is asked through
Debian's rocketcea and /usr/bin/python3, and left out with a loud line where it is not installed.

The same seed draws the same states. No comparison is made for butterfly dampers: the libraries
know only valves with thick discs, fully open.
"""
import argparse
import os
import random
import sys
import time

import asking
import compare_flow
import compare_gas
import compare_quench
import mixtures
import tally


def main():
    build = os.path.join(mixtures.ROOT, "build", "tests", "ask")
    options = argparse.ArgumentParser(description="Live comparison with reference libraries.")
    options.add_argument("--ask", default=build, help="the program that answers (%(default)s)")
    options.add_argument("--seed", type=int, default=20021, help="of the states (%(default)s)")
    options.add_argument("--states", type=int, default=2000,
                         help="equilibrium states, other comparisons in proportion (%(default)s)")
    options.add_argument("--csv", help="where the rows of the proof table go")
    chosen = options.parse_args()
    if chosen.states < 1:
        options.error("--states must be at least 1")

    print(f"seed {chosen.seed}, {chosen.states} states")
    start = time.monotonic()
    kept = tally.Tally()
    ask = asking.Ask(chosen.ask)
    # A generator each, so that a change of one part does not move the states of the other.
    compare_gas.run(kept, ask, random.Random(chosen.seed), chosen.states)
    compare_flow.run(kept, ask, random.Random(chosen.seed), max(chosen.states // 4, 20))
    compare_quench.run(kept, ask, random.Random(chosen.seed), max(chosen.states // 10, 20))
    if chosen.csv:
        kept.write(chosen.csv)
    print(f"{time.monotonic() - start:.0f} s")
    print(f"{kept.passed} passed, {kept.failed} failed")
    return 0 if kept.failed == 0 else 1


if __name__ == "__main__":
    sys.exit(main())
