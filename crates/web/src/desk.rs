//! A job as it comes from the book: its log gone over, and how it is looked at.

use crate::entering::{self, Odd};
use crate::eyes::Eyes;
use crate::heavy::Room;
use crate::known;
use crate::listening::Recordings;
use crate::sums::Searches;
use crate::trouble::told;
use crate::way::told as told_of;
use crate::worked::{Of, Worked};
use axum::http::StatusCode;
use book::{Book, BookFault, JobId, View};
use entries::{Day, Stage, Work};
use movement::{Movement, Plate, WitnessId};
use quantity::Degrees;
use report::{Words, say};
use std::sync::{Arc, Mutex};
use tasks::{Ask, Gone, Noted, Refusal};
use timing::{Act, Eye, Shift};
use way::Own;

/// The book, and all that may be asked of it.
#[derive(Debug)]
pub(crate) struct Desk {
    pub(crate) book: Book,
    /// What day it is; nothing where that cannot be told.
    pub(crate) today: fn() -> Option<Day>,
    /// The recordings that are looked at.
    pub(crate) recordings: Recordings,
    /// What jobs showed of the eye.
    pub(crate) eyes: Eyes,
    /// The jobs whose trains were gone over last.
    pub(crate) worked: Worked,
    /// Room for what takes its time.
    pub(crate) room: Room,
    /// Searches for counts that are under way.
    pub(crate) searches: Searches,
    /// Why the day's backup, or what goes with it, was not all made.
    pub(crate) not_made: Mutex<Option<BookFault>>,
}

/// A job that has a sheet which was to be taken in.
#[derive(Debug)]
pub(crate) struct InHand {
    pub(crate) id: JobId,
    pub(crate) name: String,
    /// Whether the clock went home.
    pub(crate) home: bool,
}

impl InHand {
    /// Which job has it.
    pub(crate) fn say(&self, words: &Words) -> String {
        let (n, name) = (self.id.to_string(), self.name.as_str());
        if self.home {
            say!(words, "in-hand-home", n = n, name = name)
        } else {
            say!(words, "in-hand", n = n, name = name)
        }
    }
}

/// Why a question was not answered.
#[derive(Debug)]
pub(crate) enum Refused {
    /// Nothing is there.
    Nothing,
    /// Nothing was read.
    Unread,
    /// What was asked is wrong, or the sheet.
    Wrong(Refusal),
    /// The log has moved on since the page was drawn.
    Behind,
    /// The book does not do it.
    Book(BookFault),
    /// Something else outside failed, as the machine says.
    Outside(String),
    /// A field of a form says what cannot be entered.
    Odd(Odd),
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
    /// It was handed back already.
    Home,
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
            | Refused::Wrong(_)
            | Refused::Odd(_)
            | Refused::NoLesson
            | Refused::LeftOpen
            | Refused::Home
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

    pub(crate) fn say(&self, words: &Words) -> String {
        match self {
            Refused::Nothing => say!(words, "refused-nothing"),
            Refused::Unread => say!(words, "refused-unread"),
            Refused::Behind => say!(words, "refused-behind"),
            Refused::Wrong(Refusal::Question(why)) => why.say(words),
            Refused::Wrong(Refusal::Sheet(faults)) => {
                let told: Vec<String> = (faults.told.iter())
                    .map(|fault| {
                        let told = report::fault(words, fault);
                        let hint =
                            (told.hint).map_or_else(String::new, |hint| format!(" — {hint}"));
                        let at = fault.spot;
                        format!("{}:{}: {}{hint}", at.line, at.column, told.line)
                    })
                    .collect();
                told.join("\n")
            }
            Refused::Book(fault) => told(words, fault),
            Refused::Outside(detail) => detail.clone(),
            Refused::NoLesson => say!(words, "refused-no-lesson"),
            Refused::Home => say!(words, "refused-home"),
            Refused::Busy => say!(words, "refused-busy"),
            Refused::BrokeOff => say!(words, "refused-broke-off"),
            Refused::InHand(job) => job.say(words),
            Refused::LeftOpen => say!(words, "refused-left-open"),
            Refused::NoRecording => say!(words, "refused-no-recording"),
            Refused::TooLong => say!(words, "refused-long-recording"),
            Refused::Told(told) => told.clone(),
            Refused::Odd(odd) if odd.long => say!(
                words,
                "refused-long",
                field = entering::label(words, odd.field),
                got = odd.got.encode_utf16().count(),
                most = entering::LONGEST
            ),
            Refused::Odd(odd) if odd.got.is_empty() => {
                say!(
                    words,
                    "refused-empty",
                    field = entering::label(words, odd.field)
                )
            }
            Refused::Odd(odd) => say!(
                words,
                "refused-odd",
                field = entering::label(words, odd.field),
                got = odd.got.as_str()
            ),
        }
    }
}

