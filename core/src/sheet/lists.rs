//! What was recorded, in words beside the drawing: problems, utility marks, things, notes, photos,
//! open questions, and what was left open with its reason.

use super::furniture::{Block, DIAMOND, Subject, TEXT, diamond, heading, paragraph};
use super::geometry::spot;
use super::labels::LEADING;
use super::pen::Face;
use super::picture::{Picture, Role};
use super::questions::{self, Question};
use super::text::{fit, width, wrap};
use super::utilities;
use super::words::{
    OTHER, Sentences, WORKED_OUT, capital, fate, full_name, known, name_of, own_name, plain, with,
};
use crate::checks::{Concern, Line};
use crate::language::tr;
use crate::plan::{PlacedPhoto, PlacedProblem, place_of};
use crate::record::{
    At, CATALOGUE, EntryId, Feature, MARK_FORM, Note, PointId, Recorded, Severity, UtilityMark, asked,
    caution, evidence, topic_of, trouble,
};
use crate::units::day;

/// Between a row's sign and its words, mm.
const SIGN: f64 = 14.5;
/// The most lines a row takes.
const LINES: usize = 6;

/// One list: its heading and its rows.
struct List {
    title: &'static str,
    rows: Vec<Block>,
    /// Whether it holds what can hurt somebody.
    pressing: bool,
}

/// How many rows all lists have together, whatever their width, and how many of them stand before the things: problems
/// and marks.
pub(super) fn count(subject: &Subject<'_>) -> (usize, usize) {
    let lists = lists(subject, 100.0);
    let rows = |pressing: bool| {
        let all = lists.iter().filter(|list| list.pressing || !pressing);
        all.map(|list| list.rows.len()).sum()
    };
    (rows(false), rows(true))
}

/// The lists, as many of their rows as `listed`, the most pressing first, and where the others are.
pub(super) fn blocks(subject: &Subject<'_>, wide: f64, listed: usize) -> Vec<Block> {
    let (mut blocks, mut left, mut elsewhere) = (Vec::new(), listed, Vec::new());
    let sheet = subject.number.and_then(|number| number.lists);
    for List { title, mut rows, .. } in lists(subject, wide) {
        let all = rows.len();
        rows.truncate(left);
        left -= rows.len();
        let missing = all - rows.len();
        if missing > 0 && rows.is_empty() {
            elsewhere.push(say!("{} ({missing})", tr(title).to_lowercase()));
        } else if all > 0 {
            blocks.push(heading(title));
            blocks.extend(rows);
            if missing > 0 {
                let rest = sheet.map_or_else(|| say!("see the book"), |sheet| say!("sheet {sheet}"));
                blocks.push(paragraph(&say!("… and {missing} more: {rest}."), wide));
            }
        }
    }
    if !elsewhere.is_empty() {
        // No longer than what stands there until the sheets are numbered.
        let rest = sheet.map_or_else(|| say!("Only in the book"), |sheet| say!("On sheet {sheet}"));
        blocks.push(heading("Lists"));
        blocks.push(paragraph(&say!("{rest}: {}.", elsewhere.join(", ")), wide));
    }
    blocks
}

/// The lists of which not every row is among the first `listed`, whole.
pub(super) fn others(subject: &Subject<'_>, wide: f64, listed: usize) -> Vec<Block> {
    let (mut blocks, mut left) = (Vec::new(), listed);
    for List { title, rows, .. } in lists(subject, wide) {
        let whole = rows.len() <= left;
        left = left.saturating_sub(rows.len());
        if !whole {
            blocks.push(heading(title));
            blocks.extend(rows);
        }
    }
    blocks
}

