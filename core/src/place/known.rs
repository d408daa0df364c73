//! Two points of the site whose place on earth is known: north by the line between them, and a check on the plan's size.

use super::{Position, Topocentric, certain};
use crate::network::kernel::ELLIPSE_95;
use crate::plan::Plan;
use crate::record::{Anchor, North, NorthKind, Record};
use crate::units::{Angle, Length, SURE, float};

/// North by two known points is taken when it is good to this, 95 of 100: what a careful hand compass does. With two
/// phones' places of 5 m each the points must lie 65 m apart (common practice, no source).
pub const WIDEST: Angle = Angle::from_radians(5.0 * std::f64::consts::PI / 180.0);
/// What a place is taken to be good to whose source does not say: a phone under trees (common practice, no source).
pub const UNSAID: Length = Length::from_metres(10.0);

/// From the anchor to the second known point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Between {
    /// On the ground, level.
    pub distance: Length,
    /// Clockwise from true north, at the anchor.
    pub bearing: Angle,
    /// The distance's standard deviation, where both accuracies are known.
    pub distance_sd: Option<Length>,
    /// The bearing's standard deviation, where both accuracies are known.
    pub bearing_sd: Option<Angle>,
}

impl Between {
    /// What the bearing is good to, 95 of 100.
    #[must_use]
    pub fn bearing_95(&self) -> Option<Angle> {
        self.bearing_sd.map(|sd| Angle::from_radians(SURE * sd.radians()))
    }

    /// How far apart both points must lie before north is taken from them.
    #[must_use]
    pub fn far_enough(&self) -> Option<Length> {
        Some(self.distance_sd? * (SURE / WIDEST.radians()))
    }

    /// Whether north is taken from it.
    #[must_use]
    pub fn gives_north(&self) -> bool {
        self.bearing_95().is_some_and(|reach| reach.radians() <= WIDEST.radians())
    }
}

/// The line between both known places; none where one is missing, no place on earth, or both are the same.
///
/// Measured in the plane that touches the ellipsoid at the anchor: over 500 m that differs from the geodesic by
/// less than a micrometre.
#[must_use]
pub fn between(record: &Record) -> Option<Between> {
    let (first, second) = (record.anchor.as_ref()?, record.second_anchor()?);
    let [from, to] = [first, second].map(|at| Position::on_ellipsoid(at.latitude, at.longitude));
    if !from.is_on_earth() || !to.is_on_earth() {
        return None;
    }
    let (east, north) = Topocentric::new(from).offset(to);
    let distance = float::hypot(east.metres(), north.metres());
    // Each way, both ends: the radius that holds 95 of 100 is so many standard deviations.
    let sd = |anchor: &Anchor| anchor.accuracy.filter(|a| a.is_finite() && *a >= Length::ZERO);
    let sd = sd(first).zip(sd(second)).map(|(a, b)| float::hypot(a.metres(), b.metres()) / ELLIPSE_95);
    (distance > 0.0).then(|| Between {
        distance: Length::from_metres(distance),
        bearing: Angle::from_radians(
            float::atan2(east.metres(), north.metres()).rem_euclid(std::f64::consts::TAU),
        ),
        distance_sd: sd.map(Length::from_metres),
        bearing_sd: sd.map(|sd| Angle::from_radians(float::atan2(sd, distance))),
    })
}

/// Puts north by the two known points into the record, where it is good enough.
pub fn lay(record: &mut Record) {
    record.north_by_anchors = north_by_anchors(record);
}

/// North by the two known points, where it is good enough; a compass's declination stays with it.
#[must_use]
pub fn north_by_anchors(record: &Record) -> Option<North> {
    let between = between(record).filter(Between::gives_north);
    let ends = record.anchor.as_ref().zip(record.second_anchor());
    between.zip(ends).map(|(between, (first, second))| North {
        from: first.point.clone(),
        to: second.point.clone(),
        bearing: between.bearing,
        kind: NorthKind::True,
        declination: record.north.as_ref().and_then(|north| north.declination),
        source: say!("two known points"),
        sd: between.bearing_sd,
    })
}

/// The plan and the two known places, where they differ by more than both accuracies allow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Misfit {
    /// Between the two places on earth.
    pub on_earth: Length,
    /// Between the two points of the plan.
    pub in_plan: Length,
    /// What the difference may be, 95 of 100.
    pub allowed: Length,
    /// Whether an accuracy was not said, and taken as [`UNSAID`].
    pub assumed: bool,
}

