//! Tracks, pins and levers drawn as the sheet has them, each in a group of its own that can be turned.
//!
//! What is worn, bent, missing or slipped is not drawn: the parts are drawn sound.

use crate::ink::{Drawing, Tag, degrees};
use crate::laying::machinery;
use crate::machinery::{Machinery, Pivot, Round, outline};
use crate::scene::{Scene, scene};
use crate::{Layout, Marks, Pose, View};
use kurbo::{BezPath, Point, Vec2};
use movement::{ArborId, Carrier, Movement, Plate, Shape, Works};
use quantity::{Degrees, to_f64};

/// Draws a movement with its levers as the sheet has them, at the drop of the last hour, each lever arbor at the height
/// the pose has for it; as [`scene`](crate::scene()) where the sheet has no levers.
///
/// Beside what the scene has, every track and pin that goes round is a group with `data-arbor`, or with `data-hours` the
/// hours of a turn where the motion work carries it, and every lever arbor is one with `data-lever-arbor`, whose `g.turn` is to
/// be rotated by `data-turn` for each degree it is lifted.
pub fn running(movement: &Movement, layout: &Layout, view: View, pose: &Pose) -> Drawing {
    let mut laid = layout.clone();
    laid.machinery = machinery(movement, layout);
    scene(movement, &laid, view, pose, &Marks::default())
}

