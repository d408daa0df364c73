//! What all checks look things up with, and the words they share.

use super::near::Body;
use super::{Concern, Topic};
use crate::checks::{Mend, Weight, words};
use crate::language::tr;
use crate::levels::FAR;
use crate::plan::{Ground, Plan, Shape, SpotHeight};
use crate::record::{
    Attribute, Attributes, EntryId, Fate, Feature, PointId, Record, Recorded, Stood, YES, kind,
};
use crate::units::{Length, LengthStyle, PlanPoint, PlanVec, UnitSystem, float, format_depth, format_length};

/// A height this near (metres) to a wall's end is that end's: 5 ft, our choice.
const CORNER: f64 = 1.524;

/// No more than this (metres) is a rounding of what was taped.
const ROUND: f64 = 1e-6;

/// Where a limit is published in a code.
pub(super) const CODE: &str =
    "A published figure, not your town's: the local code and licensed people decide.";
/// Where something bears a load.
pub(super) const STRUCTURE: &str =
    "Reckoned from a few sizes alone. Structure is for licensed people; the local code decides.";

/// Record and plan, as the checks look at them.
pub(super) struct Look<'a> {
    pub(super) record: &'a Record,
    pub(super) plan: &'a Plan,
    pub(super) ground: &'a Ground,
}

/// A place where somebody will dig, or may.
pub(super) struct Dig<'a> {
    /// The entry that says so.
    pub(super) entry: &'a EntryId,
    /// What is dug: `stump ST1`.
    pub(super) name: String,
    /// The same, in every language.
    pub(super) key: String,
    /// What is done to it: `goes`, `may be ground out`.
    pub(super) why: &'static str,
    /// Its points.
    pub(super) points: &'a [PointId],
    /// The ground it covers.
    pub(super) body: Body,
}

/// Kinds that stand in the ground: to take one out is to dig.
const ROOTED: &str = "stump tree shrub hedge post fence gate wall deck steps patio drive path pad pool outbuilding \
    valve irrigation_head drain well septic propane tank kerb conduit pole rock play light";

impl<'a> Look<'a> {
    /// The things of these kinds, as a list of words.
    pub(super) fn things(&self, kinds: &'static str) -> impl Iterator<Item = &'a Recorded<Feature>> {
        self.record.features.iter().filter(move |f| is_one(kinds, &f.what.kind))
    }

    /// How it is drawn.
    pub(super) fn shape(&self, entry: &EntryId) -> Option<&'a Shape> {
        self.plan.shapes.iter().find(|shape| shape.entry == *entry)
    }

    /// The ground it covers.
    pub(super) fn body(&self, entry: &EntryId) -> Option<Body> {
        self.shape(entry).map(|shape| Body::of(&shape.outline))
    }

    /// Where these points are, as far as they have a place.
    pub(super) fn places(&self, points: &[PointId]) -> Vec<PlanPoint> {
        points.iter().filter_map(|id| self.plan.points.iter().find(|p| p.id == *id)).map(|p| p.at).collect()
    }

    /// What to call a thing in a sentence: `gate G1–G2`, `maple T1`.
    pub(super) fn name(&self, thing: &Feature) -> String {
        self.called(thing, tr)
    }

    /// The same in the words of the kinds' table, or in the reader's: keys are the same in every language.
    fn called(&self, thing: &Feature, word: fn(&str) -> &str) -> String {
        let usual = kind(&thing.kind);
        let what = match usual {
            _ if !thing.name.is_empty() => thing.name.clone(),
            Some(kind) => word(kind.name).split(',').next().unwrap_or(kind.name).to_lowercase(),
            None => thing.kind.clone(),
        };
        let labels: Vec<&str> = thing.points.iter().map(|p| self.record.label(p)).collect();
        let own = labels.iter().find(|label| usual.is_some_and(|kind| label.starts_with(kind.prefix)));
        let at = match labels.as_slice() {
            [a, b] => say!("{a}–{b}"),
            [first, ..] => (*own.unwrap_or(first)).to_owned(),
            [] => return what,
        };
        say!("{what} {at}")
    }

