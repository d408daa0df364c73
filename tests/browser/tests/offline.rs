//! Out of signal: the server gone and the network off, nothing is lost and work goes on.

use swingtie_browser::{Outcome, Phone, Scheme, Size, Surveyor, check};

async fn tape(surveyor: Surveyor<'_>, from: &str, to: &str, reading: &str) -> Outcome {
    surveyor.start("Tape between two points").await?;
    surveyor.point(from).await?;
    surveyor.point(to).await?;
    surveyor.number(reading).await?;
    surveyor.save(&format!("{to} from {from} · {reading}")).await
}

#[tokio::test]
async fn a_yard_without_signal_keeps_everything() -> Outcome {
    Phone::with("offline", Size::Phone, Scheme::Light, async |phone| {
        Surveyor::with(phone).new_site("Out of reach").await?;
        tape(Surveyor::with(phone), "A", "B", "31' 6\"").await?;
        phone.kept_offline().await?;
        phone.walk_out_of_signal().await?;

        phone.reload().await?;
        let surveyor = Surveyor::with(phone);
        phone.sees("B from A · 31' 6\"").await?;
        tape(surveyor, "A", "C", "12' 0 1/2\"").await?;

        phone.reload().await?;
        phone.sees("C from A · 12' 0 1/2\"").await?;
        surveyor.go("Book").await?;
        phone.sees("31' 6\"").await?;
        phone.sees("12' 0 1/2\"").await?;
        phone.picture("offline-book-phone-light").await?;

        // The sheet's module was never opened while there was a signal.
        surveyor.go("Sheet").await?;
        let svg = surveyor.take("Plan, to scale (SVG)", "plan.svg").await?;
        check(svg.starts_with("<?xml") || svg.starts_with("<svg"), "the sheet is no SVG")?;
        phone.find("image", "The base plan as it will be printed").await?;
        Ok(())
    })
    .await
}
