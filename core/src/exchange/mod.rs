//! Files in and out: GeoJSON, CSV.

pub mod csv;