    /// A key of a word and a thing's labels.
    pub(super) fn key(&self, word: &str, points: &[PointId]) -> String {
        points.iter().fold(word.to_owned(), |key, point| format!("{key} {}", self.record.label(point)))
    }

    /// How far these points may be off at most: the larger half axes of their 95 % ellipses.
    pub(super) fn doubt(&self, points: &[PointId]) -> Length {
        let own = self.plan.points.iter().filter(|p| points.contains(&p.id));
        let axes = own.filter_map(|p| p.ellipse.as_ref()).map(|e| e.semi_major);
        axes.fold(Length::ZERO, |most, one| if one > most { one } else { most })
    }

    /// The height read nearest to a place.
    fn nearest(&self, at: PlanPoint) -> Option<&'a SpotHeight> {
        let on_ground = self.ground.spots.iter().filter(|s| s.stood == Stood::Ground);
        on_ground.min_by(|a, b| a.at.distance(at).metres().total_cmp(&b.at.distance(at).metres()))
    }

    /// Whether a height was read so near that the ground there is no guess.
    pub(super) fn is_read(&self, at: PlanPoint) -> bool {
        self.nearest(at).is_some_and(|spot| spot.at.distance(at) <= FAR)
    }

    /// Whether a height was read as near to this end of a wall as where one levels a corner.
    pub(super) fn is_corner_read(&self, at: PlanPoint) -> bool {
        self.nearest(at).is_some_and(|spot| spot.at.distance(at).metres() <= CORNER)
    }

    /// The height read that ground running from the first place to the second runs on to, and how far out that way it
    /// lies: the nearest to the second of those that lie half the way out or farther.
    pub(super) fn runs_to(&self, from: PlanPoint, to: PlanPoint) -> Option<(&'a SpotHeight, Length)> {
        let ((x, y), run) = ((to - from).metres(), from.distance(to).metres());
        let out = |spot: &'a SpotHeight| {
            let (dx, dy) = (spot.at - from).metres();
            let out = (dx * x + dy * y) / run;
            (spot.stood == Stood::Ground && out >= 0.5 * run).then_some((spot, Length::from_metres(out)))
        };
        let own = self.ground.spots.iter().filter_map(out);
        own.min_by(|a, b| a.0.at.distance(to).metres().total_cmp(&b.0.at.distance(to).metres()))
    }

    /// What to call the height read at a place.
    pub(super) fn spot_at(&self, at: PlanPoint) -> String {
        self.nearest(at).map_or_else(String::new, |spot| spot.label.clone())
    }

    /// Two standard deviations of a difference of height, by the readings nearest to its ends.
    pub(super) fn doubt_between(&self, a: PlanPoint, b: PlanPoint) -> Length {
        let Some(first) = self.nearest(a) else { return Length::ZERO };
        let others = self.ground.spots.iter().filter(|s| s.stood == Stood::Ground && s.point != first.point);
        let second = others.min_by(|x, y| x.at.distance(b).metres().total_cmp(&y.at.distance(b).metres()));
        let rise = second.and_then(|second| self.ground.levels.rise(&first.point, &second.point));
        rise.map_or(Length::ZERO, |(_, sd)| sd * 2.0)
    }

    /// The heights read nearest to these places.
    pub(super) fn heights_near(&self, places: &[PlanPoint]) -> Vec<String> {
        let mut labels: Vec<&str> = Vec::new();
        for spot in places.iter().filter_map(|at| self.nearest(*at)) {
            if !labels.contains(&spot.label.as_str()) {
                labels.push(&spot.label);
            }
        }
        vec![say!("heights of {} and round them", words::listed(&labels))]
    }

    /// The place and others round it, the nearest first, as far out as this (metres).
    pub(super) fn around(&self, at: PlanPoint, reach: f64) -> impl Iterator<Item = PlanPoint> + use<> {
        let ring = move |radius: f64| {
            (0..8).map(move |eighth| {
                let turn = f64::from(eighth) * std::f64::consts::FRAC_PI_4;
                at + PlanVec::from_metres(radius * float::cos(turn), radius * float::sin(turn))
            })
        };
        let radii = [0.1, 0.25, 0.5, 0.75, 1.0];
        std::iter::once(at).chain(radii.into_iter().flat_map(move |share| ring(share * reach)))
    }

    /// As exact as one steps: whole inches, decimetres.
    pub(super) fn about(&self, length: Length) -> String {
        let style = match self.record.site.units {
            UnitSystem::FeetInches => LengthStyle::FeetInches { finest: 1 },
            UnitSystem::DecimalFeet => LengthStyle::DecimalFeet { decimals: 1 },
            UnitSystem::Metres => LengthStyle::Metres { decimals: 1 },
        };
        format_length(length, style)
    }

    /// As exact as what was worked out is: a quarter of an inch, a centimetre.
    pub(super) fn write(&self, length: Length) -> String {
        let style = match self.record.site.units {
            UnitSystem::FeetInches => LengthStyle::FeetInches { finest: 4 },
            UnitSystem::DecimalFeet => LengthStyle::DecimalFeet { decimals: 2 },
            UnitSystem::Metres => LengthStyle::Metres { decimals: 2 },
        };
        format_length(length, style)
    }

    /// As exact as a tape is read.
    pub(super) fn fine(&self, length: Length) -> String {
        format_length(length, LengthStyle::from(self.record.site.units))
    }

    /// Where somebody will dig, by what shall become of things; a stump may be ground out unless somebody said no.
    pub(super) fn digs(&self) -> Vec<Dig<'a>> {
        let dig = |thing: &'a Recorded<Feature>| {
            let f = &thing.what;
            let ground = word(&f.attributes, "grind");
            let why = match (f.fate, ground) {
                (Some(Fate::Remove), _) => "goes",
                (Some(Fate::Move), _) => "is moved",
                (_, Some(YES)) => "is ground out",
                (Some(Fate::Keep), _) | (_, Some(_)) => return None,
                _ if f.kind == "stump" => "may be ground out",
                _ => return None,
            };
            let body = self.body(&thing.entry)?;
            Some(Dig {
                entry: &thing.entry,
                name: self.name(f),
                key: self.called(f, |word| word),
                why,
                points: &f.points,
                body,
            })
        };
        self.things(ROOTED).filter_map(dig).collect()
    }
}

