//! How the sheet shall be: paper, scale, which way up, what is drawn. Kept on this device for each site.

use crate::device;
use crate::markup::live;
use crate::screens::parts::chips;
use crate::state::OpenSite;
use crate::store::SiteId;
use crate::words::sheet as words;
use leptos::prelude::*;
use serde::{Deserialize, Serialize};
use swingtie_core::language::tr;
use swingtie_core::record::UnitSystem;
use swingtie_core::sheet::{Colours, Layers, Options, Orientation, Paper, Scale, Turn};

/// What was chosen; what was not is chosen by the sheet itself.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Choices {
    /// A paper's name.
    paper: String,
    /// The n of 1 : n.
    scale: Option<u32>,
    lies: Lies,
    north_up: bool,
    grey: bool,
    /// Keys of what is drawn otherwise than usual.
    otherwise: Vec<String>,
}

/// Which way the paper lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
enum Lies {
    #[default]
    Either,
    Upright,
    Across,
}

/// One thing that is drawn or not: its key, and its place among the layers.
type Layer = (&'static str, fn(&mut Layers) -> &mut bool);

/// In the order they are offered; their words are in [`words::LAYERS`].
const LAYERS: [Layer; 13] = [
    ("labels", |all| &mut all.labels),
    ("points", |all| &mut all.points),
    ("dimensions", |all| &mut all.dimensions),
    ("taped", |all| &mut all.taped_lines),
    ("heights", |all| &mut all.heights),
    ("contours", |all| &mut all.contours),
    ("fall", |all| &mut all.fall),
    ("utilities", |all| &mut all.utilities),
    ("problems", |all| &mut all.problems),
    ("photos", |all| &mut all.photos),
    ("lists", |all| &mut all.lists),
    ("worth", |all| &mut all.worth),
    ("hatching", |all| &mut all.hatching),
];

impl Choices {
    /// As kept for a site; what another version kept and this one cannot read is as if nothing was chosen.
    pub fn kept(site: &SiteId) -> Self {
        let kept = device::remembered(&key(site)).and_then(|kept| serde_json::from_str(&kept).ok());
        kept.unwrap_or_default()
    }

    /// Keeps them.
    pub fn keep(&self, site: &SiteId) {
        match serde_json::to_string(self) {
            Ok(text) if *self != Self::default() => device::remember(&key(site), &text),
            _ => device::forget(&key(site)),
        }
    }

    /// As the sheet takes them.
    pub fn options(&self) -> Options {
        let mut layers = Layers::default();
        for (key, layer) in LAYERS {
            let on = layer(&mut layers);
            *on ^= self.otherwise.iter().any(|other| other == key);
        }
        Options {
            paper: Paper::named(&self.paper),
            orientation: match self.lies {
                Lies::Either => None,
                Lies::Upright => Some(Orientation::Portrait),
                Lies::Across => Some(Orientation::Landscape),
            },
            scale: self.scale.and_then(Scale::one_to),
            turn: if self.north_up { Turn::NorthUp } else { Turn::Squared },
            layers,
            colours: if self.grey { Colours::Grey } else { Colours::Full },
            ..Options::default()
        }
    }

    fn toggle(&mut self, key: &str) {
        let before = self.otherwise.len();
        self.otherwise.retain(|other| other != key);
        if self.otherwise.len() == before {
            self.otherwise.push(key.to_owned());
        }
    }
}

fn key(site: &SiteId) -> String {
    format!("sheet {}", site.0)
}

/// Papers, those usual with these units first.
fn papers(units: UnitSystem) -> Vec<Paper> {
    let mut all: Vec<Paper> = Paper::of(units).collect();
    all.extend(Paper::ALL.iter().filter(|paper| Paper::of(units).all(|usual| usual.name != paper.name)));
    all
}

/// The choices as a part that opens.
#[component]
pub fn ChoicesForm(choices: RwSignal<Choices>) -> impl IntoView {
    let units = OpenSite::here().units();
    let chosen_paper = move |name: &str| choices.with(|c| c.paper == name);
    let option = |value: String, name: String, selected: bool| markup! { <option value=value selected=selected>{name}</option> };
    let paper_options = move || {
        papers(units)
            .into_iter()
            .map(|paper| {
                option(paper.name.to_owned(), words::paper(paper.name, paper.size), chosen_paper(paper.name))
            })
            .collect_view()
    };
    let scale_options = move || {
        let chosen = choices.with(|c| c.scale);
        let series = Scale::series(units).into_iter().filter(|scale| scale.denominator() <= SMALLEST);
        series
            .map(|scale| {
                let n = scale.denominator();
                option(n.to_string(), scale.words(units), chosen == Some(n))
            })
            .collect_view()
    };
    let lies = vec![
        (Lies::Either, tr(words::EITHER_WAY).to_owned()),
        (Lies::Upright, tr(words::UPRIGHT).to_owned()),
        (Lies::Across, tr(words::ACROSS).to_owned()),
    ];
    let turns = vec![(false, tr(words::SQUARED).to_owned()), (true, tr(words::NORTH_UP).to_owned())];
    let colours = vec![(false, tr(words::COLOUR).to_owned()), (true, tr(words::GREY).to_owned())];
    let layers = LAYERS.iter().zip(words::LAYERS).map(move |((key, layer), name)| {
        let on = move || *layer(&mut choices.with(Choices::options).layers);
        let toggle = move |_| choices.update(|c| c.toggle(key));
        markup! {
            <label class="tick">
                <input type="checkbox" prop:checked=on on:change=toggle />
                <span>{name}</span>
            </label>
        }
    });
    markup! {
        <details class="exact sheet-choices">
            <summary>{words::CHOICES}</summary>
            <div class="form">
                <label class="field">
                    <span>{words::PAPER}</span>
                    <select on:change=move |event| choices.update(|c| c.paper = event_target_value(&event))>
                        <option value="">{words::CHOSEN_FOR_ME}</option>
                        {live(paper_options)}
                    </select>
                </label>
                <label class="field">
                    <span>{words::SCALE}</span>
                    <select on:change=move |event| choices.update(|c| c.scale = event_target_value(&event).parse().ok())>
                        <option value="">{words::CHOSEN_FOR_ME}</option>
                        {live(scale_options)}
                    </select>
                </label>
                {chips(words::LIES, lies, move || Some(choices.with(|c| c.lies)), move |lies| choices.update(|c| c.lies = lies))}
                {chips(words::UP, turns, move || Some(choices.with(|c| c.north_up)), move |up| choices.update(|c| c.north_up = up))}
                {chips(words::COLOURS, colours, move || Some(choices.with(|c| c.grey)), move |grey| choices.update(|c| c.grey = grey))}
                <fieldset>
                    <legend class="legend">{words::DRAWN}</legend>
                    <div class="sheet-layers">{layers.collect_view()}</div>
                </fieldset>
                <button type="button" class="button" on:click=move |_| choices.set(Choices::default())>
                    {words::AS_USUAL}
                </button>
            </div>
        </details>
    }
}

/// Smaller drawings than this are location maps.
const SMALLEST: u32 = 2400;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_kept_comes_back_and_other_texts_are_nothing_chosen() {
        let mut choices =
            Choices { paper: "A3".into(), scale: Some(100), lies: Lies::Across, ..Choices::default() };
        choices.toggle("taped");
        choices.toggle("photos");
        choices.toggle("photos");
        let back: Choices = serde_json::from_str(&serde_json::to_string(&choices).unwrap()).unwrap();
        assert_eq!(back, choices);
        let options = back.options();
        assert_eq!(options.paper.map(|paper| paper.name), Some("A3"));
        assert_eq!(options.orientation, Some(Orientation::Landscape));
        assert!(options.layers.taped_lines && options.layers.photos);
        // A later version may know more; what it says of this is still heard.
        let more: Choices = serde_json::from_str(r#"{"scale":50,"folded":true}"#).unwrap();
        assert_eq!(more.scale, Some(50));
        assert_eq!(Choices::default().options(), Options::default());
    }

    #[test]
    fn every_layer_is_another_one_and_has_its_words() {
        assert_eq!(LAYERS.len(), words::LAYERS.len());
        for (key, _) in LAYERS {
            let mut choices = Choices::default();
            choices.toggle(key);
            let changed = choices.options().layers;
            let same = |(_, layer): &&Layer| *layer(&mut changed.clone()) == *layer(&mut Layers::default());
            assert_eq!(LAYERS.iter().filter(same).count(), LAYERS.len() - 1, "{key}");
        }
    }

    #[test]
    fn usual_papers_come_first_and_none_is_missing() {
        let names: Vec<&str> = papers(UnitSystem::Metres).iter().map(|paper| paper.name).collect();
        assert_eq!((names.first(), names.len()), (Some(&"A4"), Paper::ALL.len()));
    }
}
