//! When it may be closed up, and what is to be done until then.
//!
//! That everything is in its window is a fact about the movement, not a bargain: [`Facts::lacks`] says what still stands
//! against it, and only where nothing does is the act [`Act::Done`]. What is done about the rest is [`act`]. No sums here,
//! and nothing else decides.

use crate::shift::Shift;
use crate::turn::Turn;
use movement::{ArborId, WitnessId};
use quantity::Chance;

/// How surely all must be in its window. By simulation on the schoolroom train, with an eye twice as bad as it is taken
/// for: 0.8 gives five false dones in a thousand, 0.95 one, at a twentieth more openings; 0.999 costs a quarter more.
pub const SURE: f64 = 0.95;

/// How surely what locks must be in its window by itself where nobody saw it there, but only inferred from its notch. By simulation, see
/// `docs/decisions/closing.md`.
pub const INFERRED: f64 = 0.99;

/// How likely it must be that no lever is bent and no part has slipped: likelier than not.
pub const SOUND: f64 = 0.5;

/// Where all is in by less than this, what was read outside is out.
const OUT: f64 = 0.05;

/// A look that would raise the chance by no more than this settles nothing.
pub const SETTLES: f64 = 0.01;

/// What was read of a witness since anything last moved in its train.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Newest {
    /// Nothing.
    Unread,
    /// Its newest reading stands in its window.
    In,
    /// Its newest reading stands outside.
    Out,
    /// Its newest reading was said so far off that a point or a figure may have slipped.
    FarOff,
}

/// All that the rule asks of a movement.
#[derive(Debug, Clone, PartialEq)]
pub struct RuleFacts {
    /// Each witness of the trains that are timed, in sheet order.
    pub newest: Vec<(WitnessId, Newest)>,
    /// The arbors that are out, of any train, in the order they go in.
    pub out: Vec<ArborId>,
    /// For each witness, the chance that its lever is bent or its part has slipped.
    pub bent: Vec<(WitnessId, Chance)>,
    /// The chance that all these witnesses are in their windows at once, from all looks.
    pub in_window: Chance,
    /// Witnesses whose windows are known from usual proportions alone.
    pub usual: Vec<WitnessId>,
    /// What locks and was only inferred to stand in its window, at rest through its notch, and not well inside.
    pub inferred: Vec<WitnessId>,
}

impl RuleFacts {
    /// The chance that nothing is bent or has slipped.
    pub fn sound(&self) -> Chance {
        let bent: f64 = self.bent.iter().map(|(_, chance)| chance.get()).sum();
        Chance::of(1.0 - bent)
    }

    /// What stands against closing up: the rule.
    pub fn lacks(&self) -> Lacks {
        let stands = |how: Newest| {
            (self.newest.iter())
                .filter(move |(_, newest)| *newest == how)
                .map(|(id, _)| *id)
                .collect()
        };
        Lacks {
            blind: self.newest.is_empty(),
            unread: stands(Newest::Unread),
            outside: stands(Newest::Out),
            far_off: stands(Newest::FarOff),
            arbors: self.out.clone(),
            parts: if self.sound().get() < SOUND {
                self.suspects()
            } else {
                Vec::new()
            },
            usual: self.usual.clone(),
            inferred: self.inferred.clone(),
            unsure: self.in_window.get() < SURE,
        }
    }

    /// Where a lever or a part is looked at first: the likeliest, and whatever is at least half as likely.
    fn suspects(&self) -> Vec<WitnessId> {
        let mut suspects = self.bent.clone();
        suspects.sort_by(|a, b| b.1.get().total_cmp(&a.1.get()).then(a.0.cmp(&b.0)));
        let most = suspects.first().map_or(0.0, |(_, chance)| chance.get());
        (suspects.into_iter())
            .filter(|(_, chance)| chance.get() >= 0.5 * most)
            .map(|(id, _)| id)
            .collect()
    }

    /// The facts of several trains, each thought over by itself, as those of all together.
    pub fn together(each: &[RuleFacts]) -> RuleFacts {
        let all = |of: fn(&RuleFacts) -> &[WitnessId]| each.iter().flat_map(of).copied().collect();
        let sound: f64 = each.iter().map(|facts| facts.sound().get()).product();
        let bent: f64 = (each.iter().flat_map(|facts| &facts.bent))
            .map(|(_, chance)| chance.get())
            .sum();
        // That some part of one train or another is bent is a little less than the sum of it.
        let share = if bent > 0.0 {
            (1.0 - sound) / bent
        } else {
            0.0
        };
        let mut newest: Vec<_> = each.iter().flat_map(|facts| facts.newest.clone()).collect();
        newest.sort_by_key(|(id, _)| *id);
        RuleFacts {
            newest,
            out: each
                .first()
                .map_or_else(Vec::new, |facts| facts.out.clone()),
            bent: (each.iter().flat_map(|facts| &facts.bent))
                .map(|(id, chance)| (*id, Chance::of(share * chance.get())))
                .collect(),
            in_window: Chance::of(each.iter().map(|facts| facts.in_window.get()).product()),
            usual: all(|facts| &facts.usual),
            inferred: all(|facts| &facts.inferred),
        }
    }
}