fn lists(subject: &Subject<'_>, wide: f64) -> Vec<List> {
    let layers = &subject.options.layers;
    let mut all = Vec::new();
    if subject.options.without_lists {
        return all;
    }
    if layers.problems {
        let rows = subject.plan.problems.iter().map(|p| problem(subject, p, wide)).collect();
        all.push(List { title: "Problems seen", rows, pressing: true });
    }
    if layers.utilities {
        let rows = subject.record.marks.iter().map(|m| mark(subject, &m.what, wide)).collect();
        all.push(List { title: "Utility marks", rows, pressing: true });
    }
    let rows = subject.questions.iter().map(|question| self::question(question, wide)).collect();
    all.push(List { title: "Questions open", rows, pressing: true });
    if layers.worth {
        let answered = |concern: &&Concern| subject.left.iter().any(|line| line.keys.contains(&concern.key));
        let open: Vec<&Concern> = subject.concerns.iter().filter(|concern| !answered(concern)).collect();
        let mut rows: Vec<Block> = open.iter().map(|concern| self::concern(concern, wide)).collect();
        if !rows.is_empty() {
            rows.push(paragraph(WORKED_OUT, wide));
        }
        all.push(List { title: "Worth a look", rows, pressing: false });
    }
    if layers.lists {
        all.push(List { title: "Things", rows: things(subject, wide), pressing: false });
        let notes = subject.record.notes();
        let open = |note: &Note| !topic_of(&note.topic).is_some_and(|topic| topic.confidential);
        let told = notes.iter().filter(|note| note.what.settles.is_empty() && open(&note.what));
        let rows = told.map(|note| self::note(subject, note, wide)).collect();
        all.push(List { title: "Notes of the visit", rows, pressing: false });
        let rows = subject.photos.iter().map(|photo| self::photo(subject, photo, wide)).collect();
        all.push(List { title: "Photos", rows, pressing: false });
        let rows = subject.left.iter().map(|line| left(line, wide)).collect();
        all.push(List { title: "Left as it is, with the reason", rows, pressing: false });
    }
    all
}

/// A row: a sign or label to the left, words beside it, no more than so many lines.
fn row(sign: Picture, words: &str, wide: f64, (least, lines): (f64, usize)) -> Block {
    let mut picture = sign;
    let mut y: f64 = 0.0;
    for line in wrap(words, TEXT, wide - SIGN).into_iter().take(lines) {
        picture.text(spot(SIGN, y + TEXT * 0.82), Face::of(TEXT), &line);
        y += TEXT * LEADING;
    }
    Block { picture, height: y.max(least), gap: 0.7, keep: false }
}

/// A row whose sign is a label.
fn labelled(label: &str, words: &str, wide: f64) -> Block {
    let mut sign = Picture::default();
    if !label.is_empty() {
        sign.text(spot(0.0, TEXT * 0.82), Face::of(TEXT).bold(), &fit(label, TEXT, true, SIGN - 1.2));
    }
    row(sign, words, wide, (TEXT * LEADING, LINES))
}

// ---- problems --------------------------------------------------------------------------------------

fn problem(subject: &Subject<'_>, placed: &PlacedProblem, wide: f64) -> Block {
    let mut sign = Picture::default();
    let size = DIAMOND + if placed.severity == Severity::Danger { 0.8 } else { 0.0 };
    diamond(&mut sign, spot(DIAMOND + 0.8, size), &placed.number.to_string(), placed.severity);
    let name = trouble(&placed.kind).map_or_else(|| plain(&placed.kind), |known| tr(known.name).to_owned());
    let mut words = Sentences::default();
    if placed.severity == Severity::Danger {
        words.add("DANGER");
    }
    let found = subject.record.problems.iter().find(|p| p.entry == placed.entry).map(|p| &p.what);
    let measured =
        found.map(|p| known(subject.record.site.units, &p.attributes, evidence(&p.kind))).unwrap_or_default();
    let note = capital(placed.note.trim());
    if placed.kind == OTHER && !note.is_empty() {
        words.add(&note);
        words.add(&capital(&measured));
    } else {
        words.add(&with(&name, &measured));
        words.add(&note);
    }
    if found.is_some_and(|p| p.told) {
        words.add("As told, not seen");
    }
    let shows = |photo: &&PlacedPhoto| {
        let note = subject.record.photos.iter().find(|p| p.entry == photo.entry).map(|p| &p.what);
        note.is_some_and(|note| {
            note.of.as_ref() == Some(&placed.entry) || found.is_some_and(|p| p.photos.contains(&note.id))
        })
    };
    let photos: Vec<String> = subject.photos.iter().filter(shows).map(|p| p.number.to_string()).collect();
    if !photos.is_empty() {
        words.add(&say!("Photo {}", photos.join(", ")));
    }
    if placed.at.is_none() {
        words.add("Not placed on the drawing");
    }
    words.add(caution(&placed.kind).unwrap_or_default());
    // A caution is never cut.
    row(sign, &words.0, wide, (2.0 * size, usize::MAX))
}

// ---- questions ---------------------------------------------------------------------------------------

fn question(question: &Question, wide: f64) -> Block {
    let mut sign = Picture::default();
    questions::sign(&mut sign, spot(DIAMOND + 0.8, questions::HIGH / 2.0), &question.name);
    row(sign, &question.words, wide, (questions::HIGH, LINES))
}

// ---- worth a look ----------------------------------------------------------------------------------

