//! Which group of the drawing each kind of thing belongs to.

/// The groups of the drawing, in drawing order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Layer {
    Ground,
    Hard,
    Lot,
    House,
    Openings,
    Fences,
    Plants,
    Fittings,
}

impl Layer {
    pub const ALL: [Self; 8] = [
        Self::Ground,
        Self::Hard,
        Self::Lot,
        Self::House,
        Self::Openings,
        Self::Fences,
        Self::Plants,
        Self::Fittings,
    ];
    pub const fn name(self) -> &'static str {
        match self {
            Self::Ground => "ground",
            Self::Hard => "hard",
            Self::Lot => "lot-told",
            Self::House => "house",
            Self::Openings => "openings",
            Self::Fences => "fences",
            Self::Plants => "plants",
            Self::Fittings => "fittings",
        }
    }
    pub fn of(kind: &str) -> Self {
        match kind {
            "lawn" | "bed" | "wet_spot" | "pool" | "rock" | "low_point" | "high_point" | "swale"
            | "eroded" | "sun" | "drain_field" | "easement" => Self::Ground,
            "patio" | "drive" | "path" | "deck" | "steps" | "kerb" | "play" | "dog_run" | "pad" | "bins"
            | "compost" | "access" | "curved_edge" => Self::Hard,
            "lot_line" | "pin" | "setback" => Self::Lot,
            "house" | "outbuilding" => Self::House,
            "door" | "window" | "roof_edge" => Self::Openings,
            "wall" | "fence" | "gate" | "post" => Self::Fences,
            "tree" | "neighbour_tree" | "stump" | "shrub" | "hedge" | "pot" => Self::Plants,
            _ => Self::Fittings,
        }
    }
}
