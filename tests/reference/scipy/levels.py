#!/usr/bin/env python3
"""Reference answers for heights: surfaces by scipy.interpolate, level networks by dense least squares.

usage: levels.py OUT.json      (what `cargo xtask reference` runs, in an environment of its own)

Surfaces: spots scattered without pattern on rolling ground; heights between them by LinearNDInterpolator (linear on
the Delaunay triangulation, by qhull), the area of the hull by ConvexHull. Networks: set-ups that read three to eight
points each and share some; heights with standard deviations, residuals and redundancy numbers from the full matrices.
Outlines: areas and perimeters by shapely, their standard deviations from 200,000 outlines with corners moved at random
as their covariances say. Metres.
"""
import json
import sys

import numpy as np
import scipy
import shapely
from scipy.interpolate import LinearNDInterpolator
from scipy.spatial import ConvexHull

SURFACES = 20
NETWORKS = 10
OUTLINES = 20
TRIALS = 200_000


def surface(seed):
    rng = np.random.default_rng(seed)
    n = int(rng.integers(8, 200))
    at = rng.uniform(0.0, 40.0, (n, 2))
    a, b, c, d = rng.uniform(0.05, 0.4, 4)
    z = 30.0 + np.sin(a * at[:, 0]) + np.cos(b * at[:, 1]) + 0.2 * np.sin(c * at[:, 0] * d * at[:, 1])
    ground = LinearNDInterpolator(at, z)
    # As the product does: from the shared origin, no rescaling.
    asked = rng.uniform(0.0, 40.0, (300, 2))
    heights = ground(asked)
    hull = ConvexHull(at)
    return dict(
        spots=[[*map(float, p), float(h)] for p, h in zip(at, z)],
        asked=[[*map(float, p)] for p in asked],
        heights=[None if np.isnan(h) else float(h) for h in heights],
        area=float(hull.volume),
    )


def network(seed):
    rng = np.random.default_rng(1000 + seed)
    points = int(rng.integers(6, 40))
    truth = rng.uniform(28.0, 32.0, points)
    rows = []
    shared = [0]
    for setup in range(int(rng.integers(3, 12))):
        line = 33.0 + rng.uniform(0.0, 1.0)
        back = int(rng.choice(shared))
        others = rng.choice([p for p in range(points) if p != back], int(rng.integers(2, 6)), replace=False)
        for p in [back, *map(int, others)]:
            sd = float(rng.choice([0.002, 0.006]))
            rows.append((setup, p, float(line - truth[p] + rng.normal(0.0, sd)), sd))
            shared.append(p)
    seen = sorted({p for _, p, *_ in rows})
    setups = 1 + max(s for s, *_ in rows)
    # Unknowns: lines, then heights of all but point 0, which is held.
    column = {p: setups + i for i, p in enumerate(q for q in seen if q != 0)}
    a = np.zeros((len(rows), setups + len(column)))
    value = np.zeros(len(rows))
    w = np.zeros(len(rows))
    datum = float(truth[0])
    for i, (s, p, read, sd) in enumerate(rows):
        a[i, s] = 1.0
        value[i] = read
        if p == 0:
            value[i] += datum
        else:
            a[i, column[p]] = -1.0
        w[i] = 1.0 / sd**2
    q = np.linalg.inv(a.T @ (a * w[:, None]))
    x = q @ (a.T @ (w * value))
    v = a @ x - value
    redundancy = 1.0 - np.einsum("ij,jk,ik->i", a, q, a) * w
    return dict(
        datum=datum,
        rows=[list(row) for row in rows],
        points=seen,
        heights=[datum if p == 0 else float(x[column[p]]) for p in seen],
        sds=[0.0 if p == 0 else float(np.sqrt(q[column[p], column[p]])) for p in seen],
        residuals=[float(t) for t in v],
        redundancy=[float(t) for t in redundancy],
        spare=len(rows) - a.shape[1],
        chi_square=float(v @ (w * v)),
    )


def outline(seed):
    rng = np.random.default_rng(2000 + seed)
    n = int(rng.integers(3, 12))
    # Star-shaped about a middle far from the origin: it never crosses itself.
    turn = np.sort(rng.uniform(0.0, 2.0 * np.pi, n))
    out = rng.uniform(2.0, 9.0, n)
    at = np.c_[out * np.cos(turn), out * np.sin(turn)] + rng.uniform(-40.0, 40.0, 2)
    axes = np.sort(rng.uniform(0.002, 0.03, (n, 2)), axis=1)[:, ::-1]
    direction = rng.uniform(0.0, np.pi, n)
    # Standard deviations along both axes of each corner's ellipse.
    moved = rng.normal(size=(TRIALS, n, 2)) * axes
    c, s = np.cos(direction), np.sin(direction)
    x = at[:, 0] + moved[..., 0] * c - moved[..., 1] * s
    y = at[:, 1] + moved[..., 0] * s + moved[..., 1] * c
    rings = shapely.polygons(np.stack([x, y], axis=-1))
    exact = shapely.Polygon(at)
    return dict(
        corners=[[*map(float, p)] for p in at],
        axes=[[*map(float, a)] for a in axes],
        direction=[float(t) for t in direction],
        area=float(exact.area),
        perimeter=float(exact.length),
        area_sd=float(shapely.area(rings).std()),
        perimeter_sd=float(shapely.length(rings).std()),
    )


def main():
    made = dict(
        versions=f"numpy {np.__version__}, scipy {scipy.__version__}, shapely {shapely.__version__}",
        surfaces=[surface(seed) for seed in range(SURFACES)],
        networks=[network(seed) for seed in range(NETWORKS)],
        outlines=[outline(seed) for seed in range(OUTLINES)],
    )
    with open(sys.argv[1], "w", encoding="utf-8") as out:
        json.dump(made, out)


if __name__ == "__main__":
    main()