impl From<BookFault> for Refused {
    fn from(fault: BookFault) -> Refused {
        match fault {
            BookFault::NoSuchJob { .. } => Refused::Nothing,
            BookFault::Behind { .. } => Refused::Behind,
            other => Refused::Book(other),
        }
    }
}

impl From<Refusal> for Refused {
    fn from(refusal: Refusal) -> Refused {
        Refused::Wrong(refusal)
    }
}

/// A job, gone over.
#[derive(Debug)]
pub(crate) struct Job {
    /// In what words it is told.
    pub(crate) words: Words,
    pub(crate) id: JobId,
    pub(crate) name: String,
    pub(crate) noted: Arc<Noted>,
    pub(crate) view: draw::View,
}

impl Job {
    pub(crate) fn movement(&self) -> &Movement {
        &self.noted.sheet.movement
    }

    /// Entries in the log, as a page must know them to add one.
    pub(crate) fn entries(&self) -> usize {
        self.noted.log.entries().len()
    }

    /// Whether the clock went home, and did not come in again since.
    pub(crate) fn home(&self) -> bool {
        self.noted.log.handed_back()
    }

    /// The shifts that are advised now.
    pub(crate) fn advised(&self) -> &[Shift] {
        match &self.noted.advice.act {
            Act::Shift(shifts) => shifts,
            _ => &[],
        }
    }

    /// What was seen last, if nothing was moved since; then where it most likely stands.
    pub(crate) fn stands(&self, witness: WitnessId) -> Option<Degrees> {
        self.seen(witness).or_else(|| self.expected(witness))
    }

    /// What was seen last, if nothing was moved since.
    pub(crate) fn seen(&self, witness: WitnessId) -> Option<Degrees> {
        (self.noted.recalled.last_look.iter())
            .find(|reading| reading.witness == witness)
            .map(|reading| reading.stands.clone())
    }

    /// After a shift: where it should stand now.
    pub(crate) fn expected(&self, witness: WitnessId) -> Option<Degrees> {
        if !self.noted.shifted() || !self.noted.recalled.last_look.is_empty() {
            return None;
        }
        self.noted
            .likeliest()
            .into_iter()
            .find(|(id, _)| *id == witness)
            .map(|(_, place)| place)
    }
}

/// A job as a whole, gone over.
pub(crate) struct Whole {
    /// In what words it is told.
    pub(crate) words: Words,
    pub(crate) id: JobId,
    pub(crate) name: String,
    pub(crate) sheet: String,
    /// The sheet that it began with; empty where there was none.
    first_sheet: String,
    pub(crate) gone: Gone,
    /// The day it is told of.
    pub(crate) day: Day,
    /// The evening on which it is looked at; nothing where it is looked at as it stands now.
    pub(crate) by: Option<Day>,
    view: Option<View>,
}

impl Whole {
    /// Entries in the log, as a page must know them to add one.
    pub(crate) fn entries(&self) -> usize {
        self.gone.log.entries().len()
    }

    /// What each entry says.
    pub(crate) fn told(&self) -> Vec<String> {
        let mut told = told_of(&self.words, &self.gone, self.view().plate);
        for (n, changes) in tasks::sheet_changes(&self.first_sheet, &self.gone.log) {
            let says = &mut told[n - 1];
            *says = format!("{says} {}", report::changed(&self.words, &changes));
        }
        told
    }

    /// How it is looked at.
    pub(crate) fn view(&self) -> draw::View {
        seen(self.view.as_ref(), || {
            (self.gone.movement()).map_or(Plate::Front, Movement::seen_from)
        })
    }

    /// What is known for a stage, a line each; what is not is said.
    pub(crate) fn known(&self, stage: Stage) -> Vec<String> {
        known::known(self, stage)
    }

    /// The hidden shifts, where it is a lesson.
    pub(crate) fn lesson(&self) -> Option<&[entries::AtMesh]> {
        tasks::hidden_of(&self.gone.log)
    }
}

/// Under this name the shop's own points are settled: a line each, the stage's word, a space and what it says.
const OWN: &str = "own points";

impl Desk {
    /// The day, as an entry has it.
    fn day(&self) -> Option<String> {
        (self.today)().map(|day| day.to_string())
    }

    /// A job as a whole; as it stood at the end of a day, where one is given.
    pub(crate) fn whole(&self, id: JobId, words: Words, by: Option<Day>) -> Result<Whole, Refused> {
        self.gone_over(id, words, by, |_, sheet, log, own| {
            tasks::job(sheet.as_bytes(), log.as_bytes(), own)
        })
    }

