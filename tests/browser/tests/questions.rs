//! A question goes from who draws to the yard and comes back answered.

use swingtie_browser::{Outcome, Phone, Scheme, Scratch, Size, Surveyor, check};

#[tokio::test]
async fn a_question_goes_to_the_yard_and_comes_back_answered() -> Outcome {
    let scratch = Scratch::new("questions")?;
    Phone::with("questions-yard", Size::Phone, Scheme::Light, async |yard| {
        Phone::with("questions-desk", Size::Desk, Scheme::Light, async |desk| {
            let (owner, designer) = (Surveyor::with(yard), Surveyor::with(desk));
            owner.new_house("Asked Yard").await?;
            owner.go("Sheet").await?;
            yard.tap("link", "Send everything to the designer").await?;
            yard.fill("What should others call you? (optional)", "Odalys").await?;
            yard.sees("Names: Asked Yard, Odalys").await?;
            owner.press("Save the package").await?;
            let (_, package) = yard.download_ending(".zip").await?;
            yard.tap("link", "All sites").await?;
            yard.sees("Sent or taken in").await?;
            let file = scratch.file("yard.zip", &package)?;
            desk.hand_over("Open a file", &file).await?;
            desk.sees("written by Odalys").await?;
            desk.fill("What should others call you? (optional)", "Bram").await?;
            designer.press("Take it in").await?;
            desk.find("button", "Measure").await?;

            // Who draws asks: for a tape, for a height, and what stands behind the fence.
            designer.go("Problems").await?;
            desk.tap_containing("link", "Questions").await?;
            designer.press("Ask it").await?;
            desk.sees("Choose two points.").await?;
            desk.choose("From", "H1").await?;
            desk.choose("To", "H3").await?;
            designer.press("Ask it").await?;
            desk.sees("Tape from H1 to H3").await?;
            desk.tap("button", "A height").await?;
            desk.choose("Of which point", "H2").await?;
            designer.press("Ask it").await?;
            desk.sees("How high is H2?").await?;
            desk.tap("button", "Words").await?;
            desk.fill("What you want to know", "What is behind the fence?").await?;
            designer.press("Ask it").await?;
            desk.sees("3 open, 0 answered").await?;
            desk.picture("questions-desk-light").await?;
            let (_, asked) = designer.send_everything().await?;

            // The yard sees them before it leaves, and on the plan.
            let file = scratch.file("asked.zip", &asked)?;
            yard.hand_over("Open a file", &file).await?;
            yard.sees("3 new questions to answer").await?;
            owner.press("Take it in").await?;
            yard.find("heading", "Questions").await?;
            yard.picture("questions-phone-light").await?;
            yard.tap("button", "Answer in words: What is behind the fence?").await?;
            yard.fill("Your answer", "A public path.").await?;
            owner.press("Save the answer").await?;
            yard.sees("by Bram").await?;

            // What is answered stays in sight; put off, the list is there again.
            yard.tap("button", "Tape it: Tape from H1 to H3").await?;
            yard.find("group", "Answering").await?;
            yard.sees("Tape from H1 to H3").await?;
            yard.picture("answering-phone-light").await?;
            owner.press("Not now").await?;
            yard.sees("2 open, 1 answered").await?;
            yard.tap("button", "Tape it: Tape from H1 to H3").await?;
            owner.number("50' 0\"").await?;
            owner.press("Save").await?;
            // Measured is answered, without a word more, and the list comes with what is left.
            yard.sees("Answered: Tape from H1 to H3. Left: 1 question to answer.").await?;
            yard.sees("1 open, 2 answered").await?;

            // A height without a level: so much above another point.
            yard.tap("button", "Measure it with a tape: How high is H2?").await?;
            yard.choose("Measured up from", "H1").await?;
            owner.press("Save the answer").await?;
            yard.sees("Type how far up it is").await?;
            yard.fill("How far up", "3' 2\"").await?;
            yard.picture("answer-by-tape-phone-light").await?;
            owner.press("Save the answer").await?;
            yard.sees("0 open, 3 answered").await?;
            let (_, answered) = owner.send_everything().await?;

            let file = scratch.file("answered.zip", &answered)?;
            desk.hand_over("Open a file", &file).await?;
            desk.sees("3 questions are answered").await?;
            designer.press("Take it in").await?;
            desk.sees("0 open, 3 answered").await?;
            let look = desk.sees("A public path.").await?;
            check(look.says("50' 0\""), "the reading that answers is not told")?;
            check(look.says("by Odalys"), "nobody is said to have answered")
        })
        .await
    })
    .await
}
