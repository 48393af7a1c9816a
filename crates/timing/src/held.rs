//! What is cured by turning parts on their arbors, alone or together with shifts.
//!
//! The rule of choice goes on from that of shifts: fewest meshes that spread plates, then fewest that a small cock lets out, then
//! fewest parts and outside meshes together, of those fewest outside meshes; then the greatest chance, the least lean, the fewest
//! quarters, the fewest teeth, the smallest angles, parts earlier on the sheet. A part that may be turned to any angle goes to where
//! the largest distance from best, in half windows, is least. Whether a place is in its window is decided exactly.

use crate::angle::{Carried, angles};
use crate::answer::after_hands;
use crate::choose::{Choice, lean};
use crate::effort::Effort;
use crate::goal::Goal;
use crate::hands::Hands;
use crate::rated::ALIKE;
use crate::reading::Reading;
use crate::sets::{Found, Level, choose, level_of};
use crate::shift::ShiftWay;
use crate::system::{Mover, System};
use crate::turn::{Turn, TurnBy};
use kinematics::{Turnable, turnables};
use movement::{HeldBy, MeshAccess, MeshId, Movement, WitnessId};
use num_traits::{Signed, Zero};
use quantity::{BigInt, Chance, Degrees, Exact, nearest_alike, whole};

/// So many parts are turned at once at most: more were never all put on wrong.
const MOST_TURNED: usize = 3;

/// With meshes that need a cock or the plates, so many.
const MOST_BESIDE_PLATES: usize = 2;

/// So many ways of turning parts are tried.
const MOST_TRIED: usize = 4000;

/// Steps that go into one of them before any search.
const WORK_OF_A_TRY: usize = 10_000;

/// The part of what work is left that one of them may take.
const SHARE: u64 = 16;

/// So many choices of angles are held against each other where several parts may be turned to any.
const MOST_ANGLES: usize = 64;

/// Quarters that a part on a square is turned, ahead positive, the fewest first and ahead before back.
const QUARTERS: [i64; 6] = [1, -1, 2, -2, 3, -3];

/// A cure by turning parts.
#[derive(Debug, Clone)]
pub(crate) struct HeldCure {
    /// What is turned, in sheet order.
    pub(crate) turns: Vec<Turn>,
    /// Meshes and their teeth, ahead positive.
    pub(crate) shifts: Vec<(MeshId, BigInt)>,
    /// Where everything that was read then stands.
    pub(crate) places: Vec<Degrees>,
    chance: f64,
    lean: Exact,
    /// Which of all that can be turned, and by how much.
    done: Vec<(usize, Exact)>,
}

impl HeldCure {
    /// Its shifts as movers of a system; those that move nothing that was read are none.
    pub(crate) fn movers(&self, system: &System) -> Vec<(usize, BigInt)> {
        movers(system, &self.shifts)
    }

    /// Where all stands once the parts are turned, each the other way where `other_way` has its bit.
    fn turned(&self, system: &System, other_way: usize) -> System {
        let mut system = system.clone();
        for axis in &mut system.axes {
            for (n, turn) in self.turns.iter().enumerate() {
                let moved = turn.moves.iter().find(|(id, _)| *id == axis.witness);
                if let Some((_, moved)) = moved {
                    axis.stands = match other_way >> n & 1 {
                        0 => &axis.stands + moved,
                        _ => &axis.stands - moved,
                    };
                }
            }
        }
        system
    }

    /// Where all stands once the parts are turned, and nothing else is done.
    pub(crate) fn without_shifts(&self, system: &System) -> System {
        self.turned(system, 0)
    }

    /// The chance that all is in after it, when each part may be turned the wrong way, and each shift may go wrong.
    pub(crate) fn after_hands(
        &self,
        system: &System,
        shifts: &[(usize, BigInt)],
        hands: Hands,
    ) -> Chance {
        let wrong = hands.wrong_way.get();
        let all = (0..1usize << self.turns.len()).map(|other_way| {
            let share: f64 = (0..self.turns.len())
                .map(|n| {
                    if other_way >> n & 1 == 1 {
                        wrong
                    } else {
                        1.0 - wrong
                    }
                })
                .product();
            share * after_hands(&self.turned(system, other_way), shifts, hands).get()
        });
        Chance::of(all.sum())
    }
}

