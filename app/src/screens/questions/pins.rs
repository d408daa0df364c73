//! Where open questions stand on the live drawing.

use super::asked_here;
use crate::markup::live;
use crate::state::OpenSite;
use crate::words::questions as say;
use leptos::prelude::*;
use swingtie_core::plan::place_of;

/// The layer, in the drawing's own frame.
#[component]
pub fn Marks() -> impl IntoView {
    let site = OpenSite::here();
    let asked = asked_here();
    live(move || {
        let plan = site.plan.get();
        let open = asked.get().into_iter().filter(|asked| asked.is_open());
        let places = open.filter_map(|asked| place_of(&asked.question.what.at, &plan));
        places
            .map(|at| {
                let (x, y) = at.metres();
                markup! {
                    <g transform=format!("translate({x:.4} {y:.4})")><g class="upright question-pin">
                        <title>{say::OPEN}</title>
                        <g transform="translate(0 -20)">
                            <path d="M-12 -10H12V10H-12ZM0 10V18" class="question-flag" />
                            <text y="5" text-anchor="middle" class="sign-number">"Q"</text>
                        </g>
                    </g></g>
                }
            })
            .collect_view()
    })
}
