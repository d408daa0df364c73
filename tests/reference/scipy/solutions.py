#!/usr/bin/env python3
"""Reference solutions for the network adjustment, by scipy.optimize.least_squares.

usage: solutions.py OUT.json      (what `cargo xtask reference` runs, in an environment of its own)

Writes invented yards (yards.py) and the two scenarios as measurements, as equations and as solved. The
equations are written here a second time, from what the product says its readings mean; derivatives come from
complex steps (jac="cs"), so no derivative is written twice. Statistics follow by dense algebra:
Q = inv(J'WJ), redundancy r = 1 - diag(J Q J'W), 95 % ellipse = sqrt(chi2(2; 0.95)) times the roots of the
eigenvalues of a point's part of Q; of two points' difference likewise from D Q D'. Metres and radians. The first held point is the origin, the second lies on x.
"""
import json
import math
import os
import pathlib
import re
import sys

# Matrices this small are slower on several threads.
os.environ.setdefault("OMP_NUM_THREADS", "1")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np
import scipy
from scipy.optimize import least_squares
from scipy.stats import chi2

from yards import Yard

# What the product states about readings that carry no standard deviation of their own.
ACROSS_RUN = 0.006
SQUARE = math.radians(0.5)
BY_EYE = 0.02

HERE = pathlib.Path(__file__).resolve().parent
FOOT = 0.3048


def equation(kind, points, value, sd):
    return dict(kind=kind, points=points, value=value, sd=sd)


def of_run(a, b, readings, sd):
    for p, value in readings:
        if p == b:
            yield equation("distance", [a, b], value, sd)
        else:
            yield equation("station", [a, b, p], value, sd)
            yield equation("offset", [a, b, p], 0.0, ACROSS_RUN)


def of_offsets(a, b, rows, sd):
    """A foot found by eye slides along the baseline, the more the longer the offset."""
    for p, station, offset, side in rows:
        offset = offset if side == "left" else -offset
        yield equation("station", [a, b, p], station, math.hypot(sd, BY_EYE * offset))
        yield equation("offset", [a, b, p], offset, sd)


def of_measurement(m, number):
    (kind, m), = m.items()
    sd = m.get("how", {}).get("sd_metres")
    metres = lambda reading: reading["metres"]
    if kind == "tie":
        yield equation("distance", [number[m["from"]], number[m["to"]]], metres(m["reading"]), sd)
    elif kind == "run":
        read = [(number[r["point"]], metres(r["reading"])) for r in m["readings"]]
        yield from of_run(number[m["zero"]], number[m["toward"]], read, sd)
    elif kind == "offsets":
        rows = [(number[r["point"]], metres(r["station"]), metres(r["offset"]), r["side"]) for r in m["rows"]]
        yield from of_offsets(number[m["from"]], number[m["to"]], rows, sd)
    elif kind == "walk":
        before, at = None, number[m["start"]]
        for leg in m["legs"]:
            to = number[leg["to"]]
            yield equation("distance", [at, to], metres(leg["length"]), sd)
            if "turn" in leg:
                yield equation("square", [at, before, to], 0.0, SQUARE)
            before, at = at, to
    elif kind == "square":
        yield equation("square", [number[m[k]] for k in ("at", "from", "to")], 0.0, SQUARE)
    else:
        raise ValueError(kind)


def of_scenario(m, number):
    """A scenario's measurement, read from its feet and inches as written."""
    sd = m["sigma_offset" if "base" in m else "sigma"] * FOOT
    if m["type"] == "tie":
        yield equation("distance", [number[m["frm"]], number[m["to"]]], inches(m["reading"]), sd)
    elif m["type"] == "running":
        read = [(number[r["point"]], inches(r["reading"])) for r in m["readings"]]
        yield from of_run(number[m["zero"]], number[m["toward"]], read, sd)
    else:
        rows = [(number[r["point"]], inches(r["station_reading"]), inches(r["offset_reading"]), r["side"])
                for r in m.get("rows", [m])]
        yield from of_offsets(number[m["base"][0]], number[m["base"][1]], rows, sd)


def inches(text):
    """Metres of 12'-6 1/2" or -3 1/4"."""
    m = re.fullmatch(r"(-?)(?:(\d+)')?-?(?:(\d+)(?: |\"|$))?(?:(\d+)/(\d+))?\"?", text)
    sign, feet, whole, part, of = m.groups()
    total = 12 * int(feet or 0) + int(whole or 0) + int(part or 0) / int(of or 1)
    return (-total if sign else total) * 0.0254


