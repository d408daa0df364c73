//! Where points of the site are on earth: typed, or told by the phone.

mod draft;
mod other;

use super::known::{KnownPoints, told};
use crate::device;
use crate::markup::{effect, live, shown};
use crate::notices::Notices;
use crate::screens::parts::{PointSelect, TextField, Wrong};
use crate::state::{OpenSite, saving, strike};
use crate::words;
use draft::Draft;
use leptos::prelude::*;
use other::OtherPoint;
use swingtie_core::language::tr;
use swingtie_core::record::{Anchor, Statement};

/// What the form of one of the two points says.
struct Form {
    point: &'static str,
    position: &'static str,
    latitude: &'static str,
    longitude: &'static str,
    accuracy: &'static str,
    save: &'static str,
}

const FIRST: Form = Form {
    point: words::AT_POINT,
    position: words::USE_POSITION,
    latitude: words::LATITUDE,
    longitude: words::LONGITUDE,
    accuracy: words::ACCURACY,
    save: words::SAVE_PLACE,
};

const SECOND: Form = Form {
    point: words::SECOND_POINT,
    position: words::USE_SECOND_POSITION,
    latitude: words::SECOND_LATITUDE,
    longitude: words::SECOND_LONGITUDE,
    accuracy: words::SECOND_ACCURACY,
    save: words::SAVE_SECOND,
};

/// The anchor's form; `second` opens that of the second point.
#[component]
pub fn PlaceForm(second: RwSignal<bool>) -> impl IntoView {
    let site = OpenSite::here();
    let now = site.fold.with_untracked(|fold| fold.record.anchor.clone());
    let draft = Draft::of(now, site.fold.with_untracked(|fold| fold.record.site.units));
    let asked = RwSignal::new(None::<Anchor>);
    effect(move || {
        // What is asked about is what was entered then.
        draft.track();
        asked.set(None);
    });
    let statement = move |anchor: Anchor| {
        if other::point(site, &anchor) {
            asked.set(Some(anchor));
            return Ok(None);
        }
        Ok(Some(Statement::Anchor(anchor)))
    };
    markup! {
        <section class="part">
            <h2>{words::PLACE}</h2>
            <p class="hint">{words::PLACE_HINT}</p>
            {form(&FIRST, draft, statement)}
            {live(move || asked.get().map(|anchor| markup! { <OtherPoint anchor draft asked second /> }))}
        </section>
    }
}

/// The second known point: asked for once the first is known, and only when somebody wants it.
#[component]
pub fn SecondPlace(open: RwSignal<bool>) -> impl IntoView {
    let (site, notices) = (OpenSite::here(), Notices::here());
    let anchored = move || site.fold.with(|fold| fold.record.anchor.is_some());
    let known = move || site.fold.with(|fold| !fold.record.second_anchors.is_empty());
    let statement = move |second: Anchor| {
        let first = site
            .fold
            .with_untracked(|fold| fold.record.anchor.as_ref().is_some_and(|a| a.point == second.point));
        if first { Err(words::SAME_POINT) } else { Ok(Some(Statement::SecondAnchor(second))) }
    };
    // All that stand: struck alone, the last would let the one before it count again.
    let remove = move |_| {
        let all = site.fold.with_untracked(|fold| {
            fold.record.second_anchors.iter().map(|second| strike(second.entry.clone())).collect::<Vec<_>>()
        });
        saving(async move {
            site.say(all).await?;
            open.try_set(false);
            notices.say(words::SAVED);
            Ok(())
        });
    };
    let fields = move || {
        let now = site.fold.with_untracked(|fold| fold.record.second_anchor().cloned());
        let units = site.fold.with_untracked(|fold| fold.record.site.units);
        markup! {
            <p class="hint">{words::SECOND_HINT}</p>
            {form(&SECOND, Draft::of(now, units), statement)}
            <KnownPoints />
            {shown(known, move || markup! {
                <button type="button" class="button button-wide" on:click=remove>{words::REMOVE_SECOND}</button>
            })}
        }
    };
    let button = move || {
        markup! {
            <button type="button" class="button button-wide" on:click=move |_| open.set(true)>{words::ADD_SECOND}</button>
        }
    };
    shown(anchored, move || {
        markup! {
            <section class="part">
                <h2>{words::SECOND}</h2>
                {shown(move || !open.get(), button)}
                {shown(move || open.get(), fields)}
            </section>
        }
    })
}

/// That it is saved, and after a second point what both points say: that stands below the fold.
fn saved(site: OpenSite, second: bool) -> String {
    let told = site.fold.with_untracked(|fold| site.plan.with_untracked(|plan| told(&fold.record, plan)));
    if second && !told.is_empty() { words::saved_and(&told) } else { tr(words::SAVED).to_owned() }
}

/// One point's fields; what is saved is the statement that its place makes, unless that says what is wrong with it, or
/// asks something first.
fn form(
    form: &'static Form,
    draft: Draft,
    statement: impl Fn(Anchor) -> Result<Option<Statement>, &'static str> + Copy + 'static,
) -> AnyView {
    let (site, notices) = (OpenSite::here(), Notices::here());
    let wrong = RwSignal::new(None);
    effect(move || {
        draft.track();
        wrong.set(None);
    });
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let units = site.fold.with_untracked(|fold| fold.record.site.units);
        match draft.check(units).and_then(statement) {
            Err(why) => wrong.set(Some(tr(why).to_owned())),
            Ok(None) => wrong.set(None),
            Ok(Some(statement)) => {
                wrong.set(None);
                let second = matches!(statement, Statement::SecondAnchor(_));
                saving(async move {
                    site.say(vec![statement]).await?;
                    notices.say(saved(site, second));
                    Ok(())
                });
            }
        }
    };
    markup! {
        <form class="form" on:submit=save>
            <PointSelect label=form.point picked=draft.point />
            <PhonePosition draft label=form.position />
            <TextField label=form.latitude value=draft.latitude />
            <TextField label=form.longitude value=draft.longitude />
            <TextField label=form.accuracy value=draft.accuracy />
            <p class="hint">{words::ACCURACY_HINT}</p>
            <p class="hint">{live(move || words::source_line(&draft.source()))}</p>
            <Wrong what=wrong.into() />
            <button type="submit" class="button button-main button-wide">{form.save}</button>
        </form>
    }
}

/// Asks the phone.
#[component]
fn PhonePosition(draft: Draft, label: &'static str) -> impl IntoView {
    let (site, notices) = (OpenSite::here(), Notices::here());
    let listening = RwSignal::new(false);
    let ask = move |_| {
        listening.set(true);
        leptos::task::spawn_local(async move {
            match device::average_position().await {
                Ok(position) => {
                    draft.told(&position, site.fold.with_untracked(|fold| fold.record.site.units));
                }
                Err(why) => notices.warn(words::no_position(&why)),
            }
            listening.try_set(false);
        });
    };
    markup! {
        <button type="button" class="button button-wide" disabled=move || listening.get() on:click=ask>
            {label}
        </button>
        <p role="status" class="hint">{move || listening.get().then_some(words::LISTENING)}</p>
    }
}
