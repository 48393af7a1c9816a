//! A track's edge as a tip feels it: heights round one turn, straight from corner to corner, with walls where it jumps.
//!
//! Places are parts of a turn in the order they come; heights are parts of the whole, or teeth below nought on a snail.

use crate::bounds::MOST_PAIRS;
use crate::{NoStrike, PlantedFault};
use movement::{Cut, Shape, TrackId, slots_of};
use num_traits::{One, Zero};
use quantity::{Degrees, Exact, fraction, whole};

/// A place where the edge turns or jumps.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Corner {
    /// Where, from 0 to less than 1 turn.
    pub(crate) at: Exact,
    /// The height as it comes.
    pub(crate) before: Exact,
    /// The height as it has passed.
    pub(crate) after: Exact,
}

/// An edge round one turn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Profile {
    /// In order of place, no two at one.
    pub(crate) corners: Vec<Corner>,
    /// The height where there are none.
    pub(crate) level: Exact,
}

/// A point of the edge walked along: at a wall, two stand at one place.
type Step = (Exact, Exact);

/// Corners and heights that were held against each other so far, of [`MOST_PAIRS`].
#[derive(Debug, Default)]
pub(crate) struct Pairs(usize);

impl Pairs {
    /// Each of some is held against each of others.
    ///
    /// # Errors
    /// They are too many, together with those before.
    pub(crate) fn take(&mut self, some: usize, others: usize) -> Result<(), NoStrike> {
        self.0 = self.0.saturating_add(some.saturating_mul(others));
        match self.0 > MOST_PAIRS {
            true => Err(NoStrike::TooMany),
            false => Ok(()),
        }
    }
}

/// A place brought into the turn.
pub(crate) fn into_turn(at: &Exact) -> Exact {
    at - at.floor()
}

fn turns(angle: &Degrees) -> Exact {
    angle.exact() / whole(360)
}

impl Profile {
    /// The edge of a track, with what was put in wrong with it, for a tip bent up off it by a part of its whole lift.
    ///
    /// Between pins nothing lies under a tip: bent up it meets them later and is lifted less, bent down earlier and more,
    /// along the same slope. Everywhere else what it feels is lower, or higher, by the bend.
    pub(crate) fn of(id: TrackId, shape: &Shape, put_in: &[PlantedFault], bent: &Exact) -> Profile {
        match shape {
            Shape::Lobes { .. } => Profile::plain(id, shape, put_in, bent),
            _ => Profile::plain(id, shape, put_in, bent).raised(&Exact::one(), &-bent),
        }
    }

    fn plain(id: TrackId, shape: &Shape, put_in: &[PlantedFault], bent: &Exact) -> Profile {
        match shape {
            Shape::Counts { counts, cut } => {
                slotted(&worn(id, edges_of(counts, cut), put_in), &turns(&cut.ramp))
            }
            Shape::Notches { middles, cut } => {
                let half = turns(&cut.width) / whole(2);
                let slots = middles.iter().map(turns).map(|m| (&m - &half, &m + &half));
                slotted(&worn(id, slots.collect(), put_in), &turns(&cut.ramp))
            }
            Shape::Lobes {
                places,
                rise,
                hold,
                heights,
            } => {
                let missing = |n: usize| {
                    put_in.iter().any(|put_in| {
                        matches!(put_in, PlantedFault::MissingLobe { track, lobe } if *track == id && *lobe == n)
                    })
                };
                let (rise, hold) = (turns(rise), turns(hold));
                let one = Exact::one();
                let mut there: Vec<Lobe> = (places.iter().enumerate())
                    .map(|(n, place)| (n, into_turn(&turns(place)), heights.get(n).unwrap_or(&one)))
                    .filter(|(n, _, whole)| !missing(*n) && !whole.is_zero() && *whole > bent)
                    .map(|(_, place, whole)| {
                        let (top, height) = (&place - &hold, whole - bent);
                        Lobe {
                            foot: &top - &rise * &height / whole,
                            top,
                            place,
                            height,
                        }
                    })
                    .collect();
                there.sort_by(|a, b| a.place.cmp(&b.place));
                Profile::walked(&lifting(&there), Exact::zero())
            }
            Shape::Steps {
                teeth,
                from,
                star_minute,
            } => {
                let n = Exact::from_integer(teeth.len().into());
                let start = match star_minute {
                    Some(minute) => turns(from) + minute / whole(60) / &n,
                    None => turns(from),
                };
                let mut steps = Vec::new();
                for (i, fall) in teeth.iter().enumerate() {
                    let begin = &start + Exact::from_integer(i.into()) / &n;
                    let end = &start + Exact::from_integer((i + 1).into()) / &n;
                    steps.push((begin, -fall));
                    steps.push((end, -fall));
                }
                Profile::walked(&steps, teeth.first().map_or_else(Exact::zero, |t| -t))
            }
            Shape::Outline(points) => {
                let steps: Vec<Step> = points
                    .iter()
                    .map(|(at, height)| (turns(at), height.clone()))
                    .collect();
                let level = points.first().map_or_else(Exact::zero, |(_, h)| h.clone());
                Profile::walked(&steps, level)
            }
        }
    }

