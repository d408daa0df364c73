//! Draws the plan into the window: features, utility marks, points, dimensions, problems, names.

use super::Options;
use super::contours::Contours;
use super::dimensions::{self, Span};
use super::fittings;
use super::furniture::{Subject, TEXT, diamond, diamond_reach};
use super::geometry::{Frame, Spot, inside, outward};
use super::heights;
use super::labels::{Board, Group, Kind, Owner, Pose, Slab, Words, tied};
use super::layers::Layer;
use super::layout::Layout;
use super::naming;
use super::pen::{Dash, Face, INK, Pen};
use super::photos;
use super::picture::{Picture, Role};
use super::points;
use super::questions::{self, Question};
use super::symbols::{self, Figure, Letter, Manner, free_letters};
use super::utilities;
use super::view::View;
use crate::network::PointState;
use crate::plan::{Ground, Outline, PlacedPhoto, Plan, Shape, What, pointing};
use crate::record::{Fate, UnitSystem};
use crate::units::PlanPoint;
use std::collections::BTreeMap;

/// One shape on paper.
pub(super) struct Item<'a> {
    pub shape: &'a Shape,
    pub figure: Figure,
    manner: Manner,
    /// What its line is broken by, and where.
    letters: Option<(&'static str, Vec<Letter>)>,
    /// Which way its arrow points: of a view, a wind, a noise.
    pointing: Option<(f64, f64)>,
}

impl Item<'_> {
    fn places_of_letters(&self) -> Option<&[Letter]> {
        self.letters.as_ref().map(|(_, at)| at.as_slice())
    }
}

/// The letters that break a shape's line; none where it has none, or is not drawn.
fn letters(shape: &Shape, options: &Options) -> Option<&'static str> {
    match &shape.what {
        What::Mark { colour, .. } => options.layers.utilities.then(|| utilities::line(*colour).letters),
        What::Feature(key) => (key == "overhead_wire").then_some(symbols::OVERHEAD),
    }
}

pub(super) struct Scene<'a> {
    pub plan: &'a Plan,
    pub photos: &'a [PlacedPhoto],
    pub view: &'a View,
    pub units: UnitSystem,
    ground: &'a Ground,
    contours: &'a Contours,
    pub questions: &'a [Question],
    options: &'a Options,
    /// Where nothing is written.
    kept: &'a [Frame],
    pub items: Vec<Item<'a>>,
    /// The items whose outline goes through each place, by number.
    through: BTreeMap<[u64; 2], Vec<usize>>,
    /// How well the point at each place is known.
    states: BTreeMap<[u64; 2], PointState>,
}

impl<'a> Scene<'a> {
    pub fn new(subject: &Subject<'a>, view: &'a View, kept: &'a [Frame]) -> Self {
        let Subject { record, plan, photos, sketched, ground, contours, questions, options, .. } = *subject;
        let of = |shape: &Shape| record.features.iter().find(|f| f.entry == shape.entry).map(|f| &f.what);
        let mark =
            |shape: &Shape| record.marks.iter().find(|m| m.entry == shape.entry).map(|m| &m.what.points);
        let only_sketched = |shape: &Shape| {
            let points = of(shape).map(|f| &f.points).or_else(|| mark(shape));
            points.is_some_and(|points| points.iter().any(|p| sketched.contains(p)))
        };
        let marks = plan.points.iter().map(|p| Slab::of(&points::reach(view.place(p.at), p.state)));
        let mut taken: Vec<Slab> = if options.layers.points { marks.collect() } else { Vec::new() };
        taken.extend(kept.iter().map(Slab::of));
        let items = plan.shapes.iter().map(|shape| Item {
            shape,
            figure: figure(&shape.outline, view),
            letters: letters(shape, options).and_then(|letters| match figure(&shape.outline, view) {
                Figure::Line(places) => Some((letters, free_letters(&places, letters, &mut taken))),
                _ => None,
            }),
            pointing: of(shape).and_then(|f| pointing(f, plan.north.as_ref())).map(|at| view.direction(at)),
            manner: Manner {
                told: shape.told || only_sketched(shape),
                certain: shape.certain,
                remove: shape.fate == Some(Fate::Remove),
                hatching: options.layers.hatching,
            },
        });
        let items: Vec<Item<'a>> = items.collect();
        let mut through: BTreeMap<[u64; 2], Vec<usize>> = BTreeMap::new();
        for (n, item) in items.iter().enumerate() {
            let mut add = |at: &PlanPoint| through.entry(exactly(*at)).or_default().push(n);
            match &item.shape.outline {
                Outline::Spot(at) | Outline::Circle { centre: at, .. } => add(at),
                Outline::Line(all) | Outline::Area(all) => all.iter().for_each(add),
            }
        }
        // Of several at one place the first counts.
        let states = plan.points.iter().rev().map(|p| (exactly(p.at), p.state)).collect();
        let units = record.site.units;
        Self { plan, photos, view, units, ground, contours, questions, options, kept, items, through, states }
    }

