//! What somebody at work holds: the app in some browser, whichever way the browser is driven.

use crate::{
    Outcome,
    screen::{Look, Node},
};
use std::{
    fs,
    path::{Path, PathBuf},
    time::{Duration, Instant},
};
use tokio::time::sleep;

/// How long a test waits for something to appear.
pub(crate) const PATIENCE: Duration = Duration::from_secs(15);

/// Chooses the option of a text in a list; whether there is one.
pub(crate) const CHOOSE: &str = "(list, text) => { \
    const option = [...list.options].find(one => one.text.trim() === text); \
    if (!option) return false; \
    list.value = option.value; list.dispatchEvent(new Event('change', { bubbles: true })); return true; }";

/// The app in a browser. How one looks and touches is the browser's; the rest follows from it.
#[allow(async_fn_in_trait, reason = "a test waits on one thread")]
pub trait Device {
    /// What is on the screen now.
    ///
    /// # Errors
    /// When the browser does not answer.
    async fn look(&self) -> Outcome<Look>;

    /// Taps something seen, once it holds still and nothing lies over it.
    ///
    /// # Errors
    /// When it has no place on the screen or something goes on lying over it.
    async fn tap_node(&self, node: &Node) -> Outcome;

    /// Types into a field seen, replacing what stood there.
    ///
    /// # Errors
    /// When the browser does not answer.
    async fn type_into(&self, node: &Node, text: &str) -> Outcome;

    /// Chooses the option of this text in a list seen; whether there is one.
    ///
    /// # Errors
    /// When the browser does not answer.
    async fn pick(&self, node: &Node, option: &str) -> Outcome<bool>;

    /// Chooses a file in the field of this name.
    ///
    /// # Errors
    /// When there is no such field.
    async fn hand_over(&self, name: &str, file: &Path) -> Outcome;

    /// Where the files lie that the app hands out.
    fn downloads(&self) -> PathBuf;

    /// Waits until the screen is as wished.
    ///
    /// # Errors
    /// When it does not become so in time.
    async fn wait(&self, wish: &str, fits: impl Fn(&Look) -> bool) -> Outcome<Look> {
        let start = Instant::now();
        loop {
            // While a page loads there is no screen to read.
            if let Ok(look) = self.look().await
                && fits(&look)
            {
                return Ok(look);
            }
            if start.elapsed() > PATIENCE {
                return Err(format!("waited {} s for {wish}", PATIENCE.as_secs()).into());
            }
            sleep(Duration::from_millis(60)).await;
        }
    }

    /// Waits until the app shows its first screen.
    ///
    /// # Errors
    /// When it does not in time.
    async fn first_screen(&self) -> Outcome {
        let fits = |look: &Look| !look.nodes.is_empty() && !look.says("Opening the field book");
        self.wait("the app's first screen", fits).await?;
        Ok(())
    }

    /// Waits until these words stand somewhere on the screen.
    ///
    /// # Errors
    /// When they do not appear in time.
    async fn sees(&self, words: &str) -> Outcome<Look> {
        self.wait(&format!("the words {words:?}"), |look| look.says(words)).await
    }

    /// Waits for the thing of this role and exactly this name, usable.
    ///
    /// # Errors
    /// When it does not appear in time.
    async fn find(&self, role: &str, name: &str) -> Outcome<Node> {
        let usable = |look: &Look| look.find(role, name).is_some_and(|node| !node.disabled);
        let look = self.wait(&format!("a usable {role} named {name:?}"), usable).await?;
        Ok(look.find(role, name).ok_or("it went away")?.clone())
    }

    /// Taps the thing of this role and name in its middle, as a thumb would.
    ///
    /// # Errors
    /// When it is not there, too small to show, or something lies over it.
    async fn tap(&self, role: &str, name: &str) -> Outcome {
        let node = self.find(role, name).await?;
        self.tap_node(&node).await
    }

