//! What lies over the drawing at its edges.

use super::{Sheet, view};
use crate::markup::{live, memo, shown};
use crate::state::{OpenSite, Shared};
use leptos::prelude::*;
use swingtie_core::plan::Plan;
use swingtie_core::record::UnitSystem;

/// Scale bar, north, and the buttons that do what two fingers do.
#[component]
pub fn Furniture(sheet: Sheet, plan: Memo<Shared<Plan>>) -> impl IntoView {
    let site = OpenSite::here();
    let bar = memo(move || {
        let (width, _) = sheet.size.get();
        let (metres, name) =
            view::scale_bar(sheet.view.get(), width.max(200.0), site.units() != UnitSystem::Metres);
        format!("{name}|width:{:.1}px", metres * sheet.view.get().scale)
    });
    let bar = move || {
        let bar = bar.get();
        let (name, width) = bar.split_once('|').unwrap_or_default();
        let (name, width) = (name.to_owned(), width.to_owned());
        markup! { <div class="scale-bar" style=width><span>{name}</span></div> }
    };
    let north = move || {
        plan.get().north.clone().map(|north| {
            let turn = 90.0 - north.direction.degrees();
            let kind = match north.kind {
                swingtie_core::record::NorthKind::True => "N",
                swingtie_core::record::NorthKind::Magnetic => "mag N",
            };
            markup! {
                <div class="north" aria-label=say!("north, {kind}")>
                    <svg viewBox="-12 -16 24 32" style=format!("transform:rotate({turn:.1}deg)")>
                        <path d="M0 -14 L6 12 L0 7 Z" class="north-dark" />
                        <path d="M0 -14 L-6 12 L0 7 Z" class="north-light" />
                    </svg>
                    <span>{kind}</span>
                </div>
            }
        })
    };
    markup! {
        <div class="drawing-edge">
            <div class="drawing-marks" aria-hidden="true">{live(north)}{live(bar)}</div>
            <div class="drawing-tools" role="group" aria-label="drawing">
                <button type="button" aria-label="tapes" aria-pressed=move || sheet.tapes.get().to_string()
                    on:click=move |_| sheet.tapes.update(|t| *t = !*t)>
                    <svg viewBox="0 0 24 24"><path d="M3 20 L21 4 M3 20 l3 -.5 M21 4 l-.5 3" /><path d="M8 12 l3 3 M12 8.5 l3 3" /></svg>
                </button>
                {shown(move || site.fold.with(|fold| !fold.record.levels.is_empty()), move || markup! {
                    <button type="button" aria-label="heights" aria-pressed=move || sheet.ground.get().to_string()
                        on:click=move |_| sheet.ground.update(|shown| *shown = !*shown)>
                        <svg viewBox="0 0 24 24"><path d="M2 19 C7 9 11 17 22 14 M5 14 C9 6 13 12 21 9 M12 4 v5 M10 7 l2 2 l2 -2" /></svg>
                    </button>
                })}
                {shown(move || site.fold.with(|fold| !fold.record.photos.is_empty()), move || markup! {
                    <button type="button" aria-label="photos" aria-pressed=move || sheet.photos.get().to_string()
                        on:click=move |_| sheet.photos.update(|shown| *shown = !*shown)>
                        <svg viewBox="0 0 24 24"><path d="M3 8 h4 l2 -3 h6 l2 3 h4 v11 H3 Z M8 13 a4 4 0 1 0 8 0 a4 4 0 1 0 -8 0" /></svg>
                    </button>
                })}
                <button type="button" aria-label="show all" on:click=move |_| sheet.show_all(&plan.get_untracked())>
                    <svg viewBox="0 0 24 24"><path d="M4 9 V4 H9 M15 4 h5 v5 M20 15 v5 h-5 M9 20 H4 v-5" /></svg>
                </button>
                <button type="button" aria-label="zoom out" on:click=move |_| sheet.farther()>
                    <svg viewBox="0 0 24 24"><path d="M5 12 H19" /></svg>
                </button>
                <button type="button" aria-label="zoom in" on:click=move |_| sheet.nearer()>
                    <svg viewBox="0 0 24 24"><path d="M5 12 H19 M12 5 V19" /></svg>
                </button>
            </div>
        </div>
    }
}
