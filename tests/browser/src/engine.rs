//! The app in any of the browser engines people have, driven by what they share: WebDriver as the W3C has it.
//!
//! What is on the screen is read by a script in the page (`look.js`); whatever is touched must be called the same by
//! the browser itself (Get Computed Role, Get Computed Label), and is touched by the browser's own pointer.

mod start;

use crate::{
    Outcome,
    device::{CHOOSE, Device, PATIENCE},
    screen::{Look, Node},
    start::Folder,
};
use base64::{Engine, prelude::BASE64_STANDARD};
use serde::Deserialize;
use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use start::Started;
use std::{
    cell::RefCell,
    fs,
    path::{Path, PathBuf},
    time::{Duration, Instant},
};
use swingtie_xtask::{dist, run::workspace, server::Server};
use thirtyfour::{
    By, Key, RequestData, SessionId, WebDriver, WebElement, common::command::FormatRequestData,
};
use tokio::time::sleep;

pub use start::Kind;

const LOOK: &str = include_str!("engine/look.js");
const WATCH: &str = include_str!("engine/watch.js");
/// Scrolls an element into sight, unless it is.
const IN_SIGHT: &str = "const it = arguments[0], b = it.getBoundingClientRect(); \
    const seen = document.elementFromPoint((b.left + b.right) / 2, (b.top + b.bottom) / 2); \
    if (!it.contains(seen)) it.scrollIntoView({ block: 'center', inline: 'center', behavior: 'instant' });";
/// Where an element lies once it is in sight; none while something else lies over its middle. From now on the page notes
/// what is hit: nothing where it is the element.
const PLACE: &str = "const it = arguments[0], b = it.getBoundingClientRect(); \
    const seen = document.elementFromPoint((b.left + b.right) / 2, (b.top + b.bottom) / 2); \
    window.swingtieHit = null; \
    addEventListener('click', ({ target }) => { window.swingtieHit = it.contains(target) || target.contains(it) ? '' : \
    target.outerHTML.slice(0, 80); }, { capture: true, once: true }); \
    return it.contains(seen) ? `${b.left} ${b.top} ${b.right} ${b.bottom}` : null;";
/// What was hit; nothing, too, where the page is another one since. None while nothing was.
const HIT: &str = "return window.swingtieHit === undefined ? '' : window.swingtieHit";
/// So long may something be covered, or move, while the screen settles.
const SETTLING: Duration = Duration::from_secs(6);

/// A browser with the app on it. The fields end in the order they stand in: the browser before its driver, both before
/// their folders.
#[derive(Debug)]
pub struct Browser {
    kind: Kind,
    driver: WebDriver,
    _processes: Started,
    home: Folder,
    server: RefCell<Option<Server>>,
    _served: Folder,
    port: u16,
}

/// A command of the W3C's WebDriver that asks an element for something its engine has worked out.
#[derive(Debug)]
struct Computed<'a> {
    element: &'a str,
    what: &'static str,
}

impl FormatRequestData for Computed<'_> {
    fn format_request(&self, session: &SessionId) -> RequestData {
        let path = format!("session/{session}/element/{}/{}", self.element, self.what);
        RequestData::new(http::Method::GET, path)
    }
}

impl Browser {
    /// Opens the built app in a browser of this kind, does what is said, and closes. What goes wrong is told together
    /// with what was on the screen; a picture of it is kept under the name.
    ///
    /// # Errors
    /// Whatever goes wrong, among it anything that the page complains of.
    pub async fn with(kind: Kind, name: &str, body: impl AsyncFnOnce(&Self) -> Outcome) -> Outcome {
        let browser = Self::open(kind).await?;
        let mut outcome = body(&browser).await;
        if outcome.is_ok() {
            outcome = browser.no_complaints().await;
        }
        if let Err(error) = outcome {
            let name = format!("failed-{name}-{}", kind.name());
            let picture = browser.picture(&name).await;
            let seen = browser.look().await.map(|look| look.to_string()).unwrap_or_default();
            let said = browser.complaints().await.unwrap_or_default().join("\n");
            let told = format!(
                "{}: {error}\non the screen:\n{seen}\nthe page complained of:\n{said}\npicture: {picture:?}",
                kind.name()
            );
            browser.driver.clone().quit().await?;
            return Err(Box::new(crate::phone::Told(told)));
        }
        browser.driver.clone().quit().await?;
        Ok(())
    }

    async fn open(kind: Kind) -> Outcome<Self> {
        let served = watched()?;
        let server = Server::start(&served.0, 0)?;
        let home = Folder::new()?;
        let (driver, processes) = start::start(kind, &home).await?;
        let port = server.port();
        let browser = Self {
            kind,
            driver,
            _processes: processes,
            home,
            server: RefCell::new(Some(server)),
            _served: served,
            port,
        };
        browser.driver.goto(browser.url()).await?;
        browser.first_screen().await?;
        Ok(browser)
    }

    fn url(&self) -> String {
        format!("http://127.0.0.1:{}/", self.port)
    }

