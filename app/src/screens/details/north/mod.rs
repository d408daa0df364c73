//! Where north is: the bearing of one line, by compass, by a plat, or by the sun's shadow along it.

mod shadow;

use super::number;
use crate::markup::{effect, live, shown};
use crate::notices::Notices;
use crate::screens::parts::{PointSelect, TextField, Wrong, chips};
use crate::state::{OpenSite, saving};
use crate::words;
use leptos::prelude::*;
use shadow::{Moment, ShadowFields};
use swingtie_core::language::tr;
use swingtie_core::place::{NoDeclination, declination};
use swingtie_core::record::{North, NorthKind, PointId, Record, Statement};
use swingtie_core::units::Angle;
use swingtie_core::units::format::fixed;

/// How north is found.
#[derive(Clone, Copy, PartialEq)]
enum Way {
    Bearing(NorthKind),
    Shadow,
}

/// Checks what was typed.
fn check(
    from: Option<PointId>,
    to: Option<PointId>,
    bearing: &str,
    kind: NorthKind,
    declination: &str,
) -> Result<North, &'static str> {
    let (from, to) = (from.ok_or(words::TWO_POINTS)?, to.ok_or(words::TWO_POINTS)?);
    if from == to {
        return Err(words::TWO_POINTS);
    }
    let degrees =
        number(bearing).filter(|degrees| (0.0..=360.0).contains(degrees)).ok_or(words::BAD_BEARING)?;
    let (bearing, kind, source) = match (kind, declination.trim()) {
        (NorthKind::Magnetic, typed) if !typed.is_empty() => {
            let east = number(typed).filter(|d| d.abs() <= 90.0).ok_or(words::BAD_DECLINATION)?;
            ((degrees + east).rem_euclid(360.0), NorthKind::True, words::compass_source(degrees, east))
        }
        _ => (degrees, kind, words::TYPED.to_owned()),
    };
    Ok(North { from, to, bearing: Angle::from_degrees(bearing), kind, declination: None, source, sd: None })
}

/// What the magnetic model says where the declination is left empty, or what it would need.
fn left_empty(record: &Record) -> String {
    let Some(at) = &record.anchor else { return words::no_declination(words::DECLINATION_NEEDS_PLACE) };
    match declination(at.latitude, at.longitude, &record.site.date) {
        Ok(found) => words::declination_by_model(found.east, found.sd, &record.site.date),
        Err(NoDeclination::NoDay) => words::no_declination(words::DECLINATION_NEEDS_DAY),
        Err(why) => words::no_declination(&shadow::ended(&shadow::capital(&why.to_string()))),
    }
}

