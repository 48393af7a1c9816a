//! What stands on the plates and in no train, drawn where the sheet says it is: pillars with their nuts, screws or pins, winding
//! squares, bells; and the barrel or drum of an arbor, as wide as it was measured.

use crate::anchor::{Anchor, Anchored, CloseUp};
use crate::ink::Tag;
use crate::placed::drawn_at;
use crate::scene::Scene;
use kurbo::{BezPath, Point, Rect, Vec2};
use movement::{Arbor, Fixing, FixtureKind, Movement};
use quantity::to_f64;
use std::f64::consts::{PI, TAU};

/// A pillar is drawn so wide from its middle, in millimetres: how thick one is stands on no sheet.
const PILLAR: f64 = 3.0;
/// Half across a square that was not measured.
const SQUARE: f64 = 2.2;
/// Half across a bell that was not measured; it is drawn dotted.
const BELL: f64 = 14.0;

/// One thing that stands there.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Standing {
    pub(crate) what: Stood,
    /// In the sheet's own view, y downward.
    pub(crate) at: Point,
    pub(crate) radius: f64,
}

/// What it is.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Stood {
    /// A pillar, by its place among them.
    Pillar(usize, Fixing),
    /// A winding square or a bell, by its place among them, and whether its size is known.
    Fixture(usize, FixtureKind, bool),
}

impl Standing {
    pub(crate) fn frame(&self) -> Rect {
        let reach = Vec2::new(self.radius, self.radius);
        Rect::from_points(self.at - reach, self.at + reach)
    }

    fn anchored(&self) -> Anchored {
        match self.what {
            Stood::Pillar(n, _) => Anchored::Pillar(n),
            Stood::Fixture(n, _, _) => Anchored::Fixture(n),
        }
    }

    fn is_bell(&self) -> bool {
        matches!(self.what, Stood::Fixture(_, FixtureKind::Bell, _))
    }
}

/// All that stands on the plates of a movement: bells first, as they lie furthest out.
pub(crate) fn standing(movement: &Movement) -> Vec<Standing> {
    let frame = movement.frame();
    let fixtures = frame.fixtures.iter().enumerate().map(|(n, fixture)| {
        let usual = match fixture.kind {
            FixtureKind::WindingSquare => SQUARE,
            FixtureKind::Bell => BELL,
        };
        let half = fixture
            .across_mm
            .as_ref()
            .map(|across| to_f64(across) / 2.0);
        Standing {
            what: Stood::Fixture(n, fixture.kind, half.is_some()),
            at: drawn_at(&fixture.at),
            radius: half.unwrap_or(usual).clamp(0.5, 1000.0),
        }
    });
    let pillars = frame
        .pillars
        .iter()
        .enumerate()
        .map(|(n, pillar)| Standing {
            what: Stood::Pillar(n, pillar.fixing),
            at: drawn_at(&pillar.at),
            radius: PILLAR,
        });
    let mut all: Vec<Standing> = fixtures.chain(pillars).collect();
    all.sort_by_key(|standing| !standing.is_bell());
    all
}

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