/// How deep water can stand, as the plan says it.
pub(super) fn deep(depth: Length, units: UnitSystem) -> String {
    say!("about {}", format_depth(depth, units))
}

/// Whether it is more by more than a rounding.
pub(super) fn exceeds(one: Length, limit: Length) -> bool {
    one.metres() > limit.metres() + ROUND
}

/// Whether a word is one of a list of words.
pub(super) fn is_one(words: &str, one: &str) -> bool {
    // Most things are in none of the lists: the text is searched first, which is quicker than taking it apart.
    words.contains(one) && words.split_whitespace().any(|word| word == one)
}

/// A length that was said.
pub(super) fn length(known: &Attributes, key: &str) -> Option<Length> {
    match known.get(key) {
        Some(Attribute::Length(reading)) => Some(reading.value).filter(|l| l.is_finite()),
        _ => None,
    }
}

/// Words that were said.
pub(super) fn word<'b>(known: &'b Attributes, key: &str) -> Option<&'b str> {
    match known.get(key) {
        Some(Attribute::Text(words)) => Some(words.trim()).filter(|words| !words.is_empty()),
        _ => None,
    }
}

/// A concern to which the rest is added.
pub(super) fn concern(topic: Topic, key: String, what: String, how: &str) -> Concern {
    Concern {
        key,
        topic,
        weight: Weight::Note,
        what,
        how: tr(how).to_owned(),
        numbers: Vec::new(),
        used: Vec::new(),
        missing: Vec::new(),
        caution: CODE,
        source: "",
        at: None,
        about: Vec::new(),
        mend: Mend::Problems,
    }
}

impl Concern {
    /// With where a missing reading is added, if one is.
    pub(super) fn mended(mut self, mend: Mend) -> Self {
        if !self.missing.is_empty() {
            self.mend = mend;
        }
        self
    }
}
