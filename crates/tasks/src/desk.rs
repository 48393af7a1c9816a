//! The jobs of a bench book: loaded, gone over, added to. Here book and sums meet.

mod alike;
mod describing;
mod eyes;
mod placing;
mod removal;
mod worked;

use crate::{Ask, JobState, QuestionFault, Refusal, TimingState};
pub use alike::MOST_TRAINS;
use book::{Book, BookFault, JobId};
pub use describing::MOST_OFFERED;
use draw::View;
use entries::{AtMesh, Day, Stage, Work};
use eyes::Eyes;
use movement::{Movement, Plate, WitnessId};
pub use placing::{FixedPillar, JobPicture, NotPlaced, PlatePicture, PutPlace};
use quantity::Degrees;
pub use removal::{Elsewhere, Fixed, MOST_LIKE, Removal};
use serde::{Deserialize, Serialize};
use std::sync::Arc;
use timing::{Eye, Shift};
use way::{Item, Own};
use worked::{Of, Worked};

/// A book, and what is minded of its jobs while it is open.
#[derive(Debug)]
pub struct Desk {
    /// The book.
    pub book: Book,
    /// What day it is; nothing where that cannot be told.
    pub today: fn() -> Option<Day>,
    /// What jobs showed of the eye.
    eyes: Eyes,
    /// The jobs whose trains were gone over last.
    worked: Worked,
}

/// Why something is not shown of a job, or not entered.
#[derive(Debug, thiserror::Error)]
pub enum DeskFault {
    /// There is no such job.
    #[error("no such job")]
    NoJob,
    /// It is to be handed back with points open, and that was not said on purpose.
    #[error("points are open")]
    LeftOpen,
    /// The log has moved on since it was looked at.
    #[error("the log has moved on")]
    Behind,
    /// The sheet is wrong, or what was asked of it.
    #[error(transparent)]
    Wrong(Refusal),
    /// The book does not do it.
    #[error(transparent)]
    Book(BookFault),
}

impl From<BookFault> for DeskFault {
    fn from(fault: BookFault) -> DeskFault {
        match fault {
            BookFault::NoSuchJob { .. } => DeskFault::NoJob,
            BookFault::Behind { .. } => DeskFault::Behind,
            other => DeskFault::Book(other),
        }
    }
}

impl From<Refusal> for DeskFault {
    fn from(refusal: Refusal) -> DeskFault {
        DeskFault::Wrong(refusal)
    }
}

/// A job whose train is timed, its log gone over.
#[derive(Debug)]
pub struct TimedJob {
    /// Which.
    pub id: JobId,
    /// Its name.
    pub name: String,
    /// What its log comes to.
    pub timing: Arc<TimingState>,
    /// How it is looked at.
    pub view: View,
    /// Whether it may still be read as it stood while it struck right.
    pub stands_as_it_came: bool,
}

impl TimedJob {
    /// What is on its sheet.
    pub fn movement(&self) -> &Movement {
        &self.timing.sheet.movement
    }

    /// Entries in the log, as must be known to add one.
    pub fn entries(&self) -> usize {
        self.timing.log.entries().len()
    }

    /// Whether the clock went home, and did not come in again since.
    pub fn home(&self) -> bool {
        self.timing.log.handed_back()
    }

    /// The shifts that are advised now.
    pub fn advised(&self) -> &[Shift] {
        self.timing.advised()
    }

    /// What was seen last, if nothing was moved since; then where it most likely stands.
    pub fn stands(&self, witness: WitnessId) -> Option<Degrees> {
        self.seen(witness).or_else(|| self.expected(witness))
    }

    /// What was seen last, if nothing was moved since.
    pub fn seen(&self, witness: WitnessId) -> Option<Degrees> {
        (self.timing.recalled.last_look.iter())
            .find(|reading| reading.witness == witness)
            .map(|reading| reading.stands.clone())
    }

    /// After a shift: where it should stand now.
    pub fn expected(&self, witness: WitnessId) -> Option<Degrees> {
        if !self.timing.shifted() || !self.timing.recalled.last_look.is_empty() {
            return None;
        }
        self.timing
            .likeliest()
            .into_iter()
            .find(|(id, _)| *id == witness)
            .map(|(_, place)| place)
    }
}

/// A job as a whole, gone over.
#[derive(Debug)]
pub struct WholeJob {
    /// Which.
    pub id: JobId,
    /// Its name.
    pub name: String,
    /// Its sheet; empty where there is none.
    pub sheet: String,
    /// The sheet that it began with; empty where there was none.
    pub first_sheet: String,
    /// What its log comes to.
    pub state: JobState,
    /// The day it is told of.
    pub day: Day,
    /// The evening on which it is looked at; nothing where it is looked at as it stands now.
    pub by: Option<Day>,
    view: Option<book::JobView>,
}

