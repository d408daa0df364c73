//! Small parts several screens share.

use crate::state::OpenSite;
use leptos::prelude::*;
use swingtie_core::record::PointId;

/// One of a few, as chips.
#[component]
pub fn Chips<T: Copy + PartialEq + Send + Sync + 'static>(
    legend: &'static str,
    options: Vec<(T, String)>,
    chosen: Signal<Option<T>>,
    choose: impl Fn(T) + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let chips = options
        .into_iter()
        .map(|(value, name)| {
            let pressed = move || (chosen.get() == Some(value)).to_string();
            view! {
                <button type="button" class="chip" aria-pressed=pressed on:click=move |_| choose(value)>
                    {name}
                </button>
            }
        })
        .collect_view();
    view! {
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
    let points = move || site.fold.with(|fold| fold.record.points.clone());
    let chip = move |point: swingtie_core::record::Point| {
        let (id, toggled) = (point.id.clone(), point.id);
        let pressed = move || picked.with(|picked| picked.contains(&id)).to_string();
        let toggle = move |_| picked.update(|picked| toggle(picked, &toggled));
        view! { <button type="button" class="chip" aria-pressed=pressed on:click=toggle>{point.label}</button> }
    };
    view! {
        <fieldset>
            <legend class="legend">{legend}</legend>
            <div class="chips chips-many">
                <For each=points key=|point| (point.id.clone(), point.label.clone()) children=chip />
            </div>
        </fieldset>
    }
}

/// In at the end, or out.
fn toggle(picked: &mut Vec<PointId>, point: &PointId) {
    if picked.contains(point) {
        picked.retain(|p| p != point);
    } else {
        picked.push(point.clone());
    }
}

/// One point out of all.
#[component]
pub fn PointSelect(label: &'static str, picked: RwSignal<Option<PointId>>) -> impl IntoView {
    let site = OpenSite::here();
    let options = move || {
        let chosen = picked.get();
        let points = site.fold.with(|fold| fold.record.points.clone());
        points
            .into_iter()
            .map(|point| {
                let selected = chosen.as_ref() == Some(&point.id);
                view! { <option value=point.id.0 selected=selected>{point.label}</option> }
            })
            .collect_view()
    };
    let choose = move |event| {
        let value = event_target_value(&event);
        picked.set((!value.is_empty()).then_some(PointId(value)));
    };
    view! {
        <label class="field">
            <span>{label}</span>
            <select on:change=choose>
                <option value="">"–"</option>
                {options}
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
    view! {
        <label class="field">
            <span>{label}</span>
            <input type=kind inputmode=inputmode autocomplete="off" prop:value=value
                on:input=move |event| value.set(event_target_value(&event)) />
        </label>
    }
}

/// Several lines of text.
#[component]
pub fn TextArea(label: &'static str, value: RwSignal<String>) -> impl IntoView {
    view! {
        <label class="field">
            <span>{label}</span>
            <textarea prop:value=value on:input=move |event| value.set(event_target_value(&event))></textarea>
        </label>
    }
}

/// A sentence about what was entered, next to it; nothing while there is nothing to say.
#[component]
pub fn Wrong(what: Signal<Option<String>>) -> impl IntoView {
    move || what.get().map(|what| view! { <p class="wrong" role="alert">{what}</p> })
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
