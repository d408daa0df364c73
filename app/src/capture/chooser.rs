//! Choosing a point without hitting it on the drawing: by its label, typed or from the list.

use super::draft::Meant;
use super::naming::{order, tidy};
use super::state::{Capture, Panel};
use crate::device;
use crate::markup::{live, rows};
use leptos::ev;
use leptos::prelude::*;
use swingtie_core::record::{CATALOGUE, Point, PointId, kind};
use swingtie_core::units::sort_by;

/// So many points are offered at once.
const AT_ONCE: usize = 40;
/// Where there are more, so many come with the next frame, and the rest once the hand rests: three hundred keys take
/// longer than a tap may.
const FIRST: usize = 24;
/// So many more at a time.
const PIECE: usize = 40;
/// The letters of house corners.
const HOUSE: &str = "H";

/// What a chosen point does.
#[derive(Clone, Copy)]
pub struct Chosen {
    /// A point of the record was meant.
    pub known: Callback<PointId>,
    /// A new point shall be made with the next label.
    pub fresh: Option<Callback<()>>,
}

/// A label field, a button for it, and one chip a point.
#[component]
pub fn Chooser(
    /// What a chosen point does.
    chosen: Chosen,
    /// Points already chosen, shown pressed.
    #[prop(into)]
    pressed: Signal<Vec<PointId>>,
    /// A tape starts here, most likely at a known point: those come first, as many as are offered at once.
    #[prop(optional)]
    start: bool,
) -> impl IntoView {
    let capture = Capture::here();
    // New points along a utility's mark get the mark's letter.
    let lettered = chosen.fresh.is_some() && capture.panel.get_untracked() != Panel::Mark;
    let written = RwSignal::new(String::new());
    let known = move || {
        let fold = capture.site.fold.get();
        fold.record.by_label(&written.get()).map(|p| (p.id.clone(), p.label.clone()))
    };
    let name = move || match known() {
        Some((_, label)) => say!("Use {label}"),
        None if chosen.fresh.is_none() => say!("Use"),
        None if written.get().trim().is_empty() => say!("New point {}", capture.next_label()),
        None => say!("New point {}", tidy(&written.get())),
    };
    let go = move || {
        let text = tidy(&written.get_untracked());
        if let Some((id, _)) = untrack(known) {
            chosen.known.run(id);
        } else if let Some(fresh) = chosen.fresh {
            if !text.is_empty() {
                capture.label.set(Some(text));
            }
            fresh.run(());
        } else {
            capture.trouble.set(Some(say!("There is no point {text} yet.")));
            return;
        }
        written.set(String::new());
    };
    let enter = move |event: ev::KeyboardEvent| {
        if event.key() == "Enter" {
            event.prevent_default();
            go();
        }
    };
    let many = capture.site.fold.with_untracked(|fold| fold.record.points.len());
    let few = many <= AT_ONCE;
    let (limit, first) = (RwSignal::new(if few { usize::MAX } else { 0 }), if few { AT_ONCE } else { FIRST });
    leptos::task::spawn_local(async move {
        device::shown().await;
        limit.try_update(|limit| *limit = first.max(*limit));
        device::hand_rests().await;
        while let Some(shown) = limit.try_get_untracked().filter(|shown| *shown < many) {
            limit.set(shown + PIECE);
            device::breath().await;
        }
        // A new point is offered too.
        limit.try_set(usize::MAX);
    });
    let chips = move || {
        let (fold, limit) = (capture.site.fold.get(), limit.get());
        let start = written.get().trim().to_ascii_uppercase();
        if limit == 0 {
            return Vec::new();
        }
        // Most tapes start at a corner of the house.
        let rank = |label: &str| {
            let order = order(label);
            (order.0 != HOUSE, order)
        };
        let meant = fold.record.points.iter().filter(|p| p.label.to_ascii_uppercase().starts_with(&start));
        let mut points: Vec<_> = meant.map(|p| (rank(&p.label), p)).collect();
        sort_by(&mut points, |a, b| a.0.cmp(&b.0));
        // Those that come later come behind the field, which must not move under a finger.
        let chip = |(n, (_, p)): (usize, (_, &Point))| (p.id.clone(), p.label.clone(), n >= first);
        points.into_iter().take(limit).enumerate().map(chip).collect()
    };
    // A chip stays the one it is when it is pressed: it may have the focus.
    let chip = move |(id, label, late): (PointId, String, bool)| {
        let mine = id.clone();
        let on = move || pressed.with(|pressed| pressed.contains(&mine)).to_string();
        let pick = move |_| {
            written.set(String::new());
            chosen.known.run(id.clone());
        };
        let class = if late { "chip late" } else { "chip" };
        markup! { <button type="button" class=class aria-pressed=on on:click=pick>{label}</button> }
    };
    markup! {
        <div class="chooser" class:start=move || start>
            <div class="chooser-row">
                <input type="text" class="label-field" aria-label="Label" placeholder="label" autocapitalize="characters"
                    autocomplete="off" spellcheck="false" enterkeyhint="done" maxlength="8"
                    prop:value=move || written.get() on:input=move |e| written.set(event_target_value(&e)) on:keydown=enter />
                <button type="button" class="chooser-go" on:click=move |_| go()>{live(name)}</button>
                {lettered.then(|| markup! { <Letters /> })}
            </div>
            <div class="chips" role="group" aria-label="points">{rows(chips, chip)}</div>
        </div>
    }
}

/// Which kind's letters new points get.
#[component]
pub fn Letters() -> impl IntoView {
    let capture = Capture::here();
    let change = move |event| {
        if let Some(kind) = kind(&event_target_value(&event)) {
            capture.letters(kind);
        }
    };
    // All but the one in use come with the next frame, before a finger can be there.
    let all = RwSignal::new(false);
    leptos::task::spawn_local(async move {
        device::shown().await;
        all.try_set(true);
    });
    let options = move || {
        let (all, used) = (all.get(), capture.kind.get_untracked().key);
        CATALOGUE
            .iter()
            .filter(|k| all || k.key == used)
            .map(|k| markup! { <option value=k.key selected=k.key == used>{say!("{} {}", k.prefix, k.name)}</option> })
            .collect_view()
    };
    markup! {
        <select class="letters" aria-label="Letters for new points" on:change=change
            prop:value=move || capture.kind.get().key>
            {live(options)}
        </select>
    }
}

/// Puts what was chosen into the measurement under way.
pub fn into_draft(capture: Capture, fresh: bool) -> Chosen {
    Chosen {
        known: Callback::new(move |id| capture.put(Meant::Known(id))),
        fresh: fresh.then(|| Callback::new(move |()| capture.put_new(None))),
    }
}
