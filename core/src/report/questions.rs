//! What was asked back, and what was answered.

use super::Section;
use super::html::{Html, Sort, Table};
use super::moment::moment;
use super::subject::Subject;
use crate::book::Standing;
use crate::checks::{Asked, questions};
use crate::record::{AskFor, EntryId, Measurement, Statement};
use crate::units::{format_height, format_length};

pub(super) fn section(subject: &Subject<'_>) -> Option<Section> {
    let all = questions(subject.given.book, subject.given.fold);
    let mut table = Table::new(
        "Questions, those without an answer first",
        &[
            ("Asked for", Sort::Words),
            ("Where", Sort::Words),
            ("Question", Sort::Words),
            ("When", Sort::Words),
            ("Answer", Sort::Words),
        ],
    );
    let (open, answered): (Vec<&Asked>, Vec<&Asked>) = all.iter().partition(|asked| asked.is_open());
    for asked in open.into_iter().chain(answered) {
        table.row(vec![
            Html::of(wanted(asked.wants)),
            place(subject, asked),
            Html::by_if(&asked.question.what.text),
            Html::of(&moment(asked.question.at_ms).unwrap_or_default()),
            answer(subject, asked),
        ]);
    }
    let mut body = Html::default();
    table.write(&mut body);
    (!all.is_empty()).then_some(Section { id: "questions", title: "Questions and answers", body })
}

const fn wanted(wants: AskFor) -> &'static str {
    match wants {
        AskFor::Tape => "a tape",
        AskFor::Height => "a height",
        AskFor::Photo => "a photo",
        AskFor::Words => "words",
    }
}

fn place(subject: &Subject<'_>, asked: &Asked) -> Html {
    let photo =
        asked.of.as_ref().and_then(|of| subject.record.photos.iter().position(|photo| photo.entry == *of));
    match photo {
        Some(number) => Html::of(&say!("photo {}", number + 1)),
        None => subject.place(&asked.question.what.at),
    }
}

/// The words of the answers, and the readings that answer.
fn answer(subject: &Subject<'_>, asked: &Asked) -> Html {
    if asked.is_open() {
        return Html::of("still open");
    }
    let mut all = Html::default();
    for note in &asked.answers {
        for id in note.what.answers.iter().flat_map(|answers| &answers.by) {
            all.append(&Html::of(&reading(subject, id))).raw(" ");
        }
        if !note.what.text.is_empty() {
            all.append(&Html::by(&note.what.text)).raw(" ");
        }
    }
    all
}

/// What an entry that answers says, in short; where it is found for the rest.
fn reading(subject: &Subject<'_>, id: &EntryId) -> String {
    if matches!(subject.given.fold.standing.get(id), None | Some(Standing::Struck { .. })) {
        return say!("a reading that was struck");
    }
    let tie = subject.record.measurements.iter().find(|measured| measured.entry == *id);
    if let Some(Measurement::Tie { reading, .. }) = tie.map(|measured| &measured.what) {
        return format_length(reading.value, subject.units.into());
    }
    if let Some(level) = subject.record.levels.iter().find(|level| level.entry == *id) {
        return match subject.given.ground.levels.points.get(&level.what.point) {
            Some(height) => say!("height {}", format_height(height.above, subject.units)),
            None => say!("see Heights"),
        };
    }
    let photo = subject.record.photos.iter().position(|photo| photo.entry == *id);
    match (photo, subject.given.book.get(id).and_then(|entry| entry.statement())) {
        (Some(number), _) => say!("photo {}", number + 1),
        (None, Some(Statement::Correct { .. })) => say!("a correction"),
        (None, _) => say!("an entry of the book"),
    }
}
