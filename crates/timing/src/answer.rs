//! The answer to one look: where everything stands, what cures it, where everything will stand.

use crate::act::{Facts, Lacks, Newest};
use crate::belief::Handling;
use crate::choose::{Found, Goal, choose, reachable};
use crate::reading::Reading;
use crate::system::System;
use kinematics::step;
use movement::{MeshId, Movement, WitnessId};
use num_traits::{Signed, ToPrimitive};
use quantity::{BigInt, Chance, Degrees, Exact, Spread, fraction, to_f64};

/// A witness that was read, and the chance that it is in its window.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// Which.
    pub witness: WitnessId,
    /// The alike place nearest its best.
    pub stands: Degrees,
    /// The reading's spread.
    pub spread: Spread,
    /// The chance that it is in its window.
    pub in_window: Chance,
}

/// All witnesses that were read, at one time.
#[derive(Debug, Clone, PartialEq)]
pub struct Stands {
    /// Each, in sheet order.
    pub witnesses: Vec<Standing>,
    /// The chance that all are in their windows.
    pub in_window: Chance,
}

/// Which way a far arbor is shifted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Further on in its own direction of running.
    Ahead,
    /// Against it.
    Back,
    /// Both ways come to the same places.
    Either,
}

/// One mesh opened, its far arbor turned some teeth, closed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shift {
    /// The mesh.
    pub mesh: MeshId,
    /// How many teeth; from 1.
    pub teeth: i64,
    /// Which way.
    pub way: Way,
}

impl Shift {
    /// Teeth, ahead positive; `either` counts as ahead.
    pub fn signed(&self) -> i64 {
        match self.way {
            Way::Back => -self.teeth,
            Way::Ahead | Way::Either => self.teeth,
        }
    }
}

/// How far a witness misses its window.
#[derive(Debug, Clone, PartialEq)]
pub struct Miss {
    /// Which.
    pub witness: WitnessId,
    /// By how much, in degrees.
    pub by: Degrees,
    /// By what part of the window's width.
    pub part: f64,
}

/// Where no shift does: the one that comes nearest, or none if leaving all alone does.
#[derive(Debug, Clone, PartialEq)]
pub struct Nearest {
    /// From `read_at` outward.
    pub shifts: Vec<Shift>,
    /// Where everything would stand.
    pub after: Stands,
    /// The witness that misses its window by the largest part.
    pub worst: Miss,
}

/// What cures it.
#[derive(Debug, Clone, PartialEq)]
pub enum Cure {
    /// All that were read are in their windows.
    NoneNeeded,
    /// These shifts, from `read_at` outward.
    Shift(Vec<Shift>),
    /// No re-mesh does.
    NoMesh(Nearest),
}

/// How sure hands are, as the tool judges them until it knows better.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hands {
    /// The chance that a wheel is turned the wrong way.
    pub wrong_way: Chance,
    /// The chance that it slips a tooth, either way alike, as the plates close.
    pub slip: Chance,
}

impl Default for Hands {
    /// One shift in ten goes the wrong way, and three in a hundred slip a tooth: common practice, no source.
    fn default() -> Hands {
        Hands {
            wrong_way: Chance::of(0.10),
            slip: Chance::of(0.03),
        }
    }
}

impl Hands {
    /// What may come of so many teeth at one mesh: how likely, how many teeth it then is, and how it was handled.
    pub(crate) fn outcomes(&self, teeth: i64) -> [(f64, i64, Handling); 4] {
        let (wrong, slip) = (self.wrong_way.get(), self.slip.get());
        [
            ((1.0 - wrong) * (1.0 - slip), teeth, Handling::AsSaid),
            (wrong * (1.0 - slip), -teeth, Handling::OtherWay),
            (0.5 * slip, teeth + 1, Handling::Slipped),
            (0.5 * slip, teeth - 1, Handling::Slipped),
        ]
    }
}

/// The answer to one look.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// Where all stands now.
    pub now: Stands,
    /// What cures it.
    pub cure: Cure,
    /// Where all stands after the shifts are done as said.
    pub after: Stands,
    /// The chance that all is in then, allowing for a wrong way or a slip.
    pub after_handled: Chance,
    /// Witnesses without a reading, in sheet order.
    pub unread: Vec<WitnessId>,
    /// Whether a sound movement, mis-meshed somehow, could show this.
    pub sound: bool,
    /// What stands against closing up as it is: what was read now is the newest there is, and no arbor is known to be out.
    pub lacks: Lacks,
    /// Whether there were too many sets of meshes to try them all, so that fewer meshes might do.
    pub cut_short: bool,
}

/// How far from best a sound movement may be read, in half windows: half way to the window's end, or two spreads.
/// Common practice, no source; farther off than half the window, a lever or a slipped part is the likelier cause.
fn allowance(system: &System, readings: &[Reading]) -> Vec<Degrees> {
    (system.axes.iter().zip(readings))
        .map(|(axis, reading)| {
            let quarter = &axis.half() * &fraction(1, 2);
            let two_spreads = Exact::from_float(2.0 * reading.spread.as_deg()).map(Degrees::deg);
            two_spreads.map_or(quarter.clone(), |two| two.max(quarter))
        })
        .collect()
}

