//! The program's words in other languages: everything that is said has its words, with the same gaps, and nothing
//! stands in a translators' file that the program does not say. The words are looked for in the source, by other code
//! than the macro that finds them.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use swingtie_core::book::{Book, fold};
use swingtie_core::checks::lines;
use swingtie_core::language::speak;
use swingtie_core::network::adjust;
use swingtie_core::plan::Plan;
use swingtie_core::record::{Sort, asked, groups, row};
use swingtie_tests::hostile::files;
use swingtie_tests::scenario::{Options, scenario};
use swingtie_xtask::{languages, run::workspace};

/// The program's sources in a folder, tests left out.
fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("a folder of the project") {
        let path = entry.expect("a file of the project").path();
        let name = path.to_string_lossy().into_owned();
        if path.is_dir() {
            found.extend(sources(&path));
        } else if name.ends_with(".rs") && !name.ends_with("tests.rs") && !name.contains("/tests/") {
            found.push(path);
        }
    }
    found
}

/// All texts of the program's sources, tests left out, as they are when the program runs; and whether `say!` says it.
fn said() -> BTreeMap<String, bool> {
    let mut found = BTreeMap::new();
    for file in ["app/src", "core/src"].iter().flat_map(|part| sources(&workspace().join(part))) {
        literals(&fs::read_to_string(file).expect("a text"), &mut found);
    }
    // What the page says before the program has come, or after it has gone.
    literals(&fs::read_to_string(workspace().join("public/start.js")).expect("a text"), &mut found);
    found
}

fn literals(source: &str, found: &mut BTreeMap<String, bool>) {
    let tests = source.match_indices("#[cfg(test)]\nmod ").find(|(at, _)| {
        // What is in a file of its own is passed over by its name.
        source[*at..].lines().nth(1).is_some_and(|line| line.ends_with('{'))
    });
    let source = tests.map_or(source, |(at, _)| &source[..at]);
    let mut rest = source;
    let mut before = String::new();
    while let Some(sign) = rest.chars().next() {
        if rest.starts_with("//") {
            rest = rest.split_once('\n').map_or("", |(_, after)| after);
        } else if rest.starts_with("'\"'") || rest.starts_with("'\\\"'") || rest.starts_with("b'\"'") {
            rest = rest.split_once("\"'").map_or("", |(_, after)| after);
        } else if sign == '"' {
            let (text, after) = literal(&rest[1..]);
            let before_it = before.trim_end();
            // The macro, or what the page's script has in its place.
            let scripts = before_it.strip_suffix("say(").is_some_and(|rest| rest.ends_with([' ', '(', '\n']));
            let by_say = before_it.ends_with("say!(") || scripts;
            let known = found.entry(text).or_default();
            *known |= by_say;
            rest = after;
            before.clear();
        } else {
            before.push(sign);
            rest = &rest[sign.len_utf8()..];
        }
    }
}

/// What a literal holds, and what comes after it.
fn literal(rest: &str) -> (String, &str) {
    let mut text = String::new();
    let mut signs = rest.char_indices();
    while let Some((at, sign)) = signs.next() {
        match sign {
            '"' => return (text, &rest[at + 1..]),
            '\\' => match signs.next().map(|(_, sign)| sign) {
                Some('n') => text.push('\n'),
                Some('t') => text.push('\t'),
                Some('\n') => {
                    // A line that goes on: its indent is no part of the text.
                    let spaces = signs.as_str().len() - signs.as_str().trim_start().len();
                    for _ in 0..signs.as_str()[..spaces].chars().count() {
                        signs.next();
                    }
                }
                Some('u') => {
                    let code: String =
                        signs.by_ref().map(|(_, c)| c).skip(1).take_while(|c| *c != '}').collect();
                    text.extend(u32::from_str_radix(&code, 16).ok().and_then(char::from_u32));
                }
                Some(other) => text.push(other),
                None => {}
            },
            sign => text.push(sign),
        }
    }
    (text, "")
}

/// The gaps of a text, in order.
fn gaps(text: &str) -> Vec<String> {
    let text = text.replace("{{", "").replace("}}", "");
    let inside = text.split('{').skip(1).filter_map(|rest| rest.split_once('}')).map(|(gap, _)| gap);
    inside.map(|gap| gap.split(':').next().unwrap_or_default().to_owned()).collect()
}

fn has_words(text: &str) -> bool {
    let mut bare = text.replace("{{", "").replace("}}", "");
    while let (Some(start), Some(end)) = (bare.find('{'), bare.find('}')) {
        if end < start {
            break;
        }
        bare.replace_range(start..=end, " ");
    }
    bare.split(|c: char| !c.is_alphabetic()).any(|word| word.chars().count() > 1)
}

