//! Exact fractions, so that a sixteenth of an inch stays one until the last step.

/// A non-negative fraction. Built from a few typed digits, so the numbers stay far below overflow;
/// whatever would overflow all the same answers none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Ratio {
    over: i128,
    under: i128,
}

impl Ratio {
    pub(super) const ZERO: Self = Self { over: 0, under: 1 };

    /// None when `under` is not positive.
    pub(super) fn new(over: i128, under: i128) -> Option<Self> {
        if under <= 0 {
            return None;
        }
        let common = gcd(over, under).max(1);
        Some(Self { over: over / common, under: under / common })
    }

    pub(super) fn plus(self, other: Self) -> Option<Self> {
        let left = self.over.checked_mul(other.under)?;
        let right = other.over.checked_mul(self.under)?;
        Self::new(left.checked_add(right)?, self.under.checked_mul(other.under)?)
    }

    pub(super) fn times(self, over: i128, under: i128) -> Option<Self> {
        Self::new(self.over.checked_mul(over)?, self.under.checked_mul(under)?)
    }

    pub(super) fn at_least(self, whole: i128) -> bool {
        self.under.checked_mul(whole).is_some_and(|other| self.over >= other)
    }

    /// The nearest double. Long division into more digits than a double holds, then the standard
    /// library's parser, which rounds correctly.
    pub(super) fn to_f64(self) -> Option<f64> {
        let mut digits = (self.over / self.under).to_string();
        let mut rest = self.over % self.under;
        digits.push('.');
        for _ in 0..60 {
            rest = rest.checked_mul(10)?;
            digits.push(char::from_digit(u32::try_from(rest / self.under).ok()?, 10)?);
            rest %= self.under;
            if rest == 0 {
                break;
            }
        }
        digits.parse().ok()
    }
}

const fn gcd(a: i128, b: i128) -> i128 {
    if b == 0 { a } else { gcd(b, a % b) }
}
