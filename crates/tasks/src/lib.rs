//! One function for each thing a user does. Text and bytes come in, data comes out; no screen, no files.

mod alike;
mod asks;
mod assumed;
mod bench;
mod boxes;
mod centres;
mod changed;
mod count;
mod counting;
mod danger;
mod desk;
mod digest;
mod ground;
mod holds;
mod job;
mod lesson;
pub mod listening;
mod log;
mod lying;
mod oil;
mod outline;
mod pendulum;
mod photograph;
mod power;
mod question;
mod sheets;
mod sized;
mod strike;
mod timed;
mod windows;
pub mod written;

pub use alike::{begin_like, put_in_counts, same_train, worked_out};
pub use asks::{Ask, Which};
pub use assumed::{ASSUMPTIONS, Topic};
pub use bench::{stands_after, stands_after_turns};
pub use boxes::{
    BoxAt, BoxFault, BoxFaultKind, BoxHolds, BoxTyped, BoxesFault, BoxesFor, CountFound,
    DriveChosen, MeasureBox, MeasuredThing, Undriven, UsualRange, boxes, put_counts, put_in,
    undriven,
};
pub use centres::centres;
pub use changed::{sheet_changes, since_before};
pub use count::{CountAsk, Counted, MOST_PATIENCE, Searched, count, count_watched};
pub use counting::{BeingCounted, being_counted};
pub use danger::{ShiftDanger, dangers_of_listening};
pub use desk::{
    Desk, DeskFault, Elsewhere, Fixed, FixedPillar, InHand, JobPicture, MOST_LIKE, MOST_OFFERED,
    MOST_TRAINS, NotPlaced, PlatePicture, PutPlace, Removal, TimedJob, WholeJob,
};
pub use digest::{belongs, counted_facts, digest};
pub use entries::LoggedReading as Seen;
pub use job::{
    JobState, as_it_stood, begin, come_in, enter, job, job_timed, kept_text, new_sheet, take_back,
};
pub use kinds::{
    AskedFor, AskedQuestion, Choice, CountPlace, CountState, CountedPart, DescribeFault, Described,
    Follow, Kind, LikelyMiscount, MeasuredPace, MeasuredWidth, PartLook, PlaceId, PresentAnswer,
    Question, QuestionAnswer, Wanted, WorkRole,
};
pub use lesson::{Lesson, hidden_of, lesson, mistime, openings};
pub use log::{TimingState, note, note_of, shown, turned_by};
pub use lying::{
    Lying, NewStanding, PlaceFault, PlaceRemark, Placeable, PlacedThing, PlacingFault, fixing_word,
    lying,
};
pub use oil::{Oiled, oil};
pub use outline::Outline;
pub use pendulum::{BOB_WORDS, Pendulum, PendulumAsk, RODS, pendulum};
pub use photograph::{Photograph, Photographed, RULE_FROM, RULE_TO, ScaleFrom, WAY_UP};
pub use power::{ArborDrive, Belongs, Driven, PowerAsk, Powered, power};
pub use question::{Out, PutInFault, QuestionFault, WrittenForm};
pub use sheet::{MOST_BYTES as MOST_SHEET, Sheet, SheetWarning};
pub use sheets::{SheetAsk, alter_sheet, begin_sheet, kind_called};
pub use strike::{Proved, Wrongs, prove, strike};
pub use timed::{Timed, timed};
pub use windows::{WindowsTrouble, check_timed, work_windows_out};
pub use workshop::counts::{
    CountAgain, MOST_FITS as MOST_COUNT_FITS, MOST_STEPS as MOST_COUNT_STEPS, Miscounted, SearchEnd,
};
pub use workshop::oil::{State as OilState, Surroundings as OilRoom, back_for as oil_back};

use movement::{ArborId, Movement, Open, Plate, WitnessId};
use quantity::{Duration, Known, Writable, parse_known};
use sheet::Faults;
use timing::{Answer, Hands, Order, Reading, ReadingFault, Rest, SaidFault, SaidReading, Waiting};

/// Why a question about a sheet is not answered.
#[derive(Debug, thiserror::Error)]
pub enum Refusal {
    /// The sheet itself is wrong.
    #[error(transparent)]
    Sheet(Faults),
    /// The question is.
    #[error(transparent)]
    Question(QuestionFault),
}

impl From<QuestionFault> for Refusal {
    fn from(fault: QuestionFault) -> Refusal {
        Refusal::Question(fault)
    }
}

impl From<Faults> for Refusal {
    fn from(faults: Faults) -> Refusal {
        Refusal::Sheet(faults)
    }
}

/// A measurement that was written for a part of a question, where it was.
fn written<Q: Writable>(
    name: &'static str,
    text: Option<&str>,
) -> Result<Option<Known<Q>>, QuestionFault> {
    let parsed = text.map(|text| {
        parse_known(text).map_err(|why| QuestionFault::Unwritten {
            name,
            written: text.to_owned(),
            why,
        })
    });
    parsed.transpose()
}

