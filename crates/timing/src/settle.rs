//! What putting in one arbor settles: which witnesses can be set as its meshes close, and where everything may stand then.
//!
//! A mesh that closes leaves its far side so many teeth ahead of where it should be, and whoever closes it chooses how many.
//! What those teeth add up to at each witness is a point of a lattice; what meshes that are still open can make up for is
//! no difference at all. So it is enough to keep which points there may be, however somebody chose who did as told.

use crate::order::{Held, PutIn, Settle};
use kinematics::step;
use movement::{ArborId, MeshId, MomentId, Movement, WitnessId};
use num_integer::Integer;
use num_traits::{ToPrimitive, Zero};
use quantity::{Exact, to_f64};
use std::collections::BTreeSet;

/// Where all witnesses may stand against their moments' arbors: units of each ahead of its best.
pub(crate) type Stand = Vec<i128>;

/// More ways than this are not followed: the answer then says that everything is to be looked at.
const MOST_STANDS: usize = 2000;

/// More choices of teeth than this at one arbor are not gone through.
const MOST_CHOICES: usize = 40_000;

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
    /// Whether a ring of meshes lies between it and its moment's arbor: what fits there is not worked out.
    over_ring: bool,
}

/// A movement's witnesses and meshes in whole numbers.
#[derive(Debug)]
pub(crate) struct Settling<'a> {
    movement: &'a Movement,
    tracks: Vec<Track>,
}

/// What comes of putting in an arbor.
#[derive(Debug, Clone)]
pub(crate) struct Settled {
    pub(crate) put: PutIn,
    /// Where all may stand then.
    pub(crate) stands: BTreeSet<Stand>,
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
        let tracks = (movement.witnesses())
            .map(|(id, witness)| {
                let period = witness.period().exact().clone();
                let steps: Vec<Exact> = (movement.meshes())
                    .map(|(mesh, _)| {
                        step(movement, mesh, id).map_or_else(Exact::zero, |s| s.exact().clone())
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
                    over_ring: over_ring(movement, witness.on, movement.moment(witness.at).arbor),
                })
            })
            .collect::<Option<_>>()?;
        Some(Settling { movement, tracks })
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

