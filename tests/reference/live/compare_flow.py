"""Live comparison of what concerns air and flow: air, jets, openings, dampers, ducts, stacks."""
import math

import CoolProp
import fluids
import scipy
import scipy.constants
import scipy.integrate
from CoolProp.CoolProp import PropsSI
from CoolProp.HumidAirProp import HAPropsSI

from tally import relative, relatives

R = scipy.constants.R
G = scipy.constants.g
M_AIR = 28.9647e-3      # behind draft_theoretical_pa, see reference_draft.h
COOLPROP = ("CoolProp", CoolProp.__version__)
FLUIDS = ("fluids", fluids.__version__)
THEORY = ("closed form, SciPy", scipy.__version__)


def spread_log(random, low, high):
    return math.exp(random.uniform(math.log(low), math.log(high)))


def moist_air(tally, ask, random, count):
    # Above freezing: below, humidity refers to ice there and to water here.
    states = [{"temperature_k": random.uniform(273.2, 318.15),
               "pressure_pa_abs": random.uniform(0.7e5, 1.1e5),
               "relative_humidity": random.random()} for _ in range(count)]
    asked = [("T", s["temperature_k"], "P", s["pressure_pa_abs"], "R", s["relative_humidity"])
             for s in states]
    wet = [(1.0 + HAPropsSI("W", *a)) / HAPropsSI("Vda", *a) for a in asked]
    tally.book("moist-air", "density of moist air", *COOLPROP,
               relatives(ask.numbers("moist_air_density_kg_m3", states), wet), 1e-3,
               note="a real gas there, an ideal one here")
    vapour = [HAPropsSI("psi_w", *a) for a in asked]
    tally.book("moist-air", "mole fraction of water vapour", *COOLPROP,
               relatives(ask.numbers("moist_air_x_h2o", states), vapour), 1e-3,
               note="saturation and enhancement by other formulas")

    states = [{"temperature_k": random.uniform(273.2, 373.1)} for _ in range(count)]
    expected = [PropsSI("P", "T", s["temperature_k"], "Q", 0, "Water") for s in states]
    tally.book("water-saturation", "saturation pressure of water", *COOLPROP,
               relatives(ask.numbers("water_saturation_pressure_pa", states), expected), 1e-3)


def atmosphere(tally, ask, random, count):
    heights = [random.uniform(-500.0, 6000.0) for _ in range(count)]
    standard = [fluids.ATMOSPHERE_1976(h) for h in heights]
    states = [{"elevation_m": h, "geometric": 1} for h in heights]
    tally.book("atmosphere", "pressure of the standard atmosphere", *FLUIDS,
               relatives(ask.numbers("atmosphere_pressure_pa", states), [s.P for s in standard]),
               2e-6, note="exponent rounded in ISO 2533")
    tally.book("atmosphere", "temperature of the standard atmosphere", *FLUIDS,
               relatives(ask.numbers("atmosphere_temperature_k", states), [s.T for s in standard]),
               1e-9)


def jet_theory(state, gauge):
    """(mass flow, velocity fully expanded, choked?) by Mach numbers: not the road of the law."""
    k, t1 = state["heat_capacity_ratio"], state["temperature_k"]
    rs = R / state["molar_mass_kg_mol"]
    p2, p1 = state["back_pa_abs"], state["back_pa_abs"] + gauge

    def mach(ratio):
        return math.sqrt(2.0 / (k - 1.0) * math.expm1((k - 1.0) / k * math.log(ratio)))

    expanded = mach(p1 / p2)
    throat = min(expanded, 1.0)
    warmth = 1.0 + 0.5 * (k - 1.0) * throat * throat
    area = 0.25 * math.pi * state["diameter_m"] ** 2
    mass = (state["discharge_coeff"] * area * p1 * throat * math.sqrt(k / (rs * t1))
            * warmth ** (-(k + 1.0) / (2.0 * (k - 1.0))))
    t2 = t1 / (1.0 + 0.5 * (k - 1.0) * expanded * expanded)
    return mass, expanded * math.sqrt(k * rs * t2), expanded >= 1.0


