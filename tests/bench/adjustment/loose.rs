//! Points on a single tie are named as loose, exactly those, and the rest is solved.

use super::{list, solve};
use std::collections::BTreeSet;
use swingtie_core::network::PointState;
use swingtie_core::record::PointId;
use swingtie_tests::yard::Yard;

pub fn run() {
    println!("points | loose in each | seeds | exactly named | bar");
    for (points, count) in [(20, 1), (100, 3), (200, 8)] {
        let (mut exact, mut wrong) = (0, Vec::new());
        for seed in 1..=100 {
            let yard = Yard::with_loose(points, seed, count);
            let (_, adjustment) = solve(&yard);
            let named: BTreeSet<PointId> = adjustment
                .points
                .iter()
                .filter(|(_, fix)| fix.state == PointState::Loose)
                .map(|(id, _)| id.clone())
                .collect();
            if named == yard.loose {
                exact += 1;
            } else {
                wrong.push(format!("seed {seed}: {named:?}, true {:?}", yard.loose));
            }
        }
        println!("{points} | {count} | 1–100 | {exact} of 100 | 100 of 100");
        list(&wrong);
    }
}
