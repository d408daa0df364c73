//! Paper sizes and drawing scales: the standard series, and nothing in between.

use crate::record::UnitSystem;
use crate::units::Length;

/// A trimmed sheet size.
///
/// Values: ISO 216 and ISO 5457 for the A series; ANSI/ASME Y14.1 (inches, exact) and the
/// architectural series used with it in the United States.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Paper {
    /// The name printed on the sheet and used to choose it.
    pub name: &'static str,
    /// The shorter side.
    pub short: Length,
    /// The longer side.
    pub long: Length,
    /// The size in the words of its own unit, `8.5 × 11 in`.
    pub size: &'static str,
    series: Series,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Series {
    Iso,
    UnitedStates,
}

const fn iso(name: &'static str, short: f64, long: f64, size: &'static str) -> Paper {
    Paper {
        name,
        short: Length::from_millimetres(short),
        long: Length::from_millimetres(long),
        size,
        series: Series::Iso,
    }
}

const fn inch(name: &'static str, short: f64, long: f64, size: &'static str) -> Paper {
    Paper {
        name,
        short: Length::from_inches(short),
        long: Length::from_inches(long),
        size,
        series: Series::UnitedStates,
    }
}

impl Paper {
    /// The sheet every American printer takes.
    pub const LETTER: Self = inch("Letter (ANSI A)", 8.5, 11.0, "8.5 × 11 in");

    /// Every size that can be chosen, each series from small to large.
    pub const ALL: &'static [Self] = &[
        Self::LETTER,
        inch("Tabloid (ANSI B)", 11.0, 17.0, "11 × 17 in"),
        inch("ARCH C", 18.0, 24.0, "18 × 24 in"),
        inch("ARCH D", 24.0, 36.0, "24 × 36 in"),
        inch("ARCH E", 36.0, 48.0, "36 × 48 in"),
        iso("A4", 210.0, 297.0, "210 × 297 mm"),
        iso("A3", 297.0, 420.0, "297 × 420 mm"),
        iso("A2", 420.0, 594.0, "420 × 594 mm"),
        iso("A1", 594.0, 841.0, "594 × 841 mm"),
        iso("A0", 841.0, 1189.0, "841 × 1189 mm"),
    ];

    /// The size with this name, letter case ignored; the first word is enough (`letter`, `a3`).
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        let wanted = name.trim();
        let first = |paper: &Self| paper.name.split(" (").next().unwrap_or_default();
        let found = Self::ALL.iter().find(|paper| {
            paper.name.eq_ignore_ascii_case(wanted) || first(paper).eq_ignore_ascii_case(wanted)
        });
        found.copied()
    }

    /// The sizes offered where lengths are written so, small to large.
    pub fn of(units: UnitSystem) -> impl Iterator<Item = Self> {
        let series = match units {
            UnitSystem::Metres => Series::Iso,
            UnitSystem::FeetInches | UnitSystem::DecimalFeet => Series::UnitedStates,
        };
        Self::ALL.iter().copied().filter(move |paper| paper.series == series)
    }
}

/// Which way the sheet lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Orientation {
    /// The long side upright.
    Portrait,
    /// The long side across.
    Landscape,
}

/// A drawing scale 1 : n.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Scale(u32);

/// Architect's and engineer's scales of the United States, in words. 1:96 is 1/8 inch to the foot.
const UNITED_STATES: &[(u32, &str)] = &[
    (12, "1\" = 1'-0\""),
    (24, "1/2\" = 1'-0\""),
    (48, "1/4\" = 1'-0\""),
    (96, "1/8\" = 1'-0\""),
    (120, "1\" = 10'"),
    (192, "1/16\" = 1'-0\""),
    (240, "1\" = 20'"),
    (360, "1\" = 30'"),
    (480, "1\" = 40'"),
    (600, "1\" = 50'"),
    (720, "1\" = 60'"),
    (1200, "1\" = 100'"),
    (2400, "1\" = 200'"),
    (6000, "1\" = 500'"),
    (12_000, "1\" = 1000'"),
    (24_000, "1\" = 2000'"),
    (60_000, "1\" = 5000'"),
];

/// ISO 5455:1979, extended by powers of ten as it allows.
const ISO: &[u32] = &[10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000, 50_000, 100_000];

impl Scale {
    /// 1 : `denominator`; none for 0.
    #[must_use]
    pub const fn one_to(denominator: u32) -> Option<Self> {
        if denominator == 0 { None } else { Some(Self(denominator)) }
    }

    /// The n of 1 : n.
    #[must_use]
    pub const fn denominator(self) -> u32 {
        self.0
    }

    /// The standard scales where lengths are written so, from the largest drawing to the smallest.
    #[must_use]
    pub fn series(units: UnitSystem) -> Vec<Self> {
        match units {
            UnitSystem::Metres => ISO.iter().map(|n| Self(*n)).collect(),
            UnitSystem::FeetInches | UnitSystem::DecimalFeet => {
                UNITED_STATES.iter().map(|(n, _)| Self(*n)).collect()
            }
        }
    }

    /// How the scale is written on the sheet: `1" = 20'  (1:240)`, `1:200`.
    #[must_use]
    pub fn words(self, units: UnitSystem) -> String {
        let named = UNITED_STATES.iter().find(|(n, _)| *n == self.0);
        match (units, named) {
            (UnitSystem::FeetInches | UnitSystem::DecimalFeet, Some((n, words))) => {
                say!("{words}  (1:{n})")
            }
            _ => format!("1:{}", self.0),
        }
    }

    /// How long a length on the ground is on the sheet.
    ///
    /// ```
    /// use swingtie_core::{sheet::Scale, units::Length};
    /// let scale = Scale::one_to(240).unwrap();
    /// assert_eq!(scale.on_sheet(Length::from_feet(20.0)).inches(), 1.0);
    /// ```
    #[must_use]
    pub fn on_sheet(self, ground: Length) -> Length {
        ground / f64::from(self.0)
    }
}

/// The scale at which a residential yard is usually drawn, or the next: common practice, no source.
pub(super) fn legible(units: UnitSystem) -> Scale {
    match units {
        UnitSystem::Metres => Scale(100),
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => Scale(120),
    }
}

/// The smallest scale at which a yard still reads well: common practice, no source.
pub(super) fn comfortable(units: UnitSystem) -> Scale {
    match units {
        UnitSystem::Metres => Scale(200),
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => Scale(240),
    }
}

/// The smallest scale at which a lot is still a base plan and not a location map: common practice, no source.
pub(super) fn tolerable(units: UnitSystem) -> Scale {
    match units {
        UnitSystem::Metres => Scale(500),
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => Scale(600),
    }
}

/// What a nearly empty sheet uses.
pub(super) fn usual(units: UnitSystem) -> Scale {
    match units {
        UnitSystem::Metres => Scale(100),
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => Scale(120),
    }
}
