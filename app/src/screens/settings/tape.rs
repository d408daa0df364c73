//! What lengths are usually taken with, and how close it reads.

use crate::capture::INSTRUMENTS;
use crate::device;
use crate::markup::{derived, effect, live};
use crate::screens::parts::{TextField, chips};
use crate::words;
use crate::words::settings as said;
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::record::{How, UnitSystem};
use swingtie_core::units::format::fixed;
use swingtie_core::units::{BareUnit, Length, read_length};

const TAPE: &str = "tape";
/// The least and the most that is taken for how close an instrument reads, in metres: beyond, it is a slip of
/// the hand. Common practice, no source.
const TAKEN: (f64, f64) = (0.0005, 3.0);

/// How lengths are usually taken on this device; kept as the book writes it.
pub fn usual_how() -> How {
    device::remembered(TAPE).and_then(|kept| serde_json::from_str(&kept).ok()).unwrap_or_default()
}

fn keep(how: &How) {
    // It is plain data, which can always be written.
    if let Ok(text) = serde_json::to_string(how) {
        device::remember(TAPE, &text);
    }
}

/// Reads how close an instrument reads; nothing typed is nothing said, and no mistake.
fn read(text: &str, units: UnitSystem) -> Result<Option<Length>, ()> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    let bare = if units == UnitSystem::Metres { BareUnit::Millimetres } else { BareUnit::Inches };
    let read = read_length(text, bare).ok().filter(|sd| (TAKEN.0..=TAKEN.1).contains(&sd.metres()));
    read.map(Some).ok_or(())
}

/// As it is typed: in inches or millimetres.
fn written(sd: Length, units: UnitSystem) -> String {
    let (value, decimals) = match units {
        UnitSystem::Metres => (sd.metres() * 1000.0, 1),
        UnitSystem::FeetInches | UnitSystem::DecimalFeet => (sd.inches(), 3),
    };
    let text = fixed(value, decimals);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// The instrument of a site's first reading.
#[component]
pub fn TapeSetting(units: RwSignal<UnitSystem>) -> impl IntoView {
    let how = RwSignal::new(usual_how());
    let typed = RwSignal::new(String::new());
    // Typed in other units it would be another figure.
    effect(move || {
        let units = units.get();
        typed.set(how.with_untracked(|how| how.sd).map(|sd| written(sd, units)).unwrap_or_default());
    });
    effect(move || {
        let text = typed.get();
        let units = units.get_untracked();
        let kept = how.with_untracked(|how| how.sd);
        // What is only looked at stays as exact as it was.
        if kept.map(|sd| written(sd, units)).unwrap_or_default() != text {
            how.update(|how| how.sd = read(&text, units).ok().flatten());
            how.with_untracked(keep);
        }
    });
    let choose = move |instrument| {
        // The figure was of the instrument before.
        how.set(How { instrument, ..How::default() });
        how.with_untracked(keep);
        typed.set(String::new());
    };
    let options = INSTRUMENTS.map(|one| (one, tr(words::capture::instrument(one)).to_owned())).to_vec();
    let hint = derived(move || how.with(|how| said::closeness_hint(how, units.get())));
    let wrong = move || {
        let units = units.get();
        let metric = units == UnitSystem::Metres;
        let why = if metric { said::CLOSENESS_WRONG_METRIC } else { said::CLOSENESS_WRONG };
        typed
            .with(|text| read(text, units))
            .is_err()
            .then(|| markup! { <p class="wrong" role="status">{why}</p> })
    };
    markup! {
        <div class="setting">
            {chips(said::USUAL_TAPE, options, move || Some(how.with(|how| how.instrument)), choose)}
            <p class="hint">{said::USUAL_TAPE_HINT}</p>
        </div>
        <div class="setting">
            <TextField label=said::CLOSENESS value=typed />
            {live(wrong)}
            <p class="hint">{move || hint.get()}</p>
        </div>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // An inch is 25.4 mm exactly (international yard and pound agreement of 1959).
    #[test]
    fn how_close_it_reads_is_typed_in_inches_or_millimetres() {
        let metres = |text: &str, units| read(text, units).unwrap().unwrap().metres();
        assert!((metres("1/4", UnitSystem::FeetInches) - 0.00635).abs() < 1e-12);
        assert!((metres("0.5", UnitSystem::DecimalFeet) - 0.0127).abs() < 1e-12);
        assert!((metres("5", UnitSystem::Metres) - 0.005).abs() < 1e-12);
        assert_eq!(read("  ", UnitSystem::Metres), Ok(None));
        for text in ["0", "-3", "close", "9000"] {
            assert_eq!(read(text, UnitSystem::Metres), Err(()), "{text}");
        }
        assert_eq!(written(Length::from_inches(0.25), UnitSystem::FeetInches), "0.25");
        assert_eq!(written(Length::from_metres(0.005), UnitSystem::Metres), "5");
    }

    #[test]
    fn how_lengths_are_taken_comes_back_as_it_was_kept() {
        let how = How { sd: Some(Length::from_metres(0.002)), ..How::default() };
        let text = serde_json::to_string(&how).unwrap();
        assert_eq!(serde_json::from_str::<How>(&text).unwrap(), how);
    }
}
