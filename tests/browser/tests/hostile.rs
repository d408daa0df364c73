//! The report and the drawing of a yard whose every word is hostile, opened in a browser: nothing runs, nothing is fetched,
//! and the page is one for a phone and for a screen reader all the same.

use serde_json::json;
use std::fs;
use swingtie_browser::{Outcome, Phone, Scheme, Scratch, Size, check};
use swingtie_tests::hostile::{WORDS, book, files};
use swingtie_xtask::tools;

/// Opens a file of the folder and waits until all of it is there.
async fn open(phone: &Phone, name: &str) -> Outcome {
    let origin = phone.evaluate("location.origin").await?;
    let url = format!("{}/{name}", origin.as_str().ok_or("no origin")?);
    phone.command("Page.navigate", json!({ "url": url })).await?;
    let there = format!(
        "new Promise(done => {{ const look = () => location.pathname === '/{name}' && document.readyState === 'complete' \
         ? done(true) : setTimeout(look, 20); look(); }})"
    );
    check(phone.evaluate(&there).await? == true, "it did not open")
}

/// What ran or was fetched. A resource is whatever the browser lists (Resource Timing), but for pictures in the page and the icon
/// that it asks for by itself.
async fn happened(phone: &Phone) -> Outcome<String> {
    let told = "JSON.stringify([window.ran ?? 0, document.scripts?.length ?? 0, \
        performance.getEntriesByType('resource').map(one => one.name).filter(name => \
        !name.startsWith('data:') && !name.endsWith('/favicon.ico'))])";
    Ok(phone.evaluate(told).await?.as_str().unwrap_or("nothing told").to_owned())
}

#[tokio::test]
async fn nothing_runs_in_report_and_drawing_of_a_hostile_yard() -> Outcome {
    let scratch = Scratch::new("hostile")?;
    // The very words, unescaped: this is how it would look if they ran.
    scratch.file(
        "index.html",
        format!("<!DOCTYPE html><title>c</title><p>Control</p>{}", "<script>window.ran=1</script>"),
    )?;
    // The browser asks for it where a page names none.
    scratch.file("favicon.ico", "")?;
    for first in 0..WORDS.len() {
        for (name, text) in files(&book(first))
            .into_iter()
            .filter(|(name, _)| matches!(name.as_str(), "plan.svg" | "report.html"))
        {
            scratch.file(&format!("{first}-{name}"), &text)?;
        }
    }
    let axe = fs::read_to_string(tools::ensure_axe().map_err(|failure| failure.0)?)?;
    Phone::open_folder(scratch.folder(), "hostile", Size::Phone, Scheme::Light, async |phone| {
        check(happened(phone).await?.starts_with("[1,1,"), "what runs is seen to run")?;
        for first in 0..WORDS.len() {
            for name in ["report.html", "plan.svg"] {
                open(phone, &format!("{first}-{name}")).await?;
                let told = happened(phone).await?;
                check(told == "[0,0,[]]", &format!("{name} of the yard {first}: {told}"))?;
            }
            open(phone, &format!("{first}-report.html")).await?;
            let wide = phone.evaluate("document.documentElement.scrollWidth - innerWidth").await?;
            check(wide.as_f64().is_some_and(|wide| wide <= 0.0), &format!("report {first} is wider than a phone: {wide}"))?;
        }
        phone.picture("report-hostile").await?;
        phone.evaluate(&axe).await?;
        let found = phone
            .evaluate(
                "axe.run(document, { resultTypes: ['violations'] }).then(found => found.violations.map(one => \
                 one.id + ': ' + one.nodes.slice(0, 3).map(node => node.html).join(' ')).join('\\n'))",
            )
            .await?;
        check(found == "", &format!("axe-core finds: {found}"))
    })
    .await
}
