//! What sits on the wheels beside teeth: slots, pins, vanes and the cam, with the radii they sit at.

use crate::figure::Fitting;
use crate::figures::figure;
use crate::pitch::{CLEAR, Pitches, Sized};
use crate::tooth;
use movement::{ArborId, Carrier, CountedBy, Movement, Shape, Strike, WitnessId};

/// The cam on the arbor that is held at the drop.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Cam {
    pub(crate) on: ArborId,
    pub(crate) radius: f64,
    pub(crate) notches: u16,
}

/// All that sits on the wheels.
#[derive(Debug, Clone)]
pub(crate) struct Fittings {
    pub(crate) all: Vec<Fitting>,
    pub(crate) cam: Option<Cam>,
    /// Arbors with a fly, and the length of its vane from the middle.
    pub(crate) flies: Vec<(ArborId, f64)>,
}

/// The cam, as a part of its wheel.
const CAM: f64 = 0.46;
/// Where a wheel has no rim for what it should bear, a disc of this radius does.
const LEAST_DISC: f64 = 7.0;
/// A further witness on the same arbor sits so much nearer the middle.
const INWARD: f64 = 0.2;

impl Fittings {
    /// How far what sits on an arbor beside teeth reaches from its middle; nothing where all lies within its wheels.
    pub(crate) fn reach(&self, arbor: ArborId) -> Option<f64> {
        let discs = self.all.iter().filter(|f| f.on == arbor).map(|f| {
            let own = match (f.what.is_fly(), f.what.through()) {
                (true, _) => 0.0,
                (_, true) => f.radius + f.size,
                _ => f.radius,
            };
            own.max(f.disc.unwrap_or(0.0))
        });
        let cam = self.cam.filter(|c| c.on == arbor).map(|c| c.radius);
        let flies = self.flies.iter().filter(|f| f.0 == arbor).map(|f| f.1);
        discs.chain(cam).chain(flies).reduce(f64::max)
    }

    /// The fitting of a witness.
    pub(crate) fn of(&self, witness: WitnessId) -> &Fitting {
        &self.all[witness.index()]
    }

    /// How far in the rim of an arbor's wheel must come to bear its pins; nothing where it bears none.
    pub(crate) fn rim(&self, arbor: ArborId) -> Option<f64> {
        self.all
            .iter()
            .filter(|f| f.on == arbor && f.disc.is_none() && f.what.through())
            .map(|f| f.radius - 2.0 * f.size)
            .reduce(f64::min)
    }
}

/// The part of an arbor that bears what sits on it: its largest that is no ring.
pub(crate) fn bearer(pitches: &Pitches, arbor: ArborId) -> Option<&Sized> {
    pitches
        .on(arbor)
        .filter(|p| p.shape != tooth::Shape::Ring)
        .reduce(|a, b| if b.outer() > a.outer() { b } else { a })
}

/// The arbor at the end of a struck train, with nothing but a pinion and the most turns: the fly's.
fn fly_arbor(movement: &Movement) -> Option<ArborId> {
    let strike = movement.strike()?;
    let fastest = movement
        .arbors()
        .map(|(id, _)| id)
        .filter(|&id| movement.same_train(id, strike.read_at))
        .reduce(|a, b| {
            if movement.turns(b) > movement.turns(a) {
                b
            } else {
                a
            }
        })?;
    let ends = movement
        .meshes()
        .all(|(_, mesh)| mesh.driver.arbor != fastest);
    let slight = movement.parts(fastest).all(|(_, part)| {
        let teeth = part.teeth.get();
        teeth <= crate::tooth::MOST_LEAVES
    });
    (ends && slight && fastest != strike.read_at).then_some(fastest)
}

/// Whether a cam sits on the arbor that is held at the drop: as the sheet has it, or, of a strike of which it has no works, as is usual
/// with a count wheel and not with a rack.
fn has_cam(movement: &Movement, strike: &Strike) -> bool {
    let Some(works) = movement.works() else {
        return strike.counted_by == CountedBy::CountWheel;
    };
    works.tracks().any(|(_, track)| {
        track.carrier == Carrier::Arbor(strike.read_at)
            && matches!(track.shape, Shape::Notches { .. } | Shape::Outline(_))
    })
}

