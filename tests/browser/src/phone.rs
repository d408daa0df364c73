//! A phone in a yard: the app open in a browser of its own, served by a server of its own.

mod downloads;
mod hands;
mod killed;

pub use killed::kill;

use crate::{
    Outcome, Scheme, Size,
    device::{CHOOSE, Device, PATIENCE},
    screen::{Look, Node},
    start::{self, Folder},
};
use base64::{Engine, prelude::BASE64_STANDARD};
use serde_json::{Value, json};
use std::{
    fmt, fs,
    path::{Path, PathBuf},
    time::{Duration, Instant},
};
use swingtie_xtask::{dist, run::workspace, server::Server};
use thirtyfour::WebDriver;
use tokio::{process::Child, time::sleep};

/// So long may what is tapped move, or be covered, while the screen settles.
const SETTLING: Duration = Duration::from_secs(2);

/// A phone (or a desk) with the app on it. The fields end in the order they stand in: the browser
/// before its driver, both before their folder.
#[derive(Debug)]
pub struct Phone {
    pub(crate) driver: WebDriver,
    process: Child,
    home: Folder,
    server: Option<Server>,
    port: u16,
    size: Size,
    scheme: Scheme,
}

/// What went wrong, in lines: a test that ends with an error shows its debug form.
pub(crate) struct Told(pub(crate) String);

impl fmt::Debug for Told {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl fmt::Display for Told {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for Told {}

impl Phone {
    /// Opens the built app, does what is said, and closes. What goes wrong is told together with
    /// what was on the screen; the picture of it is kept under the name.
    ///
    /// # Errors
    /// Whatever goes wrong, among it anything the browser's console complains of.
    pub async fn with(
        name: &str,
        size: Size,
        scheme: Scheme,
        body: impl AsyncFnOnce(&mut Self) -> Outcome,
    ) -> Outcome {
        Self::open_folder(&dist::folder(), name, size, scheme, body).await
    }

    /// As [`Phone::with`], with another folder's page than the app's.
    ///
    /// # Errors
    /// As there.
    pub async fn open_folder(
        folder: &Path,
        name: &str,
        size: Size,
        scheme: Scheme,
        body: impl AsyncFnOnce(&mut Self) -> Outcome,
    ) -> Outcome {
        let mut phone = Self::open(folder, size, scheme).await?;
        let mut outcome = body(&mut phone).await;
        if outcome.is_ok() {
            outcome = phone.no_complaints().await;
        }
        if let Err(error) = outcome {
            let picture = phone.picture(&format!("failed-{name}")).await;
            let seen = phone.look().await.map(|look| look.to_string()).unwrap_or_default();
            let log = phone.complaints().await.unwrap_or_default().join("\n");
            let told = format!("{error}\non the screen:\n{seen}\nconsole:\n{log}\npicture: {picture:?}");
            phone.close().await?;
            return Err(Box::new(Told(told)));
        }
        phone.close().await
    }

    async fn open(folder: &Path, size: Size, scheme: Scheme) -> Outcome<Self> {
        if !folder.join("index.html").is_file() {
            return Err("there is no build to test: run `cargo xtask build` first".into());
        }
        let server = Server::start(folder, 0)?;
        let home = Folder::new()?;
        let (process, driver_port) = start::driver_process().await?;
        let driver = start::browser(driver_port, &home, size, scheme).await?;
        let port = server.port();
        let phone = Self { driver, process, home, server: Some(server), port, size, scheme };
        phone.driver.goto(phone.url("")).await?;
        phone.first_screen().await?;
        Ok(phone)
    }

    async fn close(self) -> Outcome {
        self.driver.clone().quit().await?;
        Ok(())
    }

    fn url(&self, rest: &str) -> String {
        format!("http://127.0.0.1:{}/{rest}", self.port)
    }

    async fn cdp(&self, method: &str, parameters: Value) -> Outcome<Value> {
        Ok(self
            .driver
            .cdp()
            .send_raw(method, parameters)
            .await
            .map_err(|error| format!("{method}: {error}"))?)
    }