    /// The edge over points walked once round, in order, of which two at one place are a wall.
    fn walked(steps: &[Step], level: Exact) -> Profile {
        let mut corners: Vec<Corner> = Vec::new();
        for (at, height) in steps {
            match corners.last_mut() {
                Some(last) if last.at == *at => last.after = height.clone(),
                _ => corners.push(Corner {
                    at: at.clone(),
                    before: height.clone(),
                    after: height.clone(),
                }),
            }
        }
        // The walk may end where it began, a turn on.
        if corners.len() > 1
            && let (Some(first), Some(last)) = (corners.first(), corners.last())
            && &last.at - &first.at == Exact::one()
        {
            let after = first.after.clone();
            corners.remove(0);
            if let Some(last) = corners.last_mut() {
                last.after = after;
            }
        }
        for corner in &mut corners {
            corner.at = into_turn(&corner.at);
        }
        corners.sort_by(|a, b| a.at.cmp(&b.at));
        let mut profile = Profile { corners, level };
        profile.tidy();
        profile
    }

    /// Leaves out corners where the edge neither turns nor jumps.
    fn tidy(&mut self) {
        let n = self.corners.len();
        let flat = |a: &Exact, b: &Exact, c: &Exact, d: &Exact| a == b && b == c && c == d;
        let keep: Vec<bool> = (0..n)
            .map(|i| {
                let (before, here) = (&self.corners[(i + n - 1) % n], &self.corners[i]);
                let next = &self.corners[(i + 1) % n];
                !flat(&before.after, &here.before, &here.after, &next.before)
            })
            .collect();
        if let Some(first) = self.corners.first() {
            self.level = first.after.clone();
        }
        let mut keep = keep.into_iter();
        self.corners.retain(|_| keep.next().unwrap_or(true));
    }

    /// The height between corners at a place, and the line it lies on: the corners before and after it.
    fn line(&self, at: &Exact) -> (Step, Step) {
        let n = self.corners.len();
        if n == 0 {
            let here = (at.clone(), self.level.clone());
            return (here.clone(), (at + Exact::one(), self.level.clone()));
        }
        let place = into_turn(at);
        let turn = at - &place;
        let i = self.corners.partition_point(|corner| corner.at <= place);
        let (from, back) = if i == 0 { (n - 1, 1) } else { (i - 1, 0) };
        let (to, on) = if i == n { (0, 1) } else { (i, 0) };
        let (from, to) = (&self.corners[from], &self.corners[to]);
        (
            (&from.at + &turn - whole(back), from.after.clone()),
            (&to.at + &turn + whole(on), to.before.clone()),
        )
    }

    /// Every height with a factor, and so much more.
    pub(crate) fn raised(self, by: &Exact, more: &Exact) -> Profile {
        self.each(|height| height * by + more)
    }

    /// No height above this one; of an edge of steps, without slopes.
    pub(crate) fn at_most(self, most: &Exact) -> Profile {
        self.each(|height| height.min(most).clone())
    }

    /// No height below where the tip's arbor comes to rest.
    pub(crate) fn at_rest(self) -> Profile {
        let rest = Exact::zero();
        let mut profile =
            (self.split_at(std::slice::from_ref(&rest))).each(|h| h.max(&rest).clone());
        profile.tidy();
        profile
    }

    fn each(mut self, height: impl Fn(&Exact) -> Exact) -> Profile {
        for corner in &mut self.corners {
            corner.before = height(&corner.before);
            corner.after = height(&corner.after);
        }
        self.level = height(&self.level);
        self
    }

    /// The edge as a tip of this width feels it: at each place the highest point under the tip.
    pub(crate) fn felt(&self, tip: &Degrees, pairs: &mut Pairs) -> Result<Profile, NoStrike> {
        let width = turns(tip);
        if width.is_zero() || self.corners.is_empty() {
            return Ok(self.clone());
        }
        let half = width / whole(2);
        if let Some(felt) = self.felt_plainly(&half) {
            return Ok(felt);
        }
        // Between every two places, of which each corner makes two, all corners are gone over.
        pairs.take(2 * self.corners.len(), self.corners.len())?;
        Ok(self.felt_closely(&half))
    }

