//! Arbors and meshes of a text as far as they are written: what drives what, in which order they are counted, and the ratios.
//!
//! A text in the making need not be a good sheet, so nothing here expects one.

use crate::kind::TrainSort;
use num_traits::One;
use quantity::Exact;
use sheet::SheetTable;
use sheet::edit::{SheetText, TableAt};

/// A part of the text: its arbor's name and its own.
pub(crate) type PartName = (String, String);

/// Two parts in mesh.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Pair {
    pub(crate) driver: PartName,
    pub(crate) driven: PartName,
}

/// What meshes with what.
#[derive(Debug, Clone)]
pub(crate) struct Trains {
    pub(crate) arbors: Vec<String>,
    pub(crate) pairs: Vec<Pair>,
}

/// A step along a train: the part that is left by, and the one that is come to.
pub(crate) type TrainStep = (PartName, PartName);

/// The arbor that everything is read against.
pub(crate) fn read_at(text: &SheetText) -> Option<String> {
    let at = TableAt::One(SheetTable::Strike);
    Some(text.get(&at, "read_at")?.text()?.to_owned())
}

fn part_name(written: &str) -> Option<PartName> {
    let (arbor, part) = written.split_once('.')?;
    Some((arbor.to_owned(), part.to_owned()))
}

impl Trains {
    pub(crate) fn of(text: &SheetText) -> Trains {
        let pair = |[driver, driven]: [String; 2]| {
            Some(Pair {
                driver: part_name(&driver)?,
                driven: part_name(&driven)?,
            })
        };
        let arbors = text.arbors();
        let there = |(arbor, part): &PartName| text.parts(arbor).contains(part);
        let pairs = text.meshes().into_iter().filter_map(pair);
        let pairs = pairs.filter(|pair| there(&pair.driver) && there(&pair.driven));
        Trains {
            pairs: pairs.collect(),
            arbors,
        }
    }

    /// The steps from one arbor to another; nothing where no meshes join them.
    pub(crate) fn way(&self, from: &str, to: &str) -> Option<Vec<TrainStep>> {
        let mut ways: Vec<(String, Vec<TrainStep>)> = vec![(from.to_owned(), Vec::new())];
        let mut next = 0;
        while let Some((here, way)) = ways.get(next).cloned() {
            if here == to {
                return Some(way);
            }
            next += 1;
            for pair in &self.pairs {
                for (near, far) in [(&pair.driver, &pair.driven), (&pair.driven, &pair.driver)] {
                    if near.0 == here && !ways.iter().any(|(arbor, _)| *arbor == far.0) {
                        let mut on = way.clone();
                        on.push((near.clone(), far.clone()));
                        ways.push((far.0.clone(), on));
                    }
                }
            }
        }
        None
    }

    /// Turns of `to` in one turn of `from`, without direction; nothing where they are not joined or a count is wanting.
    pub(crate) fn turns(
        &self,
        from: &str,
        to: &str,
        count: &impl Fn(&PartName) -> Option<Exact>,
    ) -> Option<Exact> {
        let steps = self.way(from, to)?;
        steps.iter().try_fold(Exact::one(), |turns, (near, far)| {
            Some(turns * count(near)? / count(far)?)
        })
    }

    /// The arbors that drive nothing from below: the first of each train, in order of writing.
    pub(crate) fn firsts(&self) -> Vec<&String> {
        let driven = |arbor: &String| self.pairs.iter().any(|pair| pair.driven.0 == *arbor);
        self.arbors.iter().filter(|arbor| !driven(arbor)).collect()
    }

