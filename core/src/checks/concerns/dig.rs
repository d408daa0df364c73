//! Buried lines within reach of where somebody will dig.
//!
//! Common Ground Alliance, Best Practices 5-19 and 5-20: a tolerance zone to each side of a marked line (18 in there;
//! 24 in where a state says so), in it hand digging and other care. What a mark says of its own zone counts before
//! both; local law decides.

use super::look::{Look, concern};
use super::near::Body;
use super::{Concern, Topic};
use crate::checks::list::colour;
use crate::checks::{Mend, words};
use crate::record::{EntryId, MarkColour, PointId};
use crate::units::Length;

/// A line that was only told may lie this far off: 10 ft, our choice.
const TOLD: Length = Length::from_inches(120.0);

const CAUTION: &str = "Marks are approximate, they expire and leave out private lines; how deep a line lies nobody \
    knows. Local law and the line's owner decide.";
const SOURCE: &str = "Common Ground Alliance, Best Practices 5-19 and 5-20; the width of the zone as the mark or the state says";

pub(super) fn find(look: &Look, found: &mut Vec<Concern>) {
    let digs = look.digs();
    for mark in look.record.marks.iter().filter(|m| m.what.colour != MarkColour::White) {
        let Some(line) = look.body(&mark.entry) else { continue };
        let m = &mark.what;
        let ends = words::labels(look.record, &m.points);
        let name = say!("{} mark {ends}", colour(m.colour));
        let key = look.key(colour(m.colour), &m.points);
        let mut near = |dig: &str,
                        dig_key: &str,
                        why: &str,
                        points: &[PointId],
                        entry: &EntryId,
                        body: &Body| {
            let Some(gap) = line.gap(body) else { return };
            let points: Vec<_> = points.iter().chain(&m.points).cloned().collect();
            let doubt = look.doubt(&points);
            let zone = m.zone();
            if gap > zone.map_or(TOLD, |zone| zone + doubt) {
                return;
            }
            let far = if gap > Length::ZERO { say!("{} from", look.write(gap)) } else { "on".to_owned() };
            let what = match zone {
                Some(zone) if gap <= zone => {
                    say!("The {dig} {why} and lies in the tolerance zone of a buried line: {far} the {name}")
                }
                Some(_) => say!(
                    "The {dig} {why} and may lie in the tolerance zone of a buried line: {far} the {name}, as far as \
                     both are known"
                ),
                None => {
                    say!("The {dig} {why}, and a line that was only told runs near it: {far} the {name}")
                }
            };
            let how = "Have buried lines marked and wait until every owner has answered. In the zone dig by hand, with care, \
                       until the line is seen; no machine and no grinder before.";
            let mut c = concern(Topic::Digging, format!("dig {dig_key} {key}"), what, how);
            c.numbers.push(("distance", look.write(gap)));
            match zone {
                Some(zone) => c.numbers.push(("zone, each side", look.write(zone))),
                None => c.missing.push(say!("where the line of the {name} really lies: have it located")),
            }
            c.numbers.push(("places known to", say!("± {}", look.write(doubt))));
            c.used = vec![dig.to_owned(), name.clone()];
            c.caution = CAUTION;
            c.source = SOURCE;
            c.at = body.middle();
            c.about = vec![mark.entry.clone(), entry.clone()];
            found.push(c.mended(Mend::EditMark(mark.entry.clone())));
        };
        for dig in &digs {
            near(&dig.name, &dig.key, dig.why, dig.points, dig.entry, &dig.body);
        }
        for white in look.record.marks.iter().filter(|w| w.what.colour == MarkColour::White) {
            if let Some(body) = look.body(&white.entry) {
                let dig = say!("white mark {}", words::labels(look.record, &white.what.points));
                near(
                    &dig,
                    &look.key("white mark", &white.what.points),
                    "shows a proposed dig",
                    &white.what.points,
                    &white.entry,
                    &body,
                );
            }
        }
    }
}