fn spanish() -> BTreeMap<String, Option<String>> {
    languages::texts(&workspace().join("public/words/es.po"))
        .expect("a translators' file")
        .into_iter()
        .collect()
}

#[test]
fn everything_that_is_said_has_its_words_in_spanish() {
    let (said, spanish) = (said(), spanish());
    let by_say: Vec<&String> =
        said.iter().filter(|(text, by)| **by && has_words(text)).map(|(text, _)| text).collect();
    assert!(by_say.len() > 800, "only {} texts found", by_say.len());
    let missing: Vec<&&String> =
        by_say.iter().filter(|text| !spanish.get(**text).is_some_and(Option::is_some)).collect();
    assert!(missing.is_empty(), "{} without words: {missing:#?}", missing.len());
}

/// What the app says without gaps are its constants, most of them sentences and labels.
#[test]
fn the_words_of_the_screens_are_there() {
    let spanish = spanish();
    let mut missing = BTreeSet::new();
    let folder = workspace().join("app/src/words");
    let mut paths = vec![folder];
    while let Some(path) = paths.pop() {
        if path.is_dir() {
            paths.extend(fs::read_dir(&path).expect("a folder").filter_map(|entry| Some(entry.ok()?.path())));
            continue;
        }
        if path.ends_with("tests.rs") {
            continue;
        }
        let mut found = BTreeMap::new();
        literals(&fs::read_to_string(&path).expect("a text"), &mut found);
        let sentences = found
            .into_keys()
            .filter(|text| text.contains(' ') && text.starts_with(char::is_uppercase) && has_words(text));
        missing.extend(sentences.filter(|text| !spanish.contains_key(text)));
    }
    assert!(missing.is_empty(), "{} without words: {missing:#?}", missing.len());
}

/// What is asked about the things of a yard stands in a table of the core, which no `say!` says.
#[test]
fn what_is_asked_about_things_has_its_words() {
    let spanish = spanish();
    let mut missing = BTreeSet::new();
    for (group, kinds) in groups() {
        let mut texts = vec![group];
        for kind in kinds {
            texts.push(kind.name);
            for row in asked(kind.key).rows() {
                texts.extend([row.name, row.help]);
                // In sentences a row is called by its key.
                let key = row.key.replace('_', " ");
                if !spanish.contains_key(&key) {
                    missing.insert(key);
                }
                if let Sort::Choice(words) = row.sort {
                    texts.extend(words);
                }
            }
        }
        // Where a gate swings is "in" too, but inches are.
        let without = |text: &&str| has_words(text) && *text != "in" && !spanish.contains_key(*text);
        missing.extend(texts.into_iter().filter(without).map(str::to_owned));
    }
    assert!(missing.is_empty(), "{} without words: {missing:#?}", missing.len());
}

/// A part of the page that follows something says its words through `live`, which looks them up: what has a name is
/// not seen to be such a part by `markup!`.
#[test]
fn words_that_follow_something_are_looked_up() {
    let mut wrong = Vec::new();
    for file in sources(&workspace().join("app/src")) {
        let source = fs::read_to_string(&file).expect("a text");
        for (at, start) in source.match_indices("let ") {
            let rest = &source[at + start.len()..];
            // As far as its function goes.
            let rest = rest.split_once("\n}\n").map_or(rest, |(inside, _)| inside);
            let Some((name, body)) = rest.split_once(" = move || ") else { continue };
            if name.contains(|c: char| !c.is_alphanumeric() && c != '_') {
                continue;
            }
            let body = body.split_once(";\n").map_or(body, |(body, _)| body);
            let is_constant = |path: &str| {
                path.starts_with(|c: char| c.is_ascii_uppercase())
                    && path.chars().take_while(|c| c.is_ascii_uppercase() || *c == '_').count() > 3
            };
            if body.split("::").skip(1).any(is_constant) && rest.contains(&format!(">{{{name}}}<")) {
                wrong.push(format!("{}: {name}", file.display()));
            }
        }
    }
    assert!(wrong.is_empty(), "not through `live`: {wrong:#?}");
}

