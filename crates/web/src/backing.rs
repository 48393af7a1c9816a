//! The backup of each day and what goes with it, and what of a removal is left: made or tried again in time, and told until then.

use crate::desk::{Desk, Refused, Whole};
use crate::trouble::trouble_text;
use book::BookFault;
use entries::{Day, Work};
use report::en::book::no_backup;
use report::{Locale, say};
use std::sync::PoisonError;
use std::time::Duration;

/// Makes the backup of each day, as soon as it has come.
pub(crate) fn each_day(desk: &Desk, today: fn() -> Option<Day>) {
    const LOOKS: Duration = Duration::from_secs(10 * 60);
    let mut done = None;
    loop {
        let day = today();
        if let Some(day) = day.filter(|day| done != Some(*day)) {
            let resists = desk.book.daily_backup(day).err();
            match &resists {
                None => tracing::info!("the day's backup is made"),
                Some(fault) => {
                    tracing::warn!("the day's backup, or what goes with it, was not all made");
                    // What is left is tried again; whoever reads the terminal or the list of jobs may help.
                    eprintln!("trundle: {}", not_made(&Locale::default(), fault));
                }
            }
            if matches!(
                resists,
                None | Some(BookFault::OtherLines { .. } | BookFault::Altered { .. })
            ) {
                done = Some(day);
            }
            desk.resists(resists);
        }
        std::thread::sleep(LOOKS);
    }
}

/// Why a day's backup, or what goes with it, was not all made.
fn not_made(locale: &Locale, fault: &BookFault) -> String {
    match fault {
        // The backup itself was made.
        fault if is_left(fault) || matches!(fault, BookFault::Altered { .. }) => {
            trouble_text(locale, fault)
        }
        fault => no_backup(&trouble_text(locale, fault)),
    }
}

/// Whether this is what is left of a removal that is one.
fn is_left(fault: &BookFault) -> bool {
    matches!(fault, BookFault::NotSwept(_) | BookFault::OtherLines { .. })
}

/// What is left of a removal from a job.
pub(crate) struct Left {
    /// What resists, in words.
    pub(crate) resists: Option<String>,
    /// Whether it may be tried again.
    pub(crate) pending: bool,
    /// How many entries may still hold something of what was removed.
    pub(crate) standing: usize,
}

impl Desk {
    fn resists(&self, fault: Option<BookFault>) {
        *self.not_made.lock().unwrap_or_else(PoisonError::into_inner) = fault;
    }

    fn resisting(&self) -> Option<BookFault> {
        let fault = self.not_made.lock().unwrap_or_else(PoisonError::into_inner);
        fault.clone()
    }

    /// Why the day's backup, or what goes with it, was not all made; nothing where it was.
    pub(crate) fn not_backed_up(&self, locale: &Locale) -> Option<String> {
        let fault = self.resisting()?;
        Some(not_made(locale, &fault))
    }

    /// Minds what came of a removal. What is left of one that is entered is told where the job is looked at, and over the list of
    /// jobs; it refuses nothing.
    ///
    /// # Errors
    /// Nothing was removed.
    pub(crate) fn removed(&self, came: Result<(), BookFault>) -> Result<(), BookFault> {
        match came {
            Err(fault) if is_left(&fault) => self.resists(Some(fault)),
            Err(fault) => return Err(fault),
            Ok(()) if matches!(self.resisting(), Some(BookFault::NotSwept(_))) => {
                self.resists(None);
            }
            Ok(()) => {}
        }
        Ok(())
    }

    /// What is left of a removal from a job.
    pub(crate) fn left_of_removal(&self, job: &Whole) -> Result<Left, Refused> {
        let is_removal = |work: &Work| matches!(work, Work::Removal { .. });
        let mut works = job.state.log.entries().iter().filter_map(|e| e.work());
        // What was emptied along in other jobs only left no entry here.
        let standing = self.left_standing(job.id)?;
        if !works.any(is_removal) {
            let (resists, pending) = (None, false);
            return Ok(Left {
                resists,
                pending,
                standing,
            });
        }
        let pending = self.book.not_swept(job.id)?;
        let resists = match self.resisting() {
            Some(fault @ BookFault::OtherLines { .. }) => Some(trouble_text(&job.locale, &fault)),
            Some(fault @ BookFault::NotSwept(_)) if pending => {
                Some(trouble_text(&job.locale, &fault))
            }
            _ => pending.then(|| say!(job.locale, "way-not-swept")),
        };
        Ok(Left {
            resists,
            pending,
            standing,
        })
    }
}
