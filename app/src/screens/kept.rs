//! What is worked out once for all screens of the site that is open.

use crate::markup::memo;
use crate::state::{OpenSite, Shared};
use leptos::prelude::*;
use std::cell::RefCell;
use std::thread::LocalKey;
use swingtie_core::plan::Plan;

/// A value of the site whose plan this is, and what keeps it.
pub type Kept<T> = RefCell<Option<(Memo<Shared<Plan>>, Owner, Memo<T>)>>;

/// The value of the open site; made where it is not kept yet.
pub fn kept<T: PartialEq + Send + Sync + 'static>(
    place: &'static LocalKey<Kept<T>>,
    value: impl Fn() -> T + Send + Sync + 'static,
) -> Memo<T> {
    let plan = OpenSite::here().plan;
    place.with_borrow_mut(|kept| match kept {
        Some((of, _, value)) if *of == plan => *value,
        _ => {
            // Without a parent: it outlives the screen that asked first.
            let owner = Owner::default();
            let value = owner.with(|| memo(value));
            *kept = Some((plan, owner, value));
            value
        }
    })
}