class Problem:
    """Equations in arrays, and their weighted misclosures, for real and complex coordinates alike."""

    def __init__(self, equations, count, datum):
        self.kinds = {}
        for row, e in enumerate(equations):
            self.kinds.setdefault(e["kind"], []).append((row, e["points"]))
        self.kinds = {k: (np.array([r for r, _ in v]), np.array([p for _, p in v]).T) for k, v in self.kinds.items()}
        self.value = np.array([e["value"] for e in equations])
        self.sd = np.array([e["sd"] for e in equations])
        free = np.ones((count, 2), bool)
        free[datum[0]], free[datum[1], 1] = False, False
        self.free, self.base = free.ravel(), np.zeros(2 * count)

    def spread(self, z):
        x = self.base.astype(z.dtype)
        x[self.free] = z
        return x.reshape(-1, 2)

    def misclosure(self, z):
        x, out = self.spread(z), np.empty(len(self.value), z.dtype)
        for kind, (rows, points) in self.kinds.items():
            at = [x[p] for p in points]
            out[rows] = getattr(self, kind)(*at, self.value[rows])
        return out

    def weighted(self, z):
        return self.misclosure(z) / self.sd

    # The root of a sum of squares, not hypot, which knows no complex numbers.
    @staticmethod
    def length(v):
        return np.sqrt(v[:, 0] ** 2 + v[:, 1] ** 2)

    def distance(self, a, b, value):
        return self.length(b - a) - value

    def station(self, a, b, p, value):
        return ((p - a) * (b - a)).sum(1) / self.length(b - a) - value

    def offset(self, a, b, p, value):
        u, v = b - a, p - a
        return (u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]) / self.length(u) - value

    def square(self, at, a, c, value):
        u, v = a - at, c - at
        return (u * v).sum(1) / (self.length(u) * self.length(v)) - value

    def angle(self, at, start, to, value):
        """Turned back by the value first: what is left is small and has no seam."""
        u, v = start - at, to - at
        along, across = (u * v).sum(1), u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
        c, s = np.cos(value), np.sin(value)
        return np.arctan((across * c - along * s) / (along * c + across * s))


def solve(equations, start, datum):
    """The least squares solution and its statistics; every point must be determined."""
    problem = Problem(equations, len(start), datum)
    z0 = np.array(start).ravel()[problem.free]
    got = least_squares(problem.weighted, z0, jac="cs", method="trf", x_scale="jac",
                        ftol=1e-15, xtol=1e-15, gtol=1e-15, max_nfev=100)
    J = got.jac
    Q = np.linalg.inv(J.T @ J)
    # It stops where the sum of squares no longer changes, nanometres short: one full step more.
    z = got.x - Q @ (J.T @ problem.weighted(got.x))
    residuals = problem.misclosure(z)
    chi_square = float(((residuals / problem.sd) ** 2).sum())
    assert got.success and abs(chi_square - 2 * got.cost) < 1e-9 * chi_square
    whole = np.zeros((len(problem.free), len(problem.free)))
    whole[np.ix_(problem.free, problem.free)] = Q
    ellipses = []
    for p in range(len(start)):
        values, vectors = np.linalg.eigh(whole[2 * p:2 * p + 2, 2 * p:2 * p + 2])
        major, minor = np.sqrt(np.maximum(values[::-1], 0.0) * chi2.ppf(0.95, 2))
        ellipses.append([major, minor, math.atan2(vectors[1, 1], vectors[0, 1]) % math.pi])
    spare = len(equations) - int(problem.free.sum())
    relatives = [relative(whole, problem.spread(z), a, b) for a, b in pairs(len(start))]
    return dict(places=problem.spread(z).tolist(), chi_square=chi_square, spare=spare,
                variance_factor=chi_square / spare, residuals=residuals.tolist(),
                redundancy=(1 - ((J @ Q) * J).sum(1)).tolist(), ellipses=ellipses, relatives=relatives)


def pairs(count):
    """Some pairs of different points, the held ones among them."""
    some = {(0, 1), (1, 0), (0, count - 1), (1, count - 1)} | {(5 * k % count, (11 * k + 3) % count) for k in range(8)}
    return sorted((a, b) for a, b in some if a != b)


