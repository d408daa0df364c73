//! Each kind of browser and its driver, started for one test and gone after it.

use crate::{Outcome, screen::Node, start::Folder};
use serde_json::{Value, json};
use std::{
    fs::{self, File},
    net::{Ipv4Addr, TcpListener, TcpStream},
    path::{Path, PathBuf},
    process::Stdio,
    time::{Duration, Instant},
};
use swingtie_xtask::tools;
use thirtyfour::{Capabilities, WebDriver};
use tokio::{
    io::{AsyncBufReadExt, BufReader},
    process::{Child, Command},
    time::sleep,
};

/// What the page is shown in, CSS pixels; a browser that can be no narrower is as narrow as it can.
const SIZE: (u32, u32) = (390, 844);
/// How long a driver may take to answer.
const PATIENCE: Duration = Duration::from_secs(20);

/// A kind of browser, by the engine that is in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Blink: what most phones and desks have.
    Chromium,
    /// Gecko.
    Firefox,
    /// WebKit, in every browser of an iPhone; here its port to GTK.
    WebKit,
}

impl Kind {
    /// What it is called.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Chromium => "Chromium",
            Self::Firefox => "Firefox",
            Self::WebKit => "WebKit",
        }
    }

    /// Whether what it tells of an element is what the tests call it: role and name, blanks made single.
    pub(super) fn means(self, node: &Node, role: &str, name: &str) -> bool {
        let role_fits = match (self, node.role.as_str()) {
            // HTML has no role of ARIA for what opens details: each browser has a name of its own.
            (_, "DisclosureTriangle") => true,
            (_, "image") => matches!(role, "image" | "img"),
            // WebKit has a list for a button that opens a menu, and takes the name of what is chosen into it.
            (Self::WebKit, "combobox") => role == "button",
            (_, wanted) => role == wanted,
        };
        let chosen = || name.strip_prefix(&node.name).is_some_and(|rest| rest.trim() == node.value);
        role_fits && (name == node.name || (self == Self::WebKit && node.role == "combobox" && chosen()))
    }
}

/// What runs for a browser besides it. Dropping it ends it.
#[derive(Debug)]
pub(super) struct Started {
    _driver: Child,
    _display: Option<Child>,
}

/// Starts a browser of a kind on a profile of its own.
pub(super) async fn start(kind: Kind, home: &Folder) -> Outcome<(WebDriver, Started)> {
    let downloads = home.0.join("downloads");
    fs::create_dir_all(&downloads)?;
    // Free when it was asked for; nobody else here asks for ports that are said.
    let port = TcpListener::bind((Ipv4Addr::LOCALHOST, 0))?.local_addr()?.port();
    let (program, wishes) = match kind {
        Kind::Chromium => (PathBuf::from("chromedriver"), chromium(home, &downloads)?),
        Kind::Firefox => (PathBuf::from("geckodriver"), firefox(&downloads)?),
        Kind::WebKit => (PathBuf::from("WebKitWebDriver"), webkit()?),
    };
    let mut command = Command::new(program);
    command.arg(format!("--port={port}")).stdin(Stdio::null()).kill_on_drop(true);
    // Firefox's is in cargo's own folder.
    command.env("PATH", tools::path(None).map_err(|failure| failure.0)?);
    let log = home.0.join("driver.log");
    let said = File::create(&log)?;
    command.stdout(said.try_clone()?).stderr(said);
    let mut display = None;
    if kind == Kind::WebKit {
        let (number, server) = screen().await?;
        display = Some(server);
        // Downloads go where the desk's user folders say.
        let config = home.0.join(".config");
        fs::create_dir_all(&config)?;
        fs::write(config.join("user-dirs.dirs"), format!("XDG_DOWNLOAD_DIR=\"{}\"\n", downloads.display()))?;
        command.env("DISPLAY", format!(":{number}")).env("XDG_CONFIG_HOME", config);
        command.env("HOME", &home.0).env("XDG_DATA_HOME", home.0.join("data")).env("NO_AT_BRIDGE", "1");
        command.env("XDG_CACHE_HOME", home.0.join("cache"));
    }
    let missing =
        |error| format!("cannot start {}'s driver: {error} (cargo xtask test installs it)", kind.name());
    let driver = command.spawn().map_err(missing)?;
    let started = Started { _driver: driver, _display: display };
    let begun = Instant::now();
    while TcpStream::connect((Ipv4Addr::LOCALHOST, port)).is_err() {
        if begun.elapsed() > PATIENCE {
            return Err(format!("{}'s driver does not answer", kind.name()).into());
        }
        sleep(Duration::from_millis(30)).await;
    }
    let opened = WebDriver::new(format!("http://127.0.0.1:{port}"), wishes).await;
    let driver = opened.map_err(|error| {
        format!("{}: {error}\n{}", kind.name(), fs::read_to_string(&log).unwrap_or_default())
    })?;
    if kind != Kind::Chromium {
        fit(&driver).await?;
    }
    Ok((driver, started))
}

