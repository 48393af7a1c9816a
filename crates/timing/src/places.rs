//! Every place that a movement's witnesses can be put in by mis-meshing, one by one.
//!
//! At each mesh that moves some witness there is a number of teeth after which all are back where they were: its
//! cycle. How the meshes stand is one offset for each, below its cycle; a sound movement with all offsets 0 has every witness
//! at its best. All of it exact; what is uncertain is which of them it is, and that is the belief's.

use kinematics::step;
use movement::{MeshAccess, MeshId, Movement, WitnessId};
use num_integer::Integer;
use num_traits::{One, ToPrimitive, Zero};
use quantity::{BigInt, Degrees, Exact, nearest_alike};

/// More ways of standing than this are not kept apart. A train whose blows are whole places has some hundreds, five
/// arbors with eight leaves each at most thirty thousand.
pub const MOST_WAYS: usize = 60_000;

/// A movement whose places are too many to keep a belief on each.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("more than {MOST_WAYS} places to keep a belief on")]
pub struct TooManyPlaces;

/// A mesh that moves some witness.
#[derive(Debug, Clone)]
pub(crate) struct MeshOffset {
    pub(crate) mesh: MeshId,
    pub(crate) access: MeshAccess,
    pub(crate) cycle: usize,
}

/// A witness with all the places that it can be put in.
#[derive(Debug, Clone)]
pub(crate) struct Track {
    /// Its places, nearest best, from best onwards.
    pub(crate) places: Vec<Degrees>,
    pub(crate) at: Vec<f64>,
    pub(crate) admitted: Vec<bool>,
    /// How far each place leans from best, in half windows.
    pub(crate) lean: Vec<f64>,
    /// Its window, in degrees.
    pub(crate) from: f64,
    pub(crate) to: f64,
    pub(crate) period: f64,
    /// Places it moves for one tooth at each mesh.
    steps: Vec<usize>,
}

/// All ways of standing.
#[derive(Debug, Clone)]
pub(crate) struct Places {
    pub(crate) offsets: Vec<MeshOffset>,
    pub(crate) tracks: Vec<Track>,
    /// How many ways there are.
    pub(crate) count: usize,
    /// How far apart in the list of ways two neighbouring offsets of each mesh are.
    strides: Vec<usize>,
    /// Which place each witness is in, for each way: `count` rows of one for each witness.
    place: Vec<u32>,
}

impl Places {
    /// All ways that these witnesses can be put in; others stand where they should.
    pub(crate) fn of(movement: &Movement, timed: &[WitnessId]) -> Result<Places, TooManyPlaces> {
        let mut offsets = Vec::new();
        let mut count = 1usize;
        for (mesh, _) in movement.meshes() {
            let mut cycle = BigInt::one();
            for &w in timed {
                let witness = movement.witness(w);
                if let Some(step) = step(movement, mesh, w) {
                    let turns = step.exact() / witness.period().exact();
                    cycle = cycle.lcm(turns.denom());
                }
            }
            let cycle = cycle.to_usize().unwrap_or(usize::MAX);
            if cycle > 1 {
                count = count.saturating_mul(cycle);
                offsets.push(MeshOffset {
                    mesh,
                    access: movement.opened(mesh),
                    cycle,
                });
            }
        }
        if count.saturating_mul(timed.len().max(1)) > 4 * MOST_WAYS || count > MOST_WAYS {
            return Err(TooManyPlaces);
        }
        let tracks: Vec<Track> = movement
            .witnesses()
            .map(|(w, _)| Track::of(movement, w, if timed.contains(&w) { &offsets } else { &[] }))
            .collect();
        let mut places = Places {
            offsets,
            tracks,
            count,
            strides: Vec::new(),
            place: Vec::new(),
        };
        places.strides = (0..places.offsets.len())
            .map(|a| {
                places.offsets[a + 1..]
                    .iter()
                    .map(|offset| offset.cycle)
                    .product()
            })
            .collect();
        places.place = (0..count)
            .flat_map(|way| {
                let offsets = places.offsets(way);
                places
                    .tracks
                    .iter()
                    .map(|track| track.place(&offsets))
                    .collect::<Vec<u32>>()
            })
            .collect();
        Ok(places)
    }

