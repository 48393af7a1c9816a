//! What is on the bench: the jobs of its book, each told in the words of whoever asks, and what is looked at meanwhile.

use crate::form::{self, FieldFault};
use crate::heavy::Room;
use crate::holding::HeldChoices;
use crate::recordings::Recordings;
use crate::searches::Searches;
use crate::trouble::trouble_text;
use axum::http::StatusCode;
use book::{BookFault, EntryPlace, JobId};
use entries::{Day, EntryContent, EntryKind};
use report::page::history::{self, ToldBy};
use report::{Locale, Voice, say};
use std::collections::BTreeSet;
use std::ops::Deref;
use std::sync::Mutex;
use tasks::{DeskFault, InHand, Refusal, TimedJob, WholeJob};

/// The book, and all that may be asked of it.
#[derive(Debug)]
pub(crate) struct Desk {
    pub(crate) jobs: tasks::Desk,
    /// The recordings that are looked at.
    pub(crate) recordings: Recordings,
    /// Room for what takes its time.
    pub(crate) room: Room,
    /// Searches for counts that are under way.
    pub(crate) searches: Searches,
    /// How trains are held for their next looks.
    pub(crate) held: HeldChoices,
    /// Why the day's backup, or what goes with it, was not all made.
    pub(crate) not_made: Mutex<Option<BookFault>>,
}

impl Deref for Desk {
    type Target = tasks::Desk;

    fn deref(&self) -> &tasks::Desk {
        &self.jobs
    }
}

/// Which job has a sheet that was to be taken in.
pub(crate) fn in_hand(locale: &Locale, job: &InHand) -> String {
    let (n, name) = (job.id.to_string(), job.name.as_str());
    if job.home {
        say!(locale, "in-hand-home", n = n, name = name)
    } else {
        say!(locale, "in-hand", n = n, name = name)
    }
}

/// Why a question was not answered.
#[derive(Debug)]
pub(crate) enum Refused {
    /// Nothing is there.
    Nothing,
    /// Nothing was read.
    Unread,
    /// This was read in two ways at once.
    ReadTwice(String),
    /// What was asked is wrong, or the sheet.
    Wrong(Refusal),
    /// The log has moved on since the page was drawn.
    Behind,
    /// The book does not do it.
    Book(BookFault),
    /// Something else outside failed, as the machine says.
    Outside(String),
    /// A field of a form says what cannot be entered.
    FieldFault(FieldFault),
    /// No part has so many teeth, or pins.
    NoCount {
        /// Whether pins were asked for.
        pins: bool,
    },
    /// This movement cannot be mis-timed so that it shows and can be put right.
    NoLesson,
    /// A recording is on the bench no more.
    NoRecording,
    /// A recording is too long.
    TooLong,
    /// What came cannot be used, and why was told already.
    Told(String),
    /// It is to be handed back with points open, and that was not said on purpose.
    LeftOpen,
    /// A job has this sheet already, and it was not said that it is to be another.
    InHand(InHand),
    /// Something of this job is worked out, or too much of others.
    Busy,
    /// What was sent broke off, or is no form.
    BrokeOff,
}

impl Refused {
    pub(crate) fn status(&self) -> StatusCode {
        match self {
            Refused::Nothing => StatusCode::NOT_FOUND,
            Refused::Unread
            | Refused::ReadTwice(_)
            | Refused::Wrong(_)
            | Refused::FieldFault(_)
            | Refused::NoLesson
            | Refused::NoCount { .. }
            | Refused::LeftOpen
            | Refused::Told(_) => StatusCode::UNPROCESSABLE_ENTITY,
            Refused::NoRecording => StatusCode::NOT_FOUND,
            Refused::Busy => StatusCode::SERVICE_UNAVAILABLE,
            Refused::BrokeOff => StatusCode::BAD_REQUEST,
            Refused::TooLong => StatusCode::PAYLOAD_TOO_LARGE,
            Refused::Book(BookFault::NoSuchPicture { .. }) => StatusCode::NOT_FOUND,
            Refused::Book(
                BookFault::NotAPicture { .. }
                | BookFault::PictureTooLarge
                | BookFault::PictureCutShort
                | BookFault::PictureTooMuch,
            ) => StatusCode::UNPROCESSABLE_ENTITY,
            Refused::Behind | Refused::InHand(_) => StatusCode::CONFLICT,
            Refused::Book(_) | Refused::Outside(_) => StatusCode::INTERNAL_SERVER_ERROR,
        }
    }

