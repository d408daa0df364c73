//! What was told, what was left open with its reason, and what is still open.

use super::Section;
use super::html::{Html, Sort, Table};
use super::subject::Subject;
use crate::checks::{Mend, Weight};
use crate::exchange::words::misread;
use crate::language::tr;
use crate::record::{Note, topic_of};
use crate::sheet::words::plain;
use crate::units::day;

/// Notes of the visit. What was told in confidence stays in the book.
pub(super) fn section(subject: &Subject<'_>) -> Option<Section> {
    let open = |note: &Note| !topic_of(&note.topic).is_some_and(|topic| topic.confidential);
    let mut table = Table::new(
        "Notes of the visit",
        &[
            ("About", Sort::Words),
            ("Where", Sort::Words),
            ("When", Sort::Words),
            ("What was told or seen", Sort::Words),
        ],
    );
    let mut any = false;
    for note in
        subject.notes.iter().map(|note| &note.what).filter(|note| note.settles.is_empty() && open(note))
    {
        any = true;
        let topic =
            topic_of(&note.topic).map_or_else(|| plain(&note.topic), |topic| tr(topic.name).to_owned());
        table.row(vec![
            Html::by(&topic),
            subject.place(&note.at),
            Html::by_if(&day(&note.when)),
            Html::by_if(&note.text),
        ]);
    }
    let mut body = Html::default();
    table.write(&mut body);
    any.then_some(Section { id: "notes", title: "Notes of the visit", body })
}

/// Lines of the list before leaving that somebody answered.
pub(super) fn left(subject: &Subject<'_>) -> Option<Section> {
    let mut table =
        Table::new("Left as it is, with the reason", &[("What", Sort::Words), ("Reason", Sort::Words)]);
    let mut any = false;
    for line in &subject.lines {
        let Some(answer) = &line.answer else { continue };
        any = true;
        let why = answer.why.trim();
        let why = if why.is_empty() { Html::of("no reason given") } else { Html::by(why) };
        table.row(vec![Html::of(&line.what), why]);
    }
    let mut body = Html::default();
    table.write(&mut body);
    any.then_some(Section { id: "left", title: "Left open, with the reason", body })
}

/// Lines that nobody answered and nobody mended, but for what may only be forgotten or made surer.
pub(super) fn open(subject: &Subject<'_>) -> Option<Section> {
    let pressing =
        |weight| matches!(weight, Weight::Start | Weight::Wrong | Weight::Unfinished | Weight::Visit);
    let mut table = Table::new("Still to do", &[("What", Sort::Words), ("What to do", Sort::Words)]);
    let mut any = false;
    // Where readings contradict, which of them: the list before leaving sends people to a page of its own.
    let mut suspects: Vec<(String, String)> =
        subject.given.adjustment.findings.iter().filter_map(|found| misread(subject.record, found)).collect();
    for line in subject.lines.iter().filter(|line| line.is_open() && pressing(line.weight)) {
        any = true;
        table.row(vec![Html::of(&line.what), Html::of(&line.how)]);
        if line.mend == Mend::Doubts {
            suspects.drain(..).for_each(|(what, how)| table.row(vec![Html::of(&what), Html::of(&how)]));
        }
    }
    any |= !suspects.is_empty();
    suspects.iter().for_each(|(what, how)| table.row(vec![Html::of(what), Html::of(how)]));
    let mut body = Html::default();
    table.write(&mut body);
    any.then_some(Section { id: "open", title: "Still open", body })
}
