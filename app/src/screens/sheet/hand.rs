//! The plan handed on: shared, printed, or saved file by file.

use super::choices::Choices;
use super::{Made, MadeSignal};
use crate::device::share::{self, Shared as Told};
use crate::device::{self, FileError};
use crate::markup::{effect, live, memo, shown};
use crate::notices::Notices;
use crate::office::{PlanFiles, report_of};
use crate::state::{OpenSite, Shared};
use crate::words;
use crate::words::sheet as say;
use js_sys::Uint8Array;
use leptos::prelude::*;
use swingtie_core::exchange::{PDF, Sheet};
use swingtie_core::language::tr;
use swingtie_core::sheet::png;
use swingtie_core::units::{Length, float};
use wasm_bindgen::JsValue;
use web_sys::File;

/// What can be handed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Pdf,
    Svg,
    Png,
    Report,
    Map,
    Local,
    Points,
    Measurements,
    Book,
}

impl Kind {
    /// In the order they are offered.
    const ALL: [Self; 9] = [
        Self::Pdf,
        Self::Svg,
        Self::Png,
        Self::Report,
        Self::Map,
        Self::Local,
        Self::Points,
        Self::Measurements,
        Self::Book,
    ];

    /// What goes along when a plan is shared and nobody chose: what a person looks at, and what a program reads.
    const USUAL: [Self; 4] = [Self::Pdf, Self::Svg, Self::Report, Self::Map];

    /// File name, media type, and what it is called.
    const fn facts(self) -> (&'static str, &'static str, &'static str) {
        match self {
            Self::Pdf => (PDF, "application/pdf", say::GET_PDF),
            Self::Svg => ("plan.svg", "image/svg+xml", say::GET_SVG),
            Self::Png => ("plan.png", "image/png", say::GET_PNG),
            Self::Report => ("report.html", "text/html", say::GET_REPORT),
            Self::Map => ("plan.geojson", "application/geo+json", say::GET_GEOJSON),
            Self::Local => ("plan.fg.json", "application/vnd.ogc.fg+json", say::GET_LOCAL),
            Self::Points => ("points.csv", "text/csv", say::GET_POINTS),
            Self::Measurements => ("measurements.csv", "text/csv", say::GET_MEASUREMENTS),
            Self::Book => ("book.jsonl", "application/jsonl", say::GET_BOOK),
        }
    }

    /// In a word.
    const fn short(self) -> &'static str {
        match self {
            Self::Pdf => "PDF",
            Self::Svg => "SVG",
            Self::Png => "PNG",
            Self::Report => say::REPORT,
            Self::Map => "GeoJSON",
            Self::Local => "JSON-FG",
            Self::Points => say::POINTS,
            Self::Measurements => say::MEASUREMENTS,
            Self::Book => say::BOOK,
        }
    }

    const fn title(self) -> &'static str {
        self.facts().2
    }

    /// Whether it can be made from what there is.
    fn ready(self, made: &Made) -> bool {
        match (self, made) {
            // The book needs no other part of the program: a copy of it can be had whatever happens.
            (Self::Book, _) => true,
            (Self::Png | Self::Report, Made::Files(files)) => files.has("plan.svg"),
            (_, Made::Files(files)) => files.has(self.facts().0),
            _ => false,
        }
    }
}

/// What goes along of what was chosen: what there is. Where the site has no place on earth, the plan in metres goes
/// in place of the map.
fn going(along: &[Kind], made: &Made) -> Vec<Kind> {
    let there = |kind: &Kind| match kind {
        Kind::Map if !kind.ready(made) => Kind::Local,
        kind => *kind,
    };
    let mut all: Vec<Kind> = Vec::new();
    for kind in along.iter().map(there).filter(|kind| kind.ready(made)) {
        if !all.contains(&kind) {
            all.push(kind);
        }
    }
    all
}

/// What files are made from.
#[derive(Clone, Copy)]
pub struct Source {
    site: OpenSite,
    made: MadeSignal,
    choices: RwSignal<Choices>,
    /// Dots to the inch of the picture.
    fineness: RwSignal<u32>,
}

impl Source {
    /// What the book open here is made into.
    pub fn here(made: MadeSignal, choices: RwSignal<Choices>) -> Self {
        Self { site: OpenSite::here(), made, choices, fineness: RwSignal::new(USUAL_FINENESS) }
    }

    fn files(self) -> Result<Shared<PlanFiles>, FileError> {
        match self.made.get_untracked() {
            Made::Files(files) => Ok(files),
            _ => Err(FileError::new(say::PREPARING)),
        }
    }

