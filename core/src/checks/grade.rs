//! How the ground falls away from a house.
//!
//! International Residential Code R401.3: the grade falls at least 6 in within the first 10 ft; paved surfaces within
//! 10 ft slope at least 2 % away (as quoted publicly from the 2006 code; editions differ, and the local code decides).

use crate::levels::{Slope, Surface};
use crate::units::outline::outward;
use crate::units::{Length, PlanPoint, PlanVec};

/// Over this run the fall is asked for.
pub const OVER: Length = Length::from_metres(3.048);
/// Less is too little, per cent: 6 in in 10 ft.
const GROUND: f64 = 5.0;
/// The same of paving, per cent.
const PAVED: f64 = 2.0;
/// Ground is looked at so far from a wall's face (metres): at the face itself the surface ends, and where nothing is
/// known so near it, up to 2 ft out (our choice).
const FACE: [f64; 4] = [0.05, 0.2, 0.4, 0.6096];
/// A run shorter than this (metres) says nothing of the fall: 2 ft, our choice.
const SHORTEST: f64 = 0.6096;
/// A wall is looked at every so far (metres): 10 ft, our choice.
const EVERY: f64 = 3.048;
/// What a fall may miss by, per cent: a level reads no better.
const ROUND: f64 = 1e-9;

/// How the ground falls away from one place of a wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WallFall {
    /// Which side of the outline, from 0.
    pub side: usize,
    /// At the wall.
    pub wall: PlanPoint,
    /// Where the fall begins: as near to the wall as heights are known.
    pub foot: PlanPoint,
    /// Where the fall was looked for: [`OVER`] away, or as far as heights reach.
    pub out: PlanPoint,
    /// How far that is.
    pub run: Length,
    /// How much lower it lies; negative where the ground falls toward the house.
    pub fall: Length,
}

/// What a fall comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grade {
    /// Water runs to the house.
    TowardHouse,
    /// Away from it, but less than asked.
    TooLittle,
    /// As asked, or more.
    Enough,
}

impl WallFall {
    /// The slope, falling away where positive; none of no run.
    #[must_use]
    pub fn slope(&self) -> Option<Slope> {
        Slope::of(self.fall, self.run)
    }

    /// What it comes to, on paving or on open ground.
    #[must_use]
    pub fn grade(&self, paved: bool) -> Grade {
        let percent = self.slope().map_or(0.0, Slope::percent);
        let asked = asked(paved);
        if percent < -ROUND {
            Grade::TowardHouse
        } else if percent < asked - ROUND {
            Grade::TooLittle
        } else {
            Grade::Enough
        }
    }
}

/// The least fall away from the house, per cent, on paving or on open ground.
#[must_use]
pub const fn asked(paved: bool) -> f64 {
    if paved { PAVED } else { GROUND }
}

/// The falls along an outline's walls, square to them, wherever heights are known: at both ends and every ten feet.
#[must_use]
pub fn falls(outline: &[PlanPoint], surface: &Surface) -> Vec<WallFall> {
    let mut found = Vec::new();
    let walls = outline.iter().zip(outline.iter().cycle().skip(1));
    for (side, ((a, b), out)) in walls.zip(outward(outline)).enumerate() {
        let wall = *b - *a;
        let length = wall.length().metres();
        let Some(out) = out.filter(|_| length >= SHORTEST) else { continue };
        let (ux, uy) = (wall.x.metres() / length, wall.y.metres() / length);
        let mut along = 0.0_f64;
        loop {
            let foot = *a + PlanVec::from_metres(ux * along, uy * along);
            found.extend(fall(side, foot, out, surface));
            if along >= length {
                break;
            }
            along = (along + EVERY).min(length);
        }
    }
    found
}

