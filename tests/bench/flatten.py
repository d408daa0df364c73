#!/usr/bin/env python3
"""Turns a network of make_network.py (JSON, file or standard input) into plain lines for the kernel checks.

usage: make_network.py --n 500 --seed 1 | flatten.py > n500.txt
 p X Y                 a point's approximate place; points count from 0; the first is held, and the direction to the second
 d A B VALUE SD        distance
 s A B P VALUE SD      station of P along A->B
 o A B P VALUE SD      offset of P from A->B, left positive
 r V A C 0 SD          square corner at V
The yard is turned so that the held direction is x. True places and answers are left out.
"""
import json, math, sys

net = json.load(open(sys.argv[1]) if len(sys.argv) > 1 else sys.stdin)
number = {p["id"]: i for i, p in enumerate(net["points"])}
assert net["datum"]["fixed"] == "P1" and net["datum"]["direction"] == ["P1", "P2"]
x0, y0 = net["points"][0]["approx"]
c, s = math.cos(net["datum"]["azimuth"]), math.sin(net["datum"]["azimuth"])
for i, p in enumerate(net["points"]):
    x, y = p["approx"][0] - x0, p["approx"][1] - y0
    x, y = c * x + s * y, c * y - s * x
    print("p", repr(x), repr(0.0 if i == 1 else y))
for o in net["observations"]:
    ids = [number[i] for i in o["ids"]]
    if o["kind"] == "distance":
        print("d", *ids, o["value"], o["sigma"])
    elif o["kind"] == "right_angle":
        print("r", ids[1], ids[0], ids[2], 0, o["sigma"])
    else:
        station, offset = (o["value"], 0.0) if o["kind"] == "running" else o["value"]
        if o.get("side") == "R":
            offset = -offset
        print("s", *ids, station, o["sigma"][0])
        print("o", *ids, offset, o["sigma"][1])
