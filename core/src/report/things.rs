//! Things in the yard, and what marks of buried lines were seen.

use super::Section;
use super::html::{Html, Sort, Table};
use super::subject::{Subject, photo_links};
use crate::plan::amounts::extent as told;
use crate::plan::quantities::extent;
use crate::record::{CATALOGUE, EntryId, Feature, MARK_FORM, PointId, Recorded, asked};
use crate::sheet::words::{fate, full_name, known, mark};
use crate::units::{LengthStyle, format_length};

pub(super) fn section(subject: &Subject<'_>) -> Option<Section> {
    let features = &subject.record.features;
    let order = |f: &Feature| CATALOGUE.iter().position(|k| k.key == f.kind).unwrap_or(CATALOGUE.len());
    let mut sorted: Vec<&Recorded<Feature>> = features.iter().collect();
    sorted.sort_by_key(|f| order(&f.what));
    let mut table = Table::new(
        "Things in the yard; sizes from the adjusted plan, ± as good as nineteen of twenty are",
        &[
            ("Thing", Sort::Words),
            ("At", Sort::Words),
            ("What is known", Sort::Words),
            ("Size", Sort::Words),
            ("Shall", Sort::Words),
            ("Note", Sort::Words),
            ("Photos", Sort::Words),
        ],
    );
    for recorded in sorted {
        let f = &recorded.what;
        let mut said = Vec::new();
        if !f.attributes.is_empty() {
            said.push(Html::of(&known(subject.units, &f.attributes, asked(&f.kind))));
        }
        if f.told {
            said.push(Html::of("as told, not measured"));
        }
        let name = full_name(f);
        let note = if name.eq_ignore_ascii_case(f.note.trim()) { "" } else { &f.note };
        table.row(vec![
            Html::of(&name),
            subject.points(&f.points),
            Html::lines(&said),
            size(subject, &recorded.entry, &f.points),
            Html::of(fate(f.fate)),
            Html::by_if(note),
            photo_links(&subject.shows(&recorded.entry)),
        ]);
    }
    let mut body = Html::default();
    table.write(&mut body);
    (!features.is_empty()).then_some(Section { id: "things", title: "Things in the yard", body })
}

/// How long or large it is as drawn.
fn size(subject: &Subject<'_>, entry: &EntryId, points: &[PointId]) -> Html {
    let plan = subject.given.plan;
    let shape = plan.shapes.iter().find(|shape| shape.entry == *entry);
    let joint = subject.joint.as_ref();
    let words = shape.and_then(|shape| told(&extent(plan, points, &shape.outline, joint), subject.units));
    Html::of(&words.unwrap_or_default())
}

/// What every reader of marks should know.
const MARKS: &str = "Marks show about where a line lies, not how deep, and only lines whose owners were asked. \
    They expire. No mark does not mean no line: have lines marked anew before any digging, and dig by hand in the \
    tolerance zone; local law says how wide it is.";

/// Utility marks with their tickets.
pub(super) fn marks(subject: &Subject<'_>) -> Option<Section> {
    let mut table = Table::new(
        "Utility marks as seen on the ground",
        &[
            ("Mark", Sort::Words),
            ("Along", Sort::Words),
            ("Letters", Sort::Words),
            ("Ticket, days, widths", Sort::Words),
            ("Tolerance each side", Sort::Words),
            ("Note", Sort::Words),
        ],
    );
    for recorded in &subject.record.marks {
        let m = &recorded.what;
        let mut said = vec![Html::of(&known(subject.units, &m.attributes, MARK_FORM))];
        if m.located() && !m.attributes.contains_key("ticket") {
            said.push(Html::of("no ticket noted"));
        }
        if m.told {
            said.push(Html::of("as told, not marked"));
        }
        let zone = m.zone().map(|zone| format_length(zone, LengthStyle::from(subject.units)));
        table.row(vec![
            Html::of(mark(m.colour)),
            subject.points(&m.points),
            Html::by_if(&m.letters),
            Html::lines(&said),
            Html::of(&zone.unwrap_or_else(|| say!("nobody knows"))),
            Html::by_if(&m.note),
        ]);
    }
    let mut body = Html::default();
    body.raw("<p class=\"caution\">").words(MARKS).raw("</p>\n");
    table.write(&mut body);
    (!subject.record.marks.is_empty()).then_some(Section { id: "marks", title: "Utility marks", body })
}