impl WholeJob {
    /// Entries in the log, as must be known to add one.
    pub fn entries(&self) -> usize {
        self.state.log.entries().len()
    }

    /// How it is looked at.
    pub fn view(&self) -> View {
        seen(self.view.as_ref(), || {
            (self.state.outline()).map_or(Plate::Front, Movement::seen_from)
        })
    }

    /// The hidden shifts, where it is a lesson.
    pub fn lesson(&self) -> Option<&[AtMesh]> {
        crate::hidden_of(&self.state.log)
    }
}

/// A job that has a sheet which was to be taken in.
#[derive(Debug)]
pub struct InHand {
    /// Which.
    pub id: JobId,
    /// Its name.
    pub name: String,
    /// Whether the clock went home.
    pub home: bool,
}

/// Under this name the shop's own points are settled.
const OWN: &str = "own points";

/// A point of the shop's own, as it is settled.
#[derive(Serialize, Deserialize)]
struct SettledPoint {
    stage: Stage,
    says: String,
}

/// The points that are settled by a text; in older books a line each, the stage's word, a space and what it says.
fn settled(text: &str) -> Vec<SettledPoint> {
    let line = |line: &str| {
        let (stage, says) = line.split_once(' ')?;
        Some(SettledPoint {
            stage: Stage::of_word(stage)?,
            says: says.to_owned(),
        })
    };
    serde_json::from_str(text).unwrap_or_else(|_| text.lines().filter_map(line).collect())
}

impl Desk {
    /// A book, opened.
    pub fn of(book: Book, today: fn() -> Option<Day>) -> Desk {
        Desk {
            book,
            today,
            eyes: Eyes::default(),
            worked: Worked::default(),
        }
    }

    /// The day, as an entry has it.
    fn day(&self) -> Option<String> {
        (self.today)().map(|day| day.to_string())
    }

    /// A job as a whole; as it stood at the end of a day, where one is given.
    ///
    /// # Errors
    /// There is no such job, or its log cannot be read.
    pub fn whole(&self, id: JobId, by: Option<Day>) -> Result<WholeJob, DeskFault> {
        self.gone_over(id, by, |_, sheet, log, own| {
            crate::job(sheet.as_bytes(), log.as_bytes(), own)
        })
    }

    /// The same, knowing too whether its train is in time.
    ///
    /// # Errors
    /// As [`Desk::whole`].
    pub fn on_its_way(&self, id: JobId, by: Option<Day>) -> Result<WholeJob, DeskFault> {
        let eye = self.eye(id)?;
        self.gone_over(id, by, |plate, sheet, log, own| {
            if by.is_some() {
                return crate::job_timed(sheet.as_bytes(), log.as_bytes(), own, eye);
            }
            let of = Of {
                job: id,
                sheet: sheet.to_owned(),
                log: log.to_owned(),
                plate,
                eye,
            };
            match self.gone_over_train(&of) {
                Ok(noted) => Ok(JobState::of(&noted, sheet, own)),
                Err(_) => crate::job(sheet.as_bytes(), log.as_bytes(), own),
            }
        })
    }

    /// What a list says of a job: what comes next. Whether its train is in time takes longer to say, and is worked out only where it
    /// is the question.
    ///
    /// # Errors
    /// As [`Desk::whole`].
    pub fn on_the_list(&self, id: JobId, own: &[Own]) -> Result<JobState, DeskFault> {
        let kept = self.book.job(id)?;
        let (sheet, log) = (kept.sheet.as_bytes(), kept.log.as_bytes());
        let gone = crate::job(sheet, log, own)?;
        Ok(match gone.way.next() {
            Some(Item::Timed) => crate::job_timed(sheet, log, own, self.eye(id)?)?,
            _ => gone,
        })
    }

    /// How rough the readings of a job are before any of its own are known, as the jobs before it show.
    ///
    /// # Errors
    /// The book's.
    pub fn eye(&self, id: JobId) -> Result<Eye, DeskFault> {
        Ok(self.eyes.before(&self.book, id)?)
    }

    fn gone_over(
        &self,
        id: JobId,
        by: Option<Day>,
        job: impl FnOnce(Option<Plate>, &str, &str, &[Own]) -> Result<JobState, Refusal>,
    ) -> Result<WholeJob, DeskFault> {
        let kept = self.book.job(id)?;
        let own = self.own()?;
        let plate = kept.view.as_ref().and_then(|view| plate_of(&view.plate));
        let (mut sheet, mut log) = (kept.sheet, kept.log);
        if let Some(day) = by {
            (sheet, log) = crate::as_it_stood(&kept.first_sheet, &log, day)?;
        }
        Ok(WholeJob {
            id,
            name: kept.name,
            state: job(plate, &sheet, &log, &own)?,
            sheet,
            first_sheet: kept.first_sheet,
            day: by.or_else(self.today).unwrap_or(Day::FIRST),
            by,
            view: kept.view,
        })
    }

