//! Generated networks (`tests/bench/make_network.py`): the sum of squared weighted residuals at the
//! minimum does not depend on solver or datum. Expected figures: Gauss-Newton on scipy's SuperLU and on
//! CHOLMOD, a C++ Gauss-Newton on Eigen 3.4, and Ceres 2.1, which agree within 1e-6.

use std::collections::BTreeMap;
use swingtie_core::network::kernel::Network;
use swingtie_core::network::{PointState, adjust};
use swingtie_core::units::float::{hypot, sqrt};
use swingtie_tests::flat::read;
use swingtie_tests::yard::Yard;

fn check(text: &str, chi_square: f64, unknowns: usize, equations: usize) -> (Network, Vec<[f64; 2]>) {
    let (network, start) = read(text).expect("network file");
    assert_eq!(network.equations.len(), equations);
    assert_eq!(network.held.iter().flatten().filter(|h| !**h).count(), unknowns);
    let solved = network.solve(&start);
    assert!(solved.settled);
    let off = (solved.chi_square - chi_square).abs() / chi_square;
    assert!(off < 1e-6, "chi-square {} expected {chi_square}", solved.chi_square);
    (network, solved.x)
}

#[test]
fn all_kinds_reach_the_known_minimum() {
    check(include_str!("../../bench/networks/all_20.txt"), 15.618622, 37, 61);
    check(include_str!("../../bench/networks/all_100.txt"), 103.429544, 197, 313);
    check(include_str!("../../bench/networks/all_500.txt"), 553.358227, 997, 1585);
}

#[test]
fn distances_alone_reach_the_known_minimum() {
    check(include_str!("../../bench/networks/distance_20.txt"), 27.755826, 37, 61);
    check(include_str!("../../bench/networks/distance_100.txt"), 88.803182, 197, 313);
}

/// Largest point standard deviation √(σx² + σy²) by scipy, and Σr = equations − unknowns, which ties
/// the selected inverse to the whole matrix.
#[test]
fn covariances_agree_and_redundancy_adds_up() {
    let cases = [
        (include_str!("../../bench/networks/all_20.txt"), 15.618622, 37, 61, 0.025961),
        (include_str!("../../bench/networks/all_100.txt"), 103.429544, 197, 313, 0.041568),
        (include_str!("../../bench/networks/all_500.txt"), 553.358227, 997, 1585, 0.042590),
    ];
    for (text, chi_square, unknowns, equations, largest) in cases {
        let (network, x) = check(text, chi_square, unknowns, equations);
        let statistics = network.statistics(&x);
        let spread = statistics.covariance.iter().map(|q| sqrt(q[0] + q[2])).fold(0.0, f64::max);
        assert!((spread - largest).abs() < 2e-6, "largest spread {spread}, expected {largest}");
        let sum: f64 = statistics.readings.iter().map(|r| r.redundancy).sum();
        assert!((sum - (equations - unknowns) as f64).abs() < 1e-6, "redundancy adds up to {sum}");
    }
}

/// Adjusted distances between points of the 20-point network, from scipy's coordinates (to 1e-6 m).
#[test]
fn adjusted_shape_agrees() {
    let (_, x) = check(include_str!("../../bench/networks/all_20.txt"), 15.618622, 37, 61);
    let want = [
        (2, 6.012452, 10.151396),
        (9, 4.930139, 5.556788),
        (10, 12.778547, 25.348241),
        (19, 45.911180, 30.715782),
    ];
    for (i, (p, px, py)) in want.into_iter().enumerate() {
        for (q, qx, qy) in want.into_iter().skip(i + 1) {
            let got = hypot(x[p][0] - x[q][0], x[p][1] - x[q][1]);
            let expected = hypot(px - qx, py - qy);
            assert!((got - expected).abs() < 3e-6, "{p} to {q}: {got}, expected {expected}");
        }
    }
}

/// So many ways to stand that the search for first positions gives up comparing them: the yard is answered
/// all the same, and every point has a place or is said to be loose.
#[test]
fn a_yard_with_too_many_ways_is_still_answered() {
    let yard = Yard::new(500, 1);
    let adjustment = adjust(&yard.record(BTreeMap::new()));
    assert!(adjustment.held.is_some());
    let placed = adjustment.points.values().filter(|fix| fix.at.is_some()).count();
    assert!(placed > 400, "{placed} of 500 points have a place");
    assert!(adjustment.points.values().all(|fix| fix.at.is_some() != (fix.state == PointState::Loose)));
}
