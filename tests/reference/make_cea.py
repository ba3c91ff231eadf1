#!/usr/bin/python3
"""Writes equilibrium_cea.csv and flame_cea.csv with NASA CEA, the oracle of the equilibrium tests.

Needs Debian's package rocketcea (it brings CEA as the Python module py_cea and NASA's thermo.lib)
and the Python it was built for:

    apt-get install rocketcea
    /usr/bin/python3 make_cea.py [folder]

The two tables are checked in; run this only to change which states they hold. The same package
version gives the same files byte for byte.

Precision. CEA as it comes is a few digits short near the stoichiometric point: a card holds few
digits of the equivalence ratio, and while it iterates it leaves every gas below mole fraction 1e-8
out of the balances, though the others then hold all the oxygen excess there is. So:
- reactants go in as moles with 17 digits;
- 1e-11 mol of helium goes in with them. CEA sets its cut by the rarest element, so the cut falls to
  mole fraction 1e-15, and nothing else changes;
- every state is given six times in one case: each repeat starts from the answer before it and makes
  at least one more Newton step. The repeats must agree, and the oxygen excess must close;
- numbers are taken from CEA's memory, since its printout has five digits; the two are compared.
"""
import os
import re
import shutil
import subprocess
import sys
import tempfile

import numpy as np
import rocketcea
import rocketcea.py_cea as cea

RECORD_ABOVE = 1e-8
REPEATS = 6
AGREE = 1e-6          # largest relative difference between repeats
CLOSE = 1e-6          # largest open balance of oxygen excess, relative to its terms
HELIUM_MOL = 1e-11
AIR = {"N2": 0.78084, "O2": 0.209476, "Ar": 0.009365, "CO2": 0.000319}
FUELS = {
    "methane": {"CH4": 1.0},
    "ethane": {"C2H6": 1.0},
    "propane": {"C3H8": 1.0},
    "n-butane": {"C4H10,n-butane": 1.0},
    "natural_gas": {"CH4": 0.93, "C2H6": 0.04, "C3H8": 0.01, "N2": 0.01, "CO2": 0.01},
}
# Oxygen atoms that burn one molecule to CO2 and H2O.
OXYGEN = {"CH4": 4, "C2H6": 7, "C3H8": 10, "C4H10,n-butane": 13, "C4H10,isobutane": 13,
          "H2": 1, "CO": 1, "N2": 0, "CO2": 0}
SHORT = {"HCHO,formaldehy": "HCHO", "C2H2,acetylene": "C2H2"}

GAS_PHI = [0.3, 0.5, 0.7, 0.8, 0.9, 0.95, 0.99, 0.999, 1.0, 1.001, 1.01, 1.05, 1.1, 1.2, 1.5,
           2.0, 2.5, 3.0]
GAS_T_K = [900, 1000, 1100, 1200, 1300, 1400, 1500, 1600, 1800, 2000]
THIN_PHI = [0.5, 0.95, 0.999, 1.0, 1.05, 1.5, 3.0]
THIN_T_K = [900, 1100, 1300, 1500, 2000]
SOOT_PHI = [2.0, 2.5, 3.0]
SOOT_T_K = [900, 925, 950, 1000, 1050, 1100]
FLAME_PHI = [0.6, 0.8, 0.9, 1.0, 1.1, 1.2, 1.5, 2.0]
ATM_PA = 101325.0
THIN_PA = 80000.0


class Cea:
    """CEA with its data in a scratch folder; one case at a time."""

    def __init__(self):
        self.folder = tempfile.mkdtemp() + "/"
        home = os.path.dirname(rocketcea.__file__)
        for name in ("thermo.lib", "trans.lib", "f.inp"):
            shutil.copy(os.path.join(home, name), self.folder)

    def run(self, lines):
        """Runs a deck; gives the printout."""
        if len(lines) > 50:
            raise ValueError("deck too long")
        for n in range(50):
            cea.setinpline(n + 1, (lines[n] if n < len(lines) else " ").ljust(132))
        cea.py_cea(self.folder + " ", "f.inp ", 1, 1)
        with open(self.folder + "f.out", encoding="ascii") as out:
            return out.read()


