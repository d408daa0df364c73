//! Keys of a keyboard at a desk, and the list of them.
//!
//! A key alone does something only where nothing is typed: not in a field, not while a pad is open, not in a window of
//! its own. All of them can be turned off (WCAG 2.2, 2.1.4): speech input says letters.

use crate::capture::{Capture, Panel};
use crate::device::{prefs, wide_screen};
use crate::markup::shown;
use crate::routes::{Route, Router, Tab};
use crate::screens::Drafts;
use crate::screens::book::chosen_row;
use crate::screens::questions::Draft as Question;
use crate::words::keys as words;
use leptos::ev::KeyboardEvent;
use leptos::html;
use leptos::prelude::*;
use swingtie_core::network::PointState;
use swingtie_core::plan::Plan;
use swingtie_core::record::PointId;
use wasm_bindgen::JsCast;

/// What a key does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Deed {
    /// Goes to a screen.
    Go(Tab),
    /// Begins something on the plan.
    Begin(Begun),
    /// The next point that is not checked yet, or the one before.
    Open(Way),
    /// Asks about the point that is looked at.
    Ask,
    /// Nearer, or the other way.
    Zoom(Way),
    /// The whole plan.
    All,
    /// Takes the last thing said back.
    Undo,
    /// And says it again.
    Redo,
    /// The list of keys.
    List,
}

/// What can be begun on the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Begun {
    /// A reading.
    Measure,
    /// A thing.
    Thing,
    /// A utility mark.
    Mark,
    /// The sketch.
    Sketch,
}

/// On or back, in or out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// On, in.
    On,
    /// Back, out.
    Back,
}

/// What a key pressed alone does; letters in either case, by what stands on the key.
const ALONE: [(&str, Deed); 18] = [
    ("1", Deed::Go(Tab::Plan)),
    ("2", Deed::Go(Tab::Book)),
    ("3", Deed::Go(Tab::Problems)),
    ("4", Deed::Go(Tab::Sheet)),
    ("5", Deed::Go(Tab::Questions)),
    ("6", Deed::Go(Tab::Leave)),
    ("m", Deed::Begin(Begun::Measure)),
    ("t", Deed::Begin(Begun::Thing)),
    ("u", Deed::Begin(Begun::Mark)),
    ("s", Deed::Begin(Begun::Sketch)),
    ("n", Deed::Open(Way::On)),
    ("b", Deed::Open(Way::Back)),
    ("a", Deed::Ask),
    ("+", Deed::Zoom(Way::On)),
    ("=", Deed::Zoom(Way::On)),
    ("-", Deed::Zoom(Way::Back)),
    ("0", Deed::All),
    ("?", Deed::List),
];

/// What a key does together with Ctrl, or with the key that stands for it.
const WITH_CTRL: [(&str, bool, Deed); 3] =
    [("z", false, Deed::Undo), ("z", true, Deed::Redo), ("y", false, Deed::Redo)];

fn deed(event: &KeyboardEvent) -> Option<Deed> {
    let key = event.key().to_lowercase();
    if event.alt_key() {
        return None;
    }
    if event.ctrl_key() || event.meta_key() {
        let fits = |(on, shift, _): &&(&str, bool, Deed)| *on == key && *shift == event.shift_key();
        return WITH_CTRL.iter().find(fits).map(|(.., deed)| *deed);
    }
    ALONE.iter().find(|(on, _)| *on == key).map(|(_, deed)| *deed)
}

/// Whether the key is meant for what has the focus, or for a pad.
fn taken(event: &KeyboardEvent) -> bool {
    let fields = "input, textarea, select, [contenteditable], dialog";
    let here = event.target().and_then(|target| target.dyn_into::<web_sys::Element>().ok());
    let field = here.and_then(|here| here.closest(fields).ok().flatten());
    let open = || document().query_selector(".pad, .figures-pad, .asked-pad, dialog[open]").ok().flatten();
    event.default_prevented() || event.repeat() || field.is_some() || open().is_some()
}

