//! What stands on the plates and in no train, where the sheet says it is: pillars, winding squares, bells.

use crate::anchor::Anchored;
use crate::placed::drawn_at;
use kurbo::{Point, Rect, Vec2};
use movement::{Fixing, FixtureKind, Movement};
use quantity::to_f64;

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

    pub(crate) fn anchored(&self) -> Anchored {
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
