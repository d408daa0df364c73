use super::*;

fn spot(x: f64, y: f64, z: f64) -> Spot {
    Spot { at: PlanPoint::from_metres(x, y), height: Length::from_metres(z) }
}

fn surface(spots: &[Spot]) -> Surface {
    Surface::new(spots, &[], &[]).unwrap()
}

fn near(a: Length, b: f64) -> bool {
    (a.metres() - b).abs() < 1e-9
}

/// Fifty places of no pattern on z = 2 + x/10 − y/20.
fn plane() -> Vec<Spot> {
    let place = |n: u32| {
        let (x, y) = (f64::from(n * 37 % 50), f64::from(n * n % 47));
        spot(x, y, 2.0 + 0.1 * x - 0.05 * y)
    };
    (0..50).map(place).collect()
}

#[test]
fn a_plane_stays_a_plane() {
    let surface = surface(&plane());
    for (x, y) in [(20.0, 20.0), (25.3, 17.7), (31.0, 22.5)] {
        let height = surface.height_at(PlanPoint::from_metres(x, y)).unwrap();
        assert!(near(height, 2.0 + 0.1 * x - 0.05 * y), "{height:?}");
    }
    assert_eq!(surface.height_at(PlanPoint::from_metres(-5.0, 0.0)), None);
    // √(0.1² + 0.05²), downhill to the left and up the page.
    for triangle in 0..surface.triangles.len() {
        let (slope, down) = surface.fall(triangle).unwrap();
        assert!((slope.percent() - 11.180_339_887).abs() < 1e-6);
        assert!((down.unwrap().degrees() - 153.434_948_823).abs() < 1e-6);
    }
    assert!(surface.low_points().is_empty());
}

#[test]
fn contours_run_straight_over_a_plane_with_higher_ground_to_the_left() {
    let surface = surface(&plane());
    let contours = surface.contours(Length::from_metres(0.5));
    assert!(contours.len() > 5);
    for contour in &contours {
        assert_eq!(contour.lines.len(), 1, "{contour:?}");
        for at in contour.lines.iter().flatten() {
            let (x, y) = at.metres();
            assert!((2.0 + 0.1 * x - 0.05 * y - contour.height.metres()).abs() < 1e-9);
        }
        let line = &contour.lines[0];
        let ((ax, ay), (bx, by)) = (line[0].metres(), line[line.len() - 1].metres());
        // To the left of the walker: uphill, (0.1, −0.05).
        assert!((by - ay) * 0.1 + (bx - ax) * 0.05 < 0.0);
    }
    let index: Vec<f64> = contours.iter().filter(|c| c.index).map(|c| c.height.metres()).collect();
    assert!(index.iter().all(|h| (h / 2.5).fract() == 0.0) && !index.is_empty(), "{index:?}");
    assert!(surface.contours(Length::ZERO).is_empty());
    assert!(surface.contours(Length::from_metres(1e-9)).is_empty());
}

/// A bowl of nine readings: rim at 1, one notch in it at 0.6, bottom 0, a corner of the rim beyond.
fn bowl() -> Vec<Spot> {
    let mut spots = vec![spot(0.0, 0.0, 0.0)];
    for (n, (x, y)) in
        [(2, 0), (2, 2), (0, 2), (-2, 2), (-2, 0), (-2, -2), (0, -2), (2, -2)].into_iter().enumerate()
    {
        spots.push(spot(f64::from(x), f64::from(y), if n == 0 { 0.6 } else { 1.0 }));
    }
    // Lower ground outside, all round.
    for (x, y) in [(5, 0), (5, 5), (0, 5), (-5, 5), (-5, 0), (-5, -5), (0, -5), (5, -5)] {
        spots.push(spot(f64::from(x), f64::from(y), -0.5));
    }
    spots
}

