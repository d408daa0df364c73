#!/usr/bin/env python3
"""What a geographic information system finds in files of ours: GDAL, through pyogrio, with shapely and pyproj.

usage: files.py FILE...      (what the test `earth_files` runs) -> one JSON object on standard output

For each file the warnings and errors that GDAL raised while it was read, the layers, and of each feature its id, the kind
of geometry, its fields that are not empty, and the area in square metres: of a layer in degrees after an equal-area
projection (Lambert's azimuthal, WGS 84) about its middle.
"""
import json
import sys
import warnings

import pyogrio
import pyogrio.raw
import pyproj
import shapely


def metric(shapes):
    west, south, east, north = shapely.total_bounds(shapes)
    local = pyproj.CRS.from_proj4(
        f"+proj=laea +lat_0={(south + north) / 2} +lon_0={(west + east) / 2} +datum=WGS84 +units=m"
    )
    to = pyproj.Transformer.from_crs("OGC:CRS84", local, always_xy=True)
    return shapely.transform(shapes, lambda at: list(zip(*to.transform(at[:, 0], at[:, 1]))))


def layer(file, name):
    meta, _, shapes, fields = pyogrio.raw.read(file, layer=name)
    shapes = shapely.from_wkb(shapes)
    crs = meta["crs"] and pyproj.CRS(meta["crs"])
    on_map = bool(crs and crs.is_geographic)
    flat = metric(shapes) if on_map else shapes
    features = []
    for n, (shape, area) in enumerate(zip(shapes, shapely.area(flat))):
        known = {name: str(values[n]) for name, values in zip(meta["fields"], fields) if values[n] is not None}
        features.append(
            dict(
                id=known.pop("id", ""),
                kind="" if shape is None else shape.geom_type,
                valid=shape is None or bool(shapely.is_valid(shape)),
                area=0.0 if shape is None else float(area),
                fields=known,
            )
        )
    return dict(name=name, on_map=on_map, features=features)


def read(file):
    with warnings.catch_warnings(record=True) as raised:
        warnings.simplefilter("always")
        try:
            layers = [layer(file, str(name)) for name, _ in pyogrio.list_layers(file)]
            error = None
        except pyogrio.errors.DataSourceError as failure:
            layers, error = [], str(failure)
    said = [f"{w.category.__name__}: {w.message}" for w in raised] + ([error] if error else [])
    return dict(said=said, layers=layers)


json.dump(
    dict(
        versions=f"pyogrio {pyogrio.__version__}, GDAL {pyogrio.__gdal_version_string__}",
        files=[read(file) for file in sys.argv[1:]],
    ),
    sys.stdout,
)
