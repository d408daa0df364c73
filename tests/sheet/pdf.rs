//! The PDF as programs that are not ours see it: poppler's `pdftoppm`, `pdfinfo` and `pdftotext`, and `qpdf`
//! where it is at hand.

use super::hostile::hostile;
use super::rendering::{Picture, bar_on_sheet, decode, render_in_own_font};
use super::yards::{draw, yard};
use super::{parse, scale_bar};
use std::path::{Path, PathBuf};
use std::process::Command;
use swingtie_core::network::Adjustment;
use swingtie_core::record::{PointId, Record};
use swingtie_core::sheet::{Colours, Drawing, Options, Orientation, Paper, pdf};
use swingtie_core::units::{PlanPoint, float};
use swingtie_tests::scenario::scenario;

/// Resolution at which lengths are measured, pixels an inch.
const DPI: f64 = 300.0;
const PER_MM: f64 = DPI / 25.4;

/// Writes the PDF of sheets where the programs find it.
fn written(name: &str, drawings: &[Drawing]) -> (PathBuf, pdf::Written) {
    let made = pdf::write(drawings).unwrap_or_else(|error| panic!("{name}: {error}"));
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("pdf");
    std::fs::create_dir_all(&folder).expect("a folder");
    let path = folder.join(name).with_extension("pdf");
    std::fs::write(&path, &made.bytes).expect("a file");
    (path, made)
}

/// What a program says of a file; what it complains of fails.
fn said(program: &str, before: &[&str], path: &Path, after: &[&str]) -> Vec<u8> {
    let output = Command::new(program).args(before).arg(path).args(after).output();
    let output = output.unwrap_or_else(|error| {
        panic!("{program} could not be started ({error}); install it: apt-get install poppler-utils")
    });
    let complaints = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.success() && complaints.is_empty(), "{program} {}: {complaints}", path.display());
    output.stdout
}

/// The one page as poppler draws it.
fn rendered(path: &Path, dpi: f64) -> Picture {
    decode(&said("pdftoppm", &["-png", "-r", &dpi.to_string()], path, &[]))
}

fn text(path: &Path) -> String {
    String::from_utf8(said("pdftotext", &["-enc", "UTF-8"], path, &["-"])).expect("UTF-8")
}

/// A yard's sheet, and where its points are by the scenario's truth.
fn scenario_sheet(number: u32) -> (Drawing, impl Fn(&str) -> PlanPoint) {
    let truth = scenario(number).truth();
    let at = move |id: &str| *truth.get(&PointId::from(id)).unwrap_or_else(|| panic!("no {id}"));
    (draw(&yard(number), &Options::default()), at)
}

impl Picture {
    /// The middle of the dark disc of a point's mark near a place, in pixels: where its pixels balance.
    fn disc(&self, near: (f64, f64)) -> (f64, f64) {
        let reach = 0.75 * PER_MM;
        let mut middle = near;
        // The first look may cut the disc; each look starts from the last one's balance.
        for _ in 0..6 {
            let (mut sum, mut all) = ((0.0, 0.0), 0.0);
            let columns = (middle.0 - reach) as usize..=(middle.0 + reach) as usize;
            for y in (middle.1 - reach) as usize..=(middle.1 + reach) as usize {
                for x in columns.clone() {
                    let dark = self.at(x, y);
                    let at = (x as f64 + 0.5, y as f64 + 0.5);
                    sum = (sum.0 + at.0 * dark, sum.1 + at.1 * dark);
                    all += dark;
                }
            }
            assert!(all > 1.0, "nothing dark near {near:?}");
            middle = (sum.0 / all, sum.1 / all);
        }
        middle
    }

    /// Mean darkness of each square of so many pixels.
    fn squares(&self, side: usize) -> Vec<f64> {
        let mut all = Vec::new();
        for y in (0..self.height).step_by(side) {
            for x in (0..self.width).step_by(side) {
                let (rows, columns) = (y..(y + side).min(self.height), x..(x + side).min(self.width));
                let count = rows.len() * columns.len();
                let sum: f64 = rows.flat_map(|y| columns.clone().map(move |x| self.at(x, y))).sum();
                all.push(sum / count as f64);
            }
        }
        all
    }
}

