//! The plan's size beside the distance of two known places.

use super::list::List;
use super::{Mend, Weight};
use crate::place::{Misfit, misfit};
use crate::plan::Plan;
use crate::record::Record;
use crate::units::{LengthStyle, format_length};

/// A line where the two differ by more than both accuracies allow.
pub(super) fn add(list: &mut List, record: &Record, plan: &Plan) {
    let Some(Misfit { on_earth, in_plan, allowed, assumed }) = misfit(record, plan) else { return };
    let (Some(first), Some(second)) = (&record.anchor, record.second_anchor()) else { return };
    let (a, b) = (record.label(&first.point), record.label(&second.point));
    let write = |length| format_length(length, LengthStyle::from(record.site.units));
    let what = say!(
        "The places of {a} and {b} on the map lie {} apart, in the plan {}: they should agree within {}",
        write(on_earth),
        write(in_plan),
        write(allowed)
    );
    let more =
        if assumed { " Where no accuracy is said, 10 m is taken; say it if you know better." } else { "" };
    let how = say!("One place is wrong, stands for another point, or is worse than said.{more}");
    list.one(format!("places {a} {b}"), Weight::Visit, what, &how, Mend::Details);
}
