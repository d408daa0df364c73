//! The whole app in its second language: nothing is left in English but what was written so, and no screen is too wide
//! for a page of 320 px (WCAG 2.2, 1.4.10 Reflow).

use serde_json::Value;
use std::{
    collections::BTreeMap,
    time::{Duration, Instant},
};
use swingtie_browser::{Outcome, Phone, Scheme, Size, check};
use swingtie_xtask::{languages, run::workspace};
use tokio::time::sleep;

/// All texts that are read on the page, those of names too, each with the lines of its element.
const READ: &str = "(() => { const said = new Set(); \
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT); \
    while (walk.nextNode()) { const text = walk.currentNode.data.trim(); if (text) said.add(text); } \
    for (const node of document.querySelectorAll('*')) \
        for (const name of ['aria-label', 'placeholder', 'title', 'alt']) \
            if (node.getAttribute(name)) said.add(node.getAttribute(name).trim()); \
    return [...said]; })()";

/// How far the page is wider than the window, in px.
const TOO_WIDE: &str = "document.documentElement.scrollWidth - document.documentElement.clientWidth";

/// Words that are broken in their middle: no room was left for them.
const BROKEN: &str = "(() => { const found = []; const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT); \
    while (walk.nextNode()) { const node = walk.currentNode, e = node.parentElement; \
        if (!e.checkVisibility({ visibilityProperty: true }) || e.closest('svg, option, textarea, .unseen')) continue; \
        for (const { 0: word, index } of node.data.matchAll(/[\\p{L}]{4,}/gu)) { const range = document.createRange(); \
            range.setStart(node, index); range.setEnd(node, index + word.length); \
            if (new Set([...range.getClientRects()].map(b => Math.round(b.top))).size > 1) found.push(word); } } \
    return found; })()";

struct Spanish(BTreeMap<String, String>);

impl Spanish {
    fn read() -> Outcome<Self> {
        let texts =
            languages::texts(&workspace().join("public/words/es.po")).map_err(|error| error.to_string())?;
        let other = texts.into_iter().filter_map(|(english, other)| Some((english, other?)));
        Ok(Self(other.filter(|(english, other)| english != other).collect()))
    }

    fn of(&self, english: &str) -> Outcome<&str> {
        Ok(self.0.get(english).ok_or_else(|| format!("{english:?} has no Spanish"))?)
    }
}

/// What stands on the screen once it is all there: what is fetched or worked out comes piece by piece.
async fn read(phone: &Phone) -> Outcome<Vec<String>> {
    let (start, mut before) = (Instant::now(), Value::Null);
    loop {
        let now = phone.evaluate(READ).await?;
        if now == before || start.elapsed() > Duration::from_secs(10) {
            return Ok(serde_json::from_value(now)?);
        }
        before = now;
        sleep(Duration::from_millis(300)).await;
    }
}

async fn look(phone: &Phone, spanish: &Spanish, name: &str, findings: &mut Vec<String>) -> Outcome {
    let read = read(phone).await?;
    check(read.len() > 3, &format!("{name} says nothing: {read:?}"))?;
    for text in &read {
        if let Some(english) = languages::english_in(text, &spanish.0) {
            findings.push(format!("{name}: {text:?} is English ({english:?})"));
        }
    }
    phone.picture(&format!("spanish-{name}")).await?;
    for (width, height) in [(320, 640), (390, 844)] {
        phone.resize(width, height).await?;
        let over = phone.evaluate(TOO_WIDE).await?.as_f64().unwrap_or(f64::NAN);
        if over != 0.0 {
            findings.push(format!("{name}: {over} px too wide at {width} px"));
        }
    }
    let broken: Vec<String> = serde_json::from_value(phone.evaluate(BROKEN).await?)?;
    findings.extend(broken.into_iter().map(|word| format!("{name}: {word:?} is broken in its middle")));
    Ok(())
}

#[tokio::test]
async fn nothing_is_english_and_nothing_too_wide() -> Outcome {
    let spanish = Spanish::read()?;
    Phone::with("spanish", Size::Phone, Scheme::Light, async |phone| {
        // By the settings, as somebody would who cannot read English.
        phone.tap("link", "Settings").await?;
        phone.tap("button", "Español").await?;
        phone.find("heading", spanish.of("Settings")?).await?;
        check(phone.evaluate("document.documentElement.lang").await? == "es", "the page's language")?;
        let mut findings = Vec::new();
        look(phone, &spanish, "settings", &mut findings).await?;
        phone.tap("link", spanish.of("All sites")?).await?;
        phone.find("link", spanish.of("New site")?).await?;
        look(phone, &spanish, "sites", &mut findings).await?;
        phone.tap("button", spanish.of("Look at a demo yard")?).await?;
        phone.find("button", spanish.of("Measure")?).await?;
        look(phone, &spanish, "plan", &mut findings).await?;
        phone.tap("button", spanish.of("Measure")?).await?;
        phone.find("heading", spanish.of("Tape between two points")?).await?;
        look(phone, &spanish, "measure", &mut findings).await?;
        let site = phone.evaluate("location.hash.split('/')[2]").await?;
        let site = site.as_str().ok_or("no site is open")?;
        for (screen, heading) in [
            ("book", "Book"),
            ("problems", "Problems"),
            ("add-problem", "Add a problem"),
            ("add-mark", "Add a utility mark"),
            ("things", "Things in the yard"),
            ("notes", "Notes"),
            ("sheet", "Plan to scale"),
            ("before-you-leave", "Before you leave"),
            ("details", "Site details"),
            ("heights", "Heights"),
            ("photos", "Photos"),
            ("changes", "What changed"),
            ("send", "What leaves this device"),
            ("questions", "Questions"),
            ("settings", "Settings"),
        ] {
            phone.evaluate(&format!("location.hash = '#/site/{site}/{screen}'")).await?;
            phone.find("heading", spanish.of(heading)?).await?;
            look(phone, &spanish, screen, &mut findings).await?;
        }
        check(findings.is_empty(), &format!("{} findings:\n{}", findings.len(), findings.join("\n")))
    })
    .await
}
