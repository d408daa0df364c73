//! What an adjustment says, in words the screen, the sheet and the desk command share.

use crate::record::{EntryId, Measurement, NorthKind, PointId, Reading, SideOf};
use crate::slips::Slip;
use crate::units::{Angle, Length, PlanPoint};
use litemap::LiteMap;
use serde::Serialize;

/// How well a point is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum PointState {
    /// Not determined.
    Loose,
    /// Determined, but a misread would pass unseen. In files "not checked": to surveyors a fixed point is one held.
    #[serde(rename = "not_checked")]
    Fixed,
    /// Determined, and an error above a stated size would show.
    Checked,
    /// The readings contradict each other.
    #[serde(rename = "in_doubt")]
    Disputed,
}

impl PointState {
    /// What it is called on screens, on sheets and in files.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Loose => "loose",
            Self::Fixed => "not checked",
            Self::Checked => "checked",
            Self::Disputed => "in doubt",
        }
    }
}

/// In which way a loose point is free.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "free")]
pub enum Freedom {
    /// No reading mentions it.
    Unmeasured,
    /// It may stand anywhere on a circle: one tie only.
    OnCircle {
        /// The circle's centre.
        centre: PointId,
        /// The taped distance.
        radius: Length,
    },
    /// It may slide in this direction (counter-clockwise from the plan's x).
    Along {
        /// The direction.
        direction: Angle,
    },
    /// It hangs on points that are loose themselves.
    WithOthers {
        /// Those points.
        others: Vec<PointId>,
    },
}

/// A 95 % confidence ellipse from the readings' standard deviations alone (a priori).
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Ellipse {
    /// Larger half axis.
    pub semi_major: Length,
    /// Smaller half axis.
    pub semi_minor: Length,
    /// Direction of the larger axis, counter-clockwise from the plan's x, in 0 … π.
    pub direction: Angle,
}

/// Where a point is and how well it is known.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Fix {
    /// Its adjusted place; none while it is loose.
    pub at: Option<PlanPoint>,
    /// Where to draw it while it is loose: a guess from sketch and single readings.
    pub guess: Option<PlanPoint>,
    /// How well it is known.
    pub state: PointState,
    /// Its 95 % ellipse; none while loose; zero for the held point.
    pub ellipse: Option<Ellipse>,
    /// In which way it is free; none unless loose.
    pub freedom: Option<Freedom>,
}

/// What a reading says about its points.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ReadingRole {
    /// A tie.
    Tie,
    /// A reading along a run.
    Run,
    /// The point lies on the run's line.
    OnRun,
    /// A station along a baseline.
    Station,
    /// An offset from a baseline.
    Offset,
    /// The length of a wall in a wall walk.
    Wall,
    /// A square corner, stated or walked.
    Square,
    /// A point stated to be in line.
    InLine,
    /// An angle turned at a point.
    Angle,
    /// A bearing.
    Bearing,
    /// Two lines stated to be parallel.
    Parallel,
    /// Two lengths stated to be the same.
    SameLength,
}

/// A length or an angle.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Quantity {
    /// Metres.
    Length(Length),
    /// Radians.
    Angle(Angle),
}

/// One scalar reading after the adjustment.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AdjustedReading {
    /// The entry it stands in.
    pub entry: EntryId,
    /// Which row, leg or reading of that entry, from 0.
    pub part: usize,
    /// What it says.
    pub role: ReadingRole,
    /// The points involved: from, to; or baseline from, baseline to, point; or corner legs and corner.
    pub points: Vec<PointId>,
    /// As read, after the corrections the book asks for (tape, slope, the middle of a trunk,
    /// declination where compass and true bearings are mixed).
    pub observed: Quantity,
    /// As the adjusted plan has it; none when a point of it is loose.
    pub adjusted: Option<Quantity>,
    /// Adjusted minus observed.
    pub residual: Option<Quantity>,
    /// The reading's standard deviation before the adjustment.
    pub sd: Quantity,
    /// Redundancy number r, 0 (nothing checks it) … 1 (fully checked by others).
    pub redundancy: Option<f64>,
    /// Standardised residual w = v / (σ √r); none when r is too small to mean anything.
    pub standardised: Option<f64>,
    /// Smallest error in this reading that the others would show: one of this size takes the
    /// standardised residual beyond [`Adjustment::suspect_limit`] four times of five.
    pub smallest_detectable: Option<Quantity>,
}

impl AdjustedReading {
    /// Whether the others check it: its redundancy number is [`UNCHECKED`](super::UNCHECKED) or more.
    /// What is not checked agrees with anything, so that agreement says nothing.
    #[must_use]
    pub fn is_checked(&self) -> bool {
        self.redundancy.is_some_and(|r| r >= super::UNCHECKED)
    }
}

/// Which of two mirror places a point stands on was never said, or said both ways, and no reading tells.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SideQuestion {
    /// The point.
    pub point: PointId,
    /// The side assumed for now (from the sketch, or left for want of anything).
    pub assumed: SideOf,
    /// Where the other place is.
    pub other: PlanPoint,
    /// Whether sides were said of it that neither place keeps all of.
    pub contradicted: bool,
}

/// What the others say about a reading they accuse.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Doubt {
    /// What the reading says about its points.
    pub role: ReadingRole,
    /// As read.
    pub observed: Quantity,
    /// What the others expect: the value predicted with this reading, and the other suspects, left out.
    pub expected: Quantity,
    /// Standard deviation of that prediction.
    pub expected_sd: Quantity,
    /// Slips that would explain it, likeliest first; each was tried and then agrees with the others.
    pub causes: Vec<Cause>,
}

