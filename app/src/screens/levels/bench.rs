//! The height that all others count from.

use crate::capture::Capture;
use crate::markup::{live, shown};
use crate::notices::Notices;
use crate::screens::parts::{PointSelect, TextField, Wrong};
use crate::state::saving;
use crate::words::{self as all, levels as words};
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::levels::{Closing, Page, book_pages, setups};
use swingtie_core::record::{BenchMark, PointId, Record, Statement, UnitSystem};
use swingtie_core::units::format::fixed;
use swingtie_core::units::{Length, read_length};

/// The height of what heights count from, where nobody knows better. Common practice, no source.
const ASSUMED: f64 = 100.0;

/// As stated, or as one would assume it: on the first point read, else the front door's threshold. None without any.
pub fn stated(record: &Record) -> Option<BenchMark> {
    if let Some(mark) = &record.bench_mark {
        return Some(mark.clone());
    }
    let read = record.levels.first().map(|l| l.what.point.clone());
    let door = || {
        let doors = record.features.iter().filter(|f| f.what.kind == "door");
        let main = doors.clone().find(|door| door.what.attributes.contains_key("main_use"));
        main.or(doors.clone().next()).and_then(|door| door.what.points.first().cloned())
    };
    let height = match record.site.units {
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => Length::from_feet(ASSUMED),
        UnitSystem::Metres => Length::from_metres(ASSUMED),
    };
    let point = read.or_else(door)?;
    Some(BenchMark { point, height, source: words::ASSUMED.to_owned() })
}

/// The level book, from what heights count from, stated or not.
pub fn level_book(record: &Record) -> (Vec<Page>, Vec<Closing>) {
    book_pages(&setups(record), stated(record).as_ref())
}

/// Checks what was typed.
fn check(
    point: Option<PointId>,
    height: &str,
    source: &str,
    units: UnitSystem,
) -> Result<BenchMark, &'static str> {
    let point = point.ok_or(all::PICK_POINT)?;
    let height = read_length(height, units.into()).map_err(|_| words::BAD_HEIGHT)?;
    Ok(BenchMark { point, height, source: source.trim().to_owned() })
}

/// What heights count from, and the form to say so.
#[component]
pub fn Bench() -> impl IntoView {
    let site = Capture::here().site;
    let open = RwSignal::new(false);
    let told = move || {
        let fold = site.fold.get();
        let record = &fold.record;
        stated(record).map(|mark| {
            let told =
                words::counted_from(record.label(&mark.point), mark.height, &mark.source, record.site.units);
            let assumed = record.bench_mark.is_none() && !record.levels.is_empty();
            let said = assumed.then(|| {
                let label = record.label(&mark.point).to_owned();
                let say = move |_| {
                    let mark = mark.clone();
                    saving(async move { site.say(vec![Statement::BenchMark(mark)]).await.map(drop) });
                };
                markup! {
                    <p>{words::nobody_said(&label)}</p>
                    <button type="button" class="button" on:click=say>{words::SAY_SO}</button>
                }
            });
            markup! { <p class="lead">{told}</p> {said} }
        })
    };
    let points = move || site.fold.with(|fold| !fold.record.points.is_empty());
    markup! {
        <section class="part">
            <h2>{words::COUNTED_FROM}</h2>
            {live(told)}
            {shown(move || points() && !open.get(), move || markup! {
                <button type="button" class="button" on:click=move |_| open.set(true)>{words::CHANGE}</button>
            })}
            {shown(move || open.get(), move || markup! { <BenchForm open /> })}
        </section>
    }
}

#[component]
fn BenchForm(open: RwSignal<bool>) -> impl IntoView {
    let (site, notices) = (Capture::here().site, Notices::here());
    let units = untrack(|| site.units());
    let now = site.fold.with_untracked(|fold| stated(&fold.record));
    let number = |mark: &BenchMark| match units {
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => format!("{} ft", fixed(mark.height.feet(), 2)),
        UnitSystem::Metres => format!("{} m", fixed(mark.height.metres(), 3)),
    };
    let height = RwSignal::new(now.as_ref().map(number).unwrap_or_default());
    let source =
        RwSignal::new(now.as_ref().map_or_else(|| words::ASSUMED.to_owned(), |mark| mark.source.clone()));
    let point = RwSignal::new(now.map(|mark| mark.point));
    let wrong = RwSignal::new(None);
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        match check(point.get_untracked(), &height.get_untracked(), &source.get_untracked(), units) {
            Err(why) => wrong.set(Some(tr(why).to_owned())),
            Ok(mark) => saving(async move {
                site.say(vec![Statement::BenchMark(mark)]).await?;
                notices.say(all::SAVED);
                open.try_set(false);
                Ok(())
            }),
        }
    };
    markup! {
        <form class="form" on:submit=save>
            <p class="hint">{words::BENCH_HINT}</p>
            <PointSelect label=words::BENCH_POINT picked=point />
            <TextField label=words::HEIGHT value=height />
            <TextField label=words::BENCH_SOURCE value=source />
            <Wrong what=wrong.into() />
            <div class="form-end">
                <button type="submit" class="button button-main">{words::SAVE_BENCH}</button>
                <button type="button" class="button" on:click=move |_| open.set(false)>{all::CANCEL}</button>
            </div>
        </form>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_height_needs_a_point_and_a_number() {
        let said = |point: Option<&str>, height: &str| {
            check(point.map(PointId::from), height, " assumed ", UnitSystem::FeetInches)
        };
        assert_eq!(said(None, "100"), Err(all::PICK_POINT));
        assert_eq!(said(Some("p"), "high"), Err(words::BAD_HEIGHT));
        let mark = said(Some("p"), "100.00 ft").unwrap();
        assert!((mark.height.feet() - 100.0).abs() < 1e-9);
        assert_eq!(mark.source, "assumed");
        assert!((said(Some("p"), "853.2").unwrap().height.feet() - 853.2).abs() < 1e-9);
    }

    #[test]
    fn the_first_point_read_is_what_one_would_assume() {
        let record = super::super::booking::tests::levelled(&[(0, "D1a", "4'"), (0, "B", "5'")]);
        let mark = stated(&record).unwrap();
        assert_eq!((mark.point.as_str(), mark.source.as_str()), ("D1a", "assumed"));
        assert_eq!(stated(&Record::default()), None);
    }
}
