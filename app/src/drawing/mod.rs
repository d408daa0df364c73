//! The live plan: pan, pinch, pick.

use leptos::prelude::*;

/// The Plan tab.
#[component]
pub fn PlanScreen() -> impl IntoView {
    view! { <p></p> }
}