def jet_by_expansibility(state, gauge):
    """The same flow as of a nozzle in a pipe ten thousand times as wide."""
    k, p2 = state["heat_capacity_ratio"], state["back_pa_abs"]
    p1 = p2 + gauge
    if fluids.is_critical_flow(p1, p2, k):
        p2 = fluids.P_critical_flow(p1, k)
    d = state["diameter_m"]
    rho = p1 * state["molar_mass_kg_mol"] / (R * state["temperature_k"])
    return (state["discharge_coeff"] * 0.25 * math.pi * d * d
            * fluids.flow_meter.nozzle_expansibility(D=1e4 * d, Do=d, P1=p1, P2=p2, k=k)
            * math.sqrt(2.0 * rho * (p1 - p2)))


def jets(tally, ask, random, count):
    states = [{"molar_mass_kg_mol": random.uniform(0.002, 0.06),
               "heat_capacity_ratio": random.uniform(1.05, 1.66),
               "temperature_k": random.uniform(250.0, 350.0),
               "back_pa_abs": random.uniform(0.7e5, 1.1e5),
               "gauge_pa": spread_log(random, 100.0, 6e5),
               "diameter_m": spread_log(random, 2e-4, 1e-2),
               "discharge_coeff": random.uniform(0.6, 1.0)} for _ in range(count)]
    theory = [jet_theory(s, s["gauge_pa"]) for s in states]
    choked = sum(t[2] for t in theory)
    mass = ask.numbers("jet_mass_kg_s", states)
    split = f"{choked} of them choked"
    tally.book("nozzle", "nozzle mass flow", *THEORY, relatives(mass, [t[0] for t in theory]), 1e-9,
               note=split)
    tally.book("nozzle", "nozzle mass flow", *FLUIDS,
               relatives(mass, [jet_by_expansibility(s, s["gauge_pa"]) for s in states]), 1e-9,
               note=split)
    velocity = ask.numbers("jet_velocity_m_s", states)
    tally.book("thrust", "velocity of the fully expanded jet", *THEORY,
               relatives(velocity, [t[1] for t in theory]), 1e-9)
    thrust = ask.numbers("jet_thrust_n", states)
    tally.book("thrust", "thrust of the jet", *THEORY,
               relatives(thrust, [0.97 * t[0] * t[1] for t in theory]), 1e-9)
    ratios = ask.numbers("jet_critical_ratio",
                         [{"heat_capacity_ratio": s["heat_capacity_ratio"]} for s in states])
    tally.book("choking", "critical pressure ratio", *FLUIDS,
               relatives(ratios, [fluids.P_critical_flow(1.0, s["heat_capacity_ratio"])
                                  for s in states]), 1e-9)
    flags = ask.numbers("jet_choked", states)
    wrong = [abs(f - fluids.is_critical_flow(s["back_pa_abs"] + s["gauge_pa"], s["back_pa_abs"],
                                             s["heat_capacity_ratio"]))
             for f, s in zip(flags, states, strict=True)]
    tally.book("choking", "choked or not", *FLUIDS, wrong, 0.0, unit="wrong")


def friction(tally, ask, random, count):
    states = [{"reynolds": spread_log(random, 10.0, 1e8),
               "relative_roughness": random.choice((0.0, spread_log(random, 1e-6, 0.2)))}
              for _ in range(count)]
    ours = ask.numbers("friction_factor", states)
    tally.book("friction", "friction factor by Churchill", *FLUIDS,
               relatives(ours, [fluids.friction.Churchill_1977(s["reynolds"],
                                                               s["relative_roughness"])
                                for s in states]), 1e-6, note="the same formula")
    turbulent = [(s, f) for s, f in zip(states, ours, strict=True) if s["reynolds"] >= 4000.0]
    tally.book("friction", "friction factor against Colebrook's equation, Re >= 4000", *FLUIDS,
               [relative(f, fluids.friction.Colebrook(s["reynolds"], s["relative_roughness"]))
                for s, f in turbulent if s["relative_roughness"] <= 0.05], 0.032,
               note="another formula; accuracy stated in duct.h")
    ducts = [{"reynolds": spread_log(random, 4e3, 1e6),
              "relative_roughness": random.uniform(0.0, 0.05),
              "length_m": random.uniform(1.0, 12.0), "diameter_m": random.uniform(0.1, 0.5),
              "density_kg_m3": random.uniform(0.2, 1.3), "velocity_m_s": random.uniform(0.5, 10.0)}
             for _ in range(count)]
    expected = []
    for d in ducts:
        # The viscosity that goes with the Reynolds number of the row.
        mu = d["velocity_m_s"] * d["diameter_m"] * d["density_kg_m3"] / d["reynolds"]
        mass = d["velocity_m_s"] * d["density_kg_m3"] * 0.25 * math.pi * d["diameter_m"] ** 2
        expected.append(fluids.one_phase_dP(m=mass, rho=d["density_kg_m3"], mu=mu,
                                            D=d["diameter_m"], L=d["length_m"],
                                            roughness=d["relative_roughness"] * d["diameter_m"],
                                            Method="Churchill_1977"))
    tally.book("friction", "friction loss of a duct", *FLUIDS,
               relatives(ask.numbers("duct_friction_pa", ducts), expected), 1e-6)
    temperatures = [random.uniform(250.0, 1500.0) for _ in range(count)]
    ours = ask.numbers("air_viscosity_pa_s", [{"temperature_k": t} for t in temperatures])
    tally.book("viscosity", "viscosity of air, Sutherland", *FLUIDS,
               relatives(ours, [fluids.ATMOSPHERE_1976.viscosity(t) for t in temperatures]), 1e-9,
               note="the same formula")
    tally.book("viscosity", "viscosity of air", *COOLPROP,
               relatives(ours, [PropsSI("V", "T", t, "P", 101325.0, "Air") for t in temperatures]),
               0.08, note="measured data of its own; Sutherland falls short when hot, and a"
               " tenth of viscosity is two hundredths of friction")


