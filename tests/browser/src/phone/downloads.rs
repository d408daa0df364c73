//! Files the app hands out.

use super::Phone;
use crate::{Outcome, device::Device};
use std::{fs, path::Path};

impl Phone {
    /// As [`Device::download`].
    ///
    /// # Errors
    /// As there.
    pub async fn download(&self, name: &str) -> Outcome<String> {
        Device::download(self, name).await
    }

    /// As [`Device::download_ending`].
    ///
    /// # Errors
    /// As there.
    pub async fn download_ending(&self, ending: &str) -> Outcome<(String, Vec<u8>)> {
        Device::download_ending(self, ending).await
    }

    /// As [`download_ending`](Self::download_ending), with the file put there.
    ///
    /// # Errors
    /// As there.
    pub async fn move_download_ending(&self, ending: &str, to: &Path) -> Outcome {
        Ok(fs::rename(self.downloaded(ending).await?, to)?)
    }
}
