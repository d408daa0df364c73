//! Least squares over all set-ups: `reading = line − height + error`, each reading weighted by 1/σ².
//!
//! With the lines L of the set-ups and the heights H of the points as unknowns, the heights are eliminated first
//! (each is the weighted mean of what its set-ups say), which leaves one equation a set-up:
//! `Σⱼ (diag w − w·wᵀ/Σw)·L = Σⱼ …` for every point j not held. The few unknowns left are solved by Cholesky's
//! method within their envelope: set-ups follow each other, so the matrix is narrow. Redundancy numbers, residuals
//! and limits are those of any adjustment (W. Baarda 1968; C. Ghilani and P. Wolf, *Adjustment Computations*).

#![expect(clippy::indexing_slicing, reason = "set-up and point numbers index lists made together")]

use super::causes::{LevelCause, causes};
use super::doubt::{Contradicted, contradicted};
use super::setups::{SetUp, setups};
use super::traps::mixed_units;
use crate::chance::{LEAST_LIMIT, UNCHECKED, detectable, suspect_limit};
use crate::record::{EntryId, PointId, Record};
use crate::units::float::sqrt;
use crate::units::{Length, UnitSystem, sort_by};
use litemap::LiteMap;

/// Height of the first point where nobody stated one: as the trade assumes it, 100.
const ASSUMED: f64 = 100.0;

/// The height of a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Height {
    /// Above the datum.
    pub above: Length,
    /// Standard deviation against the datum.
    pub sd: Length,
    /// Whether a misread of its readings would show.
    pub checked: bool,
    /// Readings contradict, and which of them is wrong moves it beyond its standard deviation: nobody knows how good
    /// it is.
    pub in_doubt: bool,
}

/// A level reading after the adjustment.
#[derive(Clone, Debug, PartialEq)]
pub struct Levelled {
    /// The entry.
    pub entry: EntryId,
    /// The point.
    pub point: PointId,
    /// As read, negative overhead.
    pub observed: Length,
    /// Adjusted less observed.
    pub residual: Length,
    /// 0 … 1: how much of an error in it would show in its own residual.
    pub redundancy: f64,
    /// Residual over its standard deviation; none where nothing checks it.
    pub standardised: Option<f64>,
    /// The smallest misread that would show; none where nothing checks it.
    pub smallest_detectable: Option<Length>,
}

impl Levelled {
    /// Whether it is further off than chance explains.
    #[must_use]
    pub fn strays(&self) -> bool {
        self.standardised.is_some_and(|w| w.abs() > LEAST_LIMIT)
            || self.smallest_detectable.is_some_and(|shows| self.residual.abs() > shows)
    }
}

/// What the user should know of the levels.
#[derive(Clone, Debug, PartialEq)]
pub enum LevelFinding {
    /// Nobody stated a height: this point counts as 100.
    DatumAssumed {
        /// The point.
        point: PointId,
    },
    /// Rods are written in other units than tapes: 5.6 ft is not 5' 6".
    MixedUnits {
        /// What most rods are written in.
        rods: UnitSystem,
        /// What most tapes are written in.
        tapes: UnitSystem,
    },
    /// Levelled among themselves, but joined to nothing of known height: their heights are left out.
    Apart {
        /// The points.
        points: Vec<PointId>,
    },
    /// This reading does not agree with the others.
    Suspect {
        /// The entry.
        entry: EntryId,
        /// The point.
        point: PointId,
        /// As read.
        observed: Length,
        /// What the others make of it.
        expected: Length,
        /// Its standardised residual.
        standardised: f64,
        /// Slips that would explain it, the likeliest first.
        causes: Vec<LevelCause>,
        /// Readings that fit as badly: any of them may be the wrong one.
        rivals: Vec<EntryId>,
    },
}

/// All heights.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Levels {
    /// Heights of the points tied to the datum.
    pub points: LiteMap<PointId, Height>,
    /// The readings, set-up by set-up.
    pub readings: Vec<Levelled>,
    /// Readings more than needed.
    pub redundancy: usize,
    /// Sum of squares over redundancy: near 1 when the readings are as good as said. None without redundancy.
    pub variance_factor: Option<f64>,
    /// What the user should know.
    pub findings: Vec<LevelFinding>,
    /// Readings of which one or more are wrong: suspects and what fits as badly.
    pub doubted: Vec<EntryId>,
    /// What the standard deviations were multiplied by, since the readings that nobody suspects scatter more than
    /// was said of them and than chance explains; else 1.
    pub scatter: f64,
    pub(super) covariance: Shares,
}

/// What relative heights need: for each point how its height follows from the set-ups' lines, and their covariance.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Shares {
    pub of: LiteMap<PointId, (Vec<(usize, f64)>, f64)>,
    pub lines: Vec<Vec<f64>>,
}

