//! What putting in one arbor settles: which witnesses can be set as its meshes close, and where everything may stand then.
//!
//! A mesh that closes leaves its far side so many teeth ahead of where it should be, and whoever closes it chooses how many.
//! What those teeth add up to at each witness is a point of a lattice; what meshes that are still open can make up for is
//! no difference at all. So it is enough to keep which points there may be, however somebody chose who did as told.

use crate::alike::Alike;
use crate::order::{Held, OrderStep, Settle};
use crate::rings::{Joined, Teeth, passing};
use movement::{ArborId, MeshId, MomentId, Movement, WitnessId};
use num_integer::Integer;
use num_traits::ToPrimitive;
use quantity::{Exact, to_f64, whole};
use std::cell::Cell;
use std::collections::BTreeSet;

/// Where all witnesses may stand against their moments' arbors: units of each ahead of its best.
pub(crate) type Stand = Vec<i128>;

/// More ways than this are not followed: the answer then says that everything is to be looked at.
const MOST_STANDS: usize = 2000;

/// More choices of teeth than this at one arbor are not gone through.
const MOST_CHOICES: usize = 40_000;

/// To work out what an arbor can be set by takes as long as going through so many places, whatever comes of it.
const PUT_IN: usize = 500;

/// Two places that differ by less, in half windows, are as good as each other.
const AS_GOOD: f64 = 1e-9;

/// One witness in whole numbers.
#[derive(Debug, Clone)]
struct Track {
    /// Degrees of one unit.
    unit: Exact,
    /// Units from one place alike to the next.
    around: i128,
    /// Its window from its best, and half its width.
    from: i128,
    to: i128,
    half: f64,
    /// Units for one tooth of each mesh.
    steps: Vec<i128>,
}

/// A movement's witnesses and meshes in whole numbers.
#[derive(Debug)]
pub(crate) struct Settling<'a> {
    movement: &'a Movement,
    joined: Joined,
    tracks: Vec<Track>,
    /// Places that were gone through so far.
    gone_through: Cell<usize>,
}

/// Meshes that close with one side of what is in, and the arbors of that side: more than one mesh makes a ring.
type Side = (Vec<MeshId>, BTreeSet<ArborId>);

/// What comes of putting in an arbor.
#[derive(Debug, Clone)]
pub(crate) struct Settled {
    pub(crate) put: OrderStep,
    /// Where all may stand then; nothing where that was too much to follow, here or before.
    pub(crate) stands: Option<BTreeSet<Stand>>,
}

/// What can be read of a witness while something is held, in units of its own.
struct Glass {
    /// The witness, and units of this reading for one of its own.
    of: (usize, i128),
    /// What is held at its best instead of the moment's arbor, and units for one of its own.
    against: Option<(usize, i128)>,
    around: i128,
    /// What it moves when the other is held at the next place alike.
    alike: i128,
    half: f64,
}

impl Glass {
    fn at(&self, stand: &Stand) -> i128 {
        let other = self.against.map_or(0, |(w, k)| stand[w] * k);
        stand[self.of.0] * self.of.1 - other
    }

    /// How far from its best, in half windows, with the other held at the n-th place alike.
    fn off(&self, stand: &Stand, n: i128) -> f64 {
        let place = (self.at(stand) - n * self.alike).rem_euclid(self.around);
        place.min(self.around - place) as f64 / self.half
    }

    /// How many different readings there are of one standing.
    fn ways(&self) -> i128 {
        self.around / self.around.gcd(&self.alike)
    }
}

/// The greatest of which two are whole multiples.
fn common(a: &Exact, b: &Exact) -> Exact {
    let below = a.denom().lcm(b.denom());
    let (x, y) = (
        a.numer() * (&below / a.denom()),
        b.numer() * (&below / b.denom()),
    );
    Exact::new(x.gcd(&y), below)
}

fn units(of: &Exact, unit: &Exact) -> Option<i128> {
    (of / unit).to_integer().to_i128()
}

