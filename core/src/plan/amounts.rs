//! How long and how large, in words, with what it may be off by.

use super::quantities::{Amount, Extent};
use crate::units::{Area, Length, LengthStyle, UnitSystem, format_area, format_length};

/// Two standard deviations: what it may be off by.
#[must_use]
pub fn off<T>(sd: Option<T>, write: impl FnOnce(T) -> String) -> String {
    sd.map_or_else(|| say!(" roughly"), |sd| format!(" ± {}", write(sd)))
}

fn length(amount: Amount<Length>, units: UnitSystem) -> String {
    let style = match units {
        UnitSystem::FeetInches => LengthStyle::FeetInches { finest: 2 },
        UnitSystem::DecimalFeet => LengthStyle::DecimalFeet { decimals: 1 },
        UnitSystem::Metres => LengthStyle::Metres { decimals: 2 },
    };
    let write = |length: Length| format_length(length, style);
    format!("{}{}", write(amount.value), off(amount.sd, |sd| write(sd * 2.0)))
}

fn area(amount: Amount<Area>, units: UnitSystem) -> String {
    // Never nothing: what is less than the last figure counts as one of it.
    let least = match units {
        UnitSystem::Metres => Area::from_square_metres(0.1),
        _ => Length::from_feet(1.0) * Length::from_feet(1.0),
    };
    let twice = |sd: Area| Area::from_square_metres((2.0 * sd.square_metres()).max(least.square_metres()));
    format!("{}{}", format_area(amount.value, units), off(amount.sd, |sd| format_area(twice(sd), units)))
}

/// How long and how large a thing is; nothing of a spot.
#[must_use]
pub fn extent(extent: &Extent, units: UnitSystem) -> Option<String> {
    let long = length(extent.length?, units);
    Some(match extent.area {
        Some(inside) => say!("{}; {long} round it", area(inside, units)),
        None => say!("{long} long"),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn how_long_and_how_large() {
        let long = Some(Amount { value: Length::from_feet(64.0), sd: Some(Length::from_inches(1.0)) });
        let fence = Extent { length: long, area: None };
        assert_eq!(extent(&fence, UnitSystem::FeetInches).as_deref(), Some("64' 0\" ± 2\" long"));
        let inside = Length::from_feet(12.0) * Length::from_feet(20.0);
        let patio = Extent { length: long, area: Some(Amount { value: inside, sd: None }) };
        assert_eq!(
            extent(&patio, UnitSystem::FeetInches).as_deref(),
            Some("240 sq ft roughly; 64' 0\" ± 2\" round it")
        );
        assert_eq!(extent(&Extent::default(), UnitSystem::Metres), None);
    }
}