    /// A train from its first arbor: the longest way up, and then what branches off, in order from below.
    pub(crate) fn train<'s>(&'s self, first: &'s str) -> (Vec<&'s str>, Vec<&'s str>) {
        // Each arbor with the place of the one below it here, and how far up it is.
        let mut reached: Vec<(&str, usize, usize)> = vec![(first, 0, 0)];
        let mut next = 0;
        while let Some(&(here, _, up)) = reached.get(next) {
            for pair in self.pairs.iter().filter(|pair| pair.driver.0 == here) {
                let above = pair.driven.0.as_str();
                if !reached.iter().any(|(arbor, ..)| *arbor == above) {
                    reached.push((above, next, up + 1));
                }
            }
            next += 1;
        }
        let highest = reached.iter().map(|(.., up)| *up).max().unwrap_or(0);
        let top = reached.iter().position(|(.., up)| *up == highest);
        let mut at = top.unwrap_or(0);
        let mut spine = vec![reached[at].0];
        while reached[at].2 > 0 {
            at = reached[at].1;
            spine.push(reached[at].0);
        }
        spine.reverse();
        let arbors = reached.iter().map(|(arbor, ..)| *arbor);
        let branches = arbors.filter(|arbor| !spine.contains(arbor)).collect();
        (spine, branches)
    }

    /// The first arbor of the train that an arbor is in.
    pub(crate) fn first_of<'s>(&'s self, arbor: &str) -> Option<&'s String> {
        let mut firsts = self.firsts().into_iter();
        firsts.find(|first| self.way(first, arbor).is_some())
    }

    /// The sort of the train that begins with an arbor: what counts or drops into notches beside the strike's is the chime's.
    pub(crate) fn sort(&self, text: &SheetText, first: &str) -> TrainSort {
        let strike = read_at(text).and_then(|arbor| self.first_of(&arbor));
        if strike.is_none_or(|strike| strike == first) {
            return TrainSort::Strike;
        }
        let counts = text.tables(SheetTable::Track).into_iter().any(|track| {
            let counts = track.get("counts").is_some() || track.get("notches_deg").is_some();
            let on = track.text("on").filter(|_| counts);
            on.is_some_and(|on| self.first_of(&on).is_some_and(|of| of == first))
        });
        match counts {
            true => TrainSort::Chime,
            false => TrainSort::Going,
        }
    }

    /// The first arbors of all trains of a sort.
    pub(crate) fn of_sort(&self, text: &SheetText, sort: TrainSort) -> Vec<&String> {
        let mut firsts = self.firsts();
        firsts.retain(|first| self.sort(text, first) == sort);
        firsts
    }

    /// Every arbor of the train that begins with one, from below.
    pub(crate) fn all<'s>(&'s self, first: &'s str) -> Vec<&'s str> {
        let (mut spine, branches) = self.train(first);
        spine.extend(branches);
        spine
    }

    /// Whether a part meshes with anything.
    pub(crate) fn is_meshed(&self, part: &PartName) -> bool {
        let of = |pair: &Pair| pair.driver == *part || pair.driven == *part;
        self.pairs.iter().any(of)
    }

    /// The parts of an arbor in the order in which they are counted: what is driven, what drives, and then the rest.
    pub(crate) fn counted(&self, text: &SheetText, arbor: &str) -> Vec<PartName> {
        let parts = text.parts(arbor).into_iter();
        let mut parts: Vec<PartName> = parts.map(|part| (arbor.to_owned(), part)).collect();
        parts.sort_by_key(|part| {
            let driven = self.pairs.iter().any(|pair| pair.driven == *part);
            let drives = self.pairs.iter().any(|pair| pair.driver == *part);
            (!driven, !drives)
        });
        parts
    }

    /// Every arbor, in the order in which a repairer counts: from the great wheel up, train by train, the one with `begin` first.
    pub(crate) fn order(&self, begin: Option<&str>) -> Vec<String> {
        let mut firsts = self.firsts();
        let begun = begin.and_then(|arbor| self.first_of(arbor)).cloned();
        firsts.sort_by_key(|first| begun.as_ref() != Some(first));
        let mut order: Vec<String> = Vec::new();
        for first in firsts {
            let (spine, branches) = self.train(first);
            order.extend(
                spine
                    .iter()
                    .chain(&branches)
                    .map(|arbor| (*arbor).to_owned()),
            );
        }
        order.dedup();
        let left: Vec<String> = (self.arbors.iter())
            .filter(|arbor| !order.contains(arbor))
            .cloned()
            .collect();
        order.extend(left);
        order
    }
}