impl<'a> Settling<'a> {
    /// Nothing where the figures grow beyond all measure.
    pub(crate) fn of(movement: &'a Movement) -> Option<Settling<'a>> {
        let joined = Joined::by(movement, |_| true)?;
        let tracks = (movement.witnesses())
            .map(|(_, witness)| {
                let period = witness.period().exact().clone();
                let fixed = movement.moment(witness.at).arbor;
                // A tooth is one in so many that pass while its witness's arbor turns once.
                let steps: Vec<Exact> = (movement.meshes().zip(joined.between(fixed, witness.on)))
                    .map(|((mesh, _), sign)| {
                        let turns = movement.turns(witness.on) / passing(movement, mesh);
                        turns * whole(360) * Exact::from_integer(sign.into())
                    })
                    .collect();
                let unit = steps
                    .iter()
                    .fold(period.clone(), |unit, step| common(&unit, step));
                let end = |end: &quantity::Degrees| (end - &witness.best).exact() / &unit;
                Some(Track {
                    around: units(&period, &unit)?,
                    from: end(&witness.from).ceil().to_integer().to_i128()?,
                    to: end(&witness.to).floor().to_integer().to_i128()?,
                    half: to_f64(&(witness.width().exact() / &unit)) / 2.0,
                    steps: (steps.iter())
                        .map(|s| units(s, &unit))
                        .collect::<Option<_>>()?,
                    unit,
                })
            })
            .collect::<Option<_>>()?;
        Some(Settling {
            movement,
            joined,
            tracks,
            gone_through: Cell::new(0),
        })
    }

    /// Places of witnesses that were gone through so far: what it took.
    pub(crate) fn gone_through(&self) -> usize {
        self.gone_through.get()
    }

    fn goes_through(&self, stands: usize) {
        let places = stands.saturating_mul(self.tracks.len());
        let sum = self.gone_through.get().saturating_add(places);
        self.gone_through.set(sum);
    }

    /// Everything where it should be.
    pub(crate) fn at_best(&self) -> BTreeSet<Stand> {
        BTreeSet::from([vec![0; self.tracks.len()]])
    }

    /// Whether a mesh moves no witness to another place.
    fn moves_none(&self, mesh: MeshId) -> bool {
        (self.tracks.iter()).all(|track| track.steps[mesh.index()] % track.around == 0)
    }

    fn closed(&self, mesh: MeshId, present: &BTreeSet<ArborId>) -> bool {
        let mesh = self.movement.mesh(mesh);
        present.contains(&mesh.driver.arbor) && present.contains(&mesh.driven.arbor)
    }

    /// The arbors that closed meshes join to one.
    fn joined(&self, to: ArborId, present: &BTreeSet<ArborId>) -> BTreeSet<ArborId> {
        reached(self.movement, to, |mesh| self.closed(mesh, present))
    }

    /// Where so many teeth put all witnesses.
    fn stand(&self, teeth: &Teeth) -> Stand {
        let at = |track: &Track| track.steps.iter().zip(teeth).map(|(s, t)| s * t).sum();
        self.tracks.iter().map(at).collect()
    }

    /// What is made up for, or does not count: teeth at meshes that are `open`, and places alike, as far as they are read alike.
    fn made_up(&self, open: impl Fn(MeshId) -> bool, glasses: &[Glass]) -> Alike {
        let rows = self.joined.off_at(open);
        let around: Vec<i128> = (self.tracks.iter().enumerate())
            .map(|(w, track)| {
                let read = |glass: &&Glass| glass.against.is_some_and(|(held, _)| held == w);
                let ways = glasses.iter().filter(read).map(Glass::ways);
                track.around * ways.fold(1, |all, ways| all.lcm(&ways))
            })
            .collect();
        Alike::of(
            rows.iter().map(|teeth| self.stand(teeth)).collect(),
            &around,
        )
    }

    /// The sides of what is in that an arbor joins, and the meshes that close with each.
    fn sides(&self, arbor: ArborId, meshes: &[MeshId], present: &BTreeSet<ArborId>) -> Vec<Side> {
        let mut sides: Vec<Side> = Vec::new();
        for &id in meshes {
            let mesh = self.movement.mesh(id);
            let other = if mesh.driver.arbor == arbor {
                mesh.driven.arbor
            } else {
                mesh.driver.arbor
            };
            match sides.iter_mut().find(|(_, side)| side.contains(&other)) {
                Some((meshes, _)) => meshes.push(id),
                None => sides.push((vec![id], self.joined(other, present))),
            }
        }
        sides
    }

    /// Puts an arbor in: as few witnesses as can be are named to be set, or, `thorough`, all that its teeth settle.
    pub(crate) fn put_in(
        &self,
        present: &BTreeSet<ArborId>,
        stands: Option<&BTreeSet<Stand>>,
        arbor: ArborId,
        thorough: bool,
    ) -> Settled {
        let movement = self.movement;
        self.gone_through
            .set(self.gone_through().saturating_add(PUT_IN));
        let mut after = present.clone();
        after.insert(arbor);
        let meshes: Vec<MeshId> = (movement.meshes())
            .map(|(id, _)| id)
            .filter(|&id| self.closed(id, &after) && !self.closed(id, present))
            .collect();
        let sides = self.sides(arbor, &meshes, present);
        let settles = self.settles(arbor, &sides, thorough);
        let chosen: BTreeSet<MeshId> = settles.iter().flat_map(|s| s.at.clone()).collect();
        let left: Vec<MeshId> = (meshes.iter().copied())
            .filter(|mesh| !chosen.contains(mesh))
            .collect();
        // Where a ring closes, its teeth are those at which the arbor goes in, and nobody's choice.
        let in_ring = |mesh: &MeshId| {
            sides
                .iter()
                .any(|(at, _)| at.len() > 1 && at.contains(mesh))
        };
        let (any, later): (Vec<MeshId>, Vec<MeshId>) = (left.iter().copied())
            .filter(|mesh| !in_ring(mesh))
            .partition(|&mesh| movement.far_side(mesh).is_some() && self.moves_none(mesh));
        let open = |mesh: MeshId| !self.closed(mesh, &after);
        let mut next = stands.and_then(|stands| self.follow(stands, &[], &left, &open));
        for (settles, at) in clusters(&settles) {
            next = next.and_then(|stands| self.follow(&stands, &settles, &at, &open));
        }
        let together = self.joined(arbor, &after);
        let doubtful = |id: &WitnessId| {
            let witness = movement.witness(*id);
            let moment = movement.moment(witness.at).arbor;
            let there = together.contains(&witness.on) && together.contains(&moment);
            let before = present.contains(&moment)
                && present.contains(&witness.on)
                && self.joined(moment, present).contains(&witness.on);
            there && !before && self.may_be_out(*id, next.as_ref())
        };
        let check = (movement.witnesses().map(|(id, _)| id))
            .filter(doubtful)
            .collect();
        Settled {
            put: OrderStep {
                arbor,
                ring: sides.iter().any(|(at, _)| at.len() > 1),
                ring_later: !self.all_fit_later(present, &after, &meshes),
                meshes,
                settles,
                any,
                later,
                plates_closed: false,
                check,
            },
            stands: next,
        }
    }

    fn may_be_out(&self, id: WitnessId, stands: Option<&BTreeSet<Stand>>) -> bool {
        let track = &self.tracks[id.index()];
        let inside = |stand: &Stand| {
            let above = (stand[id.index()] - track.from).rem_euclid(track.around);
            track.from + above <= track.to
        };
        !stands.is_some_and(|stands| stands.iter().all(inside))
    }

    /// Whether every ring that is still open can be closed, at whatever teeth these meshes close now.
    fn all_fit_later(
        &self,
        present: &BTreeSet<ArborId>,
        after: &BTreeSet<ArborId>,
        meshes: &[MeshId],
    ) -> bool {
        if !self.joined.has_ring() {
            return true;
        }
        let Some(now) = Joined::by(self.movement, |mesh| self.closed(mesh, after)) else {
            return false;
        };
        let here = |joined: &Joined, rows: Vec<Teeth>| -> Vec<Teeth> {
            let rows = rows.iter().map(|row| joined.at_all(row));
            rows.map(|row| meshes.iter().map(|mesh| row[mesh.index()]).collect())
                .collect()
        };
        let ever = (self.joined).off_at(|mesh| !self.closed(mesh, present));
        let ever = Alike::of(here(&self.joined, ever), &vec![0; meshes.len()]);
        let can = here(&now, now.off_at(|mesh| meshes.contains(&mesh)));
        can.into_iter()
            .all(|row| ever.plain(row).iter().all(|teeth| *teeth == 0))
    }

    /// What can be set as an arbor's meshes close. The parts that are told at one moment are known against each other on
    /// each side already; each further side that has any is set against the one that has the moment's arbor, or against the
    /// arbor that goes in, or the first.
    fn settles(&self, arbor: ArborId, sides: &[Side], thorough: bool) -> Vec<Settle> {
        let movement = self.movement;
        let moments: BTreeSet<MomentId> = movement.witnesses().map(|(_, w)| w.at).collect();
        let mut settles = Vec::new();
        for at in moments {
            let fixed = movement.moment(at).arbor;
            let told = |on: &dyn Fn(ArborId) -> bool| -> Vec<WitnessId> {
                (movement.witnesses())
                    .filter(|(_, w)| w.at == at && w.on != fixed && on(w.on))
                    .map(|(id, _)| id)
                    .collect()
            };
            // Each side's meshes, none for the arbor itself; what is told there; whether the moment's arbor is there.
            let mut groups = vec![(Vec::new(), told(&|on| on == arbor), fixed == arbor)];
            for (meshes, side) in sides {
                groups.push((
                    meshes.clone(),
                    told(&|on| side.contains(&on)),
                    side.contains(&fixed),
                ));
            }
            groups.retain(|(_, told, fixed)| !told.is_empty() || *fixed);
            let Some(base) = (groups.iter().position(|(.., fixed)| *fixed))
                .or_else(|| (!groups.is_empty()).then_some(0))
            else {
                continue;
            };
            let own = groups.iter().any(|(meshes, ..)| meshes.is_empty());
            let (through, held, has_fixed) = groups.remove(base);
            for (meshes, told, _) in groups {
                let at = match meshes.is_empty() {
                    true => through.clone(),
                    false if own => meshes,
                    false => [through.clone(), meshes].concat(),
                };
                let mut of_side: Vec<Settle> = (told.into_iter())
                    .filter_map(|witness| {
                        let held = if has_fixed {
                            Held::Moment
                        } else {
                            self.steadiest(witness, &held)?
                        };
                        Some(Settle {
                            witness,
                            at: at.clone(),
                            held,
                        })
                    })
                    .collect();
                if !thorough {
                    let most = (of_side.iter())
                        .max_by_key(|s| (self.places(s), std::cmp::Reverse(s.witness)));
                    of_side = most.cloned().into_iter().collect();
                }
                settles.extend(of_side);
            }
        }
        settles
    }

    /// What to hold at its best so that a witness reads the same at each of its places alike, if anything.
    fn steadiest(&self, witness: WitnessId, of: &[WitnessId]) -> Option<Held> {
        let held = of.iter().copied().map(Held::Witness);
        held.min_by_key(|&held| {
            self.glass(witness, held)
                .map_or(i128::MAX, |glass| glass.ways())
        })
    }

    /// In how many places a witness may be put by the meshes at which it is set.
    fn places(&self, settle: &Settle) -> i128 {
        let track = &self.tracks[settle.witness.index()];
        let ways = self.joined.off_at(|mesh| settle.at.contains(&mesh));
        let least = (ways.iter())
            .map(|teeth| self.stand(teeth)[settle.witness.index()])
            .fold(track.around, |least, step| least.gcd(&step));
        track.around / least
    }

    fn glass(&self, witness: WitnessId, held: Held) -> Option<Glass> {
        let track = &self.tracks[witness.index()];
        let Held::Witness(other) = held else {
            return Some(Glass {
                of: (witness.index(), 1),
                against: None,
                around: track.around,
                alike: 0,
                half: track.half,
            });
        };
        let movement = self.movement;
        let fixed = &self.tracks[other.index()];
        let turns = movement.turns(movement.witness(witness).on)
            / movement.turns(movement.witness(other).on);
        let unit_of_other = &turns * &fixed.unit;
        let unit = common(&track.unit, &unit_of_other);
        let (of, against) = (units(&track.unit, &unit)?, units(&unit_of_other, &unit)?);
        Some(Glass {
            of: (witness.index(), of),
            against: Some((other.index(), against)),
            around: track.around * of,
            alike: fixed.around * against,
            half: track.half * of as f64,
        })
    }

    /// Everywhere things may stand once these meshes are closed at teeth that put what is to be set nearest its best; at any
    /// teeth, where nothing is. Nothing where that is too much to follow.
    fn follow(
        &self,
        stands: &BTreeSet<Stand>,
        settles: &[Settle],
        at: &[MeshId],
        open: &dyn Fn(MeshId) -> bool,
    ) -> Option<BTreeSet<Stand>> {
        let glasses: Vec<Glass> = (settles.iter())
            .map(|s| self.glass(s.witness, s.held))
            .collect::<Option<_>>()?;
        // What closes a ring later decides with these at which teeth they can be.
        let teeth = (self.joined).off_at(|mesh| at.contains(&mesh) || open(mesh));
        let choices = self.choices(&teeth, &self.made_up(open, &glasses))?;
        let made_up = self.made_up(open, &[]);
        let mut held: Vec<Vec<i128>> = vec![Vec::new()];
        for glass in &glasses {
            let ways = glass.ways();
            held = (held.iter())
                .flat_map(|held| (0..ways).map(move |n| [&held[..], &[n]].concat()))
                .take(MOST_CHOICES + 1)
                .collect();
        }
        if stands.len() * choices.len() * held.len() > 5 * MOST_CHOICES {
            return None;
        }
        self.goes_through(stands.len() * choices.len() * held.len());
        let mut next = BTreeSet::new();
        for stand in stands {
            let reached: Vec<Stand> = choices.iter().map(|choice| added(stand, choice)).collect();
            for held in &held {
                let off = |stand: &Stand| {
                    let each = glasses
                        .iter()
                        .zip(held)
                        .map(|(glass, n)| glass.off(stand, *n));
                    each.fold(0.0, f64::max)
                };
                let best = reached.iter().map(off).fold(f64::INFINITY, f64::min);
                let good = reached.iter().filter(|stand| off(stand) <= best + AS_GOOD);
                next.extend(good.map(|stand| made_up.plain(stand.clone())));
                if next.len() > MOST_STANDS {
                    return None;
                }
            }
        }
        Some(next)
    }

    /// Everything that whole sums of these teeth come to, each once.
    fn choices(&self, teeth: &[Teeth], made_up: &Alike) -> Option<Vec<Stand>> {
        let mut all = BTreeSet::from([vec![0; self.tracks.len()]]);
        for teeth in teeth {
            let step = self.stand(teeth);
            let before: Vec<Stand> = all.iter().cloned().collect();
            let mut moved = made_up.plain(step.clone());
            // Until it comes to what was there before, and goes round again from there.
            while !all.contains(&moved) {
                self.goes_through(before.len());
                all.extend(before.iter().map(|one| made_up.plain(added(one, &moved))));
                if all.len() > MOST_CHOICES {
                    return None;
                }
                moved = made_up.plain(added(&moved, &step));
            }
        }
        Some(all.into_iter().collect())
    }
}

fn added(a: &Stand, b: &Stand) -> Stand {
    a.iter().zip(b).map(|(a, b)| a + b).collect()
}

/// What is set at the same meshes, together with those meshes: what has none in common is set by itself.
fn clusters(settles: &[Settle]) -> Vec<(Vec<Settle>, Vec<MeshId>)> {
    let mut clusters: Vec<(Vec<Settle>, Vec<MeshId>)> = Vec::new();
    for settle in settles {
        let (mut of, mut at) = (vec![settle.clone()], settle.at.clone());
        clusters.retain(|(settles, meshes)| {
            let shared = meshes.iter().any(|mesh| at.contains(mesh));
            if shared {
                of.extend(settles.iter().cloned());
                at.extend(meshes);
            }
            !shared
        });
        at.sort_unstable();
        at.dedup();
        clusters.push((of, at));
    }
    clusters
}

/// The arbors that these meshes join to one.
fn reached(movement: &Movement, to: ArborId, by: impl Fn(MeshId) -> bool) -> BTreeSet<ArborId> {
    let mut reached = BTreeSet::from([to]);
    let mut waiting = vec![to];
    while let Some(arbor) = waiting.pop() {
        for (id, mesh) in movement.meshes() {
            let ends = [mesh.driver.arbor, mesh.driven.arbor];
            if ends.contains(&arbor) && by(id) {
                waiting.extend(ends.into_iter().filter(|end| reached.insert(*end)));
            }
        }
    }
    reached
}

#[cfg(test)]
mod tests {
    use super::common;
    use quantity::fraction;

    #[test]
    fn the_greatest_common_part() {
        assert_eq!(common(&fraction(3, 4), &fraction(5, 6)), fraction(1, 12));
        assert_eq!(common(&fraction(4, 1), &fraction(0, 1)), fraction(4, 1));
    }
}
