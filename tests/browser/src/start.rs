//! A browser and its driver, started for one test and gone after it.

use crate::{Outcome, Scheme, Size};
use serde_json::json;
use std::{
    env, fs,
    path::PathBuf,
    process::Stdio,
    sync::atomic::{AtomicUsize, Ordering},
};
use swingtie_xtask::tools;
use thirtyfour::{ChromiumLikeCapabilities, DesiredCapabilities, LoggingPrefsLogLevel, WebDriver};
use tokio::{
    io::{AsyncBufReadExt, BufReader},
    process::{Child, Command},
};

/// A folder that goes with its owner.
#[derive(Debug)]
pub(crate) struct Folder(pub(crate) PathBuf);

impl Folder {
    pub(crate) fn new() -> Outcome<Self> {
        static NEXT: AtomicUsize = AtomicUsize::new(0);
        let number = NEXT.fetch_add(1, Ordering::Relaxed);
        let path = env::temp_dir().join(format!("swingtie-browser-{}-{number}", std::process::id()));
        fs::create_dir_all(&path)?;
        Ok(Self(path))
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        // A folder the system clears anyway.
        let _ = fs::remove_dir_all(&self.0);
    }
}

/// Starts the driver on a port of its choice. It ends with the returned child.
pub(crate) async fn driver_process() -> Outcome<(Child, u16)> {
    let mut child = Command::new("chromedriver")
        .arg("--port=0")
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .kill_on_drop(true)
        .spawn()
        .map_err(|error| format!("cannot start chromedriver: {error} (cargo xtask test installs it)"))?;
    let stdout = child.stdout.take().ok_or("chromedriver has no output")?;
    let mut lines = BufReader::new(stdout).lines();
    while let Some(line) = lines.next_line().await? {
        let port = line.split("on port ").nth(1).and_then(|rest| rest.trim_end_matches('.').parse().ok());
        if let (Some(port), true) = (port, line.contains("successfully")) {
            // Reads on, so that the driver never waits for a reader.
            tokio::spawn(async move { while let Ok(Some(_)) = lines.next_line().await {} });
            return Ok((child, port));
        }
    }
    Err("chromedriver ended before it named its port".into())
}

/// Opens a browser with a profile of its own.
pub(crate) async fn browser(port: u16, home: &Folder, size: Size, scheme: Scheme) -> Outcome<WebDriver> {
    let mut wishes = DesiredCapabilities::chrome();
    let program = tools::chromium().ok_or("no Chromium found (cargo xtask test installs it)")?;
    wishes.set_binary(&program.to_string_lossy())?;
    let profile = format!("--user-data-dir={}", home.0.join("profile").display());
    let flags = [
        "--headless=new",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--disable-dev-shm-usage",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--lang=en-US",
        // The whole page must lie within it, below the browser's own bars: what lies outside is never on the glass, and
        // Event Timing then waits for whatever changes next within it.
        "--window-size=1400,1100",
        &profile,
    ];
    for flag in flags {
        wishes.add_arg(flag)?;
    }
    wishes.set_browser_log_level(LoggingPrefsLogLevel::All)?;
    let driver = WebDriver::new(format!("http://127.0.0.1:{port}"), wishes).await?;
    let cdp = driver.cdp();
    let (width, height, density, touched) = match size {
        Size::Phone => (390, 844, 2, true),
        Size::Desk => (1280, 800, 1, false),
    };
    let metrics =
        json!({ "width": width, "height": height, "deviceScaleFactor": density, "mobile": touched });
    cdp.send_raw("Emulation.setDeviceMetricsOverride", metrics).await?;
    let touch = json!({ "enabled": touched, "maxTouchPoints": if touched { 5 } else { 1 } });
    cdp.send_raw("Emulation.setTouchEmulationEnabled", touch).await?;
    let value = if scheme == Scheme::Dark { "dark" } else { "light" };
    let media = json!({ "features": [{ "name": "prefers-color-scheme", "value": value }] });
    cdp.send_raw("Emulation.setEmulatedMedia", media).await?;
    let downloads = home.0.join("downloads");
    fs::create_dir_all(&downloads)?;
    let behaviour = json!({ "behavior": "allow", "downloadPath": downloads });
    cdp.send_raw("Browser.setDownloadBehavior", behaviour).await?;
    Ok(driver)
}

/// What is resident of the renderers that descend from this process, in bytes (proc(5): `statm`'s second field is the
/// resident pages).
pub(crate) fn page_memory(driver: u32) -> Outcome<u64> {
    const PAGE: u64 = 4096;
    let mut pages = 0;
    for id in family(driver)? {
        // A process may end while it is looked at.
        let read = |file: &str| fs::read_to_string(format!("/proc/{id}/{file}")).unwrap_or_default();
        if read("cmdline").contains("--type=renderer") {
            pages += read("statm")
                .split_whitespace()
                .nth(1)
                .and_then(|n| n.parse::<u64>().ok())
                .unwrap_or_default();
        }
    }
    Ok(pages * PAGE)
}

/// This process and all that descend from it (proc(5): `stat`'s fourth field is the parent).
pub(crate) fn family(first: u32) -> Outcome<Vec<u32>> {
    let mut all = Vec::new();
    for entry in fs::read_dir("/proc")?.flatten() {
        let Some(id) = entry.file_name().to_str().and_then(|name| name.parse::<u32>().ok()) else { continue };
        let stat = fs::read_to_string(entry.path().join("stat")).unwrap_or_default();
        let parent =
            stat.rsplit(')').next().and_then(|rest| rest.split_whitespace().nth(1)?.parse::<u32>().ok());
        all.push((id, parent.unwrap_or_default()));
    }
    let (mut family, mut known) = (vec![first], 0);
    while known < family.len() {
        known = family.len();
        for (id, parent) in &all {
            if family.contains(parent) && !family.contains(id) {
                family.push(*id);
            }
        }
    }
    Ok(family)
}
