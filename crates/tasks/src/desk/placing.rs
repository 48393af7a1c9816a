//! Where the arbors of a job lie: each letting-go is an entry; what was touched on its photographs is settled, by the numbers of the
//! entries that show them.

use super::{Desk, DeskFault};
use crate::{Lying, NewStanding, Photograph, PlaceFault, Placeable, PlacingFault, Refusal, lying};
use book::{BookFault, JobId};
use draw::OnPlate;
use entries::{Digest, Log, Work};
use kinds::Described;
use movement::{Fixing, Plate};
use quantity::Exact;

/// Under this name, behind it the job, is settled what was touched on its photographs.
const TOUCHED: &str = "photographs of ";

/// Why a place of a job is not entered.
#[derive(Debug, thiserror::Error)]
pub enum NotPlaced {
    /// The place is wrong.
    #[error(transparent)]
    Place(#[from] PlaceFault),
    /// The job, or the book.
    #[error(transparent)]
    Desk(#[from] DeskFault),
}

impl From<PlacingFault> for NotPlaced {
    fn from(fault: PlacingFault) -> NotPlaced {
        match fault {
            PlacingFault::Place(fault) => NotPlaced::Place(fault),
            PlacingFault::Sheet(fault) => NotPlaced::Desk(Refusal::from(fault).into()),
        }
    }
}

impl From<BookFault> for NotPlaced {
    fn from(fault: BookFault) -> NotPlaced {
        NotPlaced::Desk(fault.into())
    }
}

/// Something that is put where it is said to be.
#[derive(Debug, Clone, PartialEq)]
pub struct PutPlace {
    /// What.
    pub what: Placeable,
    /// Where.
    pub at: OnPlate,
    /// Whether nobody measured it.
    pub by_eye: bool,
}

/// A pillar, and what fixes the plate on it.
#[derive(Debug, Clone, PartialEq)]
pub struct FixedPillar {
    /// Which.
    pub what: Placeable,
    /// By what.
    pub fixing: Fixing,
    /// What a turn of its nut or screw gives, in millimetres.
    pub pitch: Option<Exact>,
}

/// A picture, and of which plate it was taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PlatePicture {
    /// The number of the entry that shows it.
    pub entry: usize,
    /// The plate.
    pub plate: Plate,
}

/// A picture of a job that counts: the number of its entry, what it is called by, its height as a part of its width.
#[derive(Debug, Clone, PartialEq)]
pub struct JobPicture {
    /// The number of the entry that shows it.
    pub entry: usize,
    /// What it is called by.
    pub digest: Digest,
    /// Its height, as a part of its width.
    pub high: f64,
}

impl Desk {
    /// A job's movement as it lies; nothing where it has no sheet yet.
    ///
    /// # Errors
    /// There is no such job, or its sheet is wrong.
    pub fn lying(&self, id: JobId) -> Result<Option<Lying>, DeskFault> {
        let Some(described) = self.described(id)? else {
            return Ok(None);
        };
        let log = crate::job::log_of(self.book.job(id)?.log.as_bytes())?;
        Ok(Some(lying(&described, &log).map_err(Refusal::from)?))
    }

    /// Alters where things lie, as one entry.
    fn lay(
        &self,
        id: JobId,
        entries: usize,
        alter: impl FnOnce(&Lying, &mut Described) -> Result<(), PlacingFault>,
    ) -> Result<usize, NotPlaced> {
        self.not_behind(id, entries)?;
        let lying = self.lying(id)?.ok_or(DeskFault::NoJob)?;
        let mut described = self.described(id)?.ok_or(DeskFault::NoJob)?;
        let before = described.text();
        alter(&lying, &mut described)?;
        if described.text() == before {
            return Ok(entries);
        }
        let work = crate::new_sheet(&described.text()).map_err(DeskFault::from)?;
        Ok(self.enter(id, entries, &work)?)
    }

    fn not_behind(&self, id: JobId, entries: usize) -> Result<(), DeskFault> {
        let held = self.book.job(id)?.log.lines().count().saturating_sub(1);
        match held == entries {
            true => Ok(()),
            false => Err(DeskFault::Behind),
        }
    }

    /// Puts something of a job's movement where it is said to be.
    ///
    /// # Errors
    /// It cannot be there, or somebody else has written since.
    pub fn put_place(&self, id: JobId, entries: usize, put: &PutPlace) -> Result<usize, NotPlaced> {
        self.lay(id, entries, |lying, described| {
            lying.put(described, &put.what, put.at, put.by_eye)
        })
    }

    /// Brings places that are only about right to the distances that were measured between them.
    ///
    /// # Errors
    /// As [`Desk::put_place`].
    pub fn size_places(&self, id: JobId, entries: usize) -> Result<usize, NotPlaced> {
        self.lay(id, entries, |lying, described| lying.size(described))
    }

