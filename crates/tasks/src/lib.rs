//! One function for each thing a user does. Text and bytes come in, data comes out; no screen, no files.

mod bench;
mod count;
mod digest;
mod job;
mod keeping;
mod lesson;
pub mod listening;
mod log;
mod oil;
mod outline;
mod pendulum;
mod power;
mod strike;

pub use bench::stands_after;
pub use count::{CountAsk, Counted, count};
pub use digest::{belongs, counted_facts, digest};
pub use job::{
    Gone, as_counted, as_it_stood, begin, come_in, enter, job, job_timed, new_sheet, said,
    take_back,
};
pub use keeping::book_words;
pub use lesson::{Lesson, lesson, mistime, openings};
pub use log::{Ask, Noted, Which, note};
pub use oil::{Oiled, oil};
pub use outline::Outline;
pub use pendulum::{BOB_WORDS, Pendulum, PendulumAsk, RODS, pendulum};
pub use power::{PowerAsk, Powered, drawn, power};
pub use strike::{Proved, Wrongs, prove, strike};
pub use workshop::counts::{CountAgain, Miscounted};
pub use workshop::oil::{Room as OilRoom, State as OilState, back_for as oil_back};

use draw::Mm;
use movement::{ArborId, MeshId, Movement, Open, Plate};
use quantity::{Known, Writable, parse_known, to_f64};
use report::{Voice, Why};
use sheet::{Faults, Sheet};
use timing::{Answer, Hands, PutIn, Reading, ReadingFault, SaidFault};

/// Why a question about a sheet is not answered.
#[derive(Debug)]
pub enum Refusal {
    /// The sheet itself is wrong.
    Sheet(Faults),
    /// The question is.
    Question(Why),
}

impl Refusal {
    /// Told in the words it was asked in.
    fn told(words: String) -> Refusal {
        Refusal::Question(Why::Told(words))
    }
}

impl From<Faults> for Refusal {
    fn from(faults: Faults) -> Refusal {
        Refusal::Sheet(faults)
    }
}

/// A measurement that was written for a part of a question, where it was.
fn written<Q: Writable>(
    voice: &Voice,
    name: &str,
    text: Option<&str>,
) -> Result<Option<Known<Q>>, Refusal> {
    text.map(|text| {
        parse_known(text).map_err(|why| Refusal::told(voice.unwritten(name, text, &why)))
    })
    .transpose()
}

/// The centre distances that were measured.
pub fn centres(movement: &Movement) -> Vec<(MeshId, Mm)> {
    movement
        .meshes()
        .filter_map(|(id, mesh)| Some((id, Mm::of(to_f64(mesh.centre_mm.as_ref()?))?)))
        .collect()
}

/// Reads and checks a sheet.
///
/// # Errors
/// Every fault of it.
pub fn check(sheet: &[u8]) -> Result<Sheet, Faults> {
    sheet::read(sheet)
}

/// What of a movement cannot come out as it was counted, and which miscount would explain it.
pub fn count_again(movement: &Movement) -> CountAgain {
    workshop::counts::count_again(movement)
}

/// Reads a sheet on which counts are missing; nothing where none is.
///
/// # Errors
/// Every fault of it but those counts.
pub fn check_open(sheet: &[u8]) -> Result<Option<Open>, Faults> {
    let open = sheet::read_open(sheet)?;
    let missing = open.blanks().iter().any(|blank| blank.written.is_none());
    Ok(missing.then_some(open))
}

/// The motion of a movement, and the arbor whose one turn it is told for.
///
/// # Errors
/// The sheet's faults, or that there is no arbor `per`.
pub fn train(sheet: &[u8], per: Option<&str>) -> Result<(Movement, ArborId), Refusal> {
    let movement = check(sheet)?.movement;
    let unknown = |got: &str| Refusal::Question(Why::unknown_arbor(&movement, got));
    let per = match per {
        Some(id) => movement.find_arbor(id).ok_or_else(|| unknown(id))?,
        None => (movement.strike().map(|strike| strike.read_at))
            .or_else(|| movement.arbors().next().map(|(id, _)| id))
            .ok_or_else(|| unknown(""))?,
    };
    Ok((movement, per))
}

/// In what order arbors go in, and where to hold them; all of them where none is named.
///
/// # Errors
/// The sheet's faults, or that there is no such arbor.
pub fn order(sheet: &[u8], out: &[String]) -> Result<(Movement, Vec<PutIn>), Refusal> {
    let movement = check(sheet)?.movement;
    let find = |id: &String| {
        let unknown = || Refusal::Question(Why::unknown_arbor(&movement, id));
        movement.find_arbor(id).ok_or_else(unknown)
    };
    let out = if out.is_empty() {
        movement.arbors().map(|(id, _)| id).collect()
    } else {
        out.iter().map(find).collect::<Result<Vec<_>, _>>()?
    };
    let steps = timing::order(&movement, &out);
    Ok((movement, steps))
}

/// The answer to one look.
#[derive(Debug)]
pub struct Remesh {
    /// The sheet it is about.
    pub sheet: Sheet,
    /// The plate that ways round are told from.
    pub from: Plate,
    /// The answer.
    pub answer: Answer,
}

/// Which wheel, how many teeth, which way, from readings as they are written (`slot=-1.2~0.1`).
///
/// # Errors
/// The sheet's faults, or what is wrong with a reading.
pub fn remesh(sheet: &[u8], saw: &[String], from: Option<Plate>) -> Result<Remesh, Refusal> {
    let sheet = check(sheet)?;
    let movement = &sheet.movement;
    let from = from.unwrap_or(movement.seen_from());
    let readings = readings(movement, saw, from).map_err(Refusal::Question)?;
    let answer = timing::answer(movement, &readings, Hands::default());
    if !movement.unjudged().is_empty() && matches!(answer.cure, timing::Cure::NoneNeeded) {
        return Err(Refusal::Question(Why::no_windows(movement)));
    }
    Ok(Remesh {
        from,
        answer,
        sheet,
    })
}

fn readings(movement: &Movement, saw: &[String], from: Plate) -> Result<Vec<Reading>, Why> {
    let mut readings: Vec<Reading> = Vec::new();
    for written in saw {
        let said_fault = |fault: SaidFault| Why::Said(written.clone(), fault);
        let reading_fault = |fault: ReadingFault| Why::Reading(written.clone(), fault);
        let (witness, said) = timing::parse(movement, from, written).map_err(said_fault)?;
        if readings.iter().any(|r| r.witness == witness) {
            return Err(Why::ReadTwice(movement.witness(witness).id.clone()));
        }
        readings.push(timing::read(movement, witness, &said).map_err(reading_fault)?);
    }
    if readings.is_empty() {
        return Err(Why::nothing_read(movement));
    }
    Ok(readings)
}