    /// All layers of the drawing, each a named group, and the words on labels without room; `span` says
    /// how much of a length is on the sheet.
    pub fn draw(
        &self,
        layout: &Layout,
        span: &dyn Fn(PlanPoint, PlanPoint) -> Span,
    ) -> (Picture, Option<String>) {
        let layers = &self.options.layers;
        let mut board = Board::new(layout.window);
        self.kept.iter().for_each(|frame| board.take(Slab::of(frame)));
        self.occupy(&mut board);
        let mut out = Picture::default();
        if layers.utilities {
            out.named("layer-zones", self.zones());
        }
        let mut contours = Picture::default();
        if layers.contours {
            heights::contours(&mut contours, &mut board, self, (self.ground, self.contours));
        }
        out.named("layer-contours", contours);
        for layer in Layer::ALL {
            out.named(&format!("layer-{}", layer.name()), self.features(layer));
        }
        if layers.utilities {
            out.named("layer-utilities", self.utilities());
        }
        if layers.labels {
            naming::areas(self, &mut board);
            naming::points(self, &mut board);
            naming::lines(self, &mut board);
        }
        if layers.dimensions {
            dimensions::walls(&mut board, (self.plan, self.view), self.units, span);
        }
        let mut outlines = Picture::default();
        if layers.problems {
            self.problems(&mut outlines, &mut board);
        }
        photos::place(&mut board, self);
        questions::board(&mut board, self);
        let mut heights = Picture::default();
        if layers.heights {
            heights::spots(&mut heights, &mut board, self, self.ground);
        }
        if layers.fall {
            heights::falls(&mut board, self, self.ground);
        }
        let mut ties = Picture::default();
        if layers.taped_lines {
            dimensions::ties(&mut ties, &mut board, (self.plan, self.view), self.units, layers.dimensions);
        }
        let solved = board.solve(|left_out| {
            naming::left_out(left_out).map_or_else(Vec::new, |words| {
                Words::wrapped(&words, Face::of(TEXT).bold(), layout.window.width() * 0.6, 3)
            })
        });
        // Below all words, which have a white ground.
        if layers.points {
            out.named("layer-loose", self.loose());
        }
        out.named("layer-reaches", outlines);
        out.named("layer-contour-figures", solved.layer(Group::Contours));
        out.named("layer-fall", solved.layer(Group::Falls));
        ties.append(solved.layer(Group::Ties));
        out.named("layer-taped", ties);
        out.named("layer-dimensions", solved.layer(Group::Dimensions));
        if layers.points {
            out.named("layer-points", self.points());
        }
        heights.append(solved.layer(Group::Heights));
        out.named("layer-heights", heights);
        out.named("layer-labels", solved.layer(Group::Names));
        out.named("layer-photos", solved.layer(Group::Photos));
        out.named("layer-problems", solved.layer(Group::Problems));
        out.named("layer-questions", solved.layer(Group::Questions));
        out.append(solved.notice);
        (out, naming::left_out(&solved.left_out))
    }

