use super::*;
use crate::record::{BenchMark, LevelReading, LevelWith, Reading, Record, Recorded};
use crate::units::{Angle, Length, UnitSystem};

/// A record with these set-ups, each reading in metres; negative: rod upside down.
fn record(first: f64, setups: &[&[(&str, f64)]]) -> Record {
    let mut record = Record::default();
    record.site.units = UnitSystem::Metres;
    for (s, rods) in setups.iter().enumerate() {
        for (r, (point, read)) in rods.iter().enumerate() {
            let value = Length::from_metres(read.abs());
            let what = LevelReading {
                setup: (r > 0).then(|| format!("{s}.0").as_str().into()),
                point: (*point).into(),
                reading: Reading { text: format!("{read}"), value },
                overhead: *read < 0.0,
                stood: None,
                with: LevelWith::BuildersLevel,
                sd: None,
            };
            let entry = format!("{s}.{r}").as_str().into();
            record.levels.push(Recorded { entry, author: "a".into(), at_ms: 0, what });
        }
    }
    if let Some((point, _)) = setups.first().and_then(|rods| rods.first()) {
        let height = Length::from_metres(first);
        record.bench_mark = Some(BenchMark { point: (*point).into(), height, source: String::new() });
    }
    record
}

fn near(found: Length, expected: f64) -> bool {
    (found.metres() - expected).abs() < 1e-9
}

/// Staff readings, back first and fore last, on points named in order: every foresight's point is the next
/// backsight's.
fn named(setups: &[&[f64]]) -> Vec<Vec<(String, f64)>> {
    let mut last = 0;
    let name = |number: usize| format!("p{number}");
    let mut named = Vec::new();
    for rods in setups {
        named.push(rods.iter().enumerate().map(|(n, read)| (name(last + n), *read)).collect());
        last += rods.len() - 1;
    }
    named
}

struct Example<'a> {
    first: f64,
    setups: &'a [&'a [f64]],
    levels: &'a [f64],
    /// Σ back, Σ fore, Σ rise, Σ fall.
    sums: [f64; 4],
}

fn booked(example: &Example) {
    let all = named(example.setups);
    let borrowed: Vec<Vec<(&str, f64)>> =
        all.iter().map(|rods| rods.iter().map(|(p, v)| (p.as_str(), *v)).collect()).collect();
    let slices: Vec<&[(&str, f64)]> = borrowed.iter().map(Vec::as_slice).collect();
    let record = record(example.first, &slices);
    let (pages, closings) = book_pages(&setups(&record), record.bench_mark.as_ref());
    assert_eq!((pages.len(), closings.len()), (1, 0));
    let page = &pages[0];
    let found: Vec<f64> = page.lines.iter().map(|l| l.height.metres()).collect();
    assert_eq!(found.len(), example.levels.len());
    for (line, expected) in page.lines.iter().zip(example.levels) {
        assert!(near(line.height, *expected), "{found:?}");
    }
    let Sums { back, fore, rise, fall, height } = page.sums;
    for (found, expected) in [back, fore, rise, fall].into_iter().zip(example.sums) {
        assert!(near(found, expected), "{:?}", page.sums);
    }
    assert!(page.sums.agree());
    assert!(near(height, example.sums[0] - example.sums[1]));
    // Without a reading to spare the adjustment is the booking.
    let levels = heights(&record);
    for line in &page.lines {
        assert!(near(levels.points[&line.point].above, line.height.metres()));
    }
    assert_eq!(levels.redundancy, 0);
}

/// Example with a staff held upside down on a soffit, as published at ques10.com, question 29304.
#[test]
fn a_published_book_with_an_inverted_staff() {
    booked(&Example {
        first: 185.205,
        setups: &[
            &[1.355, 1.605, 2.125, 0.685, 1.365],
            &[2.015, 1.355, -1.385, 0.685, 2.105],
            &[1.685, 1.155, 1.105, 2.015],
            &[1.085, 1.345, 1.355, -2.015, 1.305],
            &[1.655, 1.685, 1.455],
        ],
        levels: &[
            185.205, 184.955, 184.435, 185.875, 185.195, 185.855, 188.595, 186.525, 185.105, 185.635,
            185.685, 184.775, 184.515, 184.505, 187.875, 184.555, 184.525, 184.755,
        ],
        sums: [7.795, 8.245, 9.02, 9.47],
    });
}

/// Textbook readings (B. C. Punmia, Surveying I, from memory of the book); first reduced level 150.250. A stored
/// answer page that takes a fall across each change point gets 149.794, which its own check refutes.
#[test]
fn a_textbook_book_does_not_step_across_a_change_point() {
    booked(&Example {
        first: 150.250,
        setups: &[&[2.228, 1.606, 0.988], &[2.090, 2.864, 1.262], &[0.602, 1.982], &[1.044, 2.684]],
        levels: &[150.250, 150.872, 151.490, 150.716, 152.318, 150.938, 149.298],
        sums: [5.964, 6.916, 2.842, 3.794],
    });
}