/// What stands against closing up.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Lacks {
    /// Nothing shows how the train stands: no witness is timed.
    pub blind: bool,
    /// Not read since anything moved in its train.
    pub unread: Vec<WitnessId>,
    /// Last read outside its window.
    pub outside: Vec<WitnessId>,
    /// Last read so far off that a point or a figure may have slipped, in its window or outside.
    pub far_off: Vec<WitnessId>,
    /// Out, in the order they go in.
    pub arbors: Vec<ArborId>,
    /// That a lever or a part is off is likelier than not, and likeliest at these, the likeliest first.
    pub parts: Vec<WitnessId>,
    /// Known from usual proportions alone.
    pub usual: Vec<WitnessId>,
    /// Only inferred at rest, through the notch, and not well inside.
    pub inferred: Vec<WitnessId>,
    /// Less sure than it must be.
    pub unsure: bool,
}

impl Lacks {
    /// Whether nothing does: it may be closed up.
    pub fn nothing(&self) -> bool {
        *self == Lacks::default()
    }
}

/// What to do next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Act {
    /// Close up: nothing stands against it.
    Done,
    /// Look, or look again; the first of these tells most.
    Look(Vec<WitnessId>),
    /// Shift, from `read_at` outward.
    Shift(Vec<Shift>),
    /// Turn these parts on their arbors, and look again.
    Turn(Vec<Turn>),
    /// Put these arbors in, in this order.
    PutIn(Vec<ArborId>),
    /// Look for a bent lever or a slipped part first, at the first of these before the others.
    Part(Vec<WitnessId>),
    /// Nothing that can be read or moved would settle it: close up finger-tight, and prove the hours.
    Prove,
    /// No re-mesh brings everything into its window.
    NoMesh,
}

/// What work there is, and what it is worth.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct WorkLeft {
    /// Whether some way of meshing has everything in its window.
    pub reachable: bool,
    /// The shift that costs least, of arbors that are in; empty if leaving all as it is costs less.
    pub shift: Vec<Shift>,
    /// The parts that, turned on their arbors, bring in what was last read outside, and come before the shifts that do.
    pub turn: Vec<Turn>,
    /// Witnesses that no shift and no turn moves between their places, and that were last read between them.
    pub stuck: Vec<WitnessId>,
    /// Witnesses that were all read as a sound train shows them at another drop than the one that is meant, with every arbor in.
    pub another_drop: Vec<WitnessId>,
    /// Whether a part was turned last, and nothing was read since: which way it went is soon seen.
    pub turned_unseen: bool,
    /// Witnesses of which a look saves more labour than it costs, the one that saves most first.
    pub looks: Vec<WitnessId>,
    /// All witnesses that can be read, the most doubtful first.
    pub doubtful: Vec<WitnessId>,
    /// Whether looking at them again, if it shows what is to be expected, settles it.
    pub settles: bool,
}

/// What to do next. What may be a slip of the figure is looked at again before anything rests on it. A part that is off is set
/// right before anything is moved on account of it; while an arbor is out, what is wrong among the others is moved in the same
/// opening; what costs nothing is done before what costs an opening.
pub fn act(facts: &RuleFacts, work: &WorkLeft) -> Act {
    let lacks = facts.lacks();
    if lacks.nothing() {
        return Act::Done;
    }
    if !lacks.far_off.is_empty() {
        return Act::Look(joined(&lacks.far_off, &work.looks));
    }
    // Nothing is moved on account of a drop that was not meant.
    if !work.another_drop.is_empty() {
        return Act::Look(work.another_drop.clone());
    }
    if work.turned_unseen && !lacks.unread.is_empty() && lacks.arbors.is_empty() {
        return Act::Look(joined(&work.looks, &lacks.unread));
    }
    // A part put on its arbor otherwise spreads no plates, and is likelier than a bent lever where it explains what was read.
    // It takes no opening and is soon tried, so what was read already is not read again first.
    let other = work.reachable
        && lacks.parts.is_empty()
        && !lacks.unread.is_empty()
        && !work.looks.is_empty();
    if !work.turn.is_empty() && lacks.unsure && !other {
        return Act::Turn(work.turn.clone());
    }
    if !work.reachable {
        return Act::NoMesh;
    }
    if !lacks.parts.is_empty() {
        return Act::Part(lacks.parts);
    }
    // However often it is looked at, nothing that can be moved brings it in.
    if !work.stuck.is_empty() {
        return Act::Part(work.stuck.clone());
    }
    if work.looks.is_empty() && !work.shift.is_empty() {
        return Act::Shift(work.shift.clone());
    }
    if !lacks.arbors.is_empty() {
        return Act::PutIn(lacks.arbors);
    }
    if !work.looks.is_empty() || !lacks.unread.is_empty() {
        return Act::Look(joined(&work.looks, &lacks.unread));
    }
    // Where all looks together show that all is in, only what was last read outside is read again: of the rest another
    // reading could but stray.
    if !lacks.unsure && !lacks.outside.is_empty() {
        return Act::Look(lacks.outside);
    }
    if lacks.unsure && work.settles {
        return Act::Look(joined(&lacks.outside, &work.doubtful));
    }
    // What was last read outside, and stands there by all looks, would fail at the first hour: it is no train to be proved.
    if facts.in_window.get() < OUT && !lacks.outside.is_empty() {
        return Act::Part(lacks.outside);
    }
    Act::Prove
}

/// One list after the other, each witness once.
fn joined(first: &[WitnessId], then: &[WitnessId]) -> Vec<WitnessId> {
    let mut all = first.to_vec();
    all.extend(then.iter().filter(|id| !first.contains(id)));
    all
}
