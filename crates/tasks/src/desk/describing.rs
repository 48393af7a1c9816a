//! The movement of a job described by touches: each alters the text of its sheet, and is an entry.

use super::{Desk, DeskFault};
use crate::Refusal;
use book::JobId;
use entries::{EntryContent, EntryKind, Work};
use kinds::{DescribeFault, Described, PlaceId};

/// So many clocks are offered to start from: more would hide the kinds of strike.
pub const MOST_OFFERED: usize = 6;

impl Desk {
    /// What a job's sheet says, to be altered; nothing where it has none yet.
    ///
    /// # Errors
    /// There is no such job, or its sheet cannot be taken apart.
    pub fn described(&self, id: JobId) -> Result<Option<Described>, DeskFault> {
        described(&self.book.job(id)?.sheet)
    }

    /// Begins the movement of a job anew, by a kind of strike.
    ///
    /// # Errors
    /// There is no such job or kind, or somebody else has written since it was looked at with so many entries.
    pub fn describe(&self, id: JobId, entries: usize, kind: &str) -> Result<usize, DeskFault> {
        let kept = self.book.job(id)?;
        let begun = Described::begin(kind, &kept.name, &[]).map_err(Refusal::from)?;
        self.enter_sheet(id, entries, &begun)
    }

    /// Begins the movement of a job anew, as a train that fits no kind: two arbors, a part of one driving a part of the other.
    ///
    /// # Errors
    /// There is no such job, or somebody else has written since.
    pub fn describe_bare(
        &self,
        id: JobId,
        entries: usize,
        first: &PlaceId,
        next: &PlaceId,
    ) -> Result<usize, DeskFault> {
        let kept = self.book.job(id)?;
        let mut begun = Described::bare(&kept.name, first).map_err(Refusal::from)?;
        let joined = (begun.add_arbor(&next.arbor))
            .and_then(|()| begun.add_part(next))
            .and_then(|()| begun.add_mesh(first, next));
        joined.map_err(Refusal::from)?;
        self.enter_sheet(id, entries, &begun)
    }

    /// Begins the movement of a job anew, from that of a like one.
    ///
    /// # Errors
    /// There is no such job, or the like one has no sheet that can be taken apart; or somebody else has written since.
    pub fn describe_like(
        &self,
        id: JobId,
        entries: usize,
        like: JobId,
    ) -> Result<usize, DeskFault> {
        let (kept, like) = (self.book.job(id)?, self.book.job(like)?);
        let begun = crate::begin_like(&like.sheet, &like.name, &kept.name)?;
        self.enter_sheet(id, entries, &begun)
    }

    /// The clocks that came before this one and whose movements it may be begun from, the newest first, [`MOST_OFFERED`] of them at most: with
    /// what they are called.
    ///
    /// # Errors
    /// There is no such job.
    pub fn like_ones(&self, id: JobId) -> Result<Vec<(JobId, String)>, DeskFault> {
        let mut found = Vec::new();
        for (other, _) in self.book.begun_before(id, crate::MOST_TRAINS)? {
            if found.len() == MOST_OFFERED {
                break;
            }
            let kept = self.book.job(other)?;
            if Described::read(&kept.sheet).is_ok_and(|like| !like.counts().is_empty()) {
                found.push((other, kept.name));
            }
        }
        Ok(found)
    }

    /// Alters the movement of a job.
    ///
    /// # Errors
    /// The touch is refused, or the sheet that it would make; or somebody else has written since.
    pub fn touch(
        &self,
        id: JobId,
        entries: usize,
        alter: impl FnOnce(&mut Described) -> Result<(), DescribeFault>,
    ) -> Result<usize, DeskFault> {
        let kept = self.book.job(id)?;
        if kept.log.lines().count().saturating_sub(1) != entries {
            return Err(DeskFault::Behind);
        }
        let mut described = described(&kept.sheet)?.ok_or(DeskFault::NoJob)?;
        let before = described.text();
        alter(&mut described).map_err(Refusal::from)?;
        if described.text() == before {
            return Ok(entries);
        }
        self.enter_sheet(id, entries, &described)
    }

    fn enter_sheet(
        &self,
        id: JobId,
        entries: usize,
        described: &Described,
    ) -> Result<usize, DeskFault> {
        let work = crate::new_sheet(&described.text())?;
        self.enter(id, entries, &work)
    }

    /// Takes the last touch of a job's movement back, and says whether there was one.
    ///
    /// # Errors
    /// There is no such job, or somebody else has written since.
    pub fn untouch(&self, id: JobId, entries: usize) -> Result<bool, DeskFault> {
        let whole = self.whole(id, None)?;
        let last = whole.state.log.standing().last();
        let sheet = last.filter(|entry| {
            matches!(
                entry.told,
                EntryContent::Known(EntryKind::Work(Work::Sheet { .. }))
            )
        });
        match sheet {
            Some(entry) => self.take_back(id, entries, entry.n).map(|()| true),
            None => Ok(false),
        }
    }
}

/// What a sheet says, to be altered; nothing where there is none yet.
fn described(sheet: &str) -> Result<Option<Described>, DeskFault> {
    if sheet.trim().is_empty() {
        return Ok(None);
    }
    Ok(Some(Described::read(sheet).map_err(Refusal::from)?))
}
