//! Reads the plain network files of `tests/bench/networks`.

use swingtie_core::network::kernel::{Equation, Network, Place, Shape};

/// A network with its start.
#[must_use]
pub fn read(text: &str) -> Option<(Network, Vec<Place>)> {
    let (mut start, mut equations) = (Vec::new(), Vec::new());
    for line in text.lines() {
        let mut words = line.split_ascii_whitespace();
        let kind = words.next()?;
        if kind == "p" {
            start.push([words.next()?.parse().ok()?, words.next()?.parse().ok()?]);
            continue;
        }
        let mut point = || words.next()?.parse::<u32>().ok();
        let shape = match kind {
            "d" => Shape::Distance { a: point()?, b: point()? },
            "s" => Shape::Station { a: point()?, b: point()?, p: point()? },
            "o" => Shape::Offset { a: point()?, b: point()?, p: point()? },
            "r" => Shape::Square { at: point()?, a: point()?, c: point()? },
            _ => return None,
        };
        equations.push(Equation {
            shape,
            value: words.next()?.parse().ok()?,
            sd: words.next()?.parse().ok()?,
        });
    }
    let mut held = vec![[false; 2]; start.len()];
    *held.get_mut(0)? = [true, true];
    *held.get_mut(1)? = [false, true];
    Some((Network { equations, held }, start))
}