impl Levels {
    /// How much higher the second point is than the first, and its standard deviation; none where either is unknown.
    #[must_use]
    pub fn rise(&self, from: &PointId, to: &PointId) -> Option<(Length, Length)> {
        let (a, b) = (self.points.get(from)?, self.points.get(to)?);
        let variance = self.covariance.variance(from) + self.covariance.variance(to)
            - 2.0 * self.covariance.between(from, to);
        let sd = if from == to { 0.0 } else { sqrt(variance.max(0.0)) };
        Some((b.above - a.above, Length::from_metres(sd) * self.scatter))
    }

    /// The point whose height was assumed, since nobody stated one.
    #[must_use]
    pub fn assumed(&self) -> Option<&PointId> {
        self.findings.iter().find_map(|finding| match finding {
            LevelFinding::DatumAssumed { point } => Some(point),
            _ => None,
        })
    }

    /// Takes in what contradictions do to the heights.
    fn doubt(&mut self, found: Contradicted) {
        for (point, height) in self.points.iter_mut() {
            height.sd = height.sd * found.scatter;
            height.in_doubt = found.points.contains(point);
        }
        self.doubted = found.entries;
        self.scatter = found.scatter;
    }
}

impl Shares {
    pub fn between(&self, a: &PointId, b: &PointId) -> f64 {
        self.of.get(a).zip(self.of.get(b)).map_or(0.0, |((a, _), (b, _))| self.shared(a, b))
    }

    fn shared(&self, a: &[(usize, f64)], b: &[(usize, f64)]) -> f64 {
        let one = |&(i, f): &(usize, f64)| b.iter().map(|&(j, g)| f * g * self.lines[i][j]).sum::<f64>();
        a.iter().map(one).sum()
    }

    fn variance(&self, p: &PointId) -> f64 {
        self.of.get(p).map_or(0.0, |(shares, own)| own + self.shared(shares, shares))
    }
}

/// Adjusts every level reading of the record.
#[must_use]
pub fn heights(record: &Record) -> Levels {
    heights_without(record, &[])
}

/// The same without these readings; heights count from what they count from with them.
#[must_use]
pub fn heights_without(record: &Record, left_out: &[EntryId]) -> Levels {
    let mut all = setups(record);
    let mut findings = Vec::new();
    let stated = record.bench_mark.as_ref().filter(|mark| mark.height.metres().is_finite());
    let datum = match (stated, all.first().and_then(|s| s.rods.first())) {
        (Some(mark), _) => (mark.point.clone(), mark.height),
        (None, Some(first)) => {
            findings.push(LevelFinding::DatumAssumed { point: first.point.clone() });
            let height = match record.site.units {
                UnitSystem::FeetInches | UnitSystem::DecimalFeet => Length::from_feet(ASSUMED),
                UnitSystem::Metres => Length::from_metres(ASSUMED),
            };
            (first.point.clone(), height)
        }
        (None, None) => return Levels::default(),
    };
    for setup in &mut all {
        setup.rods.retain(|rod| !left_out.contains(&rod.entry));
    }
    all.retain(|setup| !setup.rods.is_empty());
    findings.extend(mixed_units(record).map(|(rods, tapes)| LevelFinding::MixedUnits { rods, tapes }));
    let (tied, apart) = split(&all, &datum.0);
    findings.extend(apart.into_iter().map(|points| LevelFinding::Apart { points }));
    let mut levels = Network::of(&tied, datum.clone()).solve();
    let doubt = contradicted(&tied, &datum, &levels);
    levels.doubt(doubt);
    for finding in &mut levels.findings {
        explain(finding, &levels.readings, record);
    }
    findings.append(&mut levels.findings);
    Levels { findings, ..levels }
}

/// The set-ups joined to the datum, in the order of the book, which keeps the matrix narrow; and the points of every
/// group that is not.
fn split<'a>(all: &'a [SetUp], datum: &PointId) -> (Vec<&'a SetUp>, Vec<Vec<PointId>>) {
    let mut left: Vec<&SetUp> = all.iter().collect();
    let tied = joined(datum, &mut left);
    let mut apart = Vec::new();
    while let Some(rod) = left.first().and_then(|s| s.rods.first()) {
        apart.push(joined(&rod.point, &mut left));
    }
    let tied = all.iter().filter(|s| s.rods.iter().any(|rod| tied.contains(&rod.point))).collect();
    (tied, apart)
}

