"""What burns of the carbon monoxide where kiln gas comes out of a hole: a second time, by trying mixtures.

`burnt_shares(inputs, estimate, places, table)` takes the "inputs" of `check`, the JSON of `estimate`, the "places" of
`room` and the species; it gives the share of each place.
"""
import numpy as np
from scipy.optimize import brentq, minimize_scalar

import gases
from gases import R

LIGHTS_K, SURE_K = 883.15, 1033.15
NARROW_M = 0.010
MOST = 0.9


def burning_time(t, p, x_h2o, x_o2):
    """[CO] over its rate, Dryer and Glassman, in mol/cm3."""
    c = p / (R * t) * 1e-6
    return 1.0 / (10**14.6 * np.exp(-40000.0 * 4.184 / (R * t)) * np.sqrt(c * x_h2o) * (c * x_o2)**0.25)


def fastest(table, gas, t_gas, air, t_air, p):
    """(temperature, time) of the mixture that burns fastest, over moles of air to a mole of gas."""
    if t_gas <= LIGHTS_K:
        return None
    h_gas, h_air = gases.mixture_h(table, gas, t_gas), gases.mixture_h(table, air, t_air)

    def temperature(a):
        return brentq(lambda t: gases.mixture_h(table, gas, t) - h_gas + a * (gases.mixture_h(table, air, t) - h_air),
                      min(t_air, 250.0), t_gas + 1.0, xtol=1e-10)

    def time(a):
        x = {n: (gas.get(n, 0.0) + a * air.get(n, 0.0)) / (1 + a) for n in ("H2O", "O2")}
        return burning_time(temperature(a), p, x["H2O"], x["O2"])

    def excess(x):
        return sum(v * (table[n].atoms["O"] - 2 * table[n].atoms["C"] - table[n].atoms["H"] / 2) for n, v in x.items())

    most = max(-excess(gas) / excess(air), 0.0)
    if most > 0 and temperature(most) < LIGHTS_K:
        most = brentq(lambda a: temperature(a) - LIGHTS_K, 0.0, most, xtol=1e-13)
    tried = np.linspace(0.0, most, 41)
    best = int(np.argmin([time(a) for a in tried]))
    low, high = tried[max(best - 1, 0)], tried[min(best + 1, 40)]
    a = most
    if high > low:
        a = minimize_scalar(time, bounds=(low, high), method="bounded", options={"xatol": 1e-12 * high}).x
    return temperature(a), time(a)


def mouth(opening, middle):
    """(area of all, hydraulic diameter, narrow) of a hole or of the upper part of a tall opening."""
    each = opening["area_m2"] * opening["open"]
    if opening["kind"] != "tall":
        return opening["count"] * each, each**0.5, each**0.5 < NARROW_M
    width = each / (opening["to_m"] - opening["from_m"])
    out = 2 * (opening["to_m"] - middle)
    return opening["count"] * width * out, 4 * width * out / (2 * (width + out)), width < NARROW_M


def flue_mouth(flue):
    side, share = flue["area_m2"]**0.5, max(flue["damper.open"], flue["damper.leak"])
    return (flue["count"] * flue["area_m2"] * share, 4 * side * side * share / (2 * side * (1 + share)),
            side * share < NARROW_M)


def burnt_shares(inputs, estimate, places, table, groups):
    gas = {n: v for n, v in estimate["gas_wet"].items() if v}
    t_gas, p = estimate["gas_temperature_k"], inputs["kiln.site.pressure_pa_abs"]
    air = gases.moist_air(inputs["kiln.site.air_temperature_k"], p, inputs["kiln.site.relative_humidity"])
    flame = fastest(table, gas, t_gas, air, inputs["kiln.site.room_temperature_k"], p)
    rho = p * gases.molar_mass(table, gas) / (R * t_gas)
    openings = {o["name"]: o for o in groups(inputs, "kiln.openings")}
    flues = {f["name"]: f for f in groups(inputs, "kiln.flues")}
    out = []
    for place in places:
        name = place["name"]
        if name in flues:
            area, width, narrow = flue_mouth(flues[name])
            narrow = narrow or "kiln.stack.height_m" in inputs
        elif name in openings and openings[name]["kind"] != "crack":
            area, width, narrow = mouth(openings[name], place["height_m"])
        else:
            out.append(0.0)
            continue
        if narrow or flame is None:
            out.append(0.0)
            continue
        da = 10 * width / (place["mass_kg_s"] / (rho * area)) / flame[1]
        out.append(MOST * min(max((flame[0] - LIGHTS_K) / (SURE_K - LIGHTS_K), 0), 1) * min(max((da - 1) / 9, 0), 1))
    return out
