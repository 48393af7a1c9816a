//! Which sets of meshes bring every witness that was read into its window: the fewest, without trying all there are.
//!
//! A set that does not do is grown as long as it still does not; whatever does then has a mesh beyond it. Such bars leave few
//! sets to be tried. That a set does not do is told by one witness where that is enough, else by the few whose windows are
//! narrowest, else by all.

use crate::choose::{Choice, best_of};
use crate::effort::Effort;
use crate::goal::{Goal, Set};
use crate::lattice::{Point, Sought, Whole};
use crate::rated::Rough;
use crate::system::{Axis, System};
use movement::MeshAccess;
use num_integer::Integer;
use num_traits::Zero;
use quantity::{BigInt, Degrees, nearest_alike};

/// How many of the narrowest windows are asked before all are.
const FEW: [usize; 2] = [3, 6];

/// Steps that go before any sum of a set.
const WORK_OF_A_TRY: usize = 20_000;

/// Steps from set to set in one search; fifteen meshes have 32,767 sets.
const MOST_STEPS: usize = 100_000;

/// What a search that was cut short left untried.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Untried {
    /// Sets of meshes that come first by the rule, of which it is not known whether they do.
    pub fewer: usize,
    /// Sets of as many meshes of which not every place was looked at.
    pub as_many: usize,
    /// Whether fewer teeth may lead to a place as good.
    pub teeth: bool,
    /// Whether others may come nearer, where none does.
    pub nearer: bool,
    /// Whether what does takes more teeth than a machine word holds, and so is told as none.
    pub beyond_count: bool,
    /// Whether some part turned on its arbor, together with others or with meshes, may do.
    pub turns: bool,
}

impl Untried {
    /// Whether nothing was.
    pub fn is_nothing(&self) -> bool {
        *self == Untried::default()
    }
}

/// What came of looking for a choice.
#[derive(Debug, Clone)]
pub(crate) enum Found {
    /// The best by the rule of all that were tried, and what was not.
    Best(Choice, Untried),
    /// No shift of any number of meshes does.
    Nothing,
    /// None was found, and this was not tried.
    Unknown(Untried),
}

/// What is known of a set.
enum Verdict {
    /// This shift of it does.
    Does(Point<BigInt>),
    /// None does, and these axes show it.
    Not(Vec<usize>),
    /// That takes too long to find out.
    Unknown,
}

/// How many meshes of a set spread plates, how many come out by a small cock, and how many lie outside.
pub(crate) type Level = [usize; 3];

/// The place in a level of a mesh that is opened so.
fn rank(access: MeshAccess) -> usize {
    match access {
        MeshAccess::Plates => 0,
        MeshAccess::Cock => 1,
        MeshAccess::Outside => 2,
    }
}

/// How many of some meshes are opened in each way.
pub(crate) fn level_of(system: &System, movers: impl IntoIterator<Item = usize>) -> Level {
    let mut level = [0; 3];
    for m in movers {
        level[rank(system.movers[m].access)] += 1;
    }
    level
}

/// A set that does, and some of its places that do.
type Doing = (Vec<usize>, Vec<Rough>);

