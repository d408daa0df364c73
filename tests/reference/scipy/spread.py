"""How sure the demo yard's lengths and areas are: the normal equations of all readings in adjustment.json, by
differences instead of derivatives, with the first point held and the second on the x axis; then the propagation of
the full covariance. Only Python's own library. What it prints stands in tests/demo.rs. Usage, after
`cargo run --package swingtie-core --features cli -- plan public/demo.jsonl --out OUT`:
python3 tests/reference/scipy/spread.py OUT/adjustment.json"""
import json
import math
import sys

with open(sys.argv[1], encoding="utf-8") as file:
    found = json.load(file)
places = {p["label"]: [p["x"], p["y"]] for p in found["points"] if p["state"] != "loose"}
base, toward = found["held"]["at"], found["held"]["toward"]
unknowns = [(p, k) for p in places for k in (0, 1) if p != base and (p, k) != (toward, 1)]


def measured(role, points):
    at = [places[p] for p in points]
    if len(at) == 2:
        return math.dist(*at)
    if role == "square":  # the corner, then its legs
        (px, py), (ax, ay), (bx, by) = at
        angle = math.atan2(by - py, bx - px) - math.atan2(ay - py, ax - px)
        return abs(math.degrees(math.remainder(angle, 2 * math.pi)))
    (ax, ay), (bx, by), (px, py) = at
    length = math.hypot(bx - ax, by - ay)
    along, across = (bx - ax) / length, (by - ay) / length
    if role in ("run", "station"):
        return (px - ax) * along + (py - ay) * across
    return along * (py - ay) - across * (px - ax)


def gradient(f, small=1e-5):
    out = []
    for p, k in unknowns:
        old = places[p][k]
        places[p][k] = old + small
        high = f()
        places[p][k] = old - small
        low = f()
        places[p][k] = old
        out.append((high - low) / (2 * small))
    return out


n = len(unknowns)
normal = [[0.0] * n for _ in range(n)]
for r in found["readings"]:
    if not all(p in places for p in r["points"]):
        continue
    row = gradient(lambda: measured(r["role"], r["points"]))
    used = [i for i in range(n) if row[i]]
    for i in used:
        for j in used:
            normal[i][j] += row[i] * row[j] / r["sd"] ** 2


def solve(right):
    a = [row[:] + [b] for row, b in zip(normal, right)]
    for i in range(n):
        best = max(range(i, n), key=lambda k: abs(a[k][i]))
        a[i], a[best] = a[best], a[i]
        for k in range(i + 1, n):
            share = a[k][i] / a[i][i]
            if share:
                for c in range(i, n + 1):
                    a[k][c] -= share * a[i][c]
    x = [0.0] * n
    for i in reversed(range(n)):
        x[i] = (a[i][n] - sum(a[i][c] * x[c] for c in range(i + 1, n))) / a[i][i]
    return x


def sd(f):
    g = gradient(f)
    return math.sqrt(sum(a * b for a, b in zip(g, solve(g))))


def length(points, closed):
    pairs = list(zip(points, points[1:])) + ([(points[-1], points[0])] if closed else [])
    return lambda: sum(math.dist(places[a], places[b]) for a, b in pairs)


def area(points):
    def twice():
        at = [places[p] for p in points]
        return sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(at, at[1:] + at[:1]))
    return lambda: abs(twice()) / 2


things = {
    "house": ("H1 H2 H3 H4 H5 H6", True), "shed": ("SH1 SH2 SH3 SH4", True), "door": ("D1 D2", False),
    "fence": ("F1 F2 F3 F4", False), "gate": ("G1 G2", False), "wet": ("W1 W2 W3 W4", True),
}
for name, (points, closed) in things.items():
    points = points.split()
    print(name, f"length {sd(length(points, closed)):.6f} m", f"area {sd(area(points)):.6f} m2" if closed else "")
