//! How a length or an angle was taken, and what only some measurements say, both ways.

use super::Trouble;
use super::cells::{value, word, write_more};
use super::import::Reader;
use super::reading::ANGLE_INSTRUMENTS;
use super::table::{Column, Row};
use crate::record::{AngleHow, AngleInstrument, AngleReading, How, Slope, Tape, TapedTo};
use crate::units::{Angle, Length, read_angle};
use std::collections::BTreeMap;

/// What stands in the `more` cell of a measurement.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct More {
    pub tape: Option<Tape>,
    pub slope: Option<Slope>,
    pub taped_to: TapedTo,
    pub zero_unknown: bool,
}

impl More {
    pub(super) fn of(how: &How) -> Self {
        Self { tape: how.tape.as_deref().copied(), slope: how.slope, ..Self::default() }
    }

    pub(super) fn cell(&self) -> Option<(Column, String)> {
        let mut pairs = Vec::new();
        if !self.taped_to.is_middle() {
            pairs.push(("taped_to".to_owned(), word(&self.taped_to)));
        }
        if self.zero_unknown {
            pairs.push(("zero".to_owned(), "unknown".to_owned()));
        }
        match self.slope {
            Some(Slope::RiseMetres(rise)) => {
                pairs.push(("slope_rise_metres".to_owned(), rise.metres().to_string()));
            }
            Some(Slope::Heights) => pairs.push(("slope".to_owned(), "heights".to_owned())),
            Some(Slope::AngleRadians(angle)) => pairs.push(("slope_angle".to_owned(), exact_angle(angle))),
            None => {}
        }
        // A tape's figures go under the book's own names.
        if let Some(Ok(serde_json::Value::Object(figures))) = self.tape.map(serde_json::to_value) {
            pairs
                .extend(figures.into_iter().map(|(key, figure)| (format!("tape_{key}"), figure.to_string())));
        }
        (!pairs.is_empty()).then(|| (Column::More, write_more(&pairs)))
    }
}

const KEYS: &[&str] = &[
    "taped_to",
    "zero",
    "slope_rise",
    "slope_angle",
    "slope",
    "tape_marked",
    "tape_true",
    "tape_span",
    "tape_supported",
    "tape_celsius",
    "tape_standard_celsius",
    "tape_expansion",
    "tape_pull_newtons",
    "tape_standard_pull_newtons",
    "tape_section_square_metres",
    "tape_elasticity_pascals",
    "tape_newtons_per_metre",
];

/// An angle in degrees, or in radians where degrees would not come back to the last bit.
pub(super) fn exact_angle(angle: Angle) -> String {
    let degrees = angle.degrees().to_string();
    if read_angle(&degrees) == Ok(angle) { degrees } else { format!("{} rad", angle.radians()) }
}

