//! Two people with a phone each, one yard, no signal: packages go both ways, and both end with the same plan.

use swingtie_browser::{Outcome, Phone, Scheme, Scratch, Size, Surveyor, check};
use swingtie_core::book::{Book, Entry};
use swingtie_core::package::{ABOUT, BOOK, PHOTOS, Writer, picture_name};
use swingtie_core::record::{EntryId, Photo, PhotoId, Site, Statement};
use swingtie_tests::package::{about, sum};

async fn points(surveyor: Surveyor<'_>) -> Outcome<String> {
    surveyor.go("Sheet").await?;
    surveyor.take("Points (CSV)", "points.csv").await
}

#[tokio::test]
async fn two_phones_measure_one_yard_and_end_with_the_same_points() -> Outcome {
    let scratch = Scratch::new("two-phones")?;
    Phone::with("package-one", Size::Phone, Scheme::Light, async |one| {
        Phone::with("package-other", Size::Phone, Scheme::Light, async |other| {
            one.kept_offline().await?;
            other.kept_offline().await?;
            one.walk_out_of_signal().await?;
            other.walk_out_of_signal().await?;
            let (first, second) = (Surveyor::with(one), Surveyor::with(other));

            // The first starts, the second gets what there is.
            first.new_house("Shared Yard").await?;
            let (name, package) = first.send_everything().await?;
            check(name.starts_with("Shared-Yard-"), &format!("the package is named {name}"))?;
            let start = scratch.file("start.zip", &package)?;
            other.hand_over("Open a file", &start).await?;
            other.sees("This site is not on this device yet.").await?;
            other.picture("package-comes-phone-light").await?;
            second.press("Take it in").await?;
            other.sees("4 points").await?;

            // Both measure on, each what the other does not.
            one.tap_containing("link", "Shared Yard").await?;
            first.tie("H1", "T1", "21' 3\"").await?;
            first.tie("H2", "T1", "28' 9\"").await?;
            second.tie("H3", "T2", "17' 0\"").await?;
            second.tie("H4", "T2", "32' 6\"").await?;
            let (_, ones) = first.send_everything().await?;
            let (_, others) = second.send_everything().await?;

            // The packages cross.
            let file = scratch.file("ones.zip", &ones)?;
            other.hand_over("Open a file", &file).await?;
            let look = other.sees("This site is on this device.").await?;
            check(look.says("new entries, written on another device"), "nobody is said to have written it")?;
            other.picture("package-merges-phone-light").await?;
            second.press("Take it in").await?;
            other.sees("6 points").await?;
            let file = scratch.file("others.zip", &others)?;
            first.bring_in(&file).await?;
            one.sees("6 points").await?;
            let (here, there) = (points(first).await?, points(second).await?);
            check(here == there, &format!("the points differ:\n{here}\n{there}"))?;
            check(here.lines().count() == 7, &format!("not six points:\n{here}"))?;

            // Once more changes nothing.
            one.tap("link", "All sites").await?;
            one.hand_over("Open a file", &file).await?;
            one.sees("Everything in it is here already.").await?;
            first.press("Open the site").await?;
            let again = points(first).await?;
            check(again == here, "the same package twice changed the points")
        })
        .await
    })
    .await
}

#[tokio::test]
async fn what_leaves_is_said_and_can_be_left_out() -> Outcome {
    let scratch = Scratch::new("left-out")?;
    Phone::with("package-left-out", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        surveyor.new_house("Medlar Close").await?;
        // What is on this device only is said in the list, and before it would be gone.
        phone.tap("link", "All sites").await?;
        phone.sees("Not sent yet").await?;
        phone.tap_containing("DisclosureTriangle", "More about Medlar Close").await?;
        surveyor.press("Remove from this device").await?;
        phone.sees("It was never sent or saved: all of it would be gone.").await?;
        phone.picture("package-remove-phone-light").await?;
        surveyor.press("Cancel").await?;
        phone.tap_containing("link", "Medlar Close").await?;
        surveyor.go("Sheet").await?;
        phone.tap("link", "Send everything to the designer").await?;
        phone.sees("Names: Medlar Close").await?;
        phone.sees("Not sent or saved yet").await?;
        phone.picture("package-send-phone-light").await?;
        phone.tap("checkbox", "Names: the site, the client, who measured").await?;
        phone.wait("no name goes along", |look| !look.says("Names: Medlar Close")).await?;
        surveyor.press("Save the package").await?;
        let (name, bytes) = phone.download_ending(".zip").await?;
        check(!name.contains("Medlar"), &format!("the file is named {name}"))?;
        phone.sees("nothing was written since").await?;
        let file = scratch.file("bare.zip", &bytes)?;
        let mut read = |place: std::ops::Range<u64>| {
            let part = usize::try_from(place.start).ok().zip(usize::try_from(place.end).ok());
            part.and_then(|(from, to)| bytes.get(from..to))
                .map(<[u8]>::to_vec)
                .ok_or_else(|| std::io::Error::other("cut"))
        };
        let (_, contents) = swingtie_core::package::Package::read(bytes.len() as u64, &mut read)?;
        check(!contents.book.to_json_lines().contains("Medlar"), "the name left in the book")?;

        // A file that is none is refused where it was given, and says why.
        phone.tap("link", "All sites").await?;
        let torn = scratch.file("torn.zip", bytes.get(..bytes.len() / 2).unwrap_or_default())?;
        phone.hand_over("Open a file", &torn).await?;
        phone.sees("torn.zip was not taken in. This is no zip file, or its end is missing.").await?;
        phone.picture("package-refused-phone-light").await?;
        surveyor.press("Close").await?;
        phone.hand_over("Open a file", &file).await?;
        // Under the name it has here, though none came along.
        let look = phone.sees("Everything in it is here already.").await?;
        check(look.says("Medlar Close") && !look.says("Unnamed"), "the site is not named as it is here")?;
        Ok(())
    })
    .await
}

