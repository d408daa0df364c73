//! The index of photos: small pictures, what they show, where and which way.

use super::Section;
use super::html::{Facts, Html};
use super::overlay;
use super::problems::name;
use super::subject::Subject;
use crate::language::tr;
use crate::plan::{PlacedPhoto, looks};
use crate::record::{Photo, PhotoMark};
use crate::sheet::words::{capital, full_name};

pub(super) fn section(subject: &Subject<'_>) -> Option<Section> {
    let mut body = Html::default();
    body.raw("<div class=\"photos\">\n");
    for (placed, photo) in &subject.photos {
        one(subject, placed, photo, &mut body);
    }
    body.raw("</div>\n");
    (!subject.photos.is_empty()).then_some(Section { id: "photos", title: "Photos", body })
}

fn one(subject: &Subject<'_>, placed: &PlacedPhoto, photo: &Photo, html: &mut Html) {
    html.raw("<article class=\"photo\" id=\"photo-").number(placed.number).raw("\"><h3>");
    html.words(&say!("Photo {}", placed.number)).raw("</h3>\n");
    let marks = photo.marks.read();
    let picture = subject.given.pictures.get(&photo.id).and_then(|bytes| Some((kind_of(bytes)?, bytes)));
    match picture {
        Some((media_type, bytes)) => {
            let note = photo.note.trim();
            html.raw("<div class=\"picture\"><img loading=\"lazy\" alt=\"");
            html.plain(if note.is_empty() { tr("Not described yet") } else { note }).raw("\" src=\"");
            html.data(media_type, bytes).raw("\">");
            overlay::write(&marks, bytes, html);
            html.raw("</div>\n");
        }
        None => {
            html.raw("<p class=\"missing\">").words("The picture is not in this report.").raw("</p>\n");
        }
    }
    let mut facts = Facts::default();
    facts.said("Shows", &capital(photo.note.trim()));
    facts.add("Of", of(subject, photo));
    let place = subject.place(&photo.at);
    facts.add("Where", if place.is_empty() { Html::of("the whole site") } else { place });
    let looks = looks(photo.facing, placed.facing, subject.given.plan.north.as_ref());
    facts.add("View", Html::of(&looks.unwrap_or_default()));
    let marks: Vec<Html> = marks.iter().map(mark).collect();
    facts.add("Drawn on it", Html::lines(&marks));
    facts.write(html);
    html.raw("</article>\n");
}

/// The thing or problem it shows.
fn of(subject: &Subject<'_>, photo: &Photo) -> Html {
    let mut html = Html::default();
    let Some(of) = &photo.of else { return html };
    if let Some((problem, number)) = subject.record.problems.iter().zip(1..).find(|(p, _)| p.entry == *of) {
        html.raw("<a href=\"#problem-").number(number).raw("\">problem ").number(number).raw("</a>, ");
        html.words(&name(&problem.what.kind).to_lowercase());
    } else if let Some(feature) = subject.record.features.iter().find(|f| f.entry == *of) {
        html.words(&full_name(&feature.what));
    }
    html
}

fn mark(mark: &PhotoMark) -> Html {
    match mark {
        PhotoMark::Arrow { .. } => Html::of("an arrow"),
        PhotoMark::Circle { .. } => Html::of("a circle"),
        PhotoMark::Text { text, .. } => Html::by(text),
    }
}

/// What kind of picture the bytes are, by how they begin (the formats' own specifications); none for anything else,
/// which is then left out.
fn kind_of(bytes: &[u8]) -> Option<&'static str> {
    let webp = || bytes.get(8..12) == Some(b"WEBP");
    match bytes {
        [0xff, 0xd8, 0xff, ..] => Some("image/jpeg"),
        [0x89, b'P', b'N', b'G', b'\r', b'\n', 0x1a, b'\n', ..] => Some("image/png"),
        [b'R', b'I', b'F', b'F', ..] if webp() => Some("image/webp"),
        _ => None,
    }
}
