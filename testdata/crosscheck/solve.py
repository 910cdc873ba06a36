"""Solves the problems of problems.json with SciPy's solve_ivp.

    solve.py PROBLEMS reference FOLDER [NAME...]   writes FOLDER/NAME.csv at rtol 1e-10
    solve.py PROBLEMS sweep [NAME...]              times methods and tolerances

Both print one JSON line per run; its time is processor time. A reference is integrated from corner to corner:
the run is cut where a valve leaves or meets its seat, where the tip valve lifts
or falls, and where the clutch lets go or catches. A sweep is cut where the model
itself changes, at the clutch, and nowhere else.
"""

import json
import os
import platform
import sys
import time
import warnings
from math import pi, sin

import numpy
import scipy
from scipy.integrate import solve_ivp

from equations import R, Model, wrap

TICK = 1 / 1200
STEP_OVER = 1e-5  # [s] after an event, in which nothing is looked for

REFERENCE = ("LSODA", 1e-10)
METHODS = ("RK45", "DOP853", "LSODA", "BDF", "Radau")
SWEEP = (1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7)
PATIENCE = 5.0  # [s] for one run of a sweep


class TooSlow(Exception):
    pass


def terminal(function, direction):
    function.terminal, function.direction = True, direction
    return function


def lift(model, t, y):
    """What the cylinder has over the hose beyond the tip valve's opening [bar]."""
    number = model.problem["plugs"].index("gauge")
    p = model.pressure(model.cylinders[number], number, y, model.motion(t, y)[0])
    return (p - model.p["Gauge"]["ValveOpening"] - model.hose_pressure(y)) * 1e-5


def edges(model):
    """Crank angles at which some valve leaves or meets its seat."""
    if not model.breathes:
        return []
    return [c.firing + edge for c in model.cylinders for edge in c.intake.edges() + c.exhaust.edges()]


def events(model, t, y, corners):
    """Functions that are zero where a piece ends; the first is the clutch's."""
    found = []
    if model.free:
        found.append(terminal(lambda t, y: model.clutch(y), -1 if model.locked else 1))
    if corners and model.gauged:
        found.append(terminal(lambda t, y: lift(model, t, y), -1 if lift(model, t, y) > 0 else 1))
    if corners and model.free:
        for edge in edges(model):
            found.append(terminal(lambda t, y, edge=edge: sin((y[model.i_crank] - edge) / 2), 1))
    return found


def cuts(model, end, corners):
    """Times at which a run is cut in any case."""
    times = {0.0, end}
    if not model.free:
        times.add(TICK)
        for edge in edges(model) if corners else []:
            first = (wrap(edge - model.start) % (4 * pi)) / model.driven + TICK
            times |= set(numpy.arange(first, end, 4 * pi / model.driven))
    return sorted(times)


class Run:
    """One run and what it leaves behind: the states at every tick."""

    def __init__(self, model, method, rtol, corners):
        self.model, self.method, self.rtol, self.corners = model, method, rtol, corners
        ticks = model.problem["ticks"]
        self.grid = numpy.arange(1, ticks + 1) * TICK
        self.states = numpy.empty((len(model.y0), ticks))
        self.filled = self.calls = 0
        self.deadline = None
        model.locked = True

    def rhs(self, t, y):
        self.calls += 1
        if self.deadline and self.calls % 256 == 0 and time.process_time() > self.deadline:
            raise TooSlow
        return self.model.rhs(t, y)

    def piece(self, t, y, stop, watch):
        """Integrates to the stop or to the next event; says which one it was."""
        last = numpy.searchsorted(self.grid, stop, side="right")
        wanted = self.grid[self.filled:last]
        at = wanted if len(wanted) and wanted[-1] == stop else numpy.append(wanted, stop)
        s = solve_ivp(self.rhs, (t, stop), y, method=self.method, t_eval=at, events=watch or None,
                      rtol=self.rtol, atol=self.rtol * 1e-2)
        if not s.success:
            raise ArithmeticError(s.message)
        count = min(len(s.t), len(wanted))
        if count:
            self.states[:, self.filled:self.filled + count] = s.y[:, :count]
            self.filled += count
        if s.status != 1:
            return stop, s.y[:, -1], None
        which = next(i for i, times in enumerate(s.t_events) if len(times))
        return s.t_events[which][-1], s.y_events[which][-1], which

    def go(self):
        model, y = self.model, numpy.array(self.model.y0)
        times = cuts(model, float(self.grid[-1]), self.corners)
        for t, stop in zip(times, times[1:]):
            model.still = not model.free and stop <= TICK
            over = 0.0
            while t < stop:
                if t < over:
                    t, y, _ = self.piece(t, y, min(over, stop), [])
                    continue
                if self.slipped(y):
                    self.shift(y)
                t, y, which = self.piece(t, y, stop, events(model, t, y, self.corners))
                if which is not None:
                    over = t + STEP_OVER
                if which == 0 and model.free:
                    self.shift(y)

    def slipped(self, y):
        """Whether the clutch is on the wrong side, changed within a step over."""
        if not self.model.free:
            return False
        return self.model.clutch(y) < -1e-3 if self.model.locked else self.model.clutch(y) > 1e-6

    def shift(self, y):
        """Lets the clutch go or catch."""
        self.model.locked = not self.model.locked
        if self.model.locked:
            y[self.model.i_crank + 2] = y[self.model.i_crank + 1]

    def rows(self):
        """Per tick: number, angle of cylinder 1 after its compression TDC [rad], its
        pressure, plenum and hose pressure [Pa], crank speed [rad/s]."""
        model, rows = self.model, []
        first = model.cylinders[0]
        for k, t in enumerate(self.grid):
            y = self.states[:, k].tolist()
            angle, speed = model.motion(t, y)
            plenum = hose = 0.0
            if model.breathes:
                i = model.i_plenum
                plenum = y[i] * model.mass * R * 300 * y[i + 1] / model.p["PlenumVolume"]
            if model.gauged:
                hose = model.hose_pressure(y)
            rows.append((k + 1, wrap(angle - first.firing), model.pressure(first, 0, y, angle), plenum, hose, speed))
        return rows


