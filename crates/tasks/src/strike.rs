//! The strike run through its hours, with what is put in wrong, as it is written.

use crate::question::{PutInFault, QuestionFault};
use crate::{Refusal, check_for_strike};
use movement::{MeshId, MeshSide, Movement, PinId, RACK, Shape, TrackId, Works, slots_of};
use quantity::{Degrees, whole};
use sheet::Sheet;
use strike::{PlantedFault, Struck};

/// What is put in wrong, as written.
#[derive(Debug, Clone, Default)]
pub struct Wrongs {
    /// `DRIVER:DRIVEN=TEETH`.
    pub shift: Vec<String>,
    /// `LEVER=DEG`, or `rack=DEG` for the rack's tail.
    pub bend: Vec<String>,
    /// `TRACK=DEG` or `TRACK:N=DEG`.
    pub worn: Vec<String>,
    /// `TRACK:N` or `PIN:N`.
    pub missing: Vec<String>,
    /// `TRACK=DEG` or `PIN=DEG`.
    pub slip: Vec<String>,
}

/// A run, and the sheet it is of.
#[derive(Debug)]
pub struct Proved {
    /// The sheet.
    pub sheet: Sheet,
    /// What was put in wrong.
    pub put_in: Vec<PlantedFault>,
    /// The run.
    pub struck: Struck,
}

/// Runs the strike of a sheet through its whole cycle.
///
/// # Errors
/// The sheet's faults, that it has no strike to run, or what is wrong with what was put in.
pub fn strike(sheet: &[u8], wrongs: &Wrongs, watched: bool) -> Result<Proved, Refusal> {
    let sheet = check_for_strike(sheet)?;
    let (put_in, struck) = prove(&sheet.movement, wrongs, watched).map_err(Refusal::Question)?;
    Ok(Proved {
        sheet,
        put_in,
        struck,
    })
}

/// Runs the strike of a movement through its whole cycle; with what that was put in.
///
/// # Errors
/// That it has no strike to run, or what is wrong with what was put in.
pub fn prove(
    movement: &Movement,
    wrongs: &Wrongs,
    watched: bool,
) -> Result<(Vec<PlantedFault>, Struck), QuestionFault> {
    let put_in = put_in(movement, wrongs)?;
    let struck = strike::strike(movement, &put_in, watched).map_err(QuestionFault::Unfit)?;
    Ok((put_in, struck))
}

/// The most that a lever is bent: a square, beyond which its end points elsewhere altogether.
const MOST_BENT: u16 = 90;
/// The most that something slips: round once.
const MOST_SLIPPED: u16 = 360;
/// The most that an edge is worn back: with both, half a turn.
const MOST_WORN: u16 = 90;

/// The longest that a number of teeth or degrees may be written.
const LONGEST: usize = 20;

