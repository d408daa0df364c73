#!/usr/bin/env python3
"""The reference of kinds.rs: an invented yard measured with every kind that turns, relates or shares a number.

usage: solve.py > yard.json       (scipy 1.17.1, numpy 2.4.6)

The equations are written here a second time, from what the product says its readings mean; derivatives come
from complex steps. Shared numbers (magnetic north's direction, what the hooked tape reads at its start) are
unknowns after the coordinates. Metres and radians. A is the origin, B lies on x.
"""
import json
import math
import sys

import numpy as np
import scipy
from scipy.optimize import least_squares

POINTS = dict(A=(0, 0), B=(14.2, 0), C=(15.1, 9.4), D=(-0.4, 9.1), E=(24.5, 3.2), F=(7.3, 17.8), G=(9.2, -8.1), P=(5.1, 0.02))
NAMES = list(POINTS)
NORTH, SHIFT, EAST = math.radians(73.0), 0.417, math.radians(-6.2)
DATUM = [0, 1, 3]  # A.x, A.y, B.y
rng = np.random.default_rng(20)
truth = np.array([POINTS[n] for n in NAMES], float).ravel()
truth = np.append(truth, [NORTH, SHIFT])

measurements, equations = [], []


def place(x, n):
    i = NAMES.index(n)
    return x[2 * i], x[2 * i + 1]


def root(v):
    return np.sqrt(v)


def between(x, a, b):
    (xa, ya), (xb, yb) = place(x, a), place(x, b)
    return xb - xa, yb - ya


def length(x, a, b):
    dx, dy = between(x, a, b)
    return root(dx * dx + dy * dy)


def along(x, a, b, p):
    (ux, uy), (vx, vy) = between(x, a, b), between(x, a, p)
    return (ux * vx + uy * vy) / length(x, a, b)


def across(x, a, b, p):
    (ux, uy), (vx, vy) = between(x, a, b), between(x, a, p)
    return (ux * vy - uy * vx) / length(x, a, b)


def equation(kind, names, value, sd):
    equations.append((kind, names, value, sd))


def noise(sd):
    return float(rng.normal() * sd)


def misclosure(x, kind, names, value):
    if kind == "distance":
        return length(x, *names) - value
    if kind == "shifted":
        return along(x, *names) + x[-1] - value
    if kind == "across":
        return across(x, *names) - value
    if kind == "angle":
        at, one, two = names
        ((x1, y1), (x2, y2)) = between(x, at, one), between(x, at, two)
        sine, cosine = x1 * y2 - y1 * x2, x1 * x2 + y1 * y2
        c, s = math.cos(value), math.sin(value)
        return np.arctan((c * sine - s * cosine) / (c * cosine + s * sine))
    if kind == "bearing":
        dx, dy = between(x, *names)
        direction = x[-2] - value
        c, s = np.cos(direction), np.sin(direction)
        return -np.arctan((c * dy - s * dx) / (c * dx + s * dy))
    if kind == "parallel":
        (x1, y1), (x2, y2) = between(x, *names[:2]), between(x, *names[2:])
        return (x1 * y2 - y1 * x2) / length(x, *names[:2]) / length(x, *names[2:])
    return length(x, *names[:2]) - length(x, *names[2:])


def reading(value):
    return dict(text="", metres=value)


def tie(a, b, sd, side=None):
    value = float(length(truth, a, b)) + noise(sd)
    said = dict(tie={"from": a, "to": b, "reading": reading(value), "how": {"sd_metres": sd}})
    if side:
        said["tie"]["side"] = {"from": side[0], "to": side[1], "side": side[2]}
    measurements.append(said)
    equation("distance", [a, b], value, sd)


def angle(at, one, two, sd, clockwise):
    (x1, y1), (x2, y2) = between(truth, at, one), between(truth, at, two)
    value = (math.atan2(y2, x2) - math.atan2(y1, x1) + noise(sd)) % math.tau
    typed = math.tau - value if clockwise else value
    turn = "clockwise" if clockwise else "counter_clockwise"
    how = dict(sd_radians=sd)
    measurements.append(dict(angle={"at": at, "from": one, "to": two, "reading": dict(text="", radians=typed), "turn": turn, "how": how}))
    if clockwise:
        equation("angle", [at, two, one], typed, sd)
    else:
        equation("angle", [at, one, two], value, sd)