    /// Waits for the first thing of this role whose name contains these words, and taps it.
    ///
    /// # Errors
    /// As [`Device::tap`].
    async fn tap_containing(&self, role: &str, words: &str) -> Outcome {
        let found = |look: &Look| look.all(role, |name| name.contains(words)).next().cloned();
        let look = self.wait(&format!("a {role} naming {words:?}"), |look| found(look).is_some()).await?;
        let node = found(&look).ok_or("it went away")?;
        let Err(error) = self.tap_node(&node).await else { return Ok(()) };
        // It may be called otherwise by now, with another number in its name.
        match found(&self.look().await?) {
            Some(now) if now.name != node.name => self.tap_node(&now).await,
            _ => Err(error),
        }
    }

    /// Types into the field of this name, replacing what stood there.
    ///
    /// # Errors
    /// When there is no such field.
    async fn fill(&self, name: &str, text: &str) -> Outcome {
        const FIELDS: [&str; 3] = ["textbox", "spinbutton", "searchbox"];
        let editable = |look: &Look| {
            let mut all = look.nodes.iter();
            all.find(|node| FIELDS.contains(&node.role.as_str()) && node.name == name).cloned()
        };
        let look = self.wait(&format!("a field named {name:?}"), |look| editable(look).is_some()).await?;
        self.type_into(&editable(&look).ok_or("the field went away")?, text).await
    }

    /// Chooses the option of this text in the list of this name.
    ///
    /// # Errors
    /// When there is no such list or option.
    async fn choose(&self, name: &str, option: &str) -> Outcome {
        let node = self.find("combobox", name).await?;
        if self.pick(&node, option).await? {
            return Ok(());
        }
        Err(format!("{name:?} has no option {option:?}").into())
    }

    /// Waits for the file the app hands out under this name and gives its bytes.
    ///
    /// # Errors
    /// When it does not come in time.
    async fn download_bytes(&self, name: &str) -> Outcome<Vec<u8>> {
        let path = self.downloaded(&format!("/{name}")).await?;
        let body = fs::read(&path)?;
        fs::remove_file(&path)?;
        Ok(body)
    }

    /// Waits for the text the app hands out under this name and reads it.
    ///
    /// # Errors
    /// When it does not come in time, or is none.
    async fn download(&self, name: &str) -> Outcome<String> {
        Ok(String::from_utf8(self.download_bytes(name).await?)?)
    }

    /// Waits for a file that the app hands out under a name ending so; gives its name and bytes.
    ///
    /// # Errors
    /// When it does not come in time.
    async fn download_ending(&self, ending: &str) -> Outcome<(String, Vec<u8>)> {
        let path = self.downloaded(ending).await?;
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let bytes = fs::read(&path)?;
        fs::remove_file(&path)?;
        Ok((name, bytes))
    }

    /// Waits for a file that the app hands out under a path ending so; where it lies.
    ///
    /// # Errors
    /// When it does not come in time.
    async fn downloaded(&self, ending: &str) -> Outcome<PathBuf> {
        let folder = self.downloads();
        let start = Instant::now();
        let mut before = None;
        loop {
            let there: Vec<PathBuf> = fs::read_dir(&folder)?.flatten().map(|one| one.path()).collect();
            if let Some(path) = there.iter().find(|path| path.to_string_lossy().ends_with(ending))
                && let Some(size) = whole(path, &there)
            {
                // WebKit writes a file piece by piece under its name.
                if before.replace(size) == Some(size) {
                    return Ok(path.clone());
                }
            }
            if start.elapsed() > 2 * PATIENCE {
                return Err(format!("no download named …{ending}; there are {there:?}").into());
            }
            sleep(Duration::from_millis(60)).await;
        }
    }
}

/// The size of a file that may have come whole: Firefox has an empty one under the name, and the bytes beside it, until then.
fn whole(path: &Path, there: &[PathBuf]) -> Option<u64> {
    let part = PathBuf::from(format!("{}.part", path.display()));
    let size = fs::metadata(path).ok()?.len();
    (!there.contains(&part) && size > 0).then_some(size)
}
