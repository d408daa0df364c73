//! The ground: heights where the plan has places, the surface between them, and what water does on it.
//!
//! Only rods that stood on the ground or on paving make it ([`Record::stood`]); a threshold or a deck has a height of
//! its own. Edges along which the ground may break (walls, kerbs, edges of paving) are sides of its triangles.

use super::{Outline, Plan, What};
use crate::levels::{Contour, Levels, LowPoint, NoSurface, Slope, Spot, Surface, heights};
use crate::network::PointState;
use crate::record::{Feature, Geometry, PointId, Record, Stood, kind};
use crate::units::float::sqrt;
use crate::units::{Angle, Length, PlanPoint, UnitSystem, sort_by};

/// Of these kinds the ground under the outline is not known.
const BUILT: &[&str] = &["house", "outbuilding", "pool"];
/// Along these the ground may break. Common practice, no source.
const BREAKS: &[&str] = &[
    "house",
    "outbuilding",
    "pool",
    "steps",
    "patio",
    "drive",
    "path",
    "pad",
    "wall",
    "kerb",
    "curved_edge",
    "swale",
];
/// Most contours between the lowest and the highest ground, or they cannot be told apart. Our choice.
const MOST: f64 = 15.0;
/// A contour's interval is no finer than so many standard deviations of a height: at most a tenth of heights read off
/// are then wrong by more than half of it (United States National Map Accuracy Standards, 1947, vertical accuracy;
/// 2 × 1.645, the 95th percentile of the normal distribution).
const SPREADS: f64 = 3.29;
/// Arrows stand no nearer to each other than this (metres): 8 ft, our choice.
const APART: f64 = 2.4384;
/// Ground more level than this (per cent) has no direction worth an arrow: a level reads no better. Our choice.
const LEVEL: f64 = 0.25;

/// The height of a point that has a place.
#[derive(Clone, Debug, PartialEq)]
pub struct SpotHeight {
    /// The point.
    pub point: PointId,
    /// Its label.
    pub label: String,
    /// Where it is.
    pub at: PlanPoint,
    /// Above the datum.
    pub height: Length,
    /// Standard deviation against the datum.
    pub sd: Length,
    /// Whether a misread of its readings would show.
    pub checked: bool,
    /// Whether readings contradict each other on which it rests.
    pub in_doubt: bool,
    /// Whether it is the ground's height, or that of something over it.
    pub stood: Stood,
}

/// Which way and how steeply the ground falls at a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fall {
    /// Where.
    pub at: PlanPoint,
    /// Elsewhere on the same even stretch, where it is as true.
    pub others: [PlanPoint; 3],
    /// Downhill, counterclockwise from the plan's x.
    pub toward: Angle,
    /// How steeply; positive.
    pub slope: Slope,
    /// Far from every reading: a guess.
    pub far: bool,
}

/// The ground as the readings show it.
#[derive(Clone, Debug, PartialEq)]
pub struct Ground {
    /// The heights.
    pub levels: Levels,
    /// Heights of points with a place; loose points have none that counts.
    pub spots: Vec<SpotHeight>,
    /// The ground between them, or why there is none.
    pub surface: Result<Surface, NoSurface>,
    /// From one contour to the next; none where there is no surface or it is flat within the readings' doubt.
    pub interval: Option<Length>,
    /// Lines of equal height.
    pub contours: Vec<Contour>,
    /// Where water stands, deepest first.
    pub low: Vec<LowPoint>,
    /// Falls worth an arrow, steadiest (largest triangles) first.
    pub falls: Vec<Fall>,
}

