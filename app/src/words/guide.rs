//! The guided walk: one question a screen.

/// The screen, and the link to it.
pub const GUIDE: &str = "Guided walk";
/// The link on the plan.
pub const GUIDE_ON: &str = "Guided walk: go on";
/// The link on an empty plan.
pub const GUIDE_START: &str = "First time? Guided walk";
/// Leaves the step.
pub const GUIDE_SKIP: &str = "Skip this";
/// Ends it.
pub const GUIDE_END: &str = "End the guided walk";
/// Goes on to the next.
pub const GUIDE_NEXT: &str = "Next";
/// The book answers the question.
pub const GUIDE_ANSWERED: &str = "That is recorded. There may be more of it.";
/// Names the steps.
pub const GUIDE_STEPS: &str = "Steps";

/// Which step of how many.
#[must_use]
pub fn step_of(number: usize, all: usize) -> String {
    format!("Step {number} of {all}")
}

/// How far a step is, in the list of steps.
#[must_use]
pub const fn step_state(done: bool, skipped: bool) -> &'static str {
    match (done, skipped) {
        (true, _) => "done",
        (false, true) => "skipped",
        (false, false) => "to do",
    }
}
