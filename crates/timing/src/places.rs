//! Every place that a movement's witnesses can be put in by mis-meshing, one by one.
//!
//! At each mesh that moves some witness there is a number of teeth after which all are back where they were: its
//! cycle. Teeth at one mesh may do what teeth at others do: half a turn of a count wheel is reached by forty teeth of its own, or of
//! the wheel its pinion sits beside. A way of standing is therefore not a number of teeth at each mesh but where all witnesses are:
//! ways are told apart by what can be seen. Each is written in digits, one for each mesh, as few as do: a mesh's digit ends where so
//! many teeth are as good as teeth at meshes after it, and then carries over to those. A sound movement is way 0, with every witness
//! at its best. All of it exact; what is uncertain is which of them it is, and that is the belief's.

use kinematics::step;
use movement::{MeshAccess, MeshId, Movement, WitnessId};
use num_integer::Integer;
use num_traits::{One, ToPrimitive, Zero};
use quantity::{BigInt, Degrees, Exact, nearest_alike};
use std::collections::HashMap;

/// More ways of standing than this are not kept apart. A train whose blows are whole places has some hundreds, five
/// arbors with eight leaves each at most thirty thousand; a chime whose cylinder and quarter wheel have eighty teeth each some forty
/// thousand, with a hundred each and twelve leaves at the warning 120,000.
pub const MOST_WAYS: usize = 130_000;

/// A movement whose places are too many to keep a belief on each.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("more than {MOST_WAYS} places to keep a belief on")]
pub struct TooManyPlaces;

/// A mesh that moves some witness.
#[derive(Debug, Clone)]
pub(crate) struct MeshOffset {
    pub(crate) mesh: MeshId,
    pub(crate) access: MeshAccess,
    /// After so many teeth all witnesses are back where they were.
    pub(crate) cycle: usize,
    /// How far its digit goes, at most its cycle.
    digits: usize,
    /// How far apart in the list of ways two neighbouring digits are.
    stride: usize,
    /// What so many teeth as its digit goes are as good as: a mesh after it, and teeth there.
    carries: Vec<(usize, i64)>,
    /// For each way the first of those that differ from it in how this mesh stands alone.
    first: Vec<u32>,
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
    /// Which place each witness is in, for each way: `count` rows of one for each witness.
    place: Vec<u32>,
}

