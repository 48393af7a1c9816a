//! The raw window of one arbor: the places round the one that is meant, turned by itself, at which every point holds.

use super::turned::{Break, Breaks, Turnable};
use crate::machine::Tick;
use crate::{End, FailedPoint, Struck, points};
use movement::ArborId;
use num_traits::Signed;
use quantity::{Degrees, Exact};

/// What bounds a window.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Limit {
    /// What does not hold just beyond, each with the minutes since the start of the hour at which that is met first. By number of the
    /// point; nothing where the strike does not come through the cycle and no hour tells why.
    pub points: Vec<(u32, FailedPoint)>,
    /// How the run ends there.
    pub end: End,
}

impl Limit {
    /// Of a run that is not good.
    pub(super) fn of(struck: &Struck) -> Limit {
        let mut failed: Vec<(u32, FailedPoint)> = Vec::new();
        for hour in &struck.hours {
            for point in points(hour) {
                let known = |(_, other): &(u32, FailedPoint)| other.is_like(&point);
                if !failed.iter().any(known) {
                    failed.push((hour.minutes, point));
                }
            }
        }
        failed.sort_by_key(|(_, point)| point.number());
        Limit {
            points: failed,
            end: struck.end.clone(),
        }
    }

    /// The numbers of the points that do not hold; the first where the strike does not come through.
    pub fn numbers(&self) -> Vec<u8> {
        let mut numbers: Vec<u8> = self.points.iter().map(|(_, p)| p.number()).collect();
        numbers.dedup();
        match numbers.is_empty() {
            true => vec![1],
            false => numbers,
        }
    }

    /// The one that tells most: a wrong number follows from another point, where there is one.
    pub fn first(&self) -> Option<&(u32, FailedPoint)> {
        let mut points = self.points.iter();
        points
            .find(|(_, point)| point.number() > 1)
            .or(self.points.first())
    }
}

/// One end of a window.
#[derive(Debug, Clone)]
pub(super) struct RawEnd {
    /// Ticks from the meant place.
    pub(super) at: Tick,
    /// Whether it is good itself.
    pub(super) inside: bool,
    /// What is wrong beyond; nothing where it was not sought any farther.
    pub(super) limit: Option<Limit>,
}

/// All good places of an arbor round the meant one.
#[derive(Debug, Clone)]
pub(super) enum Raw {
    /// All there are: the strike goes on as well wherever it stands.
    Any,
    /// From one end to the other.
    Between([RawEnd; 2]),
}

/// Where one arbor may stand.
pub(super) struct Sought<'a, 'm> {
    pub(super) works: &'a Turnable<'m>,
    pub(super) arbor: ArborId,
    /// The way after which its places are the same again.
    pub(super) period: Degrees,
}

impl Sought<'_, '_> {
    /// Its raw window. The meant place itself is good.
    pub(super) fn raw(&self) -> Raw {
        if !self.works.carries(self.arbor) {
            return Raw::Any;
        }
        let breaks = Breaks::of(self.works, self.arbor);
        let Some(to) = self.end(&breaks, 0, Breaks::after) else {
            return Raw::Any;
        };
        let Some(from) = self.end(&breaks, 0, Breaks::before) else {
            return Raw::Any;
        };
        match self.is_round(to.at - from.at) {
            true => Raw::Any,
            false => Raw::Between([from, to]),
        }
    }

    /// Whether so many ticks are a whole period, or more.
    fn is_round(&self, ticks: Tick) -> bool {
        let way = self.works.degrees(self.arbor, ticks);
        way.exact().abs() >= *self.period.exact()
    }

    /// From a good place on to the first that is not; nothing where there is none all round. Between two breaks one place tells of all,
    /// so that no gap is passed over.
    pub(super) fn end(
        &self,
        breaks: &Breaks,
        begin: Tick,
        next: impl Fn(&Breaks, Tick) -> Option<Break>,
    ) -> Option<RawEnd> {
        let run = |at: Tick| self.works.run(&[(self.arbor, at)]);
        let is_good = |struck: &Option<Struck>| struck.as_ref().is_some_and(Struck::is_right);
        // The place it begins at is good; of one that was passed that is known only where it was tried.
        let (mut at, mut tried) = (begin, true);
        loop {
            let beyond = next(breaks, at)?;
            let struck = run((at + beyond.at) / 2);
            if !is_good(&struck) {
                let inside = tried || is_good(&run(at));
                let limit = struck.as_ref().map(Limit::of);
                return Some(RawEnd { at, inside, limit });
            }
            (at, tried) = (beyond.at, beyond.alone);
            if tried {
                let struck = run(at);
                if !is_good(&struck) {
                    let (inside, limit) = (false, struck.as_ref().map(Limit::of));
                    return Some(RawEnd { at, inside, limit });
                }
            }
            if self.is_round(at - begin) {
                return None;
            }
        }
    }
}

/// The nearest hundredth of a degree not below.
pub(super) fn up_to_hundredth(place: &Exact) -> Exact {
    let hundred = Exact::from_integer(100.into());
    (place * &hundred).ceil() / hundred
}

/// The nearest hundredth of a degree not above.
pub(super) fn down_to_hundredth(place: &Exact) -> Exact {
    -up_to_hundredth(&-place)
}
