//! Numbers in files: so many decimals and no more, so that the same plan gives the same bytes.

use serde::{Serialize, Serializer};

/// A number rounded to `N` decimals when it is written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Decimals<const N: u8>(f64);

impl<const N: u8> Decimals<N> {
    pub(super) const fn new(number: f64) -> Self {
        Self(number)
    }
    /// The number as it is written.
    pub(super) fn rounded(self) -> f64 {
        // Parsing the rounded text gives the double whose shortest form is that text again.
        format!("{:.*}", usize::from(N), self.0).parse().unwrap_or(f64::NAN)
    }
}

impl<const N: u8> Serialize for Decimals<N> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.rounded() {
            // Minus nothing is nothing.
            0.0 => serializer.serialize_f64(0.0),
            number if number.is_finite() => serializer.serialize_f64(number),
            _ => serializer.serialize_none(),
        }
    }
}

/// Metres to a tenth of a millimetre: finer than any tape.
pub(super) type Metres = Decimals<4>;
/// Degrees of an angle between lines of the plan.
pub(super) type Degrees = Decimals<3>;
/// Degrees of latitude and longitude: the ninth is a tenth of a millimetre on the ground. RFC 7946
/// §11.2 calls six enough for most uses, but that is a decimetre, and what was taped to the
/// quarter inch must keep its shape.
pub(super) type Geographic = Decimals<9>;
/// Numbers without a unit.
pub(super) type Ratio = Decimals<4>;