impl Places {
    /// All ways that these witnesses can be put in; others stand where they should.
    pub(crate) fn of(movement: &Movement, timed: &[WitnessId]) -> Result<Places, TooManyPlaces> {
        let mut offsets = Vec::new();
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
                offsets.push(MeshOffset {
                    mesh,
                    access: movement.opened(mesh),
                    cycle,
                    digits: cycle,
                    stride: 1,
                    carries: Vec::new(),
                    first: Vec::new(),
                });
            }
        }
        // Teeth at one mesh lead to no more ways than there are; and teeth at all of them are told in one number.
        let numbers = (offsets.iter()).try_fold(1_u64, |numbers, offset| {
            numbers.checked_mul(offset.cycle as u64)
        });
        if numbers.is_none_or(|numbers| numbers == u64::MAX)
            || (offsets.iter()).any(|offset| offset.cycle > MOST_WAYS)
        {
            return Err(TooManyPlaces);
        }
        let tracks = movement
            .witnesses()
            .map(|(w, _)| Track::of(movement, w, if timed.contains(&w) { &offsets } else { &[] }))
            .collect::<Result<Vec<Track>, TooManyPlaces>>()?;
        let place = tell_apart(&mut offsets, &tracks)?;
        let mut places = Places {
            offsets,
            count: place.len(),
            tracks,
            place: place.concat(),
        };
        for a in 0..places.offsets.len() {
            places.offsets[a].first = places.firsts(a);
        }
        Ok(places)
    }

    /// The place of a witness, by index on its track, when the meshes stand this way.
    pub(crate) fn place(&self, way: usize, witness: WitnessId) -> usize {
        self.place[way * self.tracks.len() + witness.index()] as usize
    }

    /// The way that so many teeth at each mesh lead to from a sound movement.
    pub(crate) fn way(&self, teeth: &[i64]) -> usize {
        (teeth.iter().enumerate()).fold(0, |way, (offset, teeth)| self.ahead(way, offset, *teeth))
    }

    /// The digit of each mesh.
    pub(crate) fn digits(&self, way: usize) -> impl Iterator<Item = usize> + '_ {
        (self.offsets.iter()).map(move |offset| way / offset.stride % offset.digits)
    }

    /// What leads from one way to another leads from a sound movement to this; both told by their digits.
    pub(crate) fn between(&self, from: &[usize], to: &[usize]) -> usize {
        let (mut way, mut owed) = (0, false);
        for ((from, to), offset) in from.iter().zip(to).zip(&self.offsets) {
            let short = to < from;
            way += (to + usize::from(short) * offset.digits - from) * offset.stride;
            owed |= short && !offset.carries.is_empty();
        }
        if !owed {
            return way;
        }
        let signed = |digit: &usize| i64::try_from(*digit).unwrap_or(0);
        let teeth: Vec<i64> = (from.iter().zip(to))
            .map(|(from, to)| signed(to) - signed(from))
            .collect();
        self.way(&teeth)
    }

    /// Of all ways that differ in how one mesh stands alone, the first.
    pub(crate) fn first_alike(&self, way: usize, offset: usize) -> usize {
        self.offsets[offset].first[way] as usize
    }

    /// The same for a mesh, for every way.
    fn firsts(&self, offset: usize) -> Vec<u32> {
        let mut firsts = vec![u32::MAX; self.count];
        for way in 0..self.count {
            let (first, mut alike) = (u32::try_from(way).unwrap_or(0), way);
            // Ways before this had all that are alike to them.
            while firsts[alike] == u32::MAX {
                firsts[alike] = first;
                alike = self.ahead(alike, offset, 1);
            }
        }
        firsts
    }

    /// Whether teeth at these meshes alone lead to every way.
    pub(crate) fn lead_everywhere(&self, offsets: &[usize]) -> bool {
        let mut come_to = vec![false; self.count];
        let mut left = vec![0];
        let mut many = 0;
        while let Some(way) = left.pop() {
            if !std::mem::replace(&mut come_to[way], true) {
                many += 1;
                left.extend(offsets.iter().map(|&offset| self.ahead(way, offset, 1)));
            }
        }
        many == self.count
    }

    /// The way that stands so many teeth further ahead at one mesh.
    pub(crate) fn ahead(&self, way: usize, offset: usize, teeth: i64) -> usize {
        let MeshOffset {
            cycle,
            digits,
            stride,
            ref carries,
            ..
        } = self.offsets[offset];
        let now = way / stride % digits;
        let then = now + wrapped(teeth, cycle);
        let way = way - now * stride + then % digits * stride;
        let times = i64::try_from(then / digits).unwrap_or(0);
        if times == 0 {
            return way;
        }
        (carries.iter()).fold(way, |way, (offset, teeth)| {
            self.ahead(way, *offset, times * teeth)
        })
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

/// Finds the digits of each mesh, from the last to the first; gives the places of the witnesses in each way.
///
/// # Errors
/// If there are more ways than are kept apart.
fn tell_apart(
    offsets: &mut [MeshOffset],
    tracks: &[Track],
) -> Result<Vec<Vec<u32>>, TooManyPlaces> {
    let ahead = |row: &[u32], offset: usize, teeth: usize| -> Vec<u32> {
        (row.iter().zip(tracks))
            .map(|(place, track)| track.ahead(*place, offset, teeth))
            .collect()
    };
    // The ways that meshes after one lead to, and the number of each.
    let mut rows = vec![vec![0; tracks.len()]];
    for a in (0..offsets.len()).rev() {
        let known: HashMap<&[u32], usize> = (rows.iter().enumerate())
            .map(|(way, row)| (&row[..], way))
            .collect();
        let most = MOST_WAYS / rows.len();
        let (digits, as_good) = (1..=most.min(offsets[a].cycle))
            .find_map(|teeth| {
                let way = known.get(&ahead(&rows[0], a, teeth)[..])?;
                Some((teeth, *way))
            })
            .ok_or(TooManyPlaces)?;
        let carries = (offsets.iter().enumerate().skip(a + 1))
            .map(|(b, offset)| (b, as_good / offset.stride % offset.digits))
            .filter(|(_, teeth)| *teeth > 0)
            .map(|(b, teeth)| (b, i64::try_from(teeth).unwrap_or(0)))
            .collect();
        offsets[a].digits = digits;
        offsets[a].stride = rows.len();
        offsets[a].carries = carries;
        rows = (0..digits)
            .flat_map(|teeth| rows.iter().map(move |row| (teeth, row)))
            .map(|(teeth, row)| ahead(row, a, teeth))
            .collect();
    }
    Ok(rows)
}

/// Teeth as an offset from 0 up to the cycle.
fn wrapped(teeth: i64, cycle: usize) -> usize {
    let cycle = i64::try_from(cycle).unwrap_or(i64::MAX);
    usize::try_from(teeth.rem_euclid(cycle)).unwrap_or(0)
}

impl Track {
    fn of(
        movement: &Movement,
        id: WitnessId,
        offsets: &[MeshOffset],
    ) -> Result<Track, TooManyPlaces> {
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
        // Nor has a witness more places than there are ways.
        if many > BigInt::from(MOST_WAYS) {
            return Err(TooManyPlaces);
        }
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
        Ok(Track {
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
        })
    }

    /// The place that so many teeth further ahead at one mesh lead to.
    fn ahead(&self, place: u32, offset: usize, teeth: usize) -> u32 {
        let Some(step) = self.steps.get(offset) else {
            return place;
        };
        let place = (place as usize + teeth * step) % self.places.len();
        u32::try_from(place).unwrap_or(0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    fn all(movement: &Movement) -> Vec<WitnessId> {
        movement.witnesses().map(|(id, _)| id).collect()
    }

    /// Every number of teeth at each mesh, one after the other: the places of the witnesses, reckoned from one tooth alone.
    fn one_by_one(
        movement: &Movement,
        offsets: &[MeshOffset],
        visit: &mut dyn FnMut(&[i64], Vec<Exact>),
    ) {
        let mut teeth = vec![0; offsets.len()];
        loop {
            let rows = (movement.witnesses())
                .map(|(id, witness)| {
                    let turns: Exact = (offsets.iter().zip(&teeth))
                        .filter_map(|(offset, teeth)| {
                            let step = step(movement, offset.mesh, id)?;
                            Some(step.exact() * Exact::from_integer(BigInt::from(*teeth)))
                        })
                        .sum();
                    let turns = turns / witness.period().exact();
                    &turns - turns.floor()
                })
                .collect();
            visit(&teeth, rows);
            let Some(a) = (0..teeth.len())
                .rev()
                .find(|&a| teeth[a] + 1 < i64::try_from(offsets[a].cycle).unwrap())
            else {
                return;
            };
            teeth[a] += 1;
            teeth[a + 1..].fill(0);
        }
    }

    #[test]
    fn ways_are_as_many_as_places_that_can_be_told_apart() {
        let (mut tried, mut fewer) = (0, 0);
        let folder = format!("{}/../../movements", env!("CARGO_MANIFEST_DIR"));
        for file in std::fs::read_dir(folder).expect("the samples") {
            let name = file.expect("a file").path();
            // Some samples are not counted to the end.
            let Ok(sheet) = sheet::read(&std::fs::read(&name).expect("read")) else {
                continue;
            };
            let (movement, name) = (sheet.movement, name.display());
            let Ok(places) = Places::of(&movement, &all(&movement)) else {
                continue;
            };
            let cycles: usize = places.offsets.iter().map(|offset| offset.cycle).product();
            if cycles > 60_000 {
                continue;
            }
            tried += 1;
            let mut seen: HashMap<Vec<Exact>, usize> = HashMap::new();
            let mut ways: HashSet<usize> = HashSet::new();
            one_by_one(&movement, &places.offsets, &mut |teeth, row| {
                let way = places.way(teeth);
                assert!(way < places.count, "{name} {teeth:?}");
                // What looks the same is one way, and what is one way looks the same.
                assert_eq!(*seen.entry(row).or_insert(way), way, "{name} {teeth:?}");
                ways.insert(way);
            });
            assert_eq!(
                (seen.len(), ways.len()),
                (places.count, places.count),
                "{name}"
            );
            fewer += usize::from(places.count < cycles);
        }
        assert!(tried >= 6, "{tried}");
        assert!(
            fewer > 0,
            "nowhere do teeth at one mesh do what teeth at others do"
        );
    }

    /// A chime: eighty teeth on the cylinder's wheel, forty on its pinion into eighty of the quarter wheel, six leaves at the warning.
    /// Half a turn of the quarter wheel is forty of its teeth, or eighty of the cylinder's.
    #[test]
    fn half_a_turn_is_reached_at_either_mesh() {
        let text = r#"
sheet = 1
name = "Wren Street chime"
seen_from = "back"
[arbor.cylinder]
runs = "clockwise"
wheel = 80
quarter_pinion = 40
[arbor.quarter]
wheel = 80
[arbor.locking]
pinion = 16
wheel = 60
[arbor.warning]
pinion = 6
[[mesh]]
driver = "cylinder.wheel"
driven = "locking.pinion"
[[mesh]]
driver = "locking.wheel"
driven = "warning.pinion"
[[mesh]]
driver = "cylinder.quarter_pinion"
driven = "quarter.wheel"
[strike]
counted_by = "count wheel"
blows = "hours"
read_at = "locking"
blows_per_turn = 1
[[witness]]
id = "hour"
says = "the long slot under the lever"
on = "quarter"
repeats = 1
best_deg = 0
window_deg = [-1, 1]
[[witness]]
id = "notes"
says = "the first note next"
on = "cylinder"
repeats = 1
best_deg = 0
window_deg = [-5, 5]
[[witness]]
id = "pin"
says = "a quarter of a turn to go"
on = "warning"
repeats = 1
best_deg = 0
window_deg = [-40, 40]
"#;
        let movement = sheet::read(text.as_bytes()).expect("a good sheet").movement;
        let places = Places::of(&movement, &all(&movement)).expect("not too many");
        let cycles: Vec<usize> = places.offsets.iter().map(|offset| offset.cycle).collect();
        assert_eq!((cycles, places.count), (vec![160, 6, 80], 80 * 80 * 6));
        assert_eq!(places.way(&[80, 0, 0]), places.way(&[0, 0, 40]));
        assert_ne!(places.way(&[40, 0, 0]), places.way(&[0, 0, 20]));
        for way in [0, 1, 7, 4_801, 38_399] {
            for offset in 0..3 {
                let back = places.ahead(places.ahead(way, offset, 77), offset, -77);
                assert_eq!(back, way);
            }
            let digits = |way| places.digits(way).collect::<Vec<_>>();
            let apart = places.between(&digits(way), &digits(12_345));
            let on = (places.digits(apart).enumerate()).fold(way, |way, (offset, digit)| {
                places.ahead(way, offset, i64::try_from(digit).unwrap())
            });
            assert_eq!(on, 12_345);
        }
        assert!(places.lead_everywhere(&[0, 1, 2]));
        assert!(!places.lead_everywhere(&[0, 1]) && !places.lead_everywhere(&[1, 2]));
    }
}
