#!/usr/bin/env python3
"""Reference answers for where a plan lies on the earth.

usage: place.py OUT.json      (what `cargo xtask reference` runs, in an environment of its own)

Places: east and north of an anchor, up 0, to longitude and latitude by PROJ (pyproj): the inverse of EPSG method 9837
(geographic/topocentric), as `+proj=topocentric` and `+proj=cart`. The same by the geodesic of that length and azimuth
(pyproj.Geod, Karney's algorithm). Lines: distance and azimuth between two places by the same geodesics. Declinations:
pygeomag, an implementation of WMM2025 that shares nothing with the crate. Degrees and metres.
"""
import json
import math
import sys

import numpy as np
import pygeomag
import pyproj

ANCHORS = [(0.0, 9.45), (0.0, -179.9), (38.0, -122.3), (-45.0, 170.5), (69.0, 18.95)]
DISTANCES = [0.5, 12.0, 60.0, 180.0, 500.0]
GEOD = pyproj.Geod(ellps="WGS84")


def places():
    for latitude, longitude in ANCHORS:
        local = pyproj.Transformer.from_pipeline(
            "+proj=pipeline +step +inv +proj=topocentric +ellps=WGS84 "
            f"+lat_0={latitude} +lon_0={longitude} +h_0=0 +step +inv +proj=cart +ellps=WGS84"
        )
        for azimuth in np.arange(0.0, 360.0, 22.5):
            for distance in DISTANCES:
                turn = math.radians(azimuth)
                lon, lat, height = local.transform(distance * math.sin(turn), distance * math.cos(turn), 0.0)
                far_lon, far_lat, _ = GEOD.fwd(longitude, latitude, azimuth, distance)
                yield dict(
                    anchor=[latitude, longitude],
                    azimuth=float(azimuth),
                    distance=distance,
                    place=[lat, lon, height],
                    geodesic=[far_lat, far_lon],
                )


def lines():
    rng = np.random.default_rng(11)
    for latitude, longitude in ANCHORS:
        for _ in range(20):
            azimuth, distance = float(rng.uniform(0.0, 360.0)), float(rng.uniform(5.0, 500.0))
            lon, lat, _ = GEOD.fwd(longitude, latitude, azimuth, distance)
            azimuth, _, distance = GEOD.inv(longitude, latitude, lon, lat)
            yield dict(
                ends=[[latitude, longitude], [lat, lon]], azimuth=azimuth % 360.0, distance=distance
            )


def declinations():
    rng = np.random.default_rng(12)
    model = pygeomag.GeoMag(coefficients_file="wmm/WMM_2025.COF")
    for _ in range(400):
        latitude = math.degrees(math.asin(rng.uniform(-1.0, 1.0)))
        longitude = float(rng.uniform(-180.0, 180.0))
        # The first of a month: the day of the year over its length, as the model reckons years.
        year, month = int(rng.integers(2025, 2030)), int(rng.integers(1, 13))
        days = np.datetime64(f"{year}-{month:02}-01") - np.datetime64(f"{year}-01-01")
        length = np.datetime64(f"{year + 1}-01-01") - np.datetime64(f"{year}-01-01")
        found = model.calculate(glat=latitude, glon=longitude, alt=0.0, time=year + float(days / length))
        yield dict(
            at=[latitude, longitude], day=f"{year}-{month:02}-01", declination=found.d, horizontal=found.h
        )


json.dump(
    dict(
        versions=f"pyproj {pyproj.__version__}, PROJ {pyproj.proj_version_str}",
        places=list(places()),
        lines=list(lines()),
        declinations=list(declinations()),
    ),
    open(sys.argv[1], "w", encoding="utf-8"),
)
