//! Where the phone is, averaged over some seconds.

use super::sleep;
use leptos::prelude::window;
use std::cell::RefCell;
use std::rc::Rc;
use swingtie_core::units::Length;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::{Closure, JsValue};
use web_sys::{Position, PositionError, PositionOptions};

/// An averaged position (WGS 84).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Averaged {
    /// Degrees north.
    pub latitude: f64,
    /// Degrees east.
    pub longitude: f64,
    /// The accuracy the phone tells for its best reading, three metres at best: a radius that holds the true place in 95
    /// of 100 cases. Averaging a few seconds does not better it: a phone's error hardly changes in that time.
    pub accuracy: Length,
    /// How many readings were averaged.
    pub readings: usize,
}

/// One position as told.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Told {
    latitude: f64,
    longitude: f64,
    accuracy_metres: f64,
}

const LISTEN_MS: i32 = 8000;

/// Nobody's phone is better than this without a second receiver, whatever it says (common practice, no source).
const BEST_METRES: f64 = 3.0;

/// Listens to the phone's position for some seconds and averages what it tells.
///
/// # Errors
/// The browser's words when it tells nothing: not allowed, no signal, no receiver.
pub async fn average_position() -> Result<Averaged, String> {
    let geolocation = window().navigator().geolocation().map_err(|_| say!("this device has none"))?;
    let told = Rc::new(RefCell::new(Vec::new()));
    let refused = Rc::new(RefCell::new(None));
    let (told_in, refused_in) = (Rc::clone(&told), Rc::clone(&refused));
    let on_position = Closure::<dyn FnMut(Position)>::new(move |position: Position| {
        let at = position.coords();
        told_in.borrow_mut().push(Told {
            latitude: at.latitude(),
            longitude: at.longitude(),
            accuracy_metres: at.accuracy(),
        });
    });
    let on_error = Closure::<dyn FnMut(PositionError)>::new(move |error: PositionError| {
        *refused_in.borrow_mut() = Some(error.message());
    });
    let options = PositionOptions::new();
    options.set_enable_high_accuracy(true);
    let watch = geolocation
        .watch_position_with_error_callback_and_options(
            on_position.as_ref().unchecked_ref(),
            Some(on_error.as_ref().unchecked_ref()),
            &options,
        )
        .map_err(|error: JsValue| format!("{error:?}"))?;
    sleep(LISTEN_MS).await;
    geolocation.clear_watch(watch);
    let refusal = refused.borrow_mut().take();
    average(&told.borrow()).ok_or_else(|| refusal.unwrap_or_else(|| say!("no position came in time")))
}

/// The mean, each reading weighted by its accuracy. Fit for places a few hundred metres apart and
/// away from the date line, which is all a yard needs.
fn average(told: &[Told]) -> Option<Averaged> {
    let first = told.first()?;
    let mut sums = (0.0, 0.0, 0.0);
    for one in told {
        let weight = 1.0 / (one.accuracy_metres * one.accuracy_metres).max(0.01);
        sums.0 += weight;
        sums.1 += weight * (one.latitude - first.latitude);
        sums.2 += weight * (one.longitude - first.longitude);
    }
    let best = told.iter().map(|one| one.accuracy_metres).fold(f64::INFINITY, f64::min);
    Some(Averaged {
        latitude: first.latitude + sums.1 / sums.0,
        longitude: first.longitude + sums.2 / sums.0,
        accuracy: Length::from_metres(best.max(BEST_METRES)),
        readings: told.len(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sharp_reading_outweighs_a_rough_one() {
        let rough = Told { latitude: 45.0, longitude: -93.0, accuracy_metres: 100.0 };
        let sharp = Told { latitude: 45.001, longitude: -93.002, accuracy_metres: 5.0 };
        let mean = average(&[rough, sharp]).unwrap();
        assert!((mean.latitude - 45.001).abs() < 1e-5, "{mean:?}");
        assert!((mean.longitude + 93.002).abs() < 1e-5, "{mean:?}");
        assert_eq!(mean.accuracy, Length::from_metres(5.0));
        let proud = Told { accuracy_metres: 0.2, ..sharp };
        assert_eq!(average(&[proud, proud]).unwrap().accuracy, Length::from_metres(3.0));
        assert_eq!(average(&[]), None);
    }
}
