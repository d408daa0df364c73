//! Files a test hands over.

use crate::Outcome;
use std::{
    env, fs,
    path::{Path, PathBuf},
};
use swingtie_xtask::dist;

/// A folder of one test's own, gone after it.
#[derive(Debug)]
pub struct Scratch(PathBuf);

impl Scratch {
    /// Makes it, under a name no other test uses.
    ///
    /// # Errors
    /// When it cannot be made.
    pub fn new(name: &str) -> Outcome<Self> {
        let folder = env::temp_dir().join(format!("swingtie-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder)?;
        Ok(Self(folder))
    }

    /// Makes it with a copy of the build.
    ///
    /// # Errors
    /// When there is no build, or it cannot be copied.
    pub fn build(name: &str) -> Outcome<Self> {
        let scratch = Self::new(name)?;
        for path in dist::paths(&dist::folder())? {
            let to = scratch.0.join(&path);
            fs::create_dir_all(to.parent().ok_or("a file without a folder")?)?;
            fs::copy(dist::folder().join(&path), to)?;
        }
        Ok(scratch)
    }

    /// Where it is.
    #[must_use]
    pub fn folder(&self) -> &Path {
        &self.0
    }

    /// Puts a file there.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn file(&self, name: &str, content: impl AsRef<[u8]>) -> Outcome<PathBuf> {
        let path = self.0.join(name);
        fs::write(&path, content)?;
        Ok(path)
    }
}

impl Drop for Scratch {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}
