//! Turns an invented yard (`tests/scenarios`) into a field book, as a person taking its notes would.
//!
//! Only what was read or seen goes into the book; the true coordinates never do. Entry ids of
//! measurements are those of the file (`M001` …), point ids are the labels.

mod features;
mod levels;

use serde::Deserialize;
use std::collections::BTreeMap;
use swingtie_core::book::{Book, Entry};
use swingtie_core::record::{
    AuthorId, EntryId, How, Leg, Measurement, North, NorthKind, OffsetRow, Point, PointId, Reading,
    RunReading, Side, SideOf, Site, Statement, TapedTo, Turn, UnitSystem,
};
use swingtie_core::units::{Angle, Length, PlanPoint};

/// One scenario file, as far as a book or a judge needs it.
#[derive(Clone, Debug, Deserialize)]
pub struct Scenario {
    /// Its number.
    pub scenario: u32,
    title: String,
    true_points: BTreeMap<String, TruePoint>,
    true_lines: Vec<Shape>,
    true_areas: Vec<Shape>,
    buildings: BTreeMap<String, Vec<String>>,
    sides_for_two_tie_points: BTreeMap<String, Base>,
    measurements: Vec<Taken>,
    problems: Vec<Trouble>,
    levels: Vec<levels::SetUp>,
    benchmark: String,
    benchmark_value: String,
}

#[derive(Clone, Debug, Deserialize)]
struct TruePoint {
    x: f64,
    y: f64,
    kind: String,
    #[serde(default)]
    desc: String,
    sketch_x: Option<f64>,
    sketch_y: Option<f64>,
    #[serde(flatten)]
    rest: BTreeMap<String, serde_json::Value>,
}

#[derive(Clone, Debug, Deserialize)]
struct Shape {
    kind: String,
    points: Vec<String>,
}

#[derive(Clone, Debug, Deserialize)]
struct Base {
    base: [String; 2],
    side: Side,
}

#[derive(Clone, Debug, Deserialize)]
struct Trouble {
    at: String,
    text: String,
}

#[derive(Clone, Debug, Deserialize)]
struct Taken {
    id: String,
    #[serde(flatten)]
    what: Kind,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(tag = "type", rename_all = "snake_case")]
enum Kind {
    Running {
        zero: String,
        toward: String,
        readings: Vec<Read>,
        sigma: f64,
    },
    Tie {
        frm: String,
        to: String,
        reading: String,
        value: f64,
        sigma: f64,
    },
    Offset {
        base: [String; 2],
        #[serde(flatten)]
        row: Row,
        sigma_offset: f64,
    },
    ChordOffsets {
        base: [String; 2],
        rows: Vec<Row>,
        sigma_offset: f64,
    },
}

#[derive(Clone, Debug, Deserialize)]
struct Read {
    point: String,
    reading: String,
    value: f64,
}

#[derive(Clone, Debug, Deserialize)]
struct Row {
    point: String,
    station_reading: String,
    station: f64,
    offset_reading: String,
    offset: f64,
    side: Side,
}

/// Where the finger put the points.
#[derive(Clone, Debug, Default)]
pub enum Sketch {
    /// Nobody drew anything.
    #[default]
    None,
    /// The sketch the file holds.
    Recorded,
    /// Some other places.
    Given(BTreeMap<PointId, PlanPoint>),
}

/// What goes into the book besides the readings.
#[derive(Clone, Debug, Default)]
pub struct Options {
    /// Freehand positions.
    pub sketch: Sketch,
    /// Entries struck at the end.
    pub strike: Vec<String>,
}

/// Reads scenario 1 or 2.
///
/// # Panics
/// When there is no such scenario or its file is damaged: a test cannot go on.
#[must_use]
pub fn scenario(number: u32) -> Scenario {
    let text = match number {
        1 => include_str!("../scenarios/scenario_1.json"),
        _ => include_str!("../scenarios/scenario_2.json"),
    };
    serde_json::from_str(text).unwrap_or_else(|error| fail(&format!("scenario {number}: {error}")))
}

/// Ends a test that has lost its ground.
#[expect(clippy::panic, reason = "test support: a damaged scenario file ends the test")]
fn fail(why: &str) -> ! {
    panic!("{why}")
}