impl Ground {
    /// From the record's readings and the plan's places.
    #[must_use]
    pub fn of(record: &Record, plan: &Plan) -> Self {
        let levels = heights(record);
        let spots = spots(record, plan, &levels);
        let ground: Vec<&SpotHeight> = spots.iter().filter(|s| s.stood == Stood::Ground).collect();
        let given: Vec<Spot> = ground.iter().map(|s| Spot { at: s.at, height: s.height }).collect();
        let surface = Surface::new(&given, &breaks(record, &ground), &built(plan));
        let (mut interval, mut contours, mut low, mut falls) = (None, Vec::new(), Vec::new(), Vec::new());
        if let Ok(surface) = &surface {
            interval = self::interval(&ground, record.site.units);
            contours = interval.map_or_else(Vec::new, |interval| surface.contours(interval));
            low = surface.low_points();
            falls = self::falls(surface);
        }
        Self { levels, spots, surface, interval, contours, low, falls }
    }

    /// Height of the ground at a place; none where nothing is known of it.
    #[must_use]
    pub fn height_at(&self, at: PlanPoint) -> Option<Length> {
        self.surface.as_ref().ok()?.height_at(at)
    }

    /// Whether anything was read with a level.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.levels.points.is_empty()
    }
}

fn spots(record: &Record, plan: &Plan, levels: &Levels) -> Vec<SpotHeight> {
    let spot = |p: &super::PlacedPoint| {
        let height = levels.points.get(&p.id).filter(|_| p.state != PointState::Loose)?;
        Some(SpotHeight {
            point: p.id.clone(),
            label: p.label.clone(),
            at: p.at,
            height: height.above,
            sd: height.sd,
            checked: height.checked,
            in_doubt: height.in_doubt,
            stood: stood(record, &p.id),
        })
    };
    plan.points.iter().filter_map(spot).collect()
}

/// On the ground only where every rod on the point stood there.
pub(crate) fn stood(record: &Record, point: &PointId) -> Stood {
    let rods = || record.levels.iter().filter(|r| r.what.point == *point);
    if rods().next().is_none() {
        return record.usually_stood(point);
    }
    let on_ground = rods().all(|r| record.stood(&r.what) == Stood::Ground);
    if on_ground { Stood::Ground } else { Stood::Above }
}

/// Sides along which the ground may break, by number of the spots: from each point of an edge to the next, where both
/// have a height.
fn breaks(record: &Record, spots: &[&SpotHeight]) -> Vec<[usize; 2]> {
    let number = |id: &PointId| spots.iter().position(|s| s.point == *id);
    let edges = |f: &Feature| {
        let closed = kind(&f.kind).is_some_and(|k| k.geometry == Geometry::Area);
        let n = f.points.len();
        let after = f.points.iter().cycle().skip(1).take(if closed { n } else { n.saturating_sub(1) });
        f.points.iter().zip(after).filter_map(|(a, b)| Some([number(a)?, number(b)?])).collect::<Vec<_>>()
    };
    let broken = record.features.iter().filter(|f| BREAKS.contains(&f.what.kind.as_str()));
    broken.flat_map(|f| edges(&f.what)).collect()
}

/// The outlines under which no ground is known.
pub(crate) fn built(plan: &Plan) -> Vec<Vec<PlanPoint>> {
    let outline = |shape: &super::Shape| match (&shape.what, &shape.outline) {
        (What::Feature(key), Outline::Area(all)) if BUILT.contains(&key.as_str()) => Some(all.clone()),
        _ => None,
    };
    plan.shapes.iter().filter_map(outline).collect()
}

/// The finest interval of 1, 2, 5, 10 … hundredths (of a foot or a metre) that the readings bear and the eye can part.
fn interval(spots: &[&SpotHeight], units: UnitSystem) -> Option<Length> {
    let unit = if units == UnitSystem::Metres { 1.0 } else { Length::from_feet(1.0).metres() };
    let heights = || spots.iter().map(|s| s.height.metres());
    let (low, high) = heights().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), z| (l.min(z), h.max(z)));
    #[expect(clippy::cast_precision_loss, reason = "a few hundred spots")]
    let mean = spots.iter().map(|s| s.sd.metres() * s.sd.metres()).sum::<f64>() / spots.len().max(1) as f64;
    let least = (SPREADS * sqrt(mean)).max((high - low) / MOST);
    let mut power = 0.01 * unit;
    // Seven decades reach from a hundredth of a foot to any hill.
    for _ in 0..7 {
        for step in [1.0, 2.0, 5.0].map(|m| m * power) {
            if step >= least {
                return (high - low >= step).then(|| Length::from_metres(step));
            }
        }
        power *= 10.0;
    }
    None
}

