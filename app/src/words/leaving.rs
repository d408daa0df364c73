//! Before you leave. What is missing is found and worded in core (`swingtie_core::checks`); here is what the
//! screen says round it.

use super::doubt::Contradiction;
use swingtie_core::checks::{Mend, Weight};
use swingtie_core::network::Finding;

/// Above the list.
pub const LEAVE: &str = "Before you leave";
/// Heading of the tapes advised.
pub const LEAVE_TAPES: &str = "Tapes worth taking, in this order";
/// A button that opens what contradicts.
pub const LOOK_AT_IT: &str = "Look at it";
/// Nothing is open.
pub const LEAVE_DONE: &str = "Nothing is open any more. Take one last wide photo from each corner.";
/// Said of what people forget.
pub const LOOK_HINT: &str = "Nothing of these is recorded yet. Record it, or say that there is none.";
/// Opens the reasons.
pub const LEAVE_IT: &str = "Leave it";
/// The field for a reason.
pub const WHY: &str = "Why it can stay as it is";
/// Keeps the reason.
pub const LEAVE_SO: &str = "Leave it so";
/// No reason was given.
pub const WHY_MISSING: &str = "Say why in a word or two: whoever draws with this plan will ask.";
/// After a reason was kept.
pub const LEFT_SO: &str = "Left as it is. The reason stands on the sheet.";
/// Takes an answer back.
pub const ASK_AGAIN: &str = "Ask again";
/// After that.
pub const ASKED_AGAIN: &str = "It stands in the list again.";
/// The usual answer to what people forget.
pub const NONE_HERE: &str = "None here";

/// The usual reasons, by how pressing a line is.
#[must_use]
pub const fn reasons(weight: Weight) -> &'static [&'static str] {
    match weight {
        Weight::Look => &[NONE_HERE, "Not needed for this job", "Could not look"],
        Weight::Note => &["Known already", "Told to the owner", "Not needed for this job"],
        _ => &["Not needed for this job", "Could not get there", "Goes anyway", "Next visit"],
    }
}

/// The heading over lines of this weight.
#[must_use]
pub const fn weight_name(weight: Weight) -> &'static str {
    match weight {
        Weight::Start => "First step",
        Weight::Wrong => "To settle now",
        Weight::Unfinished => "Not finished yet",
        Weight::Visit => "Would cost a second visit",
        Weight::Note => "Worth a look",
        Weight::Better => "Would make it better",
        Weight::Look => "Often forgotten",
    }
}

/// The folded part with what is left as it is.
#[must_use]
pub fn left(number: usize) -> String {
    say!("Left as it is: {number}")
}

/// Why a line is left.
#[must_use]
pub fn because(why: &str) -> String {
    if why.is_empty() { say!("No reason given.") } else { say!("Reason: {why}") }
}

/// The name of a line's button for a screen reader.
#[must_use]
pub fn named(button: &str, line: &str) -> String {
    say!("{button}: {line}")
}

/// The button that leads to where a line is mended.
#[must_use]
pub const fn mend_name(mend: &Mend) -> &'static str {
    match mend {
        Mend::Plan => "Go to Plan",
        Mend::Sketch => "Open the sketch",
        Mend::Doubts => LOOK_AT_IT,
        Mend::Book => "Go to Book",
        Mend::Walk => "Walk the walls",
        Mend::Run => "Read along a wall",
        Mend::House => "Draw the house",
        Mend::Thing(_) | Mend::Points(..) | Mend::Mark => "Record it",
        Mend::EditThing(_) | Mend::EditMark(_) => "Add it",
        Mend::Problems => "Go to Problems",
        Mend::Levels => "Go to Heights",
        Mend::Photos => "Go to Photos",
        Mend::Notes => "Write it down",
        Mend::Details => "Go to Site details",
    }
}

/// A contradiction: what is the matter and what to do about it.
#[must_use]
pub fn contradiction(found: &Contradiction) -> Option<(String, String)> {
    let first = found.likeliest()?;
    let what = say!("{}. {}", first.reads, first.others);
    let how = match &first.why {
        Some(why) => say!("{why} {}", found.told),
        None => found.told.clone(),
    };
    Some((what, how))
}

/// Whether readings are wrong, as against missing or merely worth a look.
#[must_use]
pub const fn is_wrong(finding: &Finding) -> bool {
    matches!(
        finding,
        Finding::Suspect { .. }
            | Finding::SideContradicted { .. }
            | Finding::Impossible { .. }
            | Finding::NotSettled
    )
}