/// From the foot of a wall outwards, as far as heights reach.
fn fall(side: usize, wall: PlanPoint, (nx, ny): (f64, f64), surface: &Surface) -> Option<WallFall> {
    let at = |out: f64| wall + PlanVec::from_metres(nx * out, ny * out);
    let (near, height) = FACE.iter().find_map(|out| Some((*out, surface.height_at(at(*out))?)))?;
    let mut out = near + OVER.metres();
    while out - near >= SHORTEST {
        if let Some(lower) = surface.height_at(at(out)) {
            let (run, fall) = (Length::from_metres(out - near), height - lower);
            return Some(WallFall { side, wall, foot: at(near), out: at(out), run, fall });
        }
        out -= EVERY / 20.0;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::levels::Spot;

    /// A house of 6 × 4 m on ground that falls by a share of the distance to the right, and heights 12 m around.
    fn ground(share: f64) -> (Vec<PlanPoint>, Surface) {
        let house: Vec<PlanPoint> = [(0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0)]
            .map(|(x, y)| PlanPoint::from_metres(x, y))
            .to_vec();
        let mut spots = Vec::new();
        for (x, y) in [
            (-12.0, -12.0),
            (18.0, -12.0),
            (18.0, 16.0),
            (-12.0, 16.0),
            (0.0, 0.0),
            (6.0, 0.0),
            (6.0, 4.0),
            (0.0, 4.0),
        ] {
            spots.push(Spot {
                at: PlanPoint::from_metres(x, y),
                height: Length::from_metres(30.0 - share * x),
            });
        }
        let surface =
            Surface::new(&spots, &[[4, 5], [5, 6], [6, 7], [7, 4]], std::slice::from_ref(&house)).unwrap();
        (house, surface)
    }

    #[test]
    fn six_inches_in_ten_feet_is_the_limit_on_either_side() {
        for (share, expected) in
            [(0.0501, Grade::Enough), (0.0499, Grade::TooLittle), (0.0, Grade::TooLittle)]
        {
            let (house, surface) = ground(share);
            let right: Vec<WallFall> = falls(&house, &surface)
                .into_iter()
                .filter(|f| f.out.x > f.wall.x + Length::from_metres(1.0))
                .collect();
            assert!(right.len() >= 3, "{right:?}");
            for fall in right {
                assert!((fall.slope().unwrap().percent() - 100.0 * share).abs() < 1e-9);
                assert_eq!(fall.grade(false), expected, "{fall:?}");
                // Paving: 2 %.
                assert_eq!(fall.grade(true), if share > 0.02 { Grade::Enough } else { Grade::TooLittle });
            }
        }
    }

    #[test]
    fn ground_that_falls_to_the_house_is_told_whichever_way_its_walls_were_walked() {
        let (mut house, surface) = ground(0.05);
        for _ in 0..2 {
            let left: Vec<WallFall> = falls(&house, &surface)
                .into_iter()
                .filter(|f| f.out.x < f.wall.x - Length::from_metres(1.0))
                .collect();
            assert!(left.len() >= 3 && left.iter().all(|f| f.grade(true) == Grade::TowardHouse), "{left:?}");
            house.reverse();
        }
    }

    #[test]
    fn where_heights_end_the_fall_is_taken_over_what_there_is() {
        let spots = [(0.0, -1.5, 29.9), (6.0, -1.5, 29.9), (6.0, 0.0, 30.0), (0.0, 0.0, 30.0)];
        let spots =
            spots.map(|(x, y, z)| Spot { at: PlanPoint::from_metres(x, y), height: Length::from_metres(z) });
        let house =
            [(0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0)].map(|(x, y)| PlanPoint::from_metres(x, y));
        let surface = Surface::new(&spots, &[], &[house.to_vec()]).unwrap();
        let found = falls(&house, &surface);
        assert!(!found.is_empty());
        for fall in found {
            assert!(fall.run.metres() > 1.2 && fall.run.metres() < 1.5, "{fall:?}");
            assert!((fall.slope().unwrap().percent() - 100.0 * 0.1 / 1.5).abs() < 1e-6);
        }
    }
}
