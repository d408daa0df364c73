//! A yard whose every word is meant to break a careless writer: for the exports, and for the browser that opens them.

use swingtie_core::book::{Book, Entry, fold};
use swingtie_core::checks::lines;
use swingtie_core::compare::Worked;
use swingtie_core::exchange::{self, outputs};
use swingtie_core::network::adjust;
use swingtie_core::plan::{Ground, Plan};
use swingtie_core::record::{
    Anchor, AngleHow, AngleReading, Answers, Asks, At, Attribute, Attributes, AuthorId, BenchMark, EntryId,
    Facing, Fate, Feature, How, Leg, LevelReading, LevelWith, MarkColour, Measurement, North, NorthKind,
    Note, OffsetRow, Original, Photo, PhotoId, PhotoMark, PhotoMarks, PictureSpot, Point, PointId, Problem,
    Reading, Rotation, RunReading, Severity, Side, SideOf, Site, Spread, Statement, TapedTo, Turn,
    UnitSystem, UtilityMark,
};
use swingtie_core::report::{self, Report};
use swingtie_core::sheet;
use swingtie_core::units::{Angle, Length, PlanPoint};

/// What stands in the fields. Markup, ends of CDATA and comments, quotes, addresses that run, characters that turn
/// the reading order or that no document may hold, words too long for any line, and what spreadsheets take for a
/// formula (OWASP, CSV injection).
pub const WORDS: [&str; 18] = [
    "<script>window.ran=1;alert(1)</script>",
    "]]> --> & &lt; &#x41; %s {{x}}",
    "\"><img src=x onerror=\"window.ran=1;alert(1)\">",
    "' onmouseover='window.ran=1",
    "</title></style></textarea><svg onload=\"window.ran=1\">",
    "javascript:window.ran=1",
    "\u{202e}gnirts \u{2067}\u{5d0}\u{5d1}\u{5d2} \u{200f}\u{61c}",
    "\u{1f333}\u{1f3fd} \u{1f468}\u{200d}\u{1f469}",
    "nul \u{0} bell \u{7} escape \u{1b} next line \u{85} not \u{ffff} \u{1fffe} \u{fdd0}",
    "=HYPERLINK(\"http://example.invalid/\";\"x\")",
    "+1+1",
    "-2+3",
    "@x",
    "'=1",
    "two\nlines\r\nand\ta tab",
    "\u{ff1d}1+1",
    "url(http://example.invalid/x.png) */ @import 'x'",
    LONG,
];

/// 500 letters without a blank.
const LONG: &str = concat!(
    "Wwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwww",
    "Wwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwww",
    "Wwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwww",
    "Wwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwww",
    "Wwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwww",
);

/// Deals the words out, one to each field, from a first one on.
struct Dealer {
    next: usize,
    entries: Vec<Entry>,
}

impl Dealer {
    fn word(&mut self) -> String {
        self.next += 1;
        WORDS[self.next % WORDS.len()].to_owned()
    }

    fn say(&mut self, said: Statement) -> EntryId {
        let n = self.entries.len();
        let id = EntryId(format!("{n} {}", self.word()));
        let author = AuthorId(self.word());
        let clock = u64::try_from(n).expect("a few") + 1;
        let entry = Entry::new(
            id.clone(),
            clock,
            1_778_320_000_000 + i64::from(u32::try_from(n).expect("a few")),
            author,
            said,
        );
        self.entries.push(entry.expect("finite numbers"));
        id
    }

    fn measure(&mut self, said: Measurement) -> EntryId {
        self.say(Statement::Measure(said))
    }

    fn read(&mut self, metres: f64) -> Reading {
        Reading { text: self.word(), value: Length::from_metres(metres) }
    }

    fn attributes(&mut self, known: &[&str]) -> Attributes {
        let mut all = Attributes::new();
        for key in known {
            all.insert((*key).to_owned(), Attribute::Text(self.word()));
        }
        let (key, other) = (self.word(), self.word());
        all.insert(key, Attribute::Text(self.word()));
        let reading = self.read(0.5);
        all.insert(other, Attribute::Length(reading));
        all
    }
}

