#!/usr/bin/env python3
"""Reference answers for where the sun stands.

usage: sun.py OUT.json      (what `cargo xtask reference` runs, in an environment of its own)

By pvlib's implementation of NREL's Solar Position Algorithm (TP-560-34302) with numpy: azimuth clockwise from north and
elevation as seen in degrees, at sea level, 1013.25 hPa and 15 °C, for places of all latitudes and instants of the years
2026 to 2035, the sun above the horizon.
"""
import json
import sys

import numpy as np
import pandas as pd
import pvlib

COUNT = 4000

rng = np.random.default_rng(7)
first, last = (pd.Timestamp(f"{year}-01-01", tz="UTC").value // 10**6 for year in (2026, 2036))
answers = []
while len(answers) < COUNT:
    latitude = float(np.degrees(np.arcsin(rng.uniform(-1.0, 1.0))))
    longitude = float(rng.uniform(-180.0, 180.0))
    # A place in turn with forty instants: one call for all of them.
    instants = rng.integers(first, last, 40)
    # By milliseconds: pandas' own unit of time has changed over the years.
    times = pd.to_datetime(instants, unit="ms", utc=True)
    seen = pvlib.solarposition.spa_python(
        times, latitude, longitude, altitude=0.0, pressure=101325.0, temperature=15.0, delta_t=None, how="numpy"
    )
    for instant, azimuth, elevation in zip(instants, seen["azimuth"], seen["apparent_elevation"]):
        if elevation > 0.0:
            answers.append([latitude, longitude, int(instant), float(azimuth), float(elevation)])
json.dump(
    dict(versions=f"pvlib {pvlib.__version__}", suns=answers), open(sys.argv[1], "w", encoding="utf-8")
)