    /// Which browser it is.
    #[must_use]
    pub const fn kind(&self) -> Kind {
        self.kind
    }

    /// Runs a script's expression in the page and hands back its value, awaited.
    ///
    /// # Errors
    /// When it throws.
    pub async fn evaluate(&self, expression: &str) -> Outcome<Value> {
        let script = format!(
            "const done = arguments[arguments.length - 1]; \
             (async () => ({expression}))().then(value => done({{ value }}), why => done({{ why: String(why) }}));"
        );
        let answer = self.driver.execute_async(script, vec![]).await?.json().clone();
        if let Some(why) = answer["why"].as_str() {
            return Err(format!("{expression}: {why}").into());
        }
        Ok(answer["value"].clone())
    }

    /// Waits until an expression holds in the page: for what has no name to find it by.
    ///
    /// # Errors
    /// When it does not in time.
    pub async fn wait_for(&self, expression: &str) -> Outcome {
        let start = Instant::now();
        // While the page changes there may be nobody to answer.
        while !self.evaluate(expression).await.is_ok_and(|holds| holds == true) {
            if start.elapsed() > PATIENCE {
                return Err(format!("waited {} s for {expression}", PATIENCE.as_secs()).into());
            }
            sleep(Duration::from_millis(60)).await;
        }
        Ok(())
    }

    /// Keeps a picture of the screen under `target/screens/`.
    ///
    /// # Errors
    /// When the browser gives none or it cannot be written.
    pub async fn picture(&self, name: &str) -> Outcome<PathBuf> {
        let folder = workspace().join("target/screens");
        fs::create_dir_all(&folder)?;
        let file = folder.join(format!("{name}.png"));
        fs::write(&file, self.driver.screenshot_as_png().await?)?;
        Ok(file)
    }

    /// Taps a place of the screen, in CSS pixels from its upper left corner.
    ///
    /// # Errors
    /// When the browser does not answer.
    pub async fn tap_at(&self, x: i64, y: i64) -> Outcome {
        self.driver.action_chain().move_to(x, y).click().perform().await?;
        Ok(())
    }

    /// Waits until this page is served by the service worker, so that it needs no network any more.
    ///
    /// # Errors
    /// When no worker takes over.
    pub async fn kept_offline(&self) -> Outcome {
        self.wait_for("!!navigator.serviceWorker.controller").await
    }

    /// Ends the server for real: its port refuses connections.
    pub fn walk_out_of_signal(&self) {
        self.server.take();
    }

    /// Loads the page again, as a person would who closed it and came back.
    ///
    /// # Errors
    /// When the app does not come up.
    pub async fn reload(&self) -> Outcome {
        // As the page does it: a driver's own way may go past the service worker (Firefox's does).
        self.evaluate("(window.beforeReload = true, setTimeout(() => location.reload()), 0)").await?;
        self.wait_for("window.beforeReload === undefined && document.readyState === 'complete'").await?;
        // MiniBrowser shows a bar for each download, which takes of the page's height.
        if self.kind == Kind::WebKit {
            start::fit(&self.driver).await?;
        }
        self.first_screen().await
    }

    /// The element of something seen, called the same by the browser itself. Where the page put another of the same
    /// role and name in its place since it was looked at, that one: nothing was touched yet.
    async fn element(&self, node: &Node) -> Outcome<WebElement> {
        let (start, mut node) = (Instant::now(), node.clone());
        loop {
            let told = match self.called_the_same(&node).await {
                Ok(element) => return Ok(element),
                Err(error) => error,
            };
            if start.elapsed() > SETTLING {
                return Err(told);
            }
            sleep(Duration::from_millis(60)).await;
            let look = self.look().await?;
            node = look.find(&node.role, &node.name).ok_or(told)?.clone();
        }
    }

    /// The element that was seen, while it is on the page and the browser itself calls it as the script that looks.
    async fn called_the_same(&self, node: &Node) -> Outcome<WebElement> {
        const SCRIPT: &str =
            "const it = window.swingtieSeen.elements[arguments[0]]; return it?.isConnected ? it : null";
        let element = self.driver.execute(SCRIPT, vec![json!(node.element)]).await?.element()?;
        let id = element.element_id().to_string();
        let ask = async |what| {
            let asked = Computed { element: &id, what };
            Ok::<_, Box<dyn std::error::Error>>(self.driver.cmd(asked).await?.value::<String>()?)
        };
        let (role, name) = (ask("computedrole").await?, ask("computedlabel").await?);
        let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
        if self.kind.means(node, &role, &name) {
            return Ok(element);
        }
        let (wanted, browser) = (format!("{} {:?}", node.role, node.name), self.kind.name());
        Err(format!("the {wanted} is a {role} {name:?} to {browser}").into())
    }

