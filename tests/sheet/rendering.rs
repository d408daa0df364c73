//! The sheet as a renderer that is not ours sees it: librsvg's `rsvg-convert`.

use super::yards::{draw, points, yard};
use super::{attribute, by_id, parse, scale_bar};
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use swingtie_core::record::UnitSystem;
use swingtie_core::sheet::{Drawing, Options};

/// Resolution of the rendering, pixels an inch.
const DPI: f64 = 300.0;

pub struct Picture {
    pub width: usize,
    pub height: usize,
    /// Darkness 0 … 1, row by row.
    pub dark: Vec<f32>,
}

fn render(svg: &str) -> Picture {
    render_at(svg, DPI)
}

/// The sheet as librsvg draws it, at so many pixels an inch.
pub fn render_at(svg: &str, dpi: f64) -> Picture {
    render_with(svg, dpi, &mut Command::new("rsvg-convert"))
}

/// The same where no fonts are at hand but the sheet's own, which librsvg does not take from the SVG itself.
pub fn render_in_own_font(svg: &str, dpi: f64) -> Picture {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("fontconfig");
    std::fs::create_dir_all(&folder).expect("a folder");
    let own = Path::new(env!("CARGO_MANIFEST_DIR")).join("../core/src/sheet/fonts");
    let list = format!(
        "<fontconfig><dir>{}</dir><cachedir>{}</cachedir></fontconfig>",
        own.display(),
        folder.join("cache").display()
    );
    let file = folder.join("fonts.conf");
    std::fs::write(&file, list).expect("a file");
    render_with(svg, dpi, Command::new("rsvg-convert").env("FONTCONFIG_FILE", file))
}

fn render_with(svg: &str, dpi: f64, command: &mut Command) -> Picture {
    let dpi = dpi.to_string();
    let child = command
        .args(["--dpi-x", &dpi, "--dpi-y", &dpi, "--background-color", "white"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn();
    let mut child = child.unwrap_or_else(|error| {
        panic!("rsvg-convert could not be started ({error}); install it: apt-get install librsvg2-bin")
    });
    let mut input = child.stdin.take().expect("a pipe");
    let svg = svg.to_owned();
    let writer = std::thread::spawn(move || input.write_all(svg.as_bytes()));
    let output = child.wait_with_output().expect("rsvg-convert ends");
    writer.join().expect("the writer ends").expect("the sheet is written");
    assert!(output.status.success(), "rsvg-convert refused the sheet");
    decode(&output.stdout)
}

/// A PNG.
pub fn decode(bytes: &[u8]) -> Picture {
    let mut decoder = png::Decoder::new(std::io::Cursor::new(bytes));
    decoder.set_transformations(png::Transformations::normalize_to_color8());
    let mut reader = decoder.read_info().expect("a PNG");
    let mut buffer = vec![0; reader.output_buffer_size().expect("a size")];
    let info = reader.next_frame(&mut buffer).expect("a picture");
    let step = info.color_type.samples();
    let dark = buffer.chunks_exact(step).map(|pixel| 1.0 - f32::from(pixel[0]) / 255.0).collect();
    Picture { width: info.width as usize, height: info.height as usize, dark }
}

impl Picture {
    pub fn at(&self, x: usize, y: usize) -> f64 {
        f64::from(self.dark[y * self.width + x])
    }

    /// Where along a row the darkness first and last passes one half, in pixels, between whole ones
    /// by linear interpolation.
    pub fn ends(&self, y: usize, from: usize, to: usize) -> (f64, f64) {
        let dark: Vec<f64> = (from..to).map(|x| self.at(x, y)).collect();
        let first = dark.iter().position(|d| *d >= 0.5).expect("something dark");
        let last = dark.iter().rposition(|d| *d >= 0.5).expect("something dark");
        // Pixel i covers i … i+1; its darkness is the share covered.
        let left = (first as f64) + 1.0 - dark[first] - dark[first.saturating_sub(1)];
        let right = (last as f64) + dark[last] + dark[(last + 1).min(dark.len() - 1)];
        (from as f64 + left, from as f64 + right)
    }
}

/// The bar's border on the sheet, mm: left, top, width, height.
pub fn bar_on_sheet(drawing: &Drawing) -> [f64; 4] {
    let document = parse(&drawing.svg);
    let bar = by_id(&document, "scale-bar").expect("a bar");
    let rect = bar.children().rfind(|n| n.has_tag_name("rect")).expect("a border");
    let block = bar.parent().and_then(|n| n.attribute("transform")).expect("a place");
    let shift: Vec<f64> = block
        .trim_start_matches("translate(")
        .trim_end_matches(')')
        .split(' ')
        .map(|n| n.parse().expect("a number"))
        .collect();
    [
        shift[0] + attribute(rect, "x"),
        shift[1] + attribute(rect, "y"),
        attribute(rect, "width"),
        attribute(rect, "height"),
    ]
}

/// The scale bar measured in the picture, against the length it says, within 0.2 %.
#[test]
fn the_rendered_scale_bar_is_right() {
    let metric = {
        let mut yard = yard(2);
        yard.0.site.units = UnitSystem::Metres;
        yard
    };
    for yard in [yard(1), metric, points(UnitSystem::DecimalFeet, &[(0.0, 0.0), (8.0, 5.0)])] {
        let drawing = draw(&yard, &Options::default());
        let picture = render(&drawing.svg);
        let per_mm = DPI / 25.4;
        let [x, y, w, h] = bar_on_sheet(&drawing);
        let row = ((y + h / 2.0) * per_mm) as usize;
        let (left, right) =
            picture.ends(row, ((x - 1.0) * per_mm) as usize, ((x + w + 1.0) * per_mm) as usize);
        // The border's stroke of 0.18 mm stands half outside at each end.
        let measured = (right - left) / per_mm - 0.18;
        let (_, end, unit) = scale_bar(&parse(&drawing.svg));
        let ground = end * if unit == "metres" { 1000.0 } else { 304.8 };
        let expected = ground / f64::from(drawing.scale.denominator());
        let off = (measured / expected - 1.0).abs();
        assert!(off < 0.002, "{measured} mm measured for {expected} mm: {:.3} % off", off * 100.0);
    }
}

/// The picture has the paper's size, and the drawing is black on white, not empty.
#[test]
fn the_picture_has_the_papers_size() {
    let drawing = draw(&yard(1), &Options::default());
    let picture = render(&drawing.svg);
    let expected = (drawing.width.inches() * DPI, drawing.height.inches() * DPI);
    assert!((picture.width as f64 - expected.0).abs() <= 1.0, "{} for {}", picture.width, expected.0);
    assert!((picture.height as f64 - expected.1).abs() <= 1.0, "{} for {}", picture.height, expected.1);
    let ink: f64 = picture.dark.iter().map(|d| f64::from(*d)).sum::<f64>() / picture.dark.len() as f64;
    assert!(ink > 0.01 && ink < 0.25, "{ink} of the sheet is ink");
}
