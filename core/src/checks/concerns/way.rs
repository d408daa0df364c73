//! The narrowest place on the way into the yard, and what gets through.
//!
//! Planning figures, as contractors publish them, machines differ: narrow mini diggers pulled in are about 28 to 36 in
//! wide, small loaders about 36 to 50 in.

use super::look::{Look, concern, length};
use super::{Concern, Topic};
use crate::units::{Length, LengthStyle, UnitSystem, format_length};

/// Widths in inches: what is wide enough for a small loader, what for the widest and the narrowest mini digger.
const LOADER: f64 = 50.0;
const DIGGER: f64 = 36.0;
const NARROW_DIGGER: f64 = 28.0;

pub(super) fn find(look: &Look, found: &mut Vec<Concern>) {
    let of = |kind: &str| if kind == "path" { "width" } else { "clear_width" };
    let things = look.things("gate access dog_run bins path").filter_map(|f| {
        let width = length(&f.what.attributes, of(&f.what.kind))?;
        Some((width, look.name(&f.what), look.key("way", &f.what.points), f.entry.clone()))
    });
    let tight = look.record.problems.iter().zip(1..).filter(|(p, _)| p.what.kind == "access");
    let tight = tight.filter_map(|(p, number)| {
        let width = length(&p.what.attributes, "clear_width")?;
        Some((width, say!("problem {number}"), format!("way problem {number}"), p.entry.clone()))
    });
    let narrowest = things.chain(tight).reduce(|a, b| if b.0 < a.0 { b } else { a });
    let Some((width, name, key, entry)) = narrowest.filter(|(width, ..)| width.inches() < LOADER) else {
        return;
    };
    let whole = |inches: f64| match look.record.site.units {
        UnitSystem::Metres => format_length(Length::from_inches(inches), LengthStyle::Metres { decimals: 2 }),
        _ => say!("{inches} in"),
    };
    let (loader, digger, narrow) = (whole(LOADER), whole(DIGGER), whole(NARROW_DIGGER));
    let passes = if width.inches() >= DIGGER {
        say!("narrow mini diggers are about {narrow} to {digger} wide, small loaders {digger} to {loader}")
    } else if width.inches() >= NARROW_DIGGER {
        say!(
            "no small loader ({digger} and more), a mini digger only if it is narrow enough ({narrow} to {digger})"
        )
    } else {
        say!("too narrow for any usual machine (mini diggers from about {narrow}): work by hand")
    };
    let what = say!("The narrowest way measured is {}, at the {name}: {passes}", look.fine(width));
    let how = "Note the turns, steps, slopes and the headroom on the way as well.";
    let mut c = concern(Topic::WayIn, key, what, how);
    c.numbers.push(("clear width", look.fine(width)));
    c.used = vec![say!("clear width of the {name}")];
    c.caution = "Machines differ: measure the one that is to come, and leave it room.";
    c.source = "Widths as contractors publish them for planning; no standard";
    c.about = vec![entry];
    found.push(c);
}
