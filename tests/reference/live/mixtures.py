"""The species table of the program, and random states of fuel and air over it."""
import os

from ruamel.yaml import YAML

ROOT = os.path.abspath(os.path.join(os.path.dirname(__file__), "..", "..", ".."))
SPECIES_FILE = os.path.join(ROOT, "config", "species.yaml")
AIR = {"N2": 0.78084, "O2": 0.209476, "Ar": 0.009365, "CO2": 0.000319}
METHANE = {"CH4": 1.0}
PROPANE = {"C3H8": 1.0}
NATURAL_GAS = {"CH4": 0.93, "C2H6": 0.04, "C3H8": 0.01, "N2": 0.01, "CO2": 0.01}
FUEL_GASES = ["CH4", "C2H6", "C3H8", "n-C4H10", "i-C4H10", "H2", "CO", "N2", "CO2"]


def read_species():
    """The entries of config/species.yaml by name."""
    with open(SPECIES_FILE, encoding="utf-8") as file:
        # The program reads plain words as they stand, as YAML 1.2 does: NO is a gas.
        document = YAML(typ="safe").load(file)
    return {entry["name"]: entry for entry in document["species"]}


SPECIES = read_species()


def in_equilibrium(entry):
    return entry.get("equilibrium") in ("yes", True)


def atoms(shares):
    """Atoms per mole of a mixture."""
    total = {}
    for name, share in shares.items():
        for element, count in SPECIES[name]["atoms"].items():
            total[element] = total.get(element, 0.0) + count * share
    return total


def oxygen_need(shares):
    """Moles of O2 that burn a mole to CO2 and H2O."""
    n = atoms(shares)
    return n.get("C", 0.0) + 0.25 * n.get("H", 0.0) - 0.5 * n.get("O", 0.0)


def air_moles(fuel, air_ratio):
    return air_ratio * oxygen_need(fuel) / AIR["O2"]


def random_fuel(random):
    """Methane, propane, natural gas, or anything that burns, in equal parts."""
    kind = random.randrange(4)
    if kind < 3:
        return (METHANE, PROPANE, NATURAL_GAS)[kind]
    names = random.sample(FUEL_GASES, random.randint(2, 5))
    if not any(name in names[1:] for name in ("CH4", "C2H6", "C3H8", "n-C4H10", "i-C4H10")):
        names[0] = random.choice(("CH4", "C2H6", "C3H8", "n-C4H10", "i-C4H10"))
    shares = {}
    for name in names:
        # At most half inert, so that it is still a fuel.
        shares[name] = random.random() * (0.3 if name in ("N2", "CO2") else 1.0) + 0.05
    total = sum(shares.values())
    return {name: share / total for name, share in shares.items()}


def random_phi(random, low=0.3, high=3.0):
    """Evenly spread; one in five within 0.1 of 1, down to 1e-5, where balances are hardest."""
    if random.random() < 0.2:
        return 1.0 + random.choice((-1.0, 1.0)) * 10.0 ** random.uniform(-5.0, -1.0)
    return random.uniform(low, high)


def random_state(random):
    """Fuel and what `ask` wants to know of a state; numbers that a text of few digits holds."""
    return {"fuel": random_fuel(random),
            "air_ratio": 1.0 / random_phi(random),
            "temperature_k": round(random.uniform(900.0, 2000.0), 2),
            "pressure_pa_abs": round(random.uniform(0.7e5, 1.1e5), 1)}


def as_inputs(state):
    """The state as inputs of `ask`."""
    inputs = {"fuel": "shares", **state["fuel"]}
    inputs.update((name, value) for name, value in state.items() if name != "fuel")
    return inputs


def describe(state):
    fuel = " ".join(f"{name} {share:.3g}" for name, share in state["fuel"].items())
    rest = " ".join(f"{name} {value:.9g}" for name, value in state.items()
                    if isinstance(value, float))
    return f"{fuel}; phi {1.0 / state['air_ratio']:.9g} {rest}"
