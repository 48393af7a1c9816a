//! The answer to one look: where everything stands, what cures it, where everything will stand.

use crate::act::{Lacks, Newest, RuleFacts};
use crate::effort::{Effort, Waiting};
use crate::goal::Goal;
use crate::hands::{Handling, Hands};
use crate::held::turned;
use crate::lattice::Sought;
use crate::reading::Reading;
use crate::sets::{Found, Untried, choose, level_of, reachable, some_places};
use crate::shift::{Shift, ShiftWay};
use crate::system::{Axis, System};
use crate::turn::{Turn, TurnBy};
use kinematics::step;
use movement::{Movement, WitnessId};
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
    /// These parts are turned on their arbors; with these shifts, from `read_at` outward, if there are any.
    Turn(Vec<Turn>, Vec<Shift>),
    /// No re-mesh does.
    NoMesh(Nearest),
    /// None was found that does, and not all could be tried.
    NotFound(Nearest),
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
    /// What was read so far off that a point or a figure may have slipped.
    pub far_off: Vec<Reading>,
    /// Whether a sound movement, mis-meshed somehow, or with parts that can be turned put on somehow, could show this.
    pub sound: bool,
    /// Whether anything that was read can be moved by turning a part on its arbor, by what the sheet says holds it.
    pub turnable: bool,
    /// What stands against closing up as it is: what was read now is the newest there is, and no arbor is known to be out.
    pub lacks: Lacks,
    /// Whether the search was cut short, so that what was left untried might be better.
    pub cut_short: bool,
    /// What was left untried.
    pub untried: Untried,
    /// Steps that the search took, the same on every machine; at most [`MOST_WORK`], and as many times that as was asked for.
    pub work: u64,
}

/// Steps that the search for one answer takes at most.
pub const MOST_WORK: u64 = WORK_SOUND + WORK_CHOICE + WORK_NEAREST + WORK_TURNS;

/// Work that one answer may take, in parts: whether a sound movement shows this, which shift, which comes nearest where none
/// does, and what turning parts on their arbors does. Together a second or so of a slow processor; the longest that is worth waiting for at a bench.
const WORK_SOUND: u64 = 60_000_000;
const WORK_CHOICE: u64 = 600_000_000;
const WORK_NEAREST: u64 = 240_000_000;
const WORK_TURNS: u64 = 200_000_000;

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

/// The same where parts are turned that go to any angle: what one of them moves by itself may have been put on anywhere.
fn anywhere(system: &System, reach: &[Degrees], turns: &[Turn]) -> Vec<Degrees> {
    let by_itself = |axis: &Axis| {
        turns.iter().any(|turn| {
            let any_angle = matches!(turn.by, TurnBy::Angle(_));
            any_angle && matches!(&turn.moves[..], [(id, _)] if *id == axis.witness)
        })
    };
    (system.axes.iter().zip(reach))
        .map(|(axis, reach)| match by_itself(axis) {
            true => &axis.period * &fraction(1, 2),
            false => reach.clone(),
        })
        .collect()
}

/// Answers one look. `readings` are of different witnesses and at least one; they are taken in sheet order.
pub fn answer(movement: &Movement, readings: &[Reading], hands: Hands) -> Answer {
    answer_watched(movement, readings, hands, 1, &Waiting::default())
}

/// The same with so many times the work, and with somebody who waits for it.
pub fn answer_watched(
    movement: &Movement,
    readings: &[Reading],
    hands: Hands,
    times: u32,
    waiting: &Waiting,
) -> Answer {
    let of = |work: u64| Effort::watched(work * u64::from(times.max(1)), waiting);
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
    let (for_sound, for_choice, for_nearest) = (of(WORK_SOUND), of(WORK_CHOICE), of(WORK_NEAREST));
    let for_turns = of(WORK_TURNS);
    let reach = allowance(&system, readings);
    let (mut sound, _) =
        for_sound.within(WORK_SOUND / 2, || reachable(&system, &reach, &for_sound));
    let lacks = Lacks {
        parts: if all_in_now && !sound {
            suspects(movement, readings, &for_sound)
        } else {
            Vec::new()
        },
        ..facts(movement, readings, &unread, now.in_window).lacks()
    };
    let (mut untried, mut after, mut handled) = (Untried::default(), now.clone(), now.in_window);
    let mut turnable = false;
    let cure = if all_in_now {
        Cure::NoneNeeded
    } else {
        let found = choose(&Goal::windows(&system, &for_choice));
        let level = match &found {
            Found::Best(choice, _) => {
                Some(level_of(&system, choice.shifts.iter().map(|(m, _)| *m)))
            }
            Found::Nothing | Found::Unknown(_) => None,
        };
        let turned = turned(movement, readings, level, &for_turns);
        turnable = turned.can_be;
        let by_turning = turned.cure.and_then(|cure| {
            let movers = cure.movers(&system);
            let shifts = as_shifts(movement, &system, &movers)?;
            after = standing(&system, readings, &cure.places);
            handled = cure.after_hands(&system, &movers, hands);
            sound |= for_sound
                .within(WORK_SOUND / 4, || {
                    let reach = anywhere(&system, &reach, &cure.turns);
                    reachable(&cure.without_shifts(&system), &reach, &for_sound)
                })
                .0;
            Some(Cure::Turn(cure.turns, shifts))
        });
        let cure = by_turning.unwrap_or_else(|| match found {
            Found::Best(choice, left) => {
                untried = left;
                if let Some(shifts) = as_shifts(movement, &system, &choice.shifts) {
                    after = standing(&system, readings, &choice.places);
                    handled = after_hands(&system, &choice.shifts, hands);
                    Cure::Shift(shifts)
                } else {
                    untried.beyond_count = true;
                    Cure::NotFound(nearest(movement, &system, readings, &for_nearest).0)
                }
            }
            Found::Nothing => {
                let (nearest, whole) = nearest(movement, &system, readings, &for_nearest);
                untried.nearer = !whole;
                Cure::NoMesh(nearest)
            }
            Found::Unknown(left) => {
                untried = left;
                untried.nearer = true;
                Cure::NotFound(nearest(movement, &system, readings, &for_nearest).0)
            }
        });
        untried.turns = turned.untried;
        cure
    };
    Answer {
        now,
        cure,
        after,
        after_handled: handled,
        unread,
        far_off: (readings.iter().filter(|r| r.far_off.is_some()))
            .cloned()
            .collect(),
        sound,
        turnable,
        lacks,
        cut_short: !untried.is_nothing(),
        untried,
        work: for_sound.spent() + for_choice.spent() + for_nearest.spent() + for_turns.spent(),
    }
}