/// Compares the distance between both known places with the plan's, where both points are fixed in it.
#[must_use]
pub fn misfit(record: &Record, plan: &Plan) -> Option<Misfit> {
    let (first, second) = (record.anchor.as_ref()?, record.second_anchor()?);
    let on_earth = between(record).map_or(Length::ZERO, |between| between.distance);
    let [a, b] = [first, second].map(|anchor| certain(plan, &anchor.point));
    let (x, y) = (b? - a?).metres();
    let in_plan = Length::from_metres(float::hypot(x, y));
    let reach = |anchor: &Anchor| anchor.accuracy.unwrap_or(UNSAID).metres();
    // A radius in two dimensions holds 95 of 100 at 2.45 standard deviations, a length in one at 1.96.
    let allowed = Length::from_metres(SURE / ELLIPSE_95 * float::hypot(reach(first), reach(second)));
    let assumed = first.accuracy.is_none() || second.accuracy.is_none();
    let off = (on_earth - in_plan).metres().abs();
    (off > allowed.metres()).then_some(Misfit { on_earth, in_plan, allowed, assumed })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::{Book, Entry, fold};
    use crate::network::{Adjustment, Fix, PointState};
    use crate::record::{Point, PointId, Recorded, Statement};
    use crate::units::PlanPoint;

    fn anchor(point: &str, latitude: f64, longitude: f64, accuracy: Option<f64>) -> Anchor {
        let accuracy = accuracy.map(Length::from_metres);
        Anchor { point: point.into(), latitude, longitude, source: "typed".into(), accuracy }
    }

    fn record(first: Anchor, second: Anchor) -> Record {
        let mut record = Record { anchor: Some(first), ..Record::default() };
        let entry = "2".into();
        record.second_anchors.push(Recorded { entry, author: "a".into(), at_ms: 0, what: second });
        record
    }

    /// Geodesics on WGS 84 by geographiclib 2.1: distance and azimuth.
    #[test]
    fn the_line_between_agrees_with_the_geodesic() {
        for (a, b, distance, azimuth) in [
            ((40.7, -74.0), (40.7009, -73.9988), 142.387_714_046, 45.419_191_983_7),
            ((-33.9, 151.2), (-33.9015, 151.2021), 255.752_249_055, 130.584_041_522_0),
            ((64.1, -21.9), (64.103, -21.906), 444.318_365_439, 318.827_171_311_3),
        ] {
            let found = between(&record(anchor("A", a.0, a.1, None), anchor("B", b.0, b.1, None))).unwrap();
            assert!((found.distance.metres() - distance).abs() < 1e-5, "{found:?}");
            assert!((found.bearing.degrees() - azimuth).abs() < 1e-6, "{found:?}");
            assert_eq!((found.distance_sd, found.bearing_sd, found.gives_north()), (None, None, false));
        }
    }

    /// Of 200,000 pairs of places scattered about the true ones so that 95 of 100 lie within 5 m, the line 142 m long turned
    /// by 1.16°, standard deviation (numpy 2.4.6, by hand).
    #[test]
    fn north_is_as_good_as_both_places_and_their_distance_make_it() {
        let far = |reach| record(anchor("A", 40.7, -74.0, reach), anchor("B", 40.7009, -73.9988, reach));
        let found = between(&far(Some(5.0))).unwrap();
        assert!((found.bearing_sd.unwrap().degrees() - 1.162).abs() < 0.005, "{found:?}");
        let mut good = far(Some(5.0));
        lay(&mut good);
        let north = good.north_that_counts().unwrap();
        assert_eq!((north.from.as_str(), north.to.as_str(), north.kind), ("A", "B", NorthKind::True));
        // Twenty metres each over that length is worse than a compass.
        for reach in [Some(20.0), None, Some(f64::NAN)] {
            let mut poor = far(reach);
            lay(&mut poor);
            assert_eq!(poor.north_that_counts(), None, "{reach:?}");
        }
    }

    #[test]
    fn what_somebody_said_of_true_north_counts_for_more_and_a_compass_for_less() {
        let mut record =
            record(anchor("A", 40.7, -74.0, Some(1.0)), anchor("B", 40.7009, -73.9988, Some(1.0)));
        let said = |kind| North {
            from: "A".into(),
            to: "B".into(),
            bearing: Angle::from_degrees(50.0),
            kind,
            declination: Some(Angle::from_degrees(-13.0)),
            source: "said".into(),
            sd: None,
        };
        let mut counts = |kind| {
            record.north = Some(said(kind));
            lay(&mut record);
            record.north_that_counts().unwrap().clone()
        };
        assert_eq!(counts(NorthKind::True).source, "said");
        let known = counts(NorthKind::Magnetic);
        assert_eq!(known.source, "two known points");
        assert_eq!(known.declination, Some(Angle::from_degrees(-13.0)));
    }

    fn plan(record: &Record, apart: f64) -> Plan {
        plan_of(record, &[("A", 0.0, PointState::Checked), ("B", apart, PointState::Checked)])
    }

    fn plan_of(record: &Record, points: &[(&str, f64, PointState)]) -> Plan {
        let mut record = record.clone();
        let mut adjustment = Adjustment::default();
        for &(label, x, state) in points {
            record.points.push(Point { id: label.into(), label: label.into(), note: String::new() });
            let at = Some(PlanPoint::from_metres(x, 0.0));
            let fix = Fix { at, guess: None, state, ellipse: None, freedom: None };
            adjustment.points.insert(PointId::from(label), fix);
        }
        Plan::build(&record, &adjustment)
    }

    /// A compass on a fixed line is worth more than two known points of which one is loose.
    #[test]
    fn a_loose_second_point_gives_no_north() {
        let mut record =
            record(anchor("A", 40.7, -74.0, Some(1.0)), anchor("B", 40.7009, -73.9988, Some(1.0)));
        lay(&mut record);
        let (from, to, bearing) = ("A".into(), "C".into(), Angle::from_degrees(50.0));
        let (kind, source) = (NorthKind::Magnetic, "compass".to_owned());
        record.north = Some(North { from, to, bearing, kind, declination: None, source, sd: None });
        let source = |b| {
            let points = [("A", 0.0, PointState::Fixed), ("B", 142.0, b), ("C", 9.0, PointState::Fixed)];
            plan_of(&record, &points).north.unwrap().source
        };
        assert_eq!(source(PointState::Fixed), "two known points");
        assert_eq!(source(PointState::Loose), "compass");
    }

    /// The line is 142.39 m; two places good to 5 m differ from that by more than 5.66 m in 5 of 100
    /// of the same pairs.
    #[test]
    fn a_plan_of_another_size_is_told() {
        let good = record(anchor("A", 40.7, -74.0, Some(5.0)), anchor("B", 40.7009, -73.9988, Some(5.0)));
        assert_eq!(misfit(&good, &plan(&good, 137.0)), None);
        assert_eq!(misfit(&good, &plan(&good, 148.0)), None);
        let found = misfit(&good, &plan(&good, 136.0)).unwrap();
        assert!((found.allowed.metres() - 5.66).abs() < 0.01 && !found.assumed, "{found:?}");
        assert!(misfit(&good, &plan(&good, 149.0)).is_some());
        // Two points at one place on earth are apart by nothing there.
        let same = record(anchor("A", 40.7, -74.0, Some(5.0)), anchor("B", 40.7, -74.0, Some(5.0)));
        assert!(misfit(&same, &plan(&same, 20.0)).is_some());
        let unsaid = record(anchor("A", 40.7, -74.0, None), anchor("B", 40.7009, -73.9988, None));
        assert_eq!(misfit(&unsaid, &plan(&unsaid, 132.0)), None);
        assert!(misfit(&unsaid, &plan(&unsaid, 130.0)).unwrap().assumed);
    }

    /// The last one said counts, a strike takes it back, the anchor's own point is no second one, and the line goes
    /// round to the letter.
    #[test]
    fn a_second_place_goes_through_the_book() {
        let line = r#"{"id":"2","clock":2,"at_ms":0,"author":"a","say":{"second_anchor":{"point":"B","latitude":40.7009,"longitude":-73.9988,"source":"phone","accuracy_metres":5.0}}}"#;
        let read = Entry::from_line(line).unwrap();
        let written = Entry::new("2".into(), 2, 0, "a".into(), read.statement().unwrap().clone()).unwrap();
        assert_eq!(written.line(), line);
        let mut book = Book::new();
        let mut say = |id: &str, clock, said| {
            book.add(Entry::new(id.into(), clock, 0, "a".into(), said).unwrap()).unwrap();
            fold(&book).record.second_anchor().map(|second| second.point.0.clone())
        };
        let place = |point: &str| anchor(point, 1.0, 2.0, None);
        assert_eq!(say("1", 1, Statement::SecondAnchor(place("B"))), None, "no first one yet");
        assert_eq!(say("2", 2, Statement::Anchor(place("A"))).as_deref(), Some("B"));
        assert_eq!(say("3", 3, Statement::SecondAnchor(place("C"))).as_deref(), Some("C"));
        assert_eq!(say("4", 4, Statement::Anchor(place("C"))), None);
        assert_eq!(say("5", 5, Statement::Anchor(place("A"))).as_deref(), Some("C"));
        let strike = |entry: &str| Statement::Strike { entry: entry.into(), why: String::new() };
        assert_eq!(say("6", 6, strike("3")).as_deref(), Some("B"));
        assert_eq!(say("7", 7, strike("1")), None);
    }
}
