//! The plan handed on: from the plan to another app's hands in two taps, on the paper that was chosen, as a
//! picture of its true size, and to the printer.

use base64::{Engine, prelude::BASE64_STANDARD};
use serde_json::Value;
use swingtie_browser::{Outcome, Phone, Scheme, Size, Surveyor, check};

/// A phone that shares files, as this browser does not where the tests run: it keeps what it is given.
/// (W3C Web Share: `canShare` and `share` with `files`; a share needs a tap not long ago.)
const SHARES: &str = "
    window.given = null;
    navigator.canShare = (what) => Array.isArray(what.files) && what.files.every((file) => file instanceof File);
    navigator.share = async ({ files }) => {
        if (!navigator.userActivation.isActive) throw new DOMException('no tap', 'NotAllowedError');
        window.given = await Promise.all(files.map(async (file) => [
            file.name, file.type,
            btoa(Array.from(new Uint8Array(await file.arrayBuffer()), (byte) => String.fromCharCode(byte)).join('')),
        ]));
    };
    true";

/// A file that another app was given.
struct Given {
    name: String,
    media_type: String,
    bytes: Vec<u8>,
}

/// What was shared; waits until something was. Where the files take longer than a tap counts, the app asks for one more.
async fn given(phone: &Phone) -> Outcome<Vec<Given>> {
    let mut asked = false;
    for _ in 0..600 {
        let given = phone.evaluate("window.given").await?;
        if let Value::Array(files) = given {
            phone.evaluate("window.given = null").await?;
            return files
                .iter()
                .map(|file| read(file).ok_or_else(|| format!("no file: {file}").into()))
                .collect();
        }
        if !asked && phone.evaluate("document.body.innerText.includes('Tap once more')").await? == true {
            asked = true;
            phone.tap("button", "Share the plan").await?;
        }
        tokio::time::sleep(std::time::Duration::from_millis(100)).await;
    }
    Err("nothing was shared within a minute".into())
}

fn read(file: &Value) -> Option<Given> {
    let text = |n: usize| file.get(n)?.as_str().map(str::to_owned);
    Some(Given { name: text(0)?, media_type: text(1)?, bytes: BASE64_STANDARD.decode(text(2)?).ok()? })
}

fn named<'a>(files: &'a [Given], name: &str) -> Outcome<&'a Given> {
    let names: Vec<&str> = files.iter().map(|file| file.name.as_str()).collect();
    files.iter().find(|file| file.name == name).ok_or_else(|| format!("no {name} among {names:?}").into())
}

/// Four bytes of a PNG, most significant first.
fn number(png: &[u8], at: usize) -> Option<u32> {
    Some(u32::from_be_bytes(png.get(at..at + 4)?.try_into().ok()?))
}

#[tokio::test]
async fn two_taps_from_the_plan_to_shared_files() -> Outcome {
    Phone::with("sheet", Size::Phone, Scheme::Light, async |phone| {
        phone.tap("button", "Look at a demo yard").await?;
        phone.sees("33 points").await?;
        phone.evaluate(SHARES).await?;

        // The first tap: the tab. The second: share.
        let surveyor = Surveyor::with(phone);
        surveyor.go("Sheet").await?;
        phone
            .wait("the sheet", |look| look.all("image", |name| name.contains("base plan")).next().is_some())
            .await?;
        phone.picture("sheet-phone-light").await?;
        phone.tap("button", "Share the plan").await?;
        let files = given(phone).await?;
        let pdf = named(&files, "plan.pdf")?;
        check(pdf.bytes.starts_with(b"%PDF-") && pdf.media_type == "application/pdf", "that is no PDF")?;
        let svg = named(&files, "plan.svg")?;
        check(svg.bytes.windows(4).any(|four| four == b"<svg"), "that is no SVG")?;
        // Without a place on earth the plan in metres goes along; this browser passes it on as a text.
        let local: Value = serde_json::from_slice(&named(&files, "plan.fg.json.txt")?.bytes)?;
        check(local["type"] == "FeatureCollection", "that is no GeoJSON")?;

        let report = String::from_utf8(named(&files, "report.html")?.bytes.clone())?;
        check(report.contains("Plum Street demo"), "not the report of this yard")?;

        // What goes along is chosen.
        phone.tap_containing("DisclosureTriangle", "Goes along").await?;
        phone.tap("checkbox", "Picture of the plan (PNG)").await?;
        phone.tap("button", "Share the plan").await?;
        let files = given(phone).await?;
        let png = &named(&files, "plan.png")?.bytes;
        // PNG, third edition: the header's width and height, then the dots to the metre. Tabloid at 200 to the inch.
        let header = (number(png, 16), number(png, 20));
        check(header == (Some(3400), Some(2200)), &format!("pixels {header:?}"))?;
        check(png.get(37..41) == Some(b"pHYs") && number(png, 41) == Some(7874), "no resolution in it")?;

        // Another paper, kept when one comes back.
        phone.tap_containing("DisclosureTriangle", "Paper, scale").await?;
        phone.choose("Paper", "A4, 210 × 297 mm").await?;
        phone.sees("A4, 210 × 297 mm. Scale").await?;
        phone.picture("sheet-choices-phone-light").await?;
        surveyor.go("Plan").await?;
        surveyor.go("Sheet").await?;
        phone.sees("A4, 210 × 297 mm. Scale").await?;

        // To the printer, on paper of that size.
        phone.tap("button", "Print").await?;
        let printed =
            phone.evaluate("fetch(document.getElementById('printed').src).then(page => page.text())").await?;
        check(printed.as_str().is_some_and(|page| page.contains("210mm")), &format!("printed {printed}"))
    })
    .await
}
