//! Files handed over, keys pressed, and what the page costs.

use super::{PATIENCE, Phone};
use crate::{Outcome, start};
use serde_json::json;
use std::{
    path::Path,
    time::{Duration, Instant},
};
use thirtyfour::By;
use tokio::time::sleep;

impl Phone {
    /// Chooses a file in the field of this name.
    ///
    /// # Errors
    /// When there is no such field.
    pub async fn hand_over(&self, name: &str, file: &Path) -> Outcome {
        self.hand_over_all(name, &[file]).await
    }

    /// Chooses several files at once.
    ///
    /// # Errors
    /// When there is no such field.
    pub async fn hand_over_all(&self, name: &str, files: &[&Path]) -> Outcome {
        let field = By::Css(format!("input[type=file][aria-label='{name}']"));
        let start = Instant::now();
        let field = loop {
            match self.driver.find(field.clone()).await {
                Ok(field) => break field,
                Err(error) if start.elapsed() > PATIENCE => return Err(error.into()),
                Err(_) => sleep(Duration::from_millis(60)).await,
            }
        };
        let files: Vec<_> = files.iter().map(|file| file.to_string_lossy()).collect();
        field.send_keys(files.join("\n")).await?;
        Ok(())
    }

    /// Presses a key where the focus is, as a keyboard would; its name as in UI Events' `key`.
    ///
    /// # Errors
    /// When the browser does not answer.
    pub async fn key(&self, key: &str) -> Outcome {
        let text = if key.chars().count() == 1 { key } else { "" };
        for kind in ["keyDown", "keyUp"] {
            self.cdp("Input.dispatchKeyEvent", json!({ "type": kind, "key": key, "text": text })).await?;
        }
        Ok(())
    }

    /// Makes the screen this wide and high, in CSS pixels, and waits until it is laid out.
    ///
    /// # Errors
    /// When the browser does not answer.
    pub async fn resize(&self, width: u32, height: u32) -> Outcome {
        let mobile = width < 800;
        let density = if mobile { 2 } else { 1 };
        let metrics =
            json!({ "width": width, "height": height, "deviceScaleFactor": density, "mobile": mobile });
        self.cdp("Emulation.setDeviceMetricsOverride", metrics).await?;
        // A page that was too wide stays smaller otherwise.
        self.cdp("Emulation.setPageScaleFactor", json!({ "pageScaleFactor": 1 })).await?;
        self.drawn().await
    }

    /// Shows the page in one of the settings' themes, as the start-up script does, and waits until it is drawn.
    ///
    /// # Errors
    /// When the browser does not answer.
    pub async fn theme(&self, theme: &str) -> Outcome {
        self.evaluate(&format!("document.documentElement.dataset.theme = '{theme}'")).await?;
        self.drawn().await
    }

    /// Waits for two frames: what was changed is laid out in the first and drawn in the second.
    async fn drawn(&self) -> Outcome {
        let frames = "new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => done(0))))";
        self.evaluate(frames).await?;
        Ok(())
    }

    /// How much memory the page's own processes hold, in bytes: what is resident of them, as Linux tells.
    ///
    /// # Errors
    /// When the process has ended.
    pub fn memory(&self) -> Outcome<u64> {
        start::page_memory(self.process.id().ok_or("the browser's driver has ended")?)
    }

    /// How many things a store of the app's database holds (`app/src/store/schema.rs` names them).
    ///
    /// # Errors
    /// When there is no such store.
    pub async fn stored(&self, store: &str) -> Outcome<u64> {
        let count = format!(
            "new Promise(done => {{ const opening = indexedDB.open('swingtie'); opening.onsuccess = () => {{ \
             const all = opening.result.transaction('{store}').objectStore('{store}').count(); \
             all.onsuccess = () => {{ opening.result.close(); done(all.result); }}; }}; }})"
        );
        Ok(self.evaluate(&count).await?.as_u64().ok_or("no number")?)
    }

    /// Waits until an expression holds in the page: for what has no name to find it by.
    ///
    /// # Errors
    /// When it does not in time.
    pub async fn wait_for(&self, expression: &str) -> Outcome {
        let start = Instant::now();
        while self.evaluate(expression).await? != true {
            if start.elapsed() > PATIENCE {
                return Err(format!("waited {} s for {expression}", PATIENCE.as_secs()).into());
            }
            sleep(Duration::from_millis(60)).await;
        }
        Ok(())
    }
}
