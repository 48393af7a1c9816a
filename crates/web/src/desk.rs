//! A job as it comes from the book: its log gone over, and how it is looked at.

use crate::trouble::told;
use axum::http::StatusCode;
use book::{Book, BookFault, JobId};
use movement::{Movement, Plate, WitnessId};
use quantity::Degrees;
use report::en::labels::LABELS;
use tasks::{Ask, Noted, Refusal};
use timing::{Act, Shift};

/// The book, and all that may be asked of it.
#[derive(Debug)]
pub(crate) struct Desk {
    pub(crate) book: Book,
}

/// Why a question was not answered.
#[derive(Debug)]
pub(crate) enum Refused {
    /// Nothing is there.
    Nothing,
    /// What was asked is wrong, in words.
    Wrong(String),
    /// The log has moved on since the page was drawn.
    Behind,
    /// Something outside failed, in words.
    Outside(String),
}

impl Refused {
    pub(crate) fn status(&self) -> StatusCode {
        match self {
            Refused::Nothing => StatusCode::NOT_FOUND,
            Refused::Wrong(_) => StatusCode::UNPROCESSABLE_ENTITY,
            Refused::Behind => StatusCode::CONFLICT,
            Refused::Outside(_) => StatusCode::INTERNAL_SERVER_ERROR,
        }
    }

    pub(crate) fn words(&self) -> &str {
        match self {
            Refused::Nothing => LABELS.nothing_here,
            Refused::Behind => LABELS.behind,
            Refused::Wrong(words) | Refused::Outside(words) => words,
        }
    }
}

impl From<BookFault> for Refused {
    fn from(fault: BookFault) -> Refused {
        match fault {
            BookFault::NoSuchJob { .. } => Refused::Nothing,
            BookFault::Behind { .. } => Refused::Behind,
            other => Refused::Outside(told(&other)),
        }
    }
}

impl From<Refusal> for Refused {
    fn from(refusal: Refusal) -> Refused {
        Refused::Wrong(match refusal {
            Refusal::Question(words) => words,
            Refusal::Sheet(faults) => {
                let told: Vec<String> = (faults.told.iter())
                    .map(|fault| {
                        let told = report::en::fault(fault);
                        let hint = told
                            .hint
                            .map_or_else(String::new, |hint| format!(" — {hint}"));
                        format!(
                            "{}:{}: {}{hint}",
                            fault.spot.line, fault.spot.column, told.line
                        )
                    })
                    .collect();
                told.join("\n")
            }
        })
    }
}

/// A job, gone over.
#[derive(Debug)]
pub(crate) struct Job {
    pub(crate) id: JobId,
    pub(crate) name: String,
    pub(crate) noted: Noted,
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

    /// The shifts that are advised now.
    pub(crate) fn advised(&self) -> &[Shift] {
        match &self.noted.advice.act {
            Act::Shift(shifts) => shifts,
            Act::Done | Act::Look(_) | Act::NoMesh => &[],
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

impl Desk {
    /// A job with its log gone over.
    pub(crate) fn job(&self, id: JobId) -> Result<Job, Refused> {
        let kept = self.book.job(id)?;
        let plate = kept.view.as_ref().map(|view| plate_of(&view.plate));
        let noted = tasks::note(
            kept.sheet.as_bytes(),
            Some(kept.log.as_bytes()),
            &[],
            plate.flatten(),
        )?;
        let view = draw::View {
            plate: noted.from,
            upside_down: kept.view.is_some_and(|view| view.upside_down),
        };
        Ok(Job {
            id,
            name: kept.name,
            noted,
            view,
        })
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
        let plate = kept.view.as_ref().and_then(|view| plate_of(&view.plate));
        let held = kept.log.lines().count().saturating_sub(1);
        if held != entries {
            return Err(Refused::Behind);
        }
        let noted = tasks::note(
            kept.sheet.as_bytes(),
            Some(kept.log.as_bytes()),
            asks,
            plate,
        )?;
        self.book.append(id, entries, &noted.added)?;
        Ok(())
    }

    /// Puts a sheet on the bench, or takes up the job that was begun with just this sheet.
    pub(crate) fn put_on(&self, sheet: &str) -> Result<JobId, Refused> {
        if let Some(id) = self.book.job_with_sheet(sheet)? {
            self.book.set_current(id)?;
            return Ok(id);
        }
        let begun = tasks::note(sheet.as_bytes(), None, &[], None)?;
        let id = self
            .book
            .start(begun.sheet.movement.name(), sheet, begun.log.text())?;
        self.book.set_current(id)?;
        Ok(id)
    }
}

fn plate_of(word: &str) -> Option<Plate> {
    match word {
        "front" => Some(Plate::Front),
        "back" => Some(Plate::Back),
        _ => None,
    }
}
