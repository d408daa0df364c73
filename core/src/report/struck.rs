//! Earlier words of an entry that count no more: struck with a reason, or written anew.

use super::html::Html;
use super::subject::Subject;
use crate::book::{Entry, Standing};
use crate::record::{EntryId, Statement};

/// What was said once.
pub(super) struct Earlier<'a> {
    /// The words.
    pub said: &'a Statement,
    /// Why they count no more.
    pub why: Html,
}

/// The words of this entry that count no more, the first ones first.
pub(super) fn earlier<'a>(subject: &Subject<'a>, entry: &'a Entry) -> Vec<Earlier<'a>> {
    let book = subject.given.book;
    let Some(said) = entry.statement() else { return Vec::new() };
    match subject.given.fold.standing.get(&entry.id) {
        Some(Standing::Struck { by }) => {
            let why = match book.get(by).and_then(Entry::statement) {
                Some(Statement::Strike { why, .. }) => why.trim(),
                _ => "",
            };
            let mut words = Html::of(if why.is_empty() { "Struck, no reason given" } else { "Struck: " });
            if !why.is_empty() {
                words.said(why);
            }
            vec![Earlier { said, why: words }]
        }
        Some(Standing::Corrected { by }) => {
            let anew = |said| Earlier { said, why: Html::of("Struck: written anew") };
            let others =
                book.entries().filter(|other| other.id != *by).filter_map(|other| corrects(other, &entry.id));
            std::iter::once(said).chain(others).map(anew).collect()
        }
        _ => Vec::new(),
    }
}

/// What a correction of this entry says.
fn corrects<'a>(other: &'a Entry, of: &EntryId) -> Option<&'a Statement> {
    match other.statement()? {
        Statement::Correct { entry, now } if entry == of => Some(now),
        _ => None,
    }
}

/// Words with a line through them.
pub(super) fn through(words: &str) -> Html {
    let mut html = Html::default();
    html.raw("<s>").words(words).raw("</s>");
    html
}
