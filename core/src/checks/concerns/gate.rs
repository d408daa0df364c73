//! Which leaf hangs on which post, and what was said of both: of the gate, of its post, in a problem there.

use super::Concern;
use super::leaf::{Hung, check};
use super::look::{Look, is_one, length};
use crate::checks::Mend;
use crate::record::{EntryId, Problem, Recorded};
use crate::units::{Length, PlanPoint, sort_by};

/// A post so near a gate's end carries it (metres). Our choice.
const AT_END: f64 = 0.3;
/// Kinds of problems that speak of such a post.
const TROUBLES: &str = "undersized_post sagging_gate";

pub(super) fn find(look: &Look, found: &mut Vec<Concern>) {
    let troubles: Vec<(usize, &Recorded<Problem>)> =
        (1..).zip(&look.record.problems).filter(|(_, p)| is_one(TROUBLES, &p.what.kind)).collect();
    let mut told: Vec<&EntryId> = Vec::new();
    for gate in look.things("gate") {
        let ends = look.places(&gate.what.points);
        let there = |at: Vec<PlanPoint>| {
            at.iter().any(|at| ends.iter().any(|end| end.distance(*at).metres() <= AT_END))
        };
        let mut posts: Vec<_> =
            look.things("post").filter(|post| there(look.places(&post.what.points))).collect();
        // The thinnest first: which of them carries the leaf is seldom said.
        let thick = |post: &Recorded<_>| thickness(&post.what);
        sort_by(&mut posts, |a, b| thick(a).total_cmp(&thick(b)));
        let own = troubles.iter().map(|(_, p)| *p).filter(|p| there(look.places(p.what.at.points())));
        let own: Vec<_> = own.collect();
        let (points, at) = (gate.what.points.as_slice(), ends.first().copied());
        let span = if let [a, b] = ends.as_slice() { Some(a.distance(*b)) } else { None };
        let mut hung = Hung {
            name: look.name(&gate.what),
            key: look.key("leaf", points),
            gate: true,
            mend: Mend::EditThing(gate.entry.clone()),
            said: vec![&gate.what.attributes],
            about: vec![gate.entry.clone()],
            span,
            at,
        };
        for (known, entry) in posts
            .iter()
            .map(|p| (&p.what.attributes, &p.entry))
            .chain(own.iter().map(|p| (&p.what.attributes, &p.entry)))
        {
            hung.said.push(known);
            hung.about.push(entry.clone());
            told.push(entry);
        }
        found.extend(check(look, &hung));
    }
    let posts = look.things("post").map(|post| {
        let (name, mend) = (look.name(&post.what), Mend::EditThing(post.entry.clone()));
        (
            name,
            look.key("post", &post.what.points),
            &post.entry,
            &post.what.attributes,
            mend,
            &post.what.points[..],
        )
    });
    let troubles = troubles.iter().map(|(number, p)| {
        let (name, key) = (say!("gate of problem {number}"), format!("post problem {number}"));
        (name, key, &p.entry, &p.what.attributes, Mend::Problems, p.what.at.points())
    });
    for (name, key, entry, known, mend, points) in posts.chain(troubles) {
        if !told.contains(&entry) {
            let at = look.places(points).first().copied();
            let (said, about) = (vec![known], vec![entry.clone()]);
            found.extend(check(look, &Hung { name, key, gate: false, mend, said, about, span: None, at }));
        }
    }
}

/// For sorting: what was not measured comes last.
fn thickness(post: &crate::record::Feature) -> f64 {
    length(&post.attributes, "section_width").map_or(f64::INFINITY, Length::metres)
}
