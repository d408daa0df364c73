//! Posts set in the ground: how deep one must stand, and how hard its hinges bend it.
//!
//! International Building Code 1807.3.2.1, nonconstrained (Eq. 18-1): `d = A/2·(1 + √(1 + 4.36·h/A))` with
//! `A = 2.34·P/(S₁·b)`, where P is a horizontal force at height h above the ground, b the width of the post in it (the
//! diagonal of a square one) and S₁ the soil's lateral bearing at a third of the depth, so the depth is found in turns.
//! Formula and soils as reproduced on public pages; the local code decides. Frost, wind, uplift and concrete are
//! other matters: a post that passes is not thereby safe, and no words here say so.

use crate::units::Length;
use crate::units::float::{powf, sqrt};

/// Turns in which the depth settles: each is nearer by a factor of two or more.
const TURNS: u32 = 200;
/// Newtons in a pound-force (exact).
const NEWTONS_PER_POUND: f64 = 4.448_221_615_260_5;
/// Metres in a foot.
const FOOT: f64 = 0.3048;

/// A force.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Force(f64);

impl Force {
    /// From newtons.
    #[must_use]
    pub const fn from_newtons(newtons: f64) -> Self {
        Self(newtons)
    }
    /// From pounds-force.
    #[must_use]
    pub const fn from_pounds(pounds: f64) -> Self {
        Self(pounds * NEWTONS_PER_POUND)
    }
    /// In pounds-force.
    #[must_use]
    pub const fn pounds(self) -> f64 {
        self.0 / NEWTONS_PER_POUND
    }
}

/// A turning moment.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Moment(f64);

impl Moment {
    /// Of a force at an arm.
    #[must_use]
    pub fn of(force: Force, arm: Length) -> Self {
        Self(force.0 * arm.metres())
    }
    /// In pound-feet.
    #[must_use]
    pub const fn pound_feet(self) -> f64 {
        self.0 / (NEWTONS_PER_POUND * FOOT)
    }
    /// Both together.
    #[must_use]
    pub const fn with(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

/// What soil bears sideways, the more the deeper: IBC Table 1806.2. Mud, peat and loose fill bear nothing that
/// could be presumed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Soil {
    /// Sandy gravel and gravel: 200 psf per foot of depth.
    Gravel,
    /// Sand, silty or clayey sand or gravel: 150.
    Sand,
    /// Clay and silt: 100.
    Clay,
}

impl Soil {
    /// Pascals per metre of depth.
    fn bearing(self) -> f64 {
        let pounds_per_foot = match self {
            Self::Gravel => 200.0,
            Self::Sand => 150.0,
            Self::Clay => 100.0,
        };
        pounds_per_foot * NEWTONS_PER_POUND / (FOOT * FOOT * FOOT)
    }
}

/// How deep a post must stand against a force at a height (Eq. 18-1); none where that is no load on no post.
#[must_use]
pub fn depth(force: Force, height: Length, width: Length, soil: Soil) -> Option<Length> {
    let (p, h, b, q) = (force.0, height.metres(), width.metres(), soil.bearing());
    if !(p > 0.0 && h >= 0.0 && b > 0.0 && p.is_finite() && h.is_finite() && b.is_finite()) {
        return None;
    }
    let next = |d: f64| depth_at(p, h, b, q * d / 3.0);
    // A deeper trial gives a shallower answer: half way between them settles.
    let mut d = 1.0;
    for _ in 0..TURNS {
        d = 0.5 * (d + next(d));
    }
    Some(Length::from_metres(d))
}

/// Eq. 18-1 with the soil's bearing S₁ (pascals) as it is at a trial depth; newtons and metres.
fn depth_at(p: f64, h: f64, b: f64, s1: f64) -> f64 {
    let a = 2.34 * p / (s1 * b);
    0.5 * a * (1.0 + sqrt(1.0 + 4.36 * h / a))
}

/// The same where only a moment acts, as a leaf's weight on its hinges: Eq. 18-1 with P → 0 and P·h kept, which is
/// our own limit of it, not the code's text: d³ = 7.6518·M/(q·b).
#[must_use]
pub fn depth_for(moment: Moment, width: Length, soil: Soil) -> Option<Length> {
    let (m, b) = (moment.0, width.metres());
    (m > 0.0 && b > 0.0 && m.is_finite() && b.is_finite())
        .then(|| Length::from_metres(powf(2.34 * 4.36 / 4.0 * 3.0 * m / (soil.bearing() * b), 1.0 / 3.0)))
}

/// A gate leaf.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leaf {
    /// Its weight.
    pub weight: Force,
    /// Its width.
    pub width: Length,
    /// Between its upper and its lower hinge.
    pub hinges: Length,
}

impl Leaf {
    /// What it turns its post with; with somebody leaning on the latch as well, that much more.
    #[must_use]
    pub fn moment(&self, at_latch: Force) -> Moment {
        Moment::of(self.weight, self.width * 0.5).with(Moment::of(at_latch, self.width))
    }

