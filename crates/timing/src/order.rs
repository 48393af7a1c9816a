//! In what order arbors go in, and what to set as each goes in, so that all is in its window the first time.
//!
//! From nothing: the lower arbors first, pressed by finger, with no power in the spring at all, since nothing would stop the
//! train; then the pin's arbor, the fly, and last what sits outside, the plates closed. That usual order is left only where
//! following it may leave a witness out of its window, and then as little as can be. With nothing known to be wrong, all stay
//! in.

use crate::settle::{Settled, Settling, Stand};
use movement::{ArborId, MeshId, Movement, Reached, WitnessId};
use std::cmp::Reverse;
use std::collections::{BTreeSet, BinaryHeap};

/// One arbor put in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OrderStep {
    /// Which.
    pub arbor: ArborId,
    /// The meshes that close as it goes in, with arbors that are in by then.
    pub meshes: Vec<MeshId>,
    /// What to set as they close: the teeth are right that put all of these nearest their best.
    pub settles: Vec<Settle>,
    /// Of those meshes, the ones that move no witness against another or against its moment's arbor: any tooth will do.
    pub any: Vec<MeshId>,
    /// Of those meshes, the ones that may close at any tooth because what is set later makes up for it.
    pub later: Vec<MeshId>,
    /// Whether it closes a ring of meshes, and goes in only where all of them fit.
    pub ring: bool,
    /// Whether it begins a ring of meshes that closes later, and not at every tooth: if what closes it does not go in, this
    /// one has to come out again, a tooth on.
    pub ring_later: bool,
    /// Whether it sits outside, and all else is in: the plates are closed before it.
    pub plates_closed: bool,
    /// Witnesses to look at once it is in: whatever is done as told, they may be out of their windows.
    pub check: Vec<WitnessId>,
}

/// A witness to be set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Settle {
    /// Which, to be brought to its best.
    pub witness: WitnessId,
    /// The meshes whose teeth are chosen for it; more than one where they close at once and it takes them together.
    pub at: Vec<MeshId>,
    /// What is held meanwhile.
    pub held: Held,
}

/// What is held while a witness is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Held {
    /// The arbor of its moment, at that moment.
    Moment,
    /// The moment's arbor is not in yet: the arbor of this witness, with that at its best.
    Witness(WitnessId),
}

impl Settle {
    /// The arbor that is held.
    pub fn hold(&self, movement: &Movement) -> ArborId {
        match self.held {
            Held::Moment => movement.moment(movement.witness(self.witness).at).arbor,
            Held::Witness(other) => movement.witness(other).on,
        }
    }
}

/// What it costs to put an arbor in before another that usually goes in earlier, by rank: an arbor is awkward to get in past
/// a pin's, more so past the fly; what sits outside wants the plate on. And what it costs to set another mesh at once, to have
/// one come out again where a ring does not close, and to leave something to be looked at. Common practice, no source; only
/// their order matters much.
const EARLIER: [u32; 4] = [1, 2, 4, 2];
const AT_ONCE: u32 = 3;
const COME_OUT_AGAIN: u32 = 100;
const IN_DOUBT: u32 = 1000;

/// After so many ways begun the usual order is taken as it is.
pub const MOST_ORDERS: usize = 3000;

/// So it is after so many places of witnesses were gone through; of fifty made-up trains of 11 to 17 arbors the slowest took 1.2 s
/// of a processor for as many, a clock on its sheet needs a fifth of them.
pub const MOST_ORDER_PLACES: usize = 16_000_000;

/// An order in which arbors go in.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Order {
    /// Each, the first to go in first.
    pub steps: Vec<OrderStep>,
    /// Whether there were more orders to compare than are compared: then the usual one was taken for some of them.
    pub cut_short: bool,
}

/// The order in which these arbors go in, all others being in and rightly set.
pub fn order(movement: &Movement, out: &[ArborId]) -> Order {
    let mut waiting: Vec<ArborId> = out.to_vec();
    waiting.sort_by_key(|arbor| usual(movement, *arbor));
    waiting.dedup();
    let of_trains: Vec<Order> = (0..movement.trains())
        .map(|train| {
            let of_train = |arbor: &ArborId| movement.train_of(*arbor) == train;
            let waiting: Vec<ArborId> = waiting.iter().copied().filter(of_train).collect();
            of_one_train(movement, &waiting)
        })
        .collect();
    let cut_short = of_trains.iter().any(|train| train.cut_short);
    let mut trains: Vec<Vec<OrderStep>> = of_trains.into_iter().map(|train| train.steps).collect();
    // Each train in its own order; between them, whatever usually goes in first.
    let mut steps: Vec<OrderStep> = Vec::new();
    while let Some(train) = (0..trains.len())
        .filter(|&train| !trains[train].is_empty())
        .min_by_key(|&train| usual(movement, trains[train][0].arbor))
    {
        steps.push(trains[train].remove(0));
    }
    let inside = steps
        .iter()
        .rposition(|step| !outside(movement, step.arbor));
    let all_else = inside.map_or(0, |last| last + 1);
    for step in &mut steps[all_else..] {
        step.plates_closed = true;
    }
    Order { steps, cut_short }
}

