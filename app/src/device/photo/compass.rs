//! Which way the camera looks, by the phone's own needle.

use crate::device::sleep;
use leptos::prelude::window;
use std::cell::RefCell;
use std::rc::Rc;
use swingtie_core::units::{Angle, float};
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::{Closure, JsValue};
use web_sys::Event;

/// How long the phone is listened to, in tenths of a second; readings once begun are gathered for one.
const LISTEN_TENTHS: usize = 30;
const GATHER_TENTHS: usize = 10;
/// Where the camera looks steeper up or down than this, its compass direction means little: the
/// horizontal part of a line of sight of one (a cosine, that of 66°).
const LEAST_LEVEL: f64 = 0.4;

/// Listens to the phone's needle for a second and gives the direction the back camera looks, clockwise
/// from magnetic north. None where no phone tells, or where it is held flat.
pub async fn look_through_compass() -> Option<Angle> {
    let told = Rc::new(RefCell::new(Vec::new()));
    let into = Rc::clone(&told);
    let heard = Closure::<dyn FnMut(Event)>::new(move |event: Event| {
        let number = |name: &str| js_sys::Reflect::get(&event, &JsValue::from_str(name)).ok()?.as_f64();
        if let (Some(alpha), Some(beta), Some(gamma)) = (number("alpha"), number("beta"), number("gamma")) {
            into.borrow_mut().extend(line_of_sight(alpha, beta, gamma));
        }
    });
    let function = heard.as_ref().unchecked_ref();
    window().add_event_listener_with_callback("deviceorientationabsolute", function).ok()?;
    let (mut waited, mut gathered) = (0, 0);
    while waited < LISTEN_TENTHS && gathered < GATHER_TENTHS {
        sleep(100).await;
        waited += 1;
        gathered += usize::from(!told.borrow().is_empty());
    }
    let _ = window().remove_event_listener_with_callback("deviceorientationabsolute", function);
    let told = told.borrow();
    mean(&told)
}

/// East and north part of the back camera's line of sight; none where it is too steep. Angles in degrees
/// as the event tells them.
///
/// W3C Device Orientation and Motion, "Worked example: compass heading": the vector out of the back of
/// the device, turned by Z-X'-Y'' rotations.
fn line_of_sight(alpha: f64, beta: f64, gamma: f64) -> Option<(f64, f64)> {
    let [a, b, c] = [alpha, beta, gamma].map(|degrees| Angle::from_degrees(degrees).radians());
    let (sin_a, cos_a) = (float::sin(a), float::cos(a));
    let (sin_b, sin_c, cos_c) = (float::sin(b), float::sin(c), float::cos(c));
    let east = -cos_a * sin_c - sin_a * sin_b * cos_c;
    let north = -sin_a * sin_c + cos_a * sin_b * cos_c;
    (float::hypot(east, north) >= LEAST_LEVEL).then_some((east, north))
}

/// The direction of the sum, clockwise from north.
fn mean(told: &[(f64, f64)]) -> Option<Angle> {
    let (east, north) = told.iter().fold((0.0, 0.0), |sum, one| (sum.0 + one.0, sum.1 + one.1));
    let bearing = Angle::from_radians(float::atan2(east, north)).degrees().rem_euclid(360.0);
    (!told.is_empty()).then(|| Angle::from_degrees(bearing))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bearing(alpha: f64, beta: f64, gamma: f64) -> Option<f64> {
        mean(&[line_of_sight(alpha, beta, gamma)?]).map(Angle::degrees)
    }

    #[test]
    fn an_upright_phone_looks_against_the_turn_of_its_axis() {
        // W3C Device Orientation and Motion: a device held upright, beta 90° and gamma 0°, faces
        // 360° - alpha.
        for alpha in [10.0, 90.0, 200.0, 359.0] {
            let found = bearing(alpha, 90.0, 0.0).unwrap();
            assert!((found - (360.0 - alpha)).abs() < 1e-9, "{alpha}: {found}");
        }
    }

    #[test]
    fn a_phone_on_its_back_looks_nowhere() {
        assert_eq!(bearing(30.0, 0.0, 0.0), None);
        assert_eq!(mean(&[]), None);
    }

    #[test]
    fn readings_on_both_sides_of_north_average_to_north() {
        let told = [line_of_sight(5.0, 80.0, 0.0).unwrap(), line_of_sight(355.0, 80.0, 0.0).unwrap()];
        let found = mean(&told).unwrap().degrees();
        assert!(found.min(360.0 - found) < 1e-9, "{found}");
    }
}