impl Scenario {
    /// The book of this scenario.
    #[must_use]
    pub fn book(&self, options: &Options) -> Book {
        let mut book = Book::new();
        for (id, statement) in self.statements(options) {
            add(&mut book, id, statement);
        }
        for target in &options.strike {
            let strike = Statement::Strike { entry: EntryId(target.clone()), why: "misread".into() };
            add(&mut book, format!("strike-{target}"), strike);
        }
        book
    }

    /// The book as JSON Lines.
    #[must_use]
    pub fn json_lines(&self, options: &Options) -> String {
        self.book(options).to_json_lines()
    }

    /// Everything said, in order, each with the id of its entry.
    #[must_use]
    pub fn statements(&self, options: &Options) -> Vec<(String, Statement)> {
        let mut said = vec![("site".to_owned(), self.site())];
        said.extend(self.points().map(|(label, point)| (label.clone(), said_point(label, point))));
        said.extend(self.sketch(&options.sketch));
        said.push(("walk-house".to_owned(), Statement::Measure(self.house_walk())));
        said.extend(self.measurements.iter().map(|taken| (taken.id.clone(), self.measurement(taken))));
        said.extend(self.control_side());
        said.push(("north".to_owned(), self.north()));
        said.extend(self.features());
        said
    }

    /// True places in metres of all points the book speaks of: for judging results only.
    #[must_use]
    pub fn truth(&self) -> BTreeMap<PointId, PlanPoint> {
        self.points().map(|(label, p)| (PointId(label.clone()), feet(p.x, p.y))).collect()
    }

    /// Points seen on the spot; lot corners are told from a plat and were never measured.
    fn points(&self) -> impl Iterator<Item = (&String, &TruePoint)> {
        self.true_points.iter().filter(|(_, point)| point.kind != "lot_corner")
    }

    fn site(&self) -> Statement {
        Statement::Site(Site {
            name: format!("Demo yard {}", self.scenario),
            units: UnitSystem::FeetInches,
            note: self.title.clone(),
            ..Site::default()
        })
    }

    fn sketch(&self, sketch: &Sketch) -> Vec<(String, Statement)> {
        let places: BTreeMap<PointId, PlanPoint> = match sketch {
            Sketch::None => BTreeMap::new(),
            Sketch::Given(places) => places.clone(),
            Sketch::Recorded => self
                .points()
                .filter_map(|(label, p)| Some((PointId(label.clone()), feet(p.sketch_x?, p.sketch_y?))))
                .collect(),
        };
        let say =
            |(point, at): (PointId, PlanPoint)| (format!("sketch-{point}"), Statement::Sketch { point, at });
        places.into_iter().map(say).collect()
    }

    /// Once round the house: only which way each corner turns. The corner descriptions name one
    /// inside corner each (H4 "inside corner of L"; H6, by the downspout in the "inside corner").
    fn house_walk(&self) -> Measurement {
        let inside = if self.scenario == 1 { "H4" } else { "H6" };
        let corners = self.buildings.get("house").map_or(&[][..], Vec::as_slice);
        let mut at = None::<&String>;
        let mut legs = Vec::new();
        for to in corners.iter().cycle().skip(1).take(corners.len()) {
            let turn =
                at.map(|corner| if corner == inside { Turn::RightNotSquare } else { Turn::LeftNotSquare });
            legs.push(Leg { turn, to: id(to), length: None });
            at = Some(to);
        }
        let start = corners.first().map_or_else(|| id(""), |corner| id(corner));
        Measurement::Walk { start, legs, how: How::default() }
    }

    /// Pegs PK2 and C are tied from points of the front wall's line alone, so no reading tells the
    /// yard from the inside of the house; their descriptions say "front".
    fn control_side(&self) -> Option<(String, Statement)> {
        let peg = if self.scenario == 1 { "PK2" } else { "C" };
        let side = SideOf { from: id("H1"), to: id("H2"), side: Side::Right };
        let says = Measurement::SideIs { point: id(peg), side };
        Some((format!("side-{peg}"), Statement::Measure(says)))
    }