/// A measurement that lies within the bounds of its kind, in the unit that sums are done in, and that says something.
fn within<Q: Writable>(
    name: &'static str,
    text: Option<&str>,
    bounds: std::ops::RangeInclusive<f64>,
    out: Out,
) -> Result<Option<Known<Q>>, QuestionFault> {
    let known: Option<Known<Q>> = written(name, text)?;
    if let (Some(known), Some(text)) = (&known, text) {
        let (value, spread) = (known.value.base(), known.spread.base());
        let vague = *bounds.start() > 0.0 && spread > value / 2.0;
        let out = if bounds.contains(&value) {
            Out::Vague
        } else {
            out
        };
        if vague || !bounds.contains(&value) {
            return Err(QuestionFault::OutOfBounds {
                name,
                written: text.to_owned(),
                out,
            });
        }
    }
    Ok(known)
}

/// How long a winding runs: a minute to ten years.
fn run(text: Option<&str>) -> Result<Option<Known<Duration>>, QuestionFault> {
    within("runs", text, 60.0..=3.2e8, Out::Run)
}

/// Reads and checks a sheet.
///
/// # Errors
/// Every fault of it.
pub fn check(sheet: &[u8]) -> Result<Sheet, Faults> {
    tracing::debug!("a sheet is read");
    sheet::read(sheet)
}

/// The same for its strike: trains that it does not hang on need not be counted.
pub(crate) fn check_for_strike(sheet: &[u8]) -> Result<Sheet, Faults> {
    tracing::debug!("a sheet is read");
    sheet::read_for_strike(sheet)
}

/// The same of one on which counts may be missing or in doubt, with what is odd on it.
fn check_counts_apart(sheet: &[u8]) -> Result<(Open, Vec<SheetWarning>), Faults> {
    tracing::debug!("a sheet is read");
    sheet::read_open_warned(sheet)
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
    Ok(check_open_warned(sheet)?.map(|(open, _)| open))
}

/// The same, and what is odd on it, in order of place.
///
/// # Errors
/// As [`check_open`].
pub fn check_open_warned(sheet: &[u8]) -> Result<Option<(Open, Vec<SheetWarning>)>, Faults> {
    let (open, odd) = check_counts_apart(sheet)?;
    let missing = open.blanks().iter().any(|blank| blank.written.is_none());
    Ok(missing.then_some((open, odd)))
}

/// What is on a sheet that a job may have: one on which every count stands that its strike hangs on, or one with more counts missing;
/// each of those then has a number that means nothing.
///
/// # Errors
/// Every other fault of it.
pub fn as_counted(sheet: &[u8]) -> Result<Movement, Faults> {
    match check_open(sheet)? {
        Some(open) => {
            let struck = open.beside_the_strike();
            Ok(struck.unwrap_or_else(|| open.movement().clone()))
        }
        None => Ok(check(sheet)?.movement),
    }
}

/// What is odd about how a sheet is written, in order of place; nothing where it has faults, which whatever is asked of it tells.
pub fn odd(sheet: &[u8]) -> Vec<SheetWarning> {
    check(sheet).map_or_else(|_| Vec::new(), |sheet| sheet.warnings)
}

/// The same of a sheet on which counts may be missing or in doubt.
pub fn odd_open(sheet: &[u8]) -> Vec<SheetWarning> {
    check_counts_apart(sheet).map_or_else(|_| Vec::new(), |(_, odd)| odd)
}

/// The motion of a movement, and the arbor whose one turn it is told for.
///
/// # Errors
/// The sheet's faults, or that there is no arbor `per`.
pub fn train(sheet: &[u8], per: Option<&str>) -> Result<(Movement, ArborId), Refusal> {
    let movement = windows::with_windows(check(sheet)?).movement;
    let unknown = |got: &str| Refusal::Question(QuestionFault::unknown_arbor(&movement, got));
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
pub fn order(sheet: &[u8], out: &[String]) -> Result<(Movement, Order), Refusal> {
    let movement = windows::with_windows(check(sheet)?).movement;
    let find = |id: &String| {
        let unknown = || Refusal::Question(QuestionFault::unknown_arbor(&movement, id));
        movement.find_arbor(id).ok_or_else(unknown)
    };
    let out = if out.is_empty() {
        movement.arbors().map(|(id, _)| id).collect()
    } else {
        out.iter().map(find).collect::<Result<Vec<_>, _>>()?
    };
    let order = timing::order(&movement, &out);
    Ok((movement, order))
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
    /// If it was read at rest, what locks and was not looked at, so that it was taken to have stood as usual.
    pub at_rest: Option<Vec<WitnessId>>,
}

/// One look, as a user says it.
#[derive(Debug, Clone, Copy)]
pub struct LookAsk<'a> {
    /// What was seen, each witness once.
    pub readings: &'a [entries::LoggedReading],
    /// Whether it was read at rest, locked.
    pub at_rest: bool,
}