/// Distances between points that stand alone, against the true places the yards were made from
/// (`tests/scenarios`), measured between the black discs in the picture: within 0.2 mm on paper.
#[test]
fn lengths_on_paper_are_true() {
    for (number, points) in [(1, ["OC1", "SH3", "DW2", "BW1"]), (2, ["OC1", "OC3", "RE1", "GS1"])] {
        let (drawing, at) = scenario_sheet(number);
        let (path, _) = written(&format!("lengths_{number}"), std::slice::from_ref(&drawing));
        let picture = rendered(&path, DPI);
        let found = points.map(|point| {
            let (x, y) = drawing.on_sheet(at(point));
            (point, picture.disc((x.millimetres() * PER_MM, y.millimetres() * PER_MM)))
        });
        let mut compared = 0;
        for (n, (one, a)) in found.iter().enumerate() {
            for (other, b) in &found[n + 1..] {
                let measured = float::hypot(a.0 - b.0, a.1 - b.1) / PER_MM;
                let ground = at(one).distance(at(other)).millimetres();
                let expected = ground / f64::from(drawing.scale.denominator());
                assert!(
                    expected > 5.0 && (measured - expected).abs() < 0.2,
                    "{one} to {other}: {measured} mm for {expected}"
                );
                compared += 1;
            }
        }
        assert_eq!(compared, 6);
    }
}

/// The scale bar measured in the picture, against the length it says: within 0.2 mm on paper.
#[test]
fn the_scale_bar_is_true() {
    for number in [1, 2] {
        let (drawing, _) = scenario_sheet(number);
        let (path, _) = written(&format!("bar_{number}"), std::slice::from_ref(&drawing));
        let picture = rendered(&path, DPI);
        let [x, y, w, h] = bar_on_sheet(&drawing);
        let row = ((y + h / 2.0) * PER_MM) as usize;
        let (left, right) =
            picture.ends(row, ((x - 1.0) * PER_MM) as usize, ((x + w + 1.0) * PER_MM) as usize);
        // The border's stroke of 0.18 mm stands half outside at each end.
        let measured = (right - left) / PER_MM - 0.18;
        let (_, end, unit) = scale_bar(&parse(&drawing.svg));
        let ground = end * if unit == "metres" { 1000.0 } else { 304.8 };
        let expected = ground / f64::from(drawing.scale.denominator());
        assert!((measured - expected).abs() < 0.2, "{measured} mm measured for {expected} mm");
    }
}

/// Squares of 5 mm are equally dark in the PDF as poppler and in the SVG as librsvg draws it, both with the
/// sheet's font. Two renderers shade edges and place letters a little differently: 0.027 at worst. Without any one
/// of the layers it is above 0.04 on at least one of the sheets.
#[test]
fn both_files_show_the_same() {
    for number in [1, 2] {
        let (drawing, _) = scenario_sheet(number);
        let (path, _) = written(&format!("same_{number}"), std::slice::from_ref(&drawing));
        // Ten pixels a millimetre.
        let dpi = 254.0;
        let (pdf, svg) = (rendered(&path, dpi), render_in_own_font(&drawing.svg, dpi));
        assert!(pdf.width.abs_diff(svg.width) <= 1 && pdf.height.abs_diff(svg.height) <= 1);
        let (pdf, svg) = (pdf.squares(50), svg.squares(50));
        let worst = pdf.iter().zip(&svg).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        assert!(worst < 0.035, "sheet {number}: squares differ by up to {worst:.4}");
        let dark = svg.iter().sum::<f64>() / svg.len() as f64;
        assert!(dark > 0.02, "an empty sheet is like any other: {dark}");
    }
}

/// Pages are as large as their paper: ISO 216 for A3 and A2, the inches of ANSI Y14.1 for the others.
#[test]
fn pages_have_the_papers_size() {
    let inches = |short: f64, long: f64| (short * 72.0, long * 72.0);
    let millimetres = |short: f64, long: f64| inches(short / 25.4, long / 25.4);
    let papers = [
        ("A3", millimetres(297.0, 420.0)),
        ("A2", millimetres(420.0, 594.0)),
        ("Tabloid", inches(11.0, 17.0)),
        ("ARCH C", inches(18.0, 24.0)),
    ];
    for (name, (short, long)) in papers {
        let paper = Paper::named(name).unwrap_or_else(|| panic!("no {name}"));
        for (orientation, size) in
            [(Orientation::Portrait, (short, long)), (Orientation::Landscape, (long, short))]
        {
            let options =
                Options { paper: Some(paper), orientation: Some(orientation), ..Options::default() };
            let (path, _) = written(&format!("size_{name}"), &[draw(&yard(1), &options)]);
            let info = info(&path);
            let said = info.lines().find_map(|line| line.strip_prefix("Page size:")).expect("a size");
            let numbers: Vec<f64> = said.split_whitespace().filter_map(|word| word.parse().ok()).collect();
            let off = (numbers[0] - size.0).abs().max((numbers[1] - size.1).abs());
            // pdfinfo rounds to six figures.
            assert!(off < 0.01, "{name} {orientation:?}: {said} for {size:?}");
        }
    }
}

fn info(path: &Path) -> String {
    String::from_utf8(said("pdfinfo", &[], path, &[])).expect("UTF-8")
}

