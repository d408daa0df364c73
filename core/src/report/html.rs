//! Writes HTML. Markup comes from this program's own text only, which the compiler sees to; all words are escaped.

use crate::language::tr;
use crate::sheet::escape;

/// A piece of a page.
#[derive(Clone, Debug, Default)]
pub(super) struct Html(String);

impl Html {
    /// Only words of this program.
    pub fn of(words: &str) -> Self {
        let mut html = Self::default();
        html.words(words);
        html
    }

    /// Only a person's words.
    pub fn by(words: &str) -> Self {
        let mut html = Self::default();
        html.said(words);
        html
    }

    /// A person's words, nothing where there are none.
    pub fn by_if(words: &str) -> Self {
        if words.trim().is_empty() { Self::default() } else { Self::by(words) }
    }

    /// Markup.
    pub fn raw(&mut self, markup: &'static str) -> &mut Self {
        self.0.push_str(markup);
        self
    }

    /// Words of this program, names among them. What is read from right to left in it stands by itself: else a number
    /// after such a name would be shown with its parts in another order (Unicode Standard Annex 9, isolates).
    pub fn words(&mut self, words: &str) -> &mut Self {
        let mut rest = tr(words);
        while let Some(start) = rest.find(is_right_to_left) {
            let (before, from) = rest.split_at(start);
            let run =
                from.find(|c| !(is_right_to_left(c) || c == ' ')).map_or(from, |end| from.split_at(end).0);
            let run = run.trim_end();
            self.plain(before).raw("<bdi>").plain(run).raw("</bdi>");
            rest = from.strip_prefix(run).unwrap_or_default();
        }
        self.plain(rest)
    }

    /// Words where there can be no markup: in a quoted attribute, in the title.
    pub fn plain(&mut self, words: &str) -> &mut Self {
        self.0.push_str(&escape(words));
        self
    }

    /// A person's words: whatever way they are read, what stands beside them is read its own way. Their lines stay.
    pub fn said(&mut self, words: &str) -> &mut Self {
        self.raw("<bdi>");
        for (n, line) in words.trim().lines().enumerate() {
            if n > 0 {
                self.raw("<br>");
            }
            self.plain(line);
        }
        self.raw("</bdi>")
    }

    /// A number, for ids and links.
    pub fn number(&mut self, number: usize) -> &mut Self {
        self.0.push_str(&number.to_string());
        self
    }

    /// Bytes as a `data:` address.
    pub fn data(&mut self, media_type: &'static str, bytes: &[u8]) -> &mut Self {
        use base64::{Engine, prelude::BASE64_STANDARD};
        self.raw("data:").raw(media_type).raw(";base64,");
        BASE64_STANDARD.encode_string(bytes, &mut self.0);
        self
    }

    /// Another piece.
    pub fn append(&mut self, other: &Self) -> &mut Self {
        self.0.push_str(&other.0);
        self
    }

    /// A paragraph of this program's words.
    pub fn paragraph(&mut self, words: &str) -> &mut Self {
        self.raw("<p>").words(words).raw("</p>\n")
    }

    /// A list of sentences.
    pub fn list<'a>(&mut self, sentences: impl IntoIterator<Item = &'a str>) -> &mut Self {
        self.raw("<ul>");
        for sentence in sentences {
            self.raw("<li>").words(sentence).raw("</li>");
        }
        self.raw("</ul>\n")
    }

    /// Pieces one below the other.
    pub fn lines(pieces: &[Self]) -> Self {
        let mut all = Self::default();
        for (n, piece) in pieces.iter().filter(|piece| !piece.is_empty()).enumerate() {
            if n > 0 {
                all.raw("<br>");
            }
            all.append(piece);
        }
        all
    }

    /// Whether nothing is written.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The page.
    pub fn into_text(self) -> String {
        self.0
    }
}

/// Names and values one below the other; what was not said is left out, or said to be so.
#[derive(Default)]
pub(super) struct Facts(Vec<(String, Html)>);

impl Facts {
    /// A fact; nothing when empty.
    pub fn add(&mut self, name: &str, value: Html) {
        if !value.is_empty() {
            self.0.push((name.to_owned(), value));
        }
    }

    /// What a person said, where it was said.
    pub fn said(&mut self, name: &str, words: &str) {
        self.add(name, Html::by_if(words));
    }