/// The form.
#[component]
pub fn NorthForm() -> impl IntoView {
    let (site, notices) = (OpenSite::here(), Notices::here());
    let now = site.fold.with_untracked(|fold| fold.record.north.clone());
    let from = RwSignal::new(now.as_ref().map(|north| north.from.clone()));
    let to = RwSignal::new(now.as_ref().map(|north| north.to.clone()));
    let bearing = RwSignal::new(now.as_ref().map(|n| fixed(n.bearing.degrees(), 1)).unwrap_or_default());
    let way = RwSignal::new(Way::Bearing(now.map_or(NorthKind::Magnetic, |north| north.kind)));
    let moment = Moment::new();
    let declination = RwSignal::new(String::new());
    let wrong = RwSignal::new(None);
    effect(move || {
        // What was wrong may no longer be: a place that was missing is said in another form.
        from.track();
        to.track();
        way.track();
        bearing.track();
        declination.track();
        moment.track();
        site.fold.track();
        wrong.set(None);
    });
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let (from, to) = (from.get_untracked(), to.get_untracked());
        let checked = match way.get_untracked() {
            Way::Bearing(kind) => {
                let (typed, east) = (bearing.get_untracked(), declination.get_untracked());
                check(from, to, &typed, kind, &east).map_err(str::to_owned)
            }
            Way::Shadow => shadow::check(site, moment, from, to),
        };
        match checked {
            Err(why) => wrong.set(Some(why)),
            Ok(north) => {
                wrong.set(None);
                saving(async move {
                    site.say(vec![Statement::North(north)]).await?;
                    notices.say(words::SAVED);
                    Ok(())
                });
            }
        }
    };
    let ways = vec![
        (Way::Bearing(NorthKind::Magnetic), tr(words::MAGNETIC_NORTH).to_owned()),
        (Way::Bearing(NorthKind::True), tr(words::TRUE_NORTH).to_owned()),
        (Way::Shadow, tr(words::SHADOW).to_owned()),
    ];
    let magnetic = move || way.get() == Way::Bearing(NorthKind::Magnetic);
    markup! {
        <section class="part">
            <h2>{words::NORTH}</h2>
            <p class="hint">{words::NORTH_HINT}</p>
            <form class="form" on:submit=save>
                <PointSelect label=words::NORTH_FROM picked=from />
                <PointSelect label=words::NORTH_TO picked=to />
                {chips(words::NORTH_KIND, ways, move || Some(way.get()), move |chosen| way.set(chosen))}
                {shown(move || way.get() != Way::Shadow, move || markup! {
                    <TextField label=words::BEARING value=bearing inputmode="decimal" />
                })}
                {shown(move || way.get() == Way::Shadow, move || markup! { <ShadowFields moment from to /> })}
                {shown(magnetic, move || markup! {
                    <TextField label=words::DECLINATION value=declination />
                    <p class="hint">{words::DECLINATION_HINT}</p>
                    <p class="hint">{live(move || site.fold.with(|fold| left_empty(&fold.record)))}</p>
                })}
                <Wrong what=wrong.into() />
                <button type="submit" class="button button-main button-wide">{words::SAVE_NORTH}</button>
            </form>
        </section>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::record::Anchor;

    fn line(from: &str, to: &str, bearing: &str, kind: NorthKind, east: &str) -> Result<North, &'static str> {
        check(Some(from.into()), Some(to.into()), bearing, kind, east)
    }

    /// Denver in the middle of 2026: 7.517° east ± 0.367° (pygeomag 1.1.0, another implementation of the model).
    #[test]
    fn a_declination_left_empty_is_said_or_what_it_needs() {
        let mut record = Record::default();
        let said = left_empty(&record);
        assert!(said.ends_with(words::DECLINATION_NEEDS_PLACE), "{said}");
        let (latitude, longitude) = (39.739_2, -104.990_3);
        let anchor = Anchor { point: "A".into(), latitude, longitude, source: String::new(), accuracy: None };
        record.anchor = Some(anchor);
        assert!(left_empty(&record).ends_with(words::DECLINATION_NEEDS_DAY));
        record.site.date = "2026-07-02".to_owned();
        let said = left_empty(&record);
        let expected = "Left empty: 7.5° east ± 0.7° by the World Magnetic Model for 2 July 2026. ";
        assert!(said.starts_with(expected), "{said}");
        record.site.date = "1950-07-02".to_owned();
        assert!(left_empty(&record).contains("1950-07-02"));
    }

    #[test]
    fn a_bearing_needs_two_points_and_a_sane_number() {
        assert_eq!(line("a", "a", "10", NorthKind::True, ""), Err(words::TWO_POINTS));
        assert_eq!(check(Some("a".into()), None, "10", NorthKind::True, ""), Err(words::TWO_POINTS));
        assert_eq!(line("a", "b", "-10", NorthKind::True, ""), Err(words::BAD_BEARING));
        assert_eq!(line("a", "b", "90°", NorthKind::True, "").unwrap().bearing, Angle::RIGHT);
    }

    #[test]
    fn a_known_declination_turns_the_compass_bearing_into_a_true_one() {
        let north = line("a", "b", "85", NorthKind::Magnetic, "5").unwrap();
        assert_eq!((north.bearing, north.kind), (Angle::RIGHT, NorthKind::True));
        let north = line("a", "b", "3", NorthKind::Magnetic, "-13").unwrap();
        assert!((north.bearing.degrees() - 350.0).abs() < 1e-9);
        assert_eq!(line("a", "b", "3", NorthKind::Magnetic, "").unwrap().kind, NorthKind::Magnetic);
        assert_eq!(line("a", "b", "3", NorthKind::Magnetic, "x"), Err(words::BAD_DECLINATION));
    }
}