    /// The points that the shop adds to every job.
    ///
    /// # Errors
    /// The book's.
    pub fn own(&self) -> Result<Vec<Own>, DeskFault> {
        let text = self.book.setting(OWN)?.unwrap_or_default();
        let own = |SettledPoint { stage, says }| Own { stage, says };
        Ok(settled(&text).into_iter().map(own).collect())
    }

    /// Settles the points of the shop's own.
    ///
    /// # Errors
    /// The book's.
    pub fn settle_own(&self, own: &[Own]) -> Result<(), DeskFault> {
        let points: Vec<_> = (own.iter())
            .map(|own| SettledPoint {
                stage: own.stage,
                says: own.says.replace(['\n', '\r'], " "),
            })
            .collect();
        // Words and lists of words are always JSON.
        let text = serde_json::to_string(&points).unwrap_or_default();
        Ok(self.book.settle(OWN, &text)?)
    }

    /// Enters something of the job as a whole, if nobody else has written since it was looked at with so many entries, and gives
    /// the number of the entry.
    ///
    /// # Errors
    /// Somebody has; or what is wrong with what is to be entered.
    pub fn enter(&self, id: JobId, entries: usize, work: &Work) -> Result<usize, DeskFault> {
        match work {
            Work::HandedBack { .. } => self.hand_back(id, entries, work, false),
            _ => self.add(id, entries, work),
        }
    }

    /// The same of a clock that goes home: once, and with points open only where that is said on purpose.
    ///
    /// # Errors
    /// As [`Desk::enter`]; it went home, or points are open.
    pub fn hand_back(
        &self,
        id: JobId,
        entries: usize,
        work: &Work,
        on_purpose: bool,
    ) -> Result<usize, DeskFault> {
        let way = self.on_its_way(id, None)?.state.way;
        if way.home {
            return Err(Refusal::Question(QuestionFault::Home).into());
        }
        if !on_purpose && !way.open().is_empty() {
            return Err(DeskFault::LeftOpen);
        }
        self.add(id, entries, work)
    }

    fn add(&self, id: JobId, entries: usize, work: &Work) -> Result<usize, DeskFault> {
        let kept = self.book.job(id)?;
        let added = crate::enter(kept.log.as_bytes(), work, self.day().as_deref())?;
        self.book.append(id, entries, &added)?;
        Ok(entries + 1)
    }

    /// Takes an entry back.
    ///
    /// # Errors
    /// As [`Desk::enter`].
    pub fn take_back(&self, id: JobId, entries: usize, of: usize) -> Result<(), DeskFault> {
        let kept = self.book.job(id)?;
        let added = crate::take_back(kept.log.as_bytes(), of, self.day().as_deref())?;
        Ok(self.book.append(id, entries, &added)?)
    }

    /// A clock comes in, or a lesson is put on the bench.
    ///
    /// # Errors
    /// The sheet's faults, or the book's.
    pub fn come_in(&self, clock: &str, sheet: &str, told: &Work) -> Result<JobId, DeskFault> {
        let log = crate::come_in(clock, sheet, told, self.day().as_deref())?;
        let sheet = if sheet.trim().is_empty() { "" } else { sheet };
        let id = self.book.start(clock, sheet, log.text())?;
        self.book.set_current(id)?;
        Ok(id)
    }

    /// Puts a sheet on the bench.
    ///
    /// # Errors
    /// The sheet's faults, or the book's.
    pub fn put_on(&self, sheet: &str) -> Result<JobId, DeskFault> {
        let log = crate::begin(sheet.as_bytes())?;
        let id = (self.book).start(&log.header().sheet, sheet, log.text())?;
        self.book.set_current(id)?;
        Ok(id)
    }

    /// The job last worked on that has just this sheet, lessons apart.
    ///
    /// # Errors
    /// The book's.
    pub fn in_hand(&self, sheet: &str) -> Result<Option<InHand>, DeskFault> {
        for id in self.book.jobs_with_sheet(sheet)? {
            let kept = self.book.job(id)?;
            let gone = crate::job(kept.sheet.as_bytes(), kept.log.as_bytes(), &[])?;
            if crate::hidden_of(&gone.log).is_none() {
                return Ok(Some(InHand {
                    id,
                    name: kept.name,
                    home: gone.way.home,
                }));
            }
        }
        Ok(None)
    }