    /// The same, knowing too whether its train is in time.
    pub(crate) fn on_its_way(
        &self,
        id: JobId,
        words: Words,
        by: Option<Day>,
    ) -> Result<Whole, Refused> {
        let eye = self.eye(id)?;
        self.gone_over(id, words, by, |plate, sheet, log, own| {
            if by.is_some() {
                return tasks::job_timed(sheet.as_bytes(), log.as_bytes(), own, eye);
            }
            let of = Of {
                job: id,
                sheet: sheet.to_owned(),
                log: log.to_owned(),
                plate,
                eye,
            };
            match self.gone_over_train(&of) {
                Ok(noted) => Ok(Gone::of(&noted, own)),
                Err(_) => tasks::job(sheet.as_bytes(), log.as_bytes(), own),
            }
        })
    }

    /// How rough the readings of a job are before any of its own are known, as the jobs before it show.
    pub(crate) fn eye(&self, id: JobId) -> Result<Eye, Refused> {
        Ok(self.eyes.before(&self.book, id)?)
    }

    fn gone_over(
        &self,
        id: JobId,
        words: Words,
        by: Option<Day>,
        job: impl FnOnce(Option<Plate>, &str, &str, &[Own]) -> Result<Gone, Refusal>,
    ) -> Result<Whole, Refused> {
        let kept = self.book.job(id)?;
        let own = self.own()?;
        let plate = kept.view.as_ref().and_then(|view| plate_of(&view.plate));
        let (mut sheet, mut log) = (kept.sheet, kept.log);
        if let Some(day) = by {
            (sheet, log) = tasks::as_it_stood(&kept.first_sheet, &log, day)?;
        }
        Ok(Whole {
            words,
            id,
            name: kept.name,
            gone: job(plate, &sheet, &log, &own)?,
            sheet,
            first_sheet: kept.first_sheet,
            day: by.or_else(self.today).unwrap_or(Day::FIRST),
            by,
            view: kept.view,
        })
    }

    /// The points that the shop adds to every job.
    pub(crate) fn own(&self) -> Result<Vec<Own>, Refused> {
        let text = self.book.setting(OWN)?.unwrap_or_default();
        let own = |line: &str| {
            let (stage, says) = line.split_once(' ')?;
            Some(Own {
                stage: Stage::of_word(stage)?,
                says: says.to_owned(),
            })
        };
        Ok(text.lines().filter_map(own).collect())
    }

    /// Adds a point of the shop's own, or drops one.
    pub(crate) fn settle_own(&self, own: &[Own]) -> Result<(), Refused> {
        let lines: Vec<String> = (own.iter())
            .map(|own| {
                format!(
                    "{} {}\n",
                    own.stage.word(),
                    own.says.replace(['\n', '\r'], " ")
                )
            })
            .collect();
        Ok(self.book.settle(OWN, &lines.concat())?)
    }

    /// Enters something of the job as a whole, if nobody else has written since the page with `entries` was drawn, and
    /// gives the number of the entry.
    pub(crate) fn enter(&self, id: JobId, entries: usize, work: &Work) -> Result<usize, Refused> {
        let kept = self.book.job(id)?;
        let added = tasks::enter(kept.log.as_bytes(), work, self.day().as_deref())?;
        self.book.append(id, entries, &added)?;
        Ok(entries + 1)
    }

    /// Takes an entry back.
    pub(crate) fn take_back(&self, id: JobId, entries: usize, of: usize) -> Result<(), Refused> {
        let kept = self.book.job(id)?;
        let added = tasks::take_back(kept.log.as_bytes(), of, self.day().as_deref())?;
        Ok(self.book.append(id, entries, &added)?)
    }

    /// Empties what names a person, and every picture, for good.
    pub(crate) fn remove(&self, id: JobId, entries: usize) -> Result<(), Refused> {
        let kept = self.book.job(id)?;
        let gone = tasks::job(kept.sheet.as_bytes(), kept.log.as_bytes(), &[])?;
        let fields = gone.log.personal();
        let came = if fields.is_empty() {
            // It was touched again: what was not carried through yet is tried again.
            self.book.sweep()
        } else {
            let day = self.day();
            let removed = (self.book).remove(id, entries, &fields, day.as_deref());
            self.worked.forget(id);
            removed
        };
        Ok(self.removed(came)?)
    }

    /// A clock comes in, or a lesson is put on the bench.
    pub(crate) fn come_in(&self, clock: &str, sheet: &str, told: &Work) -> Result<JobId, Refused> {
        let log = tasks::come_in(clock, sheet, told, self.day().as_deref())?;
        let sheet = if sheet.trim().is_empty() { "" } else { sheet };
        let id = self.book.start(clock, sheet, log.text())?;
        self.book.set_current(id)?;
        Ok(id)
    }

