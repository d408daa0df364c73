//! Small parts several screens share.

use crate::device;
use crate::markup::{effect, live, rows};
use crate::routes::{Route, Tab};
use crate::state::OpenSite;
use crate::words;
use leptos::html;
use leptos::prelude::*;
use swingtie_core::record::{Point, PointId};

/// The way back from a screen that Problems leads to.
pub fn back_to_problems() -> AnyView {
    let back = Route::Site(OpenSite::here().id(), Tab::Problems).to_hash();
    markup! { <a class="button back" href=back>{words::BACK_TO_PROBLEMS}</a> }
}

/// One of a few, as chips.
pub fn chips<T: Copy + PartialEq + Send + Sync + 'static>(
    legend: &'static str,
    options: Vec<(T, String)>,
    chosen: impl Fn() -> Option<T> + Copy + Send + 'static,
    choose: impl Fn(T) + Copy + 'static,
) -> AnyView {
    let chip = |(value, name)| {
        let pressed = move || (chosen() == Some(value)).to_string();
        markup! {
            <button type="button" class="chip" aria-pressed=pressed on:click=move |_| choose(value)>
                {name}
            </button>
        }
    };
    chip_row(legend, options.into_iter().map(chip).collect())
}

fn chip_row(legend: &'static str, chips: Vec<AnyView>) -> AnyView {
    markup! {
        <fieldset>
            <legend class="legend">{legend}</legend>
            <div class="chips">{chips}</div>
        </fieldset>
    }
}

/// Several points in the order they are picked.
#[component]
pub fn PointChips(legend: &'static str, picked: RwSignal<Vec<PointId>>) -> impl IntoView {
    let site = OpenSite::here();
    let points = move || {
        site.fold.with(|fold| fold.record.points.iter().map(|p| (p.id.clone(), p.label.clone())).collect())
    };
    let chip = move |(id, label): (PointId, String)| {
        let toggled = id.clone();
        let pressed = move || picked.with(|picked| picked.contains(&id)).to_string();
        let toggle = move |_| picked.update(|picked| toggle(picked, &toggled));
        markup! { <button type="button" class="chip" aria-pressed=pressed on:click=toggle>{label}</button> }
    };
    markup! {
        <fieldset>
            <legend class="legend">{legend}</legend>
            <div class="chips chips-many">{rows(points, chip)}</div>
        </fieldset>
    }
}

/// In at the end, or out.
pub fn toggle(picked: &mut Vec<PointId>, point: &PointId) {
    if picked.contains(point) {
        picked.retain(|p| p != point);
    } else {
        picked.push(point.clone());
    }
}

/// One point out of all.
#[component]
pub fn PointSelect(
    label: &'static str,
    picked: RwSignal<Option<PointId>>,
    /// Each is told by what it belongs to, too.
    #[prop(optional)]
    described: bool,
    /// A point that is not offered.
    #[prop(optional)]
    without: Option<PointId>,
    /// What none of them stands for.
    #[prop(default = "–")]
    none: &'static str,
) -> impl IntoView {
    let site = OpenSite::here();
    let options = move || {
        let (chosen, fold) = (picked.get(), site.fold.get());
        let option = |point: &Point| {
            let selected = chosen.as_ref() == Some(&point.id);
            let told =
                if described { words::described(&fold.record, &point.id) } else { point.label.clone() };
            markup! { <option value=point.id.0.clone() selected=selected>{told}</option> }
        };
        let points = fold.record.points.iter().filter(|point| without.as_ref() != Some(&point.id));
        points.map(option).collect_view()
    };
    let choose = move |event| {
        let value = event_target_value(&event);
        picked.set((!value.is_empty()).then_some(PointId(value)));
    };
    markup! {
        <label class="field">
            <span>{label}</span>
            <select on:change=choose>
                <option value="">{none}</option>
                {live(options)}
            </select>
        </label>
    }
}

/// One line of text.
#[component]
pub fn TextField(
    label: &'static str,
    value: RwSignal<String>,
    #[prop(default = "text")] kind: &'static str,
    #[prop(default = "text")] inputmode: &'static str,
) -> impl IntoView {
    markup! {
        <label class="field">
            <span>{label}</span>
            <input type=kind inputmode=inputmode autocomplete="off" prop:value=move || value.get()
                on:input=move |event| value.set(event_target_value(&event)) />
        </label>
    }
}

/// Several lines of text.
#[component]
pub fn TextArea(label: &'static str, value: RwSignal<String>) -> impl IntoView {
    markup! {
        <label class="field">
            <span>{label}</span>
            <textarea prop:value=move || value.get() on:input=move |event| value.set(event_target_value(&event))></textarea>
        </label>
    }
}

/// Exact figures, one tap away: worked out and made once they are wanted, and then they come into sight.
pub fn exact(figures: impl Fn() -> AnyView + Send + 'static) -> AnyView {
    exact_named(words::EXACT, figures)
}

/// As [`exact`], under another name.
pub fn exact_named(name: &'static str, figures: impl Fn() -> AnyView + Send + 'static) -> AnyView {
    let (node, wanted) = (NodeRef::<html::Details>::new(), RwSignal::new(false));
    let into_sight = move || async move {
        // They are laid out by then.
        device::shown().await;
        if let Some(node) = node.try_get_untracked().flatten() {
            let nearest = web_sys::ScrollIntoViewOptions::new();
            nearest.set_block(web_sys::ScrollLogicalPosition::Nearest);
            node.scroll_into_view_with_scroll_into_view_options(&nearest);
        }
    };
    let opened = move |_| {
        if node.get_untracked().is_some_and(|node| node.has_attribute("open")) {
            if !wanted.get_untracked() {
                wanted.set(true);
            }
            leptos::task::spawn_local(into_sight());
        }
    };
    markup! {
        <details class="exact" node_ref=node on:toggle=opened>
            <summary>{name}</summary>
            {live(move || wanted.get().then(&figures))}
        </details>
    }
}

/// A sentence about what was entered, next to it; nothing while there is nothing to say.
#[component]
pub fn Wrong(what: Signal<Option<String>>) -> impl IntoView {
    let node = NodeRef::<html::P>::new();
    effect(move || {
        // On a long form it may stand out of sight.
        if let (Some(node), true) = (node.get(), what.with(Option::is_some)) {
            node.scroll_into_view_with_bool(true);
        }
    });
    live(move || what.get().map(|what| markup! { <p class="wrong" role="alert" node_ref=node>{what}</p> }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_are_picked_in_order_and_let_go_again() {
        let mut picked = Vec::new();
        for point in ["b", "a", "b", "c"] {
            toggle(&mut picked, &point.into());
        }
        assert_eq!(picked, ["a".into(), "c".into()]);
    }
}