    /// A job whose train is timed, its log gone over.
    ///
    /// # Errors
    /// There is no such job, or its train cannot be timed.
    pub fn timed(&self, id: JobId) -> Result<TimedJob, DeskFault> {
        self.timed_job(id, self.book.job(id)?)
    }

    /// The same; nothing where it has no sheet yet, or one on which counts are missing.
    ///
    /// # Errors
    /// As [`Desk::timed`].
    pub fn train(&self, id: JobId) -> Result<Option<TimedJob>, DeskFault> {
        let kept = self.book.job(id)?;
        if kept.sheet.is_empty() {
            return Ok(None);
        }
        let sheet = kept.sheet.clone();
        match self.timed_job(id, kept) {
            Err(_) if matches!(crate::check_open(sheet.as_bytes()), Ok(Some(_))) => Ok(None),
            noted => noted.map(Some),
        }
    }

    fn timed_job(&self, id: JobId, kept: book::Job) -> Result<TimedJob, DeskFault> {
        let noted = self.gone_over_train(&self.follows_from(id, &kept)?)?;
        let view = seen(kept.view.as_ref(), || noted.from);
        let as_it_came = crate::job::ToldOfClock::of(kept.sheet.as_bytes()).as_it_came;
        Ok(TimedJob {
            stands_as_it_came: way::stands_as_it_came(&noted.log, as_it_came),
            id,
            name: kept.name,
            timing: noted,
            view,
        })
    }

    /// What a job's train follows from.
    fn follows_from(&self, id: JobId, kept: &book::Job) -> Result<Of, DeskFault> {
        Ok(Of {
            job: id,
            sheet: kept.sheet.clone(),
            log: kept.log.clone(),
            plate: kept.view.as_ref().and_then(|view| plate_of(&view.plate)),
            eye: self.eye(id)?,
        })
    }

    /// A job's train gone over, once for each state of it.
    fn gone_over_train(&self, of: &Of) -> Result<Arc<TimingState>, Refusal> {
        if let Some(noted) = self.worked.find(of) {
            return Ok(noted);
        }
        let (sheet, log) = (self.worked.sheet(&of.sheet)?, of.log.as_bytes());
        let noted = Arc::new(crate::note_of(sheet, Some(log), &[], of.plate, of.eye)?);
        self.worked.keep(of.clone(), &noted);
        Ok(noted)
    }

    /// How a job is looked at.
    ///
    /// # Errors
    /// There is no such job, or nobody said and its sheet is wrong.
    pub fn view(&self, id: JobId) -> Result<View, DeskFault> {
        let kept = self.book.job(id)?;
        let kept_plate = kept.view.as_ref().and_then(|view| plate_of(&view.plate));
        let plate = match kept_plate {
            Some(plate) => plate,
            None => {
                let read = crate::check_counts_apart(kept.sheet.as_bytes());
                let (open, _) = read.map_err(Refusal::from)?;
                open.movement().seen_from()
            }
        };
        Ok(View {
            plate,
            upside_down: kept.view.is_some_and(|view| view.upside_down),
        })
    }

    /// Enters what was seen or done at the train, if nobody else has written since it was looked at with so many entries.
    ///
    /// # Errors
    /// Somebody has; or what is wrong with what is to be entered.
    pub fn tell(&self, id: JobId, entries: usize, asks: &[Ask]) -> Result<(), DeskFault> {
        let kept = self.book.job(id)?;
        let held = kept.log.lines().count().saturating_sub(1);
        if held != entries {
            return Err(DeskFault::Behind);
        }
        let mut of = self.follows_from(id, &kept)?;
        let noted = self.gone_over_train(&of)?.tell(asks)?;
        self.book.append(id, entries, &noted.added)?;
        of.log = noted.log.text().to_owned();
        self.worked.keep(of, &Arc::new(noted));
        Ok(())
    }
}

/// How a job is looked at: as was said, or else upright from its usual plate.
fn seen(said: Option<&book::JobView>, usual: impl FnOnce() -> Plate) -> View {
    let plate = said.and_then(|view| plate_of(&view.plate));
    View {
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

#[cfg(test)]
mod tests {
    use super::settled;
    use entries::Stage;

    #[test]
    fn points_of_the_shop_s_own_are_read_as_they_were_and_as_they_are_settled() {
        for text in [
            "in ring the owner\nprove a night on the wall\nnowhere no point\n",
            r#"[{"stage":"in","says":"ring the owner"},{"stage":"prove","says":"a night on the wall"}]"#,
        ] {
            let points: Vec<_> = (settled(text).into_iter())
                .map(|point| (point.stage, point.says))
                .collect();
            assert_eq!(
                points,
                [
                    (Stage::In, "ring the owner".to_owned()),
                    (Stage::Prove, "a night on the wall".to_owned())
                ]
            );
        }
        assert!(settled("").is_empty());
    }
}