    pub(crate) fn say(&self, locale: &Locale) -> String {
        match self {
            Refused::Nothing => say!(locale, "refused-nothing"),
            Refused::Unread => say!(locale, "refused-unread"),
            Refused::ReadTwice(what) => say!(locale, "refused-read-twice", what = what),
            Refused::Behind => say!(locale, "refused-behind"),
            Refused::Wrong(Refusal::Question(why)) => {
                report::unanswered(&Voice::Page(*locale), why)
            }
            Refused::Wrong(Refusal::Sheet(faults)) => {
                let told: Vec<String> = (faults.told.iter())
                    .map(|fault| {
                        let told = report::fault(locale, fault);
                        let hint =
                            (told.hint).map_or_else(String::new, |hint| format!(" — {hint}"));
                        let at = fault.spot;
                        format!("{}:{}: {}{hint}", at.line, at.column, told.line)
                    })
                    .collect();
                told.join("\n")
            }
            Refused::Book(fault) => trouble_text(locale, fault),
            Refused::Outside(detail) => detail.clone(),
            Refused::NoCount { pins } => say!(
                locale,
                "counting-no-count",
                pins = if *pins { "yes" } else { "no" }
            ),
            Refused::NoLesson => say!(locale, "refused-no-lesson"),
            Refused::Busy => say!(locale, "refused-busy"),
            Refused::BrokeOff => say!(locale, "refused-broke-off"),
            Refused::InHand(job) => in_hand(locale, job),
            Refused::LeftOpen => say!(locale, "refused-left-open"),
            Refused::NoRecording => say!(locale, "refused-no-recording"),
            Refused::TooLong => say!(locale, "refused-long-recording"),
            Refused::Told(told) => told.clone(),
            Refused::FieldFault(odd) if form::is_long(&odd.got) => say!(
                locale,
                "refused-long",
                field = form::label(locale, &odd.field),
                got = odd.got.encode_utf16().count(),
                most = form::LONGEST
            ),
            Refused::FieldFault(odd) if odd.got.is_empty() => {
                say!(
                    locale,
                    "refused-empty",
                    field = form::label(locale, &odd.field)
                )
            }
            Refused::FieldFault(odd) => say!(
                locale,
                "refused-odd",
                field = form::label(locale, &odd.field),
                got = odd.got.as_str()
            ),
        }
    }
}

impl From<FieldFault> for Refused {
    fn from(fault: FieldFault) -> Refused {
        Refused::FieldFault(fault)
    }
}

impl From<BookFault> for Refused {
    fn from(fault: BookFault) -> Refused {
        DeskFault::from(fault).into()
    }
}

impl From<DeskFault> for Refused {
    fn from(fault: DeskFault) -> Refused {
        match fault {
            DeskFault::NoJob => Refused::Nothing,
            DeskFault::Behind => Refused::Behind,
            DeskFault::LeftOpen => Refused::LeftOpen,
            DeskFault::Wrong(refusal) => Refused::Wrong(refusal),
            DeskFault::Book(fault) => Refused::Book(fault),
        }
    }
}

impl From<Refusal> for Refused {
    fn from(refusal: Refusal) -> Refused {
        Refused::Wrong(refusal)
    }
}

/// A job whose train is timed, and in what words it is told.
#[derive(Debug)]
pub(crate) struct Job {
    pub(crate) locale: Locale,
    job: TimedJob,
}

impl Deref for Job {
    type Target = TimedJob;

    fn deref(&self) -> &TimedJob {
        &self.job
    }
}

/// A job as a whole, and in what words it is told.
pub(crate) struct Whole {
    pub(crate) locale: Locale,
    job: WholeJob,
}

impl Deref for Whole {
    type Target = WholeJob;

    fn deref(&self) -> &WholeJob {
        &self.job
    }
}

impl Whole {
    /// What each entry says.
    pub(crate) fn entry_texts(&self) -> Vec<String> {
        let mut told = told_of(&self.locale, &self.state, self.view().plate);
        for (n, changes) in tasks::sheet_changes(&self.first_sheet, &self.state.log) {
            // Where an arbor lies, or how something was asked, is no other movement.
            told[n - 1] = match changes.is_empty() {
                true => say!(self.locale, "work-sheet-asked"),
                false => report::changed(&self.locale, &changes),
            };
        }
        told
    }
}

impl Desk {
    /// A job as a whole; as it stood at the end of a day, where one is given.
    pub(crate) fn whole(
        &self,
        id: JobId,
        locale: Locale,
        by: Option<Day>,
    ) -> Result<Whole, Refused> {
        let job = self.jobs.whole(id, by)?;
        Ok(Whole { locale, job })
    }

    /// The same, knowing too whether its train is in time.
    pub(crate) fn on_its_way(
        &self,
        id: JobId,
        locale: Locale,
        by: Option<Day>,
    ) -> Result<Whole, Refused> {
        let job = self.jobs.on_its_way(id, by)?;
        Ok(Whole { locale, job })
    }

    /// A job whose train is timed.
    pub(crate) fn job(&self, id: JobId, locale: Locale) -> Result<Job, Refused> {
        let job = self.jobs.timed(id)?;
        Ok(Job { locale, job })
    }

    /// The same; nothing where it has no sheet yet, or one on which counts are missing.
    pub(crate) fn train(&self, id: JobId, locale: Locale) -> Result<Option<Job>, Refused> {
        let job = self.jobs.train(id)?;
        Ok(job.map(|job| Job { locale, job }))
    }

    /// Empties what names a person, every picture and the texts of these entries, for good. What could not be gone over is minded besides.
    pub(crate) fn remove(
        &self,
        id: JobId,
        entries: usize,
        along: &BTreeSet<EntryPlace>,
    ) -> Result<(), Refused> {
        let removal = self.jobs.removal(id)?;
        let came = match self.jobs.remove(id, entries, &removal, along) {
            Err(DeskFault::Book(fault)) => Err(fault),
            Err(fault) => return Err(fault.into()),
            Ok(()) => Ok(()),
        };
        Ok(self.removed(came)?)
    }
}

/// What each entry says, from the plate it is looked at.
fn told_of(locale: &Locale, gone: &tasks::JobState, plate: movement::Plate) -> Vec<String> {
    let by = gone.struck().map(|movement| ToldBy {
        movement,
        from: plate,
        at_rest: &gone.at_rest,
        figures: true,
    });
    (gone.log.entries().iter())
        .map(|entry| match (&by, &entry.told) {
            (Some(by), _) => history::entry(locale, by, entry),
            (None, EntryContent::Known(EntryKind::Work(work))) => report::work::work(locale, work),
            (None, _) => say!(locale, "log-unknown", kind = "?"),
        })
        .collect()
}
