//! Who sees little, hears the screen, uses keys only or needs large letters can use every screen.
//!
//! axe-core, from outside the project, looks for what keeps people out (WCAG 2.0 to 2.2, levels A and AA, and
//! its own best practices). Text twice as large is success criterion 1.4.4, 320 px of width is 1.4.10; phones
//! of 390 and 360 px are the project's own bar. Every control by keyboard is 2.1.1.

use serde_json::json;
use std::{collections::BTreeSet, fs};
use swingtie_browser::{ALIKE, Outcome, Phone, Scheme, Size, THEMES, check, tour};
use swingtie_xtask::tools;

const FIT: &str = include_str!("../src/fit.js");

/// Its rules' findings, each with the first elements it is about.
const AXE: &str = "axe.run(document, { resultTypes: ['violations'] }).then(found => found.violations.map(one => \
    `${one.id}: ${one.help}: ${one.nodes.slice(0, 40).map(node => node.target.join(' ')).join(', ')}`))";

async fn axe(phone: &Phone, name: &str, findings: &mut Vec<String>) -> Outcome {
    for theme in THEMES {
        phone.theme(theme).await?;
        let found: Vec<String> = serde_json::from_value(phone.evaluate(AXE).await?)?;
        findings.extend(found.into_iter().map(|finding| format!("{name}, {theme}: {finding}")));
    }
    phone.theme(THEMES[0]).await
}

#[tokio::test]
async fn axe_finds_nothing_on_any_screen_in_any_theme() -> Outcome {
    let script = fs::read_to_string(tools::ensure_axe().map_err(|failure| failure.0)?)?;
    Phone::with("axe", Size::Phone, Scheme::Light, async |phone| {
        let mut findings = Vec::new();
        // The page never loads itself again on the way, so the script stays.
        phone.evaluate(&script).await?;
        tour(phone, &mut async |name: &str| axe(phone, name, &mut findings).await).await?;
        check(findings.is_empty(), &format!("{} findings:\n{}", findings.len(), findings.join("\n")))
    })
    .await
}

/// Text of the settings' large and extra large, and twice as large as usual, on two phones.
async fn enlarged(phone: &Phone, name: &str, findings: &mut Vec<String>) -> Outcome {
    for size in ["large", "extra", "200 %"] {
        let script = match size {
            "200 %" => "document.documentElement.style.setProperty('--big', '2')".to_owned(),
            kept => format!("localStorage.setItem('text', '{kept}'); swingtie.look()"),
        };
        phone.evaluate(&script).await?;
        for (width, height) in [(390, 844), (360, 640)] {
            phone.resize(width, height).await?;
            if width == 360 {
                phone.picture(&format!("large-{name}-{}", size.trim_end_matches(" %"))).await?;
            }
            let found: Vec<String> = serde_json::from_value(phone.evaluate(FIT).await?)?;
            findings.extend(found.into_iter().map(|finding| format!("{name}, {size}, {width}: {finding}")));
        }
    }
    let usual =
        "localStorage.removeItem('text'); document.documentElement.removeAttribute('style'); swingtie.look()";
    phone.evaluate(usual).await?;
    phone.resize(390, 844).await
}

#[tokio::test]
async fn large_text_is_neither_cut_off_nor_over_other_text() -> Outcome {
    Phone::with("large", Size::Phone, Scheme::Light, async |phone| {
        let mut findings = Vec::new();
        tour(phone, &mut async |name: &str| enlarged(phone, name, &mut findings).await).await?;
        check(findings.is_empty(), &format!("{} findings:\n{}", findings.len(), findings.join("\n")))
    })
    .await
}

/// Gives every control of the page a number, and says which the Tab key has to reach: all that are shown and
/// not switched off, of the drawing's points one.
const CONTROLS: &str = "(() => { const all = 'button, a[href], input, select, textarea, summary, [role=button]'; \
    const controls = [...(document.querySelector('dialog[open]') ?? document).querySelectorAll(all)].filter(e => e.checkVisibility({ visibilityProperty: true }) \
    && !e.disabled && !e.closest('.point')); \
    controls.forEach((e, i) => e.dataset.control = i); document.activeElement?.blur(); \
    return controls.map((e, i) => `${i} ${e.tagName} ${e.getAttribute('aria-label') ?? e.textContent.trim().slice(0, 40)}`); })()";
