//! Where a point can stand, seen from points already placed: circles and lines.

use super::super::equation::{Place, cross, dot, ray, sub};
use super::super::observe::{Bond, Observed, Rigid, SQUARE};
use super::draft::Draft;
use super::turned;
use crate::units::float::{hypot, sqrt};

/// The form of a locus.
#[derive(Clone, Copy, Debug)]
pub(super) enum Form {
    Circle {
        centre: Place,
        radius: f64,
    },
    /// `ahead`: only the part in the direction `along` counts.
    Line {
        through: Place,
        along: Place,
        ahead: bool,
    },
}

/// A locus, how well it is known, and two placed points that define it (the same twice for a circle).
#[derive(Clone, Copy, Debug)]
pub(super) struct Locus {
    pub form: Form,
    pub spread: f64,
    pub from: [u32; 2],
}

impl Locus {
    /// Signed distance of a place from the locus, and the unit vector in which it grows.
    pub(super) fn misfit(&self, at: Place) -> (f64, Place) {
        match self.form {
            Form::Circle { centre, radius } => {
                let (unit, distance) = ray(centre, at);
                (distance - radius, unit)
            }
            Form::Line { through, along: [x, y], .. } => (cross([x, y], sub(at, through)), [-y, x]),
        }
    }

    /// Whether a place lies on the part that does not count.
    pub(super) fn behind(&self, at: Place) -> bool {
        match self.form {
            Form::Line { through, along, ahead: true } => dot(along, sub(at, through)) < 0.0,
            _ => false,
        }
    }
}

/// The loci of an unplaced point that one bond gives.
pub(super) fn loci_of(seen: &Observed, bond: &Bond, p: u32, draft: &Draft, out: &mut Vec<Locus>) {
    match bond {
        Bond::Distance { a, b, value, sd } => {
            let centre = if *a == p { *b } else { *a };
            out.extend(circle(draft, centre, *value, *sd));
        }
        Bond::Rigid(rigid) => rigid_loci(rigid, p, draft, out),
        Bond::Square { at, a, c } => out.extend(square_locus(draft, p, *at, *a, *c)),
        Bond::Line(points) => out.extend(line_locus(draft, p, points)),
        Bond::Angle { .. } => out.extend(turned::angle_locus(draft, p, bond)),
        Bond::Bearing { .. } => out.extend(turned::bearing_locus(seen, draft, p, bond)),
        Bond::Parallel { .. } => out.extend(turned::parallel_locus(draft, p, bond)),
        Bond::Same { .. } => out.extend(turned::same_locus(draft, p, bond)),
    }
}

fn circle(draft: &Draft, centre: u32, radius: f64, sd: f64) -> Option<Locus> {
    let place = draft.place(centre)?;
    let spread = hypot(sd, draft.spread(centre));
    Some(Locus { form: Form::Circle { centre: place, radius }, spread, from: [centre, centre] })
}

/// Where a rigid set lies: how its own axes turn, and a point both sets of coordinates know.
struct Pose {
    axis: Place,
    local: Place,
    place: Place,
    spread: f64,
    /// Local distance of the two points that fix the turn.
    span: f64,
    from: [u32; 2],
}

fn pose(rigid: &Rigid, draft: &Draft) -> Option<Pose> {
    let placed = || rigid.members.iter().filter_map(|(p, at)| Some((*p, *at, draft.place(*p)?)));
    if let Some((a, b)) = rigid.axis
        && let (Some(from), Some(to)) = (draft.place(a), draft.place(b))
        && let Some((_, local, place)) = placed().find(|m| m.0 == a).or_else(|| placed().next())
    {
        let (axis, span) = ray(from, to);
        let spread = draft.spread(a).max(draft.spread(b));
        return (span > 1e-6).then_some(Pose { axis, local, place, spread, span, from: [a, b] });
    }
    // The pair furthest apart: the one furthest from the first, then the one furthest from that.
    let first = placed().next()?;
    let furthest = |from: Place| placed().max_by(|m, n| ray(from, m.1).1.total_cmp(&ray(from, n.1).1));
    let one = furthest(first.1)?;
    let two = furthest(one.1)?;
    let (local, local_span) = ray(one.1, two.1);
    let (real, real_span) = ray(one.2, two.2);
    if local_span < 1e-3 || real_span < 1e-6 {
        return None;
    }
    // The turn that carries the local direction into the real one: a complex quotient.
    let axis = [dot(local, real), cross(local, real)];
    let middle = |a: Place, b: Place| [0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])];
    let spread = draft.spread(one.0).max(draft.spread(two.0));
    Some(Pose {
        axis,
        local: middle(one.1, two.1),
        place: middle(one.2, two.2),
        spread,
        span: local_span,
        from: [one.0, two.0],
    })
}

