"""Time of one equilibrium of Cantera beside one of the program, in the same run.

    PYTHON cantera_time.py [--ask PROGRAM] [--states N]

PYTHON is the one that tests/reference/live/venv.sh makes, PROGRAM the one of tests/reference/ask.c.
Same states (those of bench.c: methane in air, phi 0.3 to 3, 900 to 2000 K, 1 atm, in the same
order), same species and coefficients, one thread, processor time, the best of five rounds for both,
taken in turns. Neither is given a start from the state before. Cantera's time is that of setting
the state and of equilibrate("TP"), by its default way at its own tolerance (element potentials,
1e-9, where the program closes to 1e-12) and by its minimisation of the Gibbs energy; the moles it
is set to are worked out beforehand. Figures only: nothing passes or fails here.
"""
import argparse
import os
import sys
import time

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "..", "reference", "live"))
import asking
import cantera_gas
import mixtures

ROUNDS = 5
AIM = 50.0
ATM_PA = 101325.0


def states(count):
    """As in bench.c."""
    for i in range(count):
        phi = 0.3 + 2.7 * (i % 997) / 997.0
        yield 900.0 + 1100.0 * (i % 89) / 89.0, cantera_gas.feed(mixtures.METHANE, 1.0 / phi)


def cantera_seconds(gas, prepared, solver):
    start = time.process_time()
    for temperature_k, fractions in prepared:
        gas.TPX = temperature_k, ATM_PA, fractions
        gas.equilibrate("TP", solver=solver)
    return (time.process_time() - start) / len(prepared)


def main():
    options = argparse.ArgumentParser(description="Equilibrium: Cantera's time over the program's.")
    options.add_argument("--ask", default=os.path.join(mixtures.ROOT, "build", "tests", "ask"),
                         help="the program that answers (%(default)s)")
    options.add_argument("--states", type=int, default=2000,
                         help="of a round of Cantera; ten times as many of ours (%(default)s)")
    chosen = options.parse_args()
    ask = asking.Ask(chosen.ask)
    gas = cantera_gas.product_gas()
    prepared = []
    for temperature_k, moles in states(chosen.states):
        gas.X = moles
        prepared.append((temperature_k, gas.X))
    solvers = {"auto": "its default way", "gibbs": "minimising the Gibbs energy"}
    ours, theirs = [], {solver: [] for solver in solvers}
    for _ in range(ROUNDS):
        ours.append(ask.number("equilibrium_seconds", fuel="methane", lean=0.3, rich=3.0,
                               cold_k=900.0, hot_k=2000.0, pressure_pa_abs=ATM_PA,
                               states=10 * chosen.states, rounds=1))
        for solver in solvers:
            theirs[solver].append(cantera_seconds(gas, prepared, solver))
    for solver, words in solvers.items():
        ratio = min(theirs[solver]) / min(ours)
        aim = "reached" if ratio >= AIM else "MISSED"
        print(f"{ratio:.0f} times: one equilibrium of {gas.n_species} gases, cpu: "
              f"{1e6 * min(ours):.3f} us here, {1e6 * min(theirs[solver]):.1f} us by Cantera "
              f"{cantera_gas.VERSION}, {words} (aim of {AIM:.0f} times: {aim})")


if __name__ == "__main__":
    main()