def bearing(a, b, sd, north="magnetic"):
    dx, dy = between(truth, a, b)
    value = (NORTH - math.atan2(dy, dx) + noise(sd)) % math.tau
    typed = (value + EAST) % math.tau if north == "true" else value
    measurements.append(dict(bearing={"from": a, "to": b, "reading": dict(text="", radians=typed), "north": north, "how": dict(sd_radians=sd)}))
    equation("bearing", [a, b], value, sd)


deg = math.radians
tie("A", "B", 0.004)
tie("A", "D", 0.006)
tie("B", "D", 0.007, ("A", "B", "left"))
tie("B", "C", 0.006)
tie("A", "C", 0.007)
tie("C", "E", 0.008)
tie("C", "F", 0.010)
tie("A", "G", 0.009)
angle("B", "C", "A", deg(0.4), False)
angle("C", "D", "B", deg(0.4), False)
angle("C", "B", "E", deg(0.5), False)
angle("D", "A", "F", deg(0.6), False)
angle("A", "B", "G", deg(0.5), True)
angle("F", "D", "C", deg(0.5), False)
for a, b, sd in [("A", "B", 1.0), ("B", "E", 0.8), ("E", "B", 0.8), ("C", "F", 1.0), ("D", "F", 1.2), ("A", "G", 0.7), ("B", "G", 1.0)]:
    bearing(a, b, deg(sd))
bearing("D", "C", deg(0.3), "true")
read = []
for p in ["A", "P", "B"]:
    value = SHIFT + float(along(truth, "A", "B", p)) + noise(0.005)
    read.append(dict(point=p, reading=reading(value)))
    equation("shifted", ["A", "B", p], value, 0.005)
    if p == "P":
        equation("across", ["A", "B", p], 0.0, 0.006)
measurements.append(dict(run=dict(zero="A", toward="B", readings=read, zero_unknown=True, how=dict(sd_metres=0.005))))
measurements.append(dict(parallel=dict(one=["A", "D"], other=["C", "B"], tolerance_radians=deg(3.0))))
equation("parallel", ["A", "D", "C", "B"], 0.0, deg(3.0))
measurements.append(dict(same_length=dict(one=["B", "C"], other=["C", "E"], tolerance_metres=2.0)))
equation("same", ["B", "C", "C", "E"], 0.0, 2.0)

free = np.ones(len(truth), bool)
free[DATUM] = False
base = np.where(free, truth, 0.0)
base[DATUM] = 0.0


def weighted(z):
    x = base.astype(z.dtype)
    x[free] = z
    return np.array([misclosure(x, k, n, v) / sd for k, n, v, sd in equations])


found = least_squares(weighted, truth[free], jac="cs", xtol=1e-15, ftol=1e-15, gtol=1e-15)
x = base.copy()
x[free] = found.x
sd = np.array([e[3] for e in equations])
v = weighted(found.x)
jac = np.array([[np.imag(f) / 1e-30 for f in weighted(found.x + 1e-30j * np.eye(len(found.x))[i])] for i in range(len(found.x))]).T
q = np.linalg.inv(jac.T @ jac)
redundancy = 1.0 - np.einsum("ij,jk,ik->i", jac, q, jac)
json.dump(
    dict(
        versions=f"scipy {scipy.__version__}, numpy {np.__version__}",
        declination=EAST,
        measurements=measurements,
        places={n: [float(x[2 * i]), float(x[2 * i + 1])] for i, n in enumerate(NAMES)},
        north=float(x[-2]),
        north_sd=float(np.sqrt(q[-2, -2])),
        chi_square=float(v @ v),
        residuals=[float(r) for r in v * sd],
        redundancy=[float(r) for r in redundancy],
    ),
    sys.stdout,
    indent=1,
)