/// Movers of a system with the teeth of some meshes.
fn movers(system: &System, shifts: &[(MeshId, BigInt)]) -> Vec<(usize, BigInt)> {
    (shifts.iter())
        .filter_map(|(mesh, teeth)| {
            let mover = (system.movers.iter()).position(|mover| mover.mesh == *mesh);
            Some((mover?, teeth.clone()))
        })
        .collect()
}

/// What came of looking for it.
pub(crate) struct Turned {
    /// Whether anything that was read can be moved so.
    pub(crate) can_be: bool,
    /// What cures it, if that comes before the shifts that do.
    pub(crate) cure: Option<HeldCure>,
    /// Whether something was left untried.
    pub(crate) untried: bool,
}

/// Looks for what comes before shifts of such a level, or cures it where none do.
pub(crate) fn turned(
    movement: &Movement,
    readings: &[Reading],
    shifts: Option<Level>,
    effort: &Effort<'_>,
) -> Turned {
    let all = turnables(movement);
    let joints = worth_turning(&all, readings);
    if joints.is_empty() {
        return Turned {
            can_be: false,
            cure: None,
            untried: false,
        };
    }
    let mut search = Search {
        movement,
        readings,
        system: System::of(movement, readings),
        joints,
        effort,
        found: Vec::new(),
        before: shifts.map(|[plates, cocks, outside]| [plates, cocks, outside, outside]),
        tried: 0,
        untried: false,
    };
    search.all();
    Turned {
        can_be: true,
        cure: search.best(),
        untried: search.untried,
    }
}

/// What moves anything that was read: of several that move it alike the one that moves least else, then the first.
fn worth_turning(all: &[Turnable], readings: &[Reading]) -> Vec<Turnable> {
    let mut worth: Vec<(usize, Turnable)> = Vec::new();
    for joint in all {
        let own = |of: &Turnable| -> Vec<Exact> {
            readings
                .iter()
                .map(|r| of.moves(r.witness).clone())
                .collect()
        };
        let moves = own(joint);
        if moves.iter().all(Zero::is_zero) {
            continue;
        }
        let more = joint.moves_how_many();
        let square = joint.held_by == HeldBy::Square;
        let alike = (worth.iter_mut())
            .find(|(_, other)| (other.held_by == HeldBy::Square) == square && own(other) == moves);
        match alike {
            Some(other) if more < other.0 => *other = (more, joint.clone()),
            Some(_) => {}
            None => worth.push((more, joint.clone())),
        }
    }
    worth.into_iter().map(|(_, joint)| joint).collect()
}

/// Parts, outside meshes, and what is more to be opened: as the rule has them.
type Order = [usize; 4];

fn order([plates, cocks, outside]: Level, turned: usize) -> Order {
    [plates, cocks, outside + turned, outside]
}

struct Search<'a> {
    movement: &'a Movement,
    readings: &'a [Reading],
    system: System,
    joints: Vec<Turnable>,
    effort: &'a Effort<'a>,
    found: Vec<HeldCure>,
    /// What must be come before, and then what was found at best.
    before: Option<Order>,
    tried: usize,
    untried: bool,
}

/// Parts and by how many quarters each is turned; nothing where it may be turned to any angle.
type Parts = Vec<(usize, Option<i64>)>;

