//! The slips of a feature and of a utility mark under way.

use super::chooser::{Chooser, Chosen};
use super::idle::SlipHead;
use super::say::new_point;
use super::state::{Capture, Panel};
use super::thing::{Mark, Thing};
use crate::markup::{derived, live, memo, shown};
use crate::screens::{Answers, Asked, AskedMore, asked_rows, more, put};
use crate::state::{SaveError, new_point_id};
use crate::words::{asked as said, capture as words};
use leptos::prelude::*;
use swingtie_core::language::tr;
use swingtie_core::record::{
    EntryId, Fate, Form, Geometry, Kind, MARK_FORM, MarkColour, PointId, Row, asked, groups, usually_told,
};
use swingtie_core::units::PlanPoint;

impl Capture {
    /// Opens a thing of the book, to be written anew. Tells whether it is there.
    pub fn edit_thing(self, entry: &EntryId) -> bool {
        let fold = self.site.fold.get_untracked();
        let Some(found) = fold.record.features.iter().find(|f| f.entry == *entry) else { return false };
        self.open(Panel::Thing);
        self.thing.set(Thing::of(entry.clone(), &found.what));
        true
    }

    /// Opens a utility mark of the book, to be written anew. Tells whether it is there.
    pub fn edit_mark(self, entry: &EntryId) -> bool {
        let fold = self.site.fold.get_untracked();
        let Some(found) = fold.record.marks.iter().find(|m| m.entry == *entry) else { return false };
        self.open(Panel::Mark);
        self.mark.set(Mark::of(entry.clone(), &found.what));
        true
    }

    /// Starts a tape to a point that is new.
    pub fn tape_new(self) {
        self.start(super::draft::Kind::Tie);
        self.put_new(None);
    }

    /// Makes a point where the plan was tapped, and names it.
    ///
    /// # Errors
    /// When it is not stored.
    pub async fn new_point_at(self, at: PlanPoint) -> Result<PointId, SaveError> {
        let label = untrack(|| self.next_label());
        let id = new_point_id();
        let statements = new_point(&id, &label, Some(self.sketched(at))).collect();
        self.site.say(statements).await?;
        self.series.try_set(Some(label));
        Ok(id)
    }

    /// Picks what the thing under way is.
    fn pick_thing(self, kind: &'static Kind) {
        self.letters(kind);
        self.trouble.set(None);
        self.thing.update(|thing| thing.of_kind(kind, usually_told(kind.key)));
    }
}

/// A feature: what it is, its points, and the little a designer needs to know.
#[component]
pub fn ThingSlip() -> impl IntoView {
    let capture = Capture::here();
    let kind = memo(move || capture.thing.with(|thing| thing.kind.map(|k| k.key)));
    live(move || match kind.get().and_then(swingtie_core::record::kind) {
        None => markup! { <SlipHead title=say!("What is it?") /> <Catalogue /> },
        Some(kind) => markup! { <SlipHead title=tr(kind.name).to_owned() /> <ThingBody kind=kind /> },
    })
}

#[component]
fn Catalogue() -> impl IntoView {
    let capture = Capture::here();
    let wanted = RwSignal::new(String::new());
    let chip = move |kind: &'static Kind| {
        markup! { <button type="button" class="chip" on:click=move |_| capture.pick_thing(kind)>{kind.name}</button> }
    };
    let chips = move || {
        let wanted = wanted.get().to_ascii_lowercase();
        let fits = |kind: &&'static Kind| kind.name.to_ascii_lowercase().contains(wanted.trim());
        groups()
            .filter_map(|(name, kinds)| {
                let kinds: Vec<_> = kinds.into_iter().filter(fits).map(chip).collect();
                let some = !kinds.is_empty();
                let group = || markup! {
                    <div class="kind-group" role="group" aria-label=name><h3>{name}</h3><div class="chips">{kinds}</div></div>
                };
                some.then(group)
            })
            .collect_view()
    };
    markup! {
        <input type="search" class="search" aria-label="Find a kind" placeholder="find a kind" autocomplete="off"
            prop:value=move || wanted.get() on:input=move |e| wanted.set(event_target_value(&e)) />
        <div class="kind-groups" role="group" aria-label="kinds">{live(chips)}</div>
    }
}

