//! What is entered of one point's place so far, and what is wrong with it.

use crate::device;
use crate::screens::details::number;
use crate::words;
use leptos::prelude::*;
use swingtie_core::record::{Anchor, PointId, UnitSystem};
use swingtie_core::units::format::fixed;
use swingtie_core::units::{BareUnit, Length, read_length};

/// Latitude, longitude and accuracy as they stand in their fields.
type Typed = [String; 3];

/// What is entered so far.
#[derive(Clone, Copy)]
pub(super) struct Draft {
    pub point: RwSignal<Option<PointId>>,
    pub latitude: RwSignal<String>,
    pub longitude: RwSignal<String>,
    pub accuracy: RwSignal<String>,
    /// Where the numbers come from, and what they were then: changed by hand they are typed ones.
    whence: RwSignal<(String, Typed)>,
}

impl Draft {
    /// A place as it stands in the book, to be changed.
    pub fn of(anchor: Option<Anchor>, units: UnitSystem) -> Self {
        let (source, typed) =
            anchor.as_ref().map_or_else(|| (words::TYPED.to_owned(), Typed::default()), |a| kept(a, units));
        let [latitude, longitude, accuracy] = typed.clone().map(RwSignal::new);
        let point = RwSignal::new(anchor.map(|a| a.point));
        Self { point, latitude, longitude, accuracy, whence: RwSignal::new((source, typed)) }
    }

    /// Shows a place of the book again, instead of what was entered.
    pub fn show(self, anchor: Anchor, units: UnitSystem) {
        let (source, typed) = kept(&anchor, units);
        self.fill(source, typed);
        self.point.try_set(Some(anchor.point));
    }

    fn fill(self, source: String, typed: Typed) {
        let fields = [self.latitude, self.longitude, self.accuracy];
        for (field, text) in fields.into_iter().zip(typed.clone()) {
            field.try_set(text);
        }
        self.whence.try_set((source, typed));
    }

    /// Makes whoever calls run again with every edit.
    pub fn track(self) {
        self.point.track();
        for field in [self.latitude, self.longitude, self.accuracy] {
            field.track();
        }
    }

    /// Takes what the phone told.
    pub fn told(self, position: &device::Averaged, units: UnitSystem) {
        let reach = words::accuracy(position.accuracy, units);
        let typed = [fixed(position.latitude, 7), fixed(position.longitude, 7), reach];
        self.fill(words::averaged(position.readings), typed);
    }

    /// Where the numbers come from. Tracked.
    pub fn source(self) -> String {
        let now = [self.latitude.get(), self.longitude.get(), self.accuracy.get()];
        self.whence.with(|(source, then)| source_of(source, then, &now))
    }

    /// The place, unless something is wrong with it.
    pub fn check(self, units: UnitSystem) -> Result<Anchor, &'static str> {
        let typed =
            [self.latitude.get_untracked(), self.longitude.get_untracked(), self.accuracy.get_untracked()];
        let source = self.whence.with_untracked(|(source, then)| source_of(source, then, &typed));
        check(self.point.get_untracked(), &typed, source, units)
    }
}

/// Where a place of the book comes from, and its fields.
fn kept(anchor: &Anchor, units: UnitSystem) -> (String, Typed) {
    let reach = anchor.accuracy.map(|reach| words::accuracy(reach, units)).unwrap_or_default();
    (anchor.source.clone(), [fixed(anchor.latitude, 7), fixed(anchor.longitude, 7), reach])
}

/// How good it is may be said anew without making another place of it.
fn source_of(source: &str, then: &Typed, now: &Typed) -> String {
    if then.first_chunk::<2>() == now.first_chunk::<2>() {
        source.to_owned()
    } else {
        words::TYPED.to_owned()
    }
}

fn check(
    point: Option<PointId>,
    [latitude, longitude, accuracy]: &Typed,
    source: String,
    units: UnitSystem,
) -> Result<Anchor, &'static str> {
    let within = |text: &str, limit: f64| number(text).filter(|degrees| degrees.abs() <= limit);
    let reach = |text: &str| read_length(text, BareUnit::from(units)).ok().filter(|r| *r > Length::ZERO);
    let accuracy = match accuracy.trim() {
        "" => None,
        text => Some(reach(text).ok_or(words::BAD_ACCURACY)?),
    };
    Ok(Anchor {
        point: point.ok_or(words::PICK_POINT)?,
        latitude: within(latitude, 90.0).ok_or(words::BAD_LATITUDE)?,
        longitude: within(longitude, 180.0).ok_or(words::BAD_LONGITUDE)?,
        source,
        accuracy,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_needs_a_point_two_sane_numbers_and_a_sane_radius() {
        use UnitSystem::{FeetInches, Metres};
        let metres = |m| Ok((-93.0, Some(Length::from_metres(m))));
        for (point, latitude, longitude, reach, units, expected) in [
            (None, "45", "-93", "", Metres, Err(words::PICK_POINT)),
            (Some("h"), "95", "-93", "", Metres, Err(words::BAD_LATITUDE)),
            (Some("h"), "", "-93", "", Metres, Err(words::BAD_LATITUDE)),
            (Some("h"), "45", "west", "", Metres, Err(words::BAD_LONGITUDE)),
            (Some("h"), "45", "-180.1", "", Metres, Err(words::BAD_LONGITUDE)),
            (Some("h"), "45", "-93", "good", Metres, Err(words::BAD_ACCURACY)),
            (Some("h"), "45", "-93", "0", Metres, Err(words::BAD_ACCURACY)),
            (Some("h"), "45", "-93", "", Metres, Ok((-93.0, None))),
            (Some("h"), "45°", "−93", "5", Metres, metres(5.0)),
            (Some("h"), "45", "-93", "5 m", FeetInches, metres(5.0)),
            (Some("h"), "45", "-93", "10 ft", Metres, metres(3.048)),
        ] {
            let typed = [latitude, longitude, reach].map(str::to_owned);
            let found = check(point.map(PointId::from), &typed, "typed".to_owned(), units);
            assert_eq!(found.map(|a| (a.longitude, a.accuracy)), expected, "{typed:?}");
        }
    }

    #[test]
    fn a_place_changed_by_hand_is_a_typed_one() {
        let typed = |latitude: &str, reach: &str| [latitude.to_owned(), "-93".to_owned(), reach.to_owned()];
        let then = typed("45", "5 m");
        assert_eq!(source_of("phone", &then, &then), "phone");
        assert_eq!(source_of("phone", &then, &typed("45", "8 m")), "phone");
        assert_eq!(source_of("phone", &then, &typed("45.1", "5 m")), words::TYPED);
    }
}
