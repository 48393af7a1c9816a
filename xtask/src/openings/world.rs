//! A movement as it truly is: how many teeth each mesh stands from where it belongs, and where that puts every witness.
//!
//! What one tooth does is worked out here from tooth counts alone, not asked of the house, so that the study would notice
//! if the house were wrong. A sound movement stands at offset 0 in every mesh, all witnesses at their best; every other
//! way to mesh it is a state. A closed loop is not for the study.

use movement::{ArborId, MeshId, Movement, Reached, WitnessId};
use num_integer::Integer;
use num_traits::{Signed, ToPrimitive};
use quantity::{Exact, to_f64, whole};

/// A witness, in degrees of its own arbor.
#[derive(Debug, Clone)]
pub struct Witness {
    /// Which.
    pub id: WitnessId,
    /// The first place of its window.
    pub from: f64,
    /// The last.
    pub to: f64,
    /// Where it should stand.
    pub best: f64,
    /// After so many degrees places are alike.
    pub period: f64,
    /// Alike places in a turn.
    pub repeats: u16,
    /// Whether it is judged at the drop, and so swayed by how the arbor is held then.
    pub at_drop: bool,
    /// Its turns in one turn of the arbor that is held.
    pub speed: f64,
    /// Of all places it can be put in, counted from best, whether each is in the window.
    in_window: Vec<bool>,
    /// The meshes that move it, nearest to it first, by their place in [`World::meshes`].
    pub moved_by: Vec<usize>,
}

/// A mesh that moves some witness.
#[derive(Debug, Clone)]
pub struct Mesh {
    /// Which.
    pub id: MeshId,
    /// Whether no plates are spread for it.
    pub outside: bool,
    /// The fewest teeth that put every witness back.
    pub cycle: usize,
    /// What one tooth does to each witness, in places ahead.
    steps: Vec<usize>,
    /// The same in degrees, ahead positive, not reduced.
    pub step_deg: Vec<f64>,
    stride: usize,
}

/// A movement and all the ways to mesh it.
#[derive(Debug, Clone)]
pub struct World {
    /// Every witness, in sheet order.
    pub witnesses: Vec<Witness>,
    /// Every mesh that moves one, in sheet order.
    pub meshes: Vec<Mesh>,
    /// The witness at whose 0 the train locks, where the sheet calls one of them its locking pin.
    pub locks: Option<usize>,
    places: Vec<usize>,
    sound: Vec<bool>,
}

/// Why a movement is not for the study.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unfit {
    /// It has no strike.
    NoStrike,
    /// A witness and its moment are joined twice over, or not at all.
    Loop,
    /// There are more ways to mesh it than are worth a table.
    TooMany,
}

/// As many ways to mesh it as a table holds that is a matter of seconds.
pub const MOST_STATES: usize = 4000;

