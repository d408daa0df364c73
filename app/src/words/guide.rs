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

/// How many of the house's walls are read.
#[must_use]
pub fn walls_read(read: usize, all: usize) -> String {
    say!("So far: {read} of {all} walls read.")
}

/// How many of them have something on them, or a reason why not.
#[must_use]
pub fn walls_run(bare: usize, all: usize) -> String {
    say!("So far: something on {} of {all} walls.", all.saturating_sub(bare))
}

/// How many points are placed.
#[must_use]
pub fn points_placed(loose: usize, all: usize) -> String {
    say!("So far: {} of {all} points placed.", all.saturating_sub(loose))
}

/// How many points no spare reading checks.
#[must_use]
pub fn points_unchecked(unchecked: usize, all: usize) -> String {
    say!("So far: nothing checks {unchecked} of {all} points.")
}

/// How many things were read and not recorded.
#[must_use]
pub fn things_unmade(unmade: usize) -> String {
    match unmade {
        1 => say!("One thing is measured and not recorded yet: see Before you leave."),
        _ => say!("{unmade} things are measured and not recorded yet: see Before you leave."),
    }
}

/// How many sides no photo shows.
#[must_use]
pub fn sides_unseen(unseen: usize) -> String {
    say!("So far: no photo of {}.", if unseen == 1 { say!("one side") } else { say!("{unseen} sides") })
}

/// Which step of how many.
#[must_use]
pub fn step_of(number: usize, all: usize) -> String {
    say!("Step {number} of {all}")
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
