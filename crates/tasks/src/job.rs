//! A job as a whole: begun, gone over, added to.

use crate::question::QuestionFault;
use crate::{
    Refusal, SheetWarning, Timed, TimingState, as_counted, check_for_strike, check_open_warned,
    digest, note, timed,
};
use entries::{Day, EntryKind, Kept, Log, LogHeader, Work};
use kinds::{AskedFor, PresentAnswer};
use movement::{Movement, Open};
use sheet::Sheet;
use std::sync::Arc;
use timing::{Eye, Reading};
use way::{DrivenBy, JobFacts, Own, Way};

/// A job, gone over.
#[derive(Debug)]
pub struct JobState {
    /// What is on its sheet, where it has one that checks.
    pub sheet: Option<Arc<Sheet>>,
    /// What is on it, where it is good but for counts that are missing.
    pub open: Option<Open>,
    /// What its strike is run from: its sheet, or that where only trains beside the strike are not counted.
    struck: Option<Arc<Sheet>>,
    /// What is odd on its sheet, in order of place.
    pub odd: Vec<SheetWarning>,
    /// Its log.
    pub log: Log,
    /// What was looked at at rest, where its train was gone over: the number of each entry, and its readings as they stood at their
    /// moments by what was known then.
    pub at_rest: Vec<(usize, Vec<Reading>)>,
    /// What drives it, as was told when its kind asked.
    pub driven: DrivenBy,
    /// Its way.
    pub way: Way,
}

impl JobState {
    /// A job with this text of a sheet, whose train was gone over.
    pub fn of(noted: &TimingState, sheet: &str, own: &[Own]) -> JobState {
        let movement = &noted.sheet.movement;
        let counted = movement.is_all_counted();
        let (open, _) = match counted {
            true => (None, Vec::new()),
            false => open_of(sheet.as_bytes()),
        };
        let told = ToldOfClock::of(sheet.as_bytes());
        let facts = JobFacts {
            counted,
            timed: (movement.strike()).map(|_| matches!(timed(noted), Timed::InTime { .. })),
            as_it_came: told.as_it_came,
        };
        JobState {
            odd: noted.sheet.warnings.clone(),
            open,
            way: Way::of(Some(movement), &noted.log, &facts, own),
            log: noted.log.clone(),
            sheet: counted.then(|| Arc::clone(&noted.sheet)),
            struck: Some(Arc::clone(&noted.sheet)),
            driven: told.driven,
            at_rest: noted.recalled.at_rest.clone(),
        }
    }

    /// The movement, where there is one.
    pub fn movement(&self) -> Option<&Movement> {
        self.sheet.as_ref().map(|sheet| &sheet.movement)
    }

    /// The movement that its strike is run from, where there is one: trains beside the strike may not be counted.
    pub fn struck(&self) -> Option<&Movement> {
        self.struck.as_ref().map(|sheet| &sheet.movement)
    }

    /// Its arbors and what was measured of them, though counts may be missing: nothing that turns may be worked from it.
    pub fn outline(&self) -> Option<&Movement> {
        self.movement()
            .or_else(|| self.open.as_ref().map(Open::movement))
    }
}

/// What of a clock was told when its kind asked.
#[derive(Debug, Clone, Copy)]
pub(crate) struct ToldOfClock {
    /// Whether it struck every hour right and came whole; nothing where it was not asked, or nobody knew.
    pub(crate) as_it_came: Option<bool>,
    /// What drives it.
    driven: DrivenBy,
}

impl ToldOfClock {
    pub(crate) fn of(sheet: &[u8]) -> ToldOfClock {
        const AS_IT_CAME: &str = "as_it_came";
        const POWER: &str = "power";
        let text = std::str::from_utf8(sheet).unwrap_or_default();
        // Most sheets were never asked anything, and need not be taken apart.
        let described = [AS_IT_CAME, POWER]
            .iter()
            .any(|id| text.contains(id))
            .then(|| kinds::Described::read(text).ok())
            .flatten();
        let questions = described.map_or_else(Vec::new, |described| described.questions());
        let told = questions
            .iter()
            .filter(|asked| text.contains(&asked.question.id));
        let asked = |id: &str| told.clone().find(|asked| asked.question.id == id);
        ToldOfClock {
            as_it_came: asked(AS_IT_CAME).and_then(|asked| match &asked.answer {
                PresentAnswer::Choice(choice) => Some(choice == "yes"),
                _ => None,
            }),
            driven: asked(POWER).map_or(DrivenBy::Unknown, |asked| {
                let choice = match (&asked.answer, &asked.question.asks) {
                    (PresentAnswer::Choice(choice), _) => choice,
                    (PresentAnswer::Usual, AskedFor::Choice { usual, .. }) => usual,
                    _ => return DrivenBy::Unknown,
                };
                match choice == "weight" {
                    true => DrivenBy::Weight,
                    false => DrivenBy::Spring,
                }
            }),
        }
    }
}

pub(crate) fn log_of(log: &[u8]) -> Result<Log, Refusal> {
    let (log, _) = Log::read(log).map_err(|fault| Refusal::Question(QuestionFault::Log(fault)))?;
    Ok(log)
}

