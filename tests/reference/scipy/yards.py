"""Invented yards for the reference solutions: true places, and readings in the book's own words.

Lots of ten points stand on a grid of about 26 x 34 m: one boundary post, an L-shaped house of six corners,
a jamb on its front wall and two garden points. The house is walked round (walls with square turns) and its
diagonals are taped; the jamb is read off a run, one garden point is an offset from the front wall with a
check tie, the other hangs on three ties, the posts are tied to the two nearest corners of the houses
around them and to each other. About 1.6 equations for each unknown. Only Python's own library is needed;
the same seed gives the same yard.
"""
import math
import random


def tape(length):
    """Standard deviation of a taped length, as the yard states it with every reading."""
    return round(0.005 + 0.0002 * abs(length), 4)


def words(value):
    return dict(text=f"{value:.4f} m", metres=value)


class Yard:
    def __init__(self, points, seed, distance_only=False, loose=0):
        self.rng = random.Random(f"reference-{points}-{seed}-{distance_only}-{loose}")
        self.name = f"{points} points, seed {seed}" + (", ties only" if distance_only else "")
        self.name += f", {loose} loose" if loose else ""
        self.true, self.measurements, self.loose, self.tied = [], [], [], set()
        self.distance_only, self.read_corner = distance_only, seed % 2 == 0
        self.lots = [(k % self.wide(points), k // self.wide(points)) for k in range(points // 10)]
        self.place()
        for lot in self.lots:
            (self.house_ties if distance_only else self.house)(lot)
            self.garden_ties(lot)
            self.swings(lot)
        for extra in range(points - len(self.true)):
            self.extra(self.lots[extra % len(self.lots)])
        self.loosen(loose)

    @staticmethod
    def wide(points):
        return max(2, math.ceil(math.sqrt(points // 10)))

    def add(self, x, y):
        self.true.append((x, y))
        return len(self.true) - 1

    def place(self):
        g, u = self.rng.gauss, self.rng.uniform
        self.post = {c: self.add(26 * c[0] + g(0, 0.4), 34 * c[1] + g(0, 0.4)) for c in self.lots}
        self.corners, self.jamb, self.garden = {}, {}, {}
        for cx, cy in self.lots:
            x0, y0 = 26 * cx + 6 + u(0, 2), 34 * cy + 9 + u(0, 3)
            w, h = u(9, 13), u(8, 12)
            cw, ch, turn = w * u(0.35, 0.6), h * u(0.35, 0.6), g(0, 0.06)
            c, s = math.cos(turn), math.sin(turn)
            shape = [(0, 0), (w, 0), (w, ch), (cw, ch), (cw, h), (0, h)]
            place = [(x0 + c * x - s * y + g(0, 0.004), y0 + s * x + c * y + g(0, 0.004)) for x, y in shape]
            self.corners[cx, cy] = [self.add(*xy) for xy in place]
            (ax, ay), (bx, by), t = place[0], place[1], u(0.25, 0.75)
            self.jamb[cx, cy] = self.add(ax + t * (bx - ax) + g(0, 0.003), ay + t * (by - ay) + g(0, 0.003))
            front = self.add(26 * cx + u(4, 20), 34 * cy + u(2, 6))
            self.garden[cx, cy] = front, self.add(26 * cx + u(4, 20), 34 * cy + u(25, 31))

    def id(self, p):
        return f"P{p + 1}"

    def distance(self, a, b):
        return math.dist(self.true[a], self.true[b])

    def along(self, a, b, p):
        """Station and offset (left positive) of p from the line a -> b."""
        (ax, ay), (bx, by), (px, py) = self.true[a], self.true[b], self.true[p]
        length = self.distance(a, b)
        ux, uy = (bx - ax) / length, (by - ay) / length
        return (px - ax) * ux + (py - ay) * uy, (py - ay) * ux - (px - ax) * uy

    def read(self, value, sd):
        return words(round(value + self.rng.gauss(0, sd), 4))

    def side(self, a, b, p):
        """On which side of a -> b the point stands; not said where that is hard to see."""
        _, off = self.along(a, b, p)
        if abs(off) < 0.5:
            return None
        return {"from": self.id(a), "to": self.id(b), "side": "left" if off > 0 else "right"}

    def tie(self, a, b, line=None):
        """Tapes from a to b unless that was done; with `line`, says b's side of it."""
        if a == b or (min(a, b), max(a, b)) in self.tied:
            return False
        self.tied.add((min(a, b), max(a, b)))
        length = self.distance(a, b)
        sd = tape(length)
        tie = {"from": self.id(a), "to": self.id(b), "reading": self.read(length, sd), "how": {"sd_metres": sd}}
        side = self.side(*line, b) if line else None
        self.measurements.append({"tie": {**tie, "side": side} if side else tie})
        return True

    def house(self, lot):
        q, id = self.corners[lot], self.id
        turns = [None, "left", "left", "right", "left", "left"]
        sd, legs = tape(12.0), []
        for k, turn in enumerate(turns):
            a, b = q[k], q[(k + 1) % 6]
            self.tied.add((min(a, b), max(a, b)))
            leg = {"to": id(b), "length": self.read(self.distance(a, b), sd)}
            legs.append({**leg, "turn": turn} if turn else leg)
        self.measurements.append({"walk": {"start": id(q[0]), "legs": legs, "how": {"sd_metres": sd}}})
        self.measurements.append({"square": {"at": id(q[0]), "from": id(q[5]), "to": id(q[1])}})
        self.tie(q[0], q[2])
        self.tie(q[1], q[5])
        on_run = [self.jamb[lot]] + ([q[1]] if self.read_corner else [])
        rows = [{"point": id(p), "reading": self.read(self.along(q[0], q[1], p)[0], sd)} for p in on_run]
        run = {"zero": id(q[0]), "toward": id(q[1]), "readings": rows, "how": {"sd_metres": sd}}
        self.measurements.append({"run": run})
        front = self.garden[lot][0]
        station, offset = self.along(q[0], q[1], front)
        sd = 2 * tape(offset)
        row = {"point": id(front), "station": self.read(station, sd), "offset": self.read(abs(offset), sd)}
        row["side"] = "left" if offset > 0 else "right"
        baseline = {"from": id(q[0]), "to": id(q[1]), "rows": [row], "how": {"sd_metres": sd}}
        self.measurements.append({"offsets": baseline})

    def house_ties(self, lot):
        q = self.corners[lot]
        for i in range(6):
            self.tie(q[i], q[(i + 1) % 6], (q[0], q[1]) if i == 1 else None)
        for i, j in ((0, 2), (1, 5), (0, 3), (0, 4), (2, 4), (3, 5), (1, 4)):
            self.tie(q[i], q[j])
        for i in (0, 1, 4):
            self.tie(q[i], self.jamb[lot])
        for i in (0, 1):
            self.tie(q[i], self.garden[lot][0], (q[0], q[1]))

    def garden_ties(self, lot):
        q, (front, back) = self.corners[lot], self.garden[lot]
        self.tie(self.post[lot], front)
        for i in (5, 4, 2):
            self.tie(q[i], back, (q[5], q[4]) if i == 5 else None)

    def swings(self, lot):
        """Posts around the lot from the two nearest corners; on the edge of the grid from its neighbours."""
        q, (cx, cy), ties = self.corners[lot], lot, 0
        for near in (lot, (cx + 1, cy), (cx, cy + 1), (cx + 1, cy + 1)):
            if near in self.post:
                post = self.post[near]
                one, two = sorted(q, key=lambda k: self.distance(k, post))[:2]
                ties += self.tie(one, post, (one, two)) + self.tie(two, post)
        around = [(cx + i, cy + j) for i in (-1, 0, 1) for j in (-1, 0, 1) if (cx + i, cy + j) in self.post]
        far = [x for c in around for x in [self.post[c]] + (self.corners[c] if c != lot else [])]
        used = {}
        for x, k in sorted(((x, k) for x in far for k in q), key=lambda xk: self.distance(*xk)):
            if ties < 8 and used.get(k, 0) < 3 and used.get(-1 - x, 0) < 2 and self.tie(k, x):
                ties += 1
                used[k], used[-1 - x] = used.get(k, 0) + 1, used.get(-1 - x, 0) + 1
        for near in ((cx + 1, cy), (cx, cy + 1)):
            if near in self.post:
                self.tie(self.post[lot], self.post[near])

    def extra(self, lot):
        """A further point on three ties."""
        q, u = self.corners[lot], self.rng.uniform
        p = self.add(26 * lot[0] + u(0, 24), 34 * lot[1] + u(0, 6))
        for i in (q[0], q[1], self.post[lot]):
            self.tie(i, p, (q[0], q[1]) if i == q[0] else None)

    def loosen(self, count):
        """Leaves garden points behind the house on a single tie."""
        picked = self.rng.sample([back for _, back in self.garden.values()], count)
        for p in picked:
            mine = [m for m in self.measurements if m.get("tie", {}).get("to") == self.id(p)]
            self.measurements = [m for m in self.measurements if m not in mine[1:]]
        self.loose = sorted(self.id(p) for p in picked)

    def turned(self, every):
        """Angles turned at house corners from the next corner to posts, some across the half turn (kernel only)."""
        out = []
        for k, lot in enumerate(self.lots):
            if k % every == 0:
                at, start, to = self.corners[lot][k % 6], self.corners[lot][(k + 1) % 6], self.post[lot]
                (ax, ay), (bx, by), (cx, cy) = self.true[at], self.true[start], self.true[to]
                angle = math.atan2(cy - ay, cx - ax) - math.atan2(by - ay, bx - ax)
                value = round(angle + self.rng.gauss(0, 0.0005), 6)
                # Written as a circle is read, 0 ... 2 pi, so that the seam at half a turn is crossed.
                out.append(dict(kind="angle", points=[at, start, to], value=value % math.tau, sd=0.0005))
        return out
