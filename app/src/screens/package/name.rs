//! What others call who writes on this device.

use crate::device::{self, prefs};
use crate::markup::effect;
use crate::screens::parts::TextField;
use crate::state::{Home, OpenSite, SaveError};
use crate::words::package as say;
use leptos::prelude::*;
use swingtie_core::record::Statement;

/// Whether it was asked on this device before a package left or after one came.
const ASKED: &str = "asked name";

/// The name, as Settings keep it; empty where none was said.
pub fn my_name() -> String {
    device::remembered(prefs::SURVEYOR).unwrap_or_default().trim().to_owned()
}

/// It was asked: from now on it stands in Settings only.
pub fn was_asked() {
    device::remember(ASKED, "yes");
}

/// Asks for it, the first time only.
#[component]
pub fn NameField(name: RwSignal<String>) -> impl IntoView {
    if device::remembered(ASKED).is_some() {
        return ().into_any();
    }
    effect(move || device::remember(prefs::SURVEYOR, name.with(|name| name.trim().to_owned()).as_str()));
    markup! {
        <div class="setting">
            <TextField label=say::CALL_YOU value=name />
            <p class="hint">{say::CALL_YOU_HINT}</p>
        </div>
    }
}

/// Writes it into the book, where the book says another or none.
///
/// # Errors
/// When it was not stored.
pub async fn sign(site: OpenSite, home: Home) -> Result<(), SaveError> {
    let (name, (_, me)) = (my_name(), home.store());
    let is_said = site.fold.with_untracked(|fold| fold.record.called(&me).unwrap_or_default() == name);
    if !is_said {
        site.say_apart(Statement::Author { name }, None).await?;
    }
    Ok(())
}