/// Where the yard's points are: a house, and pegs before it.
const PLACES: [(f64, f64); 9] = [
    (0.0, 0.0),
    (10.0, 0.0),
    (10.0, 8.0),
    (0.0, 8.0),
    (3.0, -6.0),
    (7.0, -5.0),
    (12.0, -4.0),
    (-3.0, -4.0),
    (5.0, -9.0),
];

/// The book, as the app would write it. In the books of `first` 0 up to the number of [`WORDS`] every field has held
/// every word.
#[must_use]
pub fn book(first: usize) -> Book {
    let mut dealer = Dealer { next: first, entries: Vec::new() };
    let ids = points(&mut dealer);
    measurements(&mut dealer, &ids);
    levels(&mut dealer, &ids);
    things(&mut dealer, &ids);
    photos(&mut dealer, &ids);
    place(&mut dealer, &ids);
    struck(&mut dealer, &ids);
    answered(&mut dealer);
    let mut lines: Vec<String> = dealer.entries.iter().map(|entry| entry.line().to_owned()).collect();
    // What a newer version might write.
    let newer = serde_json::json!({
        "id": dealer.word(), "clock": 9999, "at_ms": i64::MAX, "author": dealer.word(), "say": { dealer.word(): dealer.word() },
    });
    lines.push(newer.to_string());
    let (book, errors) = Book::from_json_lines(&lines.join("\n"));
    assert_eq!(errors, vec![]);
    book
}

fn points(dealer: &mut Dealer) -> Vec<PointId> {
    let site = Site {
        name: dealer.word(),
        client: dealer.word(),
        surveyor: dealer.word(),
        units: UnitSystem::FeetInches,
        date: dealer.word(),
        note: dealer.word(),
    };
    dealer.say(Statement::Site(site));
    let mut ids = Vec::new();
    for (n, (x, y)) in PLACES.into_iter().enumerate() {
        let id = PointId(format!("{n}{}", dealer.word()));
        let (label, note) = (dealer.word(), dealer.word());
        dealer.say(Statement::Point(Point { id: id.clone(), label, note }));
        dealer.say(Statement::Sketch { point: id.clone(), at: PlanPoint::from_metres(x, y) });
        ids.push(id);
    }
    ids
}

fn apart(a: usize, b: usize) -> f64 {
    let ((ax, ay), (bx, by)) = (PLACES[a], PLACES[b]);
    swingtie_core::units::float::hypot(bx - ax, by - ay)
}

fn tie(dealer: &mut Dealer, ids: &[PointId], from: usize, to: usize, off: f64) -> EntryId {
    let reading = dealer.read(apart(from, to) + off);
    let side = (to > 3).then(|| SideOf { from: ids[0].clone(), to: ids[1].clone(), side: Side::Right });
    let (from, to) = (ids[from].clone(), ids[to].clone());
    dealer.measure(Measurement::Tie {
        from,
        to,
        reading,
        side,
        taped_to: TapedTo::Middle,
        how: How::default(),
    })
}

