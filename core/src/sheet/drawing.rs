//! Draws the plan into the window: features, utility marks, points, dimensions, problems, names.

use super::Options;
use super::dimensions;
use super::fittings;
use super::furniture::{DIAMOND, TEXT, diamond};
use super::geometry::Spot;
use super::labels::{Board, Words};
use super::layout::Layout;
use super::photos;
use super::points;
use super::svg::{Dash, Face, Pen, Svg, escape};
use super::symbols::{self, Figure, Layer, Manner};
use super::utilities;
use super::view::View;
use crate::plan::{Outline, PlacedPhoto, PlacedPoint, Plan, Shape, What, pointing};
use crate::record::{Fate, PointId, Record, kind};
use std::collections::BTreeSet;

/// One shape on paper.
struct Item<'a> {
    shape: &'a Shape,
    figure: Figure,
    manner: Manner,
    /// Which way its arrow points: of a view, a wind, a noise.
    pointing: Option<(f64, f64)>,
}

pub(super) struct Scene<'a> {
    plan: &'a Plan,
    photos: &'a [PlacedPhoto],
    view: &'a View,
    options: &'a Options,
    items: Vec<Item<'a>>,
}

impl<'a> Scene<'a> {
    pub fn new(
        record: &Record,
        plan: &'a Plan,
        photos: &'a [PlacedPhoto],
        view: &'a View,
        options: &'a Options,
        sketched: &BTreeSet<PointId>,
    ) -> Self {
        let of = |shape: &Shape| record.features.iter().find(|f| f.entry == shape.entry).map(|f| &f.what);
        let mark =
            |shape: &Shape| record.marks.iter().find(|m| m.entry == shape.entry).map(|m| &m.what.points);
        let only_sketched = |shape: &Shape| {
            let points = of(shape).map(|f| &f.points).or_else(|| mark(shape));
            points.is_some_and(|points| points.iter().any(|p| sketched.contains(p)))
        };
        let items = plan
            .shapes
            .iter()
            .map(|shape| Item {
                shape,
                figure: figure(&shape.outline, view),
                pointing: of(shape)
                    .and_then(|f| pointing(f, plan.north.as_ref()))
                    .map(|at| view.direction(at)),
                manner: Manner {
                    told: shape.told || only_sketched(shape),
                    certain: shape.certain,
                    remove: shape.fate == Some(Fate::Remove),
                    hatching: options.layers.hatching,
                },
            })
            .collect();
        Self { plan, photos, view, options, items }
    }

    /// All layers of the drawing, each a named group.
    pub fn draw(&self, layout: &Layout) -> Svg {
        let layers = &self.options.layers;
        let mut board = Board::new(layout.window);
        self.occupy(&mut board);
        let mut out = Svg::default();
        if layers.utilities {
            out.group("id=\"layer-zones\"", &self.zones());
        }
        for layer in Layer::ALL {
            out.group(&format!("id=\"layer-{}\"", layer.name()), &self.features(layer));
        }
        if layers.utilities {
            out.group("id=\"layer-utilities\"", &self.utilities());
        }
        // Words and signs are placed one after the other, those with least choice of place first,
        // and then written in one layer each.
        let mut names = Svg::default();
        if layers.labels {
            self.area_names(&mut names, &mut board);
        }
        let mut dims = Svg::default();
        if layers.dimensions {
            dimensions::walls(&mut dims, &mut board, self.plan, self.view);
        }
        if layers.labels {
            self.point_labels(&mut names, &mut board);
        }
        let mut problems = Svg::default();
        if layers.problems {
            self.problems(&mut problems, &mut board);
        }
        let mut seen = Svg::default();
        photos::draw(&mut seen, &mut board, self.photos, self.view);
        if layers.labels {
            self.line_names(&mut names, &mut board);
        }
        let mut ties = Svg::default();
        if layers.taped_lines {
            dimensions::ties(&mut ties, &mut board, self.plan, self.view);
        }
        out.group("id=\"layer-taped\"", &ties);
        out.group("id=\"layer-dimensions\"", &dims);
        if layers.points {
            out.group("id=\"layer-points\"", &self.points());
        }
        out.group("id=\"layer-labels\"", &names);
        out.group("id=\"layer-photos\"", &seen);
        out.group("id=\"layer-problems\"", &problems);
        out
    }