/// Data of a published exercise (askfilo, 3335343839393730), levels reduced by hand.
#[test]
fn a_published_exercise() {
    booked(&Example {
        first: 58.250,
        setups: &[
            &[0.578, 0.933, 1.768, 2.450, 2.005],
            &[0.567, 1.888, 1.181, 3.679],
            &[0.612, 0.705, 1.810],
        ],
        levels: &[58.250, 57.895, 57.060, 56.378, 56.823, 55.502, 56.209, 53.711, 53.618, 52.513],
        sums: [1.757, 7.494, 1.152, 6.889],
    });
}

#[test]
fn a_loop_closes_or_says_by_how_much_not() {
    // Up 1.000, up 0.500, down 1.490: 10 mm left over.
    let rods: [&[(&str, f64)]; 3] =
        [&[("a", 2.0), ("b", 1.0)], &[("b", 1.5), ("c", 1.0)], &[("c", 0.5), ("a", 1.990)]];
    let record = record(50.0, &rods);
    let (pages, closings) = book_pages(&setups(&record), record.bench_mark.as_ref());
    assert!(pages[0].sums.agree());
    let [closing] = closings.as_slice() else { panic!("{closings:?}") };
    assert!(near(closing.by, 0.010));
    assert_eq!((closing.point.as_str(), closing.setups), ("a", 3));
    // Six readings of 2 mm: three standard deviations are 3·2·√6 = 14.7 mm.
    assert!((closing.allowed.millimetres() - 14.697).abs() < 1e-3);
    assert!(closing.closes());
    // The adjustment spreads it evenly, as equal set-ups ask for (the rule of the trade: −e·k/n).
    let levels = heights(&record);
    assert!((levels.points[&"b".into()].above.metres() - (51.0 - 0.010 / 3.0)).abs() < 1e-9);
    assert!((levels.points[&"c".into()].above.metres() - (51.5 - 0.020 / 3.0)).abs() < 1e-9);
    assert_eq!(levels.redundancy, 1);
}

#[test]
fn what_hangs_on_nothing_is_named_and_left_out() {
    let rods: [&[(&str, f64)]; 2] = [&[("a", 2.0), ("b", 1.0)], &[("x", 1.5), ("y", 1.0)]];
    let mut record = record(50.0, &rods);
    let apart = LevelFinding::Apart { points: vec!["x".into(), "y".into()] };
    assert_eq!(heights(&record).findings, std::slice::from_ref(&apart));
    assert_eq!(heights(&record).points.len(), 2);
    record.bench_mark = None;
    let assumed = LevelFinding::DatumAssumed { point: "a".into() };
    assert_eq!(heights(&record).findings, [assumed, apart]);
    assert!(near(heights(&record).points[&"b".into()].above, 101.0));
}

#[test]
fn a_misread_that_a_loop_and_a_second_reading_contradict_is_named() {
    // True heights a 50, b 51, c 51.5, d 50.2; c is read from two set-ups besides; one reading of b is 9 for 6.
    let rods: [&[(&str, f64)]; 4] = [
        &[("a", 2.0), ("b", 1.0), ("c", 0.5), ("d", 1.8)],
        &[("d", 1.6), ("b", 1.1), ("c", 0.3), ("a", 1.8)],
        &[("a", 2.5), ("b", 1.5), ("c", 1.0), ("d", 2.3)],
        &[("c", 0.2), ("b", 0.7), ("a", 1.7), ("d", 1.5)],
    ];
    let levels = heights(&record(50.0, &rods));
    let [LevelFinding::Suspect { entry, observed, expected, rivals, .. }] = levels.findings.as_slice() else {
        panic!("{:?}", levels.findings)
    };
    assert_eq!((entry.as_str(), rivals.len()), ("1.1", 0));
    assert!(near(*observed, 1.1));
    assert!((expected.metres() - 0.8).abs() < 1e-6, "{expected:?}");
}

/// The same yard; a 6 on the rod was written as a 9 (1.066 as 1.096).
#[test]
fn a_nine_written_for_a_six_is_said() {
    let rods: [&[(&str, f64)]; 3] = [
        &[("a", 2.0), ("b", 1.066), ("c", 0.5), ("d", 1.8)],
        &[("d", 1.6), ("b", 0.896), ("c", 0.3), ("a", 1.8)],
        &[("a", 2.5), ("b", 1.566), ("c", 1.0), ("d", 2.3)],
    ];
    let levels = heights(&record(50.0, &rods));
    let [LevelFinding::Suspect { entry, causes, .. }] = levels.findings.as_slice() else {
        panic!("{:?}", levels.findings)
    };
    let nine = crate::slips::Slip::LookAlike { written: '9', meant: '6' };
    assert_eq!(entry.as_str(), "1.1");
    assert_eq!(causes.first().map(|c| (&c.slip, c.meant.text.as_str())), Some((&nine, "0.866")));
}