impl World {
    /// The world of a movement.
    ///
    /// # Errors
    /// Where it is not for the study.
    pub fn of(movement: &Movement) -> Result<World, Unfit> {
        let held = movement.strike().ok_or(Unfit::NoStrike)?.read_at;
        let ids: Vec<MeshId> = movement.meshes().map(|(id, _)| id).collect();
        let mut witnesses = Vec::new();
        let mut columns = Vec::new();
        for (id, witness) in movement.witnesses() {
            let moment = movement.moment(witness.at);
            let path = Path::between(movement, moment.arbor, witness.on)?;
            // What a tooth does, in periods of the witness.
            let repeats = whole(witness.repeats.get().into());
            let steps: Vec<Exact> = (ids.iter())
                .map(|mesh| {
                    path.step(movement, *mesh, held)
                        .map(|turns| turns * &repeats)
                })
                .collect::<Result<_, _>>()?;
            let around = steps
                .iter()
                .fold(1.into(), |around: quantity::BigInt, step| {
                    around.lcm(step.denom())
                });
            let around = around
                .to_usize()
                .filter(|n| *n <= MOST_STATES)
                .ok_or(Unfit::TooMany)?;
            let period = witness.period();
            let in_window = (0..around)
                .map(|k| {
                    let ahead = Exact::new(k.into(), around.into()) * period.exact();
                    let above =
                        (witness.best.exact() + ahead - witness.from.exact()) / period.exact();
                    (&above - above.floor()) * period.exact() <= *witness.width().exact()
                })
                .collect();
            columns.push((steps, around));
            witnesses.push(Witness {
                id,
                from: witness.from.to_f64(),
                to: witness.to.to_f64(),
                best: witness.best.to_f64(),
                period: period.to_f64(),
                repeats: witness.repeats.get(),
                at_drop: moment.id == movement::DROP,
                speed: to_f64(&Path::between(movement, held, witness.on)?.speed),
                in_window,
                moved_by: path.meshes.iter().rev().map(|mesh| mesh.index()).collect(),
            });
        }
        let mut meshes = Vec::new();
        let mut states = 1;
        for (m, id) in ids.iter().enumerate() {
            let mut steps = Vec::new();
            let mut step_deg = Vec::new();
            let mut cycle = 1;
            for ((column, around), witness) in columns.iter().zip(&witnesses) {
                let step = &column[m] - column[m].floor();
                cycle = cycle.lcm(&step.denom().to_usize().ok_or(Unfit::TooMany)?);
                let places = step * whole(i64::try_from(*around).map_err(|_| Unfit::TooMany)?);
                steps.push(places.to_usize().ok_or(Unfit::TooMany)?);
                step_deg.push(to_f64(&column[m]) * witness.period);
            }
            if cycle > 1 {
                let outside = movement.mesh(*id).reached == Reached::Outside;
                meshes.push(Mesh {
                    id: *id,
                    outside,
                    cycle,
                    steps,
                    step_deg,
                    stride: states,
                });
                states *= cycle;
                if states > MOST_STATES {
                    return Err(Unfit::TooMany);
                }
            }
        }
        for witness in &mut witnesses {
            witness.moved_by = (witness.moved_by.iter())
                .filter_map(|m| meshes.iter().position(|mesh: &Mesh| mesh.id.index() == *m))
                .collect();
        }
        let pin = movement::WitnessKind::called("locking pin");
        let mut world = World {
            witnesses,
            meshes,
            locks: movement
                .witnesses()
                .position(|(_, w)| w.kind_told && Some(w.kind) == pin),
            places: Vec::new(),
            sound: Vec::new(),
        };
        for state in 0..states {
            let places = world.places_of(state);
            world
                .sound
                .push((places.iter().zip(&world.witnesses)).all(|(k, w)| w.in_window[*k]));
            world.places.extend(places);
        }
        Ok(world)
    }

    fn places_of(&self, state: usize) -> Vec<usize> {
        (self.witnesses.iter().enumerate())
            .map(|(w, witness)| {
                let ahead: usize = (0..self.meshes.len())
                    .map(|m| self.offset(state, m) * self.meshes[m].steps[w])
                    .sum();
                ahead % witness.in_window.len()
            })
            .collect()
    }

    /// How many ways there are to mesh it, told apart mesh by mesh.
    pub fn states(&self) -> usize {
        self.sound.len()
    }

    /// The state in which every mesh is where it belongs.
    pub const SOUND: usize = 0;

    /// By how many teeth a mesh is from where it belongs, from 0 up to its cycle.
    pub fn offset(&self, state: usize, mesh: usize) -> usize {
        let mesh = &self.meshes[mesh];
        state / mesh.stride % mesh.cycle
    }

    /// The state after a mesh was turned so many teeth.
    pub fn moved(&self, state: usize, mesh: usize, teeth: i64) -> usize {
        let Mesh { cycle, stride, .. } = self.meshes[mesh];
        let offset = self.offset(state, mesh);
        state - offset * stride + (offset + wrapped(teeth, cycle)) % cycle * stride
    }

    /// Whether every witness is in its window.
    pub fn in_window(&self, state: usize) -> bool {
        self.sound[state]
    }

    /// The place of every witness, counted from best: states with the same places look the same and are as good.
    pub fn places(&self, state: usize) -> &[usize] {
        let n = self.witnesses.len();
        &self.places[state * n..(state + 1) * n]
    }

