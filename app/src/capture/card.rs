//! The card of a point: what it is, how well it is known, and what was taped to it.

use super::draft::Slot;
use super::idle::SlipHead;
use super::naming::tidy;
use super::state::Capture;
use crate::markup::{derived, live, memo};
use crate::routes::{Route, Router, Tab};
use crate::screens::{Drafts, PhotosHere, PointSelect, exact, open_entry};
use crate::words::{self as all, Contradiction, NO_RELATIVE, capture as words, relative_told, would_show};
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::levels::heights;
use swingtie_core::network::{Adjustment, PointState, relative};
use swingtie_core::plan::PlacedPoint;
use swingtie_core::record::{EntryId, Measurement, PointId, Record};

/// A point's card.
#[component]
pub fn CardSlip(id: PointId) -> impl IntoView {
    let capture = Capture::here();
    let fold = capture.site.fold;
    let label = {
        let id = id.clone();
        memo(move || fold.get().record.label(&id).to_owned())
    };
    let written = RwSignal::new(label.get_untracked());
    let (known, readings, from, to, renamed) = (id.clone(), id.clone(), id.clone(), id.clone(), id.clone());
    let (pictured, part, asked) = (id.clone(), id.clone(), id.clone());
    let belongs = move || belongs_to(capture, &part, &fold.get().record);
    let (router, problem, question) = (Router::here(), Drafts::here().problem, Drafts::here().question);
    let add_problem = move |_| {
        problem.start_at(id.clone());
        router.go(&Route::Site(capture.site.id(), Tab::AddProblem));
    };
    let ask = move |_| {
        question.at_point(asked.clone());
        router.go(&Route::Site(capture.site.id(), Tab::Questions));
    };
    let told = move || {
        let plan = capture.plan.get();
        let point = plan.points.iter().find(|p| p.id == known).cloned();
        point.map_or_else(
            || markup! { <p>"It has no place on the plan yet."</p> },
            |point| {
                let adjustment = capture.site.adjustment.get();
                let doubts = capture.site.doubts.get();
                let known = known_well(&point, &fold.get().record, &adjustment, &doubts.found);
                markup! { {known}{height_of(&point.id, &fold.get().record)} }
            },
        )
    };
    markup! {
        <SlipHead title=derived(move || all::book::point(&label.get())) />
        {live(told)}
        <div class="pair">
            <button type="button" on:click=move |_| capture.tape(Slot::First, from.clone())>{move || say!("Tape from {}", label.get())}</button>
            <button type="button" class="main" on:click=move |_| capture.tape(Slot::Target, to.clone())>{move || say!("Tape to {}", label.get())}</button>
        </div>
        <ul class="readings" tabindex="0">{move || readings_of(capture, &readings, &fold.get().record)}</ul>
        {live(belongs)}
        <div class="chooser-row">
            <input type="text" class="label-field" aria-label="Label" autocapitalize="characters" autocomplete="off" maxlength="8"
                prop:value=move || written.get() on:input=move |e| written.set(event_target_value(&e)) />
            <button type="button" on:click=move |_| capture.rename(&renamed, &tidy(&written.get_untracked()))>"Rename"</button>
        </div>
        <div class="pair">
            <button type="button" class="problem-here" on:click=add_problem>"Add a problem here"</button>
            <button type="button" on:click=ask>{all::book::ASK_ABOUT}</button>
        </div>
        <PhotosHere point=pictured label=label.get_untracked() />
    }
}

fn known_well(
    point: &PlacedPoint,
    record: &Record,
    adjustment: &Adjustment,
    doubts: &[Contradiction],
) -> AnyView {
    let units = record.site.units;
    // While readings contradict, how well they fix a point is not known.
    let known = !matches!(point.state, PointState::Loose | PointState::Disputed);
    let within = point
        .ellipse
        .filter(|e| known && e.semi_major.metres() > 0.0)
        .map(|ellipse| markup! { <p class="within">{words::within(ellipse.semi_major, units)}</p> });
    let note = (!point.note.is_empty()).then(|| markup! { <p>{point.note.clone()}</p> });
    let figures = (point.state != PointState::Loose).then(|| {
        let (x, y) = (words::length(point.at.x, units), words::length(point.at.y, units));
        let ellipse = point.ellipse.filter(|_| known).map(|e| {
            say!(
                "95 % ellipse {} by {}, the longer axis {:.0}° counter-clockwise from x; from the assumed \
                 standard deviations, against the origin",
                words::length(e.semi_major, units),
                words::length(e.semi_minor, units),
                e.direction.degrees()
            )
        });
        let shows =
            (point.state == PointState::Checked).then(|| would_show(&point.id, record, adjustment)).flatten();
        let place = say!("x {x}, y {y} in the plan's frame");
        let (lines, from) = ([Some(place), ellipse, shows], point.id.clone());
        exact(move || {
            let lines = lines.iter().flatten().cloned().map(|line| markup! { <p>{line}</p> });
            markup! { {lines.collect_view()} <Apart from=from.clone() /> }
        })
    });
    let told = match point.state {
        PointState::Disputed => all::waits(&point.id, record, doubts),
        _ => None,
    };
    let told = told.unwrap_or_else(|| words::state_told(point, record));
    markup! {
        {note}
        <p class="state">{told}</p>
        {within}
        {figures}
    }
}

