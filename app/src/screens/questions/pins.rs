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
                            <path d="M-11 -11H11V11H4L0 17L-4 11H-11Z" class="question-flag" />
                            <text y="5" text-anchor="middle" class="sign-number">"?"</text>
                        </g>
                    </g></g>
                }
            })
            .collect_view()
    })
}