/// A way of putting arbors in, begun; what costs least goes on first, of those the one nearest the usual order.
type Begun = Reverse<(u32, Vec<usize>)>;

fn of_one_train(movement: &Movement, waiting: &[ArborId]) -> Order {
    if waiting.is_empty() {
        return Order::default();
    }
    let Some(settling) = Settling::of(movement) else {
        return Order::default();
    };
    let present: BTreeSet<ArborId> = (movement.arbors())
        .map(|(id, _)| id)
        .filter(|id| !waiting.contains(id))
        .collect();
    let way = |order: &[usize]| {
        let mut way = Way::new(present.clone(), Some(settling.at_best()));
        for &n in order {
            way.go_on(&settling, waiting[n]);
        }
        way
    };
    let mut begun: BinaryHeap<Begun> = BinaryHeap::from([Reverse((0, Vec::new()))]);
    let mut met: BTreeSet<(BTreeSet<ArborId>, Option<BTreeSet<Stand>>)> = BTreeSet::new();
    while let Some(Reverse((cost, order))) = begun.pop() {
        let so_far = way(&order);
        if order.len() == waiting.len() {
            return Order {
                steps: so_far.steps,
                cut_short: false,
            };
        }
        if !met.insert((so_far.present.clone(), so_far.stands.clone())) {
            continue;
        }
        if met.len() > MOST_ORDERS || settling.gone_through() > MOST_ORDER_PLACES {
            break;
        }
        let left = || (0..waiting.len()).filter(|n| !order.contains(n));
        for next in left() {
            let mut further = so_far.clone();
            let step = further.go_on(&settling, waiting[next]);
            let before = left().take_while(|n| *n < next).count();
            let before = u32::try_from(before).unwrap_or(u32::MAX);
            let past = before * EARLIER[usual(movement, waiting[next]).0];
            let at_once: BTreeSet<&MeshId> = step.settles.iter().flat_map(|s| &s.at).collect();
            let at_once = u32::try_from(at_once.len().saturating_sub(1)).unwrap_or(u32::MAX);
            let in_doubt = if step.check.is_empty() { 0 } else { IN_DOUBT };
            let again = if step.ring_later { COME_OUT_AGAIN } else { 0 };
            let cost = cost + past + AT_ONCE * at_once + again + in_doubt;
            begun.push(Reverse((cost, [&order[..], &[next]].concat())));
        }
    }
    Order {
        steps: way(&(0..waiting.len()).collect::<Vec<_>>()).steps,
        cut_short: true,
    }
}

/// What is in, where all may stand, as far as that could be followed, and how it came to that.
#[derive(Clone)]
struct Way {
    present: BTreeSet<ArborId>,
    stands: Option<BTreeSet<Stand>>,
    steps: Vec<OrderStep>,
}

impl Way {
    fn new(present: BTreeSet<ArborId>, stands: Option<BTreeSet<Stand>>) -> Way {
        Way {
            present,
            stands,
            steps: Vec::new(),
        }
    }

    fn go_on(&mut self, settling: &Settling<'_>, arbor: ArborId) -> OrderStep {
        let put_in = |thorough| {
            let stands = self.stands.as_ref();
            settling.put_in(&self.present, stands, arbor, thorough)
        };
        let plain = put_in(false);
        let Settled { put, stands } = if plain.put.check.is_empty() {
            plain
        } else {
            put_in(true)
        };
        self.present.insert(arbor);
        self.stands = stands;
        self.steps.push(put.clone());
        put
    }
}

/// Whether an arbor sits outside the plates: all its meshes do.
fn outside(movement: &Movement, arbor: ArborId) -> bool {
    let mut own = (movement.meshes())
        .filter(|(_, mesh)| [mesh.driver.arbor, mesh.driven.arbor].contains(&arbor))
        .peekable();
    own.peek().is_some() && own.all(|(_, mesh)| mesh.reached == Reached::Outside)
}

/// The place of an arbor in the usual order: those that wait for others, the pin's, the fly, what sits outside; then how far
/// it is from the power.
fn usual(movement: &Movement, arbor: ArborId) -> (usize, usize, ArborId) {
    let drives = (movement.meshes()).any(|(_, mesh)| mesh.driver.arbor == arbor);
    let pin = (movement.witnesses()).any(|(_, w)| w.on == arbor && w.repeats.get() == 1);
    let deepest = (movement.arbors())
        .filter(|(id, _)| movement.same_train(*id, arbor))
        .map(|(id, _)| from_power(movement, id))
        .max();
    let far = from_power(movement, arbor);
    let rank = if outside(movement, arbor) {
        3
    } else if !drives && deepest == Some(far) {
        2
    } else {
        usize::from(pin)
    };
    (rank, far, arbor)
}

/// Meshes between an arbor and the one that its train takes its power from.
fn from_power(movement: &Movement, arbor: ArborId) -> usize {
    let mut arbor = arbor;
    let mut passed = 0;
    // Each arbor but the first is driven; a train has no ring of drivers, and no more arbors than there are.
    while let Some((_, mesh)) = movement.meshes().find(|(_, m)| m.driven.arbor == arbor) {
        arbor = mesh.driver.arbor;
        passed += 1;
        if passed > movement.arbors().len() {
            break;
        }
    }
    passed
}
