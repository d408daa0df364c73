//! A height told with a tape: so much above another point, or above the ground right below.

use super::todo::answer;
use crate::notices::Notices;
use crate::screens::parts::{PointSelect, TextField, Wrong};
use crate::state::{OpenSite, saving};
use crate::words::questions as say;
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::record::{
    EntryId, LevelReading, LevelWith, PointId, Reading, Statement, Stood, UnitSystem,
};
use swingtie_core::units::Length;

/// Nobody holds a longer tape upright. Common practice, no source.
const LONGEST: Length = Length::from_metres(10.0);

/// What was measured, as it is written down.
#[derive(Clone, Debug, PartialEq)]
pub enum Told {
    /// Two readings of a tape held upright: on the lower point, then on the upper one, which belongs to its set-up.
    Readings([LevelReading; 2]),
    /// No point stands for the ground below: words.
    Words(String),
}

/// What a tape from below up to a point says; none where the number is none, or none of a tape.
#[must_use]
pub fn told(point: &PointId, below: Option<&PointId>, text: &str, units: UnitSystem) -> Option<Told> {
    let reading = Reading::read(text.trim(), units.into()).ok()?;
    if reading.value <= Length::ZERO || reading.value > LONGEST {
        return None;
    }
    let Some(below) = below else { return Some(Told::Words(say::above_ground(&reading.text))) };
    let nothing =
        Reading::read(if units == UnitSystem::Metres { "0 m" } else { "0\"" }, units.into()).ok()?;
    let said = |point: &PointId, reading, stood| {
        let (point, with) = (point.clone(), LevelWith::Tape);
        LevelReading { setup: None, point, reading, overhead: false, stood, with, sd: None }
    };
    // What hangs over another point is no ground.
    Some(Told::Readings([said(below, reading, None), said(point, nothing, Some(Stood::Above))]))
}

/// Asks for it.
#[component]
pub fn ByTape(question: EntryId, point: PointId) -> impl IntoView {
    let (site, notices) = (OpenSite::here(), Notices::here());
    let (above, below) = (point.clone(), RwSignal::new(None::<PointId>));
    let text = RwSignal::new(String::new());
    let wrong = RwSignal::new(None);
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let units = untrack(|| site.units());
        let said = told(&point, below.get_untracked().as_ref(), &text.get_untracked(), units);
        let Some(said) = said else { return wrong.set(Some(tr(say::NO_LENGTH).to_owned())) };
        wrong.set(None);
        let question = question.clone();
        saving(async move {
            match said {
                // It is named as the answer by who watches.
                Told::Readings([lower, upper]) => {
                    let setup = site.say(vec![Statement::Level(lower)]).await?.into_iter().next();
                    site.say(vec![Statement::Level(LevelReading { setup, ..upper })]).await.map(drop)
                }
                Told::Words(words) => {
                    site.say_apart(answer(&question, Vec::new(), words), None).await?;
                    notices.say(say::SAVED);
                    Ok(())
                }
            }
        });
    };
    markup! {
        <form class="form" on:submit=save>
            <PointSelect label=say::ABOVE_WHAT picked=below described=true without=above none=say::GROUND_BELOW />
            <TextField label=say::HOW_MUCH_ABOVE value=text />
            <p class="hint">{say::UPRIGHT}</p>
            <Wrong what=wrong.into() />
            <button type="submit" class="button button-main">{say::SAVE_ANSWER}</button>
        </form>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::book::{Book, Entry, fold};
    use swingtie_core::levels::heights;

    const FEET: UnitSystem = UnitSystem::FeetInches;

    /// By hand: a sill three feet two over the step it stands on.
    #[test]
    fn a_tape_from_the_step_up_to_the_sill_gives_the_sill_its_height() {
        let (sill, step) = ("sill".into(), "step".into());
        let Some(Told::Readings([lower, upper])) = told(&sill, Some(&step), "3' 2\"", FEET) else { panic!() };
        let mut book = Book::new();
        assert_eq!((lower.stood, upper.stood), (None, Some(Stood::Above)));
        let upper = LevelReading { setup: Some("lower".into()), ..upper };
        for (id, clock, said) in [("lower", 1, lower), ("upper", 2, upper)] {
            book.add(Entry::new(id.into(), clock, 0, "a".into(), Statement::Level(said)).unwrap()).unwrap();
        }
        let levels = heights(&fold(&book).record);
        let height = |id| levels.points.get(&PointId::from(id)).unwrap().above.feet();
        assert!((height("sill") - height("step") - 38.0 / 12.0).abs() < 1e-9);
    }

    #[test]
    fn above_the_ground_is_told_in_words_and_no_length_in_none() {
        let sill = "sill".into();
        let words = Some(Told::Words(say::above_ground("3' 2\"")));
        assert_eq!(told(&sill, None, " 3' 2\" ", FEET), words);
        for wrong in ["", "high", "-1'", "0", "100'"] {
            assert_eq!(told(&sill, None, wrong, FEET), None, "{wrong}");
        }
    }
}
