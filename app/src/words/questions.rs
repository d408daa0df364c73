//! What is said of questions: what who draws asks back, what is answered in the yard.

use super::{Names, count, pinned};
use swingtie_core::checks::Asked;
use swingtie_core::record::{AskFor, At, Note, Record};

pub const QUESTIONS: &str = "Questions";
pub const HINT: &str =
    "What the designer still wants to know. A question goes with the package, and so does its answer.";
pub const OPEN: &str = "To answer";
pub const ANSWERED: &str = "Answered";
pub const NONE_OPEN: &str = "Nothing is asked.";
pub const ITS_PHOTO: &str = "The photo it is about";
pub const ALL_ANSWERED: &str = "All are answered.";
pub const NOT_ABOUT_IT: &str = "Ask about something else";
pub const IN_WORDS: &str = "Answer in words";
pub const YOUR_ANSWER: &str = "Your answer";
pub const ANSWER_MISSING: &str = "Write the answer first.";
pub const SAVE_ANSWER: &str = "Save the answer";
pub const SAVED: &str = "Answered.";
pub const ANSWERING: &str = "Answering";
pub const NOT_NOW: &str = "Not now";
pub const BY_TAPE: &str = "Measure it with a tape";
pub const ABOVE_WHAT: &str = "Measured up from";
pub const GROUND_BELOW: &str = "the ground right below";
pub const HOW_MUCH_ABOVE: &str = "How far up";
pub const UPRIGHT: &str = "Hold the tape upright. From a point of the plan it counts with the other heights; from the ground it is \
     passed on in words.";
pub const NO_LENGTH: &str = "Type how far up it is, such as 3' 2\" or 0.97 m.";
pub const TAPE_IT: &str = "Tape it";
pub const READ_IT: &str = "Read it with a level";
pub const IS_THE_ANSWER: &str = "That is the answer";
pub const ASK: &str = "Ask something";
pub const ASK_HINT: &str =
    "Ask for what the plan lacks: one thing a question, so that it can be answered with the tape in hand.";
pub const KIND: &str = "What would answer it";
pub const FROM: &str = "From";
pub const TO: &str = "To";
pub const ON_PLAN: &str = "Or tap the points on the plan.";
pub const PLAN_LABEL: &str = "The plan: tap a point to pick it; the lists above do the same";
pub const WHICH_POINT: &str = "Of which point";
pub const TWO_POINTS: &str = "Choose two points.";
pub const ONE_POINT: &str = "Choose one point.";
pub const TEXT_MISSING: &str = "Write what you want to know.";
pub const SAY_MORE: &str = "What you want to know";
pub const SAVE: &str = "Ask it";
pub const ASKED: &str = "Asked. It goes along when you send the site.";
pub const PROPOSED: &str = "Worth asking for";
pub const PROPOSED_HINT: &str = "These tapes would make the plan surer.";
pub const ASK_THIS: &str = "Ask for it";
pub const SEND_BACK: &str = "Send it back";
pub const WITHDRAW: &str = "Withdraw";
pub const ASK_ABOUT: &str = "Ask about it";

/// What would answer a question, as a choice.
#[must_use]
pub const fn kind(ask: AskFor) -> &'static str {
    match ask {
        AskFor::Tape => "A tape",
        AskFor::Height => "A height",
        AskFor::Photo => "A photo",
        AskFor::Words => "Words",
    }
}

/// What is asked, in one sentence.
#[must_use]
pub fn asked(asked: &Asked, record: &Record, names: &Names) -> String {
    let note = &asked.question.what;
    let points = asked.points();
    let what = match (asked.wants, points) {
        (AskFor::Tape, [from, to]) => say!("Tape from {} to {}", names.of(from), names.of(to)),
        (AskFor::Height, [point]) => say!("How high is {}?", names.of(point)),
        (AskFor::Photo, _) => say!("A photo of {}", about(asked, record, names)),
        _ if asked.of.is_none() && note.at == At::Site => return asked.worded(""),
        _ => return asked.worded(&about(asked, record, names)),
    };
    asked.worded(&what)
}

fn about(asked: &Asked, record: &Record, names: &Names) -> String {
    if let Some(number) =
        asked.of.as_ref().and_then(|of| record.photos.iter().position(|photo| photo.entry == *of))
    {
        return say!("photo {}", number + 1);
    }
    pinned(&asked.question.what.at, asked.of.as_ref(), record, names)
}

/// A note that asks or answers, in the book.
#[must_use]
pub fn in_book(note: &Note, names: &Names) -> Option<String> {
    let points = note.at.points();
    let at = if points.is_empty() { String::new() } else { say!(" {}", names.all(points).join(", ")) };
    let text = if note.text.is_empty() { String::new() } else { say!(": {}", note.text) };
    if let Some(asks) = &note.asks {
        let what = kind(AskFor::of(&asks.kind)).to_lowercase();
        return Some(say!("Asked for {what}{at}{text}"));
    }
    note.answers.as_ref().map(|_| say!("Answer to a question{text}"))
}

/// How many are open and how many answered.
#[must_use]
pub fn standing(open: usize, answered: usize) -> String {
    say!("{open} open, {answered} answered")
}

/// What was taped between the two points that are asked about.
#[must_use]
pub fn taped_before(readings: &[String]) -> String {
    say!("Taped already: {}. Ask, and it is taped once more.", readings.join(", "))
}

/// What was just answered, and how many are left.
#[must_use]
pub fn answered(what: &str, left: usize) -> String {
    let left = if left == 0 { String::new() } else { say!(" Left: {}.", to_answer(left)) };
    say!("Answered: {what}{}{left}", if what.ends_with(['?', '.']) { "" } else { "." })
}

/// A height told from the ground, as an answer in words.
#[must_use]
pub fn above_ground(length: &str) -> String {
    say!("{length} above the ground right below, with a tape")
}

/// What waits in the yard.
#[must_use]
pub fn to_answer(open: usize) -> String {
    count(open, "question to answer", "questions to answer")
}

/// How many are open of how many, where they are led to.
#[must_use]
pub fn ways(open: usize, all: usize) -> String {
    match (open, all) {
        (0, 0) => say!("none yet"),
        (0, all) => say!("{all} answered"),
        (open, _) => say!("{open} open"),
    }
}

/// Who asked and when.
#[must_use]
pub fn by(when: &str, by: &str) -> String {
    say!("Asked {when}, {by}")
}

/// Who answered and when.
#[must_use]
pub fn answered_by(when: &str, by: &str) -> String {
    say!("Answered {when}, {by}")
}

/// How many are open, where a site is listed.
#[must_use]
pub fn open_here(open: usize) -> String {
    count(open, "question open", "questions open")
}

/// What a button does to one of several questions.
#[must_use]
pub fn named(button: &str, question: &str) -> String {
    say!("{button}: {question}")
}