    /// As a list of names and values.
    pub fn write(&self, html: &mut Html) {
        if self.0.is_empty() {
            return;
        }
        html.raw("<dl>");
        for (name, value) in &self.0 {
            html.raw("<div><dt>").words(name).raw("</dt><dd>").append(value).raw("</dd></div>");
        }
        html.raw("</dl>\n");
    }
}

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sort {
    /// Words, which may run over several lines.
    Words,
    /// Figures, set to the right.
    Figures,
}

/// A table: its first column names the row.
#[derive(Debug, Default)]
pub(super) struct Table {
    caption: String,
    heads: Vec<(&'static str, Sort)>,
    rows: Vec<Vec<Html>>,
    foot: Vec<Html>,
}

impl Table {
    /// An empty one.
    pub fn new(caption: &str, heads: &[(&'static str, Sort)]) -> Self {
        Self { caption: caption.to_owned(), heads: heads.to_vec(), ..Self::default() }
    }

    /// A row of as many cells as there are columns.
    pub fn row(&mut self, cells: Vec<Html>) {
        self.rows.push(cells);
    }

    /// The last row, of sums.
    pub fn foot(&mut self, cells: Vec<Html>) {
        self.foot = cells;
    }

    /// The table without the columns nothing stands in, in a box that is pushed sideways where it is too wide.
    pub fn write(&self, html: &mut Html) {
        let filled = |n: usize| {
            let cell = |row: &Vec<Html>| row.get(n).is_some_and(|cell| !cell.is_empty());
            n == 0 || self.rows.iter().any(cell)
        };
        let kept: Vec<bool> = (0..self.heads.len()).map(filled).collect();
        html.raw("<div class=\"wide\" role=\"group\" tabindex=\"0\" aria-label=\"").plain(&self.caption);
        html.raw("\"><table><caption>").words(&self.caption).raw("</caption><thead><tr>");
        for ((name, sort), _) in self.heads.iter().zip(&kept).filter(|(_, kept)| **kept) {
            html.raw("<th scope=\"col\"").raw(class(*sort)).raw(">").words(name).raw("</th>");
        }
        html.raw("</tr></thead>\n<tbody>");
        for row in &self.rows {
            self.cells(html, row, &kept);
        }
        html.raw("</tbody>");
        if !self.foot.is_empty() {
            html.raw("<tfoot>");
            self.cells(html, &self.foot, &kept);
            html.raw("</tfoot>");
        }
        html.raw("</table></div>\n");
    }

    fn cells(&self, html: &mut Html, row: &[Html], kept: &[bool]) {
        html.raw("<tr>");
        let cells = row.iter().zip(&self.heads).zip(kept).filter(|(_, kept)| **kept);
        for (n, ((cell, (_, sort)), _)) in cells.enumerate() {
            if n == 0 {
                html.raw("<th scope=\"row\"").raw(class(*sort)).raw(">").append(cell).raw("</th>");
            } else {
                html.raw("<td").raw(class(*sort)).raw(">").append(cell).raw("</td>");
            }
        }
        html.raw("</tr>\n");
    }
}

const fn class(sort: Sort) -> &'static str {
    match sort {
        Sort::Words => "",
        Sort::Figures => " class=\"figures\"",
    }
}

/// Letters of the scripts that are read from right to left, by their blocks (Unicode Standard Annex 9, table 4).
const fn is_right_to_left(c: char) -> bool {
    matches!(c, '\u{590}'..='\u{8ff}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{feff}'
        | '\u{10800}'..='\u{10fff}' | '\u{1e800}'..='\u{1efff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_after_a_name_from_right_to_left_keeps_its_order() {
        let page = |words: &str| Html::of(words).into_text();
        assert_eq!(
            page("the tie H1 to \u{5d0}\u{5d1} \u{5d2}, 12' 6\""),
            "the tie H1 to <bdi>\u{5d0}\u{5d1} \u{5d2}</bdi>, 12&#39; 6&quot;"
        );
        assert_eq!(page("\u{627} 3 \u{628}"), "<bdi>\u{627}</bdi> 3 <bdi>\u{628}</bdi>");
        assert_eq!(page("<b>"), "&lt;b&gt;");
        assert_eq!(Html::by("a\n\u{5d0} 3").into_text(), "<bdi>a<br>\u{5d0} 3</bdi>");
    }
}
