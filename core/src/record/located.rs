//! What is asked about a utility mark, and how near to it one may dig.

use super::attribute::{Form, Row};
use super::rows::*;
use super::{Attribute, UtilityMark};
use crate::units::Length;

/// What is asked about every mark.
pub static MARK_FORM: Form = Form {
    first: &[&LINE_SORT as &Row, &TICKET, &MARKED_DAY, &EXPIRES_DAY],
    more: &[&OPERATOR, &MARKED_WIDTH, &TOLERANCE],
};

/// How far to each side of a marked line the ground is taken for its own, unless said otherwise: 24 in
/// (0.61 m), the wider of the two widths that American one-call centres publish (18 in in Mississippi
/// and Texas, 24 in in Florida). Local law decides.
pub const TOLERANCE_EACH_SIDE: Length = Length::from_inches(24.0);

impl UtilityMark {
    fn length(&self, key: &str) -> Option<Length> {
        match self.attributes.get(key) {
            Some(Attribute::Length(reading)) => {
                Some(reading.value).filter(|l| l.is_finite() && *l >= Length::ZERO)
            }
            _ => None,
        }
    }

    /// Whether the operator's own people marked it; a private or suspected line was only told.
    #[must_use]
    pub fn located(&self) -> bool {
        let line = self.attributes.get(LINE_SORT.key);
        let others = matches!(line, Some(Attribute::Text(words)) if words != "operator's mark");
        !self.told && !others
    }

    /// How far to each side of its middle the tolerance zone reaches: half of the width marked and what
    /// was said, else [`TOLERANCE_EACH_SIDE`]. None for a line that was only told or suspected and for
    /// which nothing was said: nobody knows where it lies.
    #[must_use]
    pub fn zone(&self) -> Option<Length> {
        let said = self.length(TOLERANCE.key).or(self.located().then_some(TOLERANCE_EACH_SIDE))?;
        Some(said + self.length(MARKED_WIDTH.key).unwrap_or(Length::ZERO) / 2.0)
    }
}
