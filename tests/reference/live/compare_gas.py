"""Live comparison of what concerns the gas: composition, flame, enthalpy, heat capacity."""
import json
import math
import os
import subprocess

import CoolProp
import numpy
import scipy
import scipy.constants
import scipy.stats

import cantera_gas
import mixtures
from tally import relative

HERE = os.path.dirname(os.path.abspath(__file__))
COUNTED_ABOVE = 1e-8    # mole fraction
# Aims are 1e-3 at worst and 5e-5 in the median. Same data and same species leave less than that:
# what remains is where each program stops iterating.
CANTERA_LIMITS = (1e-6, 1e-9)
CEA_LIMITS = (1e-5, 1e-7)
# Rounding is 1e-15, but just at 1000 K Cantera takes the one polynomial and the program the other:
# the published coefficients join to 2e-8 in heat capacity.
JOIN_LIMIT = 1e-7
COOLPROP = ("CoolProp", CoolProp.__version__)
CANTERA = (cantera_gas.NAME, cantera_gas.VERSION)


def cea_answers(states):
    """CEA's (version, answers); None where Debian's package is not installed."""
    done = subprocess.run(["/usr/bin/python3", os.path.join(HERE, "cea_states.py")],
                          input=json.dumps(states), capture_output=True, text=True, check=False)
    if done.returncode != 0:
        if os.environ.get("CI") == "true" or "No module named 'rocketcea'" not in done.stderr:
            raise RuntimeError("CEA: " + done.stderr)
        print("SKIPPED: NASA CEA is not installed: apt-get install rocketcea", flush=True)
        return None
    answer = json.loads(done.stdout)
    return answer["version"], answer["answers"]


def gas_deviations(states, ours, theirs):
    """(deviation, species, state) of every gas that one of the two has above the threshold."""
    found = []
    for state, mine, other in zip(states, ours, theirs, strict=True):
        for name, x in other.items():
            if x > COUNTED_ABOVE:
                found.append((relative(mine.get(name, math.nan), x), name, state))
    return found


def book_gases(tally, what, library, found, limits, note):
    worst = max(found, key=lambda one: -1.0 if math.isnan(one[0]) else one[0])
    tally.book("equilibrium", what, *library, [one[0] for one in found], limits[0],
               median=limits[1], worst_at=f"{worst[1]}: {mixtures.describe(worst[2])}", note=note)
    by_name = {}
    for deviation, name, _ in found:
        by_name.setdefault(name, []).append(deviation)
    print("     worst by gas: " + ", ".join(
        f"{name} {max(d):.1e} ({len(d)})"
        for name, d in sorted(by_name.items(), key=lambda item: -max(item[1]))), flush=True)


def cantera_equilibrium(tally, ask, random, count):
    states = [mixtures.random_state(random) for _ in range(count)]
    ours = ask.equilibria([mixtures.as_inputs(state) for state in states])
    gas = cantera_gas.product_gas()
    carbon = cantera_gas.graphite()
    everything = cantera_gas.any_gas()
    compositions, enthalpy, heat, density, mass, activity, oxygen = [], [], [], [], [], [], []
    for state, mine in zip(states, ours, strict=True):
        cantera_gas.equilibrate(gas, state)
        compositions.append(dict(zip(gas.species_names, gas.X.tolist(), strict=True)))
        activity.append(relative(mine["carbon_activity"], cantera_gas.carbon_activity(gas, carbon)))
        oxygen.append(abs(mine["log10_po2_bar"] - cantera_gas.log10_po2_bar(gas)))
        # Properties of one and the same mixture, ours.
        everything.TPX = state["temperature_k"], state["pressure_pa_abs"], {
            name: x for name, x in mine.items() if name in mixtures.SPECIES}
        cp = everything.cp_mass * cantera_gas.R_RATIO
        h = everything.enthalpy_mass * cantera_gas.R_RATIO
        enthalpy.append(abs(mine["h_j_kg"] - h) / (cp * state["temperature_k"]))
        heat.append(relative(mine["cp_j_kg_k"], cp))
        density.append(relative(mine["density_kg_m3"], everything.density))
        mass.append(relative(mine["molar_mass_kg_mol"], everything.mean_molecular_weight / 1e3))
    book_gases(tally, f"equilibrium composition, {count} states", CANTERA,
               gas_deviations(states, ours, compositions), CANTERA_LIMITS,
               "same species and coefficients")
    tally.book("oxygen-pressure", "log10 of pO2 at equilibrium", *CANTERA, oxygen, 1e-4)
    tally.book("solid-carbon", "carbon activity of the gas", *CANTERA, activity, 1e-4)
    tally.book("mixtures", "mixture enthalpy, relative to cp T", *CANTERA, enthalpy, JOIN_LIMIT,
               note="R of the coefficients")
    tally.book("mixtures", "mixture heat capacity", *CANTERA, heat, JOIN_LIMIT,
               note="R of the coefficients")
    tally.book("mixtures", "mixture molar mass", *CANTERA, mass, 1e-9)
    tally.book("ideal-gas", "mixture density", *CANTERA, density, 1e-9)


