"""The equations of a cranked engine, written down from the laws.

Nothing here comes from the Go code but the parameters, which arrive in
problems.json. Every volume of gas is described by its mass and temperature:

    dm/dt       = sum of flows
    m cv dT/dt  = heat - p dV/dt + sum of (flows x (enthalpy they carry - u)) 

States are divided by SCALE so that one tolerance suits all of them. Times [s],
angles [rad], everything else SI.
"""

from math import copysign, cos, exp, expm1, log, log1p, pi, sin, sqrt

TURN, CYCLE = 2 * pi, 4 * pi

# Dry air, NASA nine-constant form: mole fraction, molar mass, a1..a7.
AIR = [
    (0.78084, 28.0134e-3, (2.210371497e4, -3.818461820e2, 6.082738360, -8.530914410e-3, 1.384646189e-5, -9.625793620e-9, 2.519705809e-12)),
    (0.20946, 31.9988e-3, (-3.425563420e4, 4.847000970e2, 1.119010961, 4.293889240e-3, -6.836300520e-7, -2.023372700e-9, 1.039040018e-12)),
    (0.00970, 39.948e-3, (0.0, 0.0, 2.5, 0.0, 0.0, 0.0, 0.0)),
]
R = 8.31446261815324 / sum(x * m for x, m, _ in AIR)
A1, A2, A3, A4, A5, A6, A7 = (R * sum(x * a[k] for x, _, a in AIR) for k in range(7))
COLD, HOT = 200.0, 1000.0  # ends of the fit; cp is constant beyond


def _cp(t):
    return A1 / (t * t) + A2 / t + A3 + t * (A4 + t * (A5 + t * (A6 + t * A7)))


def _h(t):
    return -A1 / t + A2 * log(t) + t * (A3 + t * (A4 / 2 + t * (A5 / 3 + t * (A6 / 4 + t * A7 / 5))))


def cp(t):
    """Specific heat at constant pressure [J/(kg K)]."""
    return _cp(min(max(t, COLD), HOT))


def enthalpy(t):
    """Specific enthalpy [J/kg] from an arbitrary zero."""
    inside = min(max(t, COLD), HOT)
    return _h(inside) + _cp(inside) * (t - inside)


# Flow through an opening: isentropic to the throat with kappa = 1.4, square root
# softened near equal pressures.
KAPPA = 1.4
CRITICAL = (2 / (KAPPA + 1)) ** (KAPPA / (KAPPA - 1))
SOFT = 2e-5
PSI0 = sqrt(2 * KAPPA / (KAPPA - 1))
PSI_CHOKED = PSI0 * sqrt(CRITICAL ** (2 / KAPPA) - CRITICAL ** ((KAPPA + 1) / KAPPA))


def orifice(area, before, t_before, after):
    """Mass flow [kg/s] from the side at the pressure before to the one after."""
    choked = area * before / sqrt(R * t_before)
    x = 1 - after / before
    if x >= 1 - CRITICAL:
        return choked * PSI_CHOKED
    root = x / sqrt(x + SOFT)  # in place of sqrt(x)
    ln = log1p(-root * root)
    return choked * PSI0 * exp(ln / KAPPA) * sqrt(-expm1(ln * (KAPPA - 1) / KAPPA))


def wrap(a):
    """The same angle in [-2 pi, 2 pi)."""
    return (a + TURN) % CYCLE - TURN


class Crank:
    """Slider-crank of one cylinder."""

    def __init__(self, p):
        self.face = pi / 4 * p["Bore"] ** 2
        self.throw, self.rod, self.offset = p["Stroke"] / 2, p["Rod"], p["PinOffset"]
        self.top = sqrt((self.rod + self.throw) ** 2 - self.offset**2)
        bottom = sqrt((self.rod - self.throw) ** 2 - self.offset**2)
        self.swept = self.face * (self.top - bottom)

    def volume(self, a):
        """Volume swept below top dead centre [m3] and its slope [m3/rad]."""
        s, c = sin(a), cos(a)
        side = self.throw * s - self.offset
        root = sqrt(self.rod**2 - side * side)
        return self.face * (self.top - self.throw * c - root), self.face * self.throw * (s + side * c / root)


REST = 1e-9  # speed of a crank that stands [rad/s]
EVENT_LIFT = 0.15e-3  # [m], where valve events are timed