    /// Runs a script's expression in the page and hands back its value, awaited.
    ///
    /// # Errors
    /// When it throws.
    pub async fn evaluate(&self, expression: &str) -> Outcome<Value> {
        let wish = json!({ "expression": expression, "returnByValue": true, "awaitPromise": true });
        let answer = self.cdp("Runtime.evaluate", wish).await?;
        if answer["exceptionDetails"].is_null() {
            return Ok(answer["result"]["value"].clone());
        }
        Err(format!("{expression}: {}", answer["exceptionDetails"]).into())
    }

    /// Asks the browser by its developer's protocol.
    ///
    /// # Errors
    /// When it is refused.
    pub async fn ask(&self, method: &str, parameters: Value) -> Outcome<Value> {
        self.cdp(method, parameters).await
    }

    /// Sends the browser a command of its developer's protocol.
    ///
    /// # Errors
    /// When it is refused.
    pub async fn command(&self, method: &str, parameters: Value) -> Outcome {
        self.cdp(method, parameters).await?;
        Ok(())
    }

    /// Lets the page use something it would have to ask for.
    ///
    /// # Errors
    /// When the browser knows no such permission.
    pub async fn allow(&self, permission: &str) -> Outcome {
        self.command("Browser.grantPermissions", json!({ "permissions": [permission] })).await
    }

    /// Makes the page's processor so many times slower, as a phone's is against a desk's.
    ///
    /// # Errors
    /// When the browser does not answer.
    pub async fn slow_down(&self, times: u32) -> Outcome {
        self.cdp("Emulation.setCPUThrottlingRate", json!({ "rate": times })).await?;
        Ok(())
    }

    /// What is on the screen now.
    ///
    /// # Errors
    /// When the browser does not answer.
    pub async fn look(&self) -> Outcome<Look> {
        Ok(Look::read(&self.cdp("Accessibility.getFullAXTree", json!({})).await?))
    }

    /// As [`Device::wait`], without the trait at hand.
    ///
    /// # Errors
    /// As there.
    pub async fn wait(&self, wish: &str, fits: impl Fn(&Look) -> bool) -> Outcome<Look> {
        Device::wait(self, wish, fits).await
    }

    /// As [`Device::sees`].
    ///
    /// # Errors
    /// As there.
    pub async fn sees(&self, words: &str) -> Outcome<Look> {
        Device::sees(self, words).await
    }

    /// As [`Device::find`].
    ///
    /// # Errors
    /// As there.
    pub async fn find(&self, role: &str, name: &str) -> Outcome<Node> {
        Device::find(self, role, name).await
    }

    /// As [`Device::tap`].
    ///
    /// # Errors
    /// As there.
    pub async fn tap(&self, role: &str, name: &str) -> Outcome {
        Device::tap(self, role, name).await
    }

    /// As [`Device::tap_containing`].
    ///
    /// # Errors
    /// As there.
    pub async fn tap_containing(&self, role: &str, words: &str) -> Outcome {
        Device::tap_containing(self, role, words).await
    }

    /// As [`Device::fill`].
    ///
    /// # Errors
    /// As there.
    pub async fn fill(&self, name: &str, text: &str) -> Outcome {
        Device::fill(self, name, text).await
    }

    /// As [`Device::choose`].
    ///
    /// # Errors
    /// As there.
    pub async fn choose(&self, name: &str, option: &str) -> Outcome {
        Device::choose(self, name, option).await
    }

    /// Taps something seen, once it holds still and nothing lies over it. Where the page put another of the same role
    /// and name in its place since it was looked at, that one: nothing was touched yet.
    ///
    /// # Errors
    /// When it has no place on the screen or something goes on lying over it.
    pub async fn tap_node(&self, node: &Node) -> Outcome {
        let (start, mut node) = (Instant::now(), node.clone());
        let mut last = None;
        loop {
            let told = match self.free_middle(&node).await {
                Ok(Some(place)) if last == Some(place) => return self.tap_at(place.0, place.1).await,
                Ok(place) => {
                    last = place;
                    "something lies over it, or it moves".into()
                }
                Err(error) => {
                    if let Some(anew) = self.look().await?.find(&node.role, &node.name) {
                        node = anew.clone();
                    }
                    error
                }
            };
            if start.elapsed() > SETTLING {
                return Err(format!("the {} {:?}: {told}", node.role, node.name).into());
            }
            sleep(Duration::from_millis(30)).await;
        }
    }

