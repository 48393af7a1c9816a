//! How a text lies upon its kind's pattern: arbor by arbor as they stand in their trains, so that the pattern's counts can be
//! told as usual ones and what it has can be taken over.

use crate::hints::hints;
use crate::kind::TrainSort;
use crate::role::first;
use crate::train::{PartName, Trains};
use crate::works::works;
use crate::{Kind, WorkRole};
use quantity::Teeth;
use sheet::edit::{CountWritten, SheetText};

/// A pattern beside a text.
pub(crate) struct Beside {
    pub(crate) pattern: SheetText,
    /// Parts of the text, and those of the pattern that they stand for.
    parts: Vec<(PartName, PartName)>,
    /// The same of arbors.
    arbors: Vec<(String, String)>,
    /// The usual count of each part of the text.
    usual: Vec<(PartName, Teeth)>,
}

const SORTS: [TrainSort; 3] = [TrainSort::Strike, TrainSort::Chime, TrainSort::Going];

impl Beside {
    /// Lays the text upon the pattern. Arbors that carry the same are taken for the same, and those between them in order.
    pub(crate) fn of(text: &SheetText, kind: &Kind) -> Option<Beside> {
        let pattern = SheetText::new(kind.pattern()).ok()?;
        let (here, there) = (Trains::of(text), Trains::of(&pattern));
        let mut same: Vec<(String, String)> = Vec::new();
        let its = works(&pattern);
        for work in works(text) {
            let twin = first(&its, work.role).and_then(|twin| twin.on.clone());
            if let (Some(on), Some(twin)) = (work.on, twin)
                && !same.iter().any(|(a, b)| *a == on || *b == twin)
            {
                same.push((on, twin));
            }
        }
        let mut arbors = same.clone();
        for sort in SORTS {
            let mine = here.of_sort(text, sort).into_iter();
            for (mine, its) in mine.zip(there.of_sort(&pattern, sort)) {
                let ((spine, branches), (its_spine, its_branches)) =
                    (here.train(mine), there.train(its));
                let mut both = along(&spine, &its_spine, &same);
                both.extend(along(&branches, &its_branches, &same));
                for (a, b) in both {
                    if !arbors.iter().any(|(mine, its)| *mine == a || *its == b) {
                        arbors.push((a, b));
                    }
                }
            }
        }
        let mut beside = Beside {
            pattern,
            parts: Vec::new(),
            arbors,
            usual: Vec::new(),
        };
        beside.parts = beside.twins(text, &here, &there);
        beside.usual = hints(text, kind, &|part| beside.printed(part));
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
                all.filter(|part| !trains.is_meshed(part)).collect()
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

    /// The count that the pattern has for a part of the text.
    fn printed(&self, part: &PartName) -> Option<Teeth> {
        let (_, (arbor, name)) = self.parts.iter().find(|(mine, _)| mine == part)?;
        match self.pattern.count(arbor, name)? {
            CountWritten::Known(teeth) | CountWritten::Doubtful(teeth) => Some(teeth),
            CountWritten::Blank => None,
        }
    }

    /// The usual count of a part of the text: with those that are counted all comes out.
    pub(crate) fn usual(&self, part: &PartName) -> Option<Teeth> {
        let found = self.usual.iter().find(|(mine, _)| mine == part);
        found.map(|(_, teeth)| *teeth)
    }

    /// The arbor of the text where the pattern would have this.
    pub(crate) fn place_of(&self, role: WorkRole) -> Option<&String> {
        let its = works(&self.pattern);
        self.mine(first(&its, role)?.on.as_ref()?)
    }
}

/// Arbors of two trains that stand for each other: between those that are known for the same, in order; below the first of them
/// from above, and above the last from the top.
fn along(mine: &[&str], its: &[&str], same: &[(String, String)]) -> Vec<(String, String)> {
    let mut knots: Vec<(usize, usize)> = Vec::new();
    for (m, arbor) in mine.iter().enumerate() {
        let twin = same.iter().find(|(a, _)| a == arbor).map(|(_, b)| b);
        let at = twin.and_then(|twin| its.iter().position(|arbor| arbor == twin));
        if let Some(i) = at
            && knots.last().is_none_or(|(_, last)| *last < i)
        {
            knots.push((m, i));
        }
    }
    let mut both: Vec<(usize, usize)> = Vec::new();
    let first = knots.first().copied().unwrap_or((mine.len(), its.len()));
    // Below: the first arbors are the great wheels, what is next to a known one is next to it.
    let below = first.0.min(first.1);
    if below > 0 {
        both.push((0, 0));
        both.extend((1..below).map(|n| (first.0 - n, first.1 - n)));
    }
    for pair in knots.windows(2) {
        let [(m, i), (next_m, next_i)] = [pair[0], pair[1]];
        both.extend((0..(next_m - m).min(next_i - i)).map(|n| (m + n, i + n)));
    }
    if let Some(&(m, i)) = knots.last() {
        both.push((m, i));
        let above = (mine.len() - m - 1).min(its.len() - i - 1);
        both.extend((1..=above).map(|n| (mine.len() - n, its.len() - n)));
    }
    let named =
        |(m, i): (usize, usize)| Some(((*mine.get(m)?).to_owned(), (*its.get(i)?).to_owned()));
    both.into_iter().filter_map(named).collect()
}