def cea_equilibrium(tally, ask, random, count):
    states = [mixtures.random_state(random) for _ in range(count)]
    answer = cea_answers(states)
    if answer is None:
        return
    library = ("NASA CEA (rocketcea)", answer[0])
    settled = [(s, a) for s, a in zip(states, answer[1], strict=True) if "x" in a]
    ours = ask.equilibria([mixtures.as_inputs(state) for state, _ in settled])
    refused = count - len(settled)
    book_gases(tally, f"equilibrium composition, {count} states", library,
               gas_deviations([s for s, _ in settled], ours, [a["x"] for _, a in settled]),
               CEA_LIMITS, "CEA may form all its gases")
    tally.book("equilibrium", "share of states where CEA's own repeats do not agree", *library,
               [refused / count], 0.02)
    enthalpy = [abs(mine["h_j_kg"] - a["h_j_kg"]) / (mine["cp_j_kg_k"] * s["temperature_k"])
                for mine, (s, a) in zip(ours, settled, strict=True)]
    tally.book("mixtures", "mixture enthalpy, relative to cp T", *library, enthalpy, 1e-6)
    density = [relative(mine["density_kg_m3"], a["density_kg_m3"])
               for mine, (_, a) in zip(ours, settled, strict=True)]
    tally.book("ideal-gas", "mixture density", *library, density, 1e-5,
               note="CEA's R is 5.7e-6 larger")


def cea_carbon(tally, ask, random, count):
    """Rich and cold, solid carbon allowed."""
    states = []
    for _ in range(count):
        state = mixtures.random_state(random)
        state["air_ratio"] = 1.0 / random.uniform(2.3, 3.0)
        state["temperature_k"] = round(random.uniform(900.0, 1000.0), 2)
        states.append(state)
    answer = cea_answers([dict(state, graphite=True) for state in states])
    if answer is None:
        return
    library = ("NASA CEA (rocketcea)", answer[0])
    settled = [(s, a) for s, a in zip(states, answer[1], strict=True) if "x" in a]
    ours = ask.equilibria([dict(mixtures.as_inputs(s), graphite="yes") for s, _ in settled])
    book_gases(tally, f"equilibrium beside solid carbon, {len(settled)} states", library,
               gas_deviations([s for s, _ in settled], ours, [a["x"] for _, a in settled]),
               CEA_LIMITS,
               f"carbon in {sum(a['graphite_mol_mol'] > 0 for _, a in settled)} of them")
    solid = [abs(mine["graphite_mol_mol"] - a["graphite_mol_mol"])
             for mine, (_, a) in zip(ours, settled, strict=True)]
    tally.book("solid-carbon", "solid carbon, mole per mole of gas", *library, solid, 1e-5,
               unit="mol/mol")


def flames(tally, ask, random, count, cea_count):
    states = []
    for _ in range(count):
        state = mixtures.random_state(random)
        del state["temperature_k"]
        state["air_ratio"] = 1.0 / mixtures.random_phi(random, 0.5, 2.0)
        states.append(state)
    ours = ask.numbers("flame_temperature_k", [mixtures.as_inputs(state) for state in states])
    gas = cantera_gas.product_gas()
    everything = cantera_gas.any_gas()
    off = []
    for state, mine in zip(states, ours, strict=True):
        air = mixtures.air_moles(state["fuel"], state["air_ratio"])
        moles = {name: air * x for name, x in mixtures.AIR.items()}
        for name, x in state["fuel"].items():
            moles[name] = moles.get(name, 0.0) + x
        off.append(abs(mine - cantera_gas.flame_k(gas, everything, state, moles)))
    tally.book("flame-temperature", "flame temperature", *CANTERA, off, 0.01, unit="K",
               note="same species and coefficients")
    answer = cea_answers([dict(state, flame=True) for state in states[:cea_count]])
    if answer is None:
        return
    off = [abs(mine - a["flame_k"])
           for mine, a in zip(ours, answer[1], strict=False) if "flame_k" in a]
    tally.book("flame-temperature", "flame temperature", "NASA CEA (rocketcea)", answer[0], off,
               0.05, unit="K", note="CEA may form all its gases")