/// What is put in, one for each part: told twice of one part, it adds up.
fn put_in(movement: &Movement, wrongs: &Wrongs) -> Result<Vec<PlantedFault>, QuestionFault> {
    let mut all: Vec<PlantedFault> = Vec::new();
    let mut add = |written: &str, new: PlantedFault| {
        let known = all.iter_mut().position(|known| known.add(&new));
        let n = known.unwrap_or_else(|| {
            all.push(new);
            all.len() - 1
        });
        together(movement, &all, &all[n]).map_err(|why| unput(written, why))
    };
    for written in &wrongs.shift {
        let (mesh, teeth) = written.split_once('=').unwrap_or((written, ""));
        let found = movement.find_mesh(mesh);
        let found = found.filter(|mesh| movement.far_side(*mesh).is_some());
        let mesh = found.ok_or_else(|| unput(written, PutInFault::NoMesh(shiftable(movement))))?;
        let teeth = teeth.parse().ok().filter(|_| teeth.len() <= LONGEST);
        let teeth: i64 = teeth.ok_or_else(|| unput(written, PutInFault::NoTeeth))?;
        let round = once_round(movement, mesh);
        if teeth.unsigned_abs() > u64::from(round) {
            return Err(unput(written, PutInFault::PastWheel { teeth: round }));
        }
        add(written, PlantedFault::Shift { mesh, teeth })?;
    }
    let Some(works) = movement.works() else {
        return Ok(all);
    };
    for written in &wrongs.bend {
        let (name, by) = turned(written, MOST_BENT)?;
        let tail = works.rack().map(|_| RACK);
        let levers = works.levers().map(|(_, lever)| lever.id.as_str());
        let bend = match works.find_lever(name) {
            Some(lever) => PlantedFault::Bend { lever, by },
            None if tail == Some(name) => PlantedFault::BentTail { by },
            None => return Err(not_there(written, levers.chain(tail))),
        };
        add(written, bend)?;
    }
    for written in &wrongs.worn {
        let (name, by) = angle(written)?;
        let (name, slot) = numbered(name);
        let slotted = || names(works, |shape| slots(shape).is_some());
        let track = works.find_track(name);
        let track = track.ok_or_else(|| match slotted() {
            none if none.is_empty() => unput(written, PutInFault::NoSlots(none)),
            slotted => unput(written, PutInFault::NotThere(slotted)),
        })?;
        let last = slots(&works.track(track).shape);
        let last = last.ok_or_else(|| unput(written, PutInFault::NoSlots(slotted())))?;
        let slot = match slot {
            Some(slot) => Some(nth(slot, last, written)?),
            None => None,
        };
        let most = Degrees::deg(whole(MOST_WORN.into()));
        if by > most || by < Degrees::zero() {
            return Err(unput(written, PutInFault::NoWear { most: MOST_WORN }));
        }
        add(written, PlantedFault::Worn { track, slot, by })?;
    }
    for written in &wrongs.missing {
        let (name, n) = numbered(written);
        let nth = |last| nth(n.unwrap_or("1"), last, written);
        let missing = match find(works, name, written)? {
            Bearing::Track(track) => {
                let last = lobes(&works.track(track).shape);
                let last = last.ok_or_else(|| {
                    let mut all = names(works, |shape| lobes(shape).is_some());
                    all.extend(works.pins().map(|(_, pin)| pin.id.clone()));
                    unput(written, PutInFault::NoPins(all))
                })?;
                PlantedFault::MissingLobe {
                    track,
                    lobe: nth(last)?,
                }
            }
            Bearing::Pin(pin) => PlantedFault::MissingPin {
                pin,
                place: nth(works.pin(pin).places.len())?,
            },
        };
        add(written, missing)?;
    }
    for written in &wrongs.slip {
        let (name, by) = turned(written, MOST_SLIPPED)?;
        let slip = match find(works, name, written)? {
            Bearing::Track(track) => PlantedFault::SlippedTrack { track, by },
            Bearing::Pin(pin) => PlantedFault::SlippedPin { pin, by },
        };
        add(written, slip)?;
    }
    Ok(all)
}

/// Whether what was put in at one part, all together, can be.
fn together(
    movement: &Movement,
    all: &[PlantedFault],
    sum: &PlantedFault,
) -> Result<(), PutInFault> {
    let (by, most) = match sum {
        PlantedFault::Shift { mesh, teeth } => {
            let round = once_round(movement, *mesh);
            return match teeth.unsigned_abs() > u64::from(round) {
                true => Err(PutInFault::TogetherPastWheel { teeth: round }),
                false => Ok(()),
            };
        }
        PlantedFault::Bend { by, .. } | PlantedFault::BentTail { by } => (by.abs(), MOST_BENT),
        PlantedFault::SlippedTrack { by, .. }
        | PlantedFault::SlippedPin { by, .. }
        | PlantedFault::TurnedArbor { by, .. } => (by.abs(), MOST_SLIPPED),
        PlantedFault::Worn { track, .. } => (most_worn(all, *track), MOST_WORN),
        PlantedFault::MissingLobe { .. } | PlantedFault::MissingPin { .. } => return Ok(()),
    };
    match by.exact() > &whole(most.into()) {
        true => Err(PutInFault::TogetherTooFar { most }),
        false => Ok(()),
    }
}