class Valves:
    """The intake or exhaust valves of one cylinder."""

    def __init__(self, v, share, shift, seat):
        self.centre = wrap((v["Opens"] + v["Closes"]) / 2 + shift)
        self.half = (v["Closes"] - v["Opens"]) / 2 / sqrt(1 - sqrt(EVENT_LIFT / v["Lift"]))
        self.lift, self.seat = v["Lift"] * share, seat
        self.curtain = 0.70 * pi * v["Diameter"]
        self.throat = 0.62 * pi / 4 * v["Diameter"] ** 2
        self.count = v["Count"]

    def area(self, a):
        """Cd A [m2] at the cylinder's crank angle."""
        x = wrap(a - self.centre) / self.half
        if abs(x) >= 1:
            return self.seat
        curtain = self.curtain * self.lift * (1 - x * x) ** 2
        return self.seat + self.count * curtain * self.throat / sqrt(curtain**2 + self.throat**2)

    def edges(self):
        """Cylinder angles at which the valves leave and meet their seats."""
        return [] if self.lift == 0 else [wrap(self.centre - self.half), wrap(self.centre + self.half)]


class Cylinder:
    """What stays the same in one cylinder."""

    def __init__(self, p, crank, number, plug, film):
        c = p["Cylinder"][number]
        self.plug, self.firing = plug, c["FiringAngle"]
        self.clearance = crank.swept / (p["Compression"] - 1) - c["Deposit"]
        if plug == "gauge":
            self.clearance += p["Gauge"]["AdapterVolume"]
        self.chamber = crank.swept / (p["Compression"] - 1)  # of the heat law
        self.rings, self.film = c["RingArea"], film
        self.intake = Valves(p["Intake"], c["IntakeLift"], c["IntakeShift"], c["IntakeSeatArea"])
        self.exhaust = Valves(p["Exhaust"], c["ExhaustLift"], c["ExhaustShift"], c["ExhaustSeatArea"])


class Battery:
    """Six lead-acid cells."""

    SHARE, TIME = 0.4, 6.0  # of polarisation: part of the 30 s resistance, [s]

    def __init__(self, p):
        b, self.kelvin = p["Battery"], p["AmbientTemperature"]
        self.charge, self.capacity = b["Charge"], b["Capacity"]
        rated = (self.rest(1.0, 255.15) - 7.2) / b["CCA"]  # at -18 C after 30 s
        cold = 2.0 ** ((298.15 - self.kelvin) / (298.15 - 255.15))
        self.full = rated / 2.0 * cold * b["AgeFactor"]
        self.ohmic = 1 - self.SHARE * (1 - exp(-30 / self.TIME))
        self.leads = b["Cable"] + b["Ground"]

    @staticmethod
    def rest(charge, kelvin):
        """Voltage at rest [V]."""
        return 11.89 + (12.65 - 11.89) * charge - 0.13 / 45 * (300.15 - kelvin)

    def ohms(self, charge):
        """Resistance after 30 s [Ohm]."""
        return self.full / (0.25 + 0.75 * charge)


def viscosity(p, kelvin):
    """Kinematic viscosity of the oil [m2/s] on Walther's line."""
    w = lambda nu: log(log(nu * 1e6 + 0.7))
    cold, hot = w(p["Crank"]["OilGradeCold"]), w(p["Crank"]["OilGradeHot"])
    x = (log(kelvin) - log(313.15)) / (log(373.15) - log(313.15))
    return (exp(exp(min(cold + (hot - cold) * x, 2.6))) - 0.7) * 1e-6


def throttle_area(p, opened):
    """Cd A past the plate [m2]."""
    stop = 7 * pi / 180
    plate = stop + (pi / 2 - stop) * opened
    return p["IdleArea"] + p["ThrottleArea"] * (1 - cos(plate) / cos(stop))