def reactants(fuel, phi, t_fuel_k=298.15, t_air_k=298.15):
    """Deck lines for one mole of fuel and the air that goes with it."""
    need = sum(OXYGEN[s] * x for s, x in fuel.items())
    air_mol = need / (phi * 2.0 * AIR["O2"])
    lines = ["reac"]
    for species, x in fuel.items():
        lines.append(f"  name {species} moles={x:.17g} t(k)={t_fuel_k:g}")
    for species, x in AIR.items():
        lines.append(f"  name {species} moles={air_mol * x:.17g} t(k)={t_air_k:g}")
    lines.append(f"  name He moles={HELIUM_MOL:g} t(k)=298.15")
    return lines


def product_names():
    names = [bytes(p).decode("ascii").strip().lstrip("*") for p in cea.cdata.prod]
    return names[1:int(cea.indx.ngc) + 1]        # entry 0 is not a product


def printed_fraction(text, species, column):
    """A mole fraction from the printout, which writes 1.9672-2 for 1.9672e-2; None if not there."""
    row = re.search(r"^ [*]?" + re.escape(species) + r" +(\d\.\d+[ -]\d+.*)$", text, re.M)
    numbers = re.findall(r"(\d\.\d+)([ -]) ?(\d+)", row[1]) if row else []
    if column >= len(numbers):
        return None
    digits, sign, power = numbers[column]
    return float(digits) * 10.0 ** int(sign.strip() + power)


def equilibrium(engine, fuel, phi, t_k, p_pa, graphite):
    """Mole fractions in the gas and moles of graphite per mole of gas."""
    deck = reactants(fuel, phi)
    repeat = ",".join([f"{t_k:g}"] * REPEATS)
    deck += ["prob case=x", f"  tp t,k={repeat}, p,bar={p_pa / 1e5:.10g}", " "]
    if not graphite:
        deck.append("omit C(gr)")
    deck += ["outp siunits trace=1.e-15", " ", "end "]
    text = engine.run(deck)

    gases, everything, elements = int(cea.indx.ng), int(cea.indx.ngc), int(cea.indx.nlm)
    names = product_names()
    moles = np.array(cea.comp.en[:everything, :REPEATS])
    b0 = np.array(cea.miscr.b0[:elements])
    per_mol = np.array(cea.miscr.a[:elements, :everything])
    symbols = [bytes(e).decode("ascii").strip() for e in cea.cdata.elmt[:elements]]
    weight = np.array([{"O": 1.0, "C": -2.0, "H": -0.5}.get(e, 0.0) for e in symbols])
    excess = weight @ per_mol             # oxygen atoms left by a molecule if all is burnt
    open_by = np.abs(excess @ moles - weight @ b0) / (np.abs(excess) @ moles)
    elements_open = np.abs(per_mol @ moles - b0[:, None]).max(0) / b0.max()
    best = 1 + int(np.argmin(open_by[1:]))
    per_gas = moles / moles[:gases].sum(0)
    chosen = per_gas[:, best]
    counted = chosen > RECORD_ABOVE
    spread = np.abs(per_gas[counted][:, 1:] / chosen[counted][:, None] - 1.0).max()
    if open_by[best] > CLOSE or elements_open[best] > 1e-12 or spread > AGREE:
        raise RuntimeError(f"CEA did not settle: phi {phi} T {t_k}: {open_by} {elements_open}"
                           f" {spread}")

    result = {}
    solid = 0.0
    total = 1.0 + chosen[gases:].sum()
    for name, x in zip(names, chosen):
        if name == "C(gr)":
            solid += x
        elif x > RECORD_ABOVE:
            result[SHORT.get(name, name)] = x
            shown = printed_fraction(text, name, best)
            if shown is None or abs(shown / (x / total) - 1.0) > 1.2e-4:
                raise RuntimeError(f"printout and memory differ: {name} {shown} {x / total}")
    return result, solid


def flame(engine, fuel, phi, p_pa, t_air_k):
    """Adiabatic flame temperature at constant pressure [K]."""
    deck = reactants(fuel, phi, t_air_k=t_air_k)
    repeat = ",".join([f"{p_pa / 1e5:.10g}"] * REPEATS)
    deck += ["prob case=x", f"  hp p,bar={repeat}", " ", "outp siunits trace=1.e-15", " ", "end "]
    engine.run(deck)
    t_k = np.array(cea.prtout.ttt[:REPEATS])
    if np.ptp(t_k[1:]) > 0.005:
        raise RuntimeError(f"CEA did not settle: {t_k}")
    return t_k[REPEATS - 1]


