//! Where photos stand on the live drawing, and which way they look.

use super::miniplan::wedge;
use crate::markup::live;
use crate::state::OpenSite;
use leptos::prelude::*;
use swingtie_core::plan::{PlacedPhoto, placed_photos};
use swingtie_core::units::{Angle, PlanPoint};

/// How far a view reaches on the drawing, in CSS pixels.
const REACH: f64 = 44.0;

/// The layer, in the drawing's own frame.
#[component]
pub fn Pins() -> impl IntoView {
    let site = OpenSite::here();
    live(move || {
        let placed = placed_photos(&site.fold.get().record, &site.plan.get());
        gathered(placed).into_iter().map(|place| sign(&place)).collect_view()
    })
}

/// Photos at one place. Their number stands a little below it, so that a point there can be seen.
struct Place {
    at: PlanPoint,
    numbers: Vec<usize>,
    views: Vec<Angle>,
}

fn gathered(photos: Vec<PlacedPhoto>) -> Vec<Place> {
    let mut places: Vec<Place> = Vec::new();
    for photo in photos {
        let Some(at) = photo.at else { continue };
        match places.iter_mut().find(|place| place.at == at) {
            Some(place) => {
                place.numbers.push(photo.number);
                place.views.extend(photo.facing);
            }
            None => places.push(Place {
                at,
                numbers: vec![photo.number],
                views: photo.facing.into_iter().collect(),
            }),
        }
    }
    places
}

/// `4`, `4, 7`, or the first and how many more.
fn label(numbers: &[usize]) -> String {
    match numbers {
        [first, _, _, rest @ ..] => format!("{first} +{}", rest.len() + 2),
        few => few.iter().map(ToString::to_string).collect::<Vec<_>>().join(", "),
    }
}

fn sign(place: &Place) -> AnyView {
    // On the glass y counts downwards.
    let wedge = |angle: &Angle| wedge(PlanPoint::default(), Angle::from_radians(-angle.radians()), REACH);
    let views: String = place.views.iter().map(wedge).collect();
    let label = label(&place.numbers);
    #[allow(clippy::cast_precision_loss, reason = "a short label")]
    let half = (label.chars().count() as f64 * 4.0 + 5.0).max(11.0) - 11.0;
    let pill = format!(
        "M{:.1} -11H{half:.1}A11 11 0 0 1 {half:.1} 11H{:.1}A11 11 0 0 1 {:.1} -11Z",
        -half, -half, -half
    );
    let (x, y) = place.at.metres();
    markup! {
        <g transform=format!("translate({x:.4} {y:.4})")><g class="upright photo-pin">
            <path d=views class="view-wedge" />
            <g transform="translate(0 20)">
                <path d=pill class="photo-pill" />
                <text y="5" text-anchor="middle" class="sign-number">{label}</text>
            </g>
        </g></g>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn photos_of_one_place_share_a_sign() {
        let place = PlanPoint::from_metres(1.0, 2.0);
        let photo = |number, at, facing| PlacedPhoto { entry: "e".into(), number, at, facing };
        let photos = vec![
            photo(1, Some(place), Some(Angle::RIGHT)),
            photo(2, None, Some(Angle::RIGHT)),
            photo(3, Some(place), None),
            photo(4, Some(PlanPoint::default()), None),
        ];
        let places = gathered(photos);
        let numbers: Vec<_> = places.iter().map(|place| place.numbers.clone()).collect();
        assert_eq!(numbers, [vec![1, 3], vec![4]]);
        assert_eq!(places.first().map(|place| place.views.len()), Some(1));
    }

    #[test]
    fn many_numbers_are_said_short() {
        assert_eq!(label(&[4]), "4");
        assert_eq!(label(&[4, 7]), "4, 7");
        assert_eq!(label(&[4, 7, 9, 12]), "4 +3");
    }
}