pub(crate) fn fittings(movement: &Movement, pitches: &Pitches) -> Fittings {
    let room = |arbor: ArborId| {
        movement
            .meshes()
            .filter(|(_, m)| [m.driver.arbor, m.driven.arbor].contains(&arbor))
            .map(|(_, m)| pitches.distance(m) - CLEAR)
            .fold(f64::INFINITY, f64::min)
    };
    let all: Vec<Fitting> = movement
        .witnesses()
        .map(|(id, w)| {
            let before = movement
                .witnesses()
                .filter(|(other, o)| *other < id && o.on == w.on)
                .fold(1.0, |part, _| part * (1.0 - INWARD));
            fitting(movement, pitches, id, room(w.on), before)
        })
        .collect();
    let cam = movement.strike().filter(|strike| has_cam(movement, strike));
    let cam = cam.map(|strike| {
        let wheel = bearer(pitches, strike.read_at).map_or(LEAST_DISC, Sized::outer);
        let pinion = pitches
            .on(strike.read_at)
            .map(Sized::outer)
            .fold(wheel, f64::min);
        let notches = strike.blows_per_turn.to_integer();
        Cam {
            on: strike.read_at,
            radius: (CAM * wheel).max(pinion.min(0.6 * wheel) + 1.6).max(3.0),
            notches: (1..=24u16)
                .find(|&n| notches == n.into() && strike.blows_per_turn.is_integer())
                .unwrap_or(1),
        }
    });
    let length = |arbor: ArborId| (0.72 * room(arbor)).clamp(4.0, 30.0);
    let mut flies: Vec<(ArborId, f64)> = all
        .iter()
        .filter(|f| f.what.is_fly())
        .map(|f| (f.on, length(f.on)))
        .collect();
    if let Some(fly) = fly_arbor(movement)
        && all.iter().all(|f| f.on != fly)
    {
        flies.push((fly, length(fly)));
    }
    flies.dedup_by_key(|f| f.0);
    Fittings { all, cam, flies }
}

fn fitting(
    movement: &Movement,
    pitches: &Pitches,
    witness: WitnessId,
    room: f64,
    inward: f64,
) -> Fitting {
    let on = movement.witness(witness).on;
    let what = figure(movement, witness);
    let bearer = bearer(pitches, on).filter(|p| p.outer() > LEAST_DISC);
    let root = bearer.map(|p| p.tooth.root * p.module);
    let disc = root.is_none().then(|| LEAST_DISC.min(room.max(3.0)));
    let base = root.or(disc).unwrap_or(LEAST_DISC) * inward;
    let (radius, size) = what.fitted(base, room, disc.is_some());
    Fitting {
        witness,
        on,
        radius,
        size,
        disc: disc.filter(|_| !what.is_fly()),
        what,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pitch::size;

    fn cam_of(text: &str) -> Option<Cam> {
        let movement = sheet::read(text.as_bytes()).expect("it checks").movement;
        fittings(&movement, &size(&movement, &[])).cam
    }

    #[test]
    fn an_escape_wheel_is_a_wheel_among_the_others() {
        let text = include_str!("../../../movements/mantel.toml");
        let movement = sheet::read(text.as_bytes()).expect("it checks").movement;
        let pitches = size(&movement, &[]);
        let part = |name| pitches.part(movement.find_part(name).expect("there"));
        let (escape, before) = (part("escape.wheel"), part("going_third.wheel"));
        assert_eq!(escape.shape, tooth::Shape::Escape);
        assert_eq!(before.shape, tooth::Shape::Wheel);
        assert!(escape.outer() < before.outer() && 2.0 * escape.outer() > before.outer());
    }

    #[test]
    fn a_cam_is_drawn_where_the_sheet_has_one() {
        let there = include_str!("../../../movements/quay.toml");
        let notched = cam_of(there).expect("a notch is on its locking arbor");
        assert_eq!(notched.notches, 1);
        // By its habit, where the sheet has no works.
        assert!(cam_of(include_str!("../../../movements/lattice.toml")).is_some());
        let rack = include_str!("../../../movements/parlour.toml");
        assert!(cam_of(rack).is_none(), "a rack without a cam");
    }
}
