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

    /// How much memory the page's own processes hold, in bytes: what is resident of them, as Linux tells.
    ///
    /// # Errors
    /// When the process has ended.
    pub fn memory(&self) -> Outcome<u64> {
        start::page_memory(self._process.id().ok_or("the browser's driver has ended")?)
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