    /// The files of a kind: one, or one for each sheet. The tap that asked for them is answered first.
    async fn made(self, kind: Kind) -> Result<Vec<File>, FileError> {
        device::shown().await;
        let (name, media_type, _) = kind.facts();
        let content: JsValue = match kind {
            Kind::Book => self.site.book.get_untracked().to_json_lines().into(),
            Kind::Report => report_of(self.site, self.choices.with_untracked(Choices::options)).await?.into(),
            Kind::Svg => {
                let files = self.files()?;
                let all = files
                    .sheets
                    .iter()
                    .map(|sheet| share::file(&sheet.name, media_type, &svg(&files, sheet)?));
                return all.collect();
            }
            Kind::Png => {
                let files = self.files()?;
                let mut all = Vec::new();
                for sheet in &files.sheets {
                    let name = sheet.name.replace(".svg", ".png");
                    all.push(share::file(&name, media_type, &self.picture(&files, sheet).await?)?);
                }
                return Ok(all);
            }
            _ => self.files()?.file(name).ok_or_else(|| FileError::new(name))?,
        };
        Ok(vec![share::file(name, media_type, &content)?])
    }

    async fn picture(self, files: &PlanFiles, sheet: &Sheet) -> Result<JsValue, FileError> {
        let (wide, high) = sheet.sides;
        let dots = finest(sheet.sides, self.fineness.get_untracked());
        let png = share::picture(&svg(files, sheet)?, pixels(wide, dots), pixels(high, dots)).await?;
        let png = png::with_pixels_per_metre(&png, pixels(Length::from_metres(1.0), dots)).unwrap_or(png);
        Ok(Uint8Array::from(png.as_slice()).into())
    }
}

fn svg(files: &PlanFiles, sheet: &Sheet) -> Result<JsValue, FileError> {
    files.file(&sheet.name).ok_or_else(|| FileError::new(&sheet.name))
}

/// As they are passed on, where the browser shares.
fn passable(files: Vec<File>, shares: bool) -> Result<Vec<File>, FileError> {
    if shares { files.into_iter().map(share::passable).collect() } else { Ok(files) }
}

/// As many pixels as phones draw in one picture: what the oldest in use allow, 4096 by 4096.
const MOST_PIXELS: f64 = 4096.0 * 4096.0;

/// So many dots to the inch as wanted, or as there is room for.
fn finest((width, height): (Length, Length), wanted: u32) -> u32 {
    let most = float::sqrt(MOST_PIXELS / (width.inches() * height.inches()).max(1e-9));
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "no more than what was wanted"
    )]
    let dots = most.min(f64::from(wanted)) as u32;
    dots.max(1)
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "the pixels of a sheet of paper")]
fn pixels(length: Length, dots: u32) -> u32 {
    (length.inches() * f64::from(dots)).round() as u32
}

/// Share and print, above the drawing.
#[component]
pub fn HandOn(source: Source) -> impl IntoView {
    let (made, notices) = (source.made, Notices::here());
    let along = RwSignal::new(Kind::USUAL.to_vec());
    let shares = share::shares_files();
    let busy = RwSignal::new(false);
    // Made before, where the browser wanted another tap.
    let waiting: StoredValue<Vec<File>, LocalStorage> = StoredValue::new_local(Vec::new());
    effect(move || {
        made.track();
        along.track();
        waiting.set_value(Vec::new());
    });
    let ready = memo(move || made.with(|made| matches!(made, Made::Files(_))));
    let chosen = move || made.with(|made| along.with(|along| going(along, made)));
    let hand_on = move |_| {
        let kinds = untrack(chosen);
        busy.set(true);
        leptos::task::spawn_local(async move {
            let mut files = waiting.get_value();
            if files.is_empty() {
                for kind in kinds {
                    match source.made(kind).await.and_then(|made| passable(made, shares)) {
                        Ok(made) => files.extend(made),
                        Err(why) => notices.warn(say::not_made(kind.title(), &why.to_string())),
                    }
                }
            }
            if !shares {
                save_each(notices, &files).await;
            } else if !files.is_empty() {
                match share::share(&files).await {
                    Ok(Told::Done) => {}
                    Ok(Told::TapAgain) => {
                        waiting.try_set_value(files);
                        notices.say(say::READY);
                    }
                    Err(why) => notices.warn(say::not_shared(&why.to_string())),
                }
            }
            busy.try_set(false);
        });
    };
    let print = move |_| {
        let printed = source.files().and_then(|files| {
            let page = |sheet: &Sheet| {
                let (wide, high) = sheet.sides;
                Ok((svg(&files, sheet)?, wide.millimetres(), high.millimetres()))
            };
            share::print(&files.sheets.iter().map(page).collect::<Result<Vec<_>, FileError>>()?)
        });
        if printed.is_err() {
            notices.warn(say::NO_PRINT);
        }
    };
    let idle = move || ready.get() && !busy.get() && !chosen().is_empty();
    let boxes = Kind::ALL.map(|kind| {
        let there = move || made.with(|made| kind.ready(made));
        let toggle = move |_| {
            let going = untrack(chosen).contains(&kind);
            along.update(|along| match kind {
                // It may go in place of the map.
                Kind::Local if going => along.retain(|other| !matches!(other, Kind::Local | Kind::Map)),
                _ if going => along.retain(|other| *other != kind),
                _ => along.push(kind),
            })
        };
        markup! {
            <label class="tick">
                <input type="checkbox" prop:checked=move || chosen().contains(&kind)
                    prop:disabled=move || !there() on:change=toggle />
                <span>{kind.title()}</span>
            </label>
        }
    });
    markup! {
        <div class="hand-on">
            <button type="button" class="button button-main" disabled=move || !idle() on:click=hand_on>
                {if shares { say::SHARE } else { say::SAVE_ALL }}
            </button>
            <button type="button" class="button" disabled=move || !ready.get() on:click=print>{say::PRINT}</button>
            <details class="exact">
                <summary>{live(move || say::going(&chosen().iter().map(|kind| tr(kind.short())).collect::<Vec<_>>()))}</summary>
                <fieldset>
                    <legend class="legend">{say::SHARES}</legend>
                    <div class="sheet-layers">{boxes.collect_view()}</div>
                </fieldset>
                {shares.then(|| markup! { <p class="hint">{say::NAMED_TXT}</p> })}
                <p class="hint">{say::PRINT_HINT}</p>
            </details>
            <p class="quiet" role="status">{move || busy.get().then_some(say::PREPARING)}</p>
        </div>
    }
}

