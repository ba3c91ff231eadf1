"""Live comparison of frozen composition: rich gas that cools, by the reactions of GRI-Mech 3.0.

The program takes gas that is colder than its quench temperature to keep the composition that it had
there. Here the gas cools from a flame to a chamber and stays in it, with every reaction of a public
mechanism going on at its own speed: what carbon monoxide is left at the end is compared with the
program's, with the one quench temperature that was chosen for all of them.
"""
import math
import random as chance
import warnings

import cantera

import cantera_gas
import mixtures
from tally import relative

QUENCH_RICH_K = 1310.0
QUENCH_LEAN_K = 1100.0
CANTERA = (cantera_gas.NAME + ", GRI-Mech 3.0", cantera_gas.VERSION)
# Gases of the mechanism, by the names of config/species.yaml.
FUELS = ({"CH4": 1.0}, {"C2H6": 1.0}, {"C3H8": 1.0}, mixtures.NATURAL_GAS, {"CH4": 0.5, "H2": 0.5},
         {"CO": 0.3, "H2": 0.4, "CH4": 0.3})
# One temperature for all of 0.1 to 3 s and 700 to 950 degC: what is left is how they differ. Just rich
# gas still has flame radicals when it cools, and freezes later. Set after the first run.
LIMITS = ((1.02, 1.05, 0.25, 0.09), (1.05, 1.3, 0.18, 0.06))


class Cooling(cantera.ExtensibleIdealGasConstPressureReactor):
    """Gas whose temperature runs as it is told to."""
    kelvin_per_second = 0.0

    def after_eval(self, _time, left, right):
        left[1] = 1.0
        right[1] = self.kelvin_per_second


def random_cooling(random):
    """A rich gas, where it comes from, how fast it cools, and how long it then stays."""
    return {"fuel": random.choice(FUELS), "air_ratio": 1.0 / random.uniform(1.02, 1.3),
            "from_k": random.uniform(1600.0, 2000.0),
            "cooling_s": math.exp(random.uniform(math.log(0.1), math.log(3.0))),
            "temperature_k": random.uniform(973.15, 1223.15), "staying_s": random.uniform(2.0, 10.0)}


def left_over(gas, state):
    """Share of CO, wet, after cooling and staying."""
    air = mixtures.air_moles(state["fuel"], state["air_ratio"])
    moles = dict(state["fuel"])
    for name, share in mixtures.AIR.items():
        moles[name] = moles.get(name, 0.0) + air * share
    moles["AR"] = moles.pop("Ar")
    gas.TPX = state["from_k"], cantera.one_atm, moles
    gas.equilibrate("TP")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)     # of a default that will change
        reactor = Cooling(gas)
    reactor.kelvin_per_second = (state["temperature_k"] - state["from_k"]) / state["cooling_s"]
    net = cantera.ReactorNet([reactor])
    net.rtol, net.atol = 1e-7, 1e-14
    net.advance(state["cooling_s"])
    reactor.kelvin_per_second = 0.0
    net.reinitialize()
    net.advance(state["cooling_s"] + state["staying_s"])
    if abs(gas.T - state["temperature_k"]) > 0.01:
        raise RuntimeError(f"the gas ended at {gas.T} K, not {state['temperature_k']} K")
    return float(gas["CO"].X[0])


def asked(state, quench_rich_k):
    return {"fuel": "shares", **state["fuel"], "air_ratio": state["air_ratio"], "species": "CO",
            "temperature_k": state["temperature_k"], "pressure_pa_abs": cantera.one_atm,
            "quench_lean_k": QUENCH_LEAN_K, "quench_rich_k": quench_rich_k}


def describe(state):
    return "; ".join(f"{name} {value:.4g}" if isinstance(value, float) else f"{name} {value}"
                     for name, value in {**state, "phi": 1.0 / state["air_ratio"]}.items())


def run(tally, ask, random: chance.Random, count):
    states = [random_cooling(random) for _ in range(count)]
    # Both kinds of gas, however few states.
    states[0]["air_ratio"], states[-1]["air_ratio"] = 1.0 / 1.03, 1.0 / 1.15
    gas = cantera.Solution("gri30.yaml")
    left = [left_over(gas, state) for state in states]
    ours = ask.numbers("frozen_x", [asked(state, QUENCH_RICH_K) for state in states])
    lean = ask.numbers("frozen_x", [asked(state, QUENCH_LEAN_K) for state in states])
    off = [relative(mine, x) for mine, x in zip(ours, left, strict=True)]
    for low, high, limit, median in LIMITS:
        here = [i for i, state in enumerate(states) if low <= 1.0 / state["air_ratio"] <= high]
        worst = max(here, key=lambda i: -1.0 if math.isnan(off[i]) else off[i])
        as_lean = sum(relative(lean[i], left[i]) for i in here) / len(here)
        tally.book("quench", f"CO of rich gas that cooled, ratio {low} to {high}", *CANTERA,
                   [off[i] for i in here], limit, median=median, worst_at=describe(states[worst]),
                   note=f"{as_lean:.2f} on average with the quench temperature of lean gas")