fn measurements(dealer: &mut Dealer, ids: &[PointId]) {
    let id = |n: usize| ids[n].clone();
    let how = How::default;
    let mut legs = Vec::new();
    for (turn, from, to) in
        [(None, 0, 1), (Some(Turn::Left), 1, 2), (Some(Turn::Left), 2, 3), (Some(Turn::Left), 3, 0)]
    {
        legs.push(Leg { turn, to: id(to), length: Some(dealer.read(apart(from, to))) });
    }
    dealer.measure(Measurement::Walk { start: id(0), legs, how: how() });
    for (from, to) in [
        (0, 2),
        (1, 3),
        (0, 4),
        (1, 4),
        (0, 5),
        (1, 5),
        (2, 5),
        (0, 6),
        (1, 6),
        (4, 6),
        (0, 7),
        (1, 7),
        (3, 7),
    ] {
        tie(dealer, ids, from, to, 0.0);
    }
    // A misread that shows, and one that was looked at again.
    tie(dealer, ids, 3, 4, 1.0);
    let kept = tie(dealer, ids, 4, 5, 0.6);
    let why = dealer.word();
    dealer.say(Statement::Keep { entry: kept, part: 0, why });
    let reading = dealer.read(4.0);
    let readings = vec![RunReading { point: id(1), reading }];
    dealer.measure(Measurement::Run { zero: id(0), toward: id(1), readings, zero_unknown: true, how: how() });
    let (station, offset) = (dealer.read(5.0), dealer.read(9.0));
    let rows = vec![OffsetRow { point: id(8), station, offset, side: Side::Right }];
    dealer.measure(Measurement::Offsets { from: id(0), to: id(1), rows, how: how() });
    dealer.measure(Measurement::Square { at: id(0), from: id(1), to: id(3) });
    dealer.measure(Measurement::InLine { points: vec![id(0), id(8), id(1)] });
    let side = SideOf { from: id(0), to: id(1), side: Side::Left };
    dealer.measure(Measurement::SideIs { point: id(4), side });
    let angle = |dealer: &mut Dealer| AngleReading { text: dealer.word(), value: Angle::RIGHT };
    let (reading, turn) = (angle(dealer), Rotation::CounterClockwise);
    dealer.measure(Measurement::Angle {
        at: id(0),
        from: id(1),
        to: id(3),
        reading,
        turn,
        how: AngleHow::default(),
    });
    let (reading, north) = (angle(dealer), NorthKind::Magnetic);
    dealer.measure(Measurement::Bearing { from: id(0), to: id(1), reading, north, how: AngleHow::default() });
    dealer.measure(Measurement::Parallel { one: [id(0), id(1)], other: [id(3), id(2)], tolerance: None });
    dealer.measure(Measurement::SameLength { one: [id(0), id(1)], other: [id(3), id(2)], tolerance: None });
    let rise = dealer.read(0.5);
    dealer.measure(Measurement::Arc { from: id(4), to: id(5), rise, side: Side::Left });
    dealer.measure(Measurement::ArcThrough { from: id(5), through: id(8), to: id(6) });
    let reading = dealer.read(1.2);
    dealer.measure(Measurement::Girth { point: id(7), reading, how: how() });
}

fn levels(dealer: &mut Dealer, ids: &[PointId]) {
    let mut setup = None;
    for (n, below) in [(0, 1.2), (4, 1.9), (5, 2.0), (6, 1.4), (7, 1.7), (8, 2.2), (4, 2.3), (0, 1.2)] {
        let (reading, overhead) = (dealer.read(below), n == 8);
        let (with, stood, sd) = (LevelWith::BuildersLevel, None, None);
        let said =
            LevelReading { setup: setup.clone(), point: ids[n].clone(), reading, overhead, stood, with, sd };
        let id = dealer.say(Statement::Level(said));
        setup.get_or_insert(id);
    }
    let (height, source) = (Length::from_feet(100.0), dealer.word());
    let name = dealer.word();
    dealer.say(Statement::Author { name });
    dealer.say(Statement::BenchMark(BenchMark { point: ids[0].clone(), height, source }));
}

