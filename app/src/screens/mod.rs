//! The screens, and the frame around them.

use crate::drawing::PlanScreen;
use leptos::prelude::*;

/// The whole app.
#[component]
pub fn Shell() -> impl IntoView {
    view! { <PlanScreen /> }
}
