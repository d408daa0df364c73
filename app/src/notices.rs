//! Short messages to the user: shown over the drawing, away from the thumb's keys, read out by screen readers.

use crate::device;
use crate::markup::rows;
use leptos::prelude::*;

/// One message.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Notice {
    /// Counts up; the key of its row.
    pub number: u32,
    /// What it says.
    pub text: String,
    /// Stays until it is closed, because something was not done.
    pub stays: bool,
}

/// The messages on screen. Copied freely; get it with [`Notices::here`].
#[derive(Clone, Copy)]
pub struct Notices {
    shown: RwSignal<Vec<Notice>>,
    next: StoredValue<u32>,
}

const SHOWN_MS: i32 = 4000;

impl Notices {
    /// Makes the facility and provides it as context.
    pub fn provide() -> Self {
        let notices = Self { shown: RwSignal::new(Vec::new()), next: StoredValue::new(0) };
        provide_context(notices);
        notices
    }

    /// The facility.
    #[must_use]
    pub fn here() -> Self {
        expect_context()
    }

    /// Tells something that went well; goes away by itself.
    pub fn say(self, text: impl Into<String>) {
        let number = self.add(text.into(), false);
        leptos::task::spawn_local(async move {
            device::sleep(SHOWN_MS).await;
            self.close(number);
        });
    }

    /// Tells something that went wrong; stays until closed.
    pub fn warn(self, text: impl Into<String>) {
        self.add(text.into(), true);
    }

    fn add(self, text: String, stays: bool) -> u32 {
        let number = self.next.get_value();
        self.next.set_value(number.wrapping_add(1));
        self.shown.update(|shown| {
            shown.retain(|notice| notice.text != text);
            shown.push(Notice { number, text, stays });
        });
        number
    }

    fn close(self, number: u32) {
        self.shown.try_update(|shown| shown.retain(|notice| notice.number != number));
    }
}

/// Where the messages appear.
#[component]
pub fn NoticeBoard() -> impl IntoView {
    let notices = Notices::here();
    let row = move |notice: Notice| {
        let number = notice.number;
        markup! {
            <div class="notice" class:notice-stays=notice.stays role=if notice.stays { "alert" } else { "status" }>
                <span>{notice.text}</span>
                <button type="button" on:click=move |_| notices.close(number)>{crate::words::CLOSE}</button>
            </div>
        }
    };
    markup! {
        <div class="notices" aria-live="polite">
            {rows(move || notices.shown.get(), row)}
        </div>
    }
}
