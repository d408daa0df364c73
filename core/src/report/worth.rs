//! What the checks found: sentence, numbers, what it rests on, where the limit is published.

use super::Section;
use super::html::{Facts, Html, Sort, Table};
use super::subject::Subject;
use crate::checks::{Concern, Weight, by_source, from_readings, not_read};
use crate::sheet::words::WORKED_OUT;

/// Whether it is a finding, and not only a reading that is missing: those stand among what is still open.
pub(super) fn stands(_: &Subject<'_>, concern: &Concern) -> bool {
    concern.weight == Weight::Note
}

pub(super) fn section(subject: &Subject<'_>) -> Option<Section> {
    let mut body = Html::default();
    body.paragraph(WORKED_OUT);
    let all = subject.concerns.iter().zip(1..).filter(|(concern, _)| stands(subject, concern));
    let all: Vec<(&Concern, usize)> = all.collect();
    let mut walls: Vec<(&Concern, usize)> = all.iter().copied().filter(|(c, _)| is_of_wall(c)).collect();
    if walls.len() < 2 {
        walls.clear();
    }
    let first = walls.first().map(|(_, number)| *number);
    for (concern, number) in &all {
        if first == Some(*number) {
            together(subject, &walls, &mut body);
        } else if !walls.iter().any(|(_, own)| own == number) {
            one(subject, concern, *number, &mut body);
        }
    }
    (!all.is_empty()).then_some(Section { id: "worth", title: "Worth a look", body })
}

/// Whether it is about how the ground falls away from a wall of the house: each wall has one of its own.
fn is_of_wall(concern: &Concern) -> bool {
    concern.key.split(' ').next() == Some("fall")
}

/// Many walls' falls in one table.
fn together(subject: &Subject<'_>, walls: &[(&Concern, usize)], html: &mut Html) {
    let Some((first, _)) = walls.first() else { return };
    html.raw("<article><h3>").words("The ground falls away from the house too little, or toward it, at ");
    html.number(walls.len()).raw(" walls</h3>\n");
    let mut how: Vec<&str> = Vec::new();
    for (concern, _) in walls {
        if !how.contains(&concern.how.as_str()) {
            how.push(&concern.how);
        }
    }
    how.into_iter().for_each(|how| {
        html.paragraph(how);
    });
    let mut heads = vec![("What was found", Sort::Words)];
    heads.extend(first.numbers.iter().map(|(name, _)| (*name, Sort::Figures)));
    heads.extend([("Not read", Sort::Words), ("Left as it is", Sort::Words)]);
    let mut table = Table::new(COVERED, &heads);
    let mut used: Vec<String> = Vec::new();
    for (concern, number) in walls {
        let mut what = Html::default();
        what.raw("<span id=\"worth-").number(*number).raw("\">").words(&concern.what).raw("</span>");
        let mut cells = vec![what];
        cells.extend(concern.numbers.iter().map(|(_, value)| Html::of(value)));
        cells.push(Html::of(&concern.missing.join("; ")));
        cells.push(subject.answer(concern).map_or_else(Html::default, |why| reason(&why)));
        table.row(cells);
        used.extend(concern.used.iter().filter(|one| !used.contains(one)).cloned().collect::<Vec<_>>());
    }
    table.write(html);
    html.paragraph(&from_readings(&used).unwrap_or_default());
    html.raw("<p class=\"caution\">").words(first.caution).raw("</p>\n");
    html.paragraph(&by_source(first.source)).raw("</article>\n");
}

/// What the figures of the walls are, and what they leave out.
const COVERED: &str =
    "The worst place of each wall; the ± counts only the rod (95 %), not the ground between";

/// Why somebody left it.
fn reason(why: &str) -> Html {
    if why.trim().is_empty() { Html::of("no reason given") } else { Html::by(why) }
}

fn one(subject: &Subject<'_>, concern: &Concern, number: usize, html: &mut Html) {
    html.raw("<article id=\"worth-").number(number).raw("\"><h3>").words(&concern.what).raw("</h3>\n");
    html.paragraph(&concern.how);
    let mut facts = Facts::default();
    for (name, value) in &concern.numbers {
        facts.add(name, Html::of(value));
    }
    facts.write(html);
    for words in [from_readings(&concern.used), not_read(&concern.missing)].into_iter().flatten() {
        html.paragraph(&words);
    }
    html.raw("<p class=\"caution\">").words(concern.caution).raw("</p>\n");
    html.paragraph(&by_source(concern.source));
    if let Some(why) = subject.answer(concern) {
        html.raw("<p>").words("Left as it is").raw(": ");
        html.append(&reason(&why)).raw(".</p>\n");
    }
    html.raw("</article>\n");
}