fn things(dealer: &mut Dealer, ids: &[PointId]) {
    let odd = dealer.word();
    for (n, kind) in
        ["house", "tree", "fence", "door", "path", "wet_spot", "view", odd.as_str()].into_iter().enumerate()
    {
        let points = if kind == "tree" { vec![ids[7].clone()] } else { ids[..4].to_vec() };
        let feature = Feature {
            kind: kind.to_owned(),
            points,
            name: dealer.word(),
            fate: (n % 2 == 0).then_some(Fate::Remove),
            attributes: dealer.attributes(&["species", "toward", "material"]),
            curved: false,
            told: n % 3 == 0,
            note: dealer.word(),
        };
        dealer.say(Statement::Feature(feature));
    }
    let (odd, near) = (dealer.word(), PlanPoint::from_metres(2.0, -3.0));
    for (kind, at, severity) in [
        ("wet_spot", At::Points(ids[4..7].to_vec()), Severity::Danger),
        ("gas", At::Near(near), Severity::Danger),
        ("stump", At::Points(vec![ids[7].clone()]), Severity::Fix),
        (odd.as_str(), At::Site, Severity::Note),
    ] {
        let problem = Problem {
            kind: kind.to_owned(),
            severity,
            at,
            spread: Some(Spread::Area),
            attributes: dealer.attributes(&["cause", "smell"]),
            note: dealer.word(),
            photos: vec![PhotoId(dealer.word())],
            told: severity == Severity::Note,
        };
        dealer.say(Statement::Problem(problem));
    }
    let mark = UtilityMark {
        colour: MarkColour::Yellow,
        points: ids[4..6].to_vec(),
        letters: dealer.word(),
        attributes: dealer.attributes(&["ticket", "marked_date", "expires_date", "operator"]),
        told: false,
        note: dealer.word(),
    };
    dealer.say(Statement::Mark(mark));
    for topic in ["wish", "told", "budget", "sun"].map(str::to_owned).into_iter().chain([odd]) {
        let (at, text, when) = (At::Points(ids[4..6].to_vec()), dealer.word(), dealer.word());
        let settles = if topic == "sun" { vec![dealer.word()] } else { Vec::new() };
        dealer.say(Statement::Note(Note { topic, at, text, when, settles, ..Note::default() }.into()));
    }
    let (at, text, kind) = (At::Points(ids[4..6].to_vec()), dealer.word(), dealer.word());
    let (topic, asks) = (dealer.word(), Some(Asks { kind, of: None }));
    dealer.say(Statement::Note(Note { topic, at, text, asks, ..Note::default() }.into()));
    let question = dealer.entries.last().map(|entry| entry.id.clone()).unwrap();
    let (topic, text) = (dealer.word(), dealer.word());
    let answers = Some(Answers { question, by: vec![EntryId(dealer.word())] });
    dealer.say(Statement::Note(Note { topic, text, answers, ..Note::default() }.into()));
}

fn photos(dealer: &mut Dealer, ids: &[PointId]) {
    let of = dealer
        .entries
        .iter()
        .filter(|e| matches!(e.statement(), Some(Statement::Problem(_))))
        .map(|e| e.id.clone());
    for (n, of) in of.map(Some).chain([None, None]).collect::<Vec<_>>().into_iter().enumerate() {
        let here = PictureSpot { across: 0.5, down: 0.5 };
        let marks =
            [PhotoMark::Text { at: here, text: dealer.word() }, PhotoMark::Arrow { from: here, to: here }];
        let mut photo = Photo::new(PhotoId(format!("{n}{}", dealer.word())), dealer.word(), 1000);
        photo.note = dealer.word();
        photo.marks = PhotoMarks::default().written(&marks);
        photo.at = if n % 2 == 0 { At::Points(vec![ids[4].clone()]) } else { At::Site };
        photo.facing = Some(Facing::Compass(Angle::RIGHT));
        photo.of = of;
        let (id, media_type, name) = (PhotoId(dealer.word()), dealer.word(), dealer.word());
        photo.original = Some(Original { id, media_type, bytes: 1, name });
        dealer.say(Statement::Photo(photo));
    }
}

fn place(dealer: &mut Dealer, ids: &[PointId]) {
    let (point, source) = (ids[0].clone(), dealer.word());
    dealer.say(Statement::Anchor(Anchor { point, latitude: 35.0, longitude: -97.0, source, accuracy: None }));
    let (from, to, source) = (ids[0].clone(), ids[1].clone(), dealer.word());
    let (bearing, kind) = (Angle::RIGHT, NorthKind::True);
    dealer.say(Statement::North(North { from, to, bearing, kind, sd: None, declination: None, source }));
}