def relative(whole, places, a, b):
    """The 95 % ellipse of the difference of two points, and the standard deviation of their distance."""
    D = np.zeros((2, len(whole)))
    D[0, 2 * a], D[0, 2 * b], D[1, 2 * a + 1], D[1, 2 * b + 1] = -1, 1, -1, 1
    C = D @ whole @ D.T
    u = places[b] - places[a]
    u = u / np.sqrt((u ** 2).sum())
    values, vectors = np.linalg.eigh(C)
    major, minor = np.sqrt(np.maximum(values[::-1], 0.0) * chi2.ppf(0.95, 2))
    return [a, b, major, minor, math.atan2(vectors[1, 1], vectors[0, 1]) % math.pi, math.sqrt(max(u @ C @ u, 0.0))]


def framed(places, datum):
    """Turned and shifted so that the first held point is the origin and the second lies on x."""
    places = np.array(places)
    first, second = places[datum[0]], places[datum[1]]
    x, y = (second - first) / np.hypot(*(second - first))
    return ((places - first) @ np.array([[x, -y], [y, x]])).tolist()


def case(name, points, measurements, equations, true, held, loose):
    """Without the loose points and their readings; the numbers of the equations that are left are kept."""
    out = [i for i, p in enumerate(points) if p in loose]
    kept = [i for i in range(len(points)) if i not in out]
    new = {old: i for i, old in enumerate(kept)}
    active = [i for i, e in enumerate(equations) if not set(e["points"]) & set(out)]
    left = [dict(equations[i], points=[new[p] for p in equations[i]["points"]]) for i in active]
    names = [points[i] for i in kept]
    datum = [names.index(h) for h in held]
    start = framed([true[i] for i in kept], datum)
    return dict(name=name, points=names, loose=loose, measurements=measurements, datum=datum, start=start,
                equations=left, active=active, solution=solve(left, start, datum))


def of_yard(yard, turned=0):
    ids = [yard.id(p) for p in range(len(yard.true))]
    number = {p: i for i, p in enumerate(ids)}
    equations = [e for m in yard.measurements for e in of_measurement(m, number)]
    name, measurements = yard.name, yard.measurements
    if turned:
        # The field book has no turned angles in these yards: the kernel alone is compared.
        name, measurements = name + ", angles turned", None
        equations += yard.turned(turned)
    corners = yard.corners[0, 0]
    return case(name, ids, measurements, equations, yard.true, [ids[corners[0]], ids[corners[1]]], yard.loose)


def scenario(number, held, loose=(), without=()):
    data = json.loads((HERE / f"../../scenarios/scenario_{number}.json").read_text())
    taken = [m for m in data["measurements"] if m["id"] not in without]
    true = {k: (p["x"] * FOOT, p["y"] * FOOT) for k, p in data["true_points"].items() if p["kind"] != "lot_corner"}
    points = sorted(true)
    index = {p: i for i, p in enumerate(points)}
    equations = [e for m in taken for e in of_scenario(m, index)]
    name = f"scenario {number}" + "".join(f" without {m}" for m in without)
    return case(name, points, None, equations, [true[p] for p in points], held, list(loose))


def main(out):
    assert inches("12'-6 1/2\"") == 150.5 * 0.0254 and inches("-3 1/4\"") == -3.25 * 0.0254
    several = ((20, 6), (43, 6), (60, 5), (100, 3))
    yards = [of_yard(Yard(points, seed)) for points, count in several for seed in range(1, count + 1)]
    yards += [of_yard(Yard(points, seed, distance_only=True)) for points in (20, 60) for seed in range(1, 4)]
    yards += [of_yard(Yard(60, seed, loose=1 + seed % 3)) for seed in range(1, 5)]
    yards += [of_yard(Yard(points, seed), turned=1) for points in (20, 60) for seed in range(11, 14)]
    scenarios = [scenario(1, ["H1", "H2"], loose=["T4"]), scenario(2, ["H1", "H2"]),
                 scenario(2, ["H1", "H2"], without=["M056"])]
    made_by = "".join((HERE / file).read_text() for file in ("yards.py", "solutions.py"))
    with open(out, "w") as file:
        json.dump(dict(made_by=made_by, versions=f"scipy {scipy.__version__}, numpy {np.__version__}",
                       yards=yards, scenarios=scenarios), file)
    print(f"{len(yards)} yards and {len(scenarios)} scenario networks solved by scipy {scipy.__version__}")


if __name__ == "__main__":
    main(sys.argv[1])