const FOCUSED: &str = "document.activeElement?.dataset?.control ?? ''";

async fn tab(phone: &Phone) -> Outcome<String> {
    for kind in ["rawKeyDown", "keyUp"] {
        let event = json!({ "type": kind, "key": "Tab", "code": "Tab", "windowsVirtualKeyCode": 9 });
        phone.command("Input.dispatchKeyEvent", event).await?;
    }
    Ok(phone.evaluate(FOCUSED).await?.as_str().unwrap_or_default().to_owned())
}

async fn by_keys(phone: &Phone, name: &str, findings: &mut Vec<String>) -> Outcome {
    let controls: Vec<String> = serde_json::from_value(phone.evaluate(CONTROLS).await?)?;
    let mut reached = BTreeSet::new();
    // Once round, with a few stops for the drawing's points, lists that scroll and the browser's own bar.
    for _ in 0..controls.len() + 12 {
        reached.insert(tab(phone).await?);
    }
    // A message that went by itself meanwhile cannot be reached any more.
    let here = "[...document.querySelectorAll('[data-control]')].map(e => e.dataset.control)";
    let here: BTreeSet<String> = serde_json::from_value(phone.evaluate(here).await?)?;
    reached.extend(
        controls
            .iter()
            .filter_map(|one| one.split(' ').next())
            .filter(|one| !here.contains(*one))
            .map(str::to_owned),
    );
    let missed = controls.iter().filter(|one| !reached.contains(one.split(' ').next().unwrap_or_default()));
    findings.extend(missed.map(|one| format!("{name}: the Tab key does not reach {one}")));
    Ok(())
}

#[tokio::test]
async fn every_control_is_reached_by_keyboard() -> Outcome {
    Phone::with("by-keys", Size::Desk, Scheme::Light, async |phone| {
        let mut findings = Vec::new();
        tour(phone, &mut async |name: &str| by_keys(phone, name, &mut findings).await).await?;
        check(findings.is_empty(), &format!("{} findings:\n{}", findings.len(), findings.join("\n")))
    })
    .await
}

/// Whatever moves by itself, and every part that would glide to where it goes.
const MOVING: &str = "[...document.getAnimations().map(one => `moves: ${one.animationName ?? one.transitionProperty}`), \
    ...[...document.querySelectorAll('body *')].filter(e => e.checkVisibility() && getComputedStyle(e).transitionDuration \
    .split(', ').some(time => parseFloat(time) > 0)).map(e => `glides: ${e.tagName} ${e.className}`)]";

/// As a system does that sets all colours, dark or light, and wants nothing to move.
async fn of_the_system(phone: &Phone, name: &str, findings: &mut Vec<String>) -> Outcome {
    for scheme in ["light", "dark"] {
        let features = json!([{ "name": "forced-colors", "value": "active" },
            { "name": "prefers-color-scheme", "value": scheme },
            { "name": "prefers-reduced-motion", "value": "reduce" }]);
        phone.command("Emulation.setEmulatedMedia", json!({ "features": features })).await?;
        phone.evaluate("swingtie.look()").await?;
        phone.picture(&format!("forced-{name}-{scheme}")).await?;
        for script in [MOVING, ALIKE] {
            let found: Vec<String> = serde_json::from_value(phone.evaluate(script).await?)?;
            findings.extend(found.into_iter().map(|finding| format!("{name}, {scheme}: {finding}")));
        }
    }
    Ok(())
}

#[tokio::test]
async fn colours_of_the_system_tell_all_apart_and_nothing_moves_where_none_is_wanted() -> Outcome {
    Phone::with("forced", Size::Phone, Scheme::Light, async |phone| {
        // Chosen before: the system's colours go first.
        phone.evaluate("localStorage.setItem('theme', 'dark')").await?;
        let mut findings = Vec::new();
        tour(phone, &mut async |name: &str| of_the_system(phone, name, &mut findings).await).await?;
        check(findings.is_empty(), &format!("{} findings:\n{}", findings.len(), findings.join("\n")))
    })
    .await
}