/// A reading that cannot be told apart from a suspect: leaving it out would do as well.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Rival {
    /// The entry.
    pub entry: EntryId,
    /// Which row of it.
    pub part: usize,
    /// Its standardised residual.
    pub standardised: f64,
    /// What the others say.
    pub doubt: Doubt,
}

/// A slip that would explain a reading.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Cause {
    /// What happened.
    pub slip: Slip,
    /// What the reading should then say; none where it was read right but noted in the wrong place.
    pub reading: Option<Reading>,
    /// The measurements as they should then be written: what `Correct` puts into the book.
    pub corrections: Vec<Correction>,
}

/// A measurement written anew.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Correction {
    /// The entry to correct.
    pub entry: EntryId,
    /// What it should say.
    pub now: Measurement,
}

/// Something the user should know about the survey; the result stays usable.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "finding")]
pub enum Finding {
    /// This reading does not agree with the others. Where there are several they stand in the order
    /// found, each with the earlier ones left out.
    Suspect {
        /// The entry.
        entry: EntryId,
        /// Which row of it.
        part: usize,
        /// Its standardised residual when it was found.
        standardised: f64,
        /// What the others say about it.
        doubt: Doubt,
        /// Readings that could as well be the wrong one. With one, two readings contradict each other
        /// and a third is needed; with more, one more reading names the culprit.
        rivals: Vec<Rival>,
    },
    /// These loose points hold together among themselves: as a group they can swing or slide.
    LooseGroup {
        /// The points.
        points: Vec<PointId>,
        /// Entries that join the group to determined points.
        joined: Vec<EntryId>,
        /// How many more ties fix it, from different known points to different ones of the group.
        needs: usize,
    },
    /// This reading does not agree with the others, but was looked at again and kept.
    Kept {
        /// The entry.
        entry: EntryId,
        /// Which row of it.
        part: usize,
        /// Its standardised residual.
        standardised: f64,
    },
    /// A side was said that the readings contradict.
    SideContradicted {
        /// The point.
        point: PointId,
        /// The side that was said.
        said: SideOf,
    },
    /// Readings that cannot be true together at all, such as two ties that do not meet.
    Impossible {
        /// The point they were to fix.
        point: PointId,
        /// The entries.
        entries: Vec<EntryId>,
    },
    /// The iteration did not settle; positions are rough.
    NotSettled,
    /// A compass needle was most likely pulled aside by iron, a wire or a motor near it.
    LocalAttraction {
        /// Where the compass was held; both ends of a line whose bearing and back bearing miss half a
        /// turn, where nothing tells which of them.
        at: Vec<PointId>,
        /// The entries of the bearings.
        entries: Vec<EntryId>,
        /// How much too far clockwise its bearings are; of two ends, those from the first against the other.
        by: Angle,
    },
    /// A tie was taped to the bark of a trunk whose thickness nobody gave: it was used as if it
    /// went to the middle.
    ThicknessUnknown {
        /// The trunk.
        point: PointId,
        /// The tie.
        entry: EntryId,
    },
}

/// Where the bearings say that north is.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct FoundNorth {
    /// Its direction, counter-clockwise from the plan's x.
    pub direction: Angle,
    /// The direction's standard deviation (a priori).
    pub sd: Angle,
    /// Which north.
    pub kind: NorthKind,
}

/// The adjusted network.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Adjustment {
    /// Every point of the record.
    pub points: LiteMap<PointId, Fix>,
    /// Every scalar reading, in book order.
    pub readings: Vec<AdjustedReading>,
    /// The point held at the origin and the one that gives the x direction.
    pub held: Option<(PointId, PointId)>,
    /// Sum of squared weighted residuals.
    pub chi_square: f64,
    /// Beyond this a standardised residual is suspect. It grows with the number of readings tested,
    /// so that of five hundred clean surveys one is accused at most.
    pub suspect_limit: f64,
    /// Spare readings: equations minus unknowns.
    pub redundancy: usize,
    /// chi_square / redundancy; none without spare readings.
    pub variance_factor: Option<f64>,
    /// Between which bounds it lies with 95 % probability, given how few spare readings there are;
    /// none without any.
    pub variance_interval: Option<[f64; 2]>,
    /// Where bearings between determined points say that each north is.
    pub norths: Vec<FoundNorth>,
    /// Sides left open.
    pub questions: Vec<SideQuestion>,
    /// What the user should know.
    pub findings: Vec<Finding>,
}

/// How the readings' scatter compares with their stated standard deviations.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Agreement {
    /// They agree better than stated, by more than chance.
    Better,
    /// They agree as stated: what differs may be chance.
    AsStated,
    /// They agree less well than stated, by more than chance: a misread, or worse taping.
    Worse,
}

impl Adjustment {
    /// Whether the readings are as good as their stated standard deviations: whether 1 lies between
    /// the bounds of the variance factor. None without spare readings.
    #[must_use]
    pub fn agreement(&self) -> Option<Agreement> {
        self.variance_interval.map(|[low, high]| match () {
            () if low > 1.0 => Agreement::Worse,
            () if high < 1.0 => Agreement::Better,
            () => Agreement::AsStated,
        })
    }
}
