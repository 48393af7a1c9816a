//! How a text lies upon its kind's pattern: arbor by arbor as they stand in their trains, so that the pattern's counts can be
//! told as usual ones and what it has can be taken over.

use crate::role::{first, works};
use crate::train::{PartName, Trains};
use crate::{Kind, WorkRole};
use sheet::SheetTable;
use sheet::edit::{CountWritten, SheetText, TableAt};

/// A pattern beside a text.
pub(crate) struct Beside {
    pub(crate) pattern: SheetText,
    /// Parts of the text, and those of the pattern that they stand for.
    parts: Vec<(PartName, PartName)>,
    /// The same of arbors.
    arbors: Vec<(String, String)>,
}

/// The arbor that everything is read against.
pub(crate) fn read_at(text: &SheetText) -> Option<String> {
    let at = TableAt::One(SheetTable::Strike);
    Some(text.get(&at, "read_at")?.text()?.to_owned())
}

/// The trains of a text, that of the strike first.
fn firsts(text: &SheetText, trains: &Trains) -> Vec<String> {
    let strike = read_at(text).and_then(|arbor| trains.first_of(&arbor).cloned());
    let mut firsts: Vec<String> = trains.firsts().into_iter().cloned().collect();
    firsts.sort_by_key(|first| strike.as_ref() != Some(first));
    firsts
}

impl Beside {
    /// Lays the text upon the pattern. Of a train with more arbors or fewer, only what carries the same is taken for the same.
    pub(crate) fn of(text: &SheetText, kind: &Kind) -> Option<Beside> {
        let pattern = SheetText::new(kind.pattern()).ok()?;
        let (here, there) = (Trains::of(text), Trains::of(&pattern));
        let mut arbors: Vec<(String, String)> = Vec::new();
        let trains = firsts(text, &here)
            .into_iter()
            .zip(firsts(&pattern, &there));
        for (mine, its) in trains {
            let ((spine, branches), (its_spine, its_branches)) =
                (here.train(&mine), there.train(&its));
            for (mine, its) in [(spine, its_spine), (branches, its_branches)] {
                if mine.len() == its.len() {
                    let both = mine.iter().zip(its);
                    arbors.extend(both.map(|(a, b)| ((*a).to_owned(), b.to_owned())));
                }
            }
        }
        let (mine, its) = (works(text), works(&pattern));
        for work in &mine {
            let twin = first(&its, work.role).and_then(|twin| twin.on.clone());
            if let (Some(on), Some(twin)) = (work.on.clone(), twin)
                && !arbors.iter().any(|(a, b)| *a == on || *b == twin)
            {
                arbors.push((on, twin));
            }
        }
        let mut beside = Beside {
            pattern,
            parts: Vec::new(),
            arbors,
        };
        beside.parts = beside.twins(text, &here, &there);
        Some(beside)
    }

    fn twins(&self, text: &SheetText, here: &Trains, there: &Trains) -> Vec<(PartName, PartName)> {
        let mut parts: Vec<(PartName, PartName)> = Vec::new();
        for pair in &here.pairs {
            let same = |twin: &&crate::train::Pair| {
                self.its(&pair.driver.0) == Some(&twin.driver.0)
                    && self.its(&pair.driven.0) == Some(&twin.driven.0)
            };
            if let Some(twin) = there.pairs.iter().find(same) {
                parts.push((pair.driver.clone(), twin.driver.clone()));
                parts.push((pair.driven.clone(), twin.driven.clone()));
            }
        }
        // What meshes with nothing, as an escape wheel: in order.
        for (mine, its) in &self.arbors {
            let alone = |trains: &Trains, text: &SheetText, arbor: &str| -> Vec<PartName> {
                let all = trains.counted(text, arbor).into_iter();
                let meshed = |part: &PartName| {
                    let of =
                        |pair: &crate::train::Pair| pair.driver == *part || pair.driven == *part;
                    trains.pairs.iter().any(of)
                };
                all.filter(|part| !meshed(part)).collect()
            };
            let both = alone(here, text, mine)
                .into_iter()
                .zip(alone(there, &self.pattern, its));
            parts.extend(both);
        }
        parts
    }

    /// The arbor of the pattern that one of the text stands for.
    fn its(&self, mine: &str) -> Option<&String> {
        let found = self.arbors.iter().find(|(a, _)| a == mine);
        found.map(|(_, its)| its)
    }

    /// The arbor of the text that stands for one of the pattern.
    pub(crate) fn mine(&self, its: &str) -> Option<&String> {
        let found = self.arbors.iter().find(|(_, b)| b == its);
        found.map(|(mine, _)| mine)
    }

    /// The usual count of a part of the text.
    pub(crate) fn usual(&self, part: &PartName) -> Option<quantity::Teeth> {
        let (_, (arbor, name)) = self.parts.iter().find(|(mine, _)| mine == part)?;
        match self.pattern.count(arbor, name)? {
            CountWritten::Known(teeth) | CountWritten::Doubtful(teeth) => Some(teeth),
            CountWritten::Blank => None,
        }
    }

    /// The arbor of the text where the pattern would have this.
    pub(crate) fn place_of(&self, role: WorkRole) -> Option<&String> {
        let its = works(&self.pattern);
        self.mine(first(&its, role)?.on.as_ref()?)
    }
}