fn struck(dealer: &mut Dealer, ids: &[PointId]) {
    let entry = tie(dealer, ids, 5, 6, 3.0);
    let why = dealer.word();
    dealer.say(Statement::Strike { entry, why });
    let entry = tie(dealer, ids, 2, 6, 3.0);
    let mut now = Vec::new();
    for off in [2.0, 0.0] {
        let reading = dealer.read(apart(2, 6) + off);
        let (from, to, taped_to, how) = (ids[2].clone(), ids[6].clone(), TapedTo::Middle, How::default());
        now.push(Statement::Measure(Measurement::Tie { from, to, reading, side: None, taped_to, how }));
    }
    for now in now {
        dealer.say(Statement::Correct { entry: entry.clone(), now: Box::new(now) });
    }
    let level = dealer
        .entries
        .iter()
        .find(|e| matches!(e.statement(), Some(Statement::Level(l)) if l.point == ids[6]));
    let (entry, why) = (level.expect("it was levelled").id.clone(), dealer.word());
    dealer.say(Statement::Strike { entry, why });
}

/// Lines of the list before leaving are answered.
fn answered(dealer: &mut Dealer) {
    let mut book = Book::new();
    for entry in &dealer.entries {
        book.add(entry.clone()).expect("ids of their own");
    }
    let record = fold(&book).record;
    let adjustment = adjust(&record);
    let open = lines(&record, &adjustment, &Plan::build(&record, &adjustment));
    for line in open.into_iter().step_by(2) {
        let text = dealer.word();
        let note = Note { topic: "left_open".to_owned(), text, settles: line.keys, ..Note::default() };
        dealer.say(Statement::Note(note.into()));
    }
}

/// Every file made of it: plan.svg, plan.geojson where it has a place on earth, plan.fg.json, points.csv, adjustment.json,
/// measurements.csv and report.html, the photos with a small picture each but the last.
#[must_use]
pub fn files(book: &Book) -> Vec<(String, String)> {
    let Worked { book, fold, adjustment } = Worked::of(book.clone());
    let plan = Plan::build(&fold.record, &adjustment);
    let made = outputs(&fold.record, &adjustment, &plan, &exchange::Options::default());
    let mut files: Vec<(String, String)> =
        made.files.into_iter().map(|file| (file.name.into_owned(), file.text)).collect();
    let pictures = fold.record.photos.iter().skip(1).map(|photo| (photo.what.id.clone(), PICTURE.to_vec()));
    let text = report::write(&Report {
        book: &book,
        fold: &fold,
        adjustment: &adjustment,
        plan: &plan,
        ground: &Ground::of(&fold.record, &plan),
        sheet: &sheet::Options { revision: WORDS[0].to_owned(), ..sheet::Options::default() },
        pictures: &pictures.collect(),
    });
    files.push(("report.html".to_owned(), text));
    files
}

/// One grey pixel (PNG, third edition).
const PICTURE: &[u8] = &[
    0x89, 0x50, 0x4e, 0x47, 0xd, 0xa, 0x1a, 0xa, 0x0, 0x0, 0x0, 0xd, 0x49, 0x48, 0x44, 0x52, 0x0, 0x0, 0x0,
    0x1, 0x0, 0x0, 0x0, 0x1, 0x8, 0x0, 0x0, 0x0, 0x0, 0x3a, 0x7e, 0x9b, 0x55, 0x0, 0x0, 0x0, 0xa, 0x49, 0x44,
    0x41, 0x54, 0x78, 0x9c, 0x63, 0x68, 0x0, 0x0, 0x0, 0x82, 0x0, 0x81, 0x77, 0xcd, 0x72, 0xb6, 0x0, 0x0,
    0x0, 0x0, 0x49, 0x45, 0x4e, 0x44, 0xae, 0x42, 0x60, 0x82,
];