#[test]
fn slopes_are_said_in_every_way() {
    // IRC R401.3: 6 in within 10 ft is 5 %; its angle 2.8624° (calculated).
    let fall = Slope::of(Length::from_inches(6.0), Length::from_feet(10.0)).unwrap();
    assert!((fall.percent() - 5.0).abs() < 1e-12);
    assert!((fall.inches_per_foot() - 0.6).abs() < 1e-12);
    assert!((fall.one_in().unwrap() - 20.0).abs() < 1e-9);
    assert!((fall.angle().degrees() - 2.8624).abs() < 5e-5);
    // 2010 ADA Standards 403.3: 1:48 is 2.0833 %, 1.1935°.
    let cross = Slope::of(Length::from_feet(1.0), Length::from_feet(48.0)).unwrap();
    assert!((cross.percent() - 2.0833).abs() < 5e-5);
    assert!((cross.angle().degrees() - 1.1935).abs() < 5e-5);
    assert_eq!(Slope::of(Length::from_feet(1.0), Length::ZERO), None);
    assert_eq!(Slope::of_angle(Angle::from_degrees(90.0)), None);
}

/// By hand: up 1, and back 1.2 down, is 200 mm off where 2 mm readings allow 12; b could lie anywhere between. Of d, read
/// beside a from the first set-up, nothing is wrong.
#[test]
fn heights_between_readings_that_contradict_are_in_doubt_and_others_not() {
    let loop_: [&[(&str, f64)]; 2] = [&[("a", 2.0), ("b", 1.0)], &[("b", 1.5), ("a", 2.7)]];
    let levels = heights(&record(50.0, &loop_));
    assert!(matches!(levels.findings.as_slice(), [LevelFinding::Suspect { .. }]));
    let doubt = |levels: &Levels, point: &str| levels.points[&point.into()].in_doubt;
    assert!(doubt(&levels, "b") && !doubt(&levels, "a"));
    assert_eq!(levels.doubted.len(), 4);
    let clean: [&[(&str, f64)]; 2] = [&[("a", 2.0), ("b", 1.0)], &[("b", 1.5), ("a", 2.502)]];
    let levels = heights(&record(50.0, &clean));
    assert!(!doubt(&levels, "b") && levels.doubted.is_empty());
    assert_eq!(levels.scatter.to_bits(), 1.0_f64.to_bits());
    // The two readings of c differ: b's height has nothing to do with it.
    let twice: [&[(&str, f64)]; 1] = [&[("a", 2.0), ("b", 1.0), ("c", 1.2), ("c", 1.5)]];
    let levels = heights(&record(50.0, &twice));
    assert!(doubt(&levels, "c") && !doubt(&levels, "b") && !doubt(&levels, "a"));
}

/// Two misreads at a time: the one that is named does not hide the other.
#[test]
fn a_second_misread_puts_its_point_in_doubt_too() {
    let rods: [&[(&str, f64)]; 1] =
        [&[("a", 2.0), ("b", 1.0), ("b", 1.9), ("c", 1.2), ("c", 1.5), ("d", 1.1), ("d", 1.1)]];
    let levels = heights(&record(50.0, &rods));
    let doubt: Vec<bool> = ["a", "b", "c", "d"].map(|p| levels.points[&p.into()].in_doubt).to_vec();
    assert_eq!(doubt, [false, true, true, false]);
    // Without what may be wrong the others stand as they were.
    let without = heights_without(&record(50.0, &rods), &levels.doubted);
    assert!(without.doubted.is_empty() && near(without.points[&"d".into()].above, 50.9));
    assert!(!without.points.contains_key(&"b".into()));
}

/// Eight points read twice, each pair 8 mm apart: 2.83 standard deviations of their difference, none alone beyond chance,
/// all together far beyond (chi-square of eight is above 17.5 once in forty, from the table; here it is 64).
#[test]
fn what_scatters_beyond_chance_is_less_sure_than_said() {
    let names = ["b", "c", "d", "e", "f", "g", "h", "i"];
    let read = |apart: f64| {
        let mut rods = vec![("a", 2.0)];
        rods.extend(names.iter().flat_map(|name| [(*name, 1.0), (*name, 1.0 + apart)]));
        heights(&record(50.0, &[&rods]))
    };
    let (calm, rough) = (read(0.002), read(0.008));
    let sd = |levels: &Levels| levels.points[&"b".into()].sd;
    assert!(calm.findings.is_empty() && rough.findings.is_empty(), "{:?}", rough.findings);
    assert!((rough.scatter * rough.scatter - 8.0).abs() < 1e-6, "{}", rough.scatter);
    assert!((sd(&rough) / sd(&calm) - rough.scatter).abs() < 1e-9);
    let rise = |levels: &Levels| levels.rise(&"a".into(), &"b".into()).unwrap().1;
    assert!((rise(&rough) / rise(&calm) - rough.scatter).abs() < 1e-9);
}