/// How far the most worn slot of a track is worn: by what all are, and by what it is besides.
fn most_worn(all: &[PlantedFault], of: TrackId) -> Degrees {
    let (mut every, mut most) = (Degrees::zero(), Degrees::zero());
    for put_in in all {
        match put_in {
            PlantedFault::Worn { track, slot, by } if *track == of => match slot {
                None => every = by.clone(),
                Some(_) => most = most.max(by.clone()),
            },
            _ => {}
        }
    }
    &every + &most
}

fn unput(written: &str, why: PutInFault) -> QuestionFault {
    QuestionFault::Unput(written.to_owned(), why)
}

fn not_there<'a>(written: &str, names: impl Iterator<Item = &'a str>) -> QuestionFault {
    unput(
        written,
        PutInFault::NotThere(names.map(str::to_owned).collect()),
    )
}

/// Teeth after which the larger wheel of a mesh has come round.
fn once_round(movement: &Movement, mesh: MeshId) -> u16 {
    let mesh = movement.mesh(mesh);
    let teeth =
        [MeshSide::Driver, MeshSide::Driven].map(|side| movement.part(mesh.part(side)).teeth.get());
    teeth[0].max(teeth[1])
}

/// How many slots a track has, of those that wear.
fn slots(shape: &Shape) -> Option<usize> {
    match shape {
        Shape::Counts { counts, .. } => Some(slots_of(counts).len()),
        Shape::Notches { middles, .. } => Some(middles.len()),
        _ => None,
    }
}

/// How many pins or lobes a track has.
fn lobes(shape: &Shape) -> Option<usize> {
    match shape {
        Shape::Lobes { places, .. } => Some(places.len()),
        _ => None,
    }
}

/// Tracks of some form, by name.
fn names(works: &Works, of: impl Fn(&Shape) -> bool) -> Vec<String> {
    let tracks = works.tracks().filter(|(_, track)| of(&track.shape));
    tracks.map(|(_, track)| track.id.clone()).collect()
}

/// The meshes that can be closed wrong, as they are written.
fn shiftable(movement: &Movement) -> Vec<String> {
    (movement.meshes())
        .filter(|(id, _)| movement.far_side(*id).is_some())
        .map(|(id, _)| movement.mesh_name(id).replace('>', ":"))
        .collect()
}

enum Bearing {
    Track(TrackId),
    Pin(PinId),
}

fn find(works: &Works, name: &str, written: &str) -> Result<Bearing, QuestionFault> {
    let track = works.find_track(name).map(Bearing::Track);
    let found = track.or_else(|| works.find_pin(name).map(Bearing::Pin));
    let tracks = works.tracks().map(|(_, track)| track.id.as_str());
    let pins = works.pins().map(|(_, pin)| pin.id.as_str());
    found.ok_or_else(|| not_there(written, tracks.chain(pins)))
}

fn angle(written: &str) -> Result<(&str, Degrees), QuestionFault> {
    let (name, by) = written.split_once('=').unwrap_or((written, ""));
    let by = Degrees::parse(by).ok().filter(|_| by.len() <= LONGEST);
    Ok((name, by.ok_or_else(|| unput(written, PutInFault::NoAngle))?))
}

/// An angle by which something was bent or slipped, at most so many degrees either way.
fn turned(written: &str, most: u16) -> Result<(&str, Degrees), QuestionFault> {
    let (name, by) = angle(written)?;
    let bound = Degrees::deg(whole(most.into()));
    match by > bound || by < Degrees::deg(-bound.exact()) {
        true => Err(unput(written, PutInFault::TooFar { most })),
        false => Ok((name, by)),
    }
}

fn numbered(name: &str) -> (&str, Option<&str>) {
    match name.split_once(':') {
        Some((name, n)) => (name, Some(n)),
        None => (name, None),
    }
}

/// From a number counted from 1, up to the last, to one counted from 0.
fn nth(n: &str, last: usize, written: &str) -> Result<usize, QuestionFault> {
    let n: Option<usize> = n.parse().ok();
    let n = n.and_then(|n| n.checked_sub(1));
    let n = n.ok_or_else(|| unput(written, PutInFault::NoNumber))?;
    match n < last {
        true => Ok(n),
        false => Err(unput(written, PutInFault::Beyond { last })),
    }
}