    /// Tells the board where lines, signs and marks are.
    fn occupy(&self, board: &mut Board) {
        for item in &self.items {
            match (&item.figure, &item.shape.what) {
                (Figure::Line(places), what) => {
                    board.avoid(places, false);
                    let lettered = match what {
                        What::Mark { .. } => true,
                        What::Feature(kind) => kind == "overhead_wire",
                    };
                    if lettered {
                        for (at, ..) in symbols::letter_places(places) {
                            board.take(super::geometry::Frame::around(at, 2.4, 1.6));
                        }
                    }
                }
                (Figure::Area(places), _) => board.avoid(places, true),
                (Figure::Spot(at), What::Feature(kind)) => {
                    board.take(fittings::reach(kind, *at));
                    if let Some(way) = item.pointing {
                        let (tail, head) = fittings::arrow_line(kind, *at, way);
                        board.avoid(&[tail, head], false);
                    }
                }
                (Figure::Spot(at), What::Mark { .. }) => board.take(utilities::reach(*at)),
                (Figure::Circle { centre, inner, .. }, _) => {
                    let r = inner.unwrap_or(0.0).max(0.75) + 0.9;
                    board.take(super::geometry::Frame::around(*centre, r, r));
                }
            }
        }
        if self.options.layers.points {
            self.plan.points.iter().for_each(|p| board.take(points::reach(self.view.place(p.at), p.state)));
        }
    }

    fn features(&self, layer: Layer) -> Svg {
        let mut svg = Svg::default();
        for item in &self.items {
            if let What::Feature(key) = &item.shape.what
                && Layer::of(key) == layer
            {
                symbols::draw(&mut svg, key, &item.figure, item.manner);
                if let (Figure::Spot(at), Some(way)) = (&item.figure, item.pointing) {
                    fittings::arrow(&mut svg, key, *at, way);
                }
            }
        }
        svg
    }

    fn utilities(&self) -> Svg {
        let mut svg = Svg::default();
        for item in &self.items {
            if let What::Mark { colour, .. } = &item.shape.what {
                utilities::draw(&mut svg, *colour, &item.figure, item.manner);
            }
        }
        svg
    }

    /// Tolerance zones, under everything.
    fn zones(&self) -> Svg {
        let mut svg = Svg::default();
        for item in &self.items {
            if let Some(reach) = item.shape.zone {
                utilities::zone(&mut svg, &item.figure, self.view.length(reach));
            }
        }
        svg
    }

    fn points(&self) -> Svg {
        let mut svg = Svg::default();
        for point in &self.plan.points {
            points::freedom(&mut svg, self.plan, self.view, point);
        }
        for point in &self.plan.points {
            let mut own = Svg::default();
            points::mark(&mut own, self.view.place(point.at), point.state);
            svg.group(&format!("class=\"point\" data-label=\"{}\"", escape(&point.label)), &own);
        }
        svg
    }

    /// The label of every point, with the name of what stands on it.
    fn point_labels(&self, svg: &mut Svg, board: &mut Board) {
        for point in &self.plan.points {
            let at = self.view.place(point.at);
            if point.label.trim().is_empty() {
                continue;
            }
            let favour = self.favour(point, at);
            // Corners, trees and control stand out; jambs and fittings step back.
            let face = if self.leads(point) { Face::of(TEXT).bold() } else { Face::of(TEXT * 0.92) };
            let mut lines = Words::wrapped(&point.label, face, 24.0, 1);
            if let Some(name) = self.stands_on(point) {
                lines.extend(Words::wrapped(name, Face::of(TEXT * 0.92).italic(), 24.0, 2));
            }
            board.label(svg, at, &lines, favour);
        }
    }

    /// Whether a point is a building's corner, a tree, a stump or control.
    fn leads(&self, point: &PlacedPoint) -> bool {
        self.plan.shapes.iter().any(|shape| match (&shape.outline, &shape.what) {
            (Outline::Area(all), What::Feature(key)) => is_building(key) && all.contains(&point.at),
            (Outline::Circle { centre, .. }, _) => *centre == point.at,
            (Outline::Spot(at), What::Feature(key)) => {
                matches!(key.as_str(), "peg" | "pin") && *at == point.at
            }
            _ => false,
        })
    }

    /// The recorder's own name of a tree or fitting that stands on a point.
    fn stands_on(&self, point: &PlacedPoint) -> Option<&str> {
        let own = self.plan.shapes.iter().find(|shape| match &shape.outline {
            Outline::Spot(at) | Outline::Circle { centre: at, .. } => *at == point.at,
            _ => false,
        })?;
        own_name(own)
    }

    /// Where a label would rather be: outside the building whose corner it is, else up and right.
    fn favour(&self, point: &PlacedPoint, at: Spot) -> (f64, f64) {
        let building = self.items.iter().find(|item| {
            matches!(&item.shape.what, What::Feature(key) if is_building(key))
                && matches!(&item.shape.outline, Outline::Area(all) if all.contains(&point.at))
        });
        let middle = building.and_then(|item| match &item.figure {
            Figure::Area(places) => super::geometry::inner_place(places),
            _ => None,
        });
        match middle.and_then(|middle| middle.direction(at)) {
            Some((ux, uy, _)) => (2.0 * ux, 2.0 * uy),
            None => (0.7, -0.7),
        }
    }