/// Listens while a site is open; shows the list when asked for, and on a wide screen the way to it.
#[component]
pub fn Keys() -> impl IntoView {
    // What a key does, it does without an owner: nothing can be asked for then.
    let (router, capture, question) = (Router::here(), Capture::here(), Drafts::here().question);
    let list = NodeRef::<html::Dialog>::new();
    let show = move || {
        if let Some(list) = list.get_untracked().filter(|list| !list.open()) {
            // Refused only where it is not on the page.
            let _ = list.show_modal();
        }
    };
    let heard = window_event_listener(leptos::ev::keydown, move |event| {
        if let Some(way) = along(&event, capture) {
            event.prevent_default();
            return way.click();
        }
        let Some(deed) = deed(&event).filter(|_| prefs::KEYS.is_on() && !taken(&event)) else { return };
        event.prevent_default();
        perform(deed, router, capture, question, show);
    });
    on_cleanup(move || heard.remove());
    let wide = wide_screen();
    markup! {
        {shown(move || wide.get(), move || markup! {
            <button type="button" class="keys-button" aria-haspopup="dialog" on:click=move |_| show()>{words::KEYS}</button>
        })}
        <dialog class="keys" node_ref=list aria-labelledby="keys-title"><KeyList list /></dialog>
    }
}

/// The row of the book that an arrow key leads to from the entry in the slip, wherever the focus is but in a list that has
/// arrow keys of its own.
fn along(event: &KeyboardEvent, capture: Capture) -> Option<web_sys::HtmlElement> {
    let here = event.target().and_then(|target| target.dyn_into::<web_sys::Element>().ok());
    let own = here.is_some_and(|here| here.closest(".entries, .drawing").is_ok_and(|own| own.is_some()));
    let entry = matches!(capture.panel.get_untracked(), Panel::Entry { .. });
    if own || !entry || taken(event) { None } else { chosen_row(&event.key()) }
}

fn perform(deed: Deed, router: Router, capture: Capture, question: Question, show: impl Fn()) {
    let go = move |tab| router.go(&Route::Site(capture.site.id(), tab));
    match deed {
        Deed::Go(tab) => go(tab),
        Deed::Begin(begun) => {
            capture.open(match begun {
                Begun::Measure => Panel::Kinds,
                Begun::Thing => Panel::Thing,
                Begun::Mark => Panel::Mark,
                Begun::Sketch => Panel::Sketch,
            });
            go(Tab::Plan);
        }
        Deed::Open(way) => {
            let plan = capture.plan.get_untracked();
            let now = match capture.panel.get_untracked() {
                Panel::Card(id) => Some(id),
                _ => None,
            };
            if let Some(next) = unchecked(&plan, now.as_ref(), way) {
                capture.sheet.bring(&next, &plan);
                capture.open(Panel::Card(next));
                go(Tab::Plan);
            }
        }
        Deed::Ask => {
            if let Panel::Card(id) = capture.panel.get_untracked() {
                question.at_point(id);
            }
            go(Tab::Questions);
        }
        Deed::Zoom(Way::On) => capture.sheet.nearer(),
        Deed::Zoom(Way::Back) => capture.sheet.farther(),
        Deed::All => capture.sheet.show_all(&capture.plan.get_untracked()),
        Deed::Undo => capture.undo(),
        Deed::Redo => capture.redo(),
        Deed::List => show(),
    }
}

/// The next point that is not checked, after the one that is looked at, round and round.
fn unchecked(plan: &Plan, now: Option<&PointId>, way: Way) -> Option<PointId> {
    let mut all: Vec<&PointId> = plan
        .points
        .iter()
        .filter(|p| p.state != PointState::Checked || Some(&p.id) == now)
        .map(|p| &p.id)
        .collect();
    if way == Way::Back {
        all.reverse();
    }
    let after = now.and_then(|now| all.iter().position(|id| *id == now)).map_or(0, |at| at + 1);
    all.iter().cycle().skip(after).take(all.len()).find(|id| Some(**id) != now).map(|id| (*id).clone())
}