def species(tally, ask, random, count):
    """Every gas of the table in Cantera; the common ones by equations of state of CoolProp, which
    rest on data of their own."""
    gas = cantera_gas.any_gas()
    cp, h, s = [], [], []
    states = [(name, round(random.uniform(300.0, 3000.0), 3)) for name in gas.species_names
              for _ in range(count)]
    inputs = [{"species": name, "temperature_k": t} for name, t in states]
    answers = [ask.numbers(quantity, inputs) for quantity in
               ("species_cp_j_mol_k", "species_h_j_mol", "species_s_j_mol_k")]
    for (name, t), our_cp, our_h, our_s in zip(states, *answers, strict=True):
        gas.TP = t, 1e5
        i = gas.species_index(name)
        cp.append(relative(our_cp, gas.standard_cp_R[i] * cantera_gas.R_NASA))
        h.append(abs(our_h / (cantera_gas.R_NASA * t) - gas.standard_enthalpies_RT[i]))
        s.append(relative(our_s, gas.standard_entropies_R[i] * cantera_gas.R_NASA))
    tally.book("species", "heat capacity of every gas", *CANTERA, cp, JOIN_LIMIT)
    tally.book("species", "enthalpy of every gas, in RT", *CANTERA, h, JOIN_LIMIT, unit="RT")
    tally.book("species", "entropy of every gas", *CANTERA, s, JOIN_LIMIT)

    off_cp, off_h = [], []
    for name, fluid in {"N2": "Nitrogen", "O2": "Oxygen", "CO2": "CarbonDioxide", "H2O": "Water",
                        "CO": "CarbonMonoxide", "H2": "Hydrogen", "CH4": "Methane", "Ar": "Argon",
                        "C2H6": "Ethane", "C3H8": "Propane", "n-C4H10": "n-Butane",
                        "i-C4H10": "IsoButane"}.items():
        state = CoolProp.AbstractState("HEOS", fluid)
        highest = min(state.Tmax(), 2000.0)
        temperatures = [random.uniform(300.0, highest) for _ in range(count)]
        inputs = [{"species": name, "temperature_k": t} for t in temperatures]
        rises = ask.numbers("species_h_rise_j_mol", inputs)
        for t, our_cp, rise in zip(temperatures, ask.numbers("species_cp_j_mol_k", inputs), rises,
                                   strict=True):
            off_cp.append(relative(our_cp, ideal_cp(state, t)))
            if t > 400.0:
                mean = numpy.polynomial.legendre.leggauss(20)
                half = 0.5 * (t - 298.15)
                theirs = half * sum(w * ideal_cp(state, 298.15 + half * (1.0 + x))
                                    for x, w in zip(*mean, strict=True))
                off_h.append(relative(rise, theirs))
    note = "measured data of its own"
    tally.book("species", "heat capacity of twelve gases", *COOLPROP, off_cp, 0.015, note=note)
    tally.book("species", "enthalpy from 25 degC of twelve gases", *COOLPROP, off_h, 0.01,
               note=note)


def ideal_cp(state, temperature_k):
    """Of the ideal gas; the density only has to be small."""
    state.update(CoolProp.DmolarT_INPUTS, 1e-6, temperature_k)
    return state.cp0molar()


def fuels(tally, ask, random, count):
    everything = cantera_gas.any_gas()
    kinds = [mixtures.random_fuel(random) for _ in range(count)]
    ours = ask.numbers("fuel_lhv_j_mol", kinds)
    off = []
    for fuel, mine in zip(kinds, ours, strict=True):
        n = mixtures.atoms(fuel)
        moles = dict(fuel)
        for name, amount in {"O2": mixtures.oxygen_need(fuel), "CO2": -n.get("C", 0.0),
                             "H2O": -0.5 * n.get("H", 0.0), "N2": -0.5 * n.get("N", 0.0)}.items():
            moles[name] = moles.get(name, 0.0) + amount
        off.append(relative(mine, cantera_gas.enthalpy_j(everything, moles, 298.15)))
    tally.book("heating-values", "net heating value", *CANTERA, off, 1e-9)

    states = [dict(fuel, temperature_k=random.uniform(300.0, 400.0)) for fuel in kinds]
    ours = ask.numbers("fuel_heat_capacity_ratio", states)
    off = []
    for fuel, state, mine in zip(kinds, states, ours, strict=True):
        everything.TPX = state["temperature_k"], 1e5, fuel
        off.append(relative(mine, everything.cp / everything.cv))
    tally.book("heat-capacity-ratio", "heat capacity ratio of fuels", *CANTERA, off, 1e-9)