impl Reader<'_> {
    /// The measurement's `more` cell.
    pub(super) fn taken(&mut self, row: &Row) -> Option<More> {
        let (mut more, mut tape, mut sound) = (More::default(), Vec::new(), true);
        for (key, text) in Self::more(row) {
            let known = match key.as_str() {
                "taped_to" => value(&text).map(|to| more.taped_to = to),
                "zero" if text.trim() == "unknown" => {
                    more.zero_unknown = true;
                    Some(())
                }
                "slope" => (text.trim() == "heights").then(|| more.slope = Some(Slope::Heights)),
                "slope_angle" => self
                    .angle(row, Column::More, &text)
                    .map(|angle| more.slope = Some(Slope::AngleRadians(angle))),
                "slope_rise" | "slope_rise_metres" => {
                    let rise = self.figure(row, &text, key == "slope_rise");
                    rise.map(|rise| more.slope = Some(Slope::RiseMetres(Length::from_metres(rise))))
                }
                "tape_marked" | "tape_true" | "tape_span" | "tape_supported" => {
                    let name = key.replacen("tape_", "", 1) + "_metres";
                    self.figure(row, &text, true).map(|metres| tape.push((name, metres)))
                }
                key => match key.strip_prefix("tape_") {
                    Some(name) if is_figure(name) => {
                        self.figure(row, &text, false).map(|figure| tape.push((name.to_owned(), figure)))
                    }
                    _ => {
                        let trouble = Trouble::UnknownWord { word: key.to_owned(), known: KEYS.to_vec() };
                        self.fault(row, Column::More, trouble);
                        None
                    }
                },
            };
            if known.is_none() && matches!(key.as_str(), "taped_to" | "zero" | "slope") {
                let known = match key.as_str() {
                    "zero" => vec!["unknown"],
                    "slope" => vec!["heights"],
                    _ => vec!["middle", "near_side", "far_side"],
                };
                self.fault(row, Column::More, Trouble::UnknownWord { word: text, known });
            }
            sound &= known.is_some();
        }
        if !tape.is_empty() {
            let figures: BTreeMap<String, f64> = tape.into_iter().collect();
            more.tape = serde_json::to_value(figures).and_then(serde_json::from_value).ok();
        }
        sound.then_some(more)
    }

    /// A figure: a length in any unit as metres, or a plain number.
    fn figure(&mut self, row: &Row, text: &str, length: bool) -> Option<f64> {
        if length {
            let bare = self.row_bare(row)?;
            return self.length(row, Column::More, text, bare).map(Length::metres);
        }
        self.parse(row, Column::More, text)
    }

    /// An angle: degrees in any form, or `0.5 rad`.
    pub(super) fn angle(&mut self, row: &Row, column: Column, text: &str) -> Option<Angle> {
        if let Some(radians) = text.trim().strip_suffix("rad") {
            return self.parse(row, column, radians).map(Angle::from_radians);
        }
        match read_angle(text) {
            Ok(angle) => Some(angle),
            Err(error) => {
                self.fault(row, column, Trouble::Angle(error));
                None
            }
        }
    }

    /// An angle's or a bearing's reading; its radians stand in `more` where the words do not tell.
    pub(super) fn angle_reading(&mut self, row: &Row, bearing: bool) -> Option<AngleReading> {
        let text = row.get(Column::Reading);
        let said = if bearing { AngleReading::bearing(text) } else { AngleReading::read(text) };
        let exact = Self::more(row).remove("radians");
        let Some(exact) = exact else {
            return said.map_err(|error| self.fault(row, Column::Reading, Trouble::Angle(error))).ok();
        };
        let value = Angle::from_radians(self.parse(row, Column::More, &exact)?);
        if said.is_ok_and(|said| differ(said.value, value)) {
            let radians = "the radians in more are those of the reading, or the reading is left empty";
            self.fault(row, Column::More, Trouble::OutOfRange { text: exact, range: radians });
            return None;
        }
        Some(AngleReading { text: text.to_owned(), value })
    }

    /// How an angle was taken.
    pub(super) fn angle_how(&mut self, row: &Row) -> Option<AngleHow> {
        let instrument = match row.get(Column::How) {
            "" => Some(AngleInstrument::default()),
            word => self.word(row, Column::How, word, ANGLE_INSTRUMENTS),
        };
        let sd = match row.get(Column::Sd) {
            "" => Some(None),
            text => self.angle(row, Column::Sd, text).map(Some),
        };
        Some(AngleHow { instrument: instrument?, sd: sd? })
    }
}

/// Further apart than rounding to a second of arc explains.
pub(super) fn differ(a: Angle, b: Angle) -> bool {
    (a.radians() - b.radians()).abs() > 1e-5
}

/// Whether a tape has such a figure in the book.
fn is_figure(name: &str) -> bool {
    let metres = |key: &str| name.strip_suffix("_metres") == key.strip_prefix("tape_");
    KEYS.iter()
        .any(|key| key.strip_prefix("tape_") == Some(name) || (key.starts_with("tape_") && metres(key)))
}
