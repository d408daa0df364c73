//! The app comes up at every size and in both colour schemes, and the browser has nothing to complain of.

use swingtie_browser::{Outcome, Phone, Scheme, Size};

#[tokio::test]
async fn comes_up_on_a_phone() -> Outcome {
    Phone::with("smoke", Size::Phone, Scheme::Light, async |phone| {
        phone.picture("first-phone-light").await?;
        Ok(())
    })
    .await
}

#[tokio::test]
async fn comes_up_at_a_desk_in_the_dark() -> Outcome {
    Phone::with("smoke", Size::Desk, Scheme::Dark, async |phone| {
        phone.picture("first-desk-dark").await?;
        Ok(())
    })
    .await
}
