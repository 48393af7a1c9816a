//! From which side, and which way up, a movement is looked at, and in what measure it is drawn.

use crate::Layout;
use kurbo::{Point, Rect};
use movement::{ArborId, Movement, Plate, Turning};
use std::f64::consts::PI;

/// Height of the letters, in units of the drawing's measure.
pub(crate) const LETTERS: f64 = 3.7;
/// From the wheels to the edge of the plate, in the same.
pub(crate) const EDGE: f64 = 6.5;

/// How a movement lies before the eye.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct View {
    /// The plate towards you.
    pub plate: Plate,
    /// Whether the bottom of the movement is up.
    pub upside_down: bool,
}

impl View {
    /// Upright, from the plate the sheet is seen from.
    pub fn of_sheet(movement: &Movement) -> View {
        View {
            plate: movement.seen_from(),
            upside_down: false,
        }
    }

    /// Ahead on an arbor, as it is seen: 1 where it runs clockwise, which is how SVG counts angles, else −1.
    pub(crate) fn ahead(self, movement: &Movement, arbor: ArborId) -> f64 {
        match movement.runs(arbor, self.plate) {
            Turning::Clockwise => 1.0,
            Turning::Counterclockwise => -1.0,
        }
    }

    /// An angle of the sheet's own view, as it is seen.
    pub(crate) fn angle(self, movement: &Movement, angle: f64) -> f64 {
        let mirrored = if self.plate == movement.seen_from() {
            angle
        } else {
            PI - angle
        };
        if self.upside_down {
            mirrored + PI
        } else {
            mirrored
        }
    }
}

/// A view of one layout: places and angles of the sheet's view as they are seen.
pub(crate) struct Sight<'a> {
    pub(crate) movement: &'a Movement,
    pub(crate) layout: &'a Layout,
    pub(crate) view: View,
    bounds: Rect,
}

impl<'a> Sight<'a> {
    pub(crate) fn new(movement: &'a Movement, layout: &'a Layout, view: View) -> Sight<'a> {
        Sight {
            movement,
            layout,
            view,
            bounds: layout.bounds(movement),
        }
    }

    /// The frame of everything; alike from every side, as views turn about its middle.
    pub(crate) fn bounds(&self) -> Rect {
        self.bounds
    }

    /// One hundred-and-thirtieth of the longer side: the measure of letters and arrows.
    pub(crate) fn unit(&self) -> f64 {
        self.bounds.width().max(self.bounds.height()) / 130.0
    }

    pub(crate) fn turned_over(&self) -> bool {
        self.view.plate != self.movement.seen_from()
    }

    pub(crate) fn point(&self, p: Point) -> Point {
        let middle = self.bounds.center();
        let off = p - middle;
        let x = if self.turned_over() == self.view.upside_down {
            off.x
        } else {
            -off.x
        };
        let y = if self.view.upside_down { -off.y } else { off.y };
        middle + kurbo::Vec2::new(x, y)
    }

    pub(crate) fn centre(&self, arbor: ArborId) -> Point {
        self.point(self.layout.centres[arbor.index()])
    }

    pub(crate) fn angle(&self, angle: f64) -> f64 {
        self.view.angle(self.movement, angle)
    }

    pub(crate) fn ahead(&self, arbor: ArborId) -> f64 {
        self.view.ahead(self.movement, arbor)
    }
}