    /// Tells the board where lines, signs and marks are.
    fn occupy(&self, board: &mut Board<'_>) {
        for item in &self.items {
            let key = match &item.shape.what {
                What::Feature(kind) => kind.as_str(),
                What::Mark { .. } if !self.options.layers.utilities => continue,
                What::Mark { .. } => "",
            };
            let cost = symbols::covering(key);
            if symbols::is_heavy(key) {
                match &item.figure {
                    Figure::Line(places) => board.wall(places, false),
                    Figure::Area(places) => board.wall(places, true),
                    Figure::Spot(_) | Figure::Circle { .. } => {}
                }
            }
            match (&item.figure, &item.shape.what) {
                (Figure::Line(places), _) => {
                    board.avoid(places, false, cost);
                    if let Some((letters, at)) = &item.letters {
                        at.iter().for_each(|at| board.take(symbols::letter_room(letters, *at)));
                    }
                }
                (Figure::Area(places), _) => board.avoid(places, true, cost),
                (Figure::Spot(at), What::Feature(kind)) => {
                    board.take(Slab::of(&item.manner.reach(fittings::reach(kind, *at))));
                    if let Some(way) = item.pointing {
                        let (tail, head) = fittings::arrow_line(kind, *at, way);
                        Slab::strip(tail, head, 1.0).into_iter().for_each(|slab| board.take(slab));
                    }
                }
                (Figure::Spot(at), What::Mark { colour, .. }) => {
                    board.take(Slab::of(&utilities::reach(*at, *colour)));
                }
                (Figure::Circle { centre, inner, outer }, _) => {
                    let trunk = self.trunk(*centre, *inner);
                    board.take(Slab::of(&item.manner.reach_round(trunk)));
                    if let Some(r) = outer {
                        board.avoid(&fittings::ring(*centre, *r, 48), true, 0.8);
                    }
                }
            }
            if item.manner.remove {
                let half = symbols::cross_reach(key, &item.figure);
                let crosses = symbols::crosses(&item.figure).into_iter();
                crosses.for_each(|at| board.take(Slab::upright(at, half, half)));
            }
        }
        for spot in self.ground.spots.iter().filter(|_| self.options.layers.heights) {
            board.take(Slab::upright(self.view.place(spot.at), heights::CROSS, heights::CROSS));
        }
        for point in &self.plan.points {
            board.sign(self.owner(point.at));
        }
        if self.options.layers.points {
            for point in &self.plan.points {
                board.take(Slab::of(&points::reach(self.view.place(point.at), point.state)));
                points::keep_free(board, self.plan, self.view, point);
            }
        }
    }

    /// The room of a trunk's sign.
    fn trunk(&self, centre: Spot, inner: Option<f64>) -> Frame {
        let r = inner.unwrap_or(0.0).max(0.75) + 0.95;
        Frame::around(centre, r, r)
    }

    /// Whether a place lies in a building.
    pub fn in_building(&self, at: Spot) -> bool {
        self.items.iter().any(|item| match (&item.figure, &item.shape.what) {
            (Figure::Area(places), What::Feature(key)) => naming::is_building(key) && inside(places, at),
            _ => false,
        })
    }

