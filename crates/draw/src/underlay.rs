//! A picture under a drawing, and places of a drawing as places on the plate.

use crate::ink::number;
use crate::view::Sight;
use crate::{Layout, Mm, Similarity, View};
use kurbo::Point;
use movement::Movement;

/// A picture that lies under a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Underlay {
    /// Where it is fetched.
    pub address: String,
    /// Its height, as a part of its width.
    pub high: f64,
    /// From places on it, in parts of its width, to the drawing's user units.
    pub lies: Similarity,
    /// How much of it is seen, in hundredths.
    pub shown: u8,
}

impl Underlay {
    /// A drawing's text with the picture before all else in it; the drawing is of the class `over-picture` then, so that rules may
    /// let the picture be seen through it.
    pub fn beneath(&self, svg: &str) -> String {
        match svg.split_once('>') {
            Some((open, rest)) => {
                let open = open.replacen("class=\"drawing", "class=\"drawing over-picture", 1);
                format!("{open}>{}{rest}", self.svg())
            }
            None => svg.to_owned(),
        }
    }

    fn svg(&self) -> String {
        let [a, b, c, d, e, f] = self.lies.matrix();
        let fine = |x: f64| format!("{x:.5}");
        format!(
            "<image class=\"underlay\" href=\"{}\" width=\"1\" height=\"{}\" preserveAspectRatio=\"none\" opacity=\"{}\" transform=\"matrix({} {} {} {} {} {})\"/>",
            self.address,
            fine(self.high),
            number(f64::from(self.shown.min(100)) / 100.0),
            fine(a),
            fine(b),
            fine(c),
            fine(d),
            fine(e),
            fine(f)
        )
    }
}

/// A place on the plate, as seen from the sheet's plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OnPlate {
    /// To the right.
    pub right: Mm,
    /// Up.
    pub up: Mm,
}

impl OnPlate {
    /// A place; nothing where it is none.
    pub fn of(right: f64, up: f64) -> Option<OnPlate> {
        Some(OnPlate {
            right: Mm::of(right)?,
            up: Mm::of(up)?,
        })
    }
}

impl Layout {
    /// The place on the plate of a point of a drawing of this layout, in its user units.
    pub fn on_plate(&self, movement: &Movement, view: View, [x, y]: [f64; 2]) -> OnPlate {
        // A view turns things about the middle, or turns them over: done twice, all is as it was.
        let at = Sight::new(movement, self, view).point(Point::new(x, y));
        OnPlate {
            right: Mm::worked_out(at.x),
            up: Mm::worked_out(-at.y),
        }
    }

    /// Where a place on the plate is in a drawing of this layout, in its user units.
    pub fn in_drawing(&self, movement: &Movement, view: View, place: OnPlate) -> [f64; 2] {
        let at = Point::new(place.right.mm(), -place.up.mm());
        let at = Sight::new(movement, self, view).point(at);
        [at.x, at.y]
    }

    /// How a picture that was taken of the plate towards you lies under a drawing, from how it lies on that plate: places there are
    /// seen from it, to the right and downward, in millimetres, from the same point as the sheet's.
    pub fn under(&self, movement: &Movement, view: View, on_plate: Similarity) -> Similarity {
        let sight = Sight::new(movement, self, view);
        let middle = sight.bounds().center();
        let lies = match sight.turned_over() {
            // Seen from behind, what lies to the right lies to the left.
            true => on_plate.moved([2.0 * middle.x, 0.0]),
            false => on_plate,
        };
        match view.upside_down {
            true => lies.upside_down([middle.x, middle.y]),
            false => lies,
        }
    }
}
