"""The kiln as a flow network, a second time: plain Python and SciPy.

`Kiln(inputs, table, origins, spreads)` takes the "inputs" and "origins" of `damperwise check --format json`
and the rows of config/spreads.yaml; `Kiln.solve()` gives the
quantities of `damperwise estimate --format json` by the same names. SI; pressures are gauge against
room air at the same height; flows are positive into the chamber.
"""
import json

import numpy as np
from scipy.integrate import fixed_quad
from scipy.optimize import brentq, fsolve

import gases
from gases import R

G = 9.80665
BLEND_PA = 0.01
PROBE_AIR = 0.2095
K_AIR = 1.40           # of compressed air
SMOKE = {"CH4": 0.3, "C3H8": 0.6, "n-C4H10": 0.6, "i-C4H10": 0.6}
SMOKE_ANY = 0.5


def groups(inputs, prefix):
    """The named entries under prefix, in order, each a dictionary of its own keys."""
    out = []
    for key, value in inputs.items():
        if key.startswith(prefix + ".") and key.endswith("." + str(value) + ".name"):
            head = key[:-len("name")]
            out.append({k[len(head):]: v for k, v in inputs.items() if k.startswith(head)})
    return out


def root_law(dp, coefficient):
    """coefficient dp / (dp^2 + eps^2)^(1/4): a square root that is smooth at zero."""
    return coefficient * dp / (dp * dp + BLEND_PA**2)**0.25


def nozzle(area, cd, cv, mass_molar, k, temperature, supply, back):
    """Mass flow and thrust of an isentropic nozzle with its coefficients."""
    if supply <= back:
        return 0.0, 0.0
    rs = R / mass_molar
    critical = (2 / (k + 1))**(k / (k - 1))
    r = max(back / supply, critical)
    mass = cd * area * supply * np.sqrt(2 * k / ((k - 1) * rs * temperature)
                                        * (r**(2 / k) - r**((k + 1) / k)))
    speed = np.sqrt(2 * k / (k - 1) * rs * temperature * (1 - (back / supply)**((k - 1) / k)))
    return mass, cv * mass * speed


def thin_discharge(r):
    """Sharp-edged hole: Perry's polynomial in the ratio of absolute pressures behind and before it."""
    return np.polyval([-1.6827, 4.6001, -3.9, 0.8415, -0.1002, 0.8414], r)


def slide_loss(f, k):
    contraction = 1 / (1 + 0.707 * (1 - f)**0.375)
    return (1 / (contraction * f) - k)**2


BUTTERFLY = [(0, 0.20), (5, 0.24), (10, 0.52), (20, 1.54), (30, 3.91), (40, 10.8), (50, 32.6), (60, 118),
             (70, 751)]


def butterfly_loss(f):
    """Log-linear in the angle to 75 degrees, then the leak of a slide joined on there."""
    def table(angle):
        rows = BUTTERFLY
        i = max(j for j in range(len(rows) - 1) if rows[j][0] <= angle)
        (a0, z0), (a1, z1) = rows[i], rows[i + 1]
        return np.exp(np.log(z0) + (np.log(z1) - np.log(z0)) * (angle - a0) / (a1 - a0))

    angle = np.degrees(np.arcsin(1 - f))
    if angle <= 75:
        return table(angle)
    f75 = 1 - np.sin(np.radians(75))
    return table(75) * slide_loss(f, 1) / slide_loss(f75, 1)


def thick_share(ratio):
    """Loss past a thick plate / past a thin one, by thickness / slot: straight lines, held beyond."""
    return float(np.interp(ratio, (0.5, 1.0, 2.0, 4.0), (1.0, 0.83, 0.61, 0.55)))


# Heat through walls of stacks, W/(m2 K); of bare steel at three gas temperatures.
WALLS = {"single brick": 5.0, "double brick": 3.1, "insulating brick": 1.65, "steel with fibre": 4.0}
STEEL = ((673.15, 973.15, 1273.15), (7.7, 12.0, 19.0))


def table_loss(f, rows):
    """Effective open share 1/(1 + sqrt(zeta)) linear between rows and down to nought."""
    at = [(0.0, 0.0)] + [(x, 1 / (1 + np.sqrt(z))) for x, z in rows]
    e = np.interp(f, *zip(*at))
    return (1 / e - 1)**2


def churchill(reynolds, roughness):
    a = (2.457 * np.log(1 / ((7 / reynolds)**0.9 + 0.27 * roughness)))**16
    b = (37530 / reynolds)**16
    return 8 * ((8 / reynolds)**12 + (a + b)**-1.5)**(1 / 12)


def viscosity(t):
    return 1.458e-6 * t**1.5 / (t + 110.4)


class NotSolved(Exception):
    pass