/// Dots to the inch that are offered.
const FINENESSES: [u32; 3] = [100, USUAL_FINENESS, 300];
/// Those of a picture when nobody chose: text of the sheet's smallest size reads well.
const USUAL_FINENESS: u32 = 200;

/// Every file by itself, the same bytes the desk command writes.
#[component]
pub fn Files(source: Source) -> impl IntoView {
    let (made, fineness, notices) = (source.made, source.fineness, Notices::here());
    let why_not = move |kind: Kind| {
        made.with(|made| match made {
            Made::Files(files) if kind == Kind::Map => files.no_map.as_deref().map(words::no_map),
            _ => None,
        })
    };
    let finer = move || {
        let dots = FINENESSES.map(|dots| markup! {
            <option value=dots.to_string() selected=fineness.get_untracked() == dots>{say::dots(dots)}</option>
        });
        markup! {
            <label class="field">
                <span>{say::FINENESS}</span>
                <select on:change=move |event| if let Ok(dots) = event_target_value(&event).parse() { fineness.set(dots) }>
                    {dots.collect_view()}
                </select>
            </label>
        }
    };
    let rows = Kind::ALL.map(|kind| {
        let take = move |_| leptos::task::spawn_local(async move {
            match source.made(kind).await {
                Ok(files) => save_each(notices, &files).await,
                Err(why) => notices.warn(words::file_not_saved(kind.facts().0, &why.to_string())),
            }
        });
        markup! {
            <li>
                <button type="button" class="button button-wide" disabled=move || made.with(|made| !kind.ready(made))
                    on:click=take>
                    {kind.title()}
                </button>
                {live(move || why_not(kind).map(|why| markup! { <p class="hint">{why}</p> }))}
                {shown(move || kind == Kind::Png, finer)}
            </li>
        }
    });
    markup! {
        <h2>{words::FILES}</h2>
        <ul class="files">{rows.collect_view()}</ul>
        <p class="hint">{words::BOOK_HINT}</p>
    }
}

/// One after the other: WebKit lets go of a download that another one follows at once.
async fn save_each(notices: Notices, files: &[File]) {
    for (index, file) in files.iter().enumerate() {
        if index > 0 {
            device::sleep(BETWEEN_FILES_MS).await;
        }
        save(notices, file);
    }
}

/// From one file to the next (tried with WebKit 2.50, by the browser test `engines`; no source).
const BETWEEN_FILES_MS: i32 = 500;

fn save(notices: Notices, file: &File) {
    let name = file.name();
    match device::download(file) {
        Ok(()) => notices.say(words::file_saved(&name)),
        Err(error) => notices.warn(words::file_not_saved(&name, &error.to_string())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use swingtie_core::sheet::Paper;

    #[test]
    fn a_picture_has_as_many_pixels_as_wanted_or_as_there_is_room_for() {
        let letter = (Paper::LETTER.short, Paper::LETTER.long);
        assert_eq!(finest(letter, 300), 300);
        assert_eq!((pixels(letter.0, 300), pixels(letter.1, 300)), (2550, 3300));
        let large = Paper::named("ARCH E").map(|paper| (paper.short, paper.long)).unwrap();
        let dots = finest(large, 300);
        assert!(
            dots < 300 && f64::from(pixels(large.0, dots)) * f64::from(pixels(large.1, dots)) <= MOST_PIXELS
        );
    }

    /// 300 dots to the inch are 11811 to the metre (an inch is 25.4 mm).
    #[test]
    fn the_metre_has_its_dots() {
        assert_eq!(pixels(Length::from_metres(1.0), 300), 11_811);
    }
}