/// What was found alone: its numbers, what to do and its source stand in the program.
fn concern(concern: &Concern, wide: f64) -> Block {
    let mut words = Sentences::default();
    words.add(&concern.what);
    paragraph(&words.0, wide)
}

// ---- utility marks ---------------------------------------------------------------------------------

fn mark(subject: &Subject<'_>, m: &UtilityMark, wide: f64) -> Block {
    let line = utilities::line(m.colour);
    let mut sign = Picture::default();
    sign.text(spot(0.0, TEXT * 0.82), Face::of(TEXT).bold().coloured(line.ink), line.letters);
    let mut words = Sentences::default();
    words.add(&say!("{}, along {}", line.words, points(subject, &m.points)));
    if !m.letters.trim().is_empty() {
        words.add(&say!("Letters {}", m.letters.trim()));
    }
    words.add(&capital(&known(subject.record.site.units, &m.attributes, MARK_FORM)));
    if !m.attributes.contains_key("ticket") && m.located() {
        words.add("No ticket noted");
    }
    if m.told {
        words.add("As told, not marked");
    }
    words.add(&capital(m.note.trim()));
    row(sign, &words.0, wide, (TEXT * LEADING, LINES))
}

// ---- things ----------------------------------------------------------------------------------------

/// One row a thing, in the catalogue's order; things of which nothing more is known share a row a kind.
fn things(subject: &Subject<'_>, wide: f64) -> Vec<Block> {
    let features = &subject.record.features;
    let order = |f: &Feature| CATALOGUE.iter().position(|k| k.key == f.kind).unwrap_or(CATALOGUE.len());
    let mut sorted: Vec<&Feature> = features.iter().map(|f| &f.what).collect();
    sorted.sort_by_key(|f| order(f));
    let mut rows = Vec::new();
    let mut same = sorted.as_slice();
    while let Some(first) = same.first() {
        let until = same.iter().position(|f| f.kind != first.kind).unwrap_or(same.len());
        let (kinds, rest) = same.split_at(until);
        let (bare, told): (Vec<&Feature>, Vec<&Feature>) = kinds.iter().partition(|f| is_bare(f));
        rows.extend(told.into_iter().map(|f| thing(subject, f, wide)));
        if !bare.is_empty() {
            let names: Vec<String> = bare.iter().map(|f| points(subject, &f.points)).collect();
            rows.push(keyed(&names.join("; "), &name_of(&first.kind), wide));
        }
        same = rest;
    }
    rows
}

/// Whether it says no more than what and where it is.
fn is_bare(f: &Feature) -> bool {
    f.attributes.is_empty() && f.fate.is_none() && f.note.is_empty() && !f.told && own_name(f).is_none()
}

fn thing(subject: &Subject<'_>, f: &Feature, wide: f64) -> Block {
    let (name, note) = (full_name(f), capital(f.note.trim()));
    let mut words = Sentences::default();
    words.add(&with(&name, &known(subject.record.site.units, &f.attributes, asked(&f.kind))));
    words.add(fate(f.fate));
    if f.told {
        words.add("As told");
    }
    if f.points.iter().any(|p| subject.sketched.contains(p)) {
        words.add("Sketched, not measured");
    }
    if !name.eq_ignore_ascii_case(&note) {
        words.add(&note);
    }
    keyed(&points(subject, &f.points), &words.0, wide)
}

/// A row whose sign is a label: a long one reaches into the words' room, or stands above them.
fn keyed(label: &str, words: &str, wide: f64) -> Block {
    const GAP: f64 = 1.2;
    let long = width(label, TEXT, true) + GAP;
    if long <= SIGN {
        return labelled(label, words, wide);
    }
    let face = Face::of(TEXT).bold();
    let mut picture = Picture::default();
    if long + GAP + width(words, TEXT, false) <= wide {
        picture.text(spot(0.0, TEXT * 0.82), face, label);
        picture.text(spot(long + GAP, TEXT * 0.82), Face::of(TEXT), words);
        return Block { picture, height: TEXT * LEADING, gap: 0.7, keep: false };
    }
    let mut y = 0.0;
    // Bold letters are wider than those that lines are broken by.
    for line in wrap(label, TEXT, wide / 1.15) {
        picture.text(spot(0.0, y + TEXT * 0.82), face, &line);
        y += TEXT * LEADING;
    }
    let below = labelled("", words, wide);
    picture.group(Role::Moved(spot(0.0, y)), below.picture);
    Block { picture, height: y + below.height, gap: 0.7, keep: false }
}

// ---- notes, photos, what is left -------------------------------------------------------------------

