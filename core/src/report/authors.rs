//! Who wrote what.

use super::Section;
use super::html::{Html, Sort, Table};
use super::moment::moment;
use super::subject::Subject;
use crate::book::Standing;
use crate::record::AuthorId;
use litemap::LiteMap;

/// How many entries of one author, and when the first and the last.
#[derive(Clone, Copy)]
struct Wrote {
    entries: usize,
    first: i64,
    last: i64,
}

pub(super) fn section(subject: &Subject<'_>) -> Option<Section> {
    let mut authors: LiteMap<&AuthorId, Wrote> = LiteMap::new();
    for entry in subject.given.book.entries() {
        let at = entry.at_ms;
        match authors.get_mut(&entry.author) {
            Some(known) => {
                *known = Wrote {
                    entries: known.entries + 1,
                    first: known.first.min(at),
                    last: known.last.max(at),
                };
            }
            None => {
                authors.insert(&entry.author, Wrote { entries: 1, first: at, last: at });
            }
        }
    }
    let mut table = Table::new(
        "Who wrote, as they want to be called, else by what their phone calls them; times are UTC, by their clocks",
        &[("Who", Sort::Words), ("Entries", Sort::Figures), ("First", Sort::Words), ("Last", Sort::Words)],
    );
    let time = |at| Html::of(&moment(at).unwrap_or_else(|| say!("not said")));
    for (author, wrote) in &authors {
        table.row(vec![
            Html::by(subject.given.fold.record.called(author).unwrap_or(author.as_str())),
            Html::of(&wrote.entries.to_string()),
            time(wrote.first),
            time(wrote.last),
        ]);
    }
    let mut body = Html::default();
    let standing = || subject.given.fold.standing.values();
    let struck = standing().filter(|s| matches!(s, Standing::Struck { .. })).count();
    let anew = standing().filter(|s| matches!(s, Standing::Corrected { .. })).count();
    table.write(&mut body);
    body.paragraph(&say!(
        "Nothing is ever rubbed out: of all entries {struck} are struck and {anew} written anew; the field book holds them."
    ));
    for objection in &subject.given.fold.objections {
        body.raw("<p>").words(&objection.to_string()).raw(".</p>\n");
    }
    (!authors.is_empty()).then_some(Section { id: "authors", title: "Who wrote what", body })
}
