"""Cantera on the program's own species set and coefficients.

What is compared is then the solver and the thermodynamics, not the data. Two things differ by
design and are put right here:
- NASA's nine coefficients go with R = 8.314510 J/(mol K); Cantera multiplies them by the R of the
  2019 SI. Compositions, temperatures and everything per RT do not notice. Enthalpies and heat
  capacities are scaled by the ratio of the two, 1.0000057.
- atomic masses: those of the table, so that both mean the same by a kilogram.
"""
import io
import math

import cantera
from ruamel.yaml import YAML

import mixtures

NAME = "Cantera"
VERSION = cantera.__version__
R_NASA = 8.314510
# Cantera counts in kmol.
R_RATIO = R_NASA / (cantera.gas_constant / 1000.0)


def atomic_masses():
    kg = {name: entry["molar_mass_kg_mol"] for name, entry in mixtures.SPECIES.items()}
    return {"C": 1e3 * (kg["CO2"] - kg["O2"]), "H": 1e3 * kg["H2"] / 2.0, "O": 1e3 * kg["O2"] / 2.0,
            "N": 1e3 * kg["N2"] / 2.0, "Ar": 1e3 * kg["Ar"]}


def entry_of(species):
    ranges = species["ranges"]
    return {"name": species["name"], "composition": dict(species["atoms"]),
            "thermo": {"model": "NASA9", "reference-pressure": "1 bar",
                       "temperature-ranges": [float(ranges[0][0])] + [float(r[1]) for r in ranges],
                       "data": [[float(a) for a in r[2:]] for r in ranges]}}


def solution(names):
    """An ideal gas of the named species."""
    masses = atomic_masses()
    document = {"elements": [{"symbol": e, "atomic-weight": m} for e, m in masses.items()],
                "phases": [{"name": "gas", "thermo": "ideal-gas", "elements": list(masses),
                            "species": list(names)}],
                "species": [entry_of(mixtures.SPECIES[name]) for name in names]}
    text = io.StringIO()
    YAML().dump(document, text)
    gas = cantera.Solution(yaml=text.getvalue())
    for element, mass in masses.items():
        if gas.atomic_weight(element) != mass:
            raise RuntimeError(f"Cantera did not take the atomic mass of {element}")
    return gas


def product_gas():
    """The species that the program lets form."""
    return solution([name for name, entry in mixtures.SPECIES.items()
                     if mixtures.in_equilibrium(entry)])


def any_gas():
    """All gases of the table, fuels too."""
    return solution([name for name, entry in mixtures.SPECIES.items()
                     if not entry.get("condensed")])


def feed(fuel, air_ratio):
    """Moles of product gases with the elements of a mole of fuel and its air: the fuels are not all
    among the products."""
    n = mixtures.atoms(fuel)
    air = mixtures.air_moles(fuel, air_ratio)
    carbon, hydrogen = n.get("C", 0.0), n.get("H", 0.0)
    oxygen = n.get("O", 0.0) - carbon + 2.0 * air * mixtures.AIR["O2"]
    return {"CO": carbon, "H2": 0.5 * hydrogen, "O2": 0.5 * oxygen,
            "N2": 0.5 * n.get("N", 0.0) + air * mixtures.AIR["N2"],
            "Ar": air * mixtures.AIR["Ar"], "CO2": air * mixtures.AIR["CO2"]}


def equilibrate(gas, state, rtol=1e-12):
    """Takes the gas to the equilibrium of a state of mixtures.random_state()."""
    gas.TPX = state["temperature_k"], state["pressure_pa_abs"], feed(state["fuel"],
                                                                     state["air_ratio"])
    gas.equilibrate("TP", solver="element_potential", rtol=rtol, max_steps=10000)


def enthalpy_j(everything, moles, temperature_k):
    """Enthalpy of so many moles of each gas [J], by the coefficients' own R."""
    everything.TP = temperature_k, cantera.one_atm
    h = everything.standard_enthalpies_RT
    return sum(n * h[everything.species_index(name)] for name, n in moles.items()) * (
        R_NASA * temperature_k)


def flame_k(gas, everything, state, moles):
    """Temperature at which the products of these moles at 25 degC hold the same enthalpy."""
    gas.TPX = 2000.0, state["pressure_pa_abs"], feed(state["fuel"], state["air_ratio"])
    kilograms = sum(n * mixtures.SPECIES[name]["molar_mass_kg_mol"] for name, n in moles.items())
    # Back to Cantera's R: its own enthalpies must balance.
    target = enthalpy_j(everything, moles, 298.15) / R_RATIO / kilograms
    gas.equilibrate("TP", solver="element_potential", rtol=1e-12)
    gas.HP = target, state["pressure_pa_abs"]
    gas.equilibrate("HP", solver="element_potential", rtol=1e-12, max_steps=10000)
    return gas.T


def graphite():
    """Thermodynamics of solid carbon."""
    return cantera.Species.from_dict(entry_of(mixtures.SPECIES["C(gr)"])).thermo


def carbon_activity(gas, carbon):
    """By 2 CO = C + CO2, graphite = 1."""
    rt = cantera.gas_constant * gas.T
    mu = gas.chemical_potentials
    solid = carbon.h(gas.T) - gas.T * carbon.s(gas.T)
    return math.exp((2.0 * mu[gas.species_index("CO")] - mu[gas.species_index("CO2")] - solid) / rt)


def log10_po2_bar(gas):
    return math.log10(gas["O2"].X[0] * gas.P / 1e5)