    /// Where a witness stands, in degrees, at best or ahead of it by less than a period.
    pub fn stands(&self, state: usize, witness: usize) -> f64 {
        let w = &self.witnesses[witness];
        w.best + self.places(state)[witness] as f64 * w.period / w.in_window.len() as f64
    }

    /// The mesh with this id, where it moves a witness.
    pub fn find(&self, id: MeshId) -> Option<usize> {
        self.meshes.iter().position(|mesh| mesh.id == id)
    }

    /// Whether plates are spread to shift these meshes.
    pub fn spreads_plates(&self, meshes: impl IntoIterator<Item = usize>) -> bool {
        meshes.into_iter().any(|mesh| !self.meshes[mesh].outside)
    }
}

/// Teeth as an offset from 0 up to the cycle.
pub fn wrapped(teeth: i64, cycle: usize) -> usize {
    let cycle = i64::try_from(cycle).unwrap_or(i64::MAX);
    // Less than a cycle, which came from there.
    usize::try_from(teeth.rem_euclid(cycle)).unwrap_or(0)
}

/// The way over meshes from one arbor to another.
struct Path {
    to: ArborId,
    meshes: Vec<MeshId>,
    /// Turns of the last arbor in one of the first.
    speed: Exact,
}

impl Path {
    fn between(movement: &Movement, from: ArborId, to: ArborId) -> Result<Path, Unfit> {
        let mut found = Vec::new();
        walk(movement, from, to, &mut Vec::new(), &mut found);
        match found.pop() {
            Some(meshes) if found.is_empty() => {
                let mut speed = whole(1);
                let mut at = from;
                for &mesh in &meshes {
                    let [here, there] = ends(movement, mesh, at);
                    speed *= Exact::new(here.1.into(), there.1.into());
                    at = there.0;
                }
                Ok(Path { to, meshes, speed })
            }
            _ => Err(Unfit::Loop),
        }
    }

    /// Turns of the last arbor, ahead positive, when the part of `mesh` on its side is left one tooth further on in it
    /// than before while the first arbor is held; the other way round where the arbor all is read from is on that side.
    fn step(&self, movement: &Movement, mesh: MeshId, held: ArborId) -> Result<Exact, Unfit> {
        if !self.meshes.contains(&mesh) {
            return Ok(whole(0));
        }
        let ends = [movement.mesh(mesh).driver, movement.mesh(mesh).driven];
        for part in ends {
            let onward = Path::between(movement, part.arbor, self.to)?;
            if !onward.meshes.contains(&mesh) {
                let tooth = onward.speed / whole(movement.part(part).teeth.get().into());
                let held_beyond = !Path::between(movement, held, self.to)?
                    .meshes
                    .contains(&mesh);
                return Ok(if held_beyond {
                    -tooth.abs()
                } else {
                    tooth.abs()
                });
            }
        }
        Err(Unfit::Loop)
    }
}

/// The arbors and counts of a mesh, the end on `here` first.
fn ends(movement: &Movement, mesh: MeshId, here: ArborId) -> [(ArborId, u16); 2] {
    let mesh = movement.mesh(mesh);
    let end = |part: movement::PartId| (part.arbor, movement.part(part).teeth.get());
    let (driver, driven) = (end(mesh.driver), end(mesh.driven));
    if driver.0 == here {
        [driver, driven]
    } else {
        [driven, driver]
    }
}

/// Every way from an arbor to another that takes no mesh twice.
fn walk(
    movement: &Movement,
    at: ArborId,
    to: ArborId,
    taken: &mut Vec<MeshId>,
    found: &mut Vec<Vec<MeshId>>,
) {
    if at == to {
        found.push(taken.clone());
        return;
    }
    for (id, mesh) in movement.meshes() {
        let touches = mesh.driver.arbor == at || mesh.driven.arbor == at;
        if touches && !taken.contains(&id) {
            taken.push(id);
            walk(movement, ends(movement, id, at)[1].0, to, taken, found);
            taken.pop();
        }
    }
}
