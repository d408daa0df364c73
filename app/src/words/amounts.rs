//! How long, how large, how much: quantities with what they may be off by.

pub use swingtie_core::plan::amounts::{extent, off};
use swingtie_core::plan::quantities::{Amount, pit_of};
use swingtie_core::record::{Attribute, Attributes, Form, Row, Sort};
use swingtie_core::units::format::format_number;
use swingtie_core::units::{Area, Length, UnitSystem, Volume, read_number};

/// Opens what is asked about an area's depth.
pub const FILL: &str = "How much at a depth";
/// Before a depth is typed.
pub const FILL_HINT: &str = "Type the depth: mulch, gravel, concrete, or a hole that is dug.";

static DEPTH: Row = Row {
    key: "fill_depth",
    name: "depth",
    sort: Sort::Length { least: Length::from_millimetres(10.0), most: Length::from_millimetres(3000.0) },
    help: "How thick it is laid, or how deep it is dug",
};
static WASTE: Row = Row {
    key: "fill_waste",
    name: "waste",
    sort: Sort::Percent { most: 30 },
    help: "So much more for waste and settling; often 5 to 10",
};
static FLOOR: Row = Row {
    key: "fill_floor",
    name: "floor of the hole",
    sort: Sort::Percent { most: 100 },
    help: "Where it is narrower at the bottom, the hole's floor: how much of the rim it is; 100 where the sides are upright",
};
/// What is asked of an area that is filled or dug.
pub static FILL_FORM: Form = Form { first: &[&DEPTH as &Row, &WASTE, &FLOOR], more: &[] };

/// In cubic yards, or cubic metres.
fn volume(amount: Amount<Volume>, units: UnitSystem) -> String {
    let (unit, of): (_, fn(Volume) -> f64) = match units {
        UnitSystem::Metres => ("m³", Volume::cubic_metres),
        _ => ("cu yd", Volume::cubic_yards),
    };
    let value = format_number(of(amount.value), 2);
    say!("{value} {unit}{}", off(amount.sd, |sd| say!("{} {unit}", format_number(2.0 * of(sd), 2))))
}

/// What fills an area, by what was typed: depth, waste and floor. None before there is a depth.
#[must_use]
pub fn fill(rim: Amount<Area>, typed: &Attributes, units: UnitSystem) -> Option<String> {
    let Some(Attribute::Length(depth)) = typed.get(DEPTH.key) else { return None };
    let share = |row: &Row| match typed.get(row.key) {
        Some(Attribute::Text(words)) => read_number(words.trim_end_matches(['%', ' '])).map(|n| n / 100.0),
        _ => None,
    };
    let (waste, floor) = (share(&WASTE), share(&FLOOR).unwrap_or(1.0));
    let amount = volume(pit_of(rim, floor, depth.value, waste.unwrap_or(0.0)), units);
    let waste =
        waste.map_or_else(String::new, |waste| say!(", {} % waste in it", format_number(waste * 100.0, 0)));
    Some(say!("{amount} at {} deep{waste}", depth.text))
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::record::Reading;
    use swingtie_core::units::BareUnit;

    fn typed(depth: &str, waste: &str) -> Attributes {
        let reading = Reading::read(depth, BareUnit::from(UnitSystem::FeetInches)).unwrap();
        let said =
            [("fill_depth", Attribute::Length(reading)), ("fill_waste", Attribute::Text(waste.to_owned()))];
        said.into_iter().map(|(key, said)| (key.to_owned(), said)).collect()
    }

    /// 500 sq ft at 2 in are 3.086 cu yd (any table of gravel); a tenth more 3.395.
    #[test]
    fn what_fills_a_bed() {
        let rim = Amount {
            value: Length::from_feet(20.0) * Length::from_feet(25.0),
            sd: Some(Length::from_feet(1.0) * Length::from_feet(5.0)),
        };
        let said = fill(rim, &typed("2\"", "10 %"), UnitSystem::FeetInches).unwrap();
        assert_eq!(said, "3.40 cu yd ± 0.07 cu yd at 2\" deep, 10 % waste in it");
        let said = fill(Amount { sd: None, ..rim }, &typed("2\"", ""), UnitSystem::FeetInches).unwrap();
        assert_eq!(said, "3.09 cu yd roughly at 2\" deep");
        assert_eq!(fill(rim, &Attributes::new(), UnitSystem::Metres), None);
    }
}
