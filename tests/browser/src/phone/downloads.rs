//! Files the app hands out.

use super::{PATIENCE, Phone};
use crate::Outcome;
use std::{
    fs,
    path::{Path, PathBuf},
    time::{Duration, Instant},
};
use tokio::time::sleep;

impl Phone {
    /// Waits for the file the app hands out and reads it.
    ///
    /// # Errors
    /// When it does not come in time.
    pub async fn download(&self, name: &str) -> Outcome<String> {
        let file = self.home.0.join("downloads").join(name);
        let start = Instant::now();
        while !file.is_file() {
            if start.elapsed() > PATIENCE {
                let there: Vec<_> = fs::read_dir(self.home.0.join("downloads"))?
                    .flatten()
                    .map(|one| one.file_name())
                    .collect();
                return Err(format!("no download named {name}; there are {there:?}").into());
            }
            sleep(Duration::from_millis(60)).await;
        }
        let body = fs::read_to_string(&file)?;
        fs::remove_file(&file)?;
        Ok(body)
    }

    /// Waits for a file that the app hands out under a name ending so; gives its name and bytes.
    ///
    /// # Errors
    /// When it does not come in time.
    pub async fn download_ending(&self, ending: &str) -> Outcome<(String, Vec<u8>)> {
        let path = self.downloaded(ending).await?;
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let bytes = fs::read(&path)?;
        fs::remove_file(&path)?;
        Ok((name, bytes))
    }

    /// As [`download_ending`](Self::download_ending), with the file put there.
    ///
    /// # Errors
    /// As there.
    pub async fn move_download_ending(&self, ending: &str, to: &Path) -> Outcome {
        Ok(fs::rename(self.downloaded(ending).await?, to)?)
    }

    async fn downloaded(&self, ending: &str) -> Outcome<PathBuf> {
        let folder = self.home.0.join("downloads");
        let start = Instant::now();
        loop {
            let names = fs::read_dir(&folder)?.flatten().map(|one| one.path());
            if let Some(path) = names.into_iter().find(|path| path.to_string_lossy().ends_with(ending)) {
                return Ok(path);
            }
            if start.elapsed() > 2 * PATIENCE {
                return Err(format!("no download named …{ending}").into());
            }
            sleep(Duration::from_millis(60)).await;
        }
    }
}
