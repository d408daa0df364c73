//! Loci from turned angles, bearings, parallels and equal lengths.

use super::super::equation::{Place, ray};
use super::super::observe::{Bond, Observed};
use super::Field;
use super::draft::Draft;
use super::loci::{Form, Locus};
use crate::units::float::{cos, hypot, sin};

/// A direction fixes a place across it to this share of the distance, which is not known yet: it
/// is reckoned as this many metres.
const REACH: f64 = 5.0;

impl Field<'_> {
    /// For each shared number whether the draft knows it.
    pub(super) fn turned(&self, draft: &Draft) -> Vec<bool> {
        let nodes = (0u32..).take(self.seen.nodes()).skip(self.seen.points.len());
        nodes.map(|node| self.seen.first_value(node, &|p| draft.place(p)).is_some()).collect()
    }

    /// The unplaced points with a bearing from a north that has become known since.
    pub(super) fn newly_turned(&self, draft: &Draft, before: &mut Vec<bool>) -> Vec<u32> {
        if before.iter().all(|known| *known) {
            return Vec::new();
        }
        let now = self.turned(draft);
        let fresh = |north: u32| {
            let k = (north as usize).wrapping_sub(self.seen.points.len());
            now.get(k) == Some(&true) && before.get(k) == Some(&false)
        };
        let ends = self.seen.bonds.iter().filter_map(|bond| match bond {
            Bond::Bearing { a, b, north, .. } if fresh(*north) => Some([*a, *b]),
            _ => None,
        });
        let points = ends.flatten().filter(|p| draft.wants(*p)).collect();
        *before = now;
        points
    }
}

fn beyond(through: Place, angle: f64) -> Form {
    Form::Line { through, along: [cos(angle), sin(angle)], ahead: true }
}

fn turned_by([x, y]: Place, angle: f64) -> Place {
    let (c, s) = (cos(angle), sin(angle));
    [c * x - s * y, s * x + c * y]
}

/// From the vertex and one ray the other ray; from both rays' ends the circle from which they are
/// seen under the angle (its wrong arc is excluded by the side the angle tells).
pub(super) fn angle_locus(draft: &Draft, p: u32, bond: &Bond) -> Option<Locus> {
    let Bond::Angle { at, from, to, value, sd } = *bond else { return None };
    if p == at {
        let (one, two) = (draft.place(from)?, draft.place(to)?);
        let ([x, y], chord) = ray(one, two);
        let sine = sin(value);
        if sine.abs() < 0.02 || chord < 1e-3 {
            return None;
        }
        let (radius, h) = (0.5 * chord / sine.abs(), 0.5 * chord * cos(value) / sine);
        let centre = [0.5 * (one[0] + two[0]) - h * y, 0.5 * (one[1] + two[1]) + h * x];
        // The angle at the rim turns with the chord it sees; a change of it moves the rim by up to
        // the radius for each radian.
        let spread = 2.0 * sd * radius + draft.spread(from) + draft.spread(to);
        return Some(Locus { form: Form::Circle { centre, radius }, spread, from: [from, to] });
    }
    let (other, turn) = if p == to { (from, value) } else { (to, -value) };
    let (vertex, end) = (draft.place(at)?, draft.place(other)?);
    let (along, length) = ray(vertex, end);
    let along = turned_by(along, turn);
    let spread = draft.spread(at) + draft.spread(other) + sd * length.max(REACH);
    let form = Form::Line { through: vertex, along, ahead: true };
    (length > 1e-3).then_some(Locus { form, spread, from: [at, other] })
}

/// The ray from the placed end, once the draft knows where north is.
pub(super) fn bearing_locus(seen: &Observed, draft: &Draft, p: u32, bond: &Bond) -> Option<Locus> {
    let Bond::Bearing { a, b, north, value, sd } = *bond else { return None };
    let other = if p == a { b } else { a };
    let through = draft.place(other)?;
    let toward = seen.first_value(north, &|q| draft.place(q))? - value;
    let toward = if p == b { toward } else { toward + std::f64::consts::PI };
    // North is as uncertain as a bearing.
    let spread = draft.spread(other) + hypot(sd, sd) * REACH;
    Some(Locus { form: beyond(through, toward), spread, from: [other, other] })
}

/// Through the other end of the point's line, along the other line.
pub(super) fn parallel_locus(draft: &Draft, p: u32, bond: &Bond) -> Option<Locus> {
    let Bond::Parallel { a, b, c, d, sd } = *bond else { return None };
    let (partner, [one, two]) = partner(p, [a, b], [c, d])?;
    let (through, from, to) = (draft.place(partner)?, draft.place(one)?, draft.place(two)?);
    let (along, length) = ray(from, to);
    let spread = draft.spread(partner) + draft.spread(one) + draft.spread(two) + sd * REACH;
    let form = Form::Line { through, along, ahead: false };
    (length > 1e-3).then_some(Locus { form, spread, from: [partner, one] })
}

/// Round the other end of the point's length, as far as the other length.
pub(super) fn same_locus(draft: &Draft, p: u32, bond: &Bond) -> Option<Locus> {
    let Bond::Same { a, b, c, d, sd } = *bond else { return None };
    let (partner, [one, two]) = partner(p, [a, b], [c, d])?;
    let (centre, from, to) = (draft.place(partner)?, draft.place(one)?, draft.place(two)?);
    let radius = ray(from, to).1;
    let spread = hypot(sd, draft.spread(partner)) + draft.spread(one) + draft.spread(two);
    (radius > 1e-3).then_some(Locus { form: Form::Circle { centre, radius }, spread, from: [partner; 2] })
}

/// The other end of the point's pair, and the other pair.
fn partner(p: u32, one: [u32; 2], two: [u32; 2]) -> Option<(u32, [u32; 2])> {
    let in_pair = |[a, b]: [u32; 2], other| match (p == a, p == b) {
        (true, false) => Some((b, other)),
        (false, true) => Some((a, other)),
        _ => None,
    };
    in_pair(one, two).or_else(|| in_pair(two, one))
}
