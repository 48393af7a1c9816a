//! One function for each thing a user does. Text and bytes come in, data comes out; no screen, no files.

mod bench;
mod log;
mod strike;

pub use bench::stands_after;
pub use log::{Ask, Noted, hash, note};
pub use strike::{Proved, Wrongs, strike};

use movement::{ArborId, Movement, Plate};
use sheet::{Faults, Sheet};
use timing::{Answer, Hands, PutIn, Reading, ReadingFault, SaidFault};

/// Why a question about a sheet is not answered.
#[derive(Debug)]
pub enum Refusal {
    /// The sheet itself is wrong.
    Sheet(Faults),
    /// The question is: in words.
    Question(String),
}

impl From<Faults> for Refusal {
    fn from(faults: Faults) -> Refusal {
        Refusal::Sheet(faults)
    }
}

/// Reads and checks a sheet.
///
/// # Errors
/// Every fault of it.
pub fn check(sheet: &[u8]) -> Result<Sheet, Faults> {
    sheet::read(sheet)
}

/// The motion of a movement, and the arbor whose one turn it is told for.
///
/// # Errors
/// The sheet's faults, or that there is no arbor `per`.
pub fn train(sheet: &[u8], per: Option<&str>) -> Result<(Movement, ArborId), Refusal> {
    let movement = check(sheet)?.movement;
    let unknown = |got: &str| Refusal::Question(report::en::unknown_arbor(&movement, got));
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
        let unknown = || Refusal::Question(report::en::unknown_arbor(&movement, id));
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
    Ok(Remesh {
        from,
        answer,
        sheet,
    })
}

fn readings(movement: &Movement, saw: &[String], from: Plate) -> Result<Vec<Reading>, String> {
    let mut readings: Vec<Reading> = Vec::new();
    for written in saw {
        let said_fault = |fault: SaidFault| report::en::said_fault(written, &fault);
        let reading_fault = |fault: ReadingFault| report::en::reading_fault(written, &fault);
        let (witness, said) = timing::parse(movement, from, written).map_err(said_fault)?;
        if readings.iter().any(|r| r.witness == witness) {
            return Err(report::en::read_twice(&movement.witness(witness).id));
        }
        readings.push(timing::read(movement, witness, &said).map_err(reading_fault)?);
    }
    if readings.is_empty() {
        return Err(report::en::nothing_read(movement));
    }
    Ok(readings)
}