    /// Puts an arbor in: as few witnesses as can be are named to be set, or, `thorough`, all that its teeth settle.
    pub(crate) fn put_in(
        &self,
        (present, stands): (&BTreeSet<ArborId>, &BTreeSet<Stand>),
        arbor: ArborId,
        thorough: bool,
    ) -> Settled {
        let movement = self.movement;
        let mut after = present.clone();
        after.insert(arbor);
        let meshes: Vec<MeshId> = (movement.meshes())
            .map(|(id, _)| id)
            .filter(|&id| self.closed(id, &after) && !self.closed(id, present))
            .collect();
        // The side of each mesh; a second mesh with one side closes a ring.
        let mut sides: Vec<(MeshId, BTreeSet<ArborId>)> = Vec::new();
        let mut ring = false;
        for &id in &meshes {
            let mesh = movement.mesh(id);
            let other = if mesh.driver.arbor == arbor {
                mesh.driven
            } else {
                mesh.driver
            };
            if sides.iter().any(|(_, side)| side.contains(&other.arbor)) {
                ring = true;
            } else {
                sides.push((id, self.joined(other.arbor, present)));
            }
        }
        let settles = self.settles(arbor, &sides, thorough);
        let chosen: BTreeSet<MeshId> = settles.iter().flat_map(|s| s.at.clone()).collect();
        let left = || meshes.iter().copied().filter(|mesh| !chosen.contains(mesh));
        let tooth = |mesh: &MeshId| movement.far_side(*mesh).is_some();
        let (any, later): (Vec<MeshId>, Vec<MeshId>) = left()
            .filter(tooth)
            .partition(|&mesh| self.moves_none(mesh));
        let open = Open::of(self, &after);
        let mut next = self.follow(stands, &[], &later, &open);
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
            put: PutIn {
                arbor,
                meshes,
                settles,
                any,
                later,
                ring,
                plates_closed: false,
                check,
            },
            stands: next.unwrap_or_else(|| stands.clone()),
        }
    }

    fn may_be_out(&self, id: WitnessId, stands: Option<&BTreeSet<Stand>>) -> bool {
        let track = &self.tracks[id.index()];
        let inside = |stand: &Stand| {
            let above = (stand[id.index()] - track.from).rem_euclid(track.around);
            track.from + above <= track.to
        };
        track.over_ring || !stands.is_some_and(|stands| stands.iter().all(inside))
    }

    /// What can be set as an arbor's meshes close. The parts that are told at one moment are known against each other on
    /// each side already; each further side that has any is set against the one that has the moment's arbor, or against the
    /// arbor that goes in, or the first.
    fn settles(
        &self,
        arbor: ArborId,
        sides: &[(MeshId, BTreeSet<ArborId>)],
        thorough: bool,
    ) -> Vec<Settle> {
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
            // Each side's mesh, none for the arbor itself; what is told there; whether the moment's arbor is there.
            let mut groups = vec![(None, told(&|on| on == arbor), fixed == arbor)];
            for (mesh, side) in sides {
                groups.push((
                    Some(*mesh),
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
            let own = groups.iter().any(|(mesh, ..)| mesh.is_none());
            let (through, held, has_fixed) = groups.remove(base);
            for (mesh, told, _) in groups {
                let at: Vec<MeshId> = match (through, mesh) {
                    (through, None) => through.into_iter().collect(),
                    (Some(through), Some(mesh)) if !own => vec![through, mesh],
                    (_, Some(mesh)) => vec![mesh],
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
        let places = |mesh: &MeshId| {
            let step = track.steps[mesh.index()].rem_euclid(track.around);
            track.around / track.around.gcd(&step)
        };
        settle.at.iter().map(places).fold(1, |a, b| a.lcm(&b))
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

    /// Everywhere things may stand once these meshes are closed at the teeth that put what is to be set nearest its best; at any
    /// teeth, where nothing is. Nothing where that is too much to follow.
    fn follow(
        &self,
        stands: &BTreeSet<Stand>,
        settles: &[Settle],
        at: &[MeshId],
        open: &Open,
    ) -> Option<BTreeSet<Stand>> {
        let glasses: Vec<Glass> = (settles.iter())
            .map(|s| self.glass(s.witness, s.held))
            .collect::<Option<_>>()?;
        let choices = self.choices(at, open)?;
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
        let mut next = BTreeSet::new();
        for stand in stands {
            let reached: Vec<Stand> = (choices.iter())
                .map(|choice| stand.iter().zip(choice).map(|(a, b)| a + b).collect())
                .collect();
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
                next.extend(good.map(|stand| open.plain(stand.clone())));
                if next.len() > MOST_STANDS {
                    return None;
                }
            }
        }
        Some(next)
    }

    /// Everything that teeth at these meshes come to, each once.
    fn choices(&self, meshes: &[MeshId], open: &Open) -> Option<Vec<Stand>> {
        let mut all = vec![vec![0; self.tracks.len()]];
        for mesh in meshes {
            let step: Stand = self.tracks.iter().map(|t| t.steps[mesh.index()]).collect();
            let mut teeth: Vec<Stand> = Vec::new();
            let mut moved = vec![0; step.len()];
            loop {
                teeth.push(moved.clone());
                moved = open.plain(moved.iter().zip(&step).map(|(a, b)| a + b).collect());
                if moved.iter().all(|m| *m == 0) {
                    break;
                }
                if teeth.len() * all.len() > MOST_CHOICES {
                    return None;
                }
            }
            let add = |a: &Stand, b: &Stand| a.iter().zip(b).map(|(a, b)| a + b).collect();
            all = (all.iter())
                .flat_map(|a| teeth.iter().map(move |b| add(a, b)))
                .collect();
        }
        Some(all)
    }
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

/// What is no difference: what meshes that are still open can make up for, and places alike. A basis in steps, one for each
/// witness, each 0 before its own.
struct Open(Vec<Stand>);

impl Open {
    fn of(settling: &Settling<'_>, present: &BTreeSet<ArborId>) -> Open {
        let n = settling.tracks.len();
        let mut rows: Vec<Stand> = (settling.movement.meshes())
            .filter(|(mesh, _)| !settling.closed(*mesh, present))
            .map(|(mesh, _)| {
                settling
                    .tracks
                    .iter()
                    .map(|t| t.steps[mesh.index()])
                    .collect()
            })
            .collect();
        for (w, track) in settling.tracks.iter().enumerate() {
            let mut row = vec![0; n];
            row[w] = track.around;
            rows.push(row);
        }
        let mut basis: Vec<Stand> = Vec::new();
        for w in 0..n {
            // Euclid's way with whole rows, until one is left that is not 0 here. Places alike keep the figures small.
            loop {
                for row in &mut rows {
                    for (place, track) in row.iter_mut().zip(&settling.tracks).skip(w + 1) {
                        *place = place.rem_euclid(track.around);
                    }
                }
                let Some(least) = (0..rows.len())
                    .filter(|&r| rows[r][w] != 0)
                    .min_by_key(|&r| rows[r][w].abs())
                else {
                    break;
                };
                let pivot = rows[least].clone();
                let mut others = 0;
                for (r, row) in rows.iter_mut().enumerate() {
                    if r != least && row[w] != 0 {
                        let times = row[w].div_euclid(pivot[w]);
                        row.iter_mut()
                            .zip(&pivot)
                            .for_each(|(a, b)| *a -= times * b);
                        others += usize::from(row[w] != 0);
                    }
                }
                if others == 0 {
                    basis.push(rows.swap_remove(least));
                    break;
                }
            }
            // Places alike of those after this one are rows of their own, and stay so.
            rows.retain(|row| row.iter().any(|x| *x != 0));
            for v in w + 1..n {
                let mut row = vec![0; n];
                row[v] = settling.tracks[v].around;
                if !rows.contains(&row) {
                    rows.push(row);
                }
            }
        }
        Open(basis)
    }

    /// The one of all that differ by nothing which is least in each witness, the first first.
    fn plain(&self, mut stand: Stand) -> Stand {
        for (w, row) in self.0.iter().enumerate() {
            let times = stand[w].div_euclid(row[w].abs()) * row[w].signum();
            stand.iter_mut().zip(row).for_each(|(a, b)| *a -= times * b);
        }
        stand
    }
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

/// Whether the way from one arbor to another goes through a ring of meshes.
fn over_ring(movement: &Movement, from: ArborId, to: ArborId) -> bool {
    !reached(movement, from, |mesh| movement.far_side(mesh).is_some()).contains(&to)
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