def fittings(tally, ask, random, count):
    loss = {name: ask.number("default_loss", fitting=name) for name in ("entry", "bend", "exit")}
    tally.book("fitting-losses", "loss of the exit", *FLUIDS,
               [relative(loss["exit"], fluids.exit_normal())], 1e-9)
    tally.book("fitting-losses", "loss of the entry", *FLUIDS,
               [relative(loss["entry"], fluids.entrance_sharp())], 0.13,
               note="0.50 of most handbooks here, 0.57 there")
    tally.book("fitting-losses", "loss of a square bend", *FLUIDS,
               [relative(loss["bend"], fluids.bend_miter(angle=90.0))], 0.01)

    # A plate in a duct of one width is an orifice plate: the library's loss of one, from the
    # discharge coefficient that a contraction Cc of the jet amounts to.
    states = [{"open_frac": random.uniform(0.02, 0.98)} for _ in range(count)]
    expected = []
    for s in states:
        f, cc = s["open_frac"], contraction(s["open_frac"])
        c = cc * math.sqrt((1.0 - f * f) / (1.0 - (cc * f) ** 2))
        expected.append(fluids.flow_meter.discharge_coefficient_to_K(D=1.0, Do=math.sqrt(f), C=c))
    tally.book("slide-damper", "loss of a slide in one width, as an orifice plate", *FLUIDS,
               relatives(ask.numbers("damper_slide_loss", states), expected), 1e-9)
    # Into a wider duct: the sudden expansion of the contracted jet, on the jet's speed.
    states = [{"open_frac": random.uniform(0.02, 0.98), "downstream_ratio": random.uniform(0.05, 1)}
              for _ in range(count)]
    expected = []
    for s in states:
        jet = contraction(s["open_frac"]) * s["open_frac"]
        expected.append(fluids.diffuser_sharp(Di1=math.sqrt(jet),
                                              Di2=1.0 / math.sqrt(s["downstream_ratio"]))
                        / (jet * jet))
    tally.book("slide-damper", "loss of a slide into a wider duct, as a sudden expansion", *FLUIDS,
               relatives(ask.numbers("damper_slide_loss", states), expected), 1e-9)
    # Measured contraction: orifice plates of the flow-meter standard at high Reynolds number.
    states = [{"open_frac": beta * beta} for beta in
              (random.uniform(0.4, 0.75) for _ in range(count))]
    expected = []
    for s in states:
        do = 0.5 * math.sqrt(s["open_frac"])
        c = fluids.flow_meter.C_Reader_Harris_Gallagher(
            D=0.5, Do=do, rho=1.2, mu=1.8e-5, m=20.0, taps="corner")
        expected.append(fluids.flow_meter.discharge_coefficient_to_K(D=0.5, Do=do, C=c))
    tally.book("slide-damper", "loss of a slide beside a measured orifice plate", *FLUIDS,
               relatives(ask.numbers("damper_slide_loss", states), expected), 0.1,
               note="a round hole there, a plate here; damper_scale spreads by 20 %")


def contraction(open_frac):
    return 1.0 / (1.0 + 0.707 * (1.0 - open_frac) ** 0.375)


