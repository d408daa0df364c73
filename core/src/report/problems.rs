//! What is wrong in the yard, each with its evidence and whom to ask.

use super::Section;
use super::html::{Facts, Html};
use super::subject::{Subject, photo_links};
use crate::checks::Concern;
use crate::language::tr;
use crate::record::{At, Problem, Recorded, Severity, Spread, caution, evidence, trouble, what_next};
use crate::sheet::words::{OTHER, capital, known, plain};

pub(super) fn section(subject: &Subject<'_>) -> Option<Section> {
    let problems = &subject.record.problems;
    let mut body = Html::default();
    for (number, problem) in (1..).zip(problems) {
        one(subject, number, problem, &mut body);
    }
    (!problems.is_empty()).then_some(Section { id: "problems", title: "Problems", body })
}

fn one(subject: &Subject<'_>, number: usize, recorded: &Recorded<Problem>, html: &mut Html) {
    let problem = &recorded.what;
    let class = match problem.severity {
        Severity::Danger => "<article class=\"danger\" id=\"problem-",
        Severity::Fix | Severity::Note => "<article id=\"problem-",
    };
    html.raw(class).number(number).raw("\"><h3>").number(number).raw(". ");
    // What is none of those with a name is called as somebody wrote it, if that is short.
    let note = capital(problem.note.trim());
    let called = problem.kind == OTHER && !note.is_empty() && note.chars().count() <= 100;
    if called {
        html.said(&note)
    } else {
        html.words(&name(&problem.kind))
    };
    html.raw("</h3>\n");
    let mut facts = Facts::default();
    facts.add("Severity", Html::of(problem.severity.name()));
    facts.add("Where", where_(subject, problem));
    if !called {
        facts.said("Seen", &problem.note);
    }
    facts.add("Measured", Html::of(&known(subject.units, &problem.attributes, evidence(&problem.kind))));
    if problem.told {
        facts.add("Known from", Html::of("as told, not seen"));
    }
    facts.add("Caution", Html::of(caution(&problem.kind).unwrap_or_default()));
    facts.add("What next", Html::of(what_next(&problem.kind).unwrap_or_default()));
    let photos = subject.shows(&recorded.entry);
    facts.add("Photos", if photos.is_empty() { Html::of("none") } else { photo_links(&photos) });
    let about = subject.concerns.iter().zip(1..).filter(|(c, _)| c.about.contains(&recorded.entry));
    let beside: Vec<Html> = about.map(|(concern, number)| found(subject, concern, number)).collect();
    facts.add("Worked out", Html::lines(&beside));
    facts.write(html);
    html.raw("</article>\n");
}

/// What a kind of problem is called.
pub(super) fn name(kind: &str) -> String {
    trouble(kind).map_or_else(|| plain(kind), |known| tr(known.name).to_owned())
}

fn where_(subject: &Subject<'_>, problem: &Problem) -> Html {
    let mut html = match (&problem.at, problem.spread) {
        (At::Points(points), Some(Spread::Line)) if points.len() > 1 => Html::of("along "),
        (At::Points(points), Some(Spread::Area)) if points.len() > 2 => Html::of("over the area round "),
        _ => Html::default(),
    };
    let place = subject.place(&problem.at);
    if place.is_empty() {
        return Html::of("the whole site");
    }
    html.append(&place);
    html
}

/// What the checks found, with a link to its numbers where those stand.
fn found(subject: &Subject<'_>, concern: &Concern, number: usize) -> Html {
    let mut html = Html::of(&concern.what);
    html.raw(".");
    if super::worth::stands(subject, concern) {
        html.raw(" <a href=\"#worth-").number(number).raw("\">").words("Numbers and source").raw("</a>");
    }
    html
}
