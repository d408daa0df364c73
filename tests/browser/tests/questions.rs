//! A question goes from who draws to the yard and comes back answered.

use swingtie_browser::{Outcome, Phone, Scheme, Scratch, Size, Surveyor, check};

#[tokio::test]
async fn a_question_goes_to_the_yard_and_comes_back_answered() -> Outcome {
    let scratch = Scratch::new("questions")?;
    Phone::with("questions-yard", Size::Phone, Scheme::Light, async |yard| {
        Phone::with("questions-desk", Size::Desk, Scheme::Light, async |desk| {
            let (owner, designer) = (Surveyor::with(yard), Surveyor::with(desk));
            owner.new_house("Asked Yard").await?;
            let (_, package) = owner.send_everything().await?;
            let file = scratch.file("yard.zip", &package)?;
            designer.bring_in(&file).await?;

            // Who draws asks: for a tape, for a height in words, and what stands behind the fence.
            designer.go("Problems").await?;
            desk.tap("link", "Questions and answers").await?;
            designer.press("Ask it").await?;
            desk.sees("Choose two points.").await?;
            designer.press("H1").await?;
            designer.press("H3").await?;
            designer.press("Ask it").await?;
            desk.sees("Tape from H1 to H3").await?;
            desk.tap("button", "Words").await?;
            desk.fill("What you want to know", "What is behind the fence?").await?;
            designer.press("Ask it").await?;
            desk.sees("2 open, 0 answered").await?;
            desk.picture("questions-desk-light").await?;
            let (_, asked) = designer.send_everything().await?;

            // The yard sees them before it leaves, and on the plan.
            let file = scratch.file("asked.zip", &asked)?;
            yard.hand_over("Open a file", &file).await?;
            yard.sees("2 new questions to answer").await?;
            owner.press("Take it in").await?;
            yard.tap("link", "2 questions to answer").await?;
            yard.picture("questions-phone-light").await?;
            yard.tap("button", "Answer in words: What is behind the fence?").await?;
            yard.fill("Your answer", "A public path.").await?;
            owner.press("Save the answer").await?;
            yard.tap("button", "Tape it: Tape from H1 to H3").await?;
            owner.number("50' 0\"").await?;
            owner.save("H3 from H1 · 50' 0\"").await?;
            owner.press("Back").await?;
            // Measured is answered, without a word more.
            yard.wait("nothing left to answer", |look| !look.says("to answer")).await?;
            owner.go("Problems").await?;
            yard.tap("link", "Questions and answers").await?;
            yard.sees("0 open, 2 answered").await?;
            let (_, answered) = owner.send_everything().await?;

            let file = scratch.file("answered.zip", &answered)?;
            desk.hand_over("Open a file", &file).await?;
            desk.sees("2 questions are answered").await?;
            designer.press("Take it in").await?;
            desk.sees("0 open, 2 answered").await?;
            let look = desk.sees("A public path.").await?;
            check(look.says("50' 0\""), "the reading that answers is not told")
        })
        .await
    })
    .await
}
