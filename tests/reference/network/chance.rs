//! What chance alone does, against scipy.stats (1.17.1); and that what nothing checks is not called checked.

use swingtie_core::network::kernel::{detectable, suspect_limit, variance_interval};
use swingtie_core::network::{
    AdjustedReading, Adjustment, Agreement, PointState, Quantity, ReadingRole, UNCHECKED, adjust, discern,
};
use swingtie_core::record::{
    AuthorId, EntryId, How, Measurement, PointId, Reading, Record, Recorded, Side, SideOf, TapedTo,
};
use swingtie_core::units::float::sqrt;
use swingtie_core::units::{Length, PlanPoint};
use swingtie_tests::fit::errors_after_fit;
use swingtie_tests::taped::Yard;

/// `norm.isf(0.001 / n)`: of n normal variables the largest is beyond this, either way, with a
/// probability of 0.2 % at most.
#[test]
fn the_limit_grows_with_the_readings_tested() {
    for (tested, want) in [
        (2, 3.290_526_731_491_894_5),
        (3, 3.402_932_835_385_304_3),
        (10, 3.719_016_485_455_680_4),
        (100, 4.264_890_793_922_825),
        (270, 4.481_632_921_627_857),
        (1000, 4.753_424_308_822_899),
        (10_000, 5.199_337_582_192_816_5),
        (100_000, 5.612_001_244_174_789),
    ] {
        let got = suspect_limit(tested);
        // The formula's own bound (Abramowitz and Stegun 26.2.23).
        assert!((got - want).abs() < 4.5e-4, "{tested}: {got}, scipy {want}");
    }
    // Baarda's limit is the least.
    assert_eq!(suspect_limit(0), suspect_limit(1));
    assert!((suspect_limit(1) - 3.290_526_731_491_894_5).abs() < 1e-12);
}

/// `norm.isf(0.2)`; and Baarda's 4.13 for his 3.29, in two decimals.
#[test]
fn an_error_shows_four_times_of_five() {
    assert!((detectable(0.0) - 0.841_621_233_572_914_3).abs() < 1e-12);
    assert!((detectable(suspect_limit(1)) - 4.13).abs() < 5e-3);
}

/// `chi2.ppf(0.025, k)` and `chi2.ppf(0.975, k)`.
const QUANTILES: [(usize, f64, f64); 14] = [
    (1, 0.000_982_069_117_175_255_6, 5.023_886_187_314_888),
    (2, 0.050_635_615_968_579_75, 7.377_758_908_227_871),
    (3, 0.215_795_282_623_897_85, 9.348_403_604_496_148),
    (5, 0.831_211_613_486_662_5, 12.832_501_994_030_027),
    (10, 3.246_972_780_236_841_3, 20.483_177_350_807_388),
    (30, 16.790_772_265_566_63, 46.979_242_243_671_15),
    (60, 40.481_748_042_841_83, 83.297_674_877_173_2),
    (99, 73.361_080_191_283_68, 128.421_988_643_840_3),
    (100, 74.221_927_474_923_73, 129.561_197_185_836_6),
    (101, 75.083_470_749_081_4, 130.699_708_624_065_95),
    (150, 117.984_515_402_902_9, 185.800_447_003_793_27),
    (400, 346.481_765_362_914_64, 457.305_481_966_065),
    (1000, 914.257_153_799_259, 1_089.530_912_774_913_5),
    (20_000, 19_609.904_934_520_368, 20_393.883_649_999_767),
];

#[test]
fn the_variance_factor_has_the_bounds_of_chi_square() {
    for (spare, low, high) in QUANTILES {
        let [from, to] = variance_interval(1.0, spare).expect("spare readings");
        // Exact to a hundred, then an approximation.
        let share = if spare <= 100 { 1e-11 } else { 2e-4 };
        for (got, want) in [(1.0 / from, high), (1.0 / to, low)] {
            assert!((got - want).abs() < share * want, "{spare}: {got}, scipy {want}");
        }
    }
    assert_eq!(variance_interval(0.0, 0), None);
    assert_eq!(variance_interval(0.0, 1), Some([0.0, 0.0]));
}

/// Readings with the scatter they are stated with agree; ties stated three times too good or too bad do not.
/// By chance one of twenty yards falls outside.
#[test]
fn readings_are_as_good_as_stated_or_not() {
    let (mut as_stated, mut better) = (0, 0);
    for seed in 1..=40 {
        let yard = swingtie_tests::yard::Yard::new(60, seed);
        let told = |factor: f64| {
            let mut record = yard.record(Default::default());
            for m in &mut record.measurements {
                if let Measurement::Tie { how, reading, .. } = &mut m.what {
                    how.sd = Some(Length::from_metres(how.sd_of(reading.value).metres() * factor));
                }
            }
            adjust(&record).agreement()
        };
        as_stated += u32::from(told(1.0) == Some(Agreement::AsStated));
        better += u32::from(told(3.0) == Some(Agreement::Better));
        assert_eq!(told(1.0 / 3.0), Some(Agreement::Worse), "{seed}");
    }
    println!("{as_stated} of 40 as stated, {better} of 40 better where the ties are stated rougher");
    assert!(as_stated >= 34 && better >= 36, "{as_stated}, {better} of 40");
    assert_eq!(adjust(&Record::default()).agreement(), None);
}