    /// How hard the upper hinge pulls and the lower one pushes; none without a distance between them.
    #[must_use]
    pub fn on_hinge(&self, at_latch: Force) -> Option<Force> {
        let force = self.moment(at_latch).0 / self.hinges.metres();
        (self.hinges > Length::ZERO && force.is_finite()).then_some(Force(force))
    }
}

/// Stress in a square post bent by a moment, pascals: M over a³/6.
#[must_use]
pub fn bending_stress(moment: Moment, side: Length) -> Option<f64> {
    let a = side.metres();
    let stress = 6.0 * moment.0 / (a * a * a);
    (a > 0.0 && stress.is_finite()).then_some(stress)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn feet(value: f64) -> Length {
        Length::from_feet(value)
    }

    fn deep(pounds: f64, h: f64, b: f64, soil: Soil) -> f64 {
        depth(Force::from_pounds(pounds), feet(h), feet(b), soil).unwrap().feet()
    }

    /// A city's permit file (Zephyrhills): page 40, 889.2 lb at 3.40 ft on 3 ft with S₁ of 400 psf at the trial depth gives
    /// d 3.54 ft; page 35, 1.74 kip at 4.17 ft on 5.5 ft with the same gives 3.97 ft.
    #[test]
    fn one_turn_of_a_permit_file_is_reproduced() {
        let foot = |pounds: f64, h: f64, b: f64| {
            let s1 = 400.0 * NEWTONS_PER_POUND / (FOOT * FOOT);
            depth_at(Force::from_pounds(pounds).0, h * FOOT, b * FOOT, s1) / FOOT
        };
        assert!((foot(889.2, 3.40, 3.0) - 3.54).abs() < 0.01, "{}", foot(889.2, 3.40, 3.0));
        assert!((foot(1740.0, 4.17, 5.5) - 3.97).abs() < 0.005, "{}", foot(1740.0, 4.17, 5.5));
    }

    /// A public engineers' forum (eng-tips 266547): 480 lb at 5 ft, 18 in, 100 psf/ft: "almost 6.5 ft".
    #[test]
    fn published_depths_are_reproduced() {
        let forum = deep(480.0, 5.0, 1.5, Soil::Clay);
        assert!((forum - 6.440_068_420).abs() < 1e-6, "{forum}");
        // Fixed points of the same formula, calculated apart with Python.
        for (soil, expected) in
            [(Soil::Clay, 4.766_985_650), (Soil::Sand, 4.033_621_161), (Soil::Gravel, 3.588_829_079)]
        {
            let found = deep(192.0, 3.0, 1.0, soil);
            assert!((found - expected).abs() < 1e-6, "{found} {expected}");
        }
        assert!((deep(250.0, 4.0, 1.0, Soil::Sand) - 4.739_525_568).abs() < 1e-6);
        // A nominal 4 in square post by its diagonal.
        assert!((deep(96.0, 3.0, 0.471_404_521, Soil::Clay) - 4.885_210_181).abs() < 1e-6);
    }

    #[test]
    fn a_leaf_pulls_at_its_post() {
        // Statics: 120 lb, 4 ft wide, hinges 3 ft apart: 240 lb·ft, 80 lb; with 200 lb at the latch 1040 and 346.667.
        let leaf = Leaf { weight: Force::from_pounds(120.0), width: feet(4.0), hinges: feet(3.0) };
        let (alone, leaning) = (Force::from_pounds(0.0), Force::from_pounds(200.0));
        assert!((leaf.moment(alone).pound_feet() - 240.0).abs() < 1e-9);
        assert!((leaf.on_hinge(alone).unwrap().pounds() - 80.0).abs() < 1e-9);
        assert!((leaf.moment(leaning).pound_feet() - 1040.0).abs() < 1e-9);
        assert!((leaf.on_hinge(leaning).unwrap().pounds() - 346.666_667).abs() < 1e-5);
        let deep = |at_latch| depth_for(leaf.moment(at_latch), feet(1.0), Soil::Sand).unwrap().feet();
        assert!((deep(alone) - 2.304_771_443).abs() < 1e-4, "{}", deep(alone));
        assert!((deep(leaning) - 3.757_525_156).abs() < 1e-4, "{}", deep(leaning));
        assert_eq!(Leaf { hinges: Length::ZERO, ..leaf }.on_hinge(alone), None);
    }

    #[test]
    fn a_square_post_bends_as_a_beam() {
        // M/(a³/6), any handbook: 240 lb·ft on 3.5 in is 403.0 psi; one psi is 6894.757 Pa.
        let moment = Moment::of(Force::from_pounds(240.0), feet(1.0));
        let stress = bending_stress(moment, Length::from_inches(3.5)).unwrap() / 6894.757;
        assert!((stress - 403.032).abs() < 1e-2, "{stress}");
    }

    #[test]
    fn no_load_and_no_post_have_no_depth() {
        assert_eq!(depth(Force::from_pounds(0.0), feet(1.0), feet(1.0), Soil::Sand), None);
        assert_eq!(depth(Force::from_pounds(f64::NAN), feet(1.0), feet(1.0), Soil::Sand), None);
        assert_eq!(depth_for(Moment::of(Force::from_pounds(1.0), feet(1.0)), Length::ZERO, Soil::Sand), None);
    }
}