#[test]
fn a_hollow_is_found_with_its_depth_its_outlet_and_its_ground() {
    let surface = surface(&bowl());
    let pits = surface.low_points();
    let [pit] = pits.as_slice() else { panic!("{pits:?}") };
    assert!(near(pit.height, 0.0) && near(pit.spills, 0.6) && near(pit.depth(), 0.6));
    assert_eq!((pit.at, pit.over), (PlanPoint::from_metres(0.0, 0.0), PlanPoint::from_metres(2.0, 0.0)));
    // The bottom alone drains to itself, and with it a third of the eight triangles about it, 16 m² together;
    // the rim falls away outside more steeply than it does inside, or as steeply.
    let area = pit.catchment.square_metres();
    assert!((16.0 / 3.0..=16.0).contains(&area), "{area}");
    // A building whose corners are the notch's three leaves the notch, but closes nothing else.
    let closed = surface.contours(Length::from_metres(0.3));
    let ring = closed.iter().find(|c| near(c.height, 0.3)).unwrap();
    assert!(ring.lines.iter().any(|line| line.first() == line.last()), "{ring:?}");
}

#[test]
fn a_level_floor_is_one_pit() {
    let mut spots = bowl();
    spots.push(spot(0.5, 0.0, 0.0));
    spots.push(spot(0.25, 0.5, 0.0));
    assert_eq!(surface(&spots).low_points().len(), 1);
}

#[test]
fn nothing_is_said_inside_a_building_or_across_a_break_line() {
    let spots = [
        spot(0.0, 0.0, 1.0),
        spot(4.0, 0.0, 1.0),
        spot(4.0, 4.0, 2.0),
        spot(0.0, 4.0, 1.0),
        spot(2.0, 1.9, 5.0),
    ];
    let house = vec![
        PlanPoint::from_metres(0.0, 0.0),
        PlanPoint::from_metres(4.0, 0.0),
        PlanPoint::from_metres(2.0, 1.9),
    ];
    let with = Surface::new(&spots, &[], &[house]).unwrap();
    assert_eq!(with.height_at(PlanPoint::from_metres(2.0, 0.5)), None);
    assert!(with.height_at(PlanPoint::from_metres(2.0, 3.5)).is_some());
    // Without a line the shorter diagonal; with one, the longer.
    let four = [spot(0.0, 0.0, 0.0), spot(3.0, -1.0, 1.0), spot(6.0, 0.0, 0.0), spot(3.0, 1.0, 1.0)];
    let middle = PlanPoint::from_metres(3.0, 0.0);
    assert!(near(surface(&four).height_at(middle).unwrap(), 1.0));
    let broken = Surface::new(&four, &[[0, 2], [1, 3]], &[]).unwrap();
    assert!(near(broken.height_at(middle).unwrap(), 0.0));
    assert_eq!(broken.crossing, [1]);
}

#[test]
fn what_spans_no_surface_says_so() {
    let none = |spots: &[Spot]| Surface::new(spots, &[], &[]).unwrap_err();
    assert_eq!(none(&[]), NoSurface::TooFew);
    assert_eq!(none(&[spot(0.0, 0.0, 1.0), spot(1.0, 0.0, 1.0)]), NoSurface::TooFew);
    // Three readings of one place are one.
    assert_eq!(none(&[spot(1.0, 1.0, 1.0); 3]), NoSurface::TooFew);
    let line: Vec<Spot> = (0..9).map(|n| spot(f64::from(n) * 0.3, f64::from(n) * 0.7, 1.0)).collect();
    assert_eq!(none(&line), NoSurface::InLine);
    let strange = [spot(f64::NAN, 0.0, 0.0), spot(0.0, 0.0, f64::INFINITY), spot(1.0, 1.0, 1.0)];
    assert_eq!(none(&strange), NoSurface::TooFew);
}

#[test]
fn two_heights_at_one_place_are_a_wall_and_the_foot_counts() {
    let spots = [
        spot(0.0, 0.0, 1.0),
        spot(4.0, 0.0, 1.0),
        spot(2.0, 3.0, 1.0),
        spot(2.0, 1.0, 3.0),
        spot(2.0, 1.0, 1.0),
    ];
    let surface = surface(&spots);
    assert_eq!(surface.upright, [[3, 4]]);
    assert!(near(surface.height_at(PlanPoint::from_metres(2.0, 1.0)).unwrap(), 1.0));
}
