//! What who draws asked back and nobody has answered yet: numbered boxes on the plan, and their list.

use super::drawing::Scene;
use super::furniture::TEXT;
use super::geometry::{Frame, Spot, spot};
use super::labels::{Board, Group};
use super::pen::{Face, Hang, PAPER, Pen};
use super::picture::Picture;
use super::text::{CAPITAL, width};
use super::words::name_of;
use crate::checks::{Asked, labels, open_questions};
use crate::plan::{PlacedPhoto, Plan, place_of};
use crate::record::{AskFor, At, Record};
use crate::units::PlanPoint;

/// An open question.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Question {
    /// What it is called on this sheet: `Q1`.
    pub name: String,
    /// What is asked, in one sentence.
    pub words: String,
    /// The place it is about; of two points the first.
    at: Option<PlanPoint>,
}

/// All that are open, numbered in book order.
pub(super) fn of(record: &Record, plan: &Plan, photos: &[PlacedPhoto]) -> Vec<Question> {
    let question = |(asked, number): (&Asked, usize)| Question {
        name: format!("Q{number}"),
        words: words(asked, record, plan),
        at: place(asked, record, plan, photos),
    };
    open_questions(record).iter().zip(1..).map(question).collect()
}

fn place(asked: &Asked, record: &Record, plan: &Plan, photos: &[PlacedPhoto]) -> Option<PlanPoint> {
    let Some(of) = &asked.of else {
        return match &asked.question.what.at {
            At::Points(points) => place_of(&At::Points(points.first().cloned().into_iter().collect()), plan),
            at => place_of(at, plan),
        };
    };
    let at = |points: &[_]| place_of(&At::Points(points.to_vec()), plan);
    let photo = || photos.iter().find(|photo| photo.entry == *of).and_then(|photo| photo.at);
    let problem = || plan.problems.iter().find(|problem| problem.entry == *of).and_then(|problem| problem.at);
    let feature = || record.features.iter().find(|f| f.entry == *of).and_then(|f| at(&f.what.points));
    let mark = || record.marks.iter().find(|m| m.entry == *of).and_then(|m| at(&m.what.points));
    photo().or_else(problem).or_else(feature).or_else(mark).filter(|at| at.is_finite())
}

fn words(asked: &Asked, record: &Record, plan: &Plan) -> String {
    let about = about(asked, record, plan);
    let what = match (asked.wants, asked.points()) {
        (AskFor::Tape, [from, to]) => say!("Tape from {} to {}", record.label(from), record.label(to)),
        (AskFor::Height, [point]) => say!("How high is {}?", record.label(point)),
        (AskFor::Photo, _) if about.is_empty() => say!("A photo"),
        (AskFor::Photo, _) => say!("A photo of {about}"),
        _ => super::words::capital(&about),
    };
    asked.worded(&what)
}

/// What it is about; nothing for the whole site.
fn about(asked: &Asked, record: &Record, plan: &Plan) -> String {
    let Some(of) = &asked.of else {
        let points = asked.points();
        return if points.is_empty() { String::new() } else { labels(record, points) };
    };
    if let Some(number) = record.photos.iter().position(|photo| photo.entry == *of) {
        return say!("photo {}", number + 1);
    }
    if let Some(problem) = plan.problems.iter().find(|problem| problem.entry == *of) {
        return say!("problem {}", problem.number);
    }
    let named = |what: &str, points: &[_]| say!("{what} at {}", labels(record, points));
    let feature = record.features.iter().find(|f| f.entry == *of);
    let mark = record.marks.iter().find(|m| m.entry == *of);
    match (feature, mark) {
        (Some(f), _) => named(&name_of(&f.what.kind).to_lowercase(), &f.what.points),
        (None, Some(m)) => named("the utility mark", &m.what.points),
        (None, None) => String::new(),
    }
}

/// Each where there is room for it.
pub(super) fn board<'a>(board: &mut Board<'a>, scene: &Scene<'a>) {
    for question in scene.questions {
        let Some(at) = question.at else { continue };
        let half = half(&question.name).0 + 0.2;
        scene.tied(board, at, (Group::Questions, half), &question.name, move |picture, pose| {
            sign(picture, pose.middle, &question.name);
        });
    }
}

/// Half the width and height of a box.
fn half(name: &str) -> (f64, f64) {
    (width(name, TEXT, true) / 2.0 + 0.7, 1.9)
}

/// The box with its name.
pub(super) fn sign(picture: &mut Picture, at: Spot, name: &str) {
    let (wide, high) = half(name);
    picture.rect(&Frame::around(at, wide, high), Pen::line(0.35).filled(PAPER));
    let face = Face::of(TEXT).bold().hang(Hang::Middle);
    picture.text(spot(at.x, at.y + TEXT * CAPITAL / 2.0), face, name);
}

/// Height of a box.
pub(super) const HIGH: f64 = 3.8;
