//! The feature catalogue: every kind of thing in one table. Adding a kind is one line here.

/// How a kind of feature is drawn through its points.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Geometry {
    /// One point with a symbol.
    Point,
    /// A line through two points or more.
    Line,
    /// A closed outline through three points or more.
    Area,
    /// A circle about one point, its size an attribute.
    Circle,
}

/// One kind of feature.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Kind {
    /// The stable key stored in books.
    pub key: &'static str,
    /// The plain name shown.
    pub name: &'static str,
    /// How it is drawn.
    pub geometry: Geometry,
    /// The letters new point labels of this kind start with.
    pub prefix: &'static str,
}

const fn k(key: &'static str, name: &'static str, geometry: Geometry, prefix: &'static str) -> Kind {
    Kind { key, name, geometry, prefix }
}

/// Every kind, in the order offered. Letters and names are common practice, no source.
pub const CATALOGUE: &[Kind] = &[
    k("house", "House", Geometry::Area, "H"),
    k("outbuilding", "Shed, garage, outbuilding", Geometry::Area, "SH"),
    k("door", "Door", Geometry::Line, "D"),
    k("window", "Window", Geometry::Line, "W"),
    k("deck", "Deck, porch", Geometry::Area, "DK"),
    k("steps", "Steps", Geometry::Area, "SP"),
    k("patio", "Patio", Geometry::Area, "PA"),
    k("drive", "Drive", Geometry::Area, "DW"),
    k("path", "Path", Geometry::Area, "PT"),
    k("wall", "Wall", Geometry::Line, "RW"),
    k("fence", "Fence", Geometry::Line, "F"),
    k("gate", "Gate", Geometry::Line, "G"),
    k("post", "Post", Geometry::Point, "P"),
    k("tree", "Tree", Geometry::Circle, "T"),
    k("stump", "Stump", Geometry::Circle, "ST"),
    k("shrub", "Shrub", Geometry::Circle, "S"),
    k("hedge", "Hedge", Geometry::Line, "HG"),
    k("bed", "Planting bed", Geometry::Area, "B"),
    k("lawn", "Lawn", Geometry::Area, "L"),
    k("hose_bib", "Hose tap", Geometry::Point, "HB"),
    k("downspout", "Downspout", Geometry::Point, "DS"),
    k("drain", "Drain, cleanout", Geometry::Point, "CO"),
    k("valve", "Irrigation valve", Geometry::Point, "VB"),
    k("electric_meter", "Electric meter, panel", Geometry::Point, "EM"),
    k("gas_meter", "Gas meter", Geometry::Point, "GM"),
    k("water_meter", "Water meter", Geometry::Point, "WM"),
    k("vent", "Vent", Geometry::Point, "V"),
    k("air_unit", "Air conditioner, heat pump", Geometry::Area, "AC"),
    k("light", "Light, outlet", Geometry::Point, "LT"),
    k("pole", "Utility pole", Geometry::Point, "UP"),
    k("overhead_wire", "Overhead wire", Geometry::Line, "OW"),
    k("well", "Well", Geometry::Point, "WL"),
    k("septic", "Septic tank, lid", Geometry::Area, "SE"),
    k("propane", "Propane tank", Geometry::Area, "PR"),
    k("pool", "Pool, pond", Geometry::Area, "PL"),
    k("play", "Play equipment", Geometry::Area, "PY"),
    k("dog_run", "Dog run", Geometry::Area, "DR"),
    k("fire_pit", "Fire pit, grill", Geometry::Point, "FP"),
    k("wet_spot", "Wet spot", Geometry::Area, "WS"),
    k("low_point", "Low point", Geometry::Point, "LP"),
    k("kerb", "Kerb, sidewalk edge", Geometry::Line, "SW"),
    k("lot_line", "Lot line as told", Geometry::Line, "LOT"),
    k("pin", "Pin found", Geometry::Point, "PN"),
    k("peg", "Peg, chalk mark", Geometry::Point, "PK"),
    k("rock", "Rock, boulder", Geometry::Area, "RK"),
    k("other", "Something else", Geometry::Point, "X"),
];

/// The kind with this key.
#[must_use]
pub fn kind(key: &str) -> Option<&'static Kind> {
    CATALOGUE.iter().find(|kind| kind.key == key)
}