/// Goes over a job: what is left, and what comes next. An empty sheet is one that nobody counted yet.
///
/// # Errors
/// The log cannot be read.
pub fn job(sheet: &[u8], log: &[u8], own: &[Own]) -> Result<JobState, Refusal> {
    let log = log_of(log)?;
    let struck = check_for_strike(sheet).ok().map(Arc::new);
    let counted = struck
        .clone()
        .filter(|sheet| sheet.movement.is_all_counted());
    let (open, odd) = match &counted {
        Some(counted) => (None, counted.warnings.clone()),
        None => open_of(sheet),
    };
    let told = ToldOfClock::of(sheet);
    let sheet = counted;
    let facts = JobFacts {
        counted: sheet.is_some(),
        timed: None,
        as_it_came: told.as_it_came,
    };
    let known = (sheet.as_ref().map(|s| &s.movement)).or(open.as_ref().map(Open::movement));
    let way = Way::of(known, &log, &facts, own);
    Ok(JobState {
        sheet,
        struck,
        open,
        odd,
        log,
        at_rest: Vec::new(),
        driven: told.driven,
        way,
    })
}

/// What is on a sheet that is good but for counts that are missing, and what is odd about it.
fn open_of(sheet: &[u8]) -> (Option<Open>, Vec<SheetWarning>) {
    match check_open_warned(sheet) {
        Ok(Some((open, odd))) => (Some(open), odd),
        _ => (None, Vec::new()),
    }
}

/// The same, and whether the train is in time, which takes longer to say; `eye` as for [`note`].
///
/// # Errors
/// The log cannot be read.
pub fn job_timed(sheet: &[u8], log: &[u8], own: &[Own], eye: Eye) -> Result<JobState, Refusal> {
    match note(sheet, Some(log), &[], None, eye) {
        Ok(noted) => Ok(JobState::of(&noted, &String::from_utf8_lossy(sheet), own)),
        Err(_) => job(sheet, log, own),
    }
}

/// The sheet and the log of a job as they stood when a day was over.
///
/// # Errors
/// The log cannot be read.
pub fn as_it_stood(first_sheet: &str, log: &str, day: Day) -> Result<(String, String), Refusal> {
    let log = log_of(log.as_bytes())?;
    let then = log.as_it_stood(log.entries_by(day));
    let sheet = then.sheet().map_or(first_sheet, |sheet| sheet.text);
    Ok((sheet.to_owned(), then.text().to_owned()))
}

fn header(movement: &Movement) -> LogHeader {
    LogHeader {
        sheet: movement.name().to_owned(),
        hash: digest(movement),
    }
}

/// Begins a job with its sheet alone, to have its train timed or its missing counts found.
///
/// # Errors
/// The faults of the sheet.
pub fn begin(sheet: &[u8]) -> Result<Log, Refusal> {
    Ok(Log::start(header(&as_counted(sheet)?)))
}

/// Begins a job with its coming in. An empty sheet is none yet.
///
/// # Errors
/// The faults of the sheet, or what cannot be entered.
pub fn come_in(clock: &str, sheet: &str, told: &Work, at: Option<&str>) -> Result<Log, Refusal> {
    let header = if sheet.trim().is_empty() {
        LogHeader {
            sheet: clock.to_owned(),
            hash: String::new(),
        }
    } else {
        header(&as_counted(sheet.as_bytes())?)
    };
    let mut log = Log::start(header);
    enter_in(&mut log, told, at)?;
    Ok(log)
}

/// Enters something into a job's log, and gives the text to add to it.
///
/// # Errors
/// The log cannot be read, or what is to be entered cannot be.
pub fn enter(log: &[u8], work: &Work, at: Option<&str>) -> Result<String, Refusal> {
    enter_in(&mut log_of(log)?, work, at)
}

/// Takes an entry back.
///
/// # Errors
/// The log cannot be read, or there is no such entry, or it cannot be taken back.
pub fn take_back(log: &[u8], of: usize, at: Option<&str>) -> Result<String, Refusal> {
    let mut log = log_of(log)?;
    log.append(&EntryKind::Undo { of }, at)
        .map_err(|fault| QuestionFault::not_entered(fault).into())
}

fn enter_in(log: &mut Log, work: &Work, at: Option<&str>) -> Result<String, Refusal> {
    log.append(&EntryKind::Work(work.clone()), at)
        .map_err(|fault| QuestionFault::not_entered(fault).into())
}

/// The entry of a new sheet for a job.
///
/// # Errors
/// Every fault of the sheet.
pub fn new_sheet(text: &str) -> Result<Work, Refusal> {
    let movement = as_counted(text.as_bytes())?;
    Ok(Work::Sheet {
        text: text.to_owned(),
        hash: digest(&movement),
    })
}

/// Words that were typed, as an entry keeps them; nothing where nothing was.
pub fn kept_text(typed: Option<&str>) -> Option<Kept<String>> {
    let typed = typed?.trim();
    (!typed.is_empty()).then(|| Kept::Here(typed.to_owned()))
}
