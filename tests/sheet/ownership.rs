//! A label is unmistakably its own sign's: read from the finished SVG, with the font's advance widths from its
//! file and boxes around what is drawn, both apart from the code that places the labels.

use super::overlaps::window;
use super::yards::{sheets, yard};
use super::{attribute, by_id, parse};
use roxmltree::{Document, Node};
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::OnceLock;
use swingtie_core::network::Adjustment;
use swingtie_core::plan::{Ground, Plan};
use swingtie_core::record::{Record, UnitSystem};
use swingtie_core::sheet::{Drawing, Options};
use swingtie_core::units::float;

/// A box: left, upper, right, lower edge, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Room([f64; 4]);

impl Room {
    fn around(x: f64, y: f64, half: f64) -> Self {
        Self([x - half, y - half, x + half, y + half])
    }
    fn holds(&self, (x, y): (f64, f64)) -> bool {
        let [x0, y0, x1, y1] = self.0;
        x >= x0 && x <= x1 && y >= y0 && y <= y1
    }
    fn apart(&self, other: &Self) -> f64 {
        let ([ax0, ay0, ax1, ay1], [bx0, by0, bx1, by1]) = (self.0, other.0);
        float::hypot((ax0 - bx1).max(bx0 - ax1).max(0.0), (ay0 - by1).max(by0 - ay1).max(0.0))
    }
    fn middle(&self) -> (f64, f64) {
        let [x0, y0, x1, y1] = self.0;
        (f64::midpoint(x0, x1), f64::midpoint(y0, y1))
    }
    fn nearest(&self, (x, y): (f64, f64)) -> (f64, f64) {
        let [x0, y0, x1, y1] = self.0;
        (x.clamp(x0, x1), y.clamp(y0, y1))
    }
}

/// What a mark and all that is drawn on its place takes.
struct Sign {
    label: String,
    at: (f64, f64),
    rooms: Vec<Room>,
    /// Of marks that are circles and nothing else.
    radius: Option<f64>,
}

impl Sign {
    fn apart(&self, row: &Room) -> f64 {
        match self.radius {
            Some(r) => {
                let (x, y) = row.nearest(self.at);
                (float::hypot(x - self.at.0, y - self.at.1) - r).max(0.0)
            }
            None => self.rooms.iter().map(|room| room.apart(row)).fold(f64::INFINITY, f64::min),
        }
    }
}

/// Labels on a sheet, and what is wrong with those that have no leader.
#[derive(Clone, Copy, Debug, Default)]
pub struct Belonging {
    pub judged: usize,
    /// Nearer to another sign than to their own.
    pub nearer: usize,
    /// With a wall between.
    pub walled: usize,
}

impl Belonging {
    pub fn add(&mut self, other: Self) {
        self.judged += other.judged;
        self.nearer += other.nearer;
        self.walled += other.walled;
    }
    /// None of at least so many may be taken for another sign's.
    pub fn judge(&self, least: usize) {
        assert!(self.judged >= least && self.nearer == 0 && self.walled == 0, "{self:?}");
    }
}