/// Makes the window so large that the page in it has its height.
pub(super) async fn fit(driver: &WebDriver) -> Outcome {
    let inner: u32 = driver.execute("return innerHeight", vec![]).await?.convert()?;
    let rect = driver.get_window_rect().await?;
    let height = u32::try_from(rect.height)? + SIZE.1;
    driver.set_window_rect(0, 0, SIZE.0, height.saturating_sub(inner)).await?;
    Ok(())
}

fn wishes(browser: &str, key: &str, options: Value) -> Outcome<Capabilities> {
    let mut wishes = Capabilities::new();
    wishes.set("browserName", browser)?;
    wishes.set(key, options)?;
    Ok(wishes)
}

fn chromium(home: &Folder, downloads: &Path) -> Outcome<Capabilities> {
    let program = tools::chromium().ok_or("no Chromium found (cargo xtask test installs it)")?;
    let options = json!({
        "binary": program,
        "args": ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-dev-shm-usage",
            "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync",
            "--lang=en-US", format!("--user-data-dir={}", home.0.join("profile").display())],
        "prefs": { "download.default_directory": downloads, "download.prompt_for_download": false,
            // Several files at once, which a person is asked about.
            "profile.default_content_setting_values.automatic_downloads": 1 },
        "mobileEmulation": { "deviceMetrics":
            { "width": SIZE.0, "height": SIZE.1, "pixelRatio": 2.0, "touch": true, "mobile": true } },
    });
    wishes("chrome", "goog:chromeOptions", options)
}

fn firefox(downloads: &Path) -> Outcome<Capabilities> {
    let program = tools::firefox().ok_or("no Firefox found (cargo xtask test installs it)")?;
    let options = json!({
        "binary": program,
        "args": ["-headless"],
        "prefs": {
            "browser.download.folderList": 2, "browser.download.dir": downloads,
            "browser.download.useDownloadDir": true, "browser.download.alwaysOpenPanel": false,
            "browser.download.always_ask_before_handling_new_types": false, "pdfjs.disabled": true,
            "intl.accept_languages": "en-US",
        },
    });
    wishes("firefox", "moz:firefoxOptions", options)
}

fn webkit() -> Outcome<Capabilities> {
    let program = tools::mini_browser().ok_or("no MiniBrowser found (cargo xtask test installs it)")?;
    wishes("MiniBrowser", "webkitgtk:browserOptions", json!({ "binary": program, "args": ["--automation"] }))
}

/// A screen that nobody sees, for a browser that needs one; its number.
async fn screen() -> Outcome<(u32, Child)> {
    let mut server = Command::new("Xvfb")
        .args(["-displayfd", "1", "-screen", "0", "1280x2400x24", "-nolisten", "tcp"])
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .kill_on_drop(true)
        .spawn()
        .map_err(|error| format!("cannot start Xvfb: {error} (cargo xtask test installs it)"))?;
    let stdout = server.stdout.take().ok_or("Xvfb has no output")?;
    let line = BufReader::new(stdout).lines().next_line().await?.ok_or("Xvfb names no screen")?;
    Ok((line.trim().parse()?, server))
}
