//! What names a person in a job is removed; and where else it stands is found, so that it can be emptied along, or later.

use super::{Desk, DeskFault};
use book::{EntryPlace, Job, JobId, Places, Removing};
use entries::{Emptied, Entry, Likeness, Log, Traces, Work};
use std::collections::{BTreeMap, BTreeSet};
use way::Own;

/// Entries with only a part of what names a person that are told: a surname that is a word of the trade stands in every second one,
/// and nobody looks through more.
pub const MOST_LIKE: usize = 200;

/// What a removal from a job empties, and where something of it stands besides.
#[derive(Debug)]
pub struct Removal {
    /// What the job is called.
    pub name: String,
    /// Entries in its log, as must be known to remove something.
    pub entries: usize,
    /// Its entries with fields that are there for what names a person, or with a picture; nothing where all of that was removed.
    pub personal: Vec<Entry>,
    /// Entries in whose other texts it stands, or may still stand after it was removed: those with all of it first.
    pub elsewhere: Vec<Elsewhere>,
    /// Further ones with a part of it that are not told.
    pub more: usize,
    /// Where all of it stands and cannot be emptied.
    pub fixed: Vec<Fixed>,
    /// Points of the shop's own in which some of it stands: they stand at their stage of every job until they are dropped there.
    pub points: Vec<Own>,
    own: Found,
}

/// A place where all of what names a person stands and cannot be emptied.
#[derive(Debug)]
pub struct Fixed {
    /// The place.
    pub place: EntryPlace,
    /// What its job is called.
    pub name: String,
}

/// An entry in which something of what names a person stands besides.
#[derive(Debug)]
pub struct Elsewhere {
    /// Its job.
    pub job: JobId,
    /// What that is called.
    pub name: String,
    /// The entry.
    pub entry: Entry,
    /// The fields in which it stands.
    pub fields: BTreeSet<String>,
    /// How much of it.
    pub likeness: Likeness,
    /// Whether it is emptied along unless somebody says otherwise. Whose a clock is that is still here must be known.
    pub along: bool,
}

impl Elsewhere {
    /// Its place in the book.
    pub fn place(&self) -> EntryPlace {
        EntryPlace {
            job: self.job,
            n: self.entry.n,
        }
    }
}

/// Fields of entries, by their place.
type Found = BTreeMap<EntryPlace, BTreeSet<String>>;

impl Desk {
    /// What a removal from a job empties, and where something of it stands besides.
    ///
    /// # Errors
    /// There is no such job, or the book cannot be read.
    pub fn removal(&self, id: JobId) -> Result<Removal, DeskFault> {
        let kept = self.book.job(id)?;
        let log = crate::job::log_of(kept.log.as_bytes())?;
        let own = by_place(Places::from([(id, log.personal())]));
        let sought = Sought {
            traces: log.traces(),
            left: by_place(self.book.left_of(id)?),
        };
        let here = |n| EntryPlace { job: id, n };
        let mut removal = Removal {
            name: kept.name,
            entries: log.entries().len(),
            personal: (log.entries().iter())
                .filter(|entry| own.contains_key(&here(entry.n)))
                .cloned()
                .collect(),
            elsewhere: Vec::new(),
            more: 0,
            fixed: Vec::new(),
            points: self.own()?,
            own,
        };
        (removal.points).retain(|point| sought.traces.in_text(&point.says).is_some());
        let mut found = Vec::new();
        if !sought.traces.is_empty() {
            let fits = |said: &str| sought.traces.in_text(said).is_some();
            found = self.book.lines_that(fits)?;
        }
        let mut jobs: BTreeMap<JobId, BTreeSet<usize>> = BTreeMap::new();
        for EntryPlace { job, n } in found.into_iter().chain(sought.left.keys().copied()) {
            jobs.entry(job).or_default().insert(n);
        }
        for (job, numbers) in jobs {
            sought.look_in(job, &self.book.job(job)?, &numbers, &mut removal);
        }
        let partly = |it: &Elsewhere| it.likeness == Likeness::Part;
        (removal.elsewhere).sort_by_key(|it| (partly(it), it.job != id));
        let parts = removal.elsewhere.iter().filter(|it| partly(it)).count();
        removal.more = parts.saturating_sub(MOST_LIKE);
        let told = removal.elsewhere.len() - removal.more;
        removal.elsewhere.truncate(told);
        Ok(removal)
    }

    /// How many entries may still hold something of what was removed from a job.
    ///
    /// # Errors
    /// The book's.
    pub fn left_standing(&self, id: JobId) -> Result<usize, DeskFault> {
        let mut count = 0;
        for (job, entries) in self.book.left_of(id)? {
            if let Ok(log) = crate::job::log_of(self.book.job(job)?.log.as_bytes()) {
                count += log.holding(&entries).len();
            }
        }
        Ok(count)
    }