    fn problems(&self, svg: &mut Svg, board: &mut Board) {
        for problem in &self.plan.problems {
            let Some(at) = problem.at else { continue };
            let mut own = Svg::default();
            if let Some((places, closed)) = problem.outline.as_ref().and_then(|o| edge(o, self.view)) {
                own.polyline(&places, closed, Pen::line(0.25).dashed(Dash::Short));
            }
            let middle = board.sign(&mut own, self.view.place(at), DIAMOND, 1.8);
            diamond(&mut own, middle, &problem.number.to_string(), problem.severity);
            svg.append(&own);
        }
    }

    /// Names of areas inside them, beside them where there is no room.
    fn area_names(&self, svg: &mut Svg, board: &mut Board) {
        for item in &self.items {
            let (Figure::Area(places), What::Feature(key)) = (&item.figure, &item.shape.what) else {
                continue;
            };
            let face = if is_building(key) { Face::of(3.2).bold() } else { Face::of(TEXT).italic() };
            let words = name(item.shape);
            if !board.inside(svg, places, &words, face)
                && let Some(at) = super::geometry::inner_place(places)
            {
                board.label(svg, at, &Words::wrapped(&words, face, 30.0, 2), (0.0, 0.0));
            }
        }
    }

    /// Names of lines along them, where the recorder gave one or said what shall become of them.
    fn line_names(&self, svg: &mut Svg, board: &mut Board) {
        for item in &self.items {
            let Figure::Line(places) = &item.figure else { continue };
            if own_name(item.shape).is_none() && fate(item.shape).is_empty() {
                continue;
            }
            let face = Face::of(TEXT).italic();
            let face = match &item.shape.what {
                What::Mark { colour, .. } => face.coloured(utilities::line(*colour).ink),
                What::Feature(_) => face,
            };
            let legs = super::geometry::sides(places, false);
            let longest = legs.into_iter().max_by(|a, b| a.0.distance(a.1).total_cmp(&b.0.distance(b.1)));
            if let Some(leg) = longest {
                board.along(svg, leg, &name(item.shape), face, &[2.2, -2.2]);
            }
        }
    }
}

/// What to write on a shape: its name and what shall become of it.
fn name(shape: &Shape) -> String {
    format!("{}{}", own_name(shape).unwrap_or_else(|| usual_name(shape)), fate(shape))
}

fn fate(shape: &Shape) -> &'static str {
    match shape.fate {
        Some(Fate::Remove) => ", remove",
        Some(Fate::Move) => ", move",
        Some(Fate::Ask) => ", ask",
        Some(Fate::Keep) | None => "",
    }
}

fn is_building(key: &str) -> bool {
    matches!(key, "house" | "outbuilding")
}

/// What its kind is called.
fn usual_name(shape: &Shape) -> &str {
    match &shape.what {
        What::Feature(key) => kind(key).map_or(key.as_str(), |kind| kind.name),
        What::Mark { .. } => "Utility mark",
    }
}

/// The name the recorder gave, when it says more than the kind's.
fn own_name(shape: &Shape) -> Option<&str> {
    let title = shape.title.trim();
    // Paint that says no more than the letters the line is drawn with.
    if let What::Mark { colour, .. } = &shape.what
        && utilities::line(*colour).letters.split('/').any(|letter| letter.eq_ignore_ascii_case(title))
    {
        return None;
    }
    (!title.is_empty() && !title.eq_ignore_ascii_case(usual_name(shape))).then_some(title)
}

/// The line or ring a problem lies along or over.
fn edge(outline: &Outline, view: &View) -> Option<(Vec<Spot>, bool)> {
    match figure(outline, view) {
        Figure::Line(places) => Some((places, false)),
        Figure::Area(places) => Some((places, true)),
        _ => None,
    }
}

fn figure(outline: &Outline, view: &View) -> Figure {
    let all = |places: &[crate::units::PlanPoint]| places.iter().map(|at| view.place(*at)).collect();
    match outline {
        Outline::Spot(at) => Figure::Spot(view.place(*at)),
        Outline::Line(places) => Figure::Line(all(places)),
        Outline::Area(places) => Figure::Area(all(places)),
        Outline::Circle { centre, inner, outer } => Figure::Circle {
            centre: view.place(*centre),
            inner: inner.map(|r| view.length(r.abs())),
            outer: outer.map(|r| view.length(r.abs())),
        },
    }
}
