//! What of a log concerns the clock since it last came in, and what of that shows that something is done.

use crate::{Item, JobFacts};
use entries::{Decimal, Entry, EntryContent, EntryKind, Log, Occasion, Stage, Striking, Work};
use movement::{Movement, Reached};

/// The entries that count since a clock last came in.
pub(crate) struct Visit<'a> {
    entries: Vec<&'a Entry>,
    home: bool,
    /// The last entry after which the plates are closed anew; 0 where there is none.
    opened: usize,
    /// The last entry that moved something of the strike, or undid what was proved; 0 where there is none.
    moved: usize,
}

impl<'a> Visit<'a> {
    pub(crate) fn of(log: &'a Log, movement: Option<&Movement>) -> Visit<'a> {
        let mut visit = Visit {
            entries: Vec::new(),
            home: false,
            opened: 0,
            moved: 0,
        };
        for entry in log.in_place() {
            match entry.work() {
                Some(Work::HandedBack { .. }) => visit.home = true,
                Some(Work::Intake { .. }) if visit.home => {
                    visit.home = false;
                    visit.entries.clear();
                }
                Some(Work::Stage { .. }) => visit.home = false,
                _ => {}
            }
            visit.entries.push(entry);
            if opens(entry, movement) {
                visit.opened = entry.n;
            }
            if moves(entry) {
                visit.moved = entry.n;
            }
        }
        visit
    }

    /// Whether it went home, and did not come in again since.
    pub(crate) fn home(&self) -> bool {
        self.home
    }

    fn works(&self) -> impl DoubleEndedIterator<Item = (usize, &Work)> {
        self.entries.iter().filter_map(|e| Some((e.n, e.work()?)))
    }

    /// The stage it is at. One that only ever had its train timed is being put together: nobody said that it came in.
    pub(crate) fn stage(&self) -> Stage {
        if self.home {
            return Stage::Out;
        }
        let told = self.works().rev().find_map(|(_, work)| match work {
            Work::Stage { to } => Some(*to),
            _ => None,
        });
        let came_in = || self.works().any(|(_, w)| matches!(w, Work::Intake { .. }));
        told.unwrap_or_else(|| match came_in() {
            true => Stage::In,
            false => Stage::Together,
        })
    }

    /// The entry in which a point was ticked off, if that still counts. A point that belongs to another stage than once
    /// is found where it was ticked; a shop's own is of its stage alone. That it was handed back is said by its entry.
    pub(crate) fn ticked(&self, at: Stage, item: &Item) -> Option<usize> {
        if *item == Item::HandedBack {
            return None;
        }
        let (own, key) = (matches!(item, Item::Own(_)), item.key());
        let since = match item {
            _ if item.after_closing() => self.opened,
            Item::Timed => self.opened.max(self.moved),
            _ => 0,
        };
        let ticked = self.works().rev().find_map(|(n, work)| match work {
            Work::Check { stage, item } if !own || *stage == at => {
                (item.here() == Some(&key)).then_some(n)
            }
            _ => None,
        });
        ticked.filter(|n| *n > since)
    }

    /// Whether log or sheet show that a point is done.
    pub(crate) fn shows(&self, item: &Item, facts: &JobFacts) -> bool {
        let any = |is: fn(&Work) -> bool| self.works().any(|(_, work)| is(work));
        let picture = |wanted: Occasion| {
            (self.works())
                .any(|(_, work)| matches!(work, Work::Picture { when, .. } if *when == wanted))
        };
        match item {
            Item::PictureBefore => picture(Occasion::Before),
            Item::PictureAfter => picture(Occasion::After),
            Item::Complaint => any(|work| {
                matches!(
                    work,
                    Work::Intake {
                        complaint: Some(_),
                        ..
                    }
                )
            }),
            Item::Counted => facts.counted,
            Item::Timed => facts.timed == Some(true),
            Item::Tried => self.tried(),
            Item::AsItStood => self.stood(),
            Item::Hours => self.every_hour(),
            Item::Oiled => any(|work| matches!(work, Work::Oil { .. })),
            Item::HandedBack => self.home,
            _ => false,
        }
    }

    /// Whether it was read as it stood while it struck right.
    pub(crate) fn stood(&self) -> bool {
        let is = |told: &EntryContent| matches!(told, EntryContent::Known(EntryKind::Stood { .. }));
        self.entries.iter().any(|entry| is(&entry.told))
    }

    /// Whether it was tried before it was taken apart.
    fn tried(&self) -> bool {
        let apart = self.entries.iter().find(|entry| takes_apart(entry));
        let before = apart.map_or(usize::MAX, |entry| entry.n);
        (self.works()).any(|(n, work)| matches!(work, Work::TrialRun { .. }) && n < before)
    }

    /// Whether it struck right for twelve hours since anything of it was moved, and never wrong after.
    fn every_hour(&self) -> bool {
        let since = self.opened.max(self.moved);
        let trials = self.works().filter(|(n, _)| *n > since);
        trials.fold(false, |right, (_, work)| match work {
            Work::TrialRun {
                struck: Some(Striking::Wrong),
                ..
            } => false,
            Work::TrialRun {
                struck: Some(Striking::Right),
                hours,
                ..
            } => right || whole_round(hours),
            _ => right,
        })
    }
}

/// Whether the plates are closed anew after this: taken apart, spread for a shift, or for what jumped or was taken out.
fn opens(entry: &Entry, movement: Option<&Movement>) -> bool {
    let plates = |mesh: &str| {
        let found = movement.and_then(|m| Some(m.mesh(m.find_mesh(mesh)?)));
        found.is_none_or(|mesh| mesh.reached == Reached::Plates)
    };
    match &entry.told {
        EntryContent::Known(EntryKind::Shift(meshes)) => meshes.iter().any(|at| plates(&at.mesh)),
        EntryContent::Known(
            EntryKind::Jumped { .. } | EntryKind::ArborOut { .. } | EntryKind::ArborIn { .. },
        ) => true,
        _ => takes_apart(entry),
    }
}

/// Whether the movement is in pieces from here on.
fn takes_apart(entry: &Entry) -> bool {
    match entry.work() {
        Some(Work::Stage { to }) => *to == Stage::Down,
        Some(Work::Check { item, .. }) => item.here() == Some(&Item::Apart.key()),
        _ => false,
    }
}

/// The entry since which a clock does not stand as it came: power was let down, it was taken apart, or something was moved.
pub(crate) fn touched(log: &Log) -> Option<usize> {
    let visit = Visit::of(log, None);
    let mut entries = visit.entries.iter();
    let found = entries.find(|entry| moves(entry) || opens(entry, None) || lets_down(entry));
    found.map(|entry| entry.n)
}

/// Whether a clock struck right when it was tried, before anything of it was touched, as far as that was said.
pub(crate) fn struck_as_it_came(log: &Log) -> Option<Striking> {
    let before = touched(log).unwrap_or(usize::MAX);
    let visit = Visit::of(log, None);
    visit.works().rev().find_map(|(n, work)| match work {
        Work::TrialRun { struck, .. } if n < before => *struck,
        _ => None,
    })
}

/// Whether power was let down, or a weight taken off.
fn lets_down(entry: &Entry) -> bool {
    let Some(Work::Check { item, .. }) = entry.work() else {
        return false;
    };
    let words = ["power down", "let down", "weight off"];
    let is = |key: &String| {
        let after = |word: &str| {
            key.strip_prefix(word)
                .map(|rest| rest.is_empty() || rest.starts_with(' '))
        };
        words.iter().any(|word| after(word) == Some(true))
    };
    item.here().is_some_and(is)
}

/// Whether something of the strike stands otherwise after this.
fn moves(entry: &Entry) -> bool {
    matches!(
        entry.told,
        EntryContent::Known(
            EntryKind::Shift(_)
                | EntryKind::OtherWay { .. }
                | EntryKind::Slipped(_)
                | EntryKind::Jumped { .. }
                | EntryKind::Bent(_)
                | EntryKind::Turned(_)
                | EntryKind::ArborOut { .. }
                | EntryKind::ArborIn { .. }
        )
    )
}

/// Whether it ran long enough for every hour to strike: twelve hours.
fn whole_round(hours: &Decimal) -> bool {
    hours.text().parse::<f64>().is_ok_and(|hours| hours >= 12.0)
}
