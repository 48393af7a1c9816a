//! Pillars with their nuts, screws or pins, winding squares and bells, drawn where they stand; and the barrel or drum of an arbor, as
//! wide as it was measured.

use crate::anchor::{Anchor, CloseUp};
use crate::ink::Tag;
use crate::scene::Scene;
use crate::standing::{Standing, Stood};
use kurbo::{BezPath, Point, Vec2};
use movement::{Arbor, Fixing, FixtureKind};
use quantity::to_f64;
use std::f64::consts::{PI, TAU};

/// The barrel's inside or the drum's outside, half across, where it was measured.
fn barrel(arbor: &Arbor) -> Option<f64> {
    let across = (arbor.measured("drum_mm")).or_else(|| arbor.measured("barrel_inside_mm"))?;
    Some(to_f64(across) / 2.0).filter(|half| (1.0..1000.0).contains(half))
}

impl Scene<'_> {
    /// Pillars and bells: behind all that turns.
    pub(crate) fn stand_behind(&mut self) {
        self.standing_there(|standing| {
            !matches!(
                standing.what,
                Stood::Fixture(_, FixtureKind::WindingSquare, _)
            )
        });
    }

    /// Barrels, drums and winding squares: over the wheels, as the key is put on from without.
    pub(crate) fn stand_before(&mut self) {
        let movement = self.sight.movement;
        for (id, arbor) in movement.arbors() {
            let Some(half) = barrel(arbor) else { continue };
            let tag = Tag::new("g", "barrel").with("data-arbor", &arbor.id);
            self.ink.open(&tag);
            self.ink.circle("line", self.sight.centre(id), half);
            self.ink.close("g");
        }
        self.standing_there(|standing| {
            matches!(
                standing.what,
                Stood::Fixture(_, FixtureKind::WindingSquare, _)
            )
        });
    }

    fn standing_there(&mut self, drawn: impl Fn(&Standing) -> bool) {
        let frame = self.sight.movement.frame();
        let all = self.sight.layout.standing.clone();
        for standing in all.iter().filter(|standing| drawn(standing)) {
            let at = self.sight.point(standing.at);
            let (class, id) = match standing.what {
                Stood::Pillar(n, _) => ("pillar", &frame.pillars[n].id),
                Stood::Fixture(n, FixtureKind::WindingSquare, _) => {
                    ("winding-square", &frame.fixtures[n].id)
                }
                Stood::Fixture(n, FixtureKind::Bell, true) => ("bell", &frame.fixtures[n].id),
                Stood::Fixture(n, FixtureKind::Bell, false) => {
                    ("bell schematic", &frame.fixtures[n].id)
                }
            };
            let tag = Tag::new("g", &format!("standing {class}"));
            self.ink.open(&tag.with("data-standing", id));
            let radius = standing.radius;
            match standing.what {
                Stood::Pillar(_, fixing) => {
                    self.ink.circle("steel", at, radius);
                    match fixing {
                        Fixing::Nut => self.ink.path("fine", &corners(at, 0.74 * radius, 6)),
                        Fixing::Screw => {
                            let along = Vec2::from_angle(-PI / 4.0) * (0.8 * radius);
                            self.ink.line("line", at - along, at + along);
                        }
                        Fixing::Pin => {
                            let along = Vec2::new(1.5 * radius, 0.0);
                            self.ink.line("line", at - along, at + along);
                            self.ink.circle("fine", at, 0.5 * radius);
                        }
                    }
                }
                Stood::Fixture(_, FixtureKind::WindingSquare, _) => {
                    self.ink
                        .path("steel", &corners(at, radius * 2_f64.sqrt(), 4));
                }
                Stood::Fixture(_, FixtureKind::Bell, _) => {
                    self.ink.circle("mouth", at, radius);
                    self.ink.circle("mouth", at, 0.16 * radius);
                }
            }
            self.ink.close("g");
        }
    }

    /// Where each of them is.
    pub(crate) fn standing_anchors(&self) -> Vec<Anchor> {
        let anchor = |standing: &Standing| {
            let at = self.sight.point(standing.at);
            let at = CloseUp {
                x: at.x,
                y: at.y,
                radius: standing.radius,
            };
            Anchor {
                of: standing.anchored(),
                at,
            }
        };
        self.sight.layout.standing.iter().map(anchor).collect()
    }
}

/// A regular figure of so many corners.
fn corners(at: Point, radius: f64, many: u8) -> BezPath {
    let mut path = BezPath::new();
    for corner in 0..many {
        let angle = TAU * (f64::from(corner) + 0.5) / f64::from(many);
        let point = at + radius * Vec2::from_angle(angle);
        match corner {
            0 => path.move_to(point),
            _ => path.line_to(point),
        }
    }
    path.close_path();
    path
}