impl Scene<'_> {
    /// All that the strike is run by, over the wheels.
    pub(crate) fn works(&mut self) {
        let movement = self.sight.movement;
        let (Some(works), Some(made)) = (movement.works(), self.sight.layout.machinery.as_ref())
        else {
            return;
        };
        self.ink.open(&Tag::new("g", "works"));
        self.rounds(works, made, |_| true);
        for pivot in &made.pivots {
            self.pivot(pivot);
        }
        self.ink.close("g");
    }

    /// What goes round with arbors, or with the motion work, as far as it is to be drawn.
    pub(crate) fn rounds(
        &mut self,
        works: &Works,
        made: &Machinery,
        drawn: impl Fn(&Carrier<ArborId>) -> bool,
    ) {
        for (id, track) in works.tracks().filter(|(_, track)| drawn(&track.carrier)) {
            if let Some(round) = &made.tracks[id.index()] {
                self.goes_round(&track.carrier, round, |scene, ahead| {
                    scene.track(&track.shape, round, ahead);
                });
            }
        }
        for (id, pin) in (works.pins()).filter(|(_, pin)| drawn(&Carrier::Arbor(pin.on))) {
            if let Some(round) = &made.pins[id.index()] {
                self.goes_round(&Carrier::Arbor(pin.on), round, |scene, ahead| {
                    for place in &pin.places {
                        let at = Vec2::from_angle(-ahead * place.to_f64().to_radians());
                        let size = 0.9 * scene.sight.unit();
                        scene
                            .ink
                            .circle("ink", (round.radius * at).to_point(), size);
                    }
                });
            }
        }
    }

    /// Opens and closes the groups of what goes round; its place 0 lies to the right in them.
    fn goes_round(
        &mut self,
        carrier: &Carrier<ArborId>,
        round: &Round,
        shape: impl FnOnce(&mut Self, f64),
    ) {
        let angle = self.sight.angle(round.angle);
        let (tag, ahead) = match carrier {
            Carrier::Arbor(on) => {
                let name = &self.sight.movement.arbor(*on).id;
                (
                    Tag::new("g", "track").with("data-arbor", name),
                    self.sight.ahead(*on),
                )
            }
            Carrier::Hours(hours) => (
                Tag::new("g", "track").num("data-hours", to_f64(hours)),
                hands_ahead(self.sight.view.plate),
            ),
        };
        let at = self.sight.point(round.centre);
        let tag = tag
            .with("data-turn", if ahead > 0.0 { "1" } else { "-1" })
            .shift(at);
        self.ink.open(&tag);
        let turned = Tag::new("g", "turn")
            .with("data-at", &degrees(angle.to_degrees()))
            .turned(angle);
        self.ink.open(&turned);
        shape(self, ahead);
        self.ink.close("g");
        self.ink.close("g");
    }

    /// A track's edge, with all its slots, ramps, pins or steps.
    fn track(&mut self, shape: &Shape, round: &Round, ahead: f64) {
        let bottom = round.radius - round.depth;
        let mut points = outline(shape);
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        if let (
            Shape::Lobes {
                places, rise, hold, ..
            },
            true,
        ) = (shape, round.radius > 9.0)
        {
            // Pins, where they are many and lift shortly; the tip has passed the pin when it is let go.
            if places.len() > 3 && rise.to_f64() + hold.to_f64() < 360.0 / 3.0 {
                let size = 0.9 * self.sight.unit();
                for place in places {
                    let back = (size / round.radius).to_degrees();
                    let at = Vec2::from_angle(-ahead * (place.to_f64() - back).to_radians());
                    let at = (round.radius - size) * at;
                    self.ink.circle("ink", at.to_point(), size);
                }
                return;
            }
        }
        let mut edge = BezPath::new();
        let at = |place: f64, height: f64| -> Point {
            let out = Vec2::from_angle(-ahead * place.to_radians());
            ((bottom + height * round.depth) * out).to_point()
        };
        let mut last: Option<(f64, f64)> = None;
        let first = points.first().copied();
        let on = first.map(|(place, height)| (place + 360.0, height));
        for (place, height) in points.into_iter().chain(on) {
            match last {
                None => edge.move_to(at(place, height)),
                Some((from, low)) => {
                    // An arc in short pieces.
                    const PIECE: f64 = 3.0;
                    let mut between = from + PIECE;
                    while between < place {
                        let part = (between - from) / (place - from);
                        edge.line_to(at(between, low + part * (height - low)));
                        between += PIECE;
                    }
                    edge.line_to(at(place, height));
                }
            }
            last = Some((place, height));
        }
        edge.close_path();
        // Of a large wheel only its edge, so that what lies behind it is seen.
        if round.radius > 14.0 {
            let inner = 0.86 * bottom;
            edge.extend(kurbo::Shape::path_elements(
                &kurbo::Circle::new(Point::ZERO, inner),
                0.05,
            ));
        }
        self.ink.path(
            if round.radius > 14.0 {
                "brass"
            } else {
                "steel"
            },
            &edge,
        );
    }

    /// A lever arbor with its arms.
    fn pivot(&mut self, pivot: &Pivot) {
        let movement = self.sight.movement;
        let Some(works) = movement.works() else {
            return;
        };
        let at = self.sight.point(pivot.at);
        let unit = self.sight.unit();
        let mirrored = if self.sight.turned_over() { -1.0 } else { 1.0 };
        let sense = pivot.sense * mirrored;
        let name = works.lever_arbors().find(|(id, _)| *id == pivot.arbor);
        let name = name.map_or("", |(_, name)| name);
        let tag = Tag::new("g", "lever-arbor")
            .with("data-lever-arbor", name)
            .with("data-turn", if sense > 0.0 { "1" } else { "-1" })
            .shift(at);
        self.ink.open(&tag);
        let height = self.pose.height(pivot.arbor).map_or(0.0, Degrees::to_f64);
        let turned = Tag::new("g", "turn").turned((sense * height).to_radians());
        self.ink.open(&turned);
        let arms: Vec<(&str, BezPath, (Point, Point, f64))> = (pivot.arms.iter())
            .map(|arm| {
                let local = |p: Point| (self.sight.point(p) - at).to_point();
                let (knee, tip) = (local(arm.knee), local(arm.tip));
                let mut path = BezPath::new();
                path.move_to(Point::ZERO);
                path.line_to(knee);
                path.line_to(tip);
                (
                    works.lever(arm.lever).id.as_str(),
                    path,
                    (knee, tip, arm.width),
                )
            })
            .collect();
        for class in ["lever-halo", "lever-edge", "lever"] {
            for (name, path, _) in &arms {
                let tag = Tag::new("path", class).with("data-lever", name);
                self.ink.empty(&tag.with("d", &crate::ink::path(path)));
            }
        }
        for (_, _, (knee, tip, width)) in &arms {
            // The tip, so wide as it is.
            let along = (*tip - *knee).normalize();
            let across = 0.5 * width * Vec2::new(-along.y, along.x);
            let mut block = BezPath::new();
            block.move_to(*tip + across);
            block.line_to(*tip - across);
            block.line_to(*tip - across - 2.2 * along);
            block.line_to(*tip + across - 2.2 * along);
            block.close_path();
            self.ink.path("steel", &block);
        }
        self.ink.circle("steel", Point::ZERO, 1.7 * unit);
        self.ink.circle("ink", Point::ZERO, 0.6 * unit);
        self.ink.close("g");
        self.ink.close("g");
    }
}

/// Whether a sheet is seen from where its hands go round clockwise.
fn hands_ahead(plate: Plate) -> f64 {
    match plate {
        Plate::Front => 1.0,
        Plate::Back => -1.0,
    }
}