def stacks(tally, ask, random, count):
    states = [{"pressure_pa_abs": random.uniform(0.7e5, 1.1e5),
               "height_m": random.uniform(1.0, 12.0),
               "outside_temperature_k": random.uniform(260.0, 310.0),
               "mean_temperature_k": random.uniform(380.0, 1500.0)} for _ in range(count)]
    expected = [G * s["height_m"] * (air(s["outside_temperature_k"], s["pressure_pa_abs"])
                                     - air(s["mean_temperature_k"], s["pressure_pa_abs"]))
                for s in states]
    tally.book("draft", "theoretical draft of a stack of hot air", *COOLPROP,
               relatives(ask.numbers("draft_theoretical_pa", states), expected), 3e-3,
               note="a real gas there: Z = 0.9994 of cold air counts up to fourfold in the"
               " difference")

    states = [{"pressure_pa_abs": random.uniform(0.7e5, 1.1e5),
               "height_m": random.uniform(1.0, 12.0), "diameter_m": random.uniform(0.1, 0.5),
               "roughness_m": random.uniform(0.0, 5e-3), "loss_sum": random.uniform(0.0, 5.0),
               "ntu": random.uniform(0.05, 1.5), "outside_temperature_k": random.uniform(260, 310),
               "mass_kg_s": spread_log(random, 0.03, 0.5),
               "base_temperature_k": random.uniform(400.0, 1600.0),
               "gas_molar_mass_kg_mol": random.uniform(0.022, 0.03)} for _ in range(count)]
    for s in states:
        s["outside_density_kg_m3"] = (s["pressure_pa_abs"] * M_AIR
                                      / (R * s["outside_temperature_k"]))
    means = [mean_temperature(s) for s in states]
    tally.book("stack-cooling", "mean temperature of a stack that cools", *THEORY,
               relatives(ask.numbers("stack_mean_temperature_k", states), means), 1e-9,
               note="profile integrated by quadrature")
    off = []
    for s, t, mine in zip(states, means, ask.numbers("stack_base_pa", states), strict=True):
        base = stack_base(s, t)
        # Draft and loss nearly cancel in places: relative to the larger of the two.
        off.append(abs(mine - base[0]) / max(abs(base[1]), abs(base[2])))
    tally.book("stack-friction", "base pressure of a stack: friction, fittings, draft", *FLUIDS,
               off, 1e-9, note="relative to the larger of draft and loss")


def air(temperature_k, pressure_pa):
    return PropsSI("D", "T", temperature_k, "P", pressure_pa, "Air")


def mean_temperature(s):
    """Mean over the height of T_out + (T_base - T_out) exp(-NTU z/H)."""
    out = s["outside_temperature_k"]
    share, _ = scipy.integrate.quad(lambda z: math.exp(-s["ntu"] * z), 0.0, 1.0)
    return out + (s["base_temperature_k"] - out) * share


def stack_base(s, t):
    rho = s["pressure_pa_abs"] * s["gas_molar_mass_kg_mol"] / (R * t)
    mu = fluids.ATMOSPHERE_1976.viscosity(t)
    d = s["diameter_m"]
    v = s["mass_kg_s"] / (rho * 0.25 * math.pi * d * d)
    reynolds = max(fluids.Reynolds(V=v, D=d, rho=rho, mu=mu), 4000.0)
    fd = fluids.friction.Churchill_1977(reynolds, s["roughness_m"] / d)
    k = fluids.K_from_f(fd, s["height_m"], d) + s["loss_sum"]
    loss = fluids.dP_from_K(k, rho, v)
    draft = (s["outside_density_kg_m3"] - rho) * G * s["height_m"]
    return loss - draft, loss, draft