/// P on a right triangle of 30, 40 and 50 m, each side taped to 2 mm and once more as well as said.
fn triangle(again: f64) -> Adjustment {
    let mut measurements = Vec::new();
    for sd in [0.002, again] {
        for (from, to, value) in [("A", "B", 30.0), ("A", "P", 40.0), ("B", "P", 50.0)] {
            let side = (to == "P").then(|| SideOf { from: "A".into(), to: "B".into(), side: Side::Left });
            let reading = Reading { text: String::new(), value: Length::from_metres(value) };
            let how = How { sd: Some(Length::from_metres(sd)), ..How::default() };
            let (from, to, taped_to) = (from.into(), to.into(), TapedTo::Middle);
            let what = Measurement::Tie { from, to, reading, side, taped_to, how };
            let (entry, author) = (EntryId(format!("e{}", measurements.len())), AuthorId::from("me"));
            measurements.push(Recorded { entry, author, at_ms: 0, what });
        }
    }
    adjust(&Record { measurements, ..Record::default() })
}

/// Of a length read twice the redundancy number is σ²/(σ² + σ'²): 1/101 = 0.0099 where the second reading
/// is ten times as rough, 1/26 = 0.038 where it is five times. Though the first is sharp enough for no
/// point to move a foot, nobody would notice a misread in it.
#[test]
fn what_hardly_anything_checks_is_not_checked() {
    for (again, redundancy, state) in
        [(0.020, 1.0 / 101.0, PointState::Fixed), (0.010, 1.0 / 26.0, PointState::Checked)]
    {
        let result = triangle(again);
        let first = &result.readings[1];
        assert!((first.redundancy.expect("adjusted") - redundancy).abs() < 1e-9, "{first:?}");
        assert_eq!(first.is_checked(), redundancy > UNCHECKED);
        assert!(result.readings[4].is_checked(), "the rough reading is checked by the sharp one");
        assert_eq!(result.points[&PointId::from("P")].state, state, "{again}");
    }
    let nobody = adjust(&Record::default());
    assert!(nobody.readings.iter().all(|r| !r.is_checked()));
}

/// Whether somebody read it off something.
fn read(r: &AdjustedReading) -> bool {
    use ReadingRole::{InLine, OnRun, Parallel, SameLength, Square};
    !matches!(r.role, OnRun | InLine | Square | Parallel | SameLength)
}

/// In yards from a seed: a reading that nothing checks may be off by a metre; no point called checked then
/// moves by more than a foot against the others. Tried with a tenth of that, solved anew.
#[test]
fn no_checked_point_depends_on_what_nothing_checks() {
    let (mut tried, mut moved) = (0, 0);
    for seed in 0..12 {
        let mut yard = Yard::new(300 + seed, 10, 6, 0.3);
        let dice = &mut yard.dice;
        let taken = std::mem::take(&mut yard.taken);
        yard.taken = taken
            .into_iter()
            .filter(|m| !matches!(m, Measurement::Tie { .. }) || dice.unit() > 0.2)
            .collect();
        let before = adjust(&yard.record());
        for r in before.readings.iter().filter(|r| read(r) && r.redundancy.is_some() && !r.is_checked()) {
            let number: usize = r.entry.as_str()[1..].parse().expect("our entries");
            let mut other = yard.record();
            let Some(Measurement::Tie { reading, .. }) =
                other.measurements.get_mut(number).map(|m| &mut m.what)
            else {
                continue;
            };
            reading.value += Length::from_metres(0.1);
            let after = adjust(&other);
            tried += 1;
            let places = |state: Option<PointState>| -> Vec<(PlanPoint, PlanPoint)> {
                let those = before.points.iter().filter(|(_, fix)| state.is_none_or(|s| s == fix.state));
                those.filter_map(|(id, fix)| Some((after.points[id].at?, fix.at?))).collect()
            };
            moved += usize::from(errors_after_fit(&places(None)).worst > 0.05);
            // A tenth of a foot, and what the curvature of circles adds.
            let worst = errors_after_fit(&places(Some(PointState::Checked))).worst;
            assert!(worst < 0.1 * 0.3048 + 0.003, "seed {seed}: {}/{} moves by {worst} m", r.entry, r.part);
        }
    }
    println!("{tried} readings that nothing checks, {moved} of them moved a point");
    assert!(tried > 20 && moved > 20, "{tried}, {moved}");
}

/// Of n readings of one length each residual correlates with another's by −1/(n − 1) (covariance of residuals from
/// the mean, any handbook of statistics): of two neither can be told wrong, of three an error must be 2/√3 = 1.155
/// times the smallest that shows, of four 3/√8 = 1.061 times.
#[test]
fn two_readings_are_never_told_apart_three_and_four_are() {
    for (count, factor) in [(2, None), (3, Some(2.0 / sqrt(3.0))), (4, Some(3.0 / sqrt(8.0)))] {
        let tie = |number: usize| {
            let reading = Reading { text: String::new(), value: Length::from_metres(12.0) };
            let (from, to, how) = ("A".into(), "B".into(), How::default());
            let what = Measurement::Tie { from, to, reading, side: None, taped_to: TapedTo::Middle, how };
            Recorded { entry: EntryId(format!("e{number}")), author: AuthorId::from("me"), at_ms: 0, what }
        };
        let record = Record { measurements: (0..count).map(tie).collect(), ..Record::default() };
        let adjustment = adjust(&record);
        let told = discern(&record, &adjustment, &[0]).remove(0).expect("the others check it");
        let Some(Quantity::Length(shows)) = adjustment.readings[0].smallest_detectable else {
            panic!("shows")
        };
        let size = told.smallest.map(|size| match size {
            Quantity::Length(size) => size.metres() / shows.metres(),
            Quantity::Angle(_) => f64::NAN,
        });
        match (size, factor) {
            (None, None) => assert!(told.correlation > 0.999_999),
            (Some(size), Some(factor)) => assert!((size - factor).abs() < 1e-9, "{count}: {size}, {factor}"),
            other => panic!("{count}: {other:?}"),
        }
        assert!(told.like != 0 && told.like < count);
    }
    assert_eq!(discern(&Record::default(), &adjust(&Record::default()), &[0]), [None]);
}
