//! A browser that is killed, as a phone whose battery ends, and started again on the same data.

use super::Phone;
use crate::{Outcome, device::Device, start};
use std::process::Command;

impl Phone {
    /// The processes of the browser, to be killed by [`kill`]. They are those the driver started.
    ///
    /// # Errors
    /// When the driver has ended.
    pub fn browser_processes(&self) -> Outcome<Vec<u32>> {
        let driver = self.process.id().ok_or("the driver has ended")?;
        Ok(start::family(driver)?.into_iter().filter(|id| *id != driver).collect())
    }

    /// Starts a browser anew on the data of the one that was killed; the server is the same, and so is the address the
    /// data belong to.
    ///
    /// # Errors
    /// When the app does not come up.
    pub async fn start_again(&mut self) -> Outcome {
        // Nobody is left to end the old session.
        let _ = self.driver.clone().leak();
        let (process, port) = start::driver_process().await?;
        let driver = start::browser(port, &self.home, self.size, self.scheme).await?;
        (self.driver, self.process) = (driver, process);
        self.driver.goto(self.url("")).await?;
        self.first_screen().await
    }
}

/// Ends processes at once, without a chance to finish anything (SIGKILL).
///
/// # Errors
/// When there is no program `kill`.
pub fn kill(processes: &[u32]) -> Outcome {
    let numbers = processes.iter().map(u32::to_string);
    // Those that ended by themselves meanwhile make it fail; what counts is that none is left.
    Command::new("kill").arg("-9").args(numbers).output()?;
    Ok(())
}