def probe(tally, ask, random, count):
    states = [mixtures.random_state(random) for _ in range(count)]
    ours = ask.numbers("gas_emf_v", [mixtures.as_inputs(state) for state in states])
    gas = cantera_gas.product_gas()
    off = []
    for state, mine in zip(states, ours, strict=True):
        cantera_gas.equilibrate(gas, state)
        log_ratio = math.log(0.2095 * state["pressure_pa_abs"] / 1e5) - math.log(10.0) * (
            cantera_gas.log10_po2_bar(gas))
        volts = scipy.constants.R * state["temperature_k"] / (
            4.0 * scipy.constants.value("Faraday constant")) * log_ratio
        off.append(abs(mine - volts))
    tally.book("probe", "probe voltage of a gas at equilibrium", *CANTERA, off, 1e-5, unit="V",
               note=f"Nernst with the constants of SciPy {scipy.__version__}")


def unmixed(tally, ask, random, count):
    """Equilibrium parcels of Cantera, averaged over SciPy's beta distribution by many points."""
    gas = cantera_gas.product_gas()
    points, weights = numpy.polynomial.legendre.leggauss(100)
    off = []
    for _ in range(count):
        fuel = random.choice((mixtures.METHANE, mixtures.PROPANE, mixtures.NATURAL_GAS))
        state = {"fuel": fuel, "air_ratio": random.uniform(0.8, 1.15),
                 "temperature_k": round(random.uniform(1200.0, 1700.0), 2),
                 "pressure_pa_abs": 101325.0}
        spread = random.uniform(0.02, 0.2)
        mine = {name: ask.number("unmixed_x_dry", **mixtures.as_inputs(state), spread=spread,
                                 species=name) for name in ("CO", "H2", "O2", "CO2")}
        theirs = mean_of_parcels(gas, state, spread, points, weights)
        for name, x in theirs.items():
            off.append(relative(mine[name], x))
    tally.book("unmixedness", "CO, H2, O2, CO2 of an unmixed gas, dry", *CANTERA, off, 2e-3,
               note=f"200 parcels a state, beta distribution of SciPy {scipy.__version__}")


def mean_of_parcels(gas, state, spread, points, weights):
    fuel = state["fuel"]
    fuel_kg = sum(x * mixtures.SPECIES[n]["molar_mass_kg_mol"] for n, x in fuel.items())
    air_kg = sum(x * mixtures.SPECIES[n]["molar_mass_kg_mol"] for n, x in mixtures.AIR.items())
    stoich = mixtures.air_moles(fuel, 1.0) * air_kg / fuel_kg
    z_mean, z_kink = 1.0 / (1.0 + state["air_ratio"] * stoich), 1.0 / (1.0 + stoich)
    both = (1.0 - z_mean) / (z_mean * spread * spread) - 1.0    # a + b of the distribution
    beta = scipy.stats.beta(z_mean * both, (1.0 - z_mean) * both)
    cut = beta.cdf(z_kink)
    sums = {}
    for low, high in ((0.0, cut), (cut, 1.0)):
        # Probability 3 u^2 - 2 u^3: the points crowd at the ends, where z runs away.
        for point, weight in zip(points, weights, strict=True):
            u = 0.5 * (1.0 + point)
            z = beta.ppf(low + (high - low) * u * u * (3.0 - 2.0 * u))
            share = (high - low) * 0.5 * weight * 6.0 * u * (1.0 - u)
            if share < 1e-12:
                continue
            parcel = dict(state, air_ratio=(1.0 - z) / (z * stoich))
            cantera_gas.equilibrate(gas, parcel)
            moles_kg = share * 1e3 / gas.mean_molecular_weight
            for name, x in zip(gas.species_names, gas.X, strict=True):
                sums[name] = sums.get(name, 0.0) + moles_kg * x
    dry = sum(sums.values()) - sums["H2O"]
    return {name: sums[name] / dry for name in ("CO", "H2", "O2", "CO2")}


def run(tally, ask, random, count):
    cantera_equilibrium(tally, ask, random, count)
    cea_equilibrium(tally, ask, random, count)
    cea_carbon(tally, ask, random, max(count // 20, 5))
    flames(tally, ask, random, max(count // 5, 20), max(count // 20, 10))
    species(tally, ask, random, max(count // 100, 5))
    fuels(tally, ask, random, max(count // 20, 10))
    probe(tally, ask, random, max(count // 10, 20))
    unmixed(tally, ask, random, max(count // 200, 3))