    /// Empties what names a person, and every picture, for good, and along with it the texts of these entries, of those that
    /// this `removal`, as [`Desk::removal`] has just told it, has. The others that it tells are minded by their places. Where there is nothing to empty, what was not
    /// carried through yet is tried again.
    ///
    /// # Errors
    /// As [`Desk::enter`]; or what could not be gone over.
    pub fn remove(
        &self,
        id: JobId,
        entries: usize,
        removal: &Removal,
        along: &BTreeSet<EntryPlace>,
    ) -> Result<(), DeskFault> {
        let (mut emptied, mut left) = (removal.own.clone(), Found::new());
        for it in &removal.elsewhere {
            let to = if along.contains(&it.place()) {
                &mut emptied
            } else {
                &mut left
            };
            let fields = it.fields.iter().cloned();
            to.entry(it.place()).or_default().extend(fields);
        }
        if emptied.is_empty() {
            return Ok(self.book.sweep()?);
        }
        let what = Removing {
            emptied: by_job(emptied),
            left: by_job(left),
        };
        let removed = (self.book).remove(id, entries, &what, self.day().as_deref());
        what.emptied.keys().for_each(|job| self.worked.forget(*job));
        Ok(removed?)
    }
}

/// What is looked for: what names a person, and what is known to be left.
struct Sought {
    traces: Traces,
    left: Found,
}

impl Sought {
    /// Looks at these lines of a job.
    fn look_in(&self, job: JobId, kept: &Job, numbers: &BTreeSet<usize>, removal: &mut Removal) {
        let fixed = |n: usize| Fixed {
            place: EntryPlace { job, n },
            name: kept.name.clone(),
        };
        let Ok(log) = crate::job::log_of(kept.log.as_bytes()) else {
            // Nobody can tell what stands there.
            removal.fixed.push(fixed(0));
            return;
        };
        let whole = |said: &str| self.traces.in_text(said) == Some(Likeness::Whole);
        let mut named_by_its_clock = false;
        for entry in log
            .entries()
            .iter()
            .filter(|entry| numbers.contains(&entry.n))
        {
            let place = EntryPlace { job, n: entry.n };
            let mut found = self.in_entry(place, entry, &log);
            named_by_its_clock |= found.contains_key("clock");
            if let Some(own) = removal.own.get(&place) {
                // What goes anyway is not elsewhere.
                found.retain(|field, _| !own.contains(field));
            }
            if let Some(&likeness) = found.values().max() {
                let whose = found.contains_key("owner") || found.contains_key("reach");
                // Several may have one telephone.
                let theirs = found.get("owner") == Some(&Likeness::Whole);
                removal.elsewhere.push(Elsewhere {
                    job,
                    name: kept.name.clone(),
                    entry: entry.clone(),
                    along: likeness == Likeness::Whole && (!whose || (theirs && log.handed_back())),
                    fields: found.into_keys().collect(),
                    likeness,
                });
            } else if texts(entry).is_empty() && whole(&entry.words()) {
                removal.fixed.push(fixed(entry.n));
            }
        }
        // A job without a sheet is called as its clock, and goes with that.
        let called = kept.first_sheet.is_empty() && named_by_its_clock;
        let begins = || format!("{} {}", log.header().sheet, kept.first_sheet);
        if numbers.contains(&0) && !called && (whole(&kept.name) || whole(&begins())) {
            removal.fixed.push(fixed(0));
        }
    }

    /// In which fields of an entry something stands, and how much.
    fn in_entry(&self, place: EntryPlace, entry: &Entry, log: &Log) -> BTreeMap<String, Likeness> {
        let alike = self.traces.in_entry(entry).into_iter();
        let mut found: BTreeMap<_, _> = alike.map(|(f, much)| (f.to_owned(), much)).collect();
        if let Some(left) = self.left.get(&place) {
            let left = Emptied {
                of: entry.n,
                fields: left.iter().cloned().collect(),
            };
            // What was emptied since then is not left any more.
            for still in log.holding(&[left]) {
                for field in still.fields {
                    found.entry(field).or_insert(Likeness::Part);
                }
            }
        }
        found
    }
}

/// What an entry says that can be emptied.
fn texts(entry: &Entry) -> Vec<(&'static str, &str)> {
    entry.work().map(Work::texts).unwrap_or_default()
}

fn by_place(places: Places) -> Found {
    let mut found = Found::new();
    for (job, entries) in places {
        for Emptied { of, fields } in entries {
            let place = EntryPlace { job, n: of };
            found.entry(place).or_default().extend(fields);
        }
    }
    found
}

fn by_job(found: Found) -> Places {
    let mut places = Places::new();
    for (EntryPlace { job, n: of }, fields) in found {
        let fields = fields.into_iter().collect();
        (places.entry(job).or_default()).push(Emptied { of, fields });
    }
    places
}