    /// The middle of something, unless something else lies over it there.
    async fn free_middle(&self, node: &Node) -> Outcome<Option<(f64, f64)>> {
        let (x, y) = self.middle(node).await?;
        Ok(self.is_free(node, x, y).await?.then_some((x, y)))
    }

    /// Whether what is topmost at a place belongs to this.
    async fn is_free(&self, node: &Node, x: f64, y: f64) -> Outcome<bool> {
        let free = "function(x, y) { const top = document.elementFromPoint(x, y); \
             return !!top && (this === top || this.contains(top) || top.contains(this) || \
             (this.labels ? [...this.labels].some(label => label.contains(top)) : false)); }";
        let call = json!({
            "objectId": self.element(node).await?, "functionDeclaration": free, "returnByValue": true,
            "arguments": [{ "value": x }, { "value": y }],
        });
        Ok(self.cdp("Runtime.callFunctionOn", call).await?["result"]["value"] == true)
    }

    /// Taps a place of the screen, in CSS pixels from its upper left corner.
    ///
    /// # Errors
    /// When the browser does not answer.
    pub async fn tap_at(&self, x: f64, y: f64) -> Outcome {
        if self.size == Size::Phone {
            let touch = json!({ "type": "touchStart", "touchPoints": [{ "x": x, "y": y }] });
            self.cdp("Input.dispatchTouchEvent", touch).await?;
            self.cdp("Input.dispatchTouchEvent", json!({ "type": "touchEnd", "touchPoints": [] })).await?;
            return Ok(());
        }
        for kind in ["mousePressed", "mouseReleased"] {
            let event = json!({ "type": kind, "x": x, "y": y, "button": "left", "clickCount": 1 });
            self.cdp("Input.dispatchMouseEvent", event).await?;
        }
        Ok(())
    }

    async fn element(&self, node: &Node) -> Outcome<String> {
        let answer = self.cdp("DOM.resolveNode", json!({ "backendNodeId": node.element })).await?;
        Ok(answer["object"]["objectId"].as_str().ok_or("the element went away")?.to_owned())
    }

    /// The middle of what is shown of it, in CSS pixels.
    ///
    /// # Errors
    /// When it has no place on the screen.
    pub async fn middle(&self, node: &Node) -> Outcome<(f64, f64)> {
        let [left, top, right, bottom] = self.bounds(node).await?;
        Ok(((left + right) / 2.0, (top + bottom) / 2.0))
    }

    /// Its left, top, right and bottom edge, in CSS pixels, scrolled into view.
    ///
    /// # Errors
    /// When it has no place on the screen.
    pub async fn bounds(&self, node: &Node) -> Outcome<[f64; 4]> {
        let element = self.element(node).await?;
        let measure = "function() { const box = () => this.getBoundingClientRect(); const b = box(); \
             const seen = document.elementFromPoint((b.left + b.right) / 2, (b.top + b.bottom) / 2); \
             if (!seen || !(this.contains(seen) || seen.contains(this))) \
             this.scrollIntoView({ block: 'center', inline: 'center', behavior: 'instant' }); \
             const { left, top, right, bottom } = box(); return [left, top, right, bottom]; }";
        let call = json!({ "objectId": element, "functionDeclaration": measure, "returnByValue": true });
        let answer = self.cdp("Runtime.callFunctionOn", call).await?;
        let edges: Vec<f64> = serde_json::from_value(answer["result"]["value"].clone())?;
        let edges: [f64; 4] = edges.try_into().map_err(|_| "the element has no bounds")?;
        let [left, top, right, bottom] = edges;
        if right - left < 1.0 || bottom - top < 1.0 {
            return Err(format!("the {} {:?} has no size", node.role, node.name).into());
        }
        Ok(edges)
    }

    /// Keeps a picture of the screen under `target/screens/`.
    ///
    /// # Errors
    /// When the browser gives none or it cannot be written.
    pub async fn picture(&self, name: &str) -> Outcome<PathBuf> {
        let answer = self.cdp("Page.captureScreenshot", json!({ "format": "png" })).await?;
        let body = BASE64_STANDARD.decode(answer["data"].as_str().ok_or("no picture")?)?;
        let folder = workspace().join("target/screens");
        fs::create_dir_all(&folder)?;
        let file = folder.join(format!("{name}.png"));
        fs::write(&file, body)?;
        Ok(file)
    }