/// Judges the labels of points and heights on a sheet; faults are printed.
pub fn belonging(name: &str, drawing: &Drawing, (record, adjustment): &(Record, Adjustment)) -> Belonging {
    let document = parse(&drawing.svg);
    let frame = by_id(&document, "window").and_then(|n| n.first_element_child()).expect("a window");
    let (x, y) = (attribute(frame, "x"), attribute(frame, "y"));
    let frame = Room([x, y, x + attribute(frame, "width"), y + attribute(frame, "height")]);
    let signs = signs(&document, &frame);
    let walls = walls(&document);
    let plan = Plan::build(record, adjustment);
    let spots: Vec<(String, (f64, f64))> = Ground::of(record, &plan)
        .spots
        .iter()
        .map(|spot| {
            let height = match record.site.units {
                UnitSystem::Metres => spot.height.metres(),
                _ => spot.height.feet(),
            };
            let (x, y) = drawing.on_sheet(spot.at);
            (format!("{height:.2}"), (x.millimetres(), y.millimetres()))
        })
        .collect();
    let mut all = Belonging::default();
    for layer in ["layer-labels", "layer-heights"] {
        let labels = by_id(&document, layer).into_iter().flat_map(|layer| layer.descendants());
        for label in labels.filter(|n| n.attribute("class") == Some("label")) {
            if label.descendants().any(|n| n.attribute("class") == Some("leader")) {
                continue;
            }
            let texts: Vec<Node<'_, '_>> = label.descendants().filter(|n| n.has_tag_name("text")).collect();
            let words = texts.first().and_then(|text| text.text()).unwrap_or_default();
            let own = |sign: &&Sign| match layer {
                "layer-labels" => sign.label == words,
                // Of several with the same figure any may be meant.
                _ => spots.iter().any(|(figure, (x, y))| {
                    figure == words && float::hypot(x - sign.at.0, y - sign.at.1) < 0.01
                }),
            };
            // Names of lines run along them.
            if texts.iter().any(|text| text.attribute("transform").is_some()) {
                continue;
            }
            let rows: Vec<Room> = texts.iter().map(|text| row(*text)).collect();
            let off = |sign: &Sign| rows.iter().map(|row| sign.apart(row)).fold(f64::INFINITY, f64::min);
            let mine = signs.iter().filter(own).min_by(|a, b| off(a).total_cmp(&off(b)));
            // Names of areas stand in them.
            let Some(mine) = mine else { continue };
            all.judged += 1;
            let others =
                signs.iter().filter(|sign| float::hypot(sign.at.0 - mine.at.0, sign.at.1 - mine.at.1) > 0.5);
            for other in others.filter(|other| off(other) < off(mine) - 0.01) {
                let (a, b) = (off(mine), off(other));
                println!("{name}: {words} is {a:.2} mm from its own sign, {b:.2} from {}'s", other.label);
                all.nearer += 1;
            }
            // Half of a line of words is not behind a wall.
            let near = rows.iter().map(Room::middle);
            let far = |at: &(f64, f64)| float::hypot(at.0 - mine.at.0, at.1 - mine.at.1);
            let to = near.min_by(|a, b| far(a).total_cmp(&far(b))).expect("a line of words");
            if walls.iter().any(|wall| parts(*wall, mine.at, to)) {
                println!("{name}: a wall between {words} and its sign");
                all.walled += 1;
            }
        }
    }
    all
}

/// What is inked of a text that stands upright: as wide as the font has it, as high as its capitals.
fn row(node: Node<'_, '_>) -> Room {
    let size = attribute(node, "font-size");
    let bold = node.attribute("font-weight") == Some("bold");
    let words = node.text().unwrap_or_default();
    let half = words.chars().map(|c| advance(c, bold)).sum::<f64>() * size / 2.0;
    let (x, y) = (attribute(node, "x"), attribute(node, "y"));
    // The height of its capitals: OS/2 table of the font, 1493 of 2048.
    let left = if node.attribute("text-anchor") == Some("middle") { x - half } else { x };
    Room([left, y - 0.729 * size, left + 2.0 * half, y])
}

/// The advance of a character in the sheet's own font, as a share of the size.
fn advance(c: char, bold: bool) -> f64 {
    static WIDTHS: OnceLock<[BTreeMap<char, f64>; 2]> = OnceLock::new();
    let read = |name: &str| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../core/src/sheet/fonts").join(name);
        let file = std::fs::read(path).expect("the font");
        let face = ttf_parser::Face::parse(&file, 0).expect("a font");
        let em = f64::from(face.units_per_em());
        let wide = |c| Some((c, f64::from(face.glyph_hor_advance(face.glyph_index(c)?)?) / em));
        ('\u{20}'..'\u{250}').filter_map(wide).collect()
    };
    let widths = WIDTHS.get_or_init(|| ["DejaVuSans.ttf", "DejaVuSans-Bold.ttf"].map(read));
    widths[usize::from(bold)].get(&c).copied().unwrap_or(0.6)
}