    /// As the tip feels it where it fits into every hollow: what rises comes half a tip earlier, what falls later.
    fn felt_plainly(&self, half: &Exact) -> Option<Profile> {
        // Points once round, each with the way the edge goes before it and after it.
        let mut points: Vec<Step> = Vec::new();
        for corner in &self.corners {
            points.push((corner.at.clone(), corner.before.clone()));
            if corner.before != corner.after {
                points.push((corner.at.clone(), corner.after.clone()));
            }
        }
        let n = points.len();
        let mut steps: Vec<Step> = Vec::new();
        for i in 0..n {
            let (at, height) = &points[i];
            let came = height.cmp(&points[(i + n - 1) % n].1);
            let goes = points[(i + 1) % n].1.cmp(height);
            let shift = |way| match way {
                std::cmp::Ordering::Greater => -half,
                _ => half.clone(),
            };
            use std::cmp::Ordering::Equal;
            match (came, goes) {
                (Equal, Equal) => {}
                (Equal, way) | (way, Equal) => steps.push((at + shift(way), height.clone())),
                (a, b) if a == b => steps.push((at + shift(a), height.clone())),
                (a, b) => {
                    steps.push((at + shift(a), height.clone()));
                    steps.push((at + shift(b), height.clone()));
                }
            }
        }
        let wrapped = (steps.first()?.0.clone() + Exact::one(), whole(0));
        let on = steps.iter().chain([&wrapped]);
        let goes_on = on.clone().zip(on.skip(1)).all(|(a, b)| a.0 <= b.0);
        goes_on.then(|| Profile::walked(&steps, self.level.clone()))
    }

    /// As any tip feels it: the higher of its two ends and of all corners between, piece by piece.
    fn felt_closely(&self, half: &Exact) -> Profile {
        let mut places: Vec<Exact> = (self.corners.iter())
            .flat_map(|corner| {
                [
                    into_turn(&(&corner.at - half)),
                    into_turn(&(&corner.at + half)),
                ]
            })
            .collect();
        places.sort();
        places.dedup();
        let mut steps: Vec<Step> = Vec::new();
        for (i, from) in places.iter().enumerate() {
            let to = match places.get(i + 1) {
                Some(to) => to.clone(),
                None => &places[0] + Exact::one(),
            };
            let middle = (from + &to) / whole(2);
            let ends = [&middle - half, &middle + half];
            let lines = [self.line(&ends[0]), self.line(&ends[1])];
            let highest = self.highest_between(&ends[0], &ends[1]);
            let height = |at: &Exact| {
                let short = on_line(&lines[0], &(at - half));
                let ahead = on_line(&lines[1], &(at + half));
                let ends = short.max(ahead);
                highest.iter().cloned().fold(ends, Exact::max)
            };
            // Between two places each of the three is straight: the highest of them turns where two cross.
            let value = |line: usize, at: &Exact| {
                let by = if line == 0 { at - half } else { at + half };
                on_line(&lines[line], &by)
            };
            let mut turning = vec![from.clone()];
            let mut cross = |a: [Exact; 2], b: [Exact; 2]| {
                let (first, last) = (&a[0] - &b[0], &a[1] - &b[1]);
                if (&first * &last) < Exact::zero() {
                    turning.push(from + (&to - from) * &first / (&first - &last));
                }
            };
            let short = [value(0, from), value(0, &to)];
            let ahead = [value(1, from), value(1, &to)];
            cross(short.clone(), ahead.clone());
            if let Some(highest) = &highest {
                let flat = [highest.clone(), highest.clone()];
                cross(short, flat.clone());
                cross(ahead, flat);
            }
            turning.push(to.clone());
            turning.sort();
            steps.extend(turning.into_iter().map(|at| (at.clone(), height(&at))));
        }
        Profile::walked(&merged(steps), self.level.clone())
    }

    /// The highest corner within two places less than a turn apart.
    fn highest_between(&self, from: &Exact, to: &Exact) -> Option<Exact> {
        let width = to - from;
        (self.corners.iter())
            .filter(|corner| into_turn(&(&corner.at - from)) < width)
            .map(|corner| corner.before.clone().max(corner.after.clone()))
            .max()
    }

    /// With a corner wherever a slope passes one of these heights.
    pub(crate) fn split_at(mut self, heights: &[Exact]) -> Profile {
        let n = self.corners.len();
        let mut more = Vec::new();
        for i in 0..n {
            let (from, to) = (&self.corners[i], &self.corners[(i + 1) % n]);
            if from.after == to.before {
                continue;
            }
            let end = match i + 1 == n {
                true => &to.at + Exact::one(),
                false => to.at.clone(),
            };
            for height in heights {
                let part = (height - &from.after) / (&to.before - &from.after);
                if part > Exact::zero() && part < Exact::one() {
                    more.push(Corner {
                        at: into_turn(&(&from.at + (&end - &from.at) * part)),
                        before: height.clone(),
                        after: height.clone(),
                    });
                }
            }
        }
        self.corners.extend(more);
        self.corners.sort_by(|a, b| a.at.cmp(&b.at));
        self
    }
}