class Kiln:
    def __init__(self, inputs, table, origins=None, spreads=()):
        self.table = table
        self.origins = origins or {}
        self.spreads = spreads
        self.middle = {(row["input"], row["kind"]): float(row["middle"]) for row in spreads}
        i = self.inputs = inputs
        self.burners = groups(i, "kiln.burners")
        self.openings = groups(i, "kiln.openings")
        self.flues = groups(i, "kiln.flues")
        self.has_stack = "kiln.stack.height_m" in i
        self.p_site = i["kiln.site.pressure_pa_abs"]
        self.t_room = i["kiln.site.room_temperature_k"]
        self.t_out = i["kiln.site.outside_temperature_k"]
        self.height = i["kiln.chamber.height_m"]
        self.t_gas = (i["operating.chamber_temperature_k"] + i["kiln.model.gas_minus_reading_dk"])
        self.t_lean = max(self.t_gas, i["kiln.model.quench_temperature_k"])
        self.t_rich = max(self.t_gas, i["kiln.model.quench_temperature_rich_k"])
        if i["kiln.model.graphite"] != "no":
            raise NotSolved("graphite is not in the second opinion")

        self.air = gases.moist_air(i["kiln.site.air_temperature_k"], self.p_site,
                                   i["kiln.site.relative_humidity"])
        self.m_air = gases.molar_mass(table, self.air)
        self.rho_room = self.density(self.m_air, self.t_room)
        self.rho_out = self.density(self.m_air, self.t_out)

        head = "kiln.fuel."
        self.fuel = {k[len(head):]: v for k, v in i.items() if k.startswith(head)}
        self.m_fuel = gases.molar_mass(table, self.fuel)
        self.fuel_side = (gases.elements_per_kg(table, self.fuel),
                          gases.oxygen_excess_per_kg(table, self.fuel))
        self.air_side = (gases.elements_per_kg(table, self.air),
                         gases.oxygen_excess_per_kg(table, self.air))
        # kg of moist air that leave neither oxygen nor fuel over, per kg of fuel
        self.stoich = -self.fuel_side[1] / self.air_side[1]
        self.datum = min(b["height_m"] for b in self.burners)
        self.lean = gases.Equilibrium(table, self.t_lean, self.p_site)
        self.rich = gases.Equilibrium(table, self.t_rich, self.p_site)
        for b in self.burners:
            self.prepare_jet(b)
        self.take_supply()
        self.ready = [self.prepare_burner(b) for b in self.burners]

    def density(self, molar, t):
        return self.p_site * molar / (R * t)

    # ---- burners ---------------------------------------------------------------------------------

    def assumed(self, b, key):
        """Whether a burner's input was not given."""
        return self.origins.get(f"kiln.burners.{b['name']}.{key}", "given") != "given"

    def prepare_jet(self, b):
        """The jet as its kind has it: b["jet"](gauge pressure, back pressure) is flow and thrust of one."""
        b["lit"] = b["lit"] == "yes" and b["gas_pressure_pa"] > 0
        t_fuel = self.inputs["operating.gas_temperature_k"]
        cp = gases.mixture_cp(self.table, self.fuel, t_fuel)
        k_fuel = cp / (cp - gases.R_NASA)
        area = np.pi / 4 * b["jet.diameter_m"]**2
        kind = b["jet.kind"]
        cd = b["jet.discharge_coefficient"]
        cv = b.get("jet.velocity_coefficient", 1.0)
        by_kind = kind != "unknown" and self.middle
        if by_kind and self.assumed(b, "jet.velocity_coefficient") and b["kind"] == "inspirating":
            cv = self.middle["burners.*.jet.velocity_coefficient", kind]
        thin = by_kind and kind == "thin" and self.assumed(b, "jet.discharge_coefficient")
        if by_kind and not thin and self.assumed(b, "jet.discharge_coefficient"):
            cd = self.middle["burners.*.jet.discharge_coefficient", kind]

        def discharge(gauge):
            return thin_discharge(self.p_site / (self.p_site + gauge)) if thin else cd

        b["discharge"] = discharge
        b["jet"] = lambda gauge, back: nozzle(area, discharge(gauge), cv, self.m_fuel, k_fuel, t_fuel,
                                              self.p_site + gauge, back)
        b["jet_pa"] = b["gas_pressure_pa"]

    def take_supply(self):
        """Pressure at the jets behind a gauge at the manifold, by the ratio of flows: no K is needed."""
        i = self.inputs
        shared = [b for b in self.burners if self.assumed(b, "gas_pressure_pa")]
        lit = [b for b in shared if b["lit"]]
        if i["operating.gauge"] != "manifold" or not lit:
            return

        def flow(burners, gauge):
            return sum(b["count"] * b["jet"](gauge, self.p_site)[0] for b in burners)

        running = i["operating.supply.running_pa"]
        lost = i["operating.supply.static_pa"] - running
        all_lit = flow(shared, running)
        read = lit[0]["gas_pressure_pa"]
        jets_pa = brentq(lambda p: p - read + lost * (flow(lit, p) / all_lit)**2, 0.0, read,
                         xtol=1e-10, rtol=1e-14)
        for b in shared:
            b["jet_pa"] = jets_pa

    def prepare_burner(self, b):
        t_fuel = self.inputs["operating.gas_temperature_k"]
        ready = {"jet": lambda back: b["jet"](b["jet_pa"], back)}
        if b["kind"] == "blown":
            return ready
        a_t = np.pi / 4 * b["throat_diameter_m"]**2
        a_p = np.pi / 4 * b["port_diameter_m"]**2
        # the port of a burner that is off is cold
        hot = b["port_temperature_ratio"] if b["lit"] else 1.0
        kappa_m = (1 + b["throat_friction"] / 2 - b["diffuser_recovery"] / 2
                   + hot * b["port_loss"] / 2 * (a_t / a_p)**2)
        shut = b["shutter"] * b["shutter_area_m2"] * b["shutter_discharge_coefficient"]
        kappa_a = (1 - ((a_t / shut)**2 - 1)) / 2 if shut > 0 else -np.inf
        m_gas, thrust = ready["jet"](self.p_site)
        m_air, thrust_air = 0.0, 0.0
        if b["air_jet.diameter_m"] > 0 and b["air_pressure_pa"] > 0:
            m_air, thrust_air = nozzle(
                np.pi / 4 * b["air_jet.diameter_m"]**2, b["air_jet.discharge_coefficient"],
                b["jet.velocity_coefficient"], self.m_air, K_AIR, self.t_room,
                self.p_site + b["air_pressure_pa"], self.p_site)
        ready.update(a_t=a_t, kappa_m=kappa_m, kappa_a=kappa_a, m_gas=m_gas, m_jet=m_air,
                     thrust=thrust + thrust_air, m0=m_gas + m_air,
                     v0=m_gas / self.density(self.m_fuel, t_fuel) + m_air / self.rho_room)
        return ready

    def induced_air(self, r, dp):
        """Air a venturi draws in against dp, by a root of its momentum balance."""
        def balance(m):
            return (r["thrust"] / r["a_t"] - dp
                    - r["kappa_m"] * (r["m0"] + m) * (r["v0"] + m / self.rho_room) / r["a_t"]**2
                    + r["kappa_a"] * m * m / (self.rho_room * r["a_t"]**2))

        if r["kappa_a"] == -np.inf:
            return 0.0
        # balance(m) is c0 - c1 m - c2 m^2
        c2 = (r["kappa_m"] - r["kappa_a"]) / self.rho_room / r["a_t"]**2
        c1 = r["kappa_m"] * (r["m0"] / self.rho_room + r["v0"]) / r["a_t"]**2
        c0 = balance(0.0)
        if c0 <= 0:
            return 0.0
        return 2 * c0 / (c1 + np.sqrt(c1 * c1 + 4 * c2 * c0))

    def burner_flows(self, b, r, p):
        """(fuel, primary air, hole-like inflow) of all its pieces at chamber pressure p there."""
        n = b["count"]
        if not b["lit"]:
            if b["plugged"] == "yes":
                return 0.0, 0.0, 0.0
            if b["kind"] == "blown":
                area = b.get("air_restriction.area_m2", 0.0) * b.get(
                    "air_restriction.discharge_coefficient", 0.0)
            else:
                area = r["a_t"] / np.sqrt(2 * (r["kappa_m"] - r["kappa_a"]))
            return 0.0, 0.0, n * self.hole(p, area)
        if b["kind"] == "inspirating":
            return n * r["m_gas"], n * (r["m_jet"] + self.induced_air(r, p)), 0.0
        gas = r["jet"](self.p_site + p)[0]
        if "air_flow_m3_s" in b:
            air = self.rho_room * b["air_flow_m3_s"]
        else:
            dp = b["air_pressure_pa"] - p
            air = 0.0 if dp <= 0 else root_law(
                dp, b["air_restriction.discharge_coefficient"] * b["air_restriction.area_m2"]
                * np.sqrt(2 * self.rho_room))
        return n * gas, n * air, 0.0

    # ---- openings --------------------------------------------------------------------------------

    def hole(self, p, effective_area, rho_inside=None, rho_outside=None):
        """Flow into the inside, which is at p above the outside."""
        rho_inside = self.rho_gas if rho_inside is None else rho_inside
        rho_outside = self.rho_room if rho_outside is None else rho_outside
        rho = rho_inside if p > 0 else rho_outside
        return -root_law(p, effective_area * np.sqrt(2 * rho))

    def crack(self, p, effective_area, exponent, reference):
        rho = self.rho_gas if p > 0 else self.rho_room
        size = np.sqrt(p * p + BLEND_PA**2) / reference
        return (-effective_area * np.sqrt(2 * rho * reference) * p / reference
                * size**(exponent - 1))

    def tall(self, p_floor, effective_area, low, high):
        """(in, out) of a slot, by quadrature over its height."""
        slope = (self.rho_room - self.rho_gas) * G
        ends = sorted([p_floor + slope * low, p_floor + slope * high])
        width = effective_area / (high - low) / abs(slope)      # per pascal of height
        flows = []
        for rho, (p1, p2) in ((self.rho_room, (-ends[1], -ends[0])), (self.rho_gas, ends)):
            # over the square root of the pressure, which straightens the law at zero; cut where the
            # blend makes it bend
            q1, q2 = np.sqrt(max(p1, 0.0)), np.sqrt(max(p2, 0.0))
            cuts = [q1] + [q for q in (0.15, 0.5, 1.5) if q1 < q < q2] + [q2]
            flows.append(sum(fixed_quad(lambda q: 2 * q * root_law(q * q, width * np.sqrt(2 * rho)),
                                        a, b, n=24)[0] for a, b in zip(cuts[:-1], cuts[1:])))
        return flows

    def joint(self, o, p_floor):
        """(in, out) of a joint: the root of its pressure balance, summed up over the height."""
        t = (self.t_room + self.t_gas) / 2
        area = o["count"] * o["open"] * o["width_m"] * o["length_m"]
        slow = 12 * viscosity(t) * o["depth_m"] / o["width_m"]**2
        slope = (self.rho_room - self.rho_gas) * G

        def stream(p):
            """Into the chamber at the pressure p there."""
            rho = (self.rho_gas * self.t_gas if p > 0 else self.rho_room * self.t_room) / t
            # 0.75 rho v^2 + slow v = |p|, by Newton from above
            v = abs(p) / slow
            for _ in range(200):
                step = (0.75 * rho * v * v + slow * v - abs(p)) / (1.5 * rho * v + slow)
                v -= step
                if abs(step) <= 1e-15 * abs(v):
                    break
            return -np.sign(p) * rho * area * v

        if "height_m" in o:
            m = stream(p_floor + slope * o["height_m"])
            return [max(m, 0.0), max(-m, 0.0)]
        low, high = o["from_m"], o["to_m"]
        neutral = -p_floor / slope
        cuts = [low] + ([neutral] if low < neutral < high else []) + [high]
        flows = [0.0, 0.0]
        for a, b in zip(cuts[:-1], cuts[1:]):
            m = fixed_quad(np.vectorize(lambda z: stream(p_floor + slope * z)), a, b, n=40)[0] / (high - low)
            flows[m < 0] += abs(m)
        return flows

    def opening_flows(self, o, p_floor):
        """(in, out) of an entry."""
        if o["kind"] == "joint":
            return self.joint(o, p_floor) if o["open"] > 0 else [0.0, 0.0]
        cd = o.get("discharge_coefficient")
        if cd is None:      # a thin edge up to half a width, a port through a wall from a width on
            cd = np.interp(o["depth_m"] / np.sqrt(4 * o["area_m2"] / np.pi), [0.5, 1.0], [0.62, 0.78])
        area = o["count"] * o["open"] * o["area_m2"] * cd
        if area == 0:
            return [0.0, 0.0]
        slope = (self.rho_room - self.rho_gas) * G
        if o["kind"] == "tall":
            return self.tall(p_floor, area, o["from_m"], o["to_m"])
        p = p_floor + slope * o["height_m"]
        if o["kind"] == "crack":
            m = self.crack(p, area, o["exponent"], o["reference_pressure_pa"])
        else:
            m = self.hole(p, area)
        return [max(m, 0.0), max(-m, 0.0)]

    # ---- flues and stack -------------------------------------------------------------------------

    def flue_loss(self, flue, nudge):
        area = flue["area_m2"]
        down = flue.get("damper_downstream_area_m2")
        k = 0.0 if down is None else area / down
        f = max(flue["damper.open"] + nudge, flue["damper.leak"])
        scale = flue["damper.scale"]
        kind = flue["damper.kind"]
        exit_loss = 0.0 if self.has_stack else 1.0
        # floor, and the setting's heads on the speed that all flues' gas has in the plan area
        i = self.inputs
        plan = i["kiln.chamber.width_m"] * i["kiln.chamber.depth_m"]
        flues = sum(f["count"] * f["area_m2"] for f in self.flues)
        before = (flue["entry_loss"] + flue.get("floor_loss", 0.0)
                  + i.get("kiln.chamber.setting_loss", 0.0) * (flues / plan)**2)
        if kind == "slide":
            # a plenum takes all of the jet's speed: the exit loss is in it
            return before + scale * slide_loss(f, k) + exit_loss * k * k
        if kind == "shelf":
            # a slide into a wide space, of a plate whose thickness may count
            sizes = flue.get("damper.thickness_m"), flue.get("damper.mouth_width_m")
            share = 1.0 if None in sizes else thick_share(sizes[0] / (f * sizes[1]))
            return before + scale * share * slide_loss(f, 0.0)
        if kind == "butterfly":
            return (before + scale * butterfly_loss(f) + (1 - k)**2
                    + exit_loss * k * k)
        rows = [(open_ / 100, loss) for open_, loss in json.loads(flue["damper.rows"].replace(" %", ""))]
        return before + scale * table_loss(f, rows) + exit_loss

    def flue_flows(self, p_floor, p_base, nudge):
        """Out of the chamber through all flues, back into it, and the fresh share of what is back."""
        slope = (self.rho_room - self.rho_gas) * G
        drives, areas = [], []
        for flue in self.flues:
            z = flue["height_m"]
            far = self.past_flue(flue, p_base) if self.has_stack else 0.0
            drives.append(p_floor + slope * z - far)
            areas.append(flue["count"] * flue["area_m2"] / np.sqrt(self.flue_loss(flue, nudge)))
        out = sum(-self.hole(p, a) for p, a in zip(drives, areas) if p >= 0)
        # what comes back is room air, outside air, or the mixture at the stack base
        behind, fresh = self.rho_room, 1.0
        if self.has_stack and self.down:
            behind = self.rho_out
        elif self.has_stack and min(drives) < 0:
            room = max(self.relief(p_base), 0.0)
            behind, fresh = self.rho_gas, 0.0
            if room > 0:
                molar, t, _ = self.mix_at_base(out, room)
                behind, fresh = self.density(molar, t), room / (room + out)
        back = sum(self.hole(p, a, rho_outside=behind) for p, a in zip(drives, areas) if p < 0)
        return out, back, fresh

    def past_flue(self, flue, p_base):
        """Pressure behind the damper, at the flue's height: the column down to the base holds
        chamber gas, or outside air when the stack runs backwards."""
        rho = self.rho_out if self.down else self.rho_gas
        return p_base - (self.rho_room - rho) * G * (self.base - flue["height_m"])

    @property
    def base(self):
        return self.inputs["kiln.stack.base_height_m"]

    def mix_at_base(self, m_gas, m_room):
        """Molar mass, temperature, cp per kg of chamber gas and room air mixed by enthalpy."""
        n_gas, n_air = m_gas / self.m_gas, m_room / self.m_air
        total = n_gas + n_air
        x = {n: v * n_gas / total for n, v in self.x_gas.items()}
        for n, v in self.air.items():
            x[n] = x.get(n, 0.0) + v * n_air / total
        t = self.t_gas
        if m_room > 0:
            h = (n_gas * gases.mixture_h(self.table, self.x_gas, self.t_gas)
                 + n_air * gases.mixture_h(self.table, self.air, self.t_room)) / total
            low, high = sorted((self.t_gas, self.t_room))
            t = brentq(lambda t: gases.mixture_h(self.table, x, t) - h, low - 1, high + 1, xtol=1e-11)
        m = gases.molar_mass(self.table, x)
        return m, t, gases.mixture_cp(self.table, x, t) / m

    def heat_loss_ua(self, perimeter, height, t_far):
        """W/K of the stack; None where transfer units are given."""
        wall = self.inputs.get("kiln.stack.wall", "unknown")
        if wall == "unknown":
            return self.inputs.get("kiln.stack.heat_loss_ua_w_k")
        if wall == "bare steel":
            u = float(np.interp(t_far + (self.t_gas - t_far) * 2 / 3, *STEEL))
        else:
            u = WALLS[wall]
        return u * perimeter * height

    def wind(self):
        """What the wind presses more on the room than on the top of the stack."""
        i = self.inputs
        speed = i.get("kiln.site.wind_speed_m_s", 0.0)
        if speed == 0.0:
            return 0.0
        return (i.get("room.wind_coefficient", 0.0) - i["kiln.stack.wind_coefficient"]) * self.rho_out * speed**2 / 2

    def relief(self, p_base):
        """Room air into the stack base; negative when gas spills."""
        i = self.inputs
        return self.hole(p_base, i["kiln.stack.relief_opening_m2"]
                         * i["kiln.stack.relief_discharge_coefficient"], self.rho_base)

    def stack(self, flue_out, p_base):
        """What the stack needs at its base less what is there; falls with p_base."""
        i = self.inputs
        relief = self.relief(p_base)
        up = flue_out + relief
        area = i["kiln.stack.area_m2"]
        side = np.sqrt(area) if i["kiln.stack.section"] == "square" else 2 * np.sqrt(area / np.pi)
        height = i["kiln.stack.height_m"]
        gap = "kiln.stack.hood_gap_height_m" in i
        if gap:
            height = i["kiln.stack.hood_gap_height_m"]
        rho_far, t_far = (self.rho_room, self.t_room) if gap else (self.rho_out, self.t_out)
        room = 0.0 if gap else (i["kiln.site.room_pressure_pa"] + self.wind()
                                + (self.rho_out - self.rho_room) * G * (self.base - self.datum))
        cap = 0.0 if gap else i["kiln.stack.cap_loss"]
        local = (i["kiln.stack.bends"] * i["kiln.stack.bend_loss"] + cap
                 + i["kiln.stack.exit_loss"])
        rough = i["kiln.stack.roughness_m"] / side
        if self.down:
            t = self.t_base = t_far
            rho, drive, m = rho_far, 0.0, max(-up, 0.0)
        else:
            m = max(up, 0.0)
            molar, self.t_base, cp = self.mix_at_base(flue_out, max(relief, 0.0))
            perimeter = 4 * side if i["kiln.stack.section"] == "square" else np.pi * side
            ua = self.heat_loss_ua(perimeter, height, t_far)
            ntu = i["kiln.stack.heat_loss_ntu"] if ua is None else ua / (max(m, 1e-9) * cp)
            share = 1.0 if ntu == 0 else -np.expm1(-ntu) / ntu
            t = t_far + (self.t_base - t_far) * share
            rho = self.density(molar, t)
            drive = (rho_far - rho) * G * height
        reynolds = max(m * side / (area * viscosity(t)), 4000.0)
        loss = (local + churchill(reynolds, rough) * height / side) * m * m / (2 * rho * area**2)
        self.seen = dict(stack_flow_kg_s=up, stack_mean_temperature_k=t,
                         stack_base_temperature_k=self.t_base, draft_theoretical_pa=drive)
        if "kiln.site.wind_speed_m_s" in i and not gap:
            self.seen["wind_pressure_pa"] = self.wind()
        return (-loss if self.down else loss - drive) - (p_base + room)

    # ---- the balances ----------------------------------------------------------------------------

    def set_gas(self, molar, x):
        self.m_gas, self.x_gas = molar, x
        self.rho_gas = self.density(molar, self.t_gas)
        self.rho_base = self.rho_out if self.down else self.rho_gas

    def sums(self, p, p_base, nudge=0.0):
        """Everything that flows at datum pressure p and stack-base pressure p_base."""
        slope = (self.rho_room - self.rho_gas) * G
        p_floor = p - slope * self.datum
        fuel = primary = air = out = 0.0
        for b, r in zip(self.burners, self.ready):
            g, a, m = self.burner_flows(b, r, p_floor + slope * b["height_m"])
            fuel += g
            primary += a
            air += max(m, 0.0)
            out += max(-m, 0.0)
        for o in self.openings:
            m_in, m_out = self.opening_flows(o, p_floor)
            air += m_in
            out += m_out
        i = self.inputs
        leak = i["kiln.chamber.leak_area_m2"] * i["kiln.chamber.leak_discharge_coefficient"]
        if leak > 0:
            m_in, m_out = self.tall(p_floor, leak, 0.0, self.height)
            air += m_in
            out += m_out
        flue_out, back, fresh = self.flue_flows(p_floor, p_base, nudge)
        return dict(fuel=fuel, primary=primary, air=primary + air + fresh * back, out=out,
                    flue=flue_out - back, net=fuel + primary + air + back - out - flue_out,
                    p_floor=p_floor)

    def chamber_pressure(self, p_base, nudge):
        return brentq(lambda p: self.sums(p, p_base, nudge)["net"], -3000.0, 3000.0,
                      xtol=self.xtol)

    def pressures(self, nudge):
        """Both pressures by two nested brackets, at the gas that is set."""
        if not self.has_stack:
            return self.chamber_pressure(0.0, nudge), 0.0

        def gap(p_base):
            p = self.chamber_pressure(p_base, nudge)
            flue = self.sums(p, p_base, nudge)["flue"]
            if not self.down and (flue <= 0 or flue + self.relief(p_base) <= 0):
                return -1.0
            if self.down and flue + self.relief(p_base) >= 0:
                return 1.0
            return self.stack(flue, p_base)

        # the gap falls with p_base, except with a heat loss by UA: there the first crossing is the
        # largest flow
        steps = 93 if self.heat_loss_ua(1.0, 1.0, self.t_out) is not None else 2
        ends = np.linspace(-400.0, 60.0, steps)
        before = gap(ends[0])
        for low, high in zip(ends[:-1], ends[1:]):
            after = gap(high)
            if before > 0 >= after:
                p_base = brentq(gap, low, high, xtol=self.xtol)
                if abs(gap(p_base)) > 1e3 * self.xtol:
                    break       # a jump, not a root
                return self.chamber_pressure(p_base, nudge), p_base
            before = after
        raise NotSolved("the stack does not close")

    def smoke_limit(self):
        """Of config/bands.yaml: its gases' limits, by the carbon that each brings with hydrogen."""
        parts = [(v * self.table[n].atoms["C"], SMOKE.get(n, SMOKE_ANY)) for n, v in self.fuel.items()
                 if self.table[n].atoms["C"] > 0 and self.table[n].atoms["H"] > 0]
        return sum(c * a for c, a in parts) / sum(c for c, _ in parts) if parts else SMOKE_ANY

    def t_frozen(self, phi):
        """Where evenly mixed gas freezes: a smooth step from lean at phi 0.98 to rich at 1.02."""
        step = min(max((phi - 0.98) / 0.04, 0.0), 1.0)
        return self.t_lean + (self.t_rich - self.t_lean) * step * step * (3 - 2 * step)

    def equilibrium_at(self, phi):
        t = self.t_frozen(phi)
        known = {self.t_rich: self.rich, self.t_lean: self.lean}
        return known.get(t) or gases.Equilibrium(self.table, t, self.p_site)

    def burn(self, s):
        """Gas phase of the mean elements: molar mass and composition."""
        z = s["fuel"] / (s["fuel"] + s["air"])
        e = {k: z * self.fuel_side[0][k] + (1 - z) * self.air_side[0][k] for k in gases.ELEMENTS}
        x, molar, _ = self.equilibrium_at(self.stoich * s["fuel"] / s["air"]).composition(
            e, z * self.fuel_side[1] + (1 - z) * self.air_side[1])
        return molar, x, e, z

    def operating_point(self, start=None, nudge=0.0):
        """(p, p_base, M) where all balances close. start: such a triple near by."""
        def residuals(v):
            p, p_base = v[0], v[1]
            molar = 0.028 * v[2]
            if not 0.012 < molar < 0.040:
                raise NotSolved("molar mass")
            self.set_gas(molar, self.x_gas)
            s = self.sums(p, p_base, nudge)
            new, x, _, _ = self.burn(s)
            # the mixture at the stack base is that of this very gas
            self.x_gas = x
            gap = self.stack(s["flue"], p_base) if self.has_stack else p_base
            return [s["net"] / s["fuel"], gap, (new - molar) / 0.028 * 1e2]

        if start is None:
            self.set_gas(0.028, self.air)
            self.xtol = 1e-4
            for _ in range(2):
                p, p_base = self.pressures(nudge)
                molar, x, _, _ = self.burn(self.sums(p, p_base, nudge))
                self.set_gas(molar, x)
            start = (p, p_base, molar)
        best = None
        v = np.array([start[0], start[1], start[2] / 0.028])
        for _ in range(6):
            try:
                v, info, _, _ = fsolve(residuals, v, xtol=1e-13, full_output=True)
            except NotSolved:
                break
            worst = np.abs(residuals(v)).max()
            if best is None or worst < best[0]:
                best = (worst, v.copy())
            if worst < 1e-10:
                break
        if best is None or best[0] > 1e-8:
            return self.slow_point(nudge)
        residuals(best[1])
        return best[1][0], best[1][1], 0.028 * best[1][2]

    def slow_point(self, nudge):
        """The same by brackets alone."""
        self.xtol = 1e-12

        def miss(molar):
            self.set_gas(molar, self.x_gas)
            for _ in range(3):
                p, p_base = self.pressures(nudge)
                new, x, _, _ = self.burn(self.sums(p, p_base, nudge))
                self.set_gas(molar, x)
            self.held = (p, p_base)
            return new - molar

        molar = brentq(miss, 0.0200, 0.0320, xtol=1e-16)
        miss(molar)
        return self.held[0], self.held[1], molar

    def solve(self, slope=True, average=True):
        """The quantities of an estimate, by its names."""
        self.down = False
        try:
            point = self.operating_point()
        except NotSolved:
            if not self.has_stack:
                raise
            self.down = True
            point = self.operating_point()
        p, p_base, molar = point
        s = self.sums(p, p_base)
        _, x, elements, z = self.burn(s)
        self.set_gas(molar, x)
        if self.has_stack:
            self.stack(s["flue"], p_base)
        rise = (self.rho_room - self.rho_gas) * G
        excess = z * self.fuel_side[1] + (1 - z) * self.air_side[1]
        if self.stoich * s["fuel"] / s["air"] > 3:
            raise NotSolved("too rich for the gas alone")
        out = {
            "air_ratio": s["air"] / s["fuel"] / self.stoich,
            "equivalence_ratio": self.stoich * s["fuel"] / s["air"],
            "composition_temperature_k": self.t_frozen(self.stoich * s["fuel"] / s["air"]),
            "smoke_aeration": self.smoke_limit(),
            "primary_aeration": s["primary"] / s["fuel"] / self.stoich,
            "stoichiometric_air_kg_kg": self.stoich,
            "gas_flow_kg_s": s["fuel"],
            "air_flow_kg_s": s["air"],
            "pressure_datum_pa": p,
            "pressure_floor_pa": s["p_floor"],
            "pressure_top_pa": s["p_floor"] + rise * self.height,
            "neutral_plane_m": None,
            "draft_floor_pa": -s["p_floor"],
            "draft_top_pa": -(s["p_floor"] + rise * self.height),
            "flue_flow_kg_s": s["flue"],
            "spill_kg_s": s["out"],
        }
        net = gases.net_heating_value(self.table, self.fuel) / self.m_fuel
        water = gases.WATER_VAPORIZATION * self.fuel_side[0]["H"] / 2
        out["heat_input_net_w"] = s["fuel"] * net
        out["heat_input_gross_w"] = s["fuel"] * (net + water)
        neutral = -s["p_floor"] / rise
        if 0 <= neutral <= self.height:
            out["neutral_plane_m"] = neutral
        if self.has_stack:
            out.update(self.seen)
            out["draft_stack_base_pa"] = -p_base
            out["draft_flue_exit_pa"] = -self.past_flue(self.flues[0], p_base)
            out["spill_kg_s"] += max(-self.relief(p_base), 0.0)
        if self.t_gas >= 773.15:
            probe = gases.Equilibrium(self.table, self.t_gas, self.p_site)
            gas, _, log_po2 = probe.composition(elements, excess)
            out["log10_po2_bar"] = log_po2
            out["probe_emf_v"] = (R * self.t_gas / (4 * gases.FARADAY)
                                  * np.log(PROBE_AIR * self.p_site / (1e5 * 10**log_po2)))
            g = [self.table[n].g_rt(self.t_gas) for n in ("CO2", "C(gr)", "CO")]
            boudouard = np.exp(g[0] + g[1] - 2 * g[2])
            out["carbon_activity"] = (gas["CO"]**2 / gas["CO2"] * self.p_site / 1e5 / boudouard)
        if average:
            wet = gases.unmixed(self.lean, self.rich, self.fuel_side, self.air_side, z,
                                1 / (1 + self.stoich), self.inputs["kiln.model.unmixedness"],
                                self.equilibrium_at(out["equivalence_ratio"]))
            dry = 1 - wet["H2O"]
            for n, v in wet.items():
                out["gas_wet." + n] = v
                if n != "H2O":
                    out["gas_dry." + n] = v / dry
            rich = wet["CO"] + wet["H2"]
            out["reducing_fraction"] = rich / (rich + wet["CO2"] + wet["H2O"])
            out["co_co2_ratio"] = wet["CO"] / wet["CO2"]
            out["h2_h2o_ratio"] = wet["H2"] / wet["H2O"]
            kg = s["fuel"] + s["air"]
            moles = kg / gases.molar_mass(self.table, wet)
            unburnt = moles * sum(v * gases.net_heating_value(self.table, {n: 1.0})
                                  for n, v in wet.items())
            sensible = moles * sum(v * (self.table[n].h(self.t_gas)
                                        - self.table[n].h(gases.T_REFERENCE)) for n, v in wet.items())
            out["heat_unburnt_w"] = unburnt
            out["heat_sensible_w"] = sensible
        out.update(self.flow_table(p_base, s))
        for b in self.burners:
            if b["lit"] and b["kind"] == "inspirating":
                out[f"jets_pa.{b['name']}"] = b["jet_pa"]
            out[f"jet_discharge.{b['name']}"] = b["discharge"](b["gas_pressure_pa"])
        if slope:
            out["dphi_ddamper"] = self.steepness(point)
            out["dphi_dgas_pressure_per_pa"] = self.pressure_steepness(point)
        return out

    def flow_table(self, p_base, s):
        """Every flow by "flow.NAME.KIND.in" or ".out"."""
        out = {}

        def note(name, kind, m_in, m_out=0.0):
            for way, m in (("in", m_in), ("out", m_out)):
                out[f"flow.{name}.{kind}.{way}"] = out.get(f"flow.{name}.{kind}.{way}", 0.0) + m

        slope = (self.rho_room - self.rho_gas) * G
        for b, r in zip(self.burners, self.ready):
            gas, air, hole = self.burner_flows(b, r, s["p_floor"] + slope * b["height_m"])
            jet = b["count"] * r.get("m_jet", 0.0) if b["lit"] else 0.0
            note(b["name"], "gas_jet", gas)
            note(b["name"], "air_jet", jet)
            note(b["name"], "primary_air", air - jet)
            note(b["name"], "unlit_burner", max(hole, 0.0), max(-hole, 0.0))
        for o in self.openings:
            kind = "tall_opening" if "from_m" in o else "opening"
            note(o["name"], kind, *self.opening_flows(o, s["p_floor"]))
        leak = (self.inputs["kiln.chamber.leak_area_m2"]
                * self.inputs["kiln.chamber.leak_discharge_coefficient"])
        note("leaks", "leak", *self.tall(s["p_floor"], leak, 0.0, self.height))
        if self.has_stack:
            relief = self.relief(p_base)
            note("relief opening", "relief", max(relief, 0.0), max(-relief, 0.0))
        return out

    def steepness(self, point):
        """d phi / d open share, all dampers together, by solving again on both sides."""
        def phi(nudge):
            p, p_base, molar = self.operating_point(point, nudge)
            self.set_gas(molar, self.x_gas)
            s = self.sums(p, p_base, nudge)
            return self.stoich * s["fuel"] / s["air"]

        opens = [f["damper.open"] for f in self.flues]
        # at a stop the mean over one per cent inwards: a slide's slope is infinite there
        if max(opens) > 1 - 1e-5:
            return (phi(0.0) - phi(-0.01)) / 0.01
        if min(opens) < 1e-5:
            return (phi(0.01) - phi(0.0)) / 0.01
        # small, for the gas has a corner at phi 1 and a butterfly's table one at every row
        h = 3e-6
        return (8 * (phi(h / 2) - phi(-h / 2)) - (phi(h) - phi(-h))) / (6 * h)

    def pressure_steepness(self, point):
        """d phi / d gas pressure, all burners that have any, likewise."""
        step = 3e-6 * self.inputs["operating.gas_pressure_pa"]
        phi = []
        for by in (step, -step):
            moved = {k: v + by if k.endswith("gas_pressure_pa") and v > 0 else v
                     for k, v in self.inputs.items()}
            other = Kiln(moved, self.table, self.origins, self.spreads)
            other.down, other.x_gas, other.xtol = self.down, self.x_gas, self.xtol
            p, p_base, molar = other.operating_point(point)
            other.set_gas(molar, other.x_gas)
            s = other.sums(p, p_base)
            phi.append(self.stoich * s["fuel"] / s["air"])
        return (phi[0] - phi[1]) / (2 * step)
