//! The scenario's features, problems and utility marks as statements.

use super::{Scenario, Shape, TruePoint, id};
use std::collections::BTreeMap;
use swingtie_core::record::{
    At, Attribute, Feature, MarkColour, Measurement, PointId, Problem, Reading, Severity, Statement,
    UtilityMark,
};
use swingtie_core::units::Length;

impl Scenario {
    /// Features, marks and problems, each with its entry id.
    pub(super) fn features(&self) -> Vec<(String, Statement)> {
        let mut said = Vec::new();
        for (name, corners) in &self.buildings {
            let kind = if name == "house" { "house" } else { "outbuilding" };
            said.push((format!("feature-{name}"), drawn(kind, corners, name)));
        }
        for (number, shape) in self.true_lines.iter().chain(&self.true_areas).enumerate() {
            let statement =
                mark_line(self, shape).unwrap_or_else(|| drawn(drawn_kind(&shape.kind), &shape.points, ""));
            said.push((format!("feature-{}-{}", shape.kind, number + 1), statement));
        }
        said.extend(self.openings());
        said.extend(self.points().filter_map(|(label, point)| single(label, point)));
        said.extend(self.private_line());
        for (number, trouble) in self.problems.iter().enumerate() {
            said.push((format!("problem-{}", number + 1), problem(&trouble.at, &trouble.text)));
        }
        said
    }

    /// Doors and windows between two jambs, gates between two posts: labels that differ in their last letter.
    fn openings(&self) -> Vec<(String, Statement)> {
        let kinds = ["door", "garage_door", "window", "gate_post", "sidewalk"];
        let mut pairs: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for (label, point) in self.points().filter(|(_, p)| kinds.contains(&p.kind.as_str())) {
            let stem = label.get(..label.len().saturating_sub(1)).unwrap_or(label);
            pairs.entry(format!("{}-{stem}", point.kind)).or_default().push(label.clone());
        }
        let pairs = pairs.into_iter().filter(|(_, ends)| ends.len() == 2);
        pairs
            .map(|(name, ends)| {
                let (kind, said) = match name.split('-').next().unwrap_or("") {
                    "garage_door" => ("door", "garage door"),
                    "gate_post" => ("gate", ""),
                    "sidewalk" => ("kerb", "sidewalk edge"),
                    "window" => ("window", ""),
                    _ => ("door", ""),
                };
                (format!("feature-{name}"), drawn(kind, &ends, said))
            })
            .collect()
    }

    /// The owner's own flags, told and never located.
    fn private_line(&self) -> Option<(String, Statement)> {
        let flags: Vec<PointId> =
            self.points().filter(|(_, p)| p.kind == "private_line").map(|(label, _)| id(label)).collect();
        let note = "irrigation main, flagged by the owner".to_owned();
        let mark = UtilityMark {
            colour: MarkColour::Purple,
            points: flags,
            letters: String::new(),
            attributes: Default::default(),
            told: true,
            note,
        };
        (mark.points.len() > 1).then(|| ("mark-private-line".to_owned(), Statement::Mark(mark)))
    }

    /// Points that any measurement or feature of the book names.
    #[must_use]
    pub fn measured_points(&self) -> Vec<PointId> {
        let mut named = std::collections::BTreeSet::new();
        for taken in &self.measurements {
            if let Statement::Measure(m) = self.measurement(taken) {
                named.extend(points_of(&m));
            }
        }
        named.into_iter().collect()
    }
}

fn points_of(measurement: &Measurement) -> Vec<PointId> {
    match measurement {
        Measurement::Tie { from, to, .. } => vec![from.clone(), to.clone()],
        Measurement::Run { zero, toward, readings, .. } => {
            [zero, toward].into_iter().chain(readings.iter().map(|r| &r.point)).cloned().collect()
        }
        Measurement::Offsets { from, to, rows, .. } => {
            [from, to].into_iter().chain(rows.iter().map(|r| &r.point)).cloned().collect()
        }
        _ => Vec::new(),
    }
}