/// What the rule of closing up asks, from one look alone.
fn facts(
    movement: &Movement,
    readings: &[Reading],
    unread: &[WitnessId],
    in_window: Chance,
) -> RuleFacts {
    let timed = movement.witnesses().map(|(id, _)| id);
    let read = readings
        .iter()
        .map(|reading| (reading.witness, Newest::of(movement, reading)));
    let unread = unread.iter().map(|id| (*id, Newest::Unread));
    RuleFacts {
        newest: read.chain(unread).collect(),
        out: Vec::new(),
        bent: Vec::new(),
        in_window,
        usual: timed.filter(|id| movement.is_usual(*id)).collect(),
        // As surely as it was read, and no surer, is all that one look is gone by.
        inferred: Vec::new(),
    }
}

/// Where a lever is bent or a part has slipped, when no sound movement shows what was read: whatever alone would do, the rest
/// being sound; everything that was read, where no one part would.
fn suspects(movement: &Movement, readings: &[Reading], effort: &Effort<'_>) -> Vec<WitnessId> {
    let all = || readings.iter().map(|reading| reading.witness);
    let alone: Vec<WitnessId> = all()
        .filter(|id| {
            let mut rest = readings.to_vec();
            rest.retain(|reading| reading.witness != *id);
            let system = System::of(movement, &rest);
            let reach = allowance(&system, &rest);
            let share = WORK_SOUND / 2 / readings.len() as u64;
            !rest.is_empty()
                && effort
                    .within(share, || reachable(&system, &reach, effort))
                    .0
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

/// Movers and teeth as shifts, from `read_at` outward and then in sheet order; nothing where one has more teeth than a machine word
/// holds, which would be a wheel larger than the earth.
fn as_shifts(
    movement: &Movement,
    system: &System,
    shifts: &[(usize, BigInt)],
) -> Option<Vec<Shift>> {
    let said: Option<Vec<Shift>> = shifts
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
            Some(Shift {
                mesh,
                teeth: teeth.abs().to_i64()?,
                way: match (either, teeth.is_negative()) {
                    (true, _) => ShiftWay::Either,
                    (false, false) => ShiftWay::Ahead,
                    (false, true) => ShiftWay::Back,
                },
            })
        })
        .collect();
    let mut said = said?;
    said.sort_by_key(|shift| {
        let far = movement.far_arbor(shift.mesh);
        (far.map(|far| movement.distance(far)), shift.mesh)
    });
    Some(said)
}

/// Work that goes into what hands may do; their rarest faults at once are left out where there are too many.
const WORK_HANDS: usize = 40_000_000;

/// With more meshes than this, what two or more hands' faults together would come to is left out, as if out of window:
/// six meshes right at once are half, and their faults at once a few parts in a thousand each.
const MOST_TOGETHER: usize = 5;

/// What may come of several shifts by hands.
struct Handled {
    chance: f64,
    /// How many of them were done amiss.
    amiss: usize,
    /// Movers and teeth, as they then went.
    done: Vec<(usize, BigInt)>,
}

/// The chance that all is in after the shifts, when each may go the wrong way or slip a tooth.
pub(crate) fn after_hands(system: &System, shifts: &[(usize, BigInt)], hands: Hands) -> Chance {
    let mut faults_at_once = if shifts.len() > MOST_TOGETHER {
        1
    } else {
        shifts.len()
    };
    let work = crate::chance::work(&system.targets());
    while faults_at_once > 1 && outcomes(shifts.len(), faults_at_once) * work > WORK_HANDS {
        faults_at_once -= 1;
    }
    let mut outcomes = vec![Handled {
        chance: 1.0,
        amiss: 0,
        done: Vec::new(),
    }];
    for (m, teeth) in shifts {
        let mut next = Vec::new();
        for Handled {
            chance,
            amiss,
            done,
        } in &outcomes
        {
            // One more or less is added to it; what is beyond a machine word is told as no shift.
            let teeth = teeth
                .to_i64()
                .unwrap_or(i64::MAX - 1)
                .clamp(-i64::MAX + 1, i64::MAX - 1);
            for one in hands.outcomes(teeth) {
                let amiss = amiss + usize::from(one.handling != Handling::AsSaid);
                if amiss <= faults_at_once {
                    let mut done = done.clone();
                    done.push((*m, BigInt::from(one.teeth)));
                    next.push(Handled {
                        chance: chance * one.share,
                        amiss,
                        done,
                    });
                }
            }
        }
        outcomes = next;
    }
    Chance::of(
        outcomes
            .iter()
            .map(|outcome| outcome.chance * system.chance_after(&outcome.done))
            .sum(),
    )
}

/// In how many ways hands may do so many shifts, with at most so many of them done amiss: each of those in three ways.
fn outcomes(shifts: usize, amiss: usize) -> usize {
    let (mut ways, mut all) = (1, 1);
    for n in 0..amiss {
        ways = ways * 3 * (shifts - n) / (n + 1);
        all += ways;
    }
    all
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

/// The shift whose worst witness misses its window by least; and whether all were tried.
fn nearest(
    movement: &Movement,
    system: &System,
    readings: &[Reading],
    effort: &Effort<'_>,
) -> (Nearest, bool) {
    let mut whole = true;
    let stands: Vec<Degrees> = readings.iter().map(|r| r.stands.clone()).collect();
    let worst_of = |places: &[Degrees]| misses(system, places).into_iter().max();
    let mut least = worst_of(&stands).unwrap_or_else(|| Exact::from_integer(0.into()));
    let mut best: (Vec<Shift>, Vec<Degrees>) = (Vec::new(), stands);
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
        Goal::of(system, &windows, effort)
    };
    let mut nearer = |part: &Exact| {
        let found = effort.within(WORK_NEAREST / 32, || some_places(&widened(part)));
        match found.0 {
            Sought::Point(places) => worst_of(&places),
            Sought::Nothing => None,
            Sought::LeftOff => {
                whole = false;
                None
            }
        }
    };
    let (mut too_near, mut nearer_may_be) = (Exact::from_integer(0.into()), false);
    for _ in 0..MOST_CLOSER {
        // What is left is for the choice among those that come as near.
        if effort.left() < WORK_NEAREST / 2 {
            nearer_may_be = true;
            break;
        }
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
    if worst_of(&best.1).is_some_and(|worst| least < worst) {
        match choose(&widened(&least)) {
            Found::Best(choice, untried) => {
                nearer_may_be |= !untried.is_nothing();
                match as_shifts(movement, system, &choice.shifts) {
                    Some(shifts) => best = (shifts, choice.places),
                    None => nearer_may_be = true,
                }
            }
            Found::Nothing | Found::Unknown(_) => nearer_may_be = true,
        }
    }
    let misses = misses(system, &best.1);
    let worst = (0..misses.len())
        .max_by(|&a, &b| misses[a].cmp(&misses[b]).then(b.cmp(&a)))
        .unwrap_or(0);
    let axis = &system.axes[worst];
    let nearest = Nearest {
        shifts: best.0,
        after: standing(system, readings, &best.1),
        worst: Miss {
            witness: axis.witness,
            by: &(&axis.to - &axis.from) * &misses[worst],
            part: to_f64(&misses[worst]),
        },
    };
    (nearest, whole && !nearer_may_be)
}

/// Each round of closing in halves what is left; sixty rounds are more than double precision has figures.
const MOST_CLOSER: usize = 60;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::SaidReading;

    const SHEET: &str = include_str!("../../../movements/schoolroom.toml");

    #[test]
    fn teeth_that_no_word_holds_are_no_shift() {
        let sheet = sheet::read(SHEET.as_bytes()).expect("a good sheet");
        let movement = sheet.movement;
        let mut witnesses = movement.witnesses();
        let star = witnesses.find(|(_, witness)| witness.id == "star");
        let (star, _) = star.expect("a witness");
        let reading = crate::read(
            &movement,
            star,
            &SaidReading::Degrees(Degrees::zero(), None),
        );
        let system = System::of(&movement, &[reading.expect("a reading")]);
        let most = BigInt::from(i64::MAX);
        let said = |teeth: BigInt| as_shifts(&movement, &system, &[(0, teeth)]);
        assert_eq!(said(-&most).expect("a shift")[0].teeth, i64::MAX);
        assert_eq!(said(most + 1), None);
    }
}