/// Every key with what it does, and the switch that turns them off.
#[component]
fn KeyList(list: NodeRef<html::Dialog>) -> impl IntoView {
    let on = RwSignal::new(prefs::KEYS.is_on());
    let turn = move |_| {
        on.update(|on| *on = !*on);
        prefs::KEYS.set(on.get_untracked());
    };
    let close = move |_| {
        if let Some(list) = list.get_untracked() {
            list.close();
        }
    };
    let group = |(title, rows): &(&'static str, &'static [(&'static [&'static str], &'static str)])| {
        let row = |(keys, does): &(&'static [&'static str], &'static str)| {
            let keys = keys.iter().map(|key| markup! { <kbd>{*key}</kbd> }).collect_view();
            markup! { <div><dt>{keys}</dt><dd>{*does}</dd></div> }
        };
        markup! { <section><h3>{*title}</h3><dl>{rows.iter().map(row).collect_view()}</dl></section> }
    };
    markup! {
        <h2 id="keys-title">{words::TITLE}</h2>
        <p class="hint">{words::HINT}</p>
        <div class="keys-groups">{words::GROUPS.iter().map(group).collect_view()}</div>
        <div class="buttons">
            <button type="button" class="chip" aria-pressed=move || on.get().to_string() on:click=turn>{words::SWITCH}</button>
            <button type="button" class="button button-main" on:click=close>{crate::words::CLOSE}</button>
        </div>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::plan::PlacedPoint;
    use swingtie_core::units::PlanPoint;

    fn plan(states: &[(&str, PointState)]) -> Plan {
        let point = |(id, state): &(&str, PointState)| PlacedPoint {
            id: (*id).into(),
            label: (*id).to_owned(),
            note: String::new(),
            at: PlanPoint::default(),
            state: *state,
            ellipse: None,
            freedom: None,
        };
        Plan { points: states.iter().map(point).collect(), ..Default::default() }
    }

    #[test]
    fn the_points_not_checked_are_gone_through_round_and_round() {
        use PointState::{Checked, Loose};
        let plan = plan(&[("a", Loose), ("b", Checked), ("c", Loose)]);
        let next =
            |now: Option<&str>, way| unchecked(&plan, now.map(PointId::from).as_ref(), way).map(|id| id.0);
        assert_eq!(next(None, Way::On).as_deref(), Some("a"));
        assert_eq!(next(Some("a"), Way::On).as_deref(), Some("c"));
        assert_eq!(next(Some("b"), Way::On).as_deref(), Some("c"));
        assert_eq!(next(Some("c"), Way::On).as_deref(), Some("a"));
        assert_eq!(next(Some("a"), Way::Back).as_deref(), Some("c"));
    }

    #[test]
    fn nothing_is_left_where_all_are_checked() {
        let plan = plan(&[("a", PointState::Checked)]);
        assert_eq!(unchecked(&plan, None, Way::On), None);
        assert_eq!(unchecked(&plan, Some(&"a".into()), Way::On), None);
    }

    // WCAG 2.2, 2.1.4 is about single characters; each may mean one thing only, and the list must name it.
    #[test]
    fn every_key_means_one_thing_and_stands_in_the_list() {
        for (at, (key, _)) in ALONE.iter().enumerate() {
            assert!(ALONE.iter().skip(at + 1).all(|(other, _)| other != key), "{key} twice");
            let told = words::GROUPS.iter().flat_map(|(_, rows)| rows.iter());
            let mut told = told.flat_map(|(keys, _)| keys.iter()).map(|key| key.to_lowercase());
            assert!(*key == "=" || told.any(|told| told == *key), "{key} is not in the list");
        }
    }
}