fn drawn(kind: &str, points: &[String], name: &str) -> Statement {
    Statement::Feature(Feature {
        kind: kind.to_owned(),
        points: points.iter().map(|p| id(p)).collect(),
        name: name.to_owned(),
        fate: None,
        attributes: Default::default(),
        curved: false,
        told: false,
        note: String::new(),
    })
}

fn drawn_kind(kind: &str) -> &str {
    match kind {
        "retaining_wall" => "wall",
        other => other,
    }
}

/// A line of paint marks, in the colour the locator used.
fn mark_line(scenario: &Scenario, shape: &Shape) -> Option<Statement> {
    let colour = match shape.kind.strip_suffix("_mark")? {
        "gas" => MarkColour::Yellow,
        "water" => MarkColour::Blue,
        "comm" => MarkColour::Orange,
        "electric" => MarkColour::Red,
        _ => MarkColour::Green,
    };
    let first = shape.points.first().and_then(|label| scenario.true_points.get(label));
    let letters = first.and_then(|p| p.rest.get("letters")).and_then(|v| v.as_str()).unwrap_or("").to_owned();
    let points = shape.points.iter().map(|p| id(p)).collect();
    let attributes = Default::default();
    Some(Statement::Mark(UtilityMark {
        colour,
        points,
        letters,
        attributes,
        told: false,
        note: String::new(),
    }))
}

/// Things that stand at one point.
fn single(label: &str, point: &TruePoint) -> Option<(String, Statement)> {
    let (kind, name) = match point.kind.as_str() {
        "hose_bib" => ("hose_bib", ""),
        "downspout" => ("downspout", ""),
        "electric_meter" => ("electric_meter", ""),
        "gas_meter" => ("gas_meter", ""),
        "water_meter" => ("water_meter", ""),
        "vent" => ("vent", ""),
        "peg" | "chalk_mark" => ("peg", ""),
        "fence_post" | "gate_post" => ("post", ""),
        "tree" => ("tree", ""),
        "stump" => ("stump", ""),
        "low_point" => ("low_point", ""),
        "irrigation_valve" => ("valve", ""),
        "sewer_cleanout" => ("drain", "cleanout"),
        "lawn_drain" => ("drain", "yard drain"),
        "utility_pole" => ("pole", ""),
        "fire_feature" => ("fire_pit", ""),
        "ac_unit" => ("other", "air conditioner pad corner"),
        "steps" => ("other", "bottom step nosing"),
        "utility_box" => ("other", "utility box"),
        "play_equipment" => ("other", "play equipment"),
        "bed_edge" if label.starts_with("FB") => ("other", "front bed corner"),
        _ => return None,
    };
    let mut attributes = BTreeMap::new();
    for (key, from, factor) in [
        ("trunk_diameter", "trunk_dia_in", 1.0),
        ("trunk_diameter", "dia_in", 1.0),
        ("canopy_spread", "canopy_radius_ft", 24.0),
        ("height", "height_ft", 12.0),
    ] {
        if let Some(number) = point.rest.get(from).and_then(serde_json::Value::as_f64) {
            attributes.insert(key.to_owned(), Attribute::Length(inches(number * factor)));
        }
    }
    let feature = Feature {
        kind: kind.to_owned(),
        points: vec![id(label)],
        name: name.to_owned(),
        fate: None,
        attributes: attributes.into_iter().collect(),
        curved: false,
        told: false,
        note: point.desc.clone(),
    };
    Some((format!("feature-{label}"), Statement::Feature(feature)))
}

fn inches(number: f64) -> Reading {
    Reading { text: format!("{number}\""), value: Length::from_inches(number) }
}

fn problem(at: &str, text: &str) -> Statement {
    let lower = text.to_lowercase();
    let kind =
        [("water", "wet_spot"), ("ponding", "wet_spot"), ("post", "undersized_post"), ("stump", "stump")];
    let kind = kind.iter().find(|(word, _)| lower.contains(word)).map_or("other", |(_, kind)| kind);
    let severity = if lower.contains("licensed") { Severity::Danger } else { Severity::Fix };
    Statement::Problem(Problem {
        kind: kind.to_owned(),
        severity,
        at: At::Points(vec![id(at)]),
        spread: None,
        attributes: Default::default(),
        note: text.to_owned(),
        photos: Vec::new(),
        told: false,
    })
}
