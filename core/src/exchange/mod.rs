//! Files in and out: GeoJSON, CSV.
