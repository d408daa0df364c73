//! Other windows of the app on this device.

use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{BroadcastChannel, MessageEvent};

/// Tells the other windows something and hears what they tell, until it is dropped.
pub struct Windows {
    channel: BroadcastChannel,
    _heard: Closure<dyn FnMut(MessageEvent)>,
}

impl Windows {
    /// Listens; none where the browser knows no such channel.
    pub fn listen(name: &str, heard: impl Fn(String) + 'static) -> Option<Self> {
        let channel = BroadcastChannel::new(name).ok()?;
        let heard = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
            if let Some(told) = event.data().as_string() {
                heard(told);
            }
        });
        channel.set_onmessage(Some(heard.as_ref().unchecked_ref()));
        Some(Self { channel, _heard: heard })
    }

    /// Tells all other windows.
    pub fn tell(&self, what: &str) {
        // Refused only by a channel that is closed, when there is nobody left to tell.
        let _ = self.channel.post_message(&what.into());
    }
}

impl Drop for Windows {
    fn drop(&mut self) {
        self.channel.set_onmessage(None);
        self.channel.close();
    }
}
