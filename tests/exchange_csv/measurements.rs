//! Measurements of every kind, as people and machines may write them.

use proptest::prelude::*;
use swingtie_core::record::*;
use swingtie_core::units::tape::{Celsius, Newtons};
use swingtie_core::units::{Angle, BareUnit, Length};

pub const POINTS: usize = 6;

pub fn free() -> impl Strategy<Value = String> {
    prop_oneof![Just(String::new()), "\\PC{1,12}", "[-=+@'\";,= a\n\t]{1,8}", "[a-z =\"]{1,10}"]
}
pub fn trimmed() -> impl Strategy<Value = String> {
    free().prop_map(|text| text.trim().to_owned())
}
pub fn a_point() -> impl Strategy<Value = PointId> {
    (0..POINTS).prop_map(|n| PointId(format!("pid-{n}")))
}
pub fn two() -> impl Strategy<Value = (PointId, PointId)> {
    (0..POINTS, 1..POINTS)
        .prop_map(|(a, step)| (PointId(format!("pid-{a}")), PointId(format!("pid-{}", (a + step) % POINTS))))
}
pub fn some_points(least: usize) -> impl Strategy<Value = Vec<PointId>> {
    prop::collection::vec(a_point(), least..6)
}
/// Readings as typed, under any unit; read by machine (metres only); and with words that say nothing.
pub fn reading() -> impl Strategy<Value = Reading> {
    let typed = |text: String, bare| Reading::read(&text, bare).unwrap();
    prop_oneof![
        (0..90_u32, 0..12_u32, 1..16_u32)
            .prop_map(move |(f, i, s)| typed(format!("{f}' {i} {s}/16\""), BareUnit::Feet)),
        (1..9000_u32).prop_map(move |n| typed(format!("{}", f64::from(n) / 100.0), BareUnit::Feet)),
        (1..9000_u32).prop_map(move |n| typed(format!("{}", f64::from(n) / 100.0), BareUnit::Metres)),
        (1..90_u32).prop_map(move |n| typed(n.to_string(), BareUnit::Inches)),
        (0.001..90.0_f64).prop_map(|m| Reading { text: "two poles".into(), value: Length::from_metres(m) }),
        (0.001..90.0_f64).prop_map(|m| Reading { text: String::new(), value: Length::from_metres(m) }),
        (0.01..90.0_f64).prop_map(|m| Reading { text: format!("{m:.3} m"), value: Length::from_metres(m) }),
    ]
}
fn side() -> impl Strategy<Value = Side> {
    prop_oneof![Just(Side::Left), Just(Side::Right)]
}
fn side_of() -> impl Strategy<Value = SideOf> {
    (two(), side()).prop_map(|((from, to), side)| SideOf { from, to, side })
}
fn how() -> impl Strategy<Value = How> {
    let instruments = [
        Instrument::SteelTape,
        Instrument::FibreglassTape,
        Instrument::Laser,
        Instrument::Wheel,
        Instrument::Pacing,
        Instrument::Guess,
    ];
    let targets = prop_oneof![Just(Target::Hard), Just(Target::Soft)];
    let tape = (0.1..90.0_f64, 0.1..90.0_f64, -30.0..50.0_f64, 0.1..200.0_f64).prop_map(
        |(marked, span, warm, pull)| Tape {
            marked: Some(Length::from_metres(marked)),
            span: Some(Length::from_metres(span)),
            temperature: Some(Celsius(warm)),
            pull: Some(Newtons(pull)),
            ..Tape::default()
        },
    );
    let slope = prop_oneof![
        Just(Slope::Heights),
        (-3.0..3.0_f64).prop_map(|rise| Slope::RiseMetres(Length::from_metres(rise))),
        (0.0..1.5_f64).prop_map(|angle| Slope::AngleRadians(Angle::from_radians(angle))),
    ];
    let (tape, slope) = (prop::option::weighted(0.2, tape), prop::option::weighted(0.2, slope));
    (prop::sample::select(instruments.to_vec()), targets, prop::option::of(0.0001..2.0_f64), tape, slope)
        .prop_map(|(instrument, target, sd, tape, slope)| How {
            instrument,
            target,
            sd: sd.map(Length::from_metres),
            tape: tape.map(Box::new),
            slope,
        })
}
fn turn() -> impl Strategy<Value = Turn> {
    let turns = [Turn::Left, Turn::Right, Turn::LeftNotSquare, Turn::RightNotSquare, Turn::Straight];
    prop::sample::select(turns.to_vec())
}
/// Angles and bearings as typed, read by machine (radians only), and with words that say nothing.
fn angle_reading(bearing: bool) -> impl Strategy<Value = AngleReading> {
    let typed = move |text: String| {
        if bearing { AngleReading::bearing(&text).unwrap() } else { AngleReading::read(&text).unwrap() }
    };
    prop_oneof![
        (0..3600_u32).prop_map(move |n| typed(format!("{}", f64::from(n) / 10.0))),
        (0..90_u32, 0..60_u32, 0..60_u32).prop_map(move |(d, m, s)| {
            typed(if bearing { format!("S {d}° {m}' {s}\" W") } else { format!("{d}-{m}-{s}") })
        }),
        (0.0..6.2_f64).prop_map(|r| AngleReading { text: String::new(), value: Angle::from_radians(r) }),
        (0.0..6.2_f64).prop_map(|r| AngleReading { text: "as before".into(), value: Angle::from_radians(r) }),
    ]
}
fn angle_how() -> impl Strategy<Value = AngleHow> {
    use AngleInstrument::{Compass, Guess, Phone, Protractor, Theodolite};
    let instruments = prop::sample::select(vec![Compass, Phone, Protractor, Theodolite, Guess]);
    (instruments, prop::option::of(0.0001..1.0_f64))
        .prop_map(|(instrument, sd)| AngleHow { instrument, sd: sd.map(Angle::from_radians) })
}
fn pair() -> impl Strategy<Value = [PointId; 2]> {
    two().prop_map(|(a, b)| [a, b])
}
fn turned() -> impl Strategy<Value = Measurement> {
    let rotations = prop::sample::select(vec![Rotation::Clockwise, Rotation::CounterClockwise]);
    let norths = prop::sample::select(vec![NorthKind::Magnetic, NorthKind::True]);
    prop_oneof![
        (a_point(), two(), angle_reading(false), rotations, angle_how()).prop_map(
            |(at, (from, to), reading, turn, how)| Measurement::Angle { at, from, to, reading, turn, how }
        ),
        (two(), angle_reading(true), norths, angle_how()).prop_map(|((from, to), reading, north, how)| {
            Measurement::Bearing { from, to, reading, north, how }
        }),
        (pair(), pair(), prop::option::of(0.0001..1.0_f64)).prop_map(|(one, other, t)| {
            Measurement::Parallel { one, other, tolerance: t.map(Angle::from_radians) }
        }),
        (pair(), pair(), prop::option::of(0.0001..1.0_f64)).prop_map(|(one, other, t)| {
            Measurement::SameLength { one, other, tolerance: t.map(Length::from_metres) }
        }),
        (two(), reading(), side()).prop_map(|((from, to), rise, side)| Measurement::Arc {
            from,
            to,
            rise,
            side
        }),
        (a_point(), two()).prop_map(|(through, (from, to))| Measurement::ArcThrough { from, through, to }),
        (a_point(), reading(), how()).prop_map(|(point, reading, how)| Measurement::Girth {
            point,
            reading,
            how
        }),
    ]
}
pub fn measurement() -> impl Strategy<Value = Measurement> {
    let taped_to = prop::sample::select(vec![TapedTo::Middle, TapedTo::NearSide, TapedTo::FarSide]);
    let run = prop::collection::vec((a_point(), reading()), 1..5).prop_map(|rows| {
        rows.into_iter().map(|(point, reading)| RunReading { point, reading }).collect::<Vec<_>>()
    });
    let rows = prop::collection::vec((a_point(), reading(), reading(), side()), 1..5).prop_map(|rows| {
        let row = |(point, station, offset, side)| OffsetRow { point, station, offset, side };
        rows.into_iter().map(row).collect::<Vec<_>>()
    });
    let legs =
        prop::collection::vec((prop::option::of(turn()), a_point(), prop::option::of(reading())), 1..5)
            .prop_map(|legs| {
                legs.into_iter().map(|(turn, to, length)| Leg { turn, to, length }).collect::<Vec<_>>()
            });
    prop_oneof![
        (two(), reading(), prop::option::of(side_of()), taped_to, how()).prop_map(
            |((from, to), reading, side, taped_to, how)| {
                Measurement::Tie { from, to, reading, side, taped_to, how }
            }
        ),
        (two(), run, any::<bool>(), how()).prop_map(|((zero, toward), readings, zero_unknown, how)| {
            Measurement::Run { zero, toward, readings, zero_unknown, how }
        }),
        turned(),
        (two(), rows, how()).prop_map(|((from, to), rows, how)| Measurement::Offsets { from, to, rows, how }),
        (a_point(), legs, how()).prop_map(|(start, legs, how)| Measurement::Walk { start, legs, how }),
        (0..POINTS).prop_map(|n| {
            let point = |step: usize| PointId(format!("pid-{}", (n + step) % POINTS));
            Measurement::Square { at: point(0), from: point(1), to: point(2) }
        }),
        some_points(3).prop_map(|points| Measurement::InLine { points }),
        (a_point(), side_of()).prop_map(|(point, side)| Measurement::SideIs { point, side }),
    ]
}

pub fn note() -> impl Strategy<Value = Note> {
    let settles =
        prop::sample::select(vec![vec![], vec!["gate clear_width G1 G2".to_owned(), "north".into()]]);
    ("[a-z_]{1,10}", crate::at(), free(), trimmed(), settles).prop_map(|(topic, at, text, when, settles)| {
        Note { topic, at, text, when, settles, ..Note::default() }
    })
}
