//! The report by a browser's own parser (html5ever, which implements the HTML standard's tree building).

use super::each;
use scraper::{ElementRef, Html, Selector};
use std::collections::BTreeSet;
use swingtie_tests::hostile::WORDS;

fn all<'a>(page: &'a Html, what: &str) -> Vec<ElementRef<'a>> {
    page.select(&Selector::parse(what).expect("a selector")).collect()
}

fn pages() -> Vec<Html> {
    each("report.html").into_iter().map(Html::parse_document).collect()
}

#[test]
fn the_page_is_well_formed() {
    assert!(
        !Html::parse_document("<!DOCTYPE html><title>a</title><p>b</i>").errors.is_empty(),
        "the parser tells"
    );
    for page in pages() {
        assert_eq!(page.errors, Vec::<&str>::new());
        assert_eq!(page.root_element().attr("lang"), Some("en"));
        for one in ["h1", "main", "title", "nav", "header"] {
            assert_eq!(all(&page, one).len(), 1, "{one}");
        }
    }
}

/// Nothing runs and nothing is fetched: no element that could, no attribute that could, no address but of a picture in
/// the page or a place in it; and a policy that says so (Content Security Policy Level 3).
#[test]
fn nothing_in_the_page_runs_or_is_fetched() {
    const POLICY: &str = "meta[http-equiv=Content-Security-Policy]";
    // What this program itself writes.
    let known: BTreeSet<&str> =
        "html head meta title style body header p h1 h2 h3 bdi br dl div dt dd nav ul li a main \
        section figure img figcaption article table caption thead tbody tfoot tr th td s span \
        svg g path circle text"
            .split_whitespace()
            .collect();
    for page in pages() {
        let policy = all(&page, POLICY).first().and_then(|meta| meta.attr("content")).expect("a policy");
        assert!(
            policy.starts_with("default-src 'none'; img-src data:; style-src 'unsafe-inline'"),
            "{policy}"
        );
        // It rules from where it stands: before it nothing but the encoding.
        let head: Vec<&str> = all(&page, "head > *").iter().take(2).map(|e| e.value().name()).collect();
        assert_eq!(head, ["meta", "meta"]);
        let ids: Vec<&str> = all(&page, "[id]").iter().filter_map(|e| e.attr("id")).collect();
        assert_eq!(ids.iter().collect::<BTreeSet<_>>().len(), ids.len(), "an id stands twice");
        for element in all(&page, "*") {
            let name = element.value().name();
            assert!(known.contains(name), "element {name}");
            for (attribute, value) in element.value().attrs() {
                match attribute {
                    "href" => {
                        let place = value.strip_prefix('#').unwrap_or_else(|| panic!("{value} leads away"));
                        assert!(ids.contains(&place), "#{place} leads nowhere");
                    }
                    "src" => assert!(value.starts_with("data:image/"), "{value:.80}"),
                    // Of what was drawn over a photo: figures, and no word of anybody.
                    "viewBox" | "d" | "stroke-width" | "cx" | "cy" | "r" | "x" | "y" | "font-size" => {
                        let figures =
                            |c: char| c.is_ascii_digit() || matches!(c, ' ' | '.' | '-' | 'M' | 'L');
                        assert!(value.chars().all(figures), "{attribute}={value}");
                    }
                    "aria-hidden" | "preserveAspectRatio" => assert!(matches!(value, "true" | "none")),
                    "alt" | "aria-label" | "aria-labelledby" | "id" | "class" | "role" | "tabindex"
                    | "scope" | "lang" | "charset" | "name" | "content" | "http-equiv" | "loading" => {}
                    other => panic!("attribute {other} of {name}"),
                }
            }
        }
    }
}

/// Every word of a person is on the page, less what no page may hold and what would turn its order of reading.
#[test]
fn the_words_themselves_are_kept() {
    let texts: Vec<String> = pages().iter().map(|page| page.root_element().text().collect()).collect();
    let plain = |words: &str| -> String {
        let kept = |c: &char| !matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}' | '\u{61c}');
        let lost = |c: char| {
            if (c.is_control() && !c.is_whitespace()) || "\u{ffff}\u{1fffe}\u{fdd0}\u{85}".contains(c) {
                '\u{fffd}'
            } else {
                c
            }
        };
        words.lines().next().unwrap_or_default().chars().filter(kept).map(lost).collect()
    };
    for word in WORDS {
        assert!(texts.iter().all(|text| text.contains(&plain(word))), "{word:?} is lost");
    }
    for page in each("report.html") {
        let turning = |c: char| matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}' | '\u{61c}' | '\0');
        assert!(!page.contains(turning));
    }
}

/// What a screen reader needs (WCAG 2.2, techniques H39, H63, H37).
#[test]
fn tables_have_captions_and_heads_and_pictures_words() {
    for page in pages() {
        let (tables, captions) = (all(&page, "table").len(), all(&page, "table > caption").len());
        assert!(tables > 8 && tables == captions, "{tables} tables, {captions} captions");
        assert!(all(&page, "th").iter().all(|th| matches!(th.attr("scope"), Some("col" | "row"))));
        for row in all(&page, "tr") {
            assert_eq!(row.child_elements().next().map(|cell| cell.value().name()), Some("th"));
        }
        let pictures = all(&page, "img");
        assert!(
            pictures.len() > 3
                && pictures.iter().all(|img| img.attr("alt").is_some_and(|alt| !alt.is_empty()))
        );
    }
}