/// The height of a line at a place.
fn on_line((from, to): &(Step, Step), at: &Exact) -> Exact {
    if from.1 == to.1 {
        return from.1.clone();
    }
    &from.1 + (&to.1 - &from.1) * (at - &from.0) / (&to.0 - &from.0)
}

/// Points without those that stand between two at one place.
fn merged(steps: Vec<Step>) -> Vec<Step> {
    let mut kept: Vec<Step> = Vec::new();
    for step in steps {
        let n = kept.len();
        if n >= 2 && kept[n - 1].0 == step.0 && kept[n - 2].0 == step.0 {
            kept.pop();
        }
        kept.push(step);
    }
    kept
}

/// What lifts a tip: where that begins, where it is done, where the tip is let go, and how high it then is.
struct Lobe {
    foot: Exact,
    top: Exact,
    place: Exact,
    height: Exact,
}

/// The way over what lifts, in order of place. A tip that is bent down may touch the next as the last lets it go.
fn lifting(lobes: &[Lobe]) -> Vec<Step> {
    let mut steps: Vec<Step> = Vec::new();
    let n = lobes.len();
    for (i, lobe) in lobes.iter().enumerate() {
        let last = match i.checked_sub(1) {
            Some(last) => lobes[last].place.clone(),
            None => &lobes[n - 1].place - Exact::one(),
        };
        let next = match lobes.get(i + 1) {
            Some(next) => next.foot.clone(),
            None => &lobes[0].foot + Exact::one(),
        };
        if lobe.foot >= last {
            steps.push((lobe.foot.clone(), Exact::zero()));
        } else if lobe.top > last {
            let risen = (&last - &lobe.foot) / (&lobe.top - &lobe.foot);
            steps.push((last.clone(), &lobe.height * risen));
        } else {
            steps.push((last.clone(), lobe.height.clone()));
        }
        if lobe.top > last {
            steps.push((lobe.top.clone(), lobe.height.clone()));
        }
        steps.push((lobe.place.clone(), lobe.height.clone()));
        if next >= lobe.place {
            steps.push((lobe.place.clone(), Exact::zero()));
        }
    }
    steps
}

/// Both edges of each slot of a count wheel.
fn edges_of(counts: &[u16], cut: &Cut) -> Vec<(Exact, Exact)> {
    let places: i64 = counts.iter().map(|&n| i64::from(n)).sum();
    let half = turns(&cut.width) / whole(2);
    let middle = |place: i64| fraction(place, places.max(1));
    (slots_of(counts).iter())
        .map(|slot| {
            let (first, further) = (i64::from(slot.place), i64::from(slot.further));
            (middle(first) - &half, middle(first + further) + &half)
        })
        .collect()
}

/// Slots with what is worn off their edges.
fn worn(
    id: TrackId,
    mut slots: Vec<(Exact, Exact)>,
    put_in: &[PlantedFault],
) -> Vec<(Exact, Exact)> {
    for put_in in put_in {
        let PlantedFault::Worn { track, slot, by } = put_in else {
            continue;
        };
        if *track != id {
            continue;
        }
        // Told in the order they come after the start.
        slots.sort_by_key(|slot| into_turn(&((&slot.0 + &slot.1) / whole(2))));
        let by = turns(by);
        for (n, worn) in slots.iter_mut().enumerate() {
            if slot.is_none_or(|slot| slot == n) {
                *worn = (&worn.0 - &by, &worn.1 + &by);
            }
        }
    }
    slots
}

/// A rim with slots in it.
fn slotted(slots: &[(Exact, Exact)], ramp: &Exact) -> Profile {
    let mut slots: Vec<(Exact, Exact)> = (slots.iter())
        .map(|(from, to)| {
            let place = into_turn(from);
            let to = to - from + &place;
            (place, to)
        })
        .collect();
    slots.sort();
    // Slots worn into each other are one.
    let mut apart: Vec<(Exact, Exact)> = Vec::new();
    for slot in slots {
        match apart.last_mut() {
            Some(last) if slot.0 <= &last.1 + ramp => last.1 = slot.1.max(last.1.clone()),
            _ => apart.push(slot),
        }
    }
    if let [first, .., last] = &apart[..]
        && first.0 <= &last.1 + ramp - Exact::one()
    {
        let end = last.1.clone().max(&first.1 + Exact::one());
        let from = last.0.clone();
        apart.remove(0);
        apart.pop();
        apart.push((from, end));
    }
    let mut steps: Vec<Step> = Vec::new();
    for (from, to) in apart {
        steps.push((from.clone(), Exact::one()));
        steps.push((from, Exact::zero()));
        steps.push((to.clone(), Exact::zero()));
        steps.push((to + ramp, Exact::one()));
    }
    Profile::walked(&steps, Exact::one())
}