fn rigid_loci(rigid: &Rigid, p: u32, draft: &Draft, out: &mut Vec<Locus>) {
    let member = rigid.members.iter().find(|(m, _)| *m == p);
    let Some(pose) = pose(rigid, draft) else {
        if let Some((_, at)) = member {
            let circles = rigid.members.iter().filter(|(m, _)| *m != p);
            let circles = circles.filter_map(|(m, other)| {
                let radius = ray(*other, *at).1;
                (radius > 0.0).then(|| circle(draft, *m, radius, rigid.along.max(rigid.across)))?
            });
            out.extend(circles.take(1));
        }
        return;
    };
    let [x, y] = pose.axis;
    let local = member.map_or([0.0, 0.0], |(_, at)| *at);
    let d = sub(local, pose.local);
    let at = [pose.place[0] + x * d[0] - y * d[1], pose.place[1] + y * d[0] + x * d[1]];
    // An error across the ends turns the axis and grows with the distance from them.
    let lever = 1.0 + 2.0 * hypot(d[0], d[1]) / pose.span;
    let across = hypot(rigid.across, pose.spread * lever);
    let line = |along, spread, ahead| Locus {
        form: Form::Line { through: at, along, ahead },
        spread,
        from: pose.from,
    };
    if member.is_some() {
        out.push(line([x, y], across, false));
        out.push(line([-y, x], hypot(rigid.along, pose.spread * lever), false));
    } else {
        // Ahead of the zero, where the zero is one of the set.
        let ahead = rigid.axis.is_some_and(|(a, _)| rigid.members.iter().any(|(m, _)| *m == a));
        out.push(line([x, y], across, ahead));
    }
}

fn square_locus(draft: &Draft, p: u32, at: u32, a: u32, c: u32) -> Option<Locus> {
    if p == at {
        // Thales: the corner stands on the circle over its legs' ends.
        let (one, two) = (draft.place(a)?, draft.place(c)?);
        let centre = [0.5 * (one[0] + two[0]), 0.5 * (one[1] + two[1])];
        let radius = 0.5 * ray(one, two).1;
        let spread = SQUARE * radius + draft.spread(a) + draft.spread(c);
        return Some(Locus { form: Form::Circle { centre, radius }, spread, from: [a, c] });
    }
    let other = if p == a { c } else { a };
    let (corner, end) = (draft.place(at)?, draft.place(other)?);
    let ([x, y], length) = ray(corner, end);
    let spread = draft.spread(at) + draft.spread(other) + SQUARE * length.max(5.0);
    let form = Form::Line { through: corner, along: [-y, x], ahead: false };
    (length > 1e-6).then_some(Locus { form, spread, from: [at, other] })
}

fn line_locus(draft: &Draft, p: u32, points: &[u32]) -> Option<Locus> {
    let mut placed = points.iter().filter(|m| **m != p).filter_map(|m| Some((*m, draft.place(*m)?)));
    let one = placed.next()?;
    let two = placed.max_by(|m, n| ray(one.1, m.1).1.total_cmp(&ray(one.1, n.1).1))?;
    let (along, length) = ray(one.1, two.1);
    let spread = 0.02 + 2.0 * (draft.spread(one.0) + draft.spread(two.0));
    let form = Form::Line { through: one.1, along, ahead: false };
    (length > 1e-3).then_some(Locus { form, spread, from: [one.0, two.0] })
}

/// Where two loci meet: none, one or two places. Circles that miss each other by no more than
/// their spread allows are taken to touch.
pub(super) fn meet(one: &Locus, two: &Locus) -> [Option<Place>; 2] {
    let slack = 4.0 * hypot(one.spread, two.spread);
    match (one.form, two.form) {
        (Form::Circle { centre: c, radius: r }, Form::Circle { centre: d, radius: s }) => {
            circles(c, r, d, s, slack)
        }
        (Form::Circle { centre, radius }, Form::Line { through, along, .. })
        | (Form::Line { through, along, .. }, Form::Circle { centre, radius }) => {
            let to_centre = sub(centre, through);
            let (foot, h) = (dot(along, to_centre), cross(along, to_centre).abs());
            if h > radius + slack {
                return [None; 2];
            }
            let half = sqrt((radius * radius - h * h).max(0.0));
            let on = |t: f64| [through[0] + t * along[0], through[1] + t * along[1]];
            [Some(on(foot - half)), Some(on(foot + half)).filter(|_| half > 0.0)]
        }
        (Form::Line { through: p, along: u, .. }, Form::Line { through: q, along: v, .. }) => {
            let sine = cross(u, v);
            if sine.abs() < 1e-3 {
                return [None; 2];
            }
            let t = cross(sub(q, p), v) / sine;
            [Some([p[0] + t * u[0], p[1] + t * u[1]]), None]
        }
    }
}

/// The textbook intersection of two swing ties: a = (r² − s² + D²)/2D along the line of centres,
/// h = ±√(r² − a²) to its sides.
fn circles(c: Place, r: f64, d: Place, s: f64, slack: f64) -> [Option<Place>; 2] {
    let ([x, y], distance) = ray(c, d);
    if distance < 1e-6 {
        return [None; 2];
    }
    let gap = (distance - r - s).max(r - s - distance).max(s - r - distance);
    if gap > slack {
        return [None; 2];
    }
    let a = (r * r - s * s + distance * distance) / (2.0 * distance);
    let h = sqrt((r * r - a * a).max(0.0));
    let on = |h: f64| [c[0] + a * x - h * y, c[1] + a * y + h * x];
    [Some(on(h)), Some(on(-h)).filter(|_| h > 0.0)]
}
