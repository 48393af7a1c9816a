//! Pillars with their nuts, screws or pins, winding squares and bells, drawn where they stand; and the barrel or drum of an arbor, as
//! wide as it was measured.

use crate::anchor::{Anchor, CloseUp};
use crate::ink::Tag;
use crate::scene::Scene;
use crate::standing::{Standing, Stood};
use kurbo::{BezPath, Point, Vec2};
use movement::{Arbor, ArborId, Fixing, FixtureKind, Turning};
use quantity::to_f64;
use std::f64::consts::{PI, TAU};

/// A barrel or a drum, as far as it was measured: radii in millimetres.
enum Barrel {
    /// Of a spring.
    Spring {
        /// Its inside.
        inside: f64,
        /// The arbor that the spring winds on.
        arbor: Option<f64>,
        /// What the spring leaves free as it lies let down against the wall.
        free: Option<f64>,
    },
    /// Of a line.
    Drum {
        /// Its outside.
        outside: f64,
        /// Half as thick as the line is.
        line: Option<f64>,
    },
}

impl Barrel {
    fn of(arbor: &Arbor) -> Option<Barrel> {
        let mm = |key: &str| arbor.measured(key).map(to_f64).filter(|mm| *mm > 0.0);
        let half = |key: &str| mm(key).map(|mm| mm / 2.0);
        let drawn = |half: &f64| (1.0..1000.0).contains(half);
        if let Some(outside) = half("drum_mm").filter(drawn) {
            let line = half("cord_mm").or_else(|| half("double_cord_mm"));
            return Some(Barrel::Drum { outside, line });
        }
        let inside = half("barrel_inside_mm").filter(drawn)?;
        // The strip takes as much of the barrel's round as it is long and thick.
        let strip = mm("spring_long_mm").zip(mm("spring_thick_mm"));
        let free = strip.map(|(long, thick)| inside * inside - long * thick / PI);
        Some(Barrel::Spring {
            inside,
            arbor: half("spring_arbor_mm").filter(|arbor| *arbor < inside),
            free: free.filter(|square| *square > 0.0).map(f64::sqrt),
        })
    }
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
            let Some(barrel) = Barrel::of(arbor) else {
                continue;
            };
            let class = match barrel {
                Barrel::Spring { .. } => "barrel",
                Barrel::Drum { .. } => "barrel drum",
            };
            let tag = Tag::new("g", class).with("data-arbor", &arbor.id);
            self.ink.open(&tag);
            self.barrel(id, &barrel);
            self.ink.close("g");
        }
        self.standing_there(|standing| {
            matches!(
                standing.what,
                Stood::Fixture(_, FixtureKind::WindingSquare, _)
            )
        });
    }

    /// A barrel with its arbor and its spring let down; a drum with its line, which hangs on the side that drives it.
    fn barrel(&mut self, id: ArborId, barrel: &Barrel) {
        let at = self.sight.centre(id);
        match *barrel {
            Barrel::Spring {
                inside,
                arbor,
                free,
            } => {
                self.ink.circle("line", at, inside);
                if let Some(free) = free {
                    self.ink.circle("coil", at, free);
                }
                if let Some(arbor) = arbor {
                    self.ink.circle("steel", at, arbor);
                }
            }
            Barrel::Drum { outside, line } => {
                let movement = self.sight.movement;
                let out = outside + line.unwrap_or(0.0);
                let side = match movement.runs(id, movement.seen_from()) {
                    Turning::Clockwise => out,
                    Turning::Counterclockwise => -out,
                };
                let middle = self.sight.layout.centres[id.index()];
                let down = self.sight.layout.outers[id.index()].max(1.5 * out);
                let hangs = [0.0, down].map(|y| self.sight.point(middle + Vec2::new(side, y)));
                self.ink.circle("line", at, outside);
                let tag = Tag::new("line", "cord").num("stroke-width", 2.0 * line.unwrap_or(0.4));
                let tag = tag.point(["x1", "y1"], hangs[0]);
                self.ink.empty(&tag.point(["x2", "y2"], hangs[1]));
            }
        }
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