/// Words can be searched and copied, the file says what it is, and nothing of it depends on the hour.
#[test]
fn words_are_words() {
    let (drawing, _) = scenario_sheet(1);
    let (path, made) = written("words", std::slice::from_ref(&drawing));
    assert_eq!(made.notices, Vec::<String>::new());
    let text = text(&path);
    for words in
        ["Demo yard 1", "R. Avery", "Not a boundary survey", "1/8\" = 1'-0\"", "38' 3 1/2\"", "T/C", "98.55"]
    {
        assert!(text.contains(words), "{words} is not in the text");
    }
    let info = info(&path);
    for (key, value) in
        [("Title:", "Base plan of Demo yard 1"), ("Author:", "R. Avery"), ("Creator:", "Swingtie")]
    {
        assert!(
            info.lines().any(|line| line.starts_with(key) && line.ends_with(value)),
            "{key} {value}: {info}"
        );
    }
    assert!(!info.contains("Date:"), "{info}");
    let fonts = String::from_utf8(said("pdffonts", &[], &path, &[])).expect("UTF-8");
    let fonts: Vec<&str> = fonts.lines().skip(2).collect();
    assert_eq!(fonts.len(), 2, "{fonts:?}");
    // Embedded, cut down, with the meaning of its characters.
    assert!(fonts.iter().all(|font| font.contains("yes yes yes")), "{fonts:?}");
    assert_eq!(
        pdf::write(&[drawing]).map(|again| again.bytes),
        Ok(made.bytes),
        "the same sheet, the same bytes"
    );
}

/// What people write breaks nothing, is still told apart, and what shows as a box is said.
#[test]
fn hostile_words_make_a_pdf() {
    let (path, made) = written("hostile", &[draw(&hostile(), &Options::default())]);
    check(&path);
    let text = text(&path);
    for words in ["<script>", "żółć", "漢字", "Ωμέγα", "]]> & <!-- -->"] {
        assert!(text.contains(words), "{words} is not in the text");
    }
    info(&path);
    rendered(&path, 30.0);
    let [notice] = made.notices.as_slice() else { panic!("{:?}", made.notices) };
    assert!(notice.contains('漢') && notice.contains('א') && !notice.contains('ż'), "{notice}");
    let empty = draw(&(Record::default(), Adjustment::default()), &Options::default());
    let (path, made) = written("empty", &[empty]);
    check(&path);
    assert_eq!(made.notices, Vec::<String>::new());
}

/// What qpdf finds wrong with the file.
fn check(path: &Path) {
    let output = Command::new("qpdf").arg("--check").arg(path).output();
    let output = output.unwrap_or_else(|error| {
        panic!("qpdf could not be started ({error}); install it: apt-get install qpdf")
    });
    let words = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(output.status.success(), "{words}{}", String::from_utf8_lossy(&output.stderr));
    assert!(words.contains("No syntax or stream encoding errors found"), "{words}");
}

#[test]
fn each_sheet_is_a_page() {
    let sheets = [scenario_sheet(1).0, scenario_sheet(2).0];
    let (path, _) = written("two", &sheets);
    check(&path);
    assert!(info(&path).lines().any(|line| line.starts_with("Pages:") && line.ends_with(" 2")));
    let pages: Vec<String> = text(&path).split('\u{c}').map(str::to_owned).collect();
    assert!(pages[0].contains("Demo yard 1") && pages[1].contains("Demo yard 2"));
    assert_eq!(pdf::write(&[]), Err(pdf::Error::NoSheets));
}

/// Pixels of a PNG that are no grey.
fn coloured(png: &[u8]) -> usize {
    let mut reader = png::Decoder::new(std::io::Cursor::new(png)).read_info().expect("a PNG");
    let mut buffer = vec![0; reader.output_buffer_size().expect("a size")];
    let info = reader.next_frame(&mut buffer).expect("a picture");
    assert_eq!(info.color_type, png::ColorType::Rgb);
    buffer.chunks_exact(3).filter(|pixel| pixel[0] != pixel[1] || pixel[1] != pixel[2]).count()
}

#[test]
fn grey_is_grey() {
    for (colours, wanted) in [(Colours::Full, true), (Colours::Grey, false)] {
        let drawing = draw(&yard(2), &Options { colours, ..Options::default() });
        let hues = drawing.svg.split(['"', ';']).filter(|word| word.len() == 7 && word.starts_with('#'));
        let hues: Vec<&str> = hues.filter(|hue| hue[1..3] != hue[3..5] || hue[3..5] != hue[5..7]).collect();
        assert_eq!(!hues.is_empty(), wanted, "{hues:?}");
        let (path, _) = written(&format!("{colours:?}"), &[drawing]);
        let page = said("pdftoppm", &["-png", "-r", "60"], &path, &[]);
        assert_eq!(coloured(&page) > 500, wanted);
        assert!(wanted || coloured(&page) == 0);
        // Letters tell utility lines apart.
        assert!(text(&path).contains("I/RW"));
    }
}