class Model:
    """Right-hand side and start of one problem."""

    def __init__(self, problem):
        p = problem["params"]
        self.p, self.problem = p, problem
        self.crank = Crank(p)
        self.ambient, self.t_ambient, self.t_wall = p["Ambient"], p["AmbientTemperature"], problem["coolant"]
        self.cylinders = [
            Cylinder(p, self.crank, i, problem["plugs"][i], problem["film"][i]) for i in range(p["Cylinders"])
        ]
        self.breathes = problem["breathes"]
        self.gauged = "gauge" in problem["plugs"]
        self.films = any(c.film != 1 for c in self.cylinders)
        self.driven, self.start = problem["speed"], problem["start"]
        self.free = self.driven == 0
        self.coast = problem.get("coast", 0.0)  # starts at that speed, without a starter
        self.locked, self.still = True, False
        self.throttle = throttle_area(p, problem["throttle"])
        self.h_ambient, self.h_wall = enthalpy(self.t_ambient), enthalpy(self.t_wall)
        self.battery = Battery(p)
        self.nu = viscosity(p, self.t_wall)
        self.lay_out()

    def lay_out(self):
        """Where the states lie, and how they start."""
        y, swept = [], self.crank.swept
        self.mass = self.ambient * swept / (R * self.t_ambient)  # scale of all masses
        mass = lambda volume, t: self.ambient * volume / (R * t) / self.mass
        for c in self.cylinders:
            v, _ = self.crank.volume(wrap(self.start - c.firing))
            y += [mass(v + c.clearance, self.t_wall), self.t_wall / 300]
        if self.breathes:
            self.i_plenum = len(y)
            y += [mass(self.p["PlenumVolume"], self.t_ambient), self.t_ambient / 300]
        if self.gauged:
            self.i_hose = len(y)
            y += [mass(self.p["Gauge"]["HoseVolume"], self.t_ambient), self.t_ambient / 300]
        if self.films:
            self.i_film = len(y)
            y += [c.film for c in self.cylinders]
        if self.free:
            self.i_crank = len(y)
            y += [self.start, self.coast, 0.0, self.battery.charge, 0.0, 0.0]
        self.y0 = y

    def motion(self, t, y):
        """Crank angle [rad] and speed [rad/s]."""
        if self.free:
            k = self.i_crank
            return y[k], y[k + 1]
        speed = 0.0 if self.still else self.driven
        first = 1 / 1200  # a driven crank starts with the second tick
        return self.start + self.driven * max(0.0, t - first), speed

    def pressure(self, c, i, y, angle):
        """Pressure in cylinder i [Pa]."""
        v, _ = self.crank.volume(wrap(angle - c.firing))
        return y[2 * i] * self.mass * R * 300 * y[2 * i + 1] / (v + c.clearance)

    def hose_pressure(self, y):
        """Pressure in the gauge [Pa]."""
        k = self.i_hose
        return y[k] * self.mass * R * 300 * y[k + 1] / self.p["Gauge"]["HoseVolume"]

    def ring_area(self, c, film):
        """Cd A of the rings [m2]."""
        dry = self.p["Rings"]["DryFactor"]
        return c.rings * (dry + (1 - dry) * film)

    def wall_loss(self, c, swept, volume, pressure, t, speed):
        """Heat to the walls [W] by Hohenberg's correlation. Its volume is that of
        the chamber without adapter; its area is head, crown and liner."""
        piston = self.p["Stroke"] * abs(speed) / pi
        h = 130 * (c.chamber + swept) ** -0.06 * (pressure * 1e-5) ** 0.8 * t**-0.4 * (piston + 1.4) ** 0.8
        area = 2.1 * self.crank.face + volume * pi * self.p["Bore"] / self.crank.face
        return self.p["Heat"]["Factor"] * h * area * (t - self.t_wall)

    def rhs(self, t, y):
        """Time derivative of the scaled states."""
        y = y.tolist()  # plain numbers are four times as fast here
        out = [0.0] * len(y)
        angle, speed = self.motion(t, y)
        p, crank = self.p, self.crank
        torque = 0.0
        plenum = hose = None
        if self.breathes:
            plenum = Store(y, self.i_plenum, self.mass, p["PlenumVolume"])
        if self.gauged:
            hose = Store(y, self.i_hose, self.mass, p["Gauge"]["HoseVolume"])
        for i, c in enumerate(self.cylinders):
            a = wrap(angle - c.firing)
            swept, slope = crank.volume(a)
            gas = Store(y, 2 * i, self.mass, swept + c.clearance)
            film = y[self.i_film + i] if self.films else c.film
            gas.meet(self.ring_area(c, film), self.ambient, self.t_wall, self.h_wall)
            if self.breathes:
                gas.join(c.intake.area(a), plenum)
                gas.meet(c.exhaust.area(a), self.ambient, self.t_wall, self.h_wall)
            if c.plug == "out":
                gas.meet(p["PlugHoleArea"], self.ambient, self.t_ambient, self.h_ambient)
            if c.plug == "gauge":
                self.tip(gas, hose)
            loss = self.wall_loss(c, swept, gas.volume, gas.p, gas.t, speed)
            gas.rate(out, -loss - gas.p * slope * speed)
            torque += (gas.p - self.ambient) * slope
            if self.films:
                out[self.i_film + i] = abs(speed) / p["Rings"]["BuildAngle"] * (1 - film)
        if self.breathes:
            plenum.meet(self.throttle, self.ambient, self.t_ambient, self.h_ambient)
            plenum.rate(out, p["Heat"]["Manifold"] * (self.t_wall - plenum.t))
        if self.gauged:
            hose.rate(out, p["Gauge"]["HoseConductance"] * (self.t_ambient - hose.t))
        if self.free:
            self.turn(y, out, speed, torque)
        return out

    def tip(self, gas, hose):
        """The tip valve: open while the cylinder is ValveOpening above the hose,
        and driven by what is left then."""
        g = self.p["Gauge"]
        driven = gas.p - g["ValveOpening"]
        if driven > hose.p:
            flow = orifice(g["ValveArea"], driven, gas.t, hose.p)
            gas.take(-flow, gas.h)
            hose.take(flow, gas.h)

    def torques(self, y):
        """Torque of motor and of friction on the crank [N m], current [A], and how
        fast it changes [A/s]."""
        k = self.i_crank
        speed, armature, charge, polarisation, amps = y[k + 1], y[k + 2], y[k + 3], y[k + 4], 100 * y[k + 5]
        if self.locked:
            armature = speed
        s, b = self.p["Starter"], self.battery
        ohms = b.ohms(charge) * b.ohmic + b.leads + s["Resistance"]
        pinion = armature * s["Ratio"]
        per_amp = s["Constant"] / (1 + (amps / s["Saturation"]) ** 2)
        change = (b.rest(charge, b.kelvin) - polarisation - per_amp * pinion - amps * ohms) / s["Inductance"]
        motor = s["Ratio"] * (per_amp * amps - s["Drag"] - s["Windage"] * pinion**2)
        if pinion <= 0:
            motor = max(0.0, motor)
        hydro = sqrt(self.nu * abs(speed) / (12e-6 * 21))
        mep = self.p["Crank"]["FrictionMEP"] * (0.6 + 0.4 * hydro)
        friction = mep * self.crank.swept * len(self.cylinders) / (4 * pi)
        return motor, friction, amps, change

    def turn(self, y, out, speed, gas):
        """Crank, armature and battery."""
        k = self.i_crank
        motor, friction, amps, change = self.torques(y)
        rub = friction if speed >= 0 else -friction
        if abs(speed) < REST and abs(gas + motor) < friction:
            rub = gas + motor  # not yet enough to turn it
        heavy, light = self.p["Crank"]["Inertia"], self.p["Starter"]["Inertia"]
        out[k] = speed
        if self.coast:
            out[k + 1] = (gas - friction) / heavy  # until it stops
            return
        if self.locked:
            out[k + 1] = out[k + 2] = (gas + motor - rub) / (heavy + light)
        else:
            out[k + 1] = (gas - rub) / heavy
            out[k + 2] = motor / light
        b = self.battery
        out[k + 3] = -amps / b.capacity
        out[k + 4] = (amps * b.ohms(y[k + 3]) * b.SHARE - y[k + 4]) / b.TIME
        out[k + 5] = change / 100

    def clutch(self, y):
        """What changes sign when the overrunning clutch lets go (locked) or
        catches (free)."""
        k = self.i_crank
        if not self.locked:
            return y[k + 2] - y[k + 1]
        angle, speed = y[k], y[k + 1]
        if self.coast or abs(speed) < REST:
            return 1.0  # no starter, or both stand
        gas = sum(
            (self.pressure(c, i, y, angle) - self.ambient) * self.crank.volume(wrap(angle - c.firing))[1]
            for i, c in enumerate(self.cylinders)
        )
        motor, friction, _, _ = self.torques(y)
        heavy, light = self.p["Crank"]["Inertia"], self.p["Starter"]["Inertia"]
        return motor - light * (gas + motor - copysign(friction, speed)) / (heavy + light)


