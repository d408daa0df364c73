//! Asking: by hand, or what would make the plan surer.

use crate::capture::Capture;
use crate::device;
use crate::drawing::place;
use crate::markup::{derived, live, memo, shown};
use crate::notices::Notices;
use crate::screens::drafts::Drafts;
use crate::screens::parts::{PointSelect, TextArea, Wrong, chips};
use crate::screens::photos::{MiniPlan, Pin, PinEditor, Thumbnail};
use crate::state::{OpenSite, saving};
use crate::store::SiteId;
use crate::words::{self, questions as say};
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::network::Advice;
use swingtie_core::record::{AskFor, Asks, At, EntryId, Note, PhotoId, PointId, QUESTION, Statement};
use swingtie_core::units::PlanPoint;

/// What is entered so far. It outlives the screen.
#[derive(Clone, Copy)]
pub struct Draft {
    wants: RwSignal<AskFor>,
    /// The point of a height, or where a tape starts.
    from: RwSignal<Option<PointId>>,
    /// Where it ends.
    to: RwSignal<Option<PointId>>,
    pin: RwSignal<Pin>,
    text: RwSignal<String>,
}

impl Draft {
    /// An empty one; its words are remembered over a reload.
    pub fn new(site: &SiteId) -> Self {
        let key = format!("question {site}");
        let text = RwSignal::new(device::remembered(&key).unwrap_or_default());
        crate::markup::effect(move || text.with(|text| device::remember(&key, text)));
        Self {
            wants: RwSignal::new(AskFor::Tape),
            from: RwSignal::new(None),
            to: RwSignal::new(None),
            pin: RwSignal::new(Pin::default()),
            text,
        }
    }

    /// Begins one about an entry: a photo, a thing.
    pub fn about(self, entry: EntryId, at: At) {
        self.wants.set(AskFor::Words);
        self.pin.set(Pin { at, of: Some(entry) });
    }

    /// Begins one about a point, whatever is asked of it.
    pub fn at_point(self, point: PointId) {
        self.from.set(Some(point.clone()));
        self.to.set(None);
        self.pin.set(Pin { at: At::Points(vec![point]), of: None });
    }

    /// The photo it is about, and its number. Tracked.
    fn photo(self) -> Option<(usize, PhotoId)> {
        let of = self.pin.get().of?;
        photo_of(OpenSite::here(), &of)
    }

    /// What was taped between its two points. Tracked.
    fn taped(self) -> Option<String> {
        let ends = [self.from.get()?, self.to.get()?];
        let plan = OpenSite::here().plan.get();
        let between = |from: &PointId, to: &PointId| from != to && ends.contains(from) && ends.contains(to);
        let readings = plan.taped.iter().filter(|taped| between(&taped.from, &taped.to));
        let readings: Vec<String> = readings.map(|taped| taped.text.clone()).collect();
        (!readings.is_empty()).then(|| say::taped_before(&readings))
    }

    fn clear(self) {
        self.from.set(None);
        self.to.set(None);
        self.pin.set(Pin::default());
        self.text.set(String::new());
    }

    fn said(self) -> Result<Statement, &'static str> {
        let (from, to) = (self.from.get_untracked(), self.to.get_untracked());
        let wants = self.wants.get_untracked();
        let text = self.text.get_untracked().trim().to_owned();
        let pin = self.pin.get_untracked();
        let (at, of) = match (wants, from, to) {
            (AskFor::Tape, Some(from), Some(to)) if from != to => (At::Points(vec![from, to]), None),
            (AskFor::Tape, ..) => return Err(say::TWO_POINTS),
            (AskFor::Height, Some(point), _) => (At::Points(vec![point]), None),
            (AskFor::Height, None, _) => return Err(say::ONE_POINT),
            (AskFor::Words, ..) if text.is_empty() => return Err(say::TEXT_MISSING),
            (AskFor::Photo | AskFor::Words, ..) => (pin.at, pin.of),
        };
        Ok(question(wants, at, of, text))
    }
}

/// The photo this entry is, and its number. Tracked.
pub fn photo_of(site: OpenSite, entry: &EntryId) -> Option<(usize, PhotoId)> {
    site.fold.with(|fold| {
        let mut photos = (1..).zip(&fold.record.photos);
        photos.find(|(_, photo)| photo.entry == *entry).map(|(number, photo)| (number, photo.what.id.clone()))
    })
}

fn question(wants: AskFor, at: At, of: Option<EntryId>, text: String) -> Statement {
    let asks = Some(Asks { kind: wants.key().to_owned(), of });
    let (topic, when) = (QUESTION.to_owned(), device::this_minute());
    Statement::Note(Note { topic, at, text, when, asks, ..Note::default() }.into())
}

fn ask(statement: Statement, then: impl FnOnce() + 'static) {
    let (site, notices) = (OpenSite::here(), Notices::here());
    saving(async move {
        site.say_apart(statement, None).await?;
        then();
        notices.say(say::ASKED);
        Ok(())
    });
}

/// The points, picked on the plan in place of the lists.
#[component]
fn OnPlan(draft: Draft) -> impl IntoView {
    let plan = OpenSite::here().plan;
    let last = move || match draft.wants.get() {
        AskFor::Tape => draft.to.get().or_else(|| draft.from.get()),
        _ => draft.from.get(),
    };
    let at = memo(move || place(&plan.get(), &last()?));
    let pick = move |point: PointId| {
        let (from, to) = (draft.from.get_untracked(), draft.to.get_untracked());
        let (from, to) = picked(draft.wants.get_untracked(), from, to, point);
        draft.from.set(from);
        draft.to.set(to);
    };
    let tapped = move |(at, _): (PlanPoint, PlanPoint)| {
        let plan = plan.get_untracked();
        let apart = |point: &&swingtie_core::plan::PlacedPoint| point.at.distance(at).metres();
        let nearest = plan.points.iter().min_by(|a, b| apart(a).total_cmp(&apart(b)));
        if let Some(nearest) = nearest {
            pick(nearest.id.clone());
        }
    };
    markup! {
        <p class="hint">{say::ON_PLAN}</p>
        <MiniPlan at=at facing=derived(|| None) role="application" label=say::PLAN_LABEL value=derived(|| None)
            on_point=tapped on_key=|_| false />
    }
}

