//! The yard's equations for the kernel, written after what the product says its readings mean.

use super::{ACROSS_RUN, BY_EYE, SQUARE, Yard, number};
use swingtie_core::network::kernel::{Equation, Network, Place, Shape};
use swingtie_core::record::{Measurement, PointId, Side, Turn};
use swingtie_core::units::float::hypot;

impl Yard {
    /// Every equation, in the book's order.
    #[must_use]
    pub fn equations(&self) -> Vec<Equation> {
        self.measurements.iter().flat_map(of).collect()
    }

    /// The network with `a` held and `b` held in direction, and the truth to start from.
    #[must_use]
    pub fn network(&self, a: usize, b: usize) -> (Network, Vec<Place>) {
        let mut held = vec![[false; 2]; self.truth.len()];
        held[a] = [true; 2];
        held[b][1] = true;
        (Network { equations: self.equations(), held }, self.framed(a, b))
    }
}

fn of(m: &Measurement) -> Vec<Equation> {
    let mut out = Vec::new();
    let mut push = |shape, value, sd| out.push(Equation { shape, value, sd });
    match m {
        Measurement::Tie { from, to, reading, how, .. } => {
            let shape = Shape::Distance { a: point(from), b: point(to) };
            push(shape, reading.value.metres(), how.sd_of(reading.value).metres());
        }
        Measurement::Run { zero, toward, readings, how, .. } => {
            for r in readings {
                let (a, b, p) = (point(zero), point(toward), point(&r.point));
                let sd = how.sd_of(r.reading.value).metres();
                push(Shape::Station { a, b, p }, r.reading.value.metres(), sd);
                push(Shape::Offset { a, b, p }, 0.0, ACROSS_RUN);
            }
        }
        Measurement::Offsets { from, to, rows, how } => {
            for row in rows {
                let (a, b, p) = (point(from), point(to), point(&row.point));
                let sign = if row.side == Side::Left { 1.0 } else { -1.0 };
                let offset = sign * row.offset.value.metres();
                let along = hypot(how.sd_of(row.station.value).metres(), BY_EYE * offset);
                push(Shape::Station { a, b, p }, row.station.value.metres(), along);
                push(Shape::Offset { a, b, p }, offset, how.sd_of(row.offset.value).metres());
            }
        }
        Measurement::Walk { start, legs, how } => {
            let (mut before, mut at) = (None, point(start));
            for leg in legs {
                let to = point(&leg.to);
                if let Some(length) = &leg.length {
                    let sd = how.sd_of(length.value).metres();
                    push(Shape::Distance { a: at, b: to }, length.value.metres(), sd);
                }
                if let (Some(a), Some(Turn::Left | Turn::Right)) = (before, leg.turn) {
                    push(Shape::Square { at, a, c: to }, 0.0, SQUARE);
                }
                (before, at) = (Some(at), to);
            }
        }
        // A yard has none of the others.
        _ => {}
    }
    out
}

fn point(id: &PointId) -> u32 {
    u32::try_from(number(id)).unwrap_or(u32::MAX)
}