/// Chooses by the rule among shifts that bring every axis into its window; the empty set is not among them.
pub(crate) fn choose(goal: &Goal<'_>) -> Found {
    let effort = goal.effort;
    let mut sieve = Sieve::of(goal);
    let everything = goal.everything();
    // All meshes at once are the longest search, and most depends on it.
    let share = std::mem::replace(&mut sieve.share, effort.left() / 8);
    let verdict = sieve.verdict(&everything);
    sieve.share = share;
    let known = match verdict {
        Verdict::Not(_) => return Found::Nothing,
        Verdict::Does(point) => Some(sieve.thinned(everything, point)),
        Verdict::Unknown => None,
    };
    let most = match &known {
        Some((movers, _)) => sieve.level_of(movers),
        None => sieve.level_of(&goal.everything()),
    };
    // The other half is for choosing among their places.
    let for_sets = effort.left() / 2;
    let (mut doing, mut untried) = effort.within(for_sets, || sieve.fewest(most)).0;
    if doing.is_empty() {
        untried.fewer += std::mem::take(&mut untried.as_many);
        doing.extend(known);
    }
    if doing.is_empty() {
        let set = Set::of(goal, goal.everything());
        let (rated, _) = effort.within(effort.left() / 2, || set.rated());
        doing.push((set.movers, rated));
    }
    // What looks best goes first, should there not be time for all.
    let top = |rated: &[Rough]| rated.iter().map(|rough| rough.chance).fold(0.0, f64::max);
    doing.sort_by(|a, b| top(&b.1).total_cmp(&top(&a.1)));
    let for_teeth = effort.left() / 4;
    let least_share = effort.left() / 64;
    let mut pool: Vec<(Set<'_>, Vec<Rough>)> = Vec::new();
    let sets = doing.len();
    for (n, (movers, mut places)) in doing.into_iter().enumerate() {
        let left = effort.left().saturating_sub(for_teeth);
        let share = least_share.max(left / (sets - n) as u64).min(left);
        let set = Set::of(goal, movers);
        let (rated, cut) = effort.within(share, || set.rated());
        if cut {
            untried.as_many += 1;
            places.extend(rated);
        } else if !rated.is_empty() {
            places = rated;
        }
        pool.push((set, places));
    }
    let (choice, cut) = effort.within(u64::MAX, || best_of(&pool));
    untried.teeth = cut;
    match choice {
        Some(choice) => Found::Best(choice, untried),
        None => Found::Unknown(untried),
    }
}

/// Whether some shift, or none, brings every axis to within `reach` of its best.
pub(crate) fn reachable(system: &System, reach: &[Degrees], effort: &Effort<'_>) -> bool {
    let windows: Vec<(Degrees, Degrees)> = (system.axes.iter().zip(reach))
        .map(|(axis, reach)| (&axis.best - reach, &axis.best + reach))
        .collect();
    let near = |axis: &Axis, reach: &Degrees| {
        let off = &nearest_alike(&axis.stands, &axis.period, &axis.best) - &axis.best;
        off.abs() <= *reach
    };
    let goal = Goal::of(system, &windows, effort);
    // Where that is too long a search, nobody is accused of a bent lever.
    (system.axes.iter().zip(reach)).all(|(axis, reach)| near(axis, reach))
        || !matches!(some_places(&goal), Sought::Nothing)
}

/// Where all stand after some shift that brings them in; and whether there is none where none is given.
pub(crate) fn some_places(goal: &Goal<'_>) -> Sought<Vec<Degrees>> {
    let everything = Set::of(goal, goal.everything());
    match Sieve::of(goal).verdict(&everything.movers) {
        Verdict::Does(point) => Sought::Point(everything.places(&point.places)),
        Verdict::Not(_) => Sought::Nothing,
        Verdict::Unknown => Sought::LeftOff,
    }
}

/// What is known of the sets of one goal.
struct Sieve<'a> {
    goal: &'a Goal<'a>,
    /// Each has a mover of every set that does.
    bars: Vec<Vec<usize>>,
    /// The axes, those with the narrowest windows first.
    narrow: Vec<usize>,
    /// What one verdict may take.
    share: u64,
    /// Steps that may still be made from set to set.
    steps: usize,
}

