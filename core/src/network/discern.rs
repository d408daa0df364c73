//! How large an error in a reading must be before it can be told from an error in another.

use super::difference;
use super::equation::{Equation, Place, dot};
use super::judge::read;
use super::relative::Again;
use super::result::{Adjustment, Quantity};
use super::solve::{NO_REDUNDANCY, Network, ReadingStatistics, Statistics};
use crate::record::Record;
use crate::units::float::sqrt;

/// Above this correlation two readings are one to the others: no error is large enough.
const ONE: f64 = 0.999_999;

/// What an error in one reading does to the residuals of the others.
#[derive(Clone, Debug, PartialEq)]
pub struct Discern {
    /// The smallest error that is told from an error in any other reading, with the power at which the smallest
    /// detectable one shows; none where some reading behaves the same, however large the error.
    pub smallest: Option<Quantity>,
    /// The reading most like it, by its number in [`Adjustment::readings`].
    pub like: usize,
    /// The correlation of the two standardised residuals, 0 … 1.
    pub correlation: f64,
}

/// Of readings by their numbers in [`Adjustment::readings`]: with ρ the largest correlation of a standardised
/// residual with another's, ρ = q/√(qᵢqⱼ) of the residuals' covariance, the smallest error told apart is the
/// smallest detectable one over √(1 − ρ²) (W. Förstner, *Reliability and Discernability of Extended
/// Gauss-Markov Models*, 1983; the formula from memory). None where nothing checks it, or no other is checked.
///
/// `adjustment` must be of this record. Factorises once more: for figures asked for, not for every entry.
#[must_use]
pub fn discern(record: &Record, adjustment: &Adjustment, numbers: &[usize]) -> Vec<Option<Discern>> {
    let again = Again::new(record, adjustment);
    numbers.iter().map(|number| again.as_ref().and_then(|again| one(again, *number))).collect()
}

fn one(again: &Again, number: usize) -> Option<Discern> {
    let Again { seen, places, network, x, statistics } = again;
    let whole = |e: &Equation| e.each().all(|p| places.get(p).is_none_or(Option::is_some));
    let all = seen.observations.iter().enumerate();
    let numbers: Vec<usize> = all.filter(|(_, o)| whole(&o.equation)).map(|(n, _)| n).collect();
    let own = numbers.iter().position(|n| *n == number)?;
    let (e, mine) = network.equations.get(own).zip(statistics.readings.get(own))?;
    let detectable = mine.detectable?;
    let alike = correlations(network, statistics, x, own);
    let others = numbers.iter().zip(alike).filter(|(n, _)| **n != number);
    let taken = others.filter(|(n, _)| seen.observations.get(**n).is_some_and(read));
    let (like, correlation) = taken.max_by(|a, b| a.1.total_cmp(&b.1))?;
    let apart = sqrt((1.0 - correlation * correlation).max(f64::MIN_POSITIVE));
    let smallest = (correlation < ONE).then(|| difference(e, detectable / apart));
    Some(Discern { smallest, like: *like, correlation })
}

/// How much every standardised residual has in common with one, 0 … 1: |Jₖ·Q·Jᵢᵀ|/(σₖσᵢ√(rₖrᵢ)).
pub(super) fn correlations(network: &Network, statistics: &Statistics, x: &[Place], own: usize) -> Vec<f64> {
    let readings = || network.equations.iter().zip(&statistics.readings);
    let Some((e, mine)) = readings().nth(own) else { return Vec::new() };
    let points = e.points();
    let column = statistics.column(points.get(..e.count()).unwrap_or_default(), &network.row(e, x).gradient);
    let own_size = e.sd * sqrt(mine.redundancy);
    let one = |(e, s): (&Equation, &ReadingStatistics)| {
        let shared: f64 = e.each().zip(network.row(e, x).gradient).map(|(p, g)| dot(g, column.at(p))).sum();
        let size = own_size * e.sd * sqrt(s.redundancy);
        if s.redundancy > NO_REDUNDANCY { (shared / size).abs().min(1.0) } else { 0.0 }
    };
    readings().map(one).collect()
}