/// One arrow for each stretch of ground, the largest triangles first.
fn falls(surface: &Surface) -> Vec<Fall> {
    let mut order: Vec<usize> = (0..surface.triangles.len()).collect();
    let size = |t: &usize| surface.area_of(*t).square_metres();
    sort_by(&mut order, |a, b| size(b).total_cmp(&size(a)).then(a.cmp(b)));
    let mut falls: Vec<Fall> = Vec::new();
    for t in order {
        let Some(((slope, toward), at)) = surface.fall(t).zip(surface.middle(t)) else { continue };
        let Some(toward) = toward.filter(|_| slope.percent() >= LEVEL) else { continue };
        if falls.iter().all(|f| f.at.distance(at).metres() >= APART) {
            let others = surface.triangles.get(t).map_or([at; 3], |corners| {
                corners.map(|c| surface.spots.get(c).map_or(at, |spot| at.midway(spot.at)))
            });
            falls.push(Fall { at, others, toward, slope, far: surface.is_far(t) });
        }
    }
    falls
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::levels::NoSurface;
    use crate::plan::PlacedPoint;
    use crate::record::{Attributes, BenchMark, LevelReading, LevelWith, Reading, Recorded};

    /// Points with their places and rods (metres) under a line of 31 m, the first levelled as 31 less its rod.
    fn yard(rods: &[(&str, f64, f64, f64)]) -> (Record, Plan) {
        let (mut record, mut plan) = (Record::default(), Plan::default());
        record.site.units = UnitSystem::Metres;
        for (n, (label, x, y, rod)) in rods.iter().enumerate() {
            let what = LevelReading {
                setup: (n > 0).then(|| "r0".into()),
                point: (*label).into(),
                reading: Reading { text: String::new(), value: Length::from_metres(*rod) },
                overhead: false,
                stood: None,
                with: LevelWith::BuildersLevel,
                sd: None,
            };
            let entry = format!("r{n}").as_str().into();
            record.levels.push(Recorded { entry, author: "a".into(), at_ms: 0, what });
            plan.points.push(PlacedPoint {
                id: (*label).into(),
                label: (*label).to_owned(),
                note: String::new(),
                at: PlanPoint::from_metres(*x, *y),
                state: PointState::Fixed,
                ellipse: None,
                freedom: None,
            });
        }
        if let Some((label, _, _, rod)) = rods.first() {
            let height = Length::from_metres(31.0 - rod);
            record.bench_mark = Some(BenchMark { point: (*label).into(), height, source: String::new() });
        }
        (record, plan)
    }

    fn thing(record: &mut Record, kind: &str, points: &[&str]) {
        let what = Feature {
            kind: kind.to_owned(),
            points: points.iter().map(|p| (*p).into()).collect(),
            name: String::new(),
            attributes: Attributes::default(),
            fate: None,
            told: false,
            curved: false,
            note: String::new(),
        };
        let entry = format!("f{}", record.features.len()).as_str().into();
        record.features.push(Recorded { entry, author: "a".into(), at_ms: 0, what });
    }

    const SQUARE: [(&str, f64, f64, f64); 4] =
        [("A", 0.0, 0.0, 1.0), ("B", 20.0, 0.0, 1.5), ("C", 20.0, 20.0, 1.5), ("D", 0.0, 20.0, 1.0)];

    #[test]
    fn even_ground_has_its_fall_and_contours_no_finer_than_the_readings() {
        let (record, plan) = yard(&SQUARE);
        let ground = Ground::of(&record, &plan);
        // Half a metre over twenty: 2.5 % toward x. Fifteen contours at most, so 0.05 m and no finer.
        assert!((ground.interval.unwrap().metres() - 0.05).abs() < 1e-12);
        let heights: Vec<f64> = ground.contours.iter().map(|c| c.height.metres()).collect();
        assert!(heights.iter().all(|z| (29.5 - 1e-9..=30.0 + 1e-9).contains(z)), "{heights:?}");
        assert!((10..=11).contains(&heights.len()), "{heights:?}");
        assert!(!ground.falls.is_empty());
        for fall in &ground.falls {
            assert!(
                (fall.slope.percent() - 2.5).abs() < 1e-6 && fall.toward.radians().abs() < 1e-9,
                "{fall:?}"
            );
            assert!(fall.far, "twenty metres from reading to reading is a guess");
        }
        assert!((ground.height_at(PlanPoint::from_metres(10.0, 5.0)).unwrap().metres() - 29.75).abs() < 1e-9);
    }

    #[test]
    fn what_is_over_the_ground_and_what_is_loose_do_not_make_it() {
        let mut rods = SQUARE.to_vec();
        rods.push(("T", 10.0, 10.0, 0.2));
        rods.push(("L", 5.0, 5.0, 0.2));
        let (mut record, mut plan) = yard(&rods);
        thing(&mut record, "door", &["T"]);
        if let Some(loose) = plan.points.last_mut() {
            loose.state = PointState::Loose;
        }
        let ground = Ground::of(&record, &plan);
        let stood: Vec<_> = ground.spots.iter().map(|s| (s.label.as_str(), s.stood)).collect();
        assert_eq!(stood.len(), 5, "{stood:?}");
        assert!(stood.contains(&("T", Stood::Above)));
        assert!(
            (ground.height_at(PlanPoint::from_metres(10.0, 10.0)).unwrap().metres() - 29.75).abs() < 1e-9
        );
        // Said of the rod, it counts for more than the thing.
        for rod in record.levels.iter_mut().filter(|r| r.what.point == "T".into()) {
            rod.what.stood = Some(Stood::Ground);
        }
        let ground = Ground::of(&record, &plan);
        assert!((ground.height_at(PlanPoint::from_metres(10.0, 10.0)).unwrap().metres() - 30.8).abs() < 1e-9);
    }

    #[test]
    fn a_house_has_no_ground_in_it_and_its_walls_break_the_slope() {
        let mut rods = SQUARE.to_vec();
        rods.extend([
            ("H1", 8.0, 8.0, 1.0),
            ("H2", 12.0, 8.0, 1.0),
            ("H3", 12.0, 12.0, 1.0),
            ("H4", 8.0, 12.0, 1.0),
        ]);
        let (mut record, mut plan) = yard(&rods);
        thing(&mut record, "house", &["H1", "H2", "H3", "H4"]);
        plan.shapes = super::super::build::shapes(&record, &plan.points);
        let ground = Ground::of(&record, &plan);
        assert_eq!(ground.height_at(PlanPoint::from_metres(10.0, 10.0)), None);
        let foot = ground.height_at(PlanPoint::from_metres(12.0, 10.0)).unwrap().metres();
        assert!((foot - 30.0).abs() < 1e-9, "along a wall the ground goes from corner to corner: {foot}");
        let whole = ground.surface.as_ref().map(|s| s.area().square_metres());
        assert!((whole.unwrap() - (400.0 - 16.0)).abs() < 1e-9);
    }

    #[test]
    fn too_few_heights_and_flat_ground_draw_nothing() {
        let (record, plan) = yard(&SQUARE[..2]);
        let ground = Ground::of(&record, &plan);
        assert_eq!(ground.surface, Err(NoSurface::TooFew));
        assert!(ground.contours.is_empty() && ground.spots.len() == 2 && !ground.is_empty());
        assert!(Ground::of(&Record::default(), &Plan::default()).is_empty());
        let flat: Vec<_> = SQUARE.iter().map(|(label, x, y, _)| (*label, *x, *y, 1.0)).collect();
        let (record, plan) = yard(&flat);
        let ground = Ground::of(&record, &plan);
        assert!(ground.surface.is_ok() && ground.interval.is_none() && ground.falls.is_empty());
    }
}