impl<'a> Sieve<'a> {
    fn of(goal: &'a Goal<'a>) -> Sieve<'a> {
        let axes = &goal.system.axes;
        let part = |w: &usize| {
            let width = (&axes[*w].to - &axes[*w].from).to_f64();
            width / axes[*w].period.to_f64()
        };
        let mut narrow: Vec<usize> = (0..axes.len()).collect();
        narrow.sort_by(|a, b| part(a).total_cmp(&part(b)));
        Sieve {
            goal,
            bars: Vec::new(),
            narrow,
            share: goal.effort.left() / 32,
            steps: MOST_STEPS,
        }
    }

    fn level_of(&self, movers: &[usize]) -> Level {
        level_of(self.goal.system, movers.iter().copied())
    }

    /// Whether some shift of a set brings all in. One that takes too long by itself is not waited for.
    fn verdict(&self, movers: &[usize]) -> Verdict {
        let goal = self.goal;
        if let Some(w) = (self.narrow.iter()).find(|w| !self.alone(movers, **w)) {
            return Verdict::Not(vec![*w]);
        }
        let set = Set::of(goal, movers.to_vec());
        let narrow = self.narrow.iter().copied();
        let moved: Vec<usize> = narrow.filter(|w| set.moved.contains(w)).collect();
        goal.effort
            .within(self.share, || {
                for few in FEW {
                    if few < moved.len() {
                        let axes = moved[..few].to_vec();
                        if self.shown_by(movers, &axes) {
                            return Verdict::Not(axes);
                        }
                    }
                }
                match set.sought() {
                    Sought::Point(point) => Verdict::Does(point),
                    Sought::Nothing => Verdict::Not(moved),
                    Sought::LeftOff => Verdict::Unknown,
                }
            })
            .0
    }

    /// Whether some shift of these movers brings one axis in, whatever the others do.
    fn alone(&self, movers: &[usize], w: usize) -> bool {
        let (system, span) = (self.goal.system, &self.goal.spans[w]);
        let mut apart = system.axes[w].around.clone();
        for &m in movers {
            let step = &system.movers[m].steps[w];
            if !step.is_zero() {
                self.goal.effort.spend(4 * BigInt::DEAR);
                apart = apart.gcd(step);
            }
        }
        span.low.div_ceil(&apart) <= span.high.div_floor(&apart)
    }

    /// Whether these axes show that no shift of these movers does.
    fn shown_by(&self, movers: &[usize], axes: &[usize]) -> bool {
        match axes {
            [w] => !self.alone(movers, *w),
            _ => {
                let axes = axes.iter().copied();
                Set::on(self.goal, movers.to_vec(), axes).sought() == Sought::Nothing
            }
        }
    }

    /// From a set of which these axes show that it does not do: whatever does has one of the movers that are left when it is
    /// grown as far as that can still be seen.
    fn bar(&mut self, movers: &[usize], axes: &[usize]) {
        let system = self.goal.system;
        let mut grown = movers.to_vec();
        let mut left = Vec::new();
        for m in self.goal.everything() {
            if movers.contains(&m) {
                continue;
            }
            grown.push(m);
            let still = axes.iter().all(|&w| system.movers[m].steps[w].is_zero());
            let effort = self.goal.effort;
            if !still && !effort.within(self.share, || self.shown_by(&grown, axes)).0 {
                grown.pop();
                left.push(m);
            }
        }
        self.bars.push(left);
    }

    /// A set that does with one mover after the other left out, as long as it does.
    fn thinned(&mut self, mut movers: Vec<usize>, mut point: Point<BigInt>) -> Doing {
        let goal = self.goal;
        let mut each: Vec<usize> = movers.iter().rev().copied().collect();
        each.sort_by_key(|m| rank(goal.system.movers[*m].access));
        for m in each {
            let others: Vec<usize> = movers.iter().copied().filter(|&other| other != m).collect();
            match self.verdict(&others) {
                Verdict::Does(other) => (movers, point) = (others, other),
                Verdict::Not(axes) => self.bar(&others, &axes),
                Verdict::Unknown => {}
            }
        }
        self.doing(movers, point)
    }

    fn doing(&self, movers: Vec<usize>, point: Point<BigInt>) -> Doing {
        let set = Set::of(self.goal, movers);
        let places = set.front(vec![point]);
        (set.movers, places)
    }

    /// The sets that do with the fewest meshes, at most as many as in `most`; and what could not be tried.
    fn fewest(&mut self, most: Level) -> (Vec<Doing>, Untried) {
        let mut untried = Untried::default();
        let all = self.level_of(&self.goal.everything());
        // Up to the end of each kind, but no further than to `most`.
        let up_to = |level: &[usize]| {
            let n = level.len();
            if level == &most[..n] { most[n] } else { all[n] }
        };
        for plates in 0..=most[0] {
            for cocks in 0..=up_to(&[plates]) {
                for beside in 0..=up_to(&[plates, cocks]) {
                    let mut found = Vec::new();
                    self.walk(
                        0,
                        &mut Vec::new(),
                        [plates, cocks, beside],
                        &mut |sieve, movers| match sieve.tried(movers) {
                            Some(doing) => found.extend(doing),
                            None => untried.as_many += 1,
                        },
                    );
                    if self.steps == 0 {
                        untried.as_many += 1;
                    }
                    if !found.is_empty() {
                        return (found, untried);
                    }
                    untried.fewer += std::mem::take(&mut untried.as_many);
                }
            }
        }
        (Vec::new(), untried)
    }

    /// Tries a set: nothing where it is not known whether it does; inside nothing where it does not.
    fn tried(&mut self, movers: &[usize]) -> Option<Option<Doing>> {
        let effort = self.goal.effort;
        if !effort.spend(WORK_OF_A_TRY) {
            return None;
        }
        match self.verdict(movers) {
            // To leave all alone is no shift.
            Verdict::Does(_) if movers.is_empty() => Some(None),
            Verdict::Does(point) => Some(Some(self.doing(movers.to_vec(), point))),
            Verdict::Not(axes) => {
                self.bar(movers, &axes);
                Some(None)
            }
            Verdict::Unknown => {
                // A smaller box may hold one all the same.
                let set = Set::of(self.goal, movers.to_vec());
                let (places, _) = effort.within(self.share, || set.rated());
                (!places.is_empty()).then_some(Some((set.movers, places)))
            }
        }
    }

    /// Goes through the sets with so many more movers from `at` on that no bar forbids.
    fn walk(
        &mut self,
        at: usize,
        taken: &mut Vec<usize>,
        more: Level,
        each: &mut dyn FnMut(&mut Sieve<'a>, &[usize]),
    ) {
        if more == [0; 3] {
            if self.may(at, taken, more) {
                each(self, taken);
            }
            return;
        }
        for m in at..self.goal.system.movers.len() {
            if self.steps == 0 || !self.may(m, taken, more) {
                return;
            }
            self.steps -= 1;
            let (kind, mut less) = (rank(self.goal.system.movers[m].access), more);
            if let Some(fewer) = more[kind].checked_sub(1) {
                less[kind] = fewer;
                taken.push(m);
                self.walk(m + 1, taken, less, each);
                taken.pop();
            }
        }
    }

    /// Whether no bar forbids what is taken with so many more movers from `at` on.
    fn may(&self, at: usize, taken: &[usize], more: Level) -> bool {
        let room = |m: usize| more[rank(self.goal.system.movers[m].access)] > 0;
        (self.bars.iter()).all(|bar| {
            bar.iter().any(|m| taken.contains(m)) || bar.iter().any(|m| *m >= at && room(*m))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::Reading;
    use crate::{parse, read};
    use movement::Movement;

    const EIGHT: &str = include_str!("../../fleet/benches/eight.toml");
    const EXERCISE: &str = include_str!("../../../movements/lattice.toml");

    fn looked(sheet: &str, saw: &str) -> (Movement, System) {
        let movement = sheet::read(sheet.as_bytes())
            .expect("a good sheet")
            .movement;
        let readings: Vec<Reading> = (saw.split(' '))
            .map(|saw| {
                let (id, said) = parse(&movement, movement.seen_from(), saw).expect("a reading");
                read(&movement, id, &said).expect("one that can be used")
            })
            .collect();
        let system = System::of(&movement, &readings);
        (movement, system)
    }

    /// From hardly any to enough.
    const EFFORTS: [u64; 9] = [
        0,
        1000,
        30_000,
        300_000,
        1_000_000,
        3_000_000,
        10_000_000,
        100_000_000,
        1_000_000_000,
    ];

    #[test]
    fn however_soon_it_is_cut_short_nothing_untrue_is_found() {
        for saw in [
            "slot=0.1 lifts=-10 stop=-180 vane=5 pallet=-5 tail=2",
            "slot=1.25 lifts=-17 stop=-108 vane=-63 pallet=-5 tail=2",
            "slot=1.3 lifts=15 stop=0 vane=80 pallet=160 tail=40",
            "slot=1.3~0.5 lifts=15~5 stop=0~40 vane=80~30 pallet=160~40 tail=40~12",
        ] {
            let (movement, system) = looked(EIGHT, saw);
            let found = |steps: u64| {
                let effort = Effort::of(steps);
                let found = choose(&Goal::windows(&system, &effort));
                assert!(effort.spent() <= steps);
                found
            };
            let Found::Best(best, untried) = found(10_000_000_000) else {
                panic!("{saw}: some shift does");
            };
            assert!(untried.is_nothing(), "{saw}: {untried:?}");
            let mut whole = 0;
            for steps in EFFORTS {
                let (choice, untried) = match found(steps) {
                    Found::Best(choice, untried) => (choice, untried),
                    Found::Nothing => panic!("{saw}: some shift does, after {steps} steps too"),
                    Found::Unknown(untried) => {
                        assert!(!untried.is_nothing() && whole == 0, "{saw}: {steps}");
                        continue;
                    }
                };
                for (axis, place) in system.axes.iter().zip(&choice.places) {
                    assert!(
                        movement.witness(axis.witness).admits(place),
                        "{saw}: {steps}"
                    );
                }
                assert_eq!(choice.places, system.places(&choice.shifts));
                if untried.is_nothing() {
                    whole += 1;
                    assert_eq!(choice.shifts, best.shifts, "{saw}: {steps}");
                }
            }
            assert!(whole > 0, "{saw}: the greatest of these is enough");
        }
    }

    #[test]
    fn that_there_is_none_is_said_only_where_that_is_known() {
        let (_, system) = looked(EXERCISE, "stop=5.5");
        let found = |steps: u64| choose(&Goal::windows(&system, &Effort::of(steps)));
        assert!(matches!(found(1_000_000), Found::Nothing));
        assert!(!matches!(found(0), Found::Best(..)));
    }
}