    /// The place of a witness, by index on its track, when the meshes stand this way.
    pub(crate) fn place(&self, way: usize, witness: WitnessId) -> usize {
        self.place[way * self.tracks.len() + witness.index()] as usize
    }

    /// The offset of each mesh.
    pub(crate) fn offsets(&self, way: usize) -> Vec<usize> {
        (0..self.offsets.len())
            .map(|a| way / self.strides[a] % self.offsets[a].cycle)
            .collect()
    }

    /// The way that stands with one mesh as it should.
    pub(crate) fn unmoved(&self, way: usize, offset: usize) -> usize {
        let (stride, cycle) = (self.strides[offset], self.offsets[offset].cycle);
        way - way / stride % cycle * stride
    }

    /// The way that stands so many teeth further ahead at one mesh.
    pub(crate) fn ahead(&self, way: usize, offset: usize, teeth: i64) -> usize {
        let (stride, cycle) = (self.strides[offset], self.offsets[offset].cycle);
        let now = way / stride % cycle;
        let then = (now + wrapped(teeth, cycle)) % cycle;
        way - now * stride + then * stride
    }

    pub(crate) fn offset(&self, mesh: MeshId) -> Option<usize> {
        self.offsets.iter().position(|offset| offset.mesh == mesh)
    }

    /// Whether every witness is in its window.
    pub(crate) fn all_admitted(&self, way: usize) -> bool {
        (self.tracks.iter().enumerate())
            .all(|(w, track)| track.admitted[self.place[way * self.tracks.len() + w] as usize])
    }

    /// The largest distance from best, in half windows.
    pub(crate) fn lean(&self, way: usize) -> f64 {
        (self.tracks.iter().enumerate())
            .map(|(w, track)| track.lean[self.place[way * self.tracks.len() + w] as usize])
            .fold(0.0, f64::max)
    }
}

/// Teeth as an offset from 0 up to the cycle.
pub(crate) fn wrapped(teeth: i64, cycle: usize) -> usize {
    let cycle = i64::try_from(cycle).unwrap_or(i64::MAX);
    usize::try_from(teeth.rem_euclid(cycle)).unwrap_or(0)
}

impl Track {
    fn of(movement: &Movement, id: WitnessId, offsets: &[MeshOffset]) -> Track {
        let witness = movement.witness(id);
        let period = witness.period();
        let turns: Vec<Exact> = offsets
            .iter()
            .map(|offset| {
                step(movement, offset.mesh, id)
                    .map_or_else(Exact::zero, |step| step.exact() / period.exact())
            })
            .collect();
        let many = turns
            .iter()
            .fold(BigInt::one(), |many, turns| many.lcm(turns.denom()));
        let apart = period.exact() / Exact::from_integer(many.clone());
        let steps = turns
            .iter()
            .map(|turns| {
                let steps = (turns * Exact::from_integer(many.clone())).to_integer();
                steps.mod_floor(&many).to_usize().unwrap_or(0)
            })
            .collect();
        let half = &witness.width() * &quantity::fraction(1, 2);
        let places: Vec<Degrees> = (0..many.to_i64().unwrap_or(0))
            .map(BigInt::from)
            .map(|i| {
                let place = Degrees::deg(witness.best.exact() + &apart * Exact::from_integer(i));
                nearest_alike(&place, &period, &witness.best)
            })
            .collect();
        Track {
            at: places.iter().map(Degrees::to_f64).collect(),
            admitted: places.iter().map(|place| witness.admits(place)).collect(),
            lean: places
                .iter()
                .map(|place| {
                    quantity::to_f64(&((place - &witness.best).abs().exact() / half.exact()))
                })
                .collect(),
            from: witness.from.to_f64(),
            to: witness.to.to_f64(),
            period: period.to_f64(),
            places,
            steps,
        }
    }

    fn place(&self, offsets: &[usize]) -> u32 {
        let many = self.places.len();
        let place = (offsets.iter().zip(&self.steps))
            .fold(0, |place, (offset, step)| (place + offset * step) % many);
        u32::try_from(place).unwrap_or(0)
    }
}
