#!/usr/bin/python3
"""NASA CEA for given states: reads a JSON list on standard input, writes one on standard output.

Run by the Python that Debian's rocketcea was built for. A state has `fuel` (mole fractions by the
names of config/species.yaml), `air_ratio`, `temperature_k`, `pressure_pa_abs` and `graphite`; or
`flame` true and then no temperature. CEA is asked as in make_cea.py, all its gases may form. An
answer has `x`, `graphite_mol_mol`, `h_j_kg`, `density_kg_m3`, or `flame_k`; or `refused` with the
reason why CEA's own answer is not exact enough.
"""
import json
import os
import shutil
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import make_cea

CEA_NAMES = {"n-C4H10": "C4H10,n-butane", "i-C4H10": "C4H10,isobutane"}
R_CEA = 8314.51


def answer(engine, state):
    fuel = {CEA_NAMES.get(name, name): share for name, share in state["fuel"].items()}
    phi = 1.0 / state["air_ratio"]
    p_pa = state["pressure_pa_abs"]
    try:
        if state.get("flame"):
            return {"flame_k": make_cea.flame(engine, fuel, phi, p_pa, 298.15)}
        x, solid = make_cea.equilibrium(engine, fuel, phi, state["temperature_k"], p_pa,
                                        state.get("graphite", False))
    except RuntimeError as reason:
        return {"refused": str(reason)}
    last = make_cea.REPEATS - 1
    return {"x": x, "graphite_mol_mol": solid,
            "h_j_kg": float(make_cea.cea.prtout.hsum[last]) * R_CEA,
            # CEA keeps m3/kg times the pascals of a bar.
            "density_kg_m3": 1e5 / float(make_cea.cea.prtout.vlm[last])}


def main():
    out = os.dup(1)
    os.dup2(2, 1)       # CEA talks on standard output
    engine = make_cea.Cea()
    answers = [answer(engine, state) for state in json.load(sys.stdin)]
    shutil.rmtree(engine.folder)
    with os.fdopen(out, "w", encoding="ascii") as file:
        json.dump({"version": make_cea.version(), "answers": answers}, file)


if __name__ == "__main__":
    main()