/// Answers one look. `readings` are of different witnesses and at least one; they are taken in sheet order.
pub fn answer(movement: &Movement, readings: &[Reading], hands: Hands) -> Answer {
    let mut readings = readings.to_vec();
    readings.sort_by_key(|reading| reading.witness);
    let readings = &readings[..];
    let system = System::of(movement, readings);
    let stands: Vec<Degrees> = readings.iter().map(|r| r.stands.clone()).collect();
    let now = standing(&system, readings, &stands);
    let unread: Vec<WitnessId> = movement
        .witnesses()
        .map(|(id, _)| id)
        .filter(|id| !readings.iter().any(|r| r.witness == *id))
        .collect();
    let all_in_now = readings
        .iter()
        .all(|r| movement.witness(r.witness).admits(&r.stands));
    let sound = reachable(&system, &allowance(&system, readings));
    let lacks = Lacks {
        parts: if all_in_now && !sound {
            suspects(movement, readings)
        } else {
            Vec::new()
        },
        ..facts(movement, readings, &unread, now.in_window).lacks()
    };
    let (mut cut_short, mut after, mut handled) = (false, now.clone(), now.in_window);
    let cure = if all_in_now {
        Cure::NoneNeeded
    } else {
        match choose(&Goal::windows(&system)) {
            Found::Nothing => Cure::NoMesh(nearest(movement, &system, readings)),
            found => {
                cut_short = matches!(found, Found::CutShort(_));
                let (Found::Best(choice) | Found::CutShort(choice)) = found else {
                    unreachable!("the other case is above")
                };
                after = standing(&system, readings, &choice.places);
                handled = after_hands(&system, &choice.shifts, hands);
                Cure::Shift(said(movement, &system, &choice.shifts))
            }
        }
    };
    Answer {
        now,
        cure,
        after,
        after_handled: handled,
        unread,
        sound,
        lacks,
        cut_short,
    }
}

/// What the rule of closing up asks, from one look alone.
fn facts(
    movement: &Movement,
    readings: &[Reading],
    unread: &[WitnessId],
    in_window: Chance,
) -> Facts {
    let read = readings.iter().map(|reading| {
        let admitted = movement.witness(reading.witness).admits(&reading.stands);
        let newest = if admitted { Newest::In } else { Newest::Out };
        (reading.witness, newest)
    });
    let unread = unread.iter().map(|id| (*id, Newest::Unread));
    Facts {
        newest: read.chain(unread).collect(),
        out: Vec::new(),
        bent: Vec::new(),
        in_window,
        usual: Vec::new(),
    }
}

/// Where a lever is bent or a part has slipped, when no sound movement shows what was read: whatever alone would do, the rest
/// being sound; everything that was read, where no one part would.
fn suspects(movement: &Movement, readings: &[Reading]) -> Vec<WitnessId> {
    let all = || readings.iter().map(|reading| reading.witness);
    let alone: Vec<WitnessId> = all()
        .filter(|id| {
            let mut rest = readings.to_vec();
            rest.retain(|reading| reading.witness != *id);
            let system = System::of(movement, &rest);
            !rest.is_empty() && reachable(&system, &allowance(&system, &rest))
        })
        .collect();
    if alone.is_empty() {
        all().collect()
    } else {
        alone
    }
}

fn standing(system: &System, readings: &[Reading], places: &[Degrees]) -> Stands {
    let witnesses = (system.axes.iter().zip(readings).zip(places))
        .map(|((axis, reading), place)| Standing {
            witness: axis.witness,
            stands: place.clone(),
            spread: reading.spread,
            in_window: Chance::of(axis.target.alone(place.to_f64())),
        })
        .collect();
    Stands {
        witnesses,
        in_window: Chance::of(system.chance(places)),
    }
}

/// Movers and teeth as shifts, from `read_at` outward and then in sheet order.
fn said(movement: &Movement, system: &System, shifts: &[(usize, BigInt)]) -> Vec<Shift> {
    let mut said: Vec<Shift> = shifts
        .iter()
        .map(|(m, teeth)| {
            let mesh = system.movers[*m].mesh;
            let either = movement.witnesses().all(|(w, witness)| {
                let Some(step) = step(movement, mesh, w) else {
                    return true;
                };
                // There and back differ by twice the teeth.
                let twice = step.exact() * Exact::from_integer(teeth * 2i32);
                (twice / witness.period().exact()).is_integer()
            });
            Shift {
                mesh,
                // More teeth than a machine word holds would be a wheel larger than the earth.
                teeth: teeth.abs().to_i64().unwrap_or(i64::MAX),
                way: match (either, teeth.is_negative()) {
                    (true, _) => Way::Either,
                    (false, false) => Way::Ahead,
                    (false, true) => Way::Back,
                },
            }
        })
        .collect();
    said.sort_by_key(|shift| {
        let far = movement.far_arbor(shift.mesh);
        (far.map(|far| movement.distance(far)), shift.mesh)
    });
    said
}

