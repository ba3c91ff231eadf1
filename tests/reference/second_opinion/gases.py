"""Ideal gases of the second opinion: NASA-9 data, equilibrium, unmixed averages.

Written from the equations alone. The equilibrium is that of formation reactions from CO2, H2O, O2,
N2 and Ar: with those five pressures and the total moles as unknowns every other gas follows from its
reaction constant. The oxygen balance is the balance of the excess O - 2 C - H/2.
"""
import numpy as np
import yaml
from scipy.integrate import quad_vec
from scipy.optimize import brentq
from scipy.stats import beta as beta_distribution

R_NASA = 8.314510      # goes with the polynomials
R = 8.314462618
FARADAY = 96485.33212
T_REFERENCE = 298.15
P_STANDARD = 1.0e5
WATER_VAPORIZATION = 44004.0   # J/mol at 298.15 K
DRY_AIR = {"N2": 0.78084, "O2": 0.209476, "Ar": 0.009365, "CO2": 0.000319}
ELEMENTS = ("C", "H", "O", "N", "Ar")


class Species:
    """One row of config/species.yaml."""

    def __init__(self, entry):
        self.name = entry["name"]
        self.atoms = {e: float(entry["atoms"].get(e, 0)) for e in ELEMENTS}
        self.molar_mass = float(entry["molar_mass_kg_mol"])
        self.product = entry.get("equilibrium") == "yes"
        self.ranges = [[float(v) for v in row] for row in entry["ranges"]]

    def coefficients(self, t):
        for row in self.ranges:
            if t <= row[1]:
                return row[2:]
        return self.ranges[-1][2:]

    def cp(self, t):
        a = self.coefficients(t)
        return R_NASA * (a[0] / t**2 + a[1] / t + a[2] + a[3] * t + a[4] * t**2 + a[5] * t**3
                         + a[6] * t**4)

    def h(self, t):
        a = self.coefficients(t)
        return R_NASA * t * (-a[0] / t**2 + a[1] * np.log(t) / t + a[2] + a[3] * t / 2
                             + a[4] * t**2 / 3 + a[5] * t**3 / 4 + a[6] * t**4 / 5 + a[7] / t)

    def s(self, t):
        a = self.coefficients(t)
        return R_NASA * (-a[0] / t**2 / 2 - a[1] / t + a[2] * np.log(t) + a[3] * t + a[4] * t**2 / 2
                         + a[5] * t**3 / 3 + a[6] * t**4 / 4 + a[8])

    def g_rt(self, t):
        """Standard Gibbs energy over R T, at 1 bar."""
        return (self.h(t) - t * self.s(t)) / (R_NASA * t)


def read_spreads(path):
    """Rows of defaults by kind, numbers as text."""
    with open(path, encoding="utf-8") as stream:
        return yaml.load(stream, Loader=yaml.BaseLoader)["spreads"]


def read_species(path):
    with open(path, encoding="utf-8") as stream:
        entries = yaml.load(stream, Loader=yaml.BaseLoader)     # all words: NO is a gas here
    return {e["name"]: Species(e) for e in entries["species"]}


# Mixtures are dictionaries of name: mole fraction.

def molar_mass(table, x):
    return sum(v * table[n].molar_mass for n, v in x.items())


def mixture_cp(table, x, t):
    return sum(v * table[n].cp(t) for n, v in x.items())


def mixture_h(table, x, t):
    return sum(v * table[n].h(t) for n, v in x.items())


def elements_per_kg(table, x):
    m = molar_mass(table, x)
    return {e: sum(v * table[n].atoms[e] for n, v in x.items()) / m for e in ELEMENTS}


def oxygen_excess_per_kg(table, x):
    """O - 2 C - H/2, summed gas by gas: zero for CO2 and H2O without any rounding."""
    m = molar_mass(table, x)
    return sum(v * (table[n].atoms["O"] - 2 * table[n].atoms["C"] - table[n].atoms["H"] / 2)
               for n, v in x.items()) / m


def net_heating_value(table, x):
    """J/mol at 298.15 K, water as gas."""
    t = T_REFERENCE
    c, h, o, n = (sum(v * table[name].atoms[e] for name, v in x.items()) for e in "CHON")
    return (mixture_h(table, x, t) + (c + h / 4 - o / 2) * table["O2"].h(t) - c * table["CO2"].h(t)
            - h / 2 * table["H2O"].h(t) - n / 2 * table["N2"].h(t))


def moist_air(temperature, pressure, humidity):
    """Mole fractions of air with its vapour; CIPM-2007 saturation pressure and enhancement."""
    t = temperature
    psv = np.exp(1.2378847e-5 * t**2 - 1.9121316e-2 * t + 33.93711047 - 6343.1645 / t)
    f = 1.00062 + 3.14e-8 * pressure + 5.6e-7 * (t - 273.15)**2
    xv = humidity * f * psv / pressure
    x = {n: v * (1 - xv) for n, v in DRY_AIR.items()}
    x["H2O"] = xv
    return x


