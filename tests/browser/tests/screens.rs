//! Every screen, at three sizes and in three themes: a picture to look at, and what can be measured of it.
//! Targets of 48 px and a contrast of 7 to 1 are the project's own promise for wet fingers and glare; the
//! contrast's formula is that of WCAG 2.1.

use swingtie_browser::{AUDIT, Outcome, Phone, SIZES, Scheme, Size, THEMES, check, tour};

/// Takes a picture in each size and theme, and collects what is wrong with the screen.
async fn see(phone: &Phone, name: &str, findings: &mut Vec<String>) -> Outcome {
    for (width, height) in SIZES {
        phone.resize(width, height).await?;
        for theme in THEMES {
            phone.theme(theme).await?;
            let name = format!("{name}-{width}-{theme}");
            phone.picture(&name).await?;
            let found: Vec<String> = serde_json::from_value(phone.evaluate(AUDIT).await?)?;
            findings.extend(found.into_iter().map(|finding| format!("{name}: {finding}")));
        }
    }
    let (width, height) = SIZES[0];
    phone.resize(width, height).await?;
    phone.theme(THEMES[0]).await
}

#[tokio::test]
async fn every_screen_in_every_size_and_theme() -> Outcome {
    Phone::with("screens", Size::Phone, Scheme::Light, async |phone| {
        let mut findings = Vec::new();
        tour(phone, &mut async |name: &str| see(phone, name, &mut findings).await).await?;
        check(findings.is_empty(), &format!("{} findings:\n{}", findings.len(), findings.join("\n")))
    })
    .await
}
