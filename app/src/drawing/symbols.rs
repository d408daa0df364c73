//! The signs of the plan: a point's state shows in its shape, not only in its colour.

use leptos::prelude::*;
use swingtie_core::network::PointState;

/// The symbol of a point, about the origin, CSS pixels.
pub fn point(state: PointState) -> AnyView {
    match state {
        // Hollow, broken rim: may be elsewhere.
        PointState::Loose => markup! { <circle r="6.5" class="sign-loose" /> },
        // Half filled: one half is still to be proved.
        PointState::Fixed => markup! {
            <circle r="6" class="sign-rim" />
            <path d="M0 -6 A6 6 0 0 0 0 6 Z" class="sign-fill" />
        },
        PointState::Checked => markup! { <circle r="6" class="sign-fill" /> },
        PointState::Disputed => markup! {
            <path d="M0 -10 L10 7 L-10 7 Z" class="sign-warn" />
            <text class="sign-bang" y="5.5" text-anchor="middle">"!"</text>
        },
    }
}

/// A contradicted point that only waits for a reading elsewhere: there, but empty.
pub fn waiting() -> AnyView {
    markup! { <circle r="6" class="sign-rim" /> }
}

/// A numbered diamond for a problem.
pub fn diamond(number: usize, danger: bool) -> AnyView {
    markup! {
        <path d="M0 -13 L13 0 L0 13 L-13 0 Z" class="sign-diamond" class:sign-danger=danger />
        <text class="sign-number" y="5" text-anchor="middle">{number}</text>
    }
}
