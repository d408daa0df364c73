//! The app in two windows at once.

use crate::{Outcome, Phone};

impl Phone {
    /// Opens the page that is shown in another window too, does what is said there, and comes back.
    ///
    /// # Errors
    /// When the browser opens none, and whatever goes wrong in it.
    pub async fn in_another_window(&self, body: impl AsyncFnOnce() -> Outcome) -> Outcome {
        let (here, page) = (self.driver.window().await?, self.driver.current_url().await?);
        let there = self.driver.new_window().await?;
        self.driver.switch_to_window(there).await?;
        self.driver.goto(page.as_str()).await?;
        let outcome = body().await;
        self.driver.close_window().await?;
        self.driver.switch_to_window(here).await?;
        outcome
    }
}
