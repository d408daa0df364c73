//! What site it is and how far the report can be relied on; the drawing; the cautions.

use super::html::{Facts, Html};
use super::subject::Subject;
use super::{Section, points};
use crate::language::tr;
use crate::network::PointState;
use crate::record::UnitSystem;
use crate::sheet::north::said;
use crate::sheet::words::cautions as shared;
use crate::sheet::{self, Layers, Paper};
use crate::units::day;
use crate::units::format::fixed;

/// What the site is called.
pub(super) fn name<'a>(subject: &Subject<'a>) -> &'a str {
    match subject.record.site.name.trim() {
        "" => tr("Unnamed site"),
        name => name,
    }
}

/// The head of the page.
pub(super) fn write(subject: &Subject<'_>, html: &mut Html) {
    let site = &subject.record.site;
    html.raw("<header>\n<p class=\"kind\">");
    html.words("Site report: what stands on the site, and how well it is known").raw("</p>\n<h1>");
    html.said(name(subject)).raw("</h1>\n");
    let mut facts = Facts::default();
    facts.said("Client", &site.client);
    facts.said("Measured on", &day(&site.date));
    facts.said("Measured by", &site.surveyor);
    facts.add(
        "Units",
        Html::of(match site.units {
            UnitSystem::FeetInches => "feet and inches",
            UnitSystem::DecimalFeet => "feet and decimals",
            UnitSystem::Metres => "metres",
        }),
    );
    let revision = subject.given.sheet.revision.trim();
    facts.add("Revision", Html::by(if revision.is_empty() { "1" } else { revision }));
    facts.add("North", north(subject));
    facts.add("Place on earth", place(subject));
    facts.add("Points", Html::of(&counted(subject)));
    facts.said("Note", &site.note);
    facts.write(html);
    html.raw("<p class=\"verdict\">").words(&meaning(subject)).raw("</p>\n</header>\n");
}

/// In the sheet's words: which north, whence, how good, and how far a compass points beside it.
fn north(subject: &Subject<'_>) -> Html {
    let (title, lines) = said(subject.record, subject.given.plan);
    let mut all = vec![Html::of(title)];
    // Whence it comes is what somebody wrote.
    all.extend(lines.iter().map(|line| Html::by(line)));
    Html::lines(&all)
}

fn place(subject: &Subject<'_>) -> Html {
    let Some(anchor) = &subject.record.anchor else { return Html::default() };
    let mut html = Html::by(subject.record.label(&anchor.point));
    let degrees = |number| fixed(number, 6);
    html.words(&say!(" at {}, {}", degrees(anchor.latitude), degrees(anchor.longitude)));
    if !anchor.source.trim().is_empty() {
        html.raw(", ").said(&anchor.source);
    }
    html
}

/// How many points of each state.
fn counts(subject: &Subject<'_>) -> [(PointState, usize); 4] {
    [PointState::Checked, PointState::Fixed, PointState::Disputed, PointState::Loose].map(|state| {
        let of = |point: &&crate::record::Point| points::state(subject, &point.id) == state;
        (state, subject.record.points.iter().filter(of).count())
    })
}

fn counted(subject: &Subject<'_>) -> String {
    let [checked, unchecked, doubted, loose] = counts(subject).map(|(_, count)| count);
    let all = subject.record.points.len();
    say!("{all}: {checked} checked, {unchecked} not checked, {doubted} in doubt, {loose} loose")
}

/// What the counts mean, in one sentence.
fn meaning(subject: &Subject<'_>) -> String {
    let said = |(state, count): &(PointState, usize)| {
        let words = match state {
            _ if *count == 0 => return None,
            PointState::Checked => {
                "checked points are good to draw by, since a misread that moves them a foot would have shown"
            }
            PointState::Fixed => "at points not checked a misread would pass unseen",
            PointState::Disputed => {
                "at points in doubt readings contradict each other, and nobody should rely on them"
            }
            PointState::Loose => "loose points are drawn only about where they are",
        };
        Some(words)
    };
    let parts: Vec<&str> = counts(subject).iter().filter_map(said).map(tr).collect();
    if parts.is_empty() {
        return say!("Nothing is measured yet.");
    }
    say!("What that means: {}.", parts.join("; "))
}

/// The plan as a picture: a drawing of its own, without the lists, which stand in this page.
pub(super) fn plan(subject: &Subject<'_>) -> Option<Section> {
    let report = subject.given;
    if report.plan.points.is_empty() {
        return None;
    }
    let paper = Paper::named(if subject.units == UnitSystem::Metres { "a4" } else { "letter" });
    let layers = Layers { worth: false, ..report.sheet.layers };
    let options = sheet::Options {
        paper,
        layers,
        without_lists: true,
        scale: None,
        orientation: None,
        ..report.sheet.clone()
    };
    let drawing = sheet::draw(subject.record, report.adjustment, report.plan, &options);
    let mut body = Html::default();
    // Too small to read on a phone, it is pushed there as a wide table is; paper lies as the drawing does.
    body.raw(if drawing.width > drawing.height { "<figure class=\"across\">" } else { "<figure>" });
    body.raw("<div class=\"wide\" role=\"group\" tabindex=\"0\" aria-label=\"").words("The plan");
    body.raw("\"><img alt=\"")
        .words("The plan, drawn to scale. What it shows stands in words below.")
        .raw("\" src=\"");
    body.data("image/svg+xml", drawing.svg.as_bytes()).raw("\"></div><figcaption>");
    body.words("An overview. To scale from, print the sheet itself at full size.")
        .raw("</figcaption></figure>\n");
    Some(Section { id: "plan", title: "The plan", body })
}

/// What the sheet says as well.
pub(super) fn cautions(subject: &Subject<'_>) -> Option<Section> {
    let mut body = Html::default();
    let sentences = shared(subject.units);
    body.list(sentences.iter().map(String::as_str));
    Some(Section { id: "cautions", title: "Cautions", body })
}