class Store:
    """Gas in a volume and what flows into it."""

    def __init__(self, y, index, scale, volume):
        self.index, self.scale, self.volume = index, scale, volume
        self.m, self.t = y[index] * scale, y[index + 1] * 300
        self.p = self.m * R * self.t / volume
        self.h = enthalpy(self.t)
        self.mass = self.power = 0.0

    def take(self, flow, h):
        """Book a flow [kg/s] into the volume that carries h [J/kg]."""
        self.mass += flow
        self.power += flow * h

    def meet(self, area, pressure, t, h):
        """Pass gas through an opening to surroundings that don't change."""
        if area == 0:
            return
        if self.p < pressure:
            self.take(orifice(area, pressure, t, self.p), h)
        else:
            self.take(-orifice(area, self.p, self.t, pressure), self.h)

    def join(self, area, other):
        """Pass gas through an opening to another volume."""
        if area == 0:
            return
        if self.p < other.p:
            flow, h = orifice(area, other.p, other.t, self.p), other.h
        else:
            flow, h = -orifice(area, self.p, self.t, other.p), self.h
        self.take(flow, h)
        other.take(-flow, h)

    def rate(self, out, power):
        """Write down the rates under the other power [W] that the gas gets."""
        u = self.h - R * self.t
        out[self.index] = self.mass / self.scale
        out[self.index + 1] = (power + self.power - self.mass * u) / (self.m * (cp(self.t) - R)) / 300