    /// Taps something once it holds still with nothing over it; what was hit in its place, if that was something else.
    async fn click(&self, node: &Node) -> Outcome<String> {
        let element = self.element(node).await?;
        // As who scrolls on does: WebKit's driver moves only what lies outside the window, not what its own list hides.
        self.driver.execute(IN_SIGHT, vec![element.to_json()?]).await?;
        let (mut before, mut still) = (Value::Null, 0);
        while still < 2 {
            let place = self.driver.execute(PLACE, vec![element.to_json()?]).await?.json().clone();
            if place.is_null() {
                return Err("something lies over it".into());
            }
            still = if place == before { still + 1 } else { 0 };
            before = place;
            sleep(Duration::from_millis(40)).await;
        }
        element.click().await?;
        // The page may hear of it a little later than its driver.
        let clicked = Instant::now();
        loop {
            match self.driver.execute(HIT, vec![]).await {
                Ok(hit) if hit.json().is_null() => {
                    if clicked.elapsed() > SETTLING {
                        return Err("the tap did not reach the page".into());
                    }
                    sleep(Duration::from_millis(40)).await;
                }
                Ok(hit) => return Ok(hit.json().as_str().unwrap_or_default().to_owned()),
                // The tap loads another page.
                Err(_) => return Ok(String::new()),
            }
        }
    }

    /// What went wrong in the page since it was opened.
    async fn complaints(&self) -> Outcome<Vec<String>> {
        let all = self.evaluate("JSON.parse(sessionStorage.getItem('tests: complaints') ?? '[]')").await?;
        Ok(serde_json::from_value(all)?)
    }

    async fn no_complaints(&self) -> Outcome {
        let all = self.complaints().await?;
        if all.is_empty() { Ok(()) } else { Err(format!("the page complained: {all:#?}").into()) }
    }
}

/// The screen as `look.js` tells it.
#[derive(Deserialize)]
struct Seen {
    role: String,
    name: String,
    value: String,
    element: i64,
    #[serde(default)]
    disabled: bool,
    #[serde(default)]
    on: bool,
}

impl Device for Browser {
    async fn look(&self) -> Outcome<Look> {
        let seen: Vec<Seen> = self.driver.execute(LOOK, vec![]).await?.convert()?;
        let node = |Seen { role, name, value, element, disabled, on }| Node {
            role,
            name,
            description: String::new(),
            value,
            disabled,
            on,
            element,
        };
        Ok(Look { nodes: seen.into_iter().map(node).collect() })
    }

    async fn tap_node(&self, node: &Node) -> Outcome {
        let start = Instant::now();
        // A message may lie over it for a while, or the page make it anew.
        loop {
            match self.click(node).await {
                Ok(instead) if instead.is_empty() => return Ok(()),
                Ok(instead) => {
                    return Err(format!("the tap on {} {:?} hit {instead}", node.role, node.name).into());
                }
                Err(error) if start.elapsed() > SETTLING => {
                    return Err(format!("the {} {:?}: {error}", node.role, node.name).into());
                }
                Err(_) => sleep(Duration::from_millis(60)).await,
            }
        }
    }

    async fn type_into(&self, node: &Node, text: &str) -> Outcome {
        let element = self.element(node).await?;
        // The pen stands behind what is written: that goes first, key by key.
        let back = Key::Backspace.value().to_string().repeat(node.value.chars().count());
        element.send_keys(format!("{back}{text}")).await?;
        Ok(())
    }

    async fn pick(&self, node: &Node, option: &str) -> Outcome<bool> {
        let element = self.element(node).await?;
        let script = format!("return ({CHOOSE})(arguments[0], arguments[1])");
        let done = self.driver.execute(script, vec![element.to_json()?, json!(option)]).await?;
        Ok(done.json() == true)
    }

    async fn hand_over(&self, name: &str, file: &Path) -> Outcome {
        let field = format!("input[type=file][aria-label='{name}']");
        self.wait_for(&format!("!!document.querySelector(\"{field}\")")).await?;
        let field = self.driver.find(By::Css(field)).await?;
        field.send_keys(file.to_string_lossy()).await?;
        Ok(())
    }

    fn downloads(&self) -> PathBuf {
        self.home.0.join("downloads")
    }
}

/// A copy of the build whose start-up script has `watch.js` before it; the service worker is told the sum of that.
fn watched() -> Outcome<Folder> {
    let from = dist::folder();
    if !from.join("index.html").is_file() {
        return Err("there is no build to test: run `cargo xtask build` first".into());
    }
    let to = Folder::new()?;
    let sum = |body: &[u8]| BASE64_STANDARD.encode(Sha256::digest(body));
    let mut worker = fs::read_to_string(from.join("sw.js"))?;
    for path in dist::paths(&from)? {
        let mut body = fs::read(from.join(&path))?;
        if path.starts_with("start-") {
            let with = [WATCH.as_bytes(), &body].concat();
            worker = worker.replace(&sum(&body), &sum(&with));
            body = with;
        }
        let file = to.0.join(&path);
        fs::create_dir_all(file.parent().ok_or("a file without a folder")?)?;
        fs::write(file, body)?;
    }
    fs::write(to.0.join("sw.js"), worker)?;
    Ok(to)
}