/// As browsers hand files over: dropped (HTML, drag and drop), and shared with the installed app (Web Share Target: a
/// form posted to the manifest's address, which the service worker answers).
#[tokio::test]
async fn a_file_comes_in_by_drop_and_by_the_phones_share() -> Outcome {
    Phone::with("package-handed", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        phone.kept_offline().await?;
        surveyor.new_house("Dropped On").await?;
        phone
            .evaluate(
                "(() => { const bag = new DataTransfer(); bag.items.add(new File(['PK, but no more'], 'dropped.zip')); \
                 dispatchEvent(new DragEvent('drop', { dataTransfer: bag, bubbles: true, cancelable: true })); })()",
            )
            .await?;
        phone.sees("dropped.zip was not taken in. This is no zip file, or its end is missing.").await?;
        // Where it was dropped one is again.
        surveyor.press("Close").await?;
        phone.find("button", "Measure").await?;
        let shared = "(async () => { const form = new FormData(); \
             form.append('file', new File(['PK, but no more'], 'shared é.zip')); \
             const answer = await fetch('./received', { method: 'POST', body: form }); return answer.redirected; })()";
        check(phone.evaluate(shared).await? == true, "the service worker does not lead back to the page")?;
        phone.reload().await?;
        phone.sees("shared é.zip was not taken in.").await?;
        surveyor.press("Close").await?;
        // Once is enough.
        phone.reload().await?;
        phone.find("button", "Measure").await?;
        check(!phone.look().await?.says("shared é.zip"), "the shared file comes again")
    })
    .await
}

/// A package of two photos, of which the second holds other bytes than its name says.
fn with_a_damaged_photo() -> Outcome<Vec<u8>> {
    let pictures: [(&[u8], &str); 2] = [(b"the steps", "steps"), (b"the gate", "gate")];
    let mut said = vec![Statement::Site(Site { name: "Dented".to_owned(), ..Site::default() })];
    for (bytes, note) in pictures {
        let photo = Photo::new(PhotoId(sum(bytes)), "image/jpeg".to_owned(), bytes.len() as u64);
        said.push(Statement::Photo(Photo { note: note.to_owned(), ..photo }));
    }
    let mut book = Book::new();
    for (n, statement) in said.into_iter().enumerate() {
        let id = EntryId(format!("dented-{n}"));
        book.add(Entry::new(id, book.next_clock(), 1_780_000_000_000, "tester".into(), statement)?)?;
    }
    let mut writer = Writer::new(Vec::new(), 0);
    writer.add(ABOUT, &serde_json::to_vec(&about())?)?;
    writer.add(BOOK, book.to_json_lines().as_bytes())?;
    for (n, (bytes, _)) in pictures.into_iter().enumerate() {
        let name = picture_name(PHOTOS, &PhotoId(sum(bytes)), "image/jpeg");
        writer.add_as_is(&name, if n == 1 { b"the gaze" } else { bytes })?;
    }
    Ok(writer.finish()?)
}

#[tokio::test]
async fn a_damaged_photo_is_named_and_all_else_can_be_taken_in() -> Outcome {
    let scratch = Scratch::new("dented")?;
    Phone::with("package-dented", Size::Phone, Scheme::Light, async |phone| {
        let surveyor = Surveyor::with(phone);
        let file = scratch.file("dented.zip", with_a_damaged_photo()?)?;
        phone.hand_over("Open a file", &file).await?;
        phone.sees("2 new photos").await?;
        surveyor.press("Take it in").await?;
        phone.sees("One photo in it is damaged: photo 2 (gate).").await?;
        phone.picture("package-damaged-photo-phone-light").await?;
        // Nothing of it is here until that is said.
        surveyor.press("Leave it").await?;
        phone.find("link", "New site").await?;
        check(!phone.look().await?.says("Dented"), "it was taken in though it was left")?;
        phone.hand_over("Open a file", &file).await?;
        surveyor.press("Take it in").await?;
        surveyor.press("Take everything but these").await?;
        phone.sees("Taken in: 3 entries and 1 photo.").await?;
        Ok(())
    })
    .await
}
