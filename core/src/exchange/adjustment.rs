//! The adjustment as JSON: `adjustment.json`, for whoever checks the numbers.

use super::decimals::{Degrees, Metres, Ratio};
use super::words;
use crate::network::{AdjustedReading, Adjustment, Agreement, Finding, PointState, Quantity, ReadingRole};
use crate::record::{PointId, Record};
use serde::Serialize;

/// Writes the adjustment: readings with residuals, states, what is loose and in which way, suspects,
/// variance factor. Lengths are metres, angles degrees, points go by their labels; residuals are
/// adjusted minus observed.
#[must_use]
pub fn write(record: &Record, adjustment: &Adjustment) -> String {
    let label = |id: &PointId| record.label(id).to_owned();
    let file = File {
        title: &record.site.name,
        caution: words::CAUTION,
        held: adjustment.held.as_ref().map(|(at, toward)| Held { at: label(at), toward: label(toward) }),
        variance_factor: adjustment.variance_factor.map(Ratio::new),
        variance_interval_95: adjustment.variance_interval.map(|bounds| bounds.map(Ratio::new)),
        agreement: adjustment.agreement(),
        suspect_limit: Ratio::new(adjustment.suspect_limit),
        chi_square: Ratio::new(adjustment.chi_square),
        redundancy: adjustment.redundancy,
        loose: points(record, adjustment).filter(|point| point.state == PointState::Loose).collect(),
        suspects: adjustment.findings.iter().filter_map(|finding| suspect(record, finding)).collect(),
        findings: adjustment.findings.iter().map(|finding| words::finding(record, finding)).collect(),
        questions: adjustment
            .questions
            .iter()
            .map(|q| Question {
                label: label(&q.point),
                assumed: words::side(record, &q.assumed),
                other_x: Metres::new(q.other.x.metres()),
                other_y: Metres::new(q.other.y.metres()),
            })
            .collect(),
        points: points(record, adjustment).collect(),
        readings: adjustment.readings.iter().map(|reading| taken(record, reading)).collect(),
    };
    // Only numbers, texts and lists of them: JSON can hold all of it, so writing does not fail.
    let mut text = serde_json::to_string_pretty(&file).unwrap_or_default();
    text.push('\n');
    text
}

#[derive(Serialize)]
struct File<'a> {
    title: &'a str,
    caution: &'static str,
    held: Option<Held>,
    variance_factor: Option<Ratio>,
    variance_interval_95: Option<[Ratio; 2]>,
    agreement: Option<Agreement>,
    suspect_limit: Ratio,
    chi_square: Ratio,
    redundancy: usize,
    loose: Vec<Known<'a>>,
    suspects: Vec<Suspect>,
    findings: Vec<String>,
    questions: Vec<Question>,
    points: Vec<Known<'a>>,
    readings: Vec<Taken<'a>>,
}

#[derive(Serialize)]
struct Held {
    at: String,
    toward: String,
}

#[derive(Serialize)]
struct Known<'a> {
    label: &'a str,
    state: PointState,
    #[serde(skip_serializing_if = "Option::is_none")]
    x: Option<Metres>,
    #[serde(skip_serializing_if = "Option::is_none")]
    y: Option<Metres>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ellipse_95: Option<Ellipse>,
    #[serde(skip_serializing_if = "Option::is_none")]
    free: Option<String>,
}

#[derive(Serialize)]
struct Ellipse {
    semi_major: Metres,
    semi_minor: Metres,
    direction: Degrees,
}

#[derive(Serialize)]
struct Suspect {
    entry: String,
    part: usize,
    reading: String,
    standardised: Ratio,
    expected: Number,
    expected_sd: Number,
    causes: Vec<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    or: Vec<String>,
}

#[derive(Serialize)]
struct Question {
    label: String,
    assumed: String,
    other_x: Metres,
    other_y: Metres,
}

#[derive(Serialize)]
struct Taken<'a> {
    entry: &'a str,
    part: usize,
    role: ReadingRole,
    points: Vec<&'a str>,
    unit: &'static str,
    observed: Number,
    adjusted: Option<Number>,
    residual: Option<Number>,
    sd: Number,
    redundancy: Option<Ratio>,
    checked: bool,
    standardised: Option<Ratio>,
    smallest_detectable: Option<Number>,
}

#[derive(Serialize)]
#[serde(untagged)]
enum Number {
    Metres(Metres),
    Degrees(Degrees),
}

impl From<Quantity> for Number {
    fn from(quantity: Quantity) -> Self {
        match quantity {
            Quantity::Length(length) => Self::Metres(Metres::new(length.metres())),
            Quantity::Angle(angle) => Self::Degrees(Degrees::new(angle.degrees())),
        }
    }
}

fn points<'a>(record: &'a Record, adjustment: &'a Adjustment) -> impl Iterator<Item = Known<'a>> {
    record.points.iter().map(|point| {
        let fix = adjustment.points.get(&point.id);
        let at = fix.and_then(|fix| fix.at);
        Known {
            label: &point.label,
            state: fix.map_or(PointState::Loose, |fix| fix.state),
            x: at.map(|at| Metres::new(at.x.metres())),
            y: at.map(|at| Metres::new(at.y.metres())),
            ellipse_95: fix.and_then(|fix| fix.ellipse).map(|e| Ellipse {
                semi_major: Metres::new(e.semi_major.metres()),
                semi_minor: Metres::new(e.semi_minor.metres()),
                direction: Degrees::new(e.direction.degrees().rem_euclid(180.0)),
            }),
            free: fix.and_then(|fix| fix.freedom.as_ref()).map(|freedom| words::freedom(record, freedom)),
        }
    })
}

fn suspect(record: &Record, finding: &Finding) -> Option<Suspect> {
    let Finding::Suspect { entry, part, standardised, doubt, rivals } = finding else { return None };
    Some(Suspect {
        entry: entry.to_string(),
        part: *part,
        reading: words::reading(record, entry, *part),
        standardised: Ratio::new(*standardised),
        expected: doubt.expected.into(),
        expected_sd: doubt.expected_sd.into(),
        causes: doubt.causes.iter().map(|cause| words::cause(record, cause)).collect(),
        or: rivals.iter().map(|rival| words::reading(record, &rival.entry, rival.part)).collect(),
    })
}

fn taken<'a>(record: &'a Record, reading: &'a AdjustedReading) -> Taken<'a> {
    Taken {
        entry: reading.entry.as_str(),
        part: reading.part,
        role: reading.role,
        points: reading.points.iter().map(|point| record.label(point)).collect(),
        unit: match reading.observed {
            Quantity::Length(_) => "m",
            Quantity::Angle(_) => "deg",
        },
        observed: reading.observed.into(),
        adjusted: reading.adjusted.map(Number::from),
        residual: reading.residual.map(Number::from),
        sd: reading.sd.into(),
        redundancy: reading.redundancy.map(Ratio::new),
        checked: reading.is_checked(),
        standardised: reading.standardised.map(Ratio::new),
        smallest_detectable: reading.smallest_detectable.map(Number::from),
    }
}