def vertex(x, y):
    """Height of the parabola through three points."""
    d0, d1 = (y[1] - y[0]) / (x[1] - x[0]), (y[2] - y[1]) / (x[2] - x[1])
    second = (d1 - d0) / (x[2] - x[0])
    slope = d0 + second * (x[1] - x[0])
    return y[1] - slope * slope / (4 * second)


def peaks(rows):
    """Highest pressure of every compression, by the parabola through the top three."""
    found = []
    for three in zip(rows, rows[1:], rows[2:]):
        p = [r[2] for r in three]
        if abs(three[1][1]) <= 0.6 and p[1] > p[0] and p[1] >= p[2]:
            found.append(vertex([r[1] for r in three], p))
    return found


def solve(problem, method, rtol, corners, patience=None):
    """Runs one problem; returns its result line and its rows."""
    run = Run(Model(problem), method, rtol, corners)
    begin = time.process_time()
    if patience:
        run.deadline = begin + patience
    run.go()
    took = time.process_time() - begin
    rows = run.rows()
    line = {"problem": problem["name"], "method": method, "rtol": rtol, "time": took, "calls": run.calls,
            "peaks": peaks(rows), "gauge": rows[-1][4], "speed": rows[-1][5]}
    return line, rows


def thin(rows):
    """The first and the last working cycle, every third tick away from TDC."""
    ends = [i for i, (a, b) in enumerate(zip(rows, rows[1:])) if b[1] < a[1]]
    first = ends[1] if len(ends) > 1 else ends[0]
    return [r for i, r in enumerate(rows) if (i <= first or i >= ends[-2]) and (r[0] % 3 == 0 or abs(r[1]) < 0.6)]


def reference(problems, folder):
    """Writes the curves that the simulation is held against."""
    for problem in problems:
        line, rows = solve(problem, *REFERENCE, corners=True)
        print(json.dumps(line), flush=True)
        with open(os.path.join(folder, problem["name"] + ".csv"), "w") as out:
            print(f"# scipy {scipy.__version__} solve_ivp {REFERENCE[0]}, rtol {REFERENCE[1]:g}, python {platform.python_version()}", file=out)
            print("# peaks_pa " + " ".join(f"{p:.8g}" for p in line["peaks"]), file=out)
            print("tick,angle_rad,pressure_pa,plenum_pa,hose_pa,speed_rad_s", file=out)
            for r in thin(rows):
                print("%d,%.7f,%.7g,%.7g,%.7g,%.7g" % r, file=out)


def sweep(problems):
    """Times every method at every tolerance it reaches in reasonable time."""
    for problem in problems:
        for method in METHODS:
            for rtol in SWEEP:
                try:
                    line, _ = solve(problem, method, rtol, False, PATIENCE)
                except TooSlow:
                    break  # a smaller tolerance takes longer still
                except (ArithmeticError, TypeError, ValueError):
                    continue  # went where there is no gas
                print(json.dumps(line), flush=True)


def main():
    warnings.simplefilter("ignore")  # trial states without sense are rejected by the solver
    with open(sys.argv[1]) as file:
        problems = json.load(file)["problems"]
    names = sys.argv[4 if sys.argv[2] == "reference" else 3:]
    problems = [q for q in problems if not names or q["name"] in names]
    if sys.argv[2] == "reference":
        reference(problems, sys.argv[3])
    else:
        sweep(problems)


if __name__ == "__main__":
    main()