impl Search<'_> {
    fn all(&mut self) {
        for access in [MeshAccess::Outside, MeshAccess::Cock, MeshAccess::Plates] {
            let (spread, most) = match access {
                MeshAccess::Outside => ([0, 0], MOST_TURNED),
                MeshAccess::Cock => ([0, 1], MOST_BESIDE_PLATES),
                MeshAccess::Plates => ([1, 0], MOST_BESIDE_PLATES),
            };
            let any = (self.system.movers.iter()).any(|mover| mover.access == access);
            if !any && access != MeshAccess::Outside {
                continue;
            }
            for many in 1..=most.min(self.joints.len()) {
                let at_best = [spread[0], spread[1], many, 0];
                if self
                    .before
                    .is_none_or(|before| at_best < before || self.is_as_good(at_best))
                {
                    self.each(0, many, &mut Vec::new(), access);
                }
            }
        }
    }

    /// Whether something of this very order was found, beside which others may be better.
    fn is_as_good(&self, order: Order) -> bool {
        self.before == Some(order) && !self.found.is_empty()
    }

    /// Tries every choice of so many more parts from `at` on.
    fn each(&mut self, at: usize, more: usize, parts: &mut Parts, access: MeshAccess) {
        if more == 0 {
            if self.tried == MOST_TRIED || !self.effort.spend(WORK_OF_A_TRY) {
                self.untried = true;
                return;
            }
            self.tried += 1;
            self.one(parts, access);
            return;
        }
        for joint in at..self.joints.len() {
            let any_angle = self.joints[joint].held_by != HeldBy::Square;
            let ways: &[i64] = if any_angle { &[0] } else { &QUARTERS };
            let mut alike: Vec<Vec<Exact>> = vec![vec![whole(0); self.readings.len()]];
            for &quarters in ways {
                if !any_angle {
                    // What comes to the same place as fewer quarters, or as none, is not tried.
                    let moved = self.around(joint, &whole(90 * quarters));
                    if alike.contains(&moved) {
                        continue;
                    }
                    alike.push(moved);
                }
                parts.push((joint, (!any_angle).then_some(quarters)));
                self.each(joint + 1, more - 1, parts, access);
                parts.pop();
            }
        }
    }

    /// How far everything that was read is moved by so many degrees at a joint, less whole periods.
    fn around(&self, joint: usize, by: &Exact) -> Vec<Exact> {
        (self.system.axes.iter())
            .map(|axis| {
                let turns = by * self.joints[joint].moves(axis.witness) / axis.period.exact();
                &turns - turns.floor()
            })
            .collect()
    }

    /// How far one axis is moved by one degree at a joint.
    fn rate(&self, joint: usize, axis: usize) -> &Exact {
        self.joints[joint].moves(self.system.axes[axis].witness)
    }

    /// Tries to turn these parts, with the shifts that it then takes beside.
    fn one(&mut self, parts: &Parts, access: MeshAccess) {
        let done: Vec<(usize, Exact)> = (parts.iter())
            .filter_map(|(joint, quarters)| Some((*joint, whole(90 * (*quarters)?))))
            .collect();
        let stands = self.moved_by(
            &done,
            self.readings.iter().map(|r| r.stands.clone()).collect(),
        );
        // A part that alone can still move some axis has that at its best, whatever the others do.
        let mut open: Vec<usize> = (0..self.system.axes.len()).collect();
        let mut any: Vec<usize> = (parts.iter())
            .filter(|(_, quarters)| quarters.is_none())
            .map(|(joint, _)| *joint)
            .collect();
        let mut pinned: Vec<(usize, usize)> = Vec::new();
        while let Some((n, axis)) = self.pin(&any, &open) {
            pinned.push((any.remove(n), axis));
            open.retain(|other| *other != axis);
        }
        let of = |joint: &usize| -> Vec<usize> {
            let moved = |axis: &&usize| !self.rate(*joint, **axis).is_zero();
            open.iter().filter(moved).copied().collect()
        };
        let carried: Vec<Vec<usize>> = any.iter().map(of).collect();
        let shared = open
            .iter()
            .any(|axis| carried.iter().filter(|of| of.contains(axis)).count() > 1);
        if shared {
            self.untried = true;
            return;
        }
        if carried.iter().any(Vec::is_empty) {
            return;
        }
        let rest: Vec<usize> = open
            .iter()
            .copied()
            .filter(|axis| !carried.iter().any(|of| of.contains(axis)))
            .collect();
        let Some(shifts) = self.shifts(&rest, &stands, access) else {
            return;
        };
        let stands = self.shifted(&shifts, stands);
        let mut choices: Vec<Vec<(usize, Exact)>> = vec![Vec::new()];
        for (joint, axes) in any.iter().zip(&carried) {
            let carried: Vec<Carried<'_>> = (axes.iter())
                .map(|axis| Carried {
                    axis: &self.system.axes[*axis],
                    stands: &stands[*axis],
                    rate: self.rate(*joint, *axis),
                })
                .collect();
            let (angles, cut) = angles(&carried, self.effort);
            // What a part carries was left out of the choice of shifts; others might bring it in.
            let others = |mover: &Mover| {
                let moves = |axis: &usize| !mover.steps[*axis].is_zero();
                mover.access <= access && axes.iter().any(moves)
            };
            self.untried |= cut || (angles.is_empty() && self.system.movers.iter().any(others));
            choices = (choices.iter())
                .flat_map(|taken| {
                    let with = |angle: &Exact| [&taken[..], &[(*joint, angle.clone())]].concat();
                    angles.iter().map(with).collect::<Vec<_>>()
                })
                .take(MOST_ANGLES)
                .collect();
        }
        let set = choices.into_iter().map(|mut angles| {
            let mut stands = self.moved_by(&angles, stands.clone());
            for (joint, axis) in pinned.iter().rev() {
                let angle = self.to_best(*joint, *axis, &stands[*axis]);
                stands = self.moved_by(&[(*joint, angle.clone())], stands);
                angles.push((*joint, angle));
            }
            let mut all = [&done[..], &angles[..]].concat();
            all.sort_by_key(|(joint, _)| *joint);
            (all, self.nearest_best(&stands))
        });
        // Of all angles the ones at which the lean is least, and of those the least turned.
        let least = set.min_by_key(|(all, places)| {
            let turned = all.iter().fold(whole(0), |sum, (_, by)| sum + by.abs());
            (lean(&self.system, places), turned)
        });
        if let Some((all, places)) = least {
            self.found(all, &shifts, places);
        }
    }

    /// Of places alike the ones nearest their best.
    fn nearest_best(&self, stands: &[Degrees]) -> Vec<Degrees> {
        (self.system.axes.iter().zip(stands))
            .map(|(axis, stands)| nearest_alike(stands, &axis.period, &axis.best))
            .collect()
    }

    /// A part that moves only one of the axes that are open still; its place in `any`, and that axis.
    fn pin(&self, any: &[usize], open: &[usize]) -> Option<(usize, usize)> {
        (any.iter().enumerate()).find_map(|(n, joint)| {
            let mut moved = (open.iter()).filter(|axis| !self.rate(*joint, **axis).is_zero());
            match (moved.next(), moved.next()) {
                (Some(axis), None) => Some((n, *axis)),
                _ => None,
            }
        })
    }

    /// The least angle at a joint that brings an axis to its best.
    fn to_best(&self, joint: usize, axis: usize, stands: &Degrees) -> Exact {
        let of = &self.system.axes[axis];
        let off = &of.best - &nearest_alike(stands, &of.period, &of.best);
        off.exact() / self.rate(joint, axis)
    }

    fn moved_by(&self, done: &[(usize, Exact)], mut stands: Vec<Degrees>) -> Vec<Degrees> {
        for (joint, by) in done {
            for (axis, stands) in stands.iter_mut().enumerate() {
                *stands = &*stands + &Degrees::deg(self.rate(*joint, axis) * by);
            }
        }
        stands
    }

    /// The shifts that bring these axes in from where they stand, of meshes that need no more than such access.
    fn shifts(
        &mut self,
        axes: &[usize],
        stands: &[Degrees],
        access: MeshAccess,
    ) -> Option<Vec<(MeshId, BigInt)>> {
        let admitted = |axis: &usize| {
            let witness = self.movement.witness(self.readings[*axis].witness);
            witness.admits(&stands[*axis])
        };
        if axes.iter().all(admitted) {
            return Some(Vec::new());
        }
        let readings: Vec<Reading> = (axes.iter())
            .map(|axis| Reading {
                stands: stands[*axis].clone(),
                ..self.readings[*axis].clone()
            })
            .collect();
        let mut system = System::of(self.movement, &readings);
        system.movers.retain(|mover| mover.access <= access);
        let goal = Goal::windows(&system, self.effort);
        let share = self.effort.left() / SHARE;
        match self.effort.within(share, || choose(&goal)).0 {
            Found::Best(Choice { shifts, .. }, untried) => {
                self.untried |= !untried.is_nothing();
                let shift = |(m, teeth): (usize, BigInt)| (system.movers[m].mesh, teeth);
                Some(shifts.into_iter().map(shift).collect())
            }
            Found::Nothing => None,
            Found::Unknown(_) => {
                self.untried = true;
                None
            }
        }
    }

    fn shifted(&self, shifts: &[(MeshId, BigInt)], stands: Vec<Degrees>) -> Vec<Degrees> {
        let movers = movers(&self.system, shifts);
        (self.system.axes.iter().zip(stands).enumerate())
            .map(|(w, (axis, stands))| {
                let units = movers.iter().fold(BigInt::zero(), |units, (m, teeth)| {
                    units + teeth * &self.system.movers[*m].steps[w]
                });
                &stands + &Degrees::deg(&axis.unit * Exact::from_integer(units))
            })
            .collect()
    }

    /// Keeps what brings everything in and comes before what is known, or with it.
    fn found(
        &mut self,
        done: Vec<(usize, Exact)>,
        shifts: &[(MeshId, BigInt)],
        places: Vec<Degrees>,
    ) {
        let all_in = (self.readings.iter().zip(&places))
            .all(|(r, place)| self.movement.witness(r.witness).admits(place));
        if !all_in || done.iter().any(|(_, by)| by.is_zero()) {
            return;
        }
        let level = level_of(
            &self.system,
            movers(&self.system, shifts).into_iter().map(|(m, _)| m),
        );
        let order = order(level, done.len());
        match self.before {
            Some(before) if order > before || (order == before && self.found.is_empty()) => return,
            Some(before) if order == before => {}
            _ => self.found.clear(),
        }
        self.before = Some(order);
        self.found.push(HeldCure {
            turns: Vec::new(),
            shifts: shifts.to_vec(),
            chance: self.system.chance(&places),
            lean: lean(&self.system, &places),
            places,
            done,
        });
    }

    /// The best of what was found.
    fn best(&mut self) -> Option<HeldCure> {
        let mut found = std::mem::take(&mut self.found);
        let top = (found.iter().map(|cure| cure.chance)).max_by(f64::total_cmp)?;
        found.retain(|cure| cure.chance >= top - ALIKE);
        let mut best = found.into_iter().min_by_key(|cure| self.key(cure))?;
        best.turns = (best.done.iter())
            .map(|(joint, by)| turn(self.movement, &self.joints[*joint], by))
            .collect();
        Some(best)
    }

    fn key(&self, cure: &HeldCure) -> (Exact, Exact, BigInt, Exact, Vec<usize>, Vec<bool>) {
        let square = |joint: &usize| self.joints[*joint].held_by == HeldBy::Square;
        let total = |squares: bool| -> Exact {
            (cure.done.iter())
                .filter(|(joint, _)| square(joint) == squares)
                .fold(whole(0), |sum, (_, by)| sum + by.abs())
        };
        let teeth = cure.shifts.iter().map(|(_, teeth)| teeth.abs()).sum();
        (
            cure.lean.clone(),
            total(true),
            teeth,
            total(false),
            cure.done.iter().map(|(joint, _)| *joint).collect(),
            cure.done.iter().map(|(_, by)| by.is_negative()).collect(),
        )
    }
}

/// A part turned so many degrees of its arbor, ahead positive.
fn turn(movement: &Movement, joint: &Turnable, by: &Exact) -> Turn {
    let moves: Vec<(WitnessId, Degrees)> = (joint.moved(movement))
        .map(|id| (id, Degrees::deg(joint.moves(id) * by)))
        .collect();
    let either = moves.iter().all(|(id, moves)| {
        let twice = moves.exact() * whole(2);
        (twice / movement.witness(*id).period().exact()).is_integer()
    });
    let quarters = (by.abs() / whole(90)).to_integer();
    Turn {
        thing: joint.thing,
        arbor: joint.arbor,
        held_by: joint.held_by,
        teeth_stay: joint.teeth_stay,
        by: match (joint.held_by, u8::try_from(quarters)) {
            (HeldBy::Square, Ok(quarters)) => TurnBy::Quarters(quarters),
            _ => TurnBy::Angle(Degrees::deg(by.abs())),
        },
        way: match (either, by.is_negative()) {
            (true, _) => ShiftWay::Either,
            (false, false) => ShiftWay::Ahead,
            (false, true) => ShiftWay::Back,
        },
        moves,
    }
}