def version():
    shown = subprocess.run(["dpkg-query", "-W", "-f", "${Version}", "rocketcea"],
                           capture_output=True, text=True, check=False)
    return shown.stdout or "unknown"


def header(what):
    return [
        f"# {what}",
        "# Made by make_cea.py with NASA CEA (October 2002 code, thermo.inp of 2004-09-09) as",
        f"# packaged in Debian rocketcea {version()}. NASA-9 data, R = 8.314510, 1 bar standard state.",
        "# Air, mole fractions: " + ", ".join(f"{s} {x}" for s, x in AIR.items()) + ".",
        "# natural_gas, mole fractions: "
        + ", ".join(f"{s} {x}" for s, x in FUELS["natural_gas"].items()) + ".",
        "# phi: oxygen the fuel asks for / O2 of the air (its CO2 does not count); exact to 1e-15.",
    ]


def write_equilibrium(engine, path):
    jobs = []
    for fuel in ("methane", "propane", "natural_gas"):
        jobs += [(fuel, phi, t, ATM_PA, False) for phi in GAS_PHI for t in GAS_T_K]
        jobs += [(fuel, phi, t, THIN_PA, False) for phi in THIN_PHI for t in THIN_T_K]
        jobs += [(fuel, phi, t, p, True) for p in (ATM_PA, THIN_PA) for phi in SOOT_PHI
                 for t in SOOT_T_K]
    rows = []
    most = {}
    for fuel, phi, t_k, p_pa, graphite in jobs:
        x, solid = equilibrium(engine, FUELS[fuel], phi, t_k, p_pa, graphite)
        rows.append((fuel, phi, t_k, p_pa, graphite, solid, x))
        for species, value in x.items():
            most[species] = max(most.get(species, 0.0), value)
    columns = sorted(most, key=lambda s: -most[s])
    lines = header("Equilibrium composition of combustion gas by NASA CEA.")
    lines += [
        f"# All {int(cea.indx.ng) - 1} gases of C, H, O, N, Ar in CEA's library may form; mole fractions in the gas",
        f"# above {RECORD_ABOVE:g} are given, an empty field is less. graphite yes: solid carbon may form;",
        "# C(gr) is then mole of it per mole of gas. Seven digits; good to 1e-6.",
        "fuel,phi,T_K,p_Pa,graphite,C(gr)," + ",".join(columns),
    ]
    for fuel, phi, t_k, p_pa, graphite, solid, x in rows:
        fields = [fuel, f"{phi:g}", f"{t_k:g}", f"{p_pa:g}", "yes" if graphite else "no",
                  f"{solid:.6e}" if graphite else ""]
        fields += [f"{x[s]:.6e}" if s in x else "" for s in columns]
        lines.append(",".join(fields))
    write(path, lines)
    print(f"{path}: {len(rows)} states, species above {RECORD_ABOVE:g}:")
    for species in columns:
        print(f"  {species:8s} {most[species]:.3e}")


def write_flame(engine, path):
    lines = header("Adiabatic flame temperature at constant pressure by NASA CEA.")
    lines += ["# Fuel at 298.15 K; all gases of CEA's library, solid carbon may form but never does here.",
              "fuel,phi,p_Pa,air_T_K,flame_T_K"]
    jobs = [(fuel, phi, ATM_PA, 298.15) for fuel in FUELS for phi in FLAME_PHI]
    jobs += [(fuel, phi, ATM_PA, 700.0) for fuel in ("methane", "propane") for phi in (0.8, 1.0, 1.2)]
    jobs += [(fuel, 1.0, THIN_PA, 298.15) for fuel in ("methane", "propane")]
    for fuel, phi, p_pa, t_air_k in jobs:
        t_k = flame(engine, FUELS[fuel], phi, p_pa, t_air_k)
        lines.append(f"{fuel},{phi:g},{p_pa:g},{t_air_k:g},{t_k:.3f}")
    write(path, lines)
    print(f"{path}: {len(jobs)} flames")


def write(path, lines):
    with open(path, "w", encoding="ascii", newline="\n") as out:
        out.write("\n".join(lines) + "\n")


def main():
    folder = sys.argv[1] if len(sys.argv) > 1 else os.path.dirname(os.path.abspath(__file__))
    engine = Cea()
    write_equilibrium(engine, os.path.join(folder, "equilibrium_cea.csv"))
    write_flame(engine, os.path.join(folder, "flame_cea.csv"))
    shutil.rmtree(engine.folder)


if __name__ == "__main__":
    main()
