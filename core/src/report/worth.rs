//! What the checks found: sentence, numbers, what it rests on, where the limit is published.

use super::Section;
use super::html::{Facts, Html};
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
    let mut any = false;
    for (concern, number) in subject.concerns.iter().zip(1..).filter(|(concern, _)| stands(subject, concern))
    {
        any = true;
        one(subject, concern, number, &mut body);
    }
    any.then_some(Section { id: "worth", title: "Worth a look", body })
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
        html.raw("<p>Left as it is: ");
        let why = if why.trim().is_empty() { Html::of("no reason given") } else { Html::by(&why) };
        html.append(&why).raw(".</p>\n");
    }
    html.raw("</article>\n");
}
