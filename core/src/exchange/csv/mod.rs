#![doc = include_str!("columns.md")]

mod attribute;
mod cells;
mod error;
mod export;
mod group;
mod import;
mod levels;
mod reading;
mod table;
mod taken;
mod things;
mod turned;

pub(super) use cells::guard;
pub use error::{CellError, Trouble};
pub use export::write;
pub use import::read;

use crate::book::Book;
use crate::record::AuthorId;
use table::Column;

/// The columns, explained for whoever types or makes such a table.
pub const COLUMNS: &str = include_str!("columns.md");

/// Who brings a table in, and when: handed in, as core has neither clock nor chance.
#[derive(Clone, Debug)]
pub struct Source {
    /// What the ids of the entries begin with. Must differ from table to table where several go
    /// into one book.
    pub id_prefix: String,
    /// Who stands as author.
    pub author: AuthorId,
    /// The time, milliseconds since 1970.
    pub at_ms: i64,
}

/// A table read.
#[derive(Clone, Debug)]
pub struct Import {
    /// Its book.
    pub book: Book,
    /// Cells passed over, so that nothing goes missing unseen.
    pub remarks: Vec<CellError>,
}

const KINDS: &[&str] = &[
    "site",
    "point",
    "tie",
    "run",
    "offset",
    "walk",
    "square",
    "in_line",
    "side",
    "angle",
    "bearing",
    "parallel",
    "same_length",
    "arc",
    "arc_through",
    "girth",
    "feature",
    "problem",
    "mark",
    "photo",
    "note",
    "level",
    "bench_mark",
    "sketch",
    "anchor",
    "second_anchor",
    "north",
];

/// The columns a kind of row uses.
const fn used(kind: &str) -> &'static [Column] {
    use Column::{
        From, Group, How, Kept, Metres, More, Name, Note, Offset, OffsetMetres, OffsetUnits, Points, Reading,
        Sd, Side, SideFrom, SideTo, Target, To, Turn, Units, What, X, Y,
    };
    match kind.as_bytes() {
        b"site" => &[Name, Units, More, Note],
        b"point" => &[Points, Note],
        b"tie" => &[From, To, Reading, Side, SideFrom, SideTo, How, Target, Sd, Units, Metres, More, Kept],
        b"run" => &[Group, From, To, Points, Reading, How, Target, Sd, Units, Metres, More, Kept],
        b"offset" => &[
            Group,
            From,
            To,
            Points,
            Reading,
            Offset,
            Side,
            How,
            Target,
            Sd,
            Units,
            Metres,
            OffsetUnits,
            OffsetMetres,
            Kept,
            More,
        ],
        b"walk" => &[Group, From, To, Reading, Turn, How, Target, Sd, Units, Metres, More, Kept],
        b"square" => &[Points, From, To, Kept],
        b"in_line" => &[Points, Kept],
        b"side" => &[Points, Side, SideFrom, SideTo, Kept],
        b"angle" => &[Points, From, To, Reading, Turn, How, Sd, More, Kept],
        b"bearing" => &[From, To, Reading, What, How, Sd, More, Kept],
        b"parallel" | b"same_length" => &[Points, Sd, Units, Kept],
        b"arc" => &[From, To, Reading, Side, Units, Metres, Kept],
        b"arc_through" => &[From, To, Points, Kept],
        b"girth" => &[Points, Reading, How, Target, Sd, Units, Metres, More, Kept],
        b"feature" | b"mark" => &[What, Points, Name, More, Note],
        b"problem" | b"note" => &[What, Points, X, Y, More, Note],
        b"photo" => &[What, Points, X, Y, Name, More, Note],
        b"level" => &[Group, Points, Reading, How, Sd, Units, Metres, More],
        b"bench_mark" => &[Points, Reading, Units, Metres, Note],
        b"sketch" => &[Points, X, Y],
        b"anchor" | b"second_anchor" => &[Points, More, Note],
        _ => &[From, To, Reading, What, More, Note],
    }
}