#[component]
fn ThingBody(kind: &'static Kind) -> impl IntoView {
    let capture = Capture::here();
    let (open, wide) = (RwSignal::new(None::<&'static Row>), RwSignal::new(false));
    let form = asked(kind.key);
    let answers = Answers {
        all: derived(move || capture.thing.with(|t| t.attributes.clone())),
        put: Callback::new(move |(key, answer)| {
            capture.thing.update(|t| put(&mut t.attributes, key, answer))
        }),
    };
    let least = kind.geometry.least_points();
    markup! {
        {shown(move || open.get().is_none(), move || markup! {
            <Through count=move || capture.thing.with(|t| t.points.len()) least=least />
            <Chooser chosen=into_thing(capture) pressed=derived(move || capture.thing.with(|t| t.points.clone())) />
        })}
        <Asked form=form answers=answers open=open />
        {shown(move || open.get().is_none(), move || markup! {
            <ThingMore kind=kind form=form answers=answers open=open wide=wide />
            <div class="foot">
                <button type="button" on:click=move |_| capture.thing.update(|t| t.kind = None)>"Another kind"</button>
                <button type="button" class="main" on:click=move |_| capture.save_thing()>"Save thing"</button>
            </div>
        })}
    }
}

/// What is asked seldom of a thing, and of every thing.
#[component]
fn ThingMore(
    kind: &'static Kind,
    form: Form,
    answers: Answers,
    open: RwSignal<Option<&'static Row>>,
    wide: RwSignal<bool>,
) -> impl IntoView {
    let capture = Capture::here();
    let bends = matches!(kind.geometry, Geometry::Line | Geometry::Area);
    let curved = move || capture.thing.with(|t| t.curved).to_string();
    let body = markup! {
        <div class="asked-more">
            {asked_rows(form.more, answers, open)}
            <Fates />
            {bends.then(|| markup! {
                <button type="button" class="chip" aria-pressed=curved
                    on:click=move |_| capture.thing.update(|t| t.curved = !t.curved)>{said::CURVED}</button>
            })}
            <div class="texts">
                <input type="text" aria-label="Name" placeholder="name, e.g. maple" autocomplete="off"
                    prop:value=move || capture.thing.with(|t| t.name.clone())
                    on:input=move |e| capture.thing.update(|t| t.name = event_target_value(&e)) />
                <input type="text" aria-label="Note" placeholder="note" autocomplete="off"
                    prop:value=move || capture.thing.with(|t| t.note.clone())
                    on:input=move |e| capture.thing.update(|t| t.note = event_target_value(&e)) />
            </div>
        </div>
    };
    more(said::MORE_OF_THING, wide, body)
}

/// The points so far and how many are needed, in words.
#[component]
fn Through(#[prop(into)] count: Signal<usize>, least: usize) -> impl IntoView {
    let capture = Capture::here();
    let labels = move || {
        let fold = capture.site.fold.get();
        let points = if capture.panel.get() == super::state::Panel::Mark {
            capture.mark.with(|m| m.points.clone())
        } else {
            capture.thing.with(|t| t.points.clone())
        };
        points.iter().map(|id| fold.record.label(id).to_owned()).collect::<Vec<_>>().join(" → ")
    };
    let ask = move || match (count.get(), least) {
        (0, 1) => say!("Tap the point it stands on."),
        (0, n) => say!("Tap its points in order, at least {n}."),
        _ => labels(),
    };
    markup! { <p class="read-back">{live(ask)}</p> }
}

fn into_thing(capture: Capture) -> Chosen {
    Chosen {
        known: Callback::new(move |id| capture.thing.update(|thing| thing.toggle(id))),
        fresh: Some(Callback::new(move |()| capture.add_new(None))),
    }
}

#[component]
fn Fates() -> impl IntoView {
    let capture = Capture::here();
    let chip = move |(fate, name): (Fate, &'static str)| {
        let on = move || capture.thing.with(|t| t.fate == Some(fate)).to_string();
        let toggle =
            move |_| capture.thing.update(|t| t.fate = if t.fate == Some(fate) { None } else { Some(fate) });
        markup! { <button type="button" class="chip" aria-pressed=on on:click=toggle>{name}</button> }
    };
    let fates = [(Fate::Keep, "keep"), (Fate::Move, "move"), (Fate::Remove, "remove"), (Fate::Ask, "ask")];
    let told = move || capture.thing.with(|t| t.told).to_string();
    markup! {
        <p class="asked-name"><strong>{said::FATE}</strong></p>
        <div class="hows" role="group" aria-label=said::FATE>
            {fates.into_iter().map(chip).collect_view()}
            <button type="button" class="chip" aria-pressed=told
                on:click=move |_| capture.thing.update(|t| t.told = !t.told)>"told, not seen"</button>
        </div>
    }
}

const COLOURS: [MarkColour; 8] = [
    MarkColour::Red,
    MarkColour::Yellow,
    MarkColour::Orange,
    MarkColour::Blue,
    MarkColour::Purple,
    MarkColour::Green,
    MarkColour::Pink,
    MarkColour::White,
];

/// A utility mark: its colour as seen, what is written on it, its points.
#[component]
pub fn MarkSlip() -> impl IntoView {
    let capture = Capture::here();
    let chosen = memo(move || capture.mark.with(|m| m.colour));
    live(move || match chosen.get() {
        None => markup! {
            <SlipHead title=say!("Which colour do you see?") />
            <div class="colours">
                {COLOURS.into_iter().map(|c| markup! { <ColourButton colour=c /> }).collect_view()}
            </div>
            <p class="caution">{words::MARK_CAUTION}</p>
            <p class="hint">{said::COLOUR_SOURCE}</p>
        },
        Some(colour) => markup! { <MarkBody colour=colour /> },
    })
}

#[component]
fn ColourButton(colour: MarkColour) -> impl IntoView {
    let capture = Capture::here();
    let (name, usual, letter) = words::mark(colour);
    markup! {
        <button type="button" class="colour" aria-label=say!("{name}, {usual}")
            on:click=move |_| capture.mark.update(|m| m.colour = Some(colour))>
            <i class=format!("swatch mark-{name}") data-face=letter></i>
            <span><strong>{name}</strong>" "{usual}</span>
        </button>
    }
}

#[component]
fn MarkBody(colour: MarkColour) -> impl IntoView {
    let capture = Capture::here();
    let (name, usual, _) = words::mark(colour);
    let chosen = Chosen {
        known: Callback::new(move |id| capture.mark.update(|mark| mark.toggle(id))),
        fresh: Some(Callback::new(move |()| capture.add_new(None))),
    };
    let (open, wide) = (RwSignal::new(None::<&'static Row>), RwSignal::new(false));
    let answers = Answers {
        all: derived(move || capture.mark.with(|m| m.attributes.clone())),
        put: Callback::new(move |(key, answer)| capture.mark.update(|m| put(&mut m.attributes, key, answer))),
    };
    markup! {
        <SlipHead title=say!("{name} mark, usually {usual}") />
        {shown(move || open.get().is_none(), move || markup! {
            <Through count=move || capture.mark.with(|m| m.points.len()) least=2 />
            <Chooser chosen=chosen pressed=derived(move || capture.mark.with(|m| m.points.clone())) />
            <input type="text" aria-label="Letters on it" placeholder="letters on it" autocomplete="off"
                prop:value=move || capture.mark.with(|m| m.letters.clone())
                on:input=move |e| capture.mark.update(|m| m.letters = event_target_value(&e)) />
        })}
        <Asked form=MARK_FORM answers=answers open=open />
        {shown(move || open.get().is_none(), move || markup! { <MarkEnd answers=answers open=open wide=wide /> })}
    }
}

/// What is asked seldom of a mark, the caution, and how it ends.
#[component]
fn MarkEnd(answers: Answers, open: RwSignal<Option<&'static Row>>, wide: RwSignal<bool>) -> impl IntoView {
    let capture = Capture::here();
    markup! {
        <AskedMore form=MARK_FORM answers=answers open=open wide=wide />
        <p class="hint">{said::TOLERANCE_NOTE}</p>
        <input type="text" aria-label="Note" placeholder="note" autocomplete="off"
            prop:value=move || capture.mark.with(|m| m.note.clone())
            on:input=move |e| capture.mark.update(|m| m.note = event_target_value(&e)) />
        <p class="caution">{words::MARK_CAUTION}</p>
        <div class="foot">
            <button type="button" aria-pressed=move || capture.mark.with(|m| m.told).to_string()
                on:click=move |_| capture.mark.update(|m| m.told = !m.told)>"told, not marked"</button>
            <button type="button" on:click=move |_| capture.mark.update(|m| m.colour = None)>"Another colour"</button>
            <button type="button" class="main" on:click=move |_| capture.save_mark()>"Save mark"</button>
        </div>
    }
}