/// Its height, where it was read with a level.
fn height_of(point: &PointId, record: &Record) -> Option<AnyView> {
    // All levels are adjusted together, which takes a while: only where there is something to say.
    record.levels.iter().find(|reading| reading.what.point == *point)?;
    let levels = heights(record);
    let height = levels.points.get(point)?;
    Some(markup! { <p>{all::levels::card(height, record.site.units)}</p> })
}

/// How far it is to another point, and how well the two are known against each other.
#[component]
fn Apart(from: PointId) -> impl IntoView {
    let site = Capture::here().site;
    let picked = RwSignal::new(None::<PointId>);
    let told = move || {
        let to = picked.get()?;
        let (fold, adjustment) = (site.fold.get(), site.adjustment.get());
        let relative = relative(&fold.record, &adjustment, &from, &to);
        let told = relative.map_or_else(|| tr(NO_RELATIVE).to_owned(), |r| relative_told(&r, site.units()));
        Some(markup! { <p role="status">{told}</p> })
    };
    markup! { <PointSelect label="How far from" picked=picked /> {live(told)} }
}

/// What was measured at a point, the last first; tapes of the same line together. Each opens its entry.
fn readings_of(capture: Capture, id: &PointId, record: &Record) -> Vec<AnyView> {
    type Line<'a> = (Option<[&'a PointId; 2]>, Vec<(&'a EntryId, String)>);
    let mut lines: Vec<Line> = Vec::new();
    for m in record.measurements.iter().rev().filter(|m| words::speaks_of(&m.what, id)) {
        let (line, value) = match &m.what {
            Measurement::Tie { from, to, reading, .. } => {
                (Some(if from <= to { [from, to] } else { [to, from] }), reading.text.as_str())
            }
            _ => (None, ""),
        };
        match lines.iter_mut().find(|(known, _)| line.is_some() && *known == line) {
            Some((_, said)) => said.push((&m.entry, words::and_again(value))),
            None => lines.push((line, vec![(&m.entry, words::measurement(&m.what, record))])),
        }
    }
    let line = |(_, said): Line| {
        let said = said.into_iter().map(|(entry, said)| to_entry(capture, entry, said)).collect_view();
        markup! { <li>{said}</li> }
    };
    lines.into_iter().map(line).collect()
}

/// The way to an entry, by what it says.
fn to_entry(capture: Capture, entry: &EntryId, said: String) -> AnyView {
    let entry = entry.clone();
    let open = move |_| open_entry(capture, &entry);
    markup! { <button type="button" class="to-entry" on:click=open>{said}</button> }
}

/// Things, marks and problems the point is part of.
fn belongs_to(capture: Capture, id: &PointId, record: &Record) -> Option<AnyView> {
    let things = record.features.iter().filter(|thing| thing.what.points.contains(id));
    let marks = record.marks.iter().filter(|mark| mark.what.points.contains(id));
    let problems = record.problems.iter().filter(|problem| problem.what.at.points().contains(id));
    let named = things.map(|thing| &thing.entry).chain(problems.map(|problem| &problem.entry));
    let named = named.filter_map(|entry| Some((entry, all::thing_named(entry, record)?)));
    let marks = marks.map(|mark| (&mark.entry, all::mark_title(mark.what.colour)));
    let row = |(entry, said): (&EntryId, String)| markup! { <li>{to_entry(capture, entry, said)}</li> };
    let rows: Vec<_> = named.chain(marks).map(row).collect();
    (!rows.is_empty()).then(|| markup! { <ul class="readings" aria-label=all::book::PART_OF>{rows}</ul> })
}