    /// The items whose outline goes through a place, or that stand on it.
    pub fn items_at(&self, at: PlanPoint) -> impl Iterator<Item = &Item<'a>> {
        let numbers = self.through.get(&exactly(at)).into_iter().flatten();
        numbers.filter_map(|n| self.items.get(*n))
    }

    /// The direction from a place at a building's walls out of the building; none anywhere else.
    pub fn outward(&self, at: PlanPoint) -> Option<(f64, f64)> {
        let here = self.view.place(at);
        self.items.iter().find_map(|item| match (&item.figure, &item.shape.what) {
            (Figure::Area(places), What::Feature(key)) if naming::is_building(key) => outward(places, here),
            _ => None,
        })
    }

    /// What a label of a place belongs to.
    pub fn owner(&self, at: PlanPoint) -> Owner {
        let (place, rooms) = (self.view.place(at), self.rooms(at));
        let state = self.states.get(&exactly(at));
        let round = state.is_some_and(|state| rooms == [points::reach(place, *state)]);
        Owner::of(place, &rooms, round)
    }

    /// The rooms of everything that stands on a place: its mark, and the signs there.
    fn rooms(&self, at: PlanPoint) -> Vec<Frame> {
        let here = self.view.place(at);
        let state = self.states.get(&exactly(at));
        let mut mark =
            state.map_or_else(|| Frame::around(here, 0.0, 0.0), |state| points::reach(here, *state));
        let layers = &self.options.layers;
        let height = if layers.heights { heights::room(self.ground, at, here) } else { None };
        for corner in height.iter().flat_map(Frame::corners) {
            mark.extend(corner);
        }
        let mut all = vec![mark];
        for item in self.items_at(at).filter(|item| stands_on(&item.shape.outline, at)) {
            let own = match (&item.figure, &item.shape.what) {
                (Figure::Spot(at), What::Feature(kind)) => item.manner.reach(fittings::reach(kind, *at)),
                (Figure::Spot(at), What::Mark { colour, .. }) => utilities::reach(*at, *colour),
                (Figure::Circle { centre, inner, .. }, _) => {
                    item.manner.reach_round(self.trunk(*centre, *inner))
                }
                _ => continue,
            };
            all.push(own);
            if item.manner.remove {
                let key = match &item.shape.what {
                    What::Feature(key) => key.as_str(),
                    What::Mark { .. } => "",
                };
                let half = symbols::cross_reach(key, &item.figure);
                all.push(Frame::around(here, half, half));
            }
        }
        all
    }

    fn features(&self, layer: Layer) -> Picture {
        let mut picture = Picture::default();
        for item in &self.items {
            if let What::Feature(key) = &item.shape.what
                && Layer::of(key) == layer
            {
                symbols::draw(&mut picture, key, &item.figure, item.manner, item.places_of_letters());
                if let (Figure::Spot(at), Some(way)) = (&item.figure, item.pointing) {
                    fittings::arrow(&mut picture, key, *at, way);
                }
            }
        }
        picture
    }

    fn utilities(&self) -> Picture {
        let mut picture = Picture::default();
        for item in &self.items {
            if let What::Mark { colour, .. } = &item.shape.what {
                utilities::draw(&mut picture, *colour, &item.figure, item.manner, item.places_of_letters());
            }
        }
        picture
    }

    /// Tolerance zones, under everything.
    fn zones(&self) -> Picture {
        let mut picture = Picture::default();
        for item in &self.items {
            if let Some(reach) = item.shape.zone {
                utilities::zone(&mut picture, &item.figure, self.view.length(reach));
            }
        }
        picture
    }

    /// Where points that are not determined may be.
    fn loose(&self) -> Picture {
        let mut picture = Picture::default();
        for point in &self.plan.points {
            points::freedom(&mut picture, self.plan, self.view, point);
        }
        picture
    }

    fn points(&self) -> Picture {
        let mut picture = Picture::default();
        for point in &self.plan.points {
            let mut own = Picture::default();
            points::mark(&mut own, self.view.place(point.at), point.state);
            picture.group(Role::Told("point", "label", point.label.clone()), own);
        }
        picture
    }

    fn problems(&self, outlines: &mut Picture, board: &mut Board<'a>) {
        for problem in &self.plan.problems {
            let Some(at) = problem.at else { continue };
            if let Some((places, closed)) = problem.outline.as_ref().and_then(|o| edge(o, self.view)) {
                outlines.polyline(&places, closed, Pen::line(0.25).dashed(Dash::ThreeDots));
                board.avoid(&places, closed, 1.0);
            }
            let (number, severity) = (problem.number.to_string(), problem.severity);
            let half = diamond_reach(&number, severity);
            self.tied(board, at, (Group::Problems, half), &number.clone(), move |picture, pose| {
                diamond(picture, pose.middle, &number, severity);
            });
        }
    }

    /// A numbered sign, tied by a line to its place.
    pub fn tied(
        &self,
        board: &mut Board<'a>,
        at: PlanPoint,
        (group, half): (Group, f64),
        number: &str,
        draw: impl Fn(&mut Picture, &Pose) + 'a,
    ) {
        let own = self.owner(at);
        let Owner { at: place, sign, .. } = own;
        if !board.shows(place) {
            return;
        }
        // A place of its own, not a point's, is told by a dot at the line's end.
        let bare = sign.width() <= 0.0;
        let clear = sign.width().max(sign.height()) / 2.0 + 0.8;
        let candidates: Vec<_> = tied(own, half, clear).collect();
        board.add((group, Kind::Sign, number, 90.0), (candidates, None), move |picture, pose| {
            if bare {
                picture.circle(place, 0.35, Pen::fill(INK));
            }
            draw(picture, pose);
        });
    }
}

/// A place as a key: outlines hold the very numbers of their points.
fn exactly(at: PlanPoint) -> [u64; 2] {
    let (x, y) = at.metres();
    // Nought has two signs.
    [(x + 0.0).to_bits(), (y + 0.0).to_bits()]
}

/// Whether a sign, a trunk or a stump stands on a place.
pub(super) fn stands_on(outline: &Outline, at: PlanPoint) -> bool {
    matches!(outline, Outline::Spot(own) | Outline::Circle { centre: own, .. } if *own == at)
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
