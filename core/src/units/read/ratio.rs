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

    /// The nearest double, ties to even: long division in binary into more digits than a double
    /// holds, the last of which says whether anything is left. (The standard library's reader of
    /// decimals is as exact, and brings 14 kB of tables to the phone.)
    pub(super) fn to_f64(self) -> Option<f64> {
        let (mut digits, mut rest) = (self.over / self.under, self.over % self.under);
        let mut halvings = 0_u64;
        while rest != 0 && digits < (1 << 62) && halvings < 1000 {
            rest = rest.checked_mul(2)?;
            digits *= 2;
            if rest >= self.under {
                rest -= self.under;
                digits += 1;
            }
            halvings += 1;
        }
        if rest != 0 {
            digits |= 1;
        }
        #[allow(clippy::cast_precision_loss, reason = "the rounding that is meant: to nearest, ties to even")]
        let digits = digits as f64;
        // Two to the power of minus halvings, exactly: a double is sign, exponent + 1023, fraction.
        Some(digits * f64::from_bits(1023_u64.checked_sub(halvings)? << 52))
    }
}

const fn gcd(a: i128, b: i128) -> i128 {
    if b == 0 { a } else { gcd(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::Ratio;
    use proptest::prelude::*;

    proptest! {
        // The standard library's reader of decimals rounds correctly.
        #[test]
        fn as_exact_as_the_standard_library(whole in 0_u64..10_000_000_000, decimals in "[0-9]{0,24}") {
            let over = format!("{whole}{decimals}").parse().unwrap();
            let under = 10_i128.pow(u32::try_from(decimals.len()).unwrap());
            let expected: f64 = format!("{whole}.{decimals}0").parse().unwrap();
            prop_assert_eq!(Ratio::new(over, under).and_then(Ratio::to_f64), Some(expected));
        }

        // A quotient of two doubles that are whole is rounded once, by the processor (IEEE 754).
        #[test]
        fn as_exact_as_a_division(over in 0_u64..1 << 53, under in 1_u64..1 << 53) {
            #[allow(clippy::cast_precision_loss, reason = "below 2^53: exact")]
            let expected = over as f64 / under as f64;
            prop_assert_eq!(Ratio::new(over.into(), under.into()).and_then(Ratio::to_f64), Some(expected));
        }
    }
}