    /// A job with its log gone over.
    pub(crate) fn job(&self, id: JobId, words: Words) -> Result<Job, Refused> {
        self.noted(id, words, self.book.job(id)?)
    }

    /// A job with its log gone over; nothing where it has no sheet yet, or one on which counts are missing.
    pub(crate) fn train(&self, id: JobId, words: Words) -> Result<Option<Job>, Refused> {
        let kept = self.book.job(id)?;
        if kept.sheet.is_empty() {
            return Ok(None);
        }
        let sheet = kept.sheet.clone();
        match self.noted(id, words, kept) {
            Err(_) if matches!(tasks::check_open(sheet.as_bytes()), Ok(Some(_))) => Ok(None),
            noted => noted.map(Some),
        }
    }

    fn noted(&self, id: JobId, words: Words, kept: book::Job) -> Result<Job, Refused> {
        let noted = self.gone_over_train(&self.of(id, &kept)?)?;
        let view = seen(kept.view.as_ref(), || noted.from);
        Ok(Job {
            words,
            id,
            name: kept.name,
            noted,
            view,
        })
    }

    /// What a job's train follows from.
    fn of(&self, id: JobId, kept: &book::Job) -> Result<Of, Refused> {
        Ok(Of {
            job: id,
            sheet: kept.sheet.clone(),
            log: kept.log.clone(),
            plate: kept.view.as_ref().and_then(|view| plate_of(&view.plate)),
            eye: self.eye(id)?,
        })
    }

    /// A job's train gone over, once for each state of it.
    fn gone_over_train(&self, of: &Of) -> Result<Arc<Noted>, Refusal> {
        if let Some(noted) = self.worked.find(of) {
            return Ok(noted);
        }
        let (sheet, log) = (of.sheet.as_bytes(), of.log.as_bytes());
        let noted = Arc::new(tasks::note(sheet, Some(log), &[], of.plate, of.eye)?);
        self.worked.keep(of.clone(), &noted);
        Ok(noted)
    }

    /// How a job is looked at.
    pub(crate) fn view(&self, id: JobId) -> Result<draw::View, Refused> {
        let kept = self.book.job(id)?;
        let kept_plate = kept.view.as_ref().and_then(|view| plate_of(&view.plate));
        let plate = match kept_plate {
            Some(plate) => plate,
            None => (tasks::check(kept.sheet.as_bytes()))
                .map_err(Refusal::from)?
                .movement
                .seen_from(),
        };
        Ok(draw::View {
            plate,
            upside_down: kept.view.is_some_and(|view| view.upside_down),
        })
    }

    /// Enters something into a job's log, if nobody else has written since the page with `entries` was drawn.
    pub(crate) fn tell(&self, id: JobId, entries: usize, asks: &[Ask]) -> Result<(), Refused> {
        let kept = self.book.job(id)?;
        let held = kept.log.lines().count().saturating_sub(1);
        if held != entries {
            return Err(Refused::Behind);
        }
        let mut of = self.of(id, &kept)?;
        let noted = self.gone_over_train(&of)?.tell(asks)?;
        if noted.log.handed_back() {
            return Err(Refused::Home);
        }
        self.book.append(id, entries, &noted.added)?;
        of.log = noted.log.text().to_owned();
        self.worked.keep(of, &Arc::new(noted));
        Ok(())
    }

    /// Puts a sheet on the bench.
    pub(crate) fn put_on(&self, sheet: &str) -> Result<JobId, Refused> {
        let log = tasks::begin(sheet.as_bytes())?;
        let id = (self.book).start(&log.header().sheet, sheet, log.text())?;
        self.book.set_current(id)?;
        Ok(id)
    }

    /// The job last worked on that has just this sheet, lessons apart.
    pub(crate) fn in_hand(&self, sheet: &str) -> Result<Option<InHand>, Refused> {
        for id in self.book.jobs_with_sheet(sheet)? {
            let kept = self.book.job(id)?;
            let gone = tasks::job(kept.sheet.as_bytes(), kept.log.as_bytes(), &[])?;
            if tasks::hidden_of(&gone.log).is_none() {
                return Ok(Some(InHand {
                    id,
                    name: kept.name,
                    home: gone.way.home,
                }));
            }
        }
        Ok(None)
    }
}

/// How a job is looked at: as was said, or else upright from its usual plate.
fn seen(said: Option<&View>, usual: impl FnOnce() -> Plate) -> draw::View {
    let plate = said.and_then(|view| plate_of(&view.plate));
    draw::View {
        plate: plate.unwrap_or_else(usual),
        upside_down: said.is_some_and(|view| view.upside_down),
    }
}

fn plate_of(word: &str) -> Option<Plate> {
    match word {
        "front" => Some(Plate::Front),
        "back" => Some(Plate::Back),
        _ => None,
    }
}
