//! The whole survey as one page to read, print and send: a single HTML file that fetches nothing and runs nothing.
//!
//! It says what the other files hold as data: what was seen, how well it is known, every reading with what became of
//! it. Pictures are handed in as bytes, since core reads no files. No script, and a policy in the page that lets none
//! run; every word of a person is escaped and kept from turning the reading order of what stands beside it.

mod authors;
mod html;
mod levels;
mod moment;
mod notes;
mod overlay;
mod photos;
mod points;
mod problems;
mod questions;
mod readings;
mod struck;
mod subject;
mod things;
mod title;
mod worth;

use crate::book::{Book, Fold};
use crate::language;
use crate::network::Adjustment;
use crate::plan::{Ground, Plan};
use crate::record::PhotoId;
use crate::sheet;
use html::Html;
use litemap::LiteMap;
use subject::Subject;

/// What a report is made of.
#[derive(Clone, Copy, Debug)]
pub struct Report<'a> {
    /// Every entry: who wrote what, and what was struck.
    pub book: &'a Book,
    /// The book folded, heights laid.
    pub fold: &'a Fold,
    /// The adjustment of its record.
    pub adjustment: &'a Adjustment,
    /// The plan of both.
    pub plan: &'a Plan,
    /// The ground of record and plan.
    pub ground: &'a Ground,
    /// How the sheet is drawn: turn, layers, revision. Paper and scale are the report's own choice.
    pub sheet: &'a sheet::Options,
    /// Small pictures (JPEG, PNG or WebP) by their photo's name. A photo without one is listed all the same.
    pub pictures: &'a LiteMap<PhotoId, Vec<u8>>,
}

/// One section of the page.
struct Section {
    id: &'static str,
    title: &'static str,
    body: Html,
}

/// Nothing but what stands in the page, and no script at all.
const POLICY: &str =
    "default-src 'none'; img-src data:; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

/// The page, UTF-8. The same input gives the same bytes; it never fails: an empty book gives a page that says so.
#[must_use]
pub fn write(report: &Report<'_>) -> String {
    let subject = Subject::of(report);
    let sections: Vec<Section> = [
        notes::open(&subject),
        questions::section(&subject),
        title::plan(&subject),
        problems::section(&subject),
        worth::section(&subject),
        things::section(&subject),
        things::marks(&subject),
        points::section(&subject),
        readings::section(&subject),
        levels::section(&subject),
        notes::section(&subject),
        notes::left(&subject),
        photos::section(&subject),
        authors::section(&subject),
        title::cautions(&subject),
    ]
    .into_iter()
    .flatten()
    .collect();
    let mut page = Html::default();
    page.raw("<!DOCTYPE html>\n<html lang=\"")
        .words(language::tag())
        .raw("\">\n<head>\n<meta charset=\"utf-8\">\n");
    page.raw("<meta http-equiv=\"Content-Security-Policy\" content=\"").raw(POLICY).raw("\">\n");
    page.raw("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>");
    page.plain(&say!("Site report: {}", title::name(&subject))).raw("</title>\n<style>\n");
    page.raw(include_str!("style.css")).raw("</style>\n</head>\n<body>\n");
    title::write(&subject, &mut page);
    page.raw("<nav aria-labelledby=\"contents\"><h2 id=\"contents\">").words("Contents").raw("</h2><ul>");
    for section in &sections {
        page.raw("<li><a href=\"#").raw(section.id).raw("\">").words(section.title).raw("</a></li>");
    }
    page.raw("</ul></nav>\n<main>\n");
    for Section { id, title, body } in &sections {
        page.raw("<section id=\"").raw(id).raw("\" aria-labelledby=\"").raw(id).raw("-title\"><h2 id=\"");
        page.raw(id).raw("-title\">").words(title).raw("</h2>\n").append(body).raw("</section>\n");
    }
    page.raw("</main>\n</body>\n</html>\n");
    page.into_text()
}