/// Every point's mark in the window, with what is drawn around its middle and is no larger than a sign.
fn signs(document: &Document<'_>, frame: &Room) -> Vec<Sign> {
    let layers = ["ground", "hard", "lot-told", "fences", "plants", "fittings", "utilities", "heights"];
    let drawn = layers.iter().filter_map(|layer| by_id(document, &format!("layer-{layer}")));
    let drawn = drawn.flat_map(|layer| layer.descendants().collect::<Vec<_>>());
    // A fence's line and the small crosses along it are no sign, wherever a point stands.
    let of_fence = |n: &Node<'_, '_>| {
        n.parent_element().and_then(|n| n.attribute("id")) == Some("layer-fences")
            && n.has_tag_name("path")
            && n.attribute("fill") == Some("none")
    };
    let drawn = drawn.filter(|n| !of_fence(n));
    let labelled = |n: &Node<'_, '_>| n.ancestors().any(|n| n.attribute("class") == Some("label"));
    let small = |Room([x0, y0, x1, y1]): &Room| x1 - x0 < 9.0 && y1 - y0 < 9.0;
    let drawn: Vec<Node<'_, '_>> = drawn.filter(|n| !labelled(n)).collect();
    let rooms: Vec<Room> = drawn.iter().filter_map(|n| room(*n)).filter(small).collect();
    let upright = |n: &&Node<'_, '_>| n.has_tag_name("text") && n.attribute("transform").is_none();
    let letters: Vec<Room> = drawn.iter().filter(upright).map(|n| row(*n)).collect();
    let marks = window(document).descendants().filter(|n| n.attribute("class") == Some("point"));
    let sign = |mark: Node<'_, '_>| {
        let circle = mark.children().find(|n| n.has_tag_name("circle"))?;
        let (at, r) = ((attribute(circle, "cx"), attribute(circle, "cy")), attribute(circle, "r"));
        // Around its middle, or a box of letters beside it; not the corner of a small area.
        let around = |room: &&Room| {
            let Room([x0, y0, x1, y1]) = **room;
            let middle = float::hypot(f64::midpoint(x0, x1) - at.0, f64::midpoint(y0, y1) - at.1);
            room.holds(at) && (middle < 2.3 || x0 == x1)
        };
        let mut own: Vec<Room> = rooms.iter().filter(around).copied().collect();
        let radius = own.is_empty().then_some(r);
        // Letters right beside the sign, and the flag at the end of a staff.
        let near = |Room([x0, y0, x1, y1]): &Room| {
            float::hypot(f64::midpoint(*x0, *x1) - at.0, f64::midpoint(*y0, *y1) - at.1) < 5.0
        };
        let beside = |room: &&Room| near(room) && own.iter().any(|sign| sign.apart(room) < 0.8);
        let letters: Vec<Room> = letters.iter().filter(beside).copied().collect();
        own.extend(letters);
        let staffs: Vec<Room> = own.iter().filter(|Room([x0, _, x1, _])| x0 == x1).copied().collect();
        own.extend(rooms.iter().filter(|room| staffs.iter().any(|staff| staff.apart(room) <= 0.0)));
        own.push(Room::around(at.0, at.1, r));
        let label = mark.attribute("data-label").unwrap_or_default().to_owned();
        frame.holds(at).then_some(Sign { label, at, rooms: own, radius })
    };
    marks.filter_map(sign).collect()
}

/// The box around one thing drawn.
fn room(node: Node<'_, '_>) -> Option<Room> {
    let number = |name: &str| attribute(node, name);
    match node.tag_name().name() {
        "circle" => Some(Room::around(number("cx"), number("cy"), number("r"))),
        "rect" => {
            let (x, y) = (number("x"), number("y"));
            Some(Room([x, y, x + number("width"), y + number("height")]))
        }
        "line" => {
            let (a, b) = ((number("x1"), number("y1")), (number("x2"), number("y2")));
            Some(Room([a.0.min(b.0), a.1.min(b.1), a.0.max(b.0), a.1.max(b.1)]))
        }
        "path" => {
            let mut all = Room([f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY]);
            for (x, y) in path(node.attribute("d")?).into_iter().flatten() {
                let [x0, y0, x1, y1] = &mut all.0;
                (*x0, *y0, *x1, *y1) = (x0.min(x), y0.min(y), x1.max(x), y1.max(y));
            }
            Some(all)
        }
        _ => None,
    }
}