/// The points joined to one, itself among them; their set-ups are taken out of those left.
fn joined(to: &PointId, left: &mut Vec<&SetUp>) -> Vec<PointId> {
    let mut reached = vec![to.clone()];
    // Until nothing joins any more: set-ups are few.
    loop {
        let joins = |s: &&SetUp| s.rods.iter().any(|rod| reached.contains(&rod.point));
        let (new, rest): (Vec<&SetUp>, Vec<&SetUp>) = left.iter().copied().partition(joins);
        if new.is_empty() {
            return reached;
        }
        *left = rest;
        for rod in new.into_iter().flat_map(|s| &s.rods) {
            if !reached.contains(&rod.point) {
                reached.push(rod.point.clone());
            }
        }
    }
}

pub(super) struct Network<'a> {
    pub setups: &'a [&'a SetUp],
    pub points: Vec<PointId>,
    /// For each point its readings: set-up, reading of it.
    read: Vec<Vec<(usize, usize)>>,
    /// Which point is the datum, always the first.
    height: Length,
}

impl<'a> Network<'a> {
    pub fn of(setups: &'a [&'a SetUp], (datum, height): (PointId, Length)) -> Self {
        let mut points = vec![datum];
        let mut read = vec![Vec::new()];
        for (s, setup) in setups.iter().enumerate() {
            for (r, rod) in setup.rods.iter().enumerate() {
                let p = points.iter().position(|p| *p == rod.point).unwrap_or_else(|| {
                    points.push(rod.point.clone());
                    read.push(Vec::new());
                    points.len() - 1
                });
                read[p].push((s, r));
            }
        }
        Self { setups, points, read, height }
    }

    pub fn reading(&self, (s, r): (usize, usize)) -> (f64, f64) {
        let rod = &self.setups[s].rods[r];
        let sd = rod.sd.metres();
        (rod.below_line.metres(), 1.0 / (sd * sd))
    }

    /// For each point its set-ups with their shares in its height, and the variance from its own readings.
    fn shares(&self, p: usize) -> (Vec<(usize, f64)>, f64) {
        if p == 0 {
            return (Vec::new(), 0.0);
        }
        let total: f64 = self.read[p].iter().map(|&at| self.reading(at).1).sum();
        (self.read[p].iter().map(|&at| (at.0, self.reading(at).1 / total)).collect(), 1.0 / total)
    }

    pub fn solve(&self) -> Levels {
        let n = self.setups.len();
        let mut matrix = vec![vec![0.0; n]; n];
        let mut right = vec![0.0; n];
        let datum = self.height.metres();
        for (p, read) in self.read.iter().enumerate() {
            let (shares, _) = self.shares(p);
            let mean: f64 = read.iter().zip(&shares).map(|(&at, (_, f))| f * self.reading(at).0).sum();
            for &at in read {
                let (value, w) = self.reading(at);
                matrix[at.0][at.0] += w;
                // A reading says: line = height + reading. Of a point not held the mean of its lines is its height.
                right[at.0] += w * (value + if p == 0 { datum } else { -mean });
                for &(other, f) in &shares {
                    matrix[at.0][other] -= w * f;
                }
            }
        }
        let lines_covariance = inverse(matrix);
        let product = |row: &Vec<f64>| row.iter().zip(&right).map(|(q, b)| q * b).sum::<f64>();
        let lines: Vec<f64> = lines_covariance.iter().map(product).collect();
        self.report(&lines, lines_covariance)
    }

    fn report(&self, lines: &[f64], covariance: Vec<Vec<f64>>) -> Levels {
        let mut levels = Levels {
            covariance: Shares { lines: covariance, ..Shares::default() },
            scatter: 1.0,
            ..Levels::default()
        };
        let mut heights = Vec::with_capacity(self.points.len());
        let mut variances = Vec::with_capacity(self.points.len());
        let mut of = Vec::with_capacity(self.points.len());
        for (p, id) in self.points.iter().enumerate() {
            let (shares, own) = self.shares(p);
            let mean = |(&at, (s, f)): (&(usize, usize), &(usize, f64))| f * (lines[*s] - self.reading(at).0);
            let height =
                if p == 0 { self.height.metres() } else { self.read[p].iter().zip(&shares).map(mean).sum() };
            heights.push(height);
            variances.push(own + levels.covariance.shared(&shares, &shares));
            of.push((id.clone(), (shares, own)));
        }
        let mut number: Vec<(usize, usize, usize)> = Vec::new();
        for (p, read) in self.read.iter().enumerate() {
            number.extend(read.iter().map(|&(s, r)| (s, r, p)));
        }
        sort_by(&mut number, Ord::cmp);
        let mut square = 0.0;
        // As many can be tested as are checked; all is on the safe side.
        let limit = suspect_limit(number.len());
        let mut proved = vec![false; self.points.len()];
        for (s, r, p) in number {
            let rod = &self.setups[s].rods[r];
            let (value, w) = self.reading((s, r));
            let residual = lines[s] - heights[p] - value;
            square += w * residual * residual;
            // Of line minus height: of the adjusted reading.
            let lines = &levels.covariance.lines[s];
            let to_line: f64 = of[p].1.0.iter().map(|&(i, f)| f * lines[i]).sum();
            let redundancy = (1.0 - w * (lines[s] + variances[p] - 2.0 * to_line)).clamp(0.0, 1.0);
            let shows = redundancy >= UNCHECKED;
            proved[p] |= shows;
            let sd = rod.sd.metres();
            levels.readings.push(Levelled {
                entry: rod.entry.clone(),
                point: rod.point.clone(),
                observed: rod.below_line,
                residual: Length::from_metres(residual),
                redundancy,
                standardised: shows.then(|| residual / (sd * sqrt(redundancy))),
                smallest_detectable: shows.then(|| rod.sd * (detectable(limit) / sqrt(redundancy))),
            });
        }
        for (p, id) in self.points.iter().enumerate() {
            let sd = Length::from_metres(sqrt(variances[p].max(0.0)));
            let (above, checked) = (Length::from_metres(heights[p]), p == 0 || proved[p]);
            let height = Height { above, sd, checked, in_doubt: false };
            levels.points.insert(id.clone(), height);
        }
        levels.covariance.of = of.into_iter().collect();
        levels.redundancy = (levels.readings.len() + 1).saturating_sub(self.points.len() + self.setups.len());
        #[expect(clippy::cast_precision_loss, reason = "a count of readings is far below 2^52")]
        let factor = |spare: usize| square / spare as f64;
        levels.variance_factor = (levels.redundancy > 0).then(|| factor(levels.redundancy));
        levels.findings = suspects(&levels.readings, limit);
        levels
    }
}

