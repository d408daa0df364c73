//! Every point: where it is, how high, how sure.

use super::Section;
use super::html::{Html, Sort, Table};
use super::subject::Subject;
use crate::checks::freedom;
use crate::network::PointState;
use crate::record::{PointId, UnitSystem};
use crate::sheet::words::{about, capital};
use crate::units::{Length, LengthStyle, SURE, format_height, format_length};

/// How well a point is known; a point that no reading mentions is loose.
pub(super) fn state(subject: &Subject<'_>, point: &PointId) -> PointState {
    subject.given.adjustment.points.get(point).map_or(PointState::Loose, |fix| fix.state)
}

pub(super) fn section(subject: &Subject<'_>) -> Option<Section> {
    let report = subject.given;
    let mut body = Html::default();
    for sentence in &subject.told.accuracy {
        body.paragraph(sentence);
    }
    if let Some((at, toward)) = &report.adjustment.held {
        let (at, toward) = (subject.record.label(at), subject.record.label(toward));
        body.paragraph(&say!("x and y count from {at}, x toward {toward}, y to the left of it."));
    }
    let mut table = Table::new(
        "Points; ± with 95 % certainty, as far as tapes and levels are as good as they usually are",
        &[
            ("Point", Sort::Words),
            ("x", Sort::Figures),
            ("y", Sort::Figures),
            ("±", Sort::Figures),
            ("Height", Sort::Figures),
            ("± height", Sort::Figures),
            ("State", Sort::Words),
            ("What it is", Sort::Words),
        ],
    );
    for point in &subject.record.points {
        table.row(row(subject, point));
    }
    table.write(&mut body);
    (!subject.record.points.is_empty()).then_some(Section { id: "points", title: "Points", body })
}

fn row(subject: &Subject<'_>, point: &crate::record::Point) -> Vec<Html> {
    let units = subject.units;
    let fix = subject.given.adjustment.points.get(&point.id);
    let within = fix.and_then(|fix| fix.ellipse).map_or(Length::ZERO, |ellipse| ellipse.semi_major);
    let style = as_fine_as(within, units);
    let metres = |value: f64| Html::of(&format_length(Length::from_metres(value), style));
    let [x, y] = fix.and_then(|fix| fix.at).map_or_else(Default::default, |at| {
        let (x, y) = at.metres();
        [metres(x), metres(y)]
    });
    let held = subject.given.adjustment.held.as_ref().is_some_and(|(at, _)| *at == point.id);
    let within = match fix.and_then(|fix| fix.ellipse) {
        Some(_) if held => Html::of("held"),
        Some(ellipse) => Html::of(&about(ellipse.semi_major, units)),
        None => Html::default(),
    };
    let [height, sd] = subject.height(&point.id).map_or_else(Default::default, |(above, sd, in_doubt)| {
        let off = if in_doubt { Html::of("in doubt") } else { metres_of(sd * SURE, subject) };
        [Html::of(&format_height(above, units)), off]
    });
    let free = fix.and_then(|fix| fix.freedom.as_ref()).map(|free| freedom(subject.record, free));
    let mut state = Html::of(self::state(subject, &point.id).word());
    if let Some(free) = free {
        state.words(": ").words(&free);
    }
    vec![Html::by(&point.label), x, y, within, height, sd, state, Html::by_if(&capital(point.note.trim()))]
}

/// How a length is written that is good to `within` in 95 of 100 cases: no finer than a fifth of that or so, since the
/// figures beyond say nothing (common practice, no source).
fn as_fine_as(within: Length, units: UnitSystem) -> LengthStyle {
    let inches = within.inches();
    match units {
        UnitSystem::FeetInches => LengthStyle::FeetInches {
            finest: match inches {
                _ if inches < 0.25 => 16,
                _ if inches < 0.5 => 8,
                _ if inches < 1.0 => 4,
                _ if inches < 3.0 => 2,
                _ => 1,
            },
        },
        UnitSystem::DecimalFeet => LengthStyle::DecimalFeet { decimals: if inches < 3.0 { 2 } else { 1 } },
        UnitSystem::Metres => LengthStyle::Metres {
            decimals: match within.metres() {
                metres if metres < 0.005 => 3,
                metres if metres < 0.1 => 2,
                _ => 1,
            },
        },
    }
}

/// The doubt of a height, in its units.
fn metres_of(off: Length, subject: &Subject<'_>) -> Html {
    if off.metres() > 0.0 { Html::of(&format_height(off, subject.units)) } else { Html::of("held") }
}
