//! The sheet's SVG looks in a browser as it does in librsvg.

use std::io::Write;
use std::process::{Command, Stdio};
use swingtie_browser::{Outcome, Phone, Scheme, Scratch, Size, check};
use swingtie_core::{book::fold, network::adjust, plan::Plan, sheet};
use swingtie_tests::scenario::{Options, scenario};

/// Pixels to the millimetre.
const FINE: f64 = 8.0;

/// Both pictures at the same size, cut into squares of 5 mm: how much darker a square is on one than on the other, at worst, and
/// how dark they are on the whole.
const COMPARE: &str = "async (drawing, picture) => {
    const load = (src) => new Promise((done, fail) => {
        const image = new Image();
        image.onload = () => done(image);
        image.onerror = () => fail(new Error(src));
        image.src = src;
    });
    const [ours, theirs] = [await load(drawing), await load(picture)];
    const [wide, high] = [theirs.naturalWidth, theirs.naturalHeight];
    const square = 40, across = Math.floor(wide / square), down = Math.floor(high / square);
    const squares = (image) => {
        const canvas = document.createElement('canvas');
        canvas.width = wide;
        canvas.height = high;
        const context = canvas.getContext('2d', { willReadFrequently: true });
        context.fillStyle = '#fff';
        context.fillRect(0, 0, wide, high);
        context.drawImage(image, 0, 0, wide, high);
        const dark = new Float64Array(across * down);
        const { data } = context.getImageData(0, 0, wide, high);
        for (let y = 0; y < down * square; y++) for (let x = 0; x < across * square; x++) {
            const at = 4 * (y * wide + x);
            // Luma of ITU-R BT.709.
            const light = 0.2126 * data[at] + 0.7152 * data[at + 1] + 0.0722 * data[at + 2];
            dark[Math.floor(y / square) * across + Math.floor(x / square)] += (1 - light / 255) / square ** 2;
        }
        return dark;
    };
    const [a, b] = [squares(ours), squares(theirs)];
    return [Math.max(...a.map((dark, n) => Math.abs(dark - b[n]))), a.reduce((sum, dark) => sum + dark, 0) / a.length];
}";

/// As librsvg draws it, with the font of the sheet, which is on this machine.
fn librsvg(svg: &str) -> Outcome<Vec<u8>> {
    let dpi = (FINE * 25.4).to_string();
    let mut child = Command::new("rsvg-convert")
        .args(["-d", &dpi, "-p", &dpi])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()?;
    child.stdin.take().ok_or("no way in")?.write_all(svg.as_bytes())?;
    let output = child.wait_with_output()?;
    check(output.status.success(), "rsvg-convert refused the sheet")?;
    Ok(output.stdout)
}

#[tokio::test]
async fn a_browser_and_librsvg_draw_the_same_sheet() -> Outcome {
    let scratch = Scratch::new("drawing")?;
    scratch.file(
        "index.html",
        "<!DOCTYPE html><title>c</title><link rel=\"icon\" href=\"data:,\"><p>Sheets</p>",
    )?;
    for number in [1, 2] {
        let record = fold(&scenario(number).book(&Options::default())).record;
        let adjustment = adjust(&record);
        let plan = Plan::build(&record, &adjustment);
        let svg = sheet::draw(&record, &adjustment, &plan, &sheet::Options::default()).svg;
        std::fs::write(scratch.folder().join(format!("{number}.png")), librsvg(&svg)?)?;
        scratch.file(&format!("{number}.svg"), &svg)?;
        // Without its names it is another sheet: so much must be seen.
        let names = svg.find("<g id=\"layer-labels\"").ok_or("no names")?;
        let hidden = format!("{}<g display=\"none\"{}", &svg[..names], &svg[names + 2..]);
        scratch.file(&format!("{number}-without.svg"), &hidden)?;
    }
    Phone::open_folder(scratch.folder(), "drawing", Size::Desk, Scheme::Light, async |phone| {
        for number in [1, 2] {
            let compare = async |drawing: &str| -> Outcome<(f64, f64)> {
                let told =
                    phone.evaluate(&format!("({COMPARE})('./{drawing}.svg', './{number}.png')")).await?;
                Ok((told[0].as_f64().ok_or("no figure")?, told[1].as_f64().ok_or("no figure")?))
            };
            let (worst, dark) = compare(&number.to_string()).await?;
            let (without, _) = compare(&format!("{number}-without")).await?;
            println!(
                "sheet {number}: squares differ by {worst:.4}, without names by {without:.4}; dark {dark:.4}"
            );
            check(dark > 0.02, &format!("an empty sheet is like any other: {dark}"))?;
            check(worst < 0.035, &format!("sheet {number}: squares differ by up to {worst}"))?;
            check(without > 0.045, &format!("sheet {number} without names differs only by {without}"))?;
        }
        Ok(())
    })
    .await
}