/// Both ends after a point was tapped: a finger that stays or goes on to the next point gives the other end, a tap when
/// both are there begins anew.
fn picked(
    wants: AskFor,
    from: Option<PointId>,
    to: Option<PointId>,
    point: PointId,
) -> (Option<PointId>, Option<PointId>) {
    match (wants, from, to) {
        (AskFor::Tape, Some(from), None) if from != point => (Some(from), Some(point)),
        (AskFor::Tape, Some(from), Some(to)) if to == point => (Some(from), Some(to)),
        (AskFor::Tape, ..) => (Some(point), None),
        (_, _, to) => (Some(point), to),
    }
}

#[component]
pub fn AskForm() -> impl IntoView {
    let draft = Drafts::here().question;
    let wrong = RwSignal::new(None);
    let kinds = AskFor::ALL.into_iter().map(|ask| (ask, tr(say::kind(ask)).to_owned())).collect();
    let choose = move |wants| {
        draft.wants.set(wants);
        wrong.set(None);
    };
    // Only another photo makes the form anew: what is chosen in it stays.
    let photo = memo(move || draft.photo());
    let about = move || match draft.wants.get() {
        AskFor::Tape => markup! {
            <PointSelect label=say::FROM picked=draft.from described=true />
            <PointSelect label=say::TO picked=draft.to described=true />
            {live(move || draft.taped().map(|before| markup! { <p class="hint" role="status">{before}</p> }))}
            <OnPlan draft />
        },
        AskFor::Height => markup! {
            <PointSelect label=say::WHICH_POINT picked=draft.from described=true />
            <OnPlan draft />
        },
        AskFor::Photo | AskFor::Words => match photo.get() {
            Some((number, id)) => markup! {
                <p><strong>{words::photo_number(number)}</strong></p>
                <Thumbnail id alt=say::ITS_PHOTO />
                <button type="button" class="button" on:click=move |_| draft.pin.set(Pin::default())>
                    {say::NOT_ABOUT_IT}
                </button>
            },
            None => markup! { <PinEditor pin=draft.pin /> },
        },
    };
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        match draft.said() {
            Ok(statement) => {
                wrong.set(None);
                ask(statement, move || draft.clear());
            }
            Err(why) => wrong.set(Some(tr(why).to_owned())),
        }
    };
    markup! {
        <form class="form" on:submit=save>
            <p class="hint">{say::ASK_HINT}</p>
            {chips(say::KIND, kinds, move || Some(draft.wants.get()), choose)}
            {live(about)}
            <TextArea label=say::SAY_MORE value=draft.text />
            <Wrong what=wrong.into() />
            <button type="submit" class="button button-main button-wide">{say::SAVE}</button>
        </form>
    }
}

/// The tapes that would make the plan surer, each to be asked for with one tap.
#[component]
pub fn Proposed() -> impl IntoView {
    let site = OpenSite::here();
    let advising = Capture::here().advising;
    advising.show();
    let best = memo(move || advising.all());
    let asked = super::asked_here();
    let left = move || {
        let is_asked = |advice: &Advice| {
            asked.with(|asked| {
                asked.iter().filter(|one| one.is_open()).any(|one| {
                    let points = one.points();
                    points.contains(&advice.from) && points.contains(&advice.to)
                })
            })
        };
        best.get().into_iter().filter(|advice| !is_asked(advice)).collect::<Vec<_>>()
    };
    let row = move |advice: Advice| {
        let fold = site.fold.get_untracked();
        let (tape, does) =
            (words::advice_tape(&advice, &fold.record), words::advice_does(&advice, &fold.record));
        let name = say::named(say::ASK_THIS, &tape);
        let ask_it = move |_| {
            let at = At::Points(vec![advice.from.clone(), advice.to.clone()]);
            ask(question(AskFor::Tape, at, None, String::new()), || {});
        };
        markup! {
            <li class="todo">
                <p><strong>{tape}</strong>" "{does}</p>
                <button type="button" class="button" aria-label=name on:click=ask_it>{say::ASK_THIS}</button>
            </li>
        }
    };
    let list = move || left().into_iter().map(row).collect_view();
    shown(
        move || !left().is_empty(),
        move || {
            markup! {
                <h2>{say::PROPOSED}</h2>
                <p class="hint">{say::PROPOSED_HINT}</p>
                <ol class="todos">{live(list)}</ol>
            }
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tap_gives_one_end_the_next_the_other_and_a_third_begins_anew() {
        let id = |label: &str| Some(PointId::from(label));
        let tap = |ends: (Option<PointId>, Option<PointId>), point: &str| {
            picked(AskFor::Tape, ends.0, ends.1, point.into())
        };
        let one = tap((None, None), "A");
        assert_eq!(one, (id("A"), None));
        assert_eq!(tap(one.clone(), "A"), one, "the finger only trembles");
        let two = tap(one, "B");
        assert_eq!(two, (id("A"), id("B")));
        assert_eq!(tap(two.clone(), "B"), two);
        assert_eq!(tap(two, "C"), (id("C"), None));
        assert_eq!(picked(AskFor::Height, id("A"), None, "B".into()), (id("B"), None), "one only");
    }
}
