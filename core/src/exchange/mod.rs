//! Files in and out: GeoJSON, CSV, the adjustment's numbers.

pub mod adjustment;
pub mod csv;
mod decimals;
pub mod geojson;
mod outputs;
pub mod points;
pub mod words;

pub use outputs::{File, Options, Outputs, PDF, Sheet, north_as_stated, outputs};