#[test]
fn gaps_are_the_same_and_nothing_is_left_over() {
    let said = said();
    let mut wrong = Vec::new();
    for (english, other) in spanish() {
        let is_row = || row(&english.replace(' ', "_")).is_some();
        if !said.contains_key(&english) && !is_row() {
            wrong.push(format!("not said by the program: {english:?}"));
        }
        let Some(other) = other else { continue };
        let (mut wanted, mut there) = (gaps(&english), gaps(&other));
        // Nameless gaps may be turned round by their numbers.
        let numbered = |gap: &String| gap.is_empty() || gap.parse::<usize>().is_ok();
        let nameless =
            (wanted.iter().filter(|g| numbered(g)).count(), there.iter().filter(|g| numbered(g)).count());
        wanted.retain(|gap| !numbered(gap));
        there.retain(|gap| !numbered(gap));
        wanted.sort();
        there.sort();
        if wanted != there || nameless.0 != nameless.1 {
            wrong.push(format!("other gaps: {english:?}: {other:?}"));
        }
        if english.trim_end().len() == english.len() && other.trim_end().len() != other.len()
            || english.ends_with(' ') != other.ends_with(' ')
        {
            wrong.push(format!("other spaces: {english:?}: {other:?}"));
        }
    }
    assert!(wrong.is_empty(), "{} wrong: {wrong:#?}", wrong.len());
}

/// A book answers lines of the list by their keys, on phones of several languages.
#[test]
fn keys_and_numbers_are_the_same_in_every_language() {
    let table = languages::table(&workspace().join("public/words/es.po")).expect("a table");
    let books = [
        scenario(1).book(&Options::default()),
        scenario(2).book(&Options::default()),
        Book::from_json_lines(include_str!("../public/demo.jsonl")).0,
    ];
    let list = || -> Vec<(String, String)> {
        let lines = books.iter().flat_map(|book| {
            let record = fold(book).record;
            let adjustment = adjust(&record);
            lines(&record, &adjustment, &Plan::build(&record, &adjustment))
        });
        lines.map(|line| (line.keys.join(" | "), line.what)).collect()
    };
    let (english, tables) = (list(), books.iter().map(numbers).collect::<Vec<_>>());
    speak("es", table, ',');
    let spanish = list();
    assert!(english.len() > 20, "{} lines", english.len());
    for ((key, what), (other, said)) in english.iter().zip(&spanish) {
        assert_eq!(key, other);
        assert_ne!(what, said, "{key}");
    }
    assert_eq!(english.len(), spanish.len());
    assert_eq!(tables, books.iter().map(numbers).collect::<Vec<_>>());
    no_english_in(&books);
}

/// Sheets and reports that are made in Spanish say nothing of their own in English.
fn no_english_in(books: &[Book]) {
    let texts = spanish().into_iter().filter_map(|(english, other)| Some((english, other?)));
    let texts: BTreeMap<String, String> = texts.filter(|(english, other)| english != other).collect();
    let is_clause = |text: &&str| text.len() > 14 && text.contains(' ') && !text.contains('{');
    let clauses: Vec<&str> = texts.keys().map(|text| text.trim()).filter(is_clause).collect();
    let own = |book: &Book| book.to_json_lines().split('"').map(str::to_lowercase).collect::<Vec<_>>();
    let own: BTreeSet<String> = books.iter().flat_map(own).collect();
    let mut found = BTreeSet::new();
    for (name, text) in
        books.iter().flat_map(files).filter(|(name, _)| name.ends_with(".svg") || name.ends_with(".html"))
    {
        let said = text.split('>').filter_map(|part| part.split_once('<')).map(|(said, _)| said.trim());
        let said = said.filter(|said| !said.is_empty());
        let mut count = 0;
        for said in said {
            count += 1;
            let plain = said.replace("&quot;", "\"").replace("&#39;", "'").replace("&amp;", "&");
            // Somebody's own words may be the same.
            if own.contains(&plain.to_lowercase()) {
                continue;
            }
            let alone = texts.get_key_value(&plain).map(|(english, _)| english.as_str());
            let alone = alone.filter(|english| english.len() > 3 && english.starts_with(char::is_uppercase));
            // A clause within a sentence.
            let clause = || clauses.iter().copied().find(|clause| plain.contains(*clause));
            if let Some(english) = languages::english_in(&plain, &texts).or(alone).or_else(clause) {
                found.insert(format!("{name}: {plain:?} ({english:?})"));
            }
        }
        assert!(count > 100, "{name} says {count} things");
    }
    assert!(found.is_empty(), "{} in English: {found:#?}", found.len());
}

/// The cells of the table of points that are numbers.
fn numbers(book: &Book) -> Vec<Vec<f64>> {
    let files = files(book);
    let (_, table) = files.iter().find(|(name, _)| name == "points.csv").expect("the table of points");
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    reader
        .records()
        .map(|row| row.expect("a row").iter().filter_map(|cell| cell.parse().ok()).collect())
        .collect()
}