    /// Says what fixes the plate on a pillar, and what a turn of its nut or screw gives.
    ///
    /// # Errors
    /// As [`Desk::put_place`].
    pub fn fix_pillar(
        &self,
        id: JobId,
        entries: usize,
        pillar: &FixedPillar,
    ) -> Result<usize, NotPlaced> {
        let FixedPillar {
            what,
            fixing,
            pitch,
        } = pillar;
        self.lay(id, entries, |lying, described| {
            lying.fix(described, what, *fixing, pitch.as_ref())
        })
    }

    /// Puts something further on the plates.
    ///
    /// # Errors
    /// As [`Desk::put_place`].
    pub fn stand(
        &self,
        id: JobId,
        entries: usize,
        new: &NewStanding,
        at: OnPlate,
    ) -> Result<usize, NotPlaced> {
        self.lay(id, entries, |lying, described| {
            lying.stand(described, new, at).map(drop)
        })
    }

    /// Takes a place away, or what stands on the plates altogether.
    ///
    /// # Errors
    /// As [`Desk::put_place`].
    pub fn take_off(
        &self,
        id: JobId,
        entries: usize,
        what: &Placeable,
    ) -> Result<usize, NotPlaced> {
        self.lay(id, entries, |lying, described| lying.away(described, what))
    }

    /// Puts the places on the sheet that follow from a photograph: of all that was touched on it, where it is taken anew.
    ///
    /// # Errors
    /// Too little was touched, or somebody else has written since.
    pub fn take_places(
        &self,
        id: JobId,
        entries: usize,
        picture: usize,
        anew: bool,
    ) -> Result<usize, NotPlaced> {
        let all = self.photographs(id)?;
        let photograph = all.iter().find(|own| own.entry == picture);
        let photograph = photograph.ok_or(PlaceFault::NoPicture)?;
        self.lay(id, entries, |lying, described| {
            photograph.taken(lying, described, anew)
        })
    }

    /// The pictures of a job that count, in the order in which they came in.
    ///
    /// # Errors
    /// The book's.
    pub fn job_pictures(&self, log: &Log) -> Result<Vec<JobPicture>, DeskFault> {
        let mut found = Vec::new();
        for entry in log.standing() {
            let Some(Work::Picture { picture, .. }) = entry.work() else {
                continue;
            };
            let Some(digest) = picture.here() else {
                continue;
            };
            match self.book.picture(digest) {
                Ok(kept) if kept.width > 0 => found.push(JobPicture {
                    entry: entry.n,
                    digest: digest.clone(),
                    high: f64::from(kept.height) / f64::from(kept.width),
                }),
                Ok(_) | Err(BookFault::NoSuchPicture { .. }) => {}
                Err(fault) => return Err(fault.into()),
            }
        }
        Ok(found)
    }

    /// What was touched on the photographs of a job, the one that was chosen last at the end.
    ///
    /// # Errors
    /// The book's.
    pub fn photographs(&self, id: JobId) -> Result<Vec<Photograph>, DeskFault> {
        let text = self.book.setting(&format!("{TOUCHED}{id}"))?;
        // What no program of this kind wrote is as if nothing stood there.
        Ok(text
            .and_then(|text| serde_json::from_str(&text).ok())
            .unwrap_or_default())
    }

    /// Minds what was touched on a photograph, which is the last chosen of its plate from then on.
    ///
    /// # Errors
    /// What is touched is wrong; the job has no such picture; or somebody else has written since.
    pub fn photograph(
        &self,
        id: JobId,
        entries: usize,
        of: PlatePicture,
        touch: impl FnOnce(&mut Photograph) -> Result<(), PlaceFault>,
    ) -> Result<(), NotPlaced> {
        self.not_behind(id, entries)?;
        let log = crate::job::log_of(self.book.job(id)?.log.as_bytes()).map_err(DeskFault::from)?;
        let pictures = self.job_pictures(&log)?;
        let shows = pictures.iter().find(|own| own.entry == of.entry);
        let shows = shows.ok_or(PlaceFault::NoPicture)?;
        let mut all = self.photographs(id)?;
        let known = all.iter().position(|own| own.entry == of.entry);
        let mut photograph = match known {
            Some(n) => all.remove(n),
            None => Photograph::new(of.entry, of.plate, shows.high),
        };
        photograph.high = shows.high;
        photograph.front = of.plate == Plate::Front;
        touch(&mut photograph)?;
        all.push(photograph);
        // Plain data is always JSON.
        let text = serde_json::to_string(&all).unwrap_or_default();
        Ok(self.book.settle(&format!("{TOUCHED}{id}"), &text)?)
    }

    /// The photograph that lies under the drawing of a plate, with its picture: the last that was chosen of it.
    ///
    /// # Errors
    /// The book's.
    pub fn underneath(
        &self,
        id: JobId,
        log: &Log,
        plate: Plate,
    ) -> Result<Option<(Photograph, JobPicture)>, DeskFault> {
        let mut all = self.photographs(id)?;
        all.retain(|own| own.plate() == plate);
        if all.is_empty() {
            return Ok(None);
        }
        let pictures = self.job_pictures(log)?;
        Ok(all.into_iter().rev().find_map(|photograph| {
            let shows = pictures.iter().find(|own| own.entry == photograph.entry)?;
            Some((photograph, shows.clone()))
        }))
    }
}