def openings(tally, ask, random, count):
    eps = 0.01      # Pa, the blend at zero pressure that the law states
    states = [{"area_m2": spread_log(random, 1e-4, 0.1), "discharge_coeff": random.uniform(0.5, 1),
               "outside_density_kg_m3": random.uniform(1.0, 1.3),
               "inside_density_kg_m3": random.uniform(0.2, 1.3),
               "pressure_pa": random.choice((-1.0, 1.0)) * spread_log(random, 1.0, 60.0)}
              for _ in range(count)]

    def root_law(s, p):
        rho = s["outside_density_kg_m3"] if p < 0.0 else s["inside_density_kg_m3"]
        size = s["discharge_coeff"] * s["area_m2"] * math.sqrt(2.0 * rho * abs(p))
        return -math.copysign(size, p)

    tally.book("hole", "flow through a hole, 1 to 60 Pa", *THEORY,
               relatives(ask.numbers("hole_in_kg_s", states),
                         [root_law(s, s["pressure_pa"]) for s in states]), 3e-5,
               note="the blend at 0 Pa costs up to 2.5e-5 at 1 Pa")

    cracks = [{"area_m2": spread_log(random, 1e-4, 0.01), "discharge_coeff": random.uniform(0.5, 1),
               "exponent": random.uniform(0.5, 1.0), "reference_pa": random.uniform(4.0, 50.0),
               "density_kg_m3": random.uniform(0.2, 1.3),
               "pressure_pa": spread_log(random, 1.0, 60.0)} for _ in range(count)]
    expected = [c["discharge_coeff"] * c["area_m2"]
                * math.sqrt(2.0 * c["density_kg_m3"] * c["reference_pa"])
                * (c["pressure_pa"] / c["reference_pa"]) ** c["exponent"] for c in cracks]
    tally.book("crack", "flow through a crack, 1 to 60 Pa", *THEORY,
               relatives(ask.numbers("crack_mass_kg_s", cracks), expected), 3e-5,
               note="the same blend")

    talls = []
    for s in states:
        low = random.uniform(-0.5, 0.5)
        talls.append(dict(s, from_m=low, to_m=low + random.uniform(0.05, 2.0),
                          pressure_pa=random.uniform(-12.0, 8.0)))
    off = []
    for s, drawn, pushed in zip(talls, ask.numbers("tall_in_kg_s", talls),
                                ask.numbers("tall_out_kg_s", talls), strict=True):
        there = tall_by_quadrature(s, eps)
        scale = max(there)
        off += [abs(drawn - there[0]) / scale, abs(pushed - there[1]) / scale]
    tally.book("tall-opening", "both flows of a tall opening", "quadrature of SciPy",
               scipy.__version__, off, 1e-8, note="relative to the larger flow")


def tall_by_quadrature(s, eps):
    """(in, out): the hole's law, blend included, summed over the height."""
    height = s["to_m"] - s["from_m"]
    slope = (s["outside_density_kg_m3"] - s["inside_density_kg_m3"]) * G
    per_m = s["discharge_coeff"] * s["area_m2"] / height

    def pressure(z):
        return s["pressure_pa"] + slope * z

    neutral = -s["pressure_pa"] / slope if slope != 0.0 else -1.0
    cuts = [0.0] + ([neutral] if 0.0 < neutral < height else []) + [height]
    flows = [0.0, 0.0]
    for low, high in zip(cuts[:-1], cuts[1:], strict=True):
        inwards = pressure(0.5 * (low + high)) < 0.0
        rho = s["outside_density_kg_m3"] if inwards else s["inside_density_kg_m3"]

        def law(z, rho=rho):
            p = pressure(z)
            return per_m * math.sqrt(2.0 * rho) * abs(p) / (p * p + eps * eps) ** 0.25

        # The root is steep at a neutral plane: split there again, where the blend ends.
        near = 20.0 * eps / max(abs(slope), 1e-12)
        inner = [z for z in (neutral - near, neutral + near) if low < z < high]
        flow, _ = scipy.integrate.quad(law, low, high, points=inner or None, epsabs=0.0,
                                       epsrel=1e-11, limit=400)
        flows[0 if inwards else 1] += flow
    return flows


def metering(tally, ask):
    """Real gas of ISO 6976 at 15 degC and 1 atm."""
    off = []
    for name, fluid in {"CH4": "Methane", "C2H6": "Ethane", "C3H8": "Propane",
                        "n-C4H10": "n-Butane", "i-C4H10": "IsoButane"}.items():
        mine = ask.number("iso_compression_factor", **{name: 1.0, "t_combustion": 288.15,
                                                       "t_metering": 288.15})
        off.append(relative(mine, PropsSI("Z", "T", 288.15, "P", 101325.0, fluid)))
    tally.book("iso6976", "compression factor of methane to the butanes", *COOLPROP, off, 1e-4,
               note="equations of state there")


def run(tally, ask, random, count):
    moist_air(tally, ask, random, count)
    atmosphere(tally, ask, random, count)
    jets(tally, ask, random, count)
    friction(tally, ask, random, count)
    fittings(tally, ask, random, count)
    stacks(tally, ask, random, count)
    openings(tally, ask, random, count)
    metering(tally, ask)