impl<'a> LookAsk<'a> {
    /// As the lever drops.
    pub fn dropping(readings: &'a [entries::LoggedReading]) -> LookAsk<'a> {
        LookAsk {
            readings,
            at_rest: false,
        }
    }
}

/// Which wheel, how many teeth, which way, from readings.
///
/// # Errors
/// What is wrong with a reading.
pub fn remesh(
    sheet: Sheet,
    saw: &[entries::LoggedReading],
    from: Option<Plate>,
) -> Result<Remesh, Refusal> {
    remesh_watched(sheet, LookAsk::dropping(saw), from, 1, &Waiting::default())
}

/// The same with so many times the work, and with somebody who waits for it.
///
/// # Errors
/// As [`remesh`].
pub fn remesh_watched(
    sheet: Sheet,
    look: LookAsk<'_>,
    from: Option<Plate>,
    times: u32,
    waiting: &Waiting,
) -> Result<Remesh, Refusal> {
    let movement = &sheet.movement;
    let from = from.unwrap_or(movement.seen_from());
    let mut readings = readings(movement, look).map_err(Refusal::Question)?;
    let mut at_rest = None;
    if look.at_rest {
        let brought = timing::brought_to_the_drop(movement, &readings);
        let brought = brought.map_err(|(witness, fault)| {
            let id = &movement.witness(witness).id;
            let said = look.readings.iter().find(|seen| seen.witness == *id);
            let said = said.map_or_else(|| id.clone(), timing::written);
            Refusal::Question(QuestionFault::Reading(said, fault))
        })?;
        readings = brought.readings;
        at_rest = Some(brought.usual);
    }
    let answer = timing::answer_watched(movement, &readings, Hands::default(), times, waiting);
    if !movement.unjudged().is_empty() && matches!(answer.cure, timing::Cure::NoneNeeded) {
        return Err(Refusal::Question(QuestionFault::no_windows(movement)));
    }
    Ok(Remesh {
        from,
        answer,
        at_rest,
        sheet,
    })
}

/// Readings that say more than anybody reads off their arbor; each with what it was taken as.
pub fn far_off<'a>(
    movement: &Movement,
    look: LookAsk<'a>,
) -> Vec<(&'a entries::LoggedReading, Reading)> {
    let reader = LookReader::of(movement, look);
    let taken = look.readings.iter().filter_map(|seen| {
        let witness = timing::of_witness(movement, seen).ok()?;
        let said = timing::reading_as_said(movement, &seen.seen).ok()?;
        Some((seen, reader.read(witness, &said).ok()?))
    });
    taken
        .filter(|(_, reading)| reading.far_off.is_some())
        .collect()
}

/// Takes what was said of one look as it is meant there.
struct LookReader<'m> {
    movement: &'m Movement,
    rest: Option<Rest>,
}

impl LookReader<'_> {
    fn of<'m>(movement: &'m Movement, look: LookAsk<'_>) -> LookReader<'m> {
        LookReader {
            movement,
            rest: look.at_rest.then(|| Rest::of(movement)),
        }
    }

    fn read(&self, witness: WitnessId, said: &SaidReading) -> Result<Reading, ReadingFault> {
        match &self.rest {
            Some(rest) => timing::read_at_rest(self.movement, rest, witness, said),
            None => timing::read(self.movement, witness, said),
        }
    }
}

/// What was seen, as the sums take it; each witness once.
fn readings(movement: &Movement, look: LookAsk<'_>) -> Result<Vec<Reading>, QuestionFault> {
    let reader = LookReader::of(movement, look);
    let mut readings: Vec<Reading> = Vec::new();
    for seen in look.readings {
        let said_fault =
            |fault: SaidFault| QuestionFault::said(movement, timing::written(seen), fault);
        let reading_fault =
            |fault: ReadingFault| QuestionFault::Reading(timing::written(seen), fault);
        let witness = timing::of_witness(movement, seen).map_err(said_fault)?;
        let said = timing::reading_as_said(movement, &seen.seen).map_err(|part| {
            said_fault(SaidFault::UnknownPart {
                got: part.to_owned(),
            })
        })?;
        if readings.iter().any(|r| r.witness == witness) {
            return Err(QuestionFault::ReadTwice(
                movement.witness(witness).id.clone(),
            ));
        }
        readings.push(reader.read(witness, &said).map_err(reading_fault)?);
    }
    if readings.is_empty() {
        return Err(QuestionFault::nothing_read(movement));
    }
    Ok(readings)
}