    fn measurement(&self, taken: &Taken) -> Statement {
        Statement::Measure(match &taken.what {
            Kind::Running { zero, toward, readings, sigma } => Measurement::Run {
                zero: id(zero),
                toward: id(toward),
                readings: readings
                    .iter()
                    .map(|r| RunReading { point: id(&r.point), reading: reading(&r.reading, r.value) })
                    .collect(),
                zero_unknown: false,
                how: how(*sigma),
            },
            Kind::Tie { frm, to, reading: text, value, sigma } => Measurement::Tie {
                from: id(frm),
                to: id(to),
                reading: reading(text, *value),
                side: self.side_of_tie(frm, to),
                taped_to: TapedTo::Middle,
                how: how(*sigma),
            },
            Kind::Offset { base, row, sigma_offset } => {
                offsets(base, std::slice::from_ref(row), *sigma_offset)
            }
            Kind::ChordOffsets { base, rows, sigma_offset } => offsets(base, rows, *sigma_offset),
        })
    }

    /// The side is said once, with the first tie from an end of its base line.
    fn side_of_tie(&self, from: &str, to: &str) -> Option<SideOf> {
        let known = self.sides_for_two_tie_points.get(to)?;
        let [first, second] = &known.base;
        (from == first).then(|| SideOf { from: id(first), to: id(second), side: known.side })
    }

    /// By the frame's description: scenario 1's front wall lies along x, whose y is 12 degrees east
    /// of magnetic north; scenario 2's at 4 degrees to x, whose y is 31 degrees west of it.
    fn north(&self) -> Statement {
        let degrees = if self.scenario == 1 { 102.0 } else { 55.0 };
        Statement::North(North {
            from: id("H1"),
            to: id("H2"),
            bearing: Angle::from_degrees(degrees),
            kind: NorthKind::Magnetic,
            declination: None,
            source: "compass".into(),
            sd: None,
        })
    }
}

fn add(book: &mut Book, entry_id: String, statement: Statement) {
    let clock = book.next_clock();
    let at_ms = 1_770_000_000_000 + i64::try_from(clock).unwrap_or(0) * 30_000;
    let entry = Entry::new(EntryId(entry_id), clock, at_ms, AuthorId::from("surveyor"), statement);
    let entry = entry.unwrap_or_else(|error| fail(&format!("entry not written: {error}")));
    if let Err(clash) = book.add(entry) {
        fail(&clash.to_string());
    }
}

fn said_point(label: &str, point: &TruePoint) -> Statement {
    Statement::Point(Point { id: id(label), label: label.to_owned(), note: point.desc.clone() })
}

fn offsets(base: &[String; 2], rows: &[Row], sigma_feet: f64) -> Measurement {
    let [from, to] = base;
    let row = |r: &Row| OffsetRow {
        point: id(&r.point),
        station: reading(&r.station_reading, r.station),
        offset: reading(&r.offset_reading, r.offset),
        side: r.side,
    };
    Measurement::Offsets {
        from: id(from),
        to: id(to),
        rows: rows.iter().map(row).collect(),
        how: how(sigma_feet),
    }
}

fn id(label: &str) -> PointId {
    PointId::from(label)
}

fn feet(x: f64, y: f64) -> PlanPoint {
    PlanPoint { x: Length::from_feet(x), y: Length::from_feet(y) }
}

fn how(sigma_feet: f64) -> How {
    How { sd: Some(Length::from_feet(sigma_feet)), ..How::default() }
}

/// The reading as a keypad would hold it (`4' 5 3/4"`), exact to the sixteenth; the file's decimal
/// is the same number rounded to a ten-thousandth of a foot and guards against a misparse here.
fn reading(text: &str, rounded_feet: f64) -> Reading {
    let inches = inches(text).unwrap_or_else(|| fail(&format!("cannot read {text}")));
    if (inches / 12.0 - rounded_feet).abs() > 1e-4 {
        fail(&format!("{text} is not {rounded_feet} ft"));
    }
    Reading { text: text.replacen("'-", "' ", 1), value: Length::from_inches(inches) }
}

fn inches(text: &str) -> Option<f64> {
    let (sign, text) = text.strip_prefix('-').map_or((1.0, text), |rest| (-1.0, rest));
    let (feet, rest) = text.split_once("'-")?;
    let mut inches = feet.parse::<f64>().ok()? * 12.0;
    for part in rest.strip_suffix('"')?.split(' ') {
        inches += match part.split_once('/') {
            Some((n, d)) => n.parse::<f64>().ok()? / d.parse::<f64>().ok()?,
            None => part.parse::<f64>().ok()?,
        };
    }
    Some(sign * inches)
}