/// The stretches of a path, each from corner to corner; a closed one ends where it began.
pub fn path(d: &str) -> Vec<Vec<(f64, f64)>> {
    let mut all: Vec<Vec<(f64, f64)>> = Vec::new();
    let mut spaced = String::new();
    for c in d.chars() {
        if c.is_ascii_alphabetic() {
            spaced.push(' ');
            spaced.push(c);
            spaced.push(' ');
        } else {
            spaced.push(c);
        }
    }
    let mut words = spaced.split_whitespace();
    while let Some(word) = words.next() {
        let mut take = |count: usize| -> Vec<f64> {
            words.by_ref().take(count).map(|word| word.parse().expect("a number")).collect()
        };
        match word {
            "M" => {
                let at = take(2);
                all.push(vec![(at[0], at[1])]);
            }
            "L" | "A" => {
                let at = take(if word == "L" { 2 } else { 7 });
                all.last_mut().expect("a start").push((at[at.len() - 2], at[at.len() - 1]));
            }
            "Z" => {
                let last = all.last_mut().expect("a start");
                last.push(last[0]);
            }
            other => panic!("{other:?} in {d}"),
        }
    }
    all
}

type Side = ((f64, f64), (f64, f64));

/// The heavy lines of buildings, walls and the lot.
fn walls(document: &Document<'_>) -> Vec<Side> {
    let layers = ["layer-house", "layer-fences", "layer-lot-told"];
    let drawn = layers.iter().filter_map(|layer| by_id(document, layer));
    let drawn = drawn.flat_map(|layer| layer.descendants().collect::<Vec<_>>());
    let heavy = drawn.filter(|n| n.has_tag_name("path") && n.attribute("stroke").is_some());
    let heavy =
        heavy.filter(|n| n.attribute("stroke-width").is_some() && attribute(*n, "stroke-width") >= 0.5);
    let sides = |places: Vec<(f64, f64)>| places.windows(2).map(|p| (p[0], p[1])).collect::<Vec<Side>>();
    heavy.flat_map(|n| path(n.attribute("d").unwrap_or_default())).flat_map(sides).collect()
}

/// Whether a wall lies between two places, and does not go through the first.
fn parts((c, d): Side, a: (f64, f64), b: (f64, f64)) -> bool {
    let side =
        |p: (f64, f64), q: (f64, f64), r: (f64, f64)| (q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0);
    let long = float::hypot(d.0 - c.0, d.1 - c.1);
    let share = ((a.0 - c.0) * (d.0 - c.0) + (a.1 - c.1) * (d.1 - c.1)) / (long * long);
    let share = share.clamp(0.0, 1.0);
    let foot = (c.0 + (d.0 - c.0) * share, c.1 + (d.1 - c.1) * share);
    let through = float::hypot(foot.0 - a.0, foot.1 - a.1) < 0.65;
    !through && side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

/// Words of several lines that end at a fence read as if they were cut off by it: at least a millimetre of air, common
/// practice, no source.
#[test]
fn a_note_keeps_off_the_fence() {
    let all = sheets(&yard(1), &Options::default());
    let document = parse(&all[0].svg);
    let layer = |id: &str| by_id(&document, id).into_iter().flat_map(|n| n.descendants()).collect::<Vec<_>>();
    let is_note = |n: &Node<'_, '_>| {
        n.attribute("class") == Some("label")
            && n.descendants().any(|n| n.text().is_some_and(|words| words.starts_with("Up to")))
    };
    let note = layer("layer-fall").into_iter().find(is_note).expect("the note on standing water");
    let rows: Vec<Room> = note.descendants().filter(|n| n.has_tag_name("text")).map(row).collect();
    let fences = layer("layer-fences");
    let drawn = fences.iter().filter_map(|n| n.attribute("d")).flat_map(path);
    let sides: Vec<Side> =
        drawn.flat_map(|run| run.windows(2).map(|p| (p[0], p[1])).collect::<Vec<_>>()).collect();
    assert!(rows.len() > 2 && sides.len() > 3, "{} {}", rows.len(), sides.len());
    for (a, b) in sides {
        for step in 0..=400_u32 {
            let share = f64::from(step) / 400.0;
            let at = Room::around(a.0 + (b.0 - a.0) * share, a.1 + (b.1 - a.1) * share, 0.0);
            let off = rows.iter().map(|row| row.apart(&at)).fold(f64::INFINITY, f64::min);
            assert!(off >= 1.0, "{off:.2} mm at {:?}", at.middle());
        }
    }
}