class Equilibrium:
    """Equilibrium gases at one temperature and pressure."""

    def __init__(self, table, temperature, pressure):
        self.names = [n for n, s in table.items() if s.product]
        at = np.array([[table[n].atoms[e] for e in ELEMENTS] for n in self.names])
        c, h, o, n, ar = at.T
        self.mass = np.array([table[k].molar_mass for k in self.names])
        # moles of CO2, H2O, O (as half an O2), N2 and Ar that make one mole of each gas
        self.nu = np.column_stack([c, h / 2, o - 2 * c - h / 2, n / 2, ar])
        base = [table["CO2"], table["H2O"], table["O2"], table["N2"], table["Ar"]]
        g = np.array([table[k].g_rt(temperature) for k in self.names])
        g_base = np.array([b.g_rt(temperature) for b in base])
        g_base[2] /= 2
        order = self.nu @ np.array([1, 1, 0.5, 1, 1])
        self.ln_k = self.nu @ g_base - g + (order - 1) * np.log(pressure / P_STANDARD)
        self.index = {k: i for i, k in enumerate(self.names)}
        self.ln_p_bar = np.log(pressure / P_STANDARD)

    def guess(self, b):
        """Pressures of the five when only CO2, CO, H2O, H2, O2, N2 and Ar form."""
        co, h2 = (np.exp(self.ln_k[self.index[k]]) for k in ("CO", "H2"))
        total = b[0] + b[1] + b[3] + b[4] + abs(b[2]) / 2

        def excess(l_o):
            o = np.exp(l_o)     # sqrt(x_O2)
            return (2 * total * o * o - b[0] * co / (o + co) - b[1] * h2 / (o + h2) - b[2]) / total

        # so rich that CO and H2 cannot hold it: start from what they can
        b = b.copy()
        b[2] = max(b[2], -0.99 * (b[0] + b[1]))
        l_o = brentq(excess, -60.0, 3.0, xtol=1e-8)
        o = np.exp(l_o)
        part = np.array([b[0] * o / (o + co), b[1] * o / (o + h2), o * total, b[3], b[4]])
        return np.concatenate([np.log(part / total), [np.log(total)]])

    def solve(self, elements, excess):
        """Moles of each gas per kilogram, and ln of the five base fractions (O as sqrt(x_O2))."""
        b = np.array([elements["C"], elements["H"] / 2, excess, elements["N"] / 2, elements["Ar"]])
        y = self.guess(b)
        scale = np.array([b[0], b[1], 0.0, b[3], b[4], 1.0])
        last = np.inf
        for _ in range(200):
            x = np.exp(self.ln_k + self.nu @ y[:5])
            n = np.exp(y[5])
            sums = n * (self.nu.T @ x)
            f = np.append(sums - b, x.sum() - 1.0)
            jacobian = np.empty((6, 6))
            jacobian[:5, :5] = n * (self.nu.T * x) @ self.nu
            jacobian[:5, 5] = sums
            jacobian[5, :5] = self.nu.T @ x
            jacobian[5, 5] = 0.0
            # the excess is judged by the size of its own terms
            scale[2] = n * (np.abs(self.nu[:, 2]) @ x)
            step = np.linalg.solve(jacobian / scale[:, None], -f / scale)
            y = y + step * min(1.0, 3.0 / max(np.abs(step).max(), 1e-300))
            size = np.abs(step).max()
            if size < 1e-9 and size >= last / 2 or size < 1e-13:
                x = np.exp(self.ln_k + self.nu @ y[:5])
                return np.exp(y[5]) * x, y
            last = size
        raise ArithmeticError("equilibrium does not close")

    def composition(self, elements, excess):
        """Mole fractions by name, molar mass, log10 of pO2 in bar."""
        moles, y = self.solve(elements, excess)
        x = moles / moles.sum()
        return (dict(zip(self.names, x)), float(x @ self.mass),
                float((2 * y[2] + self.ln_p_bar) / np.log(10.0)))


def unmixed(equilibrium, fuel, air, z_mean, z_stoich, spread):
    """Mean of parcels whose fuel fraction has a beta distribution: fractions by name.

    fuel and air are pairs (elements per kg, oxygen excess per kg)."""
    def parcel(z):
        e = {k: z * fuel[0][k] + (1 - z) * air[0][k] for k in ELEMENTS}
        return equilibrium.solve(e, z * fuel[1] + (1 - z) * air[1])[0]

    if spread == 0:
        moles = parcel(z_mean)
    else:
        variance = (spread * z_mean)**2
        a = z_mean * (z_mean * (1 - z_mean) / variance - 1)
        law = beta_distribution(a, a * (1 - z_mean) / z_mean)
        sigma = spread * z_mean
        low, high = max(0.0, z_mean - 12 * sigma), min(1.0, z_mean + 12 * sigma)
        kink = 2e-3 * z_stoich      # the corner is rounded by dissociation over about this width
        cuts = sorted({c for c in (z_stoich - kink, z_stoich, z_stoich + kink, z_mean,
                                   z_mean - 3 * sigma, z_mean + 3 * sigma) if low < c < high})
        moles = np.zeros(len(equilibrium.names))
        weight = 0.0
        for left, right in zip([low] + cuts, cuts + [high]):
            part, _ = quad_vec(lambda z: law.pdf(z) * parcel(z), left, right, epsabs=3e-10,
                               epsrel=1e-10, norm="max", quadrature="gk21")
            moles += part
            weight += law.cdf(right) - law.cdf(left)
        moles /= weight
    return dict(zip(equilibrium.names, moles / moles.sum()))
