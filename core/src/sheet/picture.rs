//! What a sheet shows, before it is any kind of file: lines, rings, boxes and words in millimetres, in drawing
//! order. [`super::svg`] and [`super::pdf`] write it.

use super::geometry::{Frame, Spot};
use super::pen::{Face, Pen};

/// One stretch of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Step {
    /// Goes there without drawing.
    Move(Spot),
    Line(Spot),
    /// The shorter arc of a circle of this radius, mm, clockwise on the sheet or counter-clockwise.
    Arc {
        radius: f64,
        clockwise: bool,
        to: Spot,
    },
    /// Back to where the stretch began.
    Close,
}

/// What a group is, and how its items are taken.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Role {
    /// The only one of its name.
    Named(String),
    /// One of many.
    Class(&'static str),
    /// One of many, with what it says of itself: the key and its value.
    Told(&'static str, &'static str, String),
    /// Moved to the right and down.
    Moved(Spot),
    /// Cut off at the window's edge.
    Window,
}

/// One thing drawn.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Item {
    Group(Role, Picture),
    Line(Spot, Spot, Pen),
    Path(Vec<Step>, Pen),
    Circle(Spot, f64, Pen),
    Rect(Frame, Pen),
    /// Words with their baseline at a place.
    Text(Spot, Face, String),
}

/// Things in the order they are drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Picture(Vec<Item>);

impl Picture {
    pub fn items(&self) -> &[Item] {
        &self.0
    }
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
    /// Draws another picture over this one.
    pub fn append(&mut self, other: Self) {
        self.0.extend(other.0);
    }
    /// Nothing where there is nothing in it.
    pub fn group(&mut self, role: Role, inner: Self) {
        if !inner.is_empty() {
            self.0.push(Item::Group(role, inner));
        }
    }
    /// The group of this name.
    pub fn named(&mut self, name: &str, inner: Self) {
        self.group(Role::Named(name.to_owned()), inner);
    }
    pub fn line(&mut self, a: Spot, b: Spot, pen: Pen) {
        self.0.push(Item::Line(a, b, pen));
    }
    /// Nothing where there are no steps.
    pub fn path(&mut self, steps: Vec<Step>, pen: Pen) {
        if !steps.is_empty() {
            self.0.push(Item::Path(steps, pen));
        }
    }
    pub fn polyline(&mut self, places: &[Spot], closed: bool, pen: Pen) {
        if places.len() > 1 {
            self.path(outline(places, closed), pen);
        }
    }
    /// Many unconnected lines in one.
    pub fn lines(&mut self, lines: &[(Spot, Spot)], pen: Pen) {
        self.path(lines.iter().flat_map(|(a, b)| [Step::Move(*a), Step::Line(*b)]).collect(), pen);
    }
    pub fn circle(&mut self, centre: Spot, radius: f64, pen: Pen) {
        self.0.push(Item::Circle(centre, radius, pen));
    }
    pub fn rect(&mut self, frame: &Frame, pen: Pen) {
        self.0.push(Item::Rect(*frame, pen));
    }
    /// The same in greys.
    pub fn grey(&self) -> Self {
        self.changed(Pen::grey, Face::grey)
    }
    /// The same as a thing of which nobody knows where it stands.
    pub fn doubtful(&self) -> Self {
        self.changed(Pen::doubtful, |face| face)
    }
    fn changed(&self, pen: impl Fn(Pen) -> Pen + Copy, face: impl Fn(Face) -> Face + Copy) -> Self {
        let change = |item: &Item| match item {
            Item::Group(role, inner) => Item::Group(role.clone(), inner.changed(pen, face)),
            Item::Line(a, b, own) => Item::Line(*a, *b, pen(*own)),
            Item::Path(steps, own) => Item::Path(steps.clone(), pen(*own)),
            Item::Circle(centre, radius, own) => Item::Circle(*centre, *radius, pen(*own)),
            Item::Rect(frame, own) => Item::Rect(*frame, pen(*own)),
            Item::Text(at, own, words) => Item::Text(*at, face(*own), words.clone()),
        };
        Self(self.0.iter().map(change).collect())
    }
    /// All words, each with how they are set.
    pub fn words<'a>(&'a self, each: &mut impl FnMut(&'a str, Face)) {
        for item in &self.0 {
            match item {
                Item::Group(_, inner) => inner.words(each),
                Item::Text(_, face, words) => each(words, *face),
                _ => {}
            }
        }
    }
    /// Text with its baseline at `at`.
    pub fn text(&mut self, at: Spot, face: Face, words: &str) {
        self.0.push(Item::Text(at, face, words.to_owned()));
    }
}

/// A line through places.
fn outline(places: &[Spot], closed: bool) -> Vec<Step> {
    let mut steps: Vec<Step> = places.iter().map(|at| Step::Line(*at)).collect();
    if let (Some(first), Some(at)) = (steps.first_mut(), places.first()) {
        *first = Step::Move(*at);
    }
    if closed {
        steps.push(Step::Close);
    }
    steps
}

/// A whole sheet.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Page {
    /// The paper, mm, its upper left corner at 0, 0.
    pub sheet: Frame,
    /// What is drawn to scale is cut off at this frame.
    pub window: Frame,
    pub title: String,
    /// Who measured; may be empty.
    pub author: String,
    pub description: String,
    pub body: Picture,
}