fn note(subject: &Subject<'_>, note: &Recorded<Note>, wide: f64) -> Block {
    let note = &note.what;
    let topic = topic_of(&note.topic).map_or_else(|| plain(&note.topic), |topic| tr(topic.name).to_owned());
    let mut about = vec![topic];
    if !note.when.is_empty() {
        about.push(day(&note.when));
    }
    about.extend(place(subject, &note.at));
    labelled("", &say!("{}: {}", about.join(", "), note.text.trim()), wide)
}

fn photo(subject: &Subject<'_>, placed: &PlacedPhoto, wide: f64) -> Block {
    let found = subject.record.photos.iter().find(|p| p.entry == placed.entry).map(|p| &p.what);
    let mut words = Sentences::default();
    if let Some(photo) = found {
        words.add(&capital(photo.note.trim()));
        let of = photo.of.as_ref();
        let holds = |entry: &EntryId| {
            let found = subject.record.problems.iter().find(|p| p.entry == *entry);
            found.is_some_and(|p| p.what.photos.contains(&photo.id))
        };
        let shown = subject.plan.problems.iter().find(|p| Some(&p.entry) == of || holds(&p.entry));
        let thing = subject.record.features.iter().find(|f| Some(&f.entry) == of).map(|f| &f.what);
        match (shown, thing) {
            (Some(problem), _) => words.add(&say!("Shows problem {}", problem.number)),
            (None, Some(f)) => {
                words.add(&say!("Shows {}, {}", name_of(&f.kind).to_lowercase(), points(subject, &f.points)));
            }
            (None, None) => words.add(&place(subject, &photo.at).map(|at| capital(&at)).unwrap_or_default()),
        }
        if placed.at.is_none() && place_of(&photo.at, subject.plan).is_none() {
            words.add("Not placed on the drawing");
        }
    }
    labelled(&placed.number.to_string(), &words.0, wide)
}

fn left(line: &Line, wide: f64) -> Block {
    let why = line.answer.as_ref().map_or("", |answer| answer.why.trim());
    labelled("", &say!("{}: {}", line.what, if why.is_empty() { "no reason given" } else { why }), wide)
}

// ---- words -----------------------------------------------------------------------------------------

/// Where something is, in words; none for the whole site.
fn place(subject: &Subject<'_>, at: &At) -> Option<String> {
    match at {
        At::Points(ids) if !ids.is_empty() => Some(say!("at {}", points(subject, ids))),
        At::Points(_) | At::Site | At::Near(_) => None,
    }
}

/// Labels of points, those that follow each other as first and last: `H1`, `H1–H6`, `H4, PA1–PA3`.
fn points(subject: &Subject<'_>, ids: &[PointId]) -> String {
    if ids.is_empty() {
        return "nowhere".to_owned();
    }
    let mut runs: Vec<(&str, Option<&str>)> = Vec::new();
    let mut step = None;
    for id in ids {
        let label = subject.label(id);
        if let Some((first, last)) = runs.last_mut() {
            let next =
                follows(last.unwrap_or(first), label).filter(|next| last.is_none() || step == Some(*next));
            if next.is_some() {
                (*last, step) = (Some(label), next);
                continue;
            }
        }
        runs.push((label, None));
    }
    let run = |(first, last): &(&str, Option<&str>)| match last {
        Some(last) => format!("{first}–{last}"),
        None => (*first).to_owned(),
    };
    runs.iter().map(run).collect::<Vec<_>>().join(", ")
}

/// Whether the one label is next to the other, up or down: by its last number, or by its last letter.
fn follows(one: &str, next: &str) -> Option<bool> {
    let stem = |label: &str| label.trim_end_matches(|c: char| c.is_ascii_digit()).len();
    let (before, number) = one.split_at_checked(stem(one))?;
    let (before_next, number_next) = next.split_at_checked(stem(next))?;
    let numbers = number.parse::<u64>().ok().zip(number_next.parse::<u64>().ok());
    if let Some((a, b)) = numbers.filter(|_| before == before_next) {
        return step(a, b);
    }
    let last = |label: &str| label.chars().next_back().filter(char::is_ascii_alphabetic).map(u64::from);
    let same = one.get(..one.len().checked_sub(1)?) == next.get(..next.len().checked_sub(1)?);
    last(one).zip(last(next)).filter(|_| same && one.len() > 1).and_then(|(a, b)| step(a, b))
}

/// Up, down, or not next to each other.
fn step(a: u64, b: u64) -> Option<bool> {
    if a.checked_add(1) == Some(b) {
        Some(true)
    } else if b.checked_add(1) == Some(a) {
        Some(false)
    } else {
        None
    }
}
