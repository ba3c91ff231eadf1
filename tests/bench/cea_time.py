"""Seconds per assigned-temperature equilibrium of NASA CEA (Debian's rocketcea), best of five runs.

One deck of the size CEA takes at once, so that reading its data base is shared out fairly.
"""
import os
import shutil
import tempfile
import time

import rocketcea
import rocketcea.py_cea as cea
from rocketcea.cea_obj import set_py_cea_line

source = os.path.dirname(rocketcea.__file__)
work = tempfile.mkdtemp() + "/"
for name in ("thermo.lib", "trans.lib", "f.inp"):
    shutil.copy(os.path.join(source, name), work)

temperatures = [900 + 50 * i for i in range(20)]
lines = [
    "reac", "  fuel CH4  t(k)=298.15  ", "  oxid Air  t(k)=298.15  ", "   ", "prob case=x ",
    "  tp phi,eq.ratio=1.1, p,atm=1.0, t,k=%s  " % ",".join("%d." % t for t in temperatures[:8]),
    "   ", "only CO2 H2O CO H2 O2 N2 Ar OH H O NO CH4 NH3 HCN ", "   ", "outp   siunits  ", "   ", "end ",
]


def once():
    for n in range(40):
        set_py_cea_line(n + 1, lines[n] if n < len(lines) else "   ")
    start = time.perf_counter()
    cea.py_cea(work + " ", "f.inp ", 1, 1)
    return (time.perf_counter() - start) / 8


print(min(once() for _ in range(10)))
shutil.rmtree(work)