    /// Waits until this page is served by the service worker, so that it needs no network any more.
    ///
    /// # Errors
    /// When no worker takes over.
    pub async fn kept_offline(&self) -> Outcome {
        let start = Instant::now();
        while self.evaluate("!!navigator.serviceWorker.controller").await? != true {
            if start.elapsed() > PATIENCE {
                return Err("no service worker took over the page".into());
            }
            sleep(Duration::from_millis(100)).await;
        }
        Ok(())
    }

    /// Cuts the network, and ends the server for real: its port refuses connections.
    ///
    /// # Errors
    /// When the browser does not answer.
    pub async fn walk_out_of_signal(&mut self) -> Outcome {
        self.server = None;
        let off = json!({ "offline": true, "latency": 0, "downloadThroughput": 0, "uploadThroughput": 0 });
        self.cdp("Network.enable", json!({})).await?;
        self.cdp("Network.emulateNetworkConditions", off).await?;
        Ok(())
    }

    /// Loads the page again, as a person would who closed it and came back.
    ///
    /// # Errors
    /// When the app does not come up.
    pub async fn reload(&self) -> Outcome {
        self.evaluate("window.beforeReload = true").await?;
        self.driver.refresh().await?;
        self.reloaded("beforeReload").await
    }

    /// Waits until the page has loaded again, which takes a mark off its window.
    ///
    /// # Errors
    /// When the app does not come up.
    pub async fn reloaded(&self, mark: &str) -> Outcome {
        let gone = format!("window.{mark} === undefined && document.readyState === 'complete'");
        let start = Instant::now();
        // While the page changes there may be nobody to answer.
        while !self.evaluate(&gone).await.is_ok_and(|done| done == true) {
            if start.elapsed() > PATIENCE {
                return Err("the page did not load again".into());
            }
            sleep(Duration::from_millis(60)).await;
        }
        self.first_screen().await
    }

    /// The errors in the browser's console since last asked.
    async fn complaints(&self) -> Outcome<Vec<String>> {
        let log = self.driver.browser_log().await?;
        Ok(log.into_iter().filter(|entry| entry.level == "SEVERE").map(|entry| entry.message).collect())
    }

    /// Fails unless the console complained, of this and of nothing else; then that is forgotten.
    ///
    /// # Errors
    /// With what it complained of.
    pub async fn complained_of(&self, what: &str) -> Outcome {
        let complaints = self.complaints().await?;
        let only = !complaints.is_empty() && complaints.iter().all(|line| line.contains(what));
        if only { Ok(()) } else { Err(format!("not of {what} alone: {complaints:#?}").into()) }
    }

    /// Fails when the browser's console complained of something.
    async fn no_complaints(&self) -> Outcome {
        let complaints = self.complaints().await?;
        // Out of signal the browser itself notes each request that found no server.
        let ours: Vec<_> =
            complaints.iter().filter(|line| self.server.is_some() || !line.contains("net::ERR_")).collect();
        if ours.is_empty() { Ok(()) } else { Err(format!("the console complained: {ours:#?}").into()) }
    }
}

impl Device for Phone {
    async fn look(&self) -> Outcome<Look> {
        Self::look(self).await
    }

    async fn tap_node(&self, node: &Node) -> Outcome {
        Self::tap_node(self, node).await
    }

    async fn type_into(&self, node: &Node, text: &str) -> Outcome {
        let select = json!({
            "objectId": self.element(node).await?,
            "functionDeclaration": "function() { this.focus(); this.select?.(); }",
        });
        self.cdp("Runtime.callFunctionOn", select).await?;
        self.cdp("Input.insertText", json!({ "text": text })).await?;
        Ok(())
    }

    async fn pick(&self, node: &Node, option: &str) -> Outcome<bool> {
        let choose = format!("function(text) {{ return ({CHOOSE})(this, text); }}");
        let call = json!({
            "objectId": self.element(node).await?, "functionDeclaration": choose, "returnByValue": true,
            "arguments": [{ "value": option }],
        });
        Ok(self.cdp("Runtime.callFunctionOn", call).await?["result"]["value"] == true)
    }

    async fn hand_over(&self, name: &str, file: &Path) -> Outcome {
        Self::hand_over(self, name, file).await
    }

    fn downloads(&self) -> PathBuf {
        self.home.0.join("downloads")
    }
}