/// The reading that fits worst, where it is beyond the limit, with those that fit as badly.
fn suspects(readings: &[Levelled], limit: f64) -> Vec<LevelFinding> {
    let size = |r: &Levelled| r.standardised.map_or(0.0, f64::abs);
    let worst = readings.iter().fold(None, |worst: Option<&Levelled>, r| match worst {
        Some(w) if size(w) >= size(r) => Some(w),
        _ => Some(r),
    });
    let Some(worst) = worst.filter(|r| size(r) > limit) else { return Vec::new() };
    // As bad: within two standard deviations in the sum of squares.
    let as_bad =
        |r: &&Levelled| r.entry != worst.entry && size(worst) * size(worst) - size(r) * size(r) < 4.0;
    vec![LevelFinding::Suspect {
        entry: worst.entry.clone(),
        point: worst.point.clone(),
        observed: worst.observed,
        expected: worst.observed + worst.residual / worst.redundancy,
        standardised: size(worst),
        causes: Vec::new(),
        rivals: readings.iter().filter(as_bad).map(|r| r.entry.clone()).collect(),
    }]
}

/// Says what may have happened to a suspect.
fn explain(finding: &mut LevelFinding, readings: &[Levelled], record: &Record) {
    let LevelFinding::Suspect { entry, expected, causes: found, .. } = finding else { return };
    let said = record.levels.iter().find(|l| l.entry == *entry).map(|l| &l.what);
    let Some((said, levelled)) = said.zip(readings.iter().find(|r| r.entry == *entry)) else { return };
    // Overhead the rod shows the same number, counted the other way.
    let shown = if said.overhead { -*expected } else { *expected };
    *found = causes(&said.reading, shown, (said.spread(), levelled.redundancy), record.site.units.into());
}

/// The inverse of a symmetric positive definite matrix by Cholesky's method (set-ups of one yard: some dozens).
fn inverse(mut a: Vec<Vec<f64>>) -> Vec<Vec<f64>> {
    let n = a.len();
    for i in 0..n {
        let first = a[i].iter().position(|v| *v != 0.0).unwrap_or(i);
        for j in first..=i {
            let sum: f64 = (first..j).map(|k| a[i][k] * a[j][k]).sum();
            a[i][j] =
                if i == j { sqrt((a[i][i] - sum).max(f64::MIN_POSITIVE)) } else { (a[i][j] - sum) / a[j][j] };
        }
    }
    let column = |c: usize| {
        let mut x = vec![0.0; n];
        for i in c..n {
            let sum: f64 = (c..i).map(|k| a[i][k] * x[k]).sum();
            x[i] = (f64::from(u8::from(i == c)) - sum) / a[i][i];
        }
        for i in (0..n).rev() {
            let sum: f64 = (i + 1..n).map(|k| a[k][i] * x[k]).sum();
            x[i] = (x[i] - sum) / a[i][i];
        }
        x
    };
    (0..n).map(column).collect()
}