/// With more meshes than this, what two or more hands' faults together would come to is left out, as if out of window:
/// six meshes right at once are half, and their faults at once a few parts in a thousand each.
const MOST_TOGETHER: usize = 5;

/// A chance, how many hands' faults it takes, and what was then done.
type Outcome = (f64, usize, Vec<(usize, BigInt)>);

/// The chance that all is in after the shifts, when each may go the wrong way or slip a tooth.
fn after_hands(system: &System, shifts: &[(usize, BigInt)], hands: Hands) -> Chance {
    let faults_at_once = if shifts.len() > MOST_TOGETHER {
        1
    } else {
        shifts.len()
    };
    let mut outcomes: Vec<Outcome> = vec![(1.0, 0, Vec::new())];
    for (m, teeth) in shifts {
        let mut next = Vec::new();
        for (chance, faults, done) in &outcomes {
            // More teeth than a machine word holds would be a wheel larger than the earth.
            let teeth = teeth.to_i64().unwrap_or(i64::MAX - 1);
            for (share, teeth, handling) in hands.outcomes(teeth) {
                let fault = usize::from(handling != Handling::AsSaid);
                if faults + fault <= faults_at_once {
                    let mut done = done.clone();
                    done.push((*m, BigInt::from(teeth)));
                    next.push((chance * share, faults + fault, done));
                }
            }
        }
        outcomes = next;
    }
    Chance::of(
        outcomes
            .iter()
            .map(|(chance, _, done)| chance * system.chance_after(done))
            .sum(),
    )
}

/// How far a place misses a window, exactly; nothing where it is in.
fn misses(system: &System, places: &[Degrees]) -> Vec<Exact> {
    (system.axes.iter().zip(places))
        .map(|(axis, place)| {
            let width = (&axis.to - &axis.from).exact().clone();
            // Of the alike places the one before the window, or in it, and the next.
            let turns = ((place - &axis.from).exact() / axis.period.exact()).floor();
            let above = (place - &axis.from).exact() - turns * axis.period.exact();
            let beyond = &above - &width;
            let before = axis.period.exact() - &above;
            if beyond <= Exact::from_integer(0.into()) {
                Exact::from_integer(0.into())
            } else {
                beyond.min(before) / width
            }
        })
        .collect()
}

fn nearest(movement: &Movement, system: &System, readings: &[Reading]) -> Nearest {
    let stands: Vec<Degrees> = readings.iter().map(|r| r.stands.clone()).collect();
    let worst_of = |places: &[Degrees]| misses(system, places).into_iter().max();
    let mut least = worst_of(&stands).unwrap_or_else(|| Exact::from_integer(0.into()));
    let mut best: (Vec<(usize, BigInt)>, Vec<Degrees>) = (Vec::new(), stands);
    // Windows widened by a part of their width on each side.
    let widened = |part: &Exact| -> Goal<'_> {
        let windows: Vec<(Degrees, Degrees)> = (system.axes.iter())
            .map(|axis| {
                let more = &(&axis.to - &axis.from) * part;
                // Never so wide that it overlaps itself: a window as wide as its period admits every place.
                let room = &(&axis.period - &(&axis.to - &axis.from)) * &fraction(1, 2);
                let more = more.min(room);
                (&axis.from - &more, &axis.to + &more)
            })
            .collect();
        Goal::of(system, &windows)
    };
    let nearer = |part: &Exact| worst_of(&widened(part).everything().some_places()?);
    let mut too_near = Exact::from_integer(0.into());
    for _ in 0..MOST_CLOSER {
        // No two places of real counts miss by parts that differ so little.
        match nearer(&(&least * fraction(999_999_999_999, 1_000_000_000_000))) {
            Some(worst) if worst < least => least = worst,
            _ => break,
        }
        let middle = (&too_near + &least) * fraction(1, 2);
        // What lies between need not be known to the last figure, and would grow by a figure each round.
        let middle = Exact::from_float(to_f64(&middle)).unwrap_or(middle);
        match nearer(&middle) {
            Some(worst) if worst < least => least = worst,
            _ => too_near = middle,
        }
    }
    // Of all that miss by as little, the one the rule would have.
    if worst_of(&best.1).is_some_and(|worst| least < worst)
        && let Found::Best(choice) | Found::CutShort(choice) = choose(&widened(&least))
    {
        best = (choice.shifts, choice.places);
    }
    let misses = misses(system, &best.1);
    let worst = (0..misses.len())
        .max_by(|&a, &b| misses[a].cmp(&misses[b]).then(b.cmp(&a)))
        .unwrap_or(0);
    let axis = &system.axes[worst];
    Nearest {
        shifts: said(movement, system, &best.0),
        after: standing(system, readings, &best.1),
        worst: Miss {
            witness: axis.witness,
            by: &(&axis.to - &axis.from) * &misses[worst],
            part: to_f64(&misses[worst]),
        },
    }
}

/// Each round of closing in halves what is left; sixty rounds are more than double precision has figures.
const MOST_CLOSER: usize = 60;
