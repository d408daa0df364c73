//! Another point than the anchor's was entered in its form: one place would silently take that of another.

use super::draft::Draft;
use crate::notices::Notices;
use crate::state::{OpenSite, saving};
use crate::words;
use leptos::prelude::*;
use swingtie_core::record::{Anchor, Record, Statement};

/// Whether another point than this one's has its place on the map.
pub(super) fn point(site: OpenSite, entered: &Anchor) -> bool {
    site.fold.with_untracked(|fold| differs(&fold.record, entered))
}

fn differs(record: &Record, entered: &Anchor) -> bool {
    record.anchor.as_ref().is_some_and(|anchor| anchor.point != entered.point)
}

/// What is asked, and both answers, in words.
fn asks(record: &Record, entered: &Anchor) -> [String; 3] {
    let first = record.anchor.as_ref().map_or("", |anchor| record.label(&anchor.point));
    let new = record.label(&entered.point);
    let second = record.second_anchor().filter(|second| second.point != entered.point);
    let second = second.map(|second| record.label(&second.point));
    [words::other_point(first, new, second), words::replace_point(first), words::keep_point(first, new)]
}

/// Asks which of both is meant; nothing is saved before one is tapped.
#[component]
pub(super) fn OtherPoint(
    anchor: Anchor,
    draft: Draft,
    asked: RwSignal<Option<Anchor>>,
    second: RwSignal<bool>,
) -> impl IntoView {
    let (site, notices) = (OpenSite::here(), Notices::here());
    let [question, replace, keep] = site.fold.with_untracked(|fold| asks(&fold.record, &anchor));
    let say = move |statement, kept: bool| {
        asked.set(None);
        saving(async move {
            site.say(vec![statement]).await?;
            let record = site.fold.with_untracked(|fold| fold.record.clone());
            if let (true, Some(first)) = (kept, record.anchor) {
                draft.show(first, record.site.units);
                // Its fields are filled anew when they open.
                second.try_set(false);
                leptos::task::tick().await;
                second.try_set(true);
            }
            notices.say(super::saved(site, kept));
            Ok(())
        });
    };
    let (first, other) = (anchor.clone(), anchor);
    markup! {
        <p class="wrong" role="alert">{question}</p>
        <button type="button" class="button button-wide" on:click=move |_| say(Statement::Anchor(first.clone()), false)>
            {replace}
        </button>
        <button type="button" class="button button-wide" on:click=move |_| say(Statement::SecondAnchor(other.clone()), true)>
            {keep}
        </button>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::record::{Point, Recorded};

    fn at(point: &str) -> Anchor {
        let (latitude, longitude) = (40.0, -105.0);
        Anchor { point: point.into(), latitude, longitude, source: String::new(), accuracy: None }
    }

    #[test]
    fn another_point_than_the_saved_one_is_asked_about_first() {
        let points = ["H1", "F3", "G2"];
        let points = points.map(|label| Point { id: label.into(), label: label.into(), note: String::new() });
        let mut record = Record { points: points.into(), ..Record::default() };
        assert!(!differs(&record, &at("F3")), "nothing to replace");
        record.anchor = Some(at("H1"));
        assert!(differs(&record, &at("F3")) && !differs(&record, &at("H1")));
        let [question, replace, keep] = asks(&record, &at("F3"));
        assert_eq!((replace.as_str(), keep.as_str()), ("Replace H1", "Keep H1, make F3 the second point"));
        assert!(!question.contains("G2"), "{question}");
        let entry = "2".into();
        record.second_anchors.push(Recorded { entry, author: "a".into(), at_ms: 0, what: at("G2") });
        assert!(asks(&record, &at("F3"))[0].contains("G2"), "the second point would go");
        assert!(!asks(&record, &at("G2"))[0].contains("would no longer"), "it stays the second");
    }
}
