//! The strike run through its hours, with what is put in wrong, as it is written.

use crate::{Refusal, check};
use movement::{Movement, PinId, TrackId, Works};
use quantity::Degrees;
use report::{Unput, Why};
use sheet::Sheet;
use strike::{PutIn, Struck};

/// What is put in wrong, as written.
#[derive(Debug, Clone, Default)]
pub struct Wrongs {
    /// `DRIVER:DRIVEN=TEETH`.
    pub shift: Vec<String>,
    /// `LEVER=DEG`.
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
    pub put_in: Vec<PutIn>,
    /// The run.
    pub struck: Struck,
}

/// Runs the strike of a sheet through its whole cycle.
///
/// # Errors
/// The sheet's faults, that it has no strike to run, or what is wrong with what was put in.
pub fn strike(sheet: &[u8], wrongs: &Wrongs, watched: bool) -> Result<Proved, Refusal> {
    let sheet = check(sheet)?;
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
) -> Result<(Vec<PutIn>, Struck), Why> {
    let put_in = put_in(movement, wrongs)?;
    let struck = strike::strike(movement, &put_in, watched).map_err(Why::Unfit)?;
    Ok((put_in, struck))
}

/// The longest that a number of teeth or degrees may be written.
const LONGEST: usize = 20;

fn put_in(movement: &Movement, wrongs: &Wrongs) -> Result<Vec<PutIn>, Why> {
    let mut all = Vec::new();
    for written in &wrongs.shift {
        let (mesh, teeth) = written.split_once('=').unwrap_or((written, ""));
        let found = movement.find_mesh(mesh);
        let found = found.filter(|mesh| movement.far_side(*mesh).is_some());
        let mesh = found.ok_or_else(|| unput(written, Unput::NoMesh(shiftable(movement))))?;
        let teeth = teeth.parse().ok().filter(|_| teeth.len() <= LONGEST);
        let teeth = teeth.ok_or_else(|| unput(written, Unput::NoTeeth))?;
        all.push(PutIn::Shift { mesh, teeth });
    }
    let Some(works) = movement.works() else {
        return Ok(all);
    };
    for written in &wrongs.bend {
        let (lever, by) = angle(written)?;
        let levers = works.levers().map(|(_, lever)| lever.id.as_str());
        let lever = works.find_lever(lever);
        let lever = lever.ok_or_else(|| not_there(written, levers))?;
        all.push(PutIn::Bend { lever, by });
    }
    for written in &wrongs.worn {
        let (name, by) = angle(written)?;
        let (name, slot) = numbered(name);
        let tracks = works.tracks().map(|(_, track)| track.id.as_str());
        let track = works.find_track(name);
        let track = track.ok_or_else(|| not_there(written, tracks))?;
        let slot = match slot {
            Some(slot) => Some(nth(slot).ok_or_else(|| unput(written, Unput::NoNumber))?),
            None => None,
        };
        all.push(PutIn::Worn { track, slot, by });
    }
    for written in &wrongs.missing {
        let (name, n) = numbered(written);
        let n = nth(n.unwrap_or("1")).ok_or_else(|| unput(written, Unput::NoNumber))?;
        all.push(match find(works, name, written)? {
            Bearing::Track(track) => PutIn::MissingLobe { track, lobe: n },
            Bearing::Pin(pin) => PutIn::MissingPin { pin, place: n },
        });
    }
    for written in &wrongs.slip {
        let (name, by) = angle(written)?;
        all.push(match find(works, name, written)? {
            Bearing::Track(track) => PutIn::SlippedTrack { track, by },
            Bearing::Pin(pin) => PutIn::SlippedPin { pin, by },
        });
    }
    Ok(all)
}

fn unput(written: &str, why: Unput) -> Why {
    Why::Unput(written.to_owned(), why)
}

fn not_there<'a>(written: &str, names: impl Iterator<Item = &'a str>) -> Why {
    unput(written, Unput::NotThere(names.map(str::to_owned).collect()))
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

fn find(works: &Works, name: &str, written: &str) -> Result<Bearing, Why> {
    let track = works.find_track(name).map(Bearing::Track);
    let found = track.or_else(|| works.find_pin(name).map(Bearing::Pin));
    let tracks = works.tracks().map(|(_, track)| track.id.as_str());
    let pins = works.pins().map(|(_, pin)| pin.id.as_str());
    found.ok_or_else(|| not_there(written, tracks.chain(pins)))
}

fn angle(written: &str) -> Result<(&str, Degrees), Why> {
    let (name, by) = written.split_once('=').unwrap_or((written, ""));
    let by = Degrees::parse(by).ok().filter(|_| by.len() <= LONGEST);
    Ok((name, by.ok_or_else(|| unput(written, Unput::NoAngle))?))
}

fn numbered(name: &str) -> (&str, Option<&str>) {
    match name.split_once(':') {
        Some((name, n)) => (name, Some(n)),
        None => (name, None),
    }
}

/// From a number counted from 1 to one counted from 0.
fn nth(written: &str) -> Option<usize> {
    let n: u16 = written.parse().ok()?;
    usize::from(n).checked_sub(1)
}
