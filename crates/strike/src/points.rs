//! The seven points of a good place, judged hour by hour. That the number comes out right is only the first of them: with a
//! hammer hung on a pin, or a warning of a hair, it still may.
//!
//! What a sheet has no place for is not judged: the size of a pin, the spring of a lever, the way a pallet takes
//! through the rack's teeth. Common practice, no source, where nothing else is said.

use crate::LeastLead;
use crate::hour::{AtRest, Hour, Lock, Pallet, TrainAtHour, Warned};
use movement::{LeverId, PinId, PointOf};
use num_traits::Zero;
use quantity::{Degrees, Exact, fraction};

/// What the warning run should be, in turns of the warning pin's arbor: a half is best.
pub const WARNING_RUN: [(i64, i64); 2] = [(1, 4), (3, 4)];
/// What it has best, in turns of its arbor.
pub const BEST_LEAD: (i64, i64) = (1, 5);
/// What the warning run is best, in turns of the warning pin's arbor.
pub const BEST_RUN: (i64, i64) = (1, 2);
/// The part of the pallet's turn before it has gathered in which it is in the rack's teeth. A sheet does not say; a quarter
/// is usual.
pub const IN_THE_RACK: (i64, i64) = (1, 4);

/// What does not hold at an hour.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FailedPoint {
    /// 1: another number of blows than is owed.
    Number {
        /// Blows struck.
        blows: u32,
        /// Blows owed.
        owed: u32,
    },
    /// 1: blows before their time.
    Early {
        /// How many.
        blows: u32,
    },
    /// 1: another number of notes than is owed.
    Notes {
        /// Notes given.
        notes: u32,
        /// Notes owed.
        owed: u32,
    },
    /// 2: as the train locks a hammer does not lie on its stop.
    HeldUp {
        /// The hammer.
        hammer: LeverId,
        /// How high it is held, in degrees of its arbor; nought where the next pin just touches its tail.
        by: Degrees,
    },
    /// 3: a hammer begins to lift while the train is warned.
    Lifting {
        /// The hammer.
        hammer: LeverId,
        /// How high it is then, in degrees of its arbor.
        by: Degrees,
    },
    /// 4: the warning run is too short or too long.
    WarningRun {
        /// The arm that warns.
        arm: LeverId,
        /// Its run, in turns of its pin's arbor.
        turns: Exact,
    },
    /// 4: it was let off without a warning.
    Unwarned {
        /// The arm that should warn.
        arm: LeverId,
        /// How much too low it stood as the train was let go, in degrees of its arbor; nought where it stood high enough.
        short: Degrees,
    },
    /// 5: as the train locks the lever is not right down.
    NotDown {
        /// What locked it.
        by: LeverId,
        /// What of the whole fall it fell.
        part: Exact,
    },
    /// 5: the pin comes too soon after the lever began to fall.
    Lead {
        /// The pin.
        pin: PinId,
        /// What it had still to go, in degrees of its arbor.
        lead: Degrees,
        /// What it should have had at least.
        least: LeastLead,
    },
    /// 6: while warned a locking arm is in the path of its pin.
    InPath {
        /// The arm.
        arm: LeverId,
        /// How much its arbor is too low, or too high, in degrees.
        by: Degrees,
    },
    /// 6: while warned a locking arm stands over its pin, and would come down on it.
    OverPin {
        /// The arm.
        arm: LeverId,
    },
    /// 7: the pallet is in the rack's teeth, at rest or while warned.
    PalletIn {
        /// The pallet.
        pallet: PinId,
        /// What it has still to go until it has gathered, in degrees of its arbor.
        to_go: Degrees,
        /// Whether that is while warned.
        warned: bool,
    },
    /// 7: as the train locks the hook has not fallen full behind the last tooth.
    HookUp {
        /// How high its arbor is held, in degrees.
        by: Degrees,
        /// Teeth that are still to be gathered.
        left: Exact,
    },
}

impl FailedPoint {
    /// Which of the seven it is.
    pub fn number(&self) -> u8 {
        match self {
            FailedPoint::Number { .. } | FailedPoint::Early { .. } | FailedPoint::Notes { .. } => 1,
            FailedPoint::HeldUp { .. } => 2,
            FailedPoint::Lifting { .. } => 3,
            FailedPoint::WarningRun { .. } | FailedPoint::Unwarned { .. } => 4,
            FailedPoint::NotDown { .. } | FailedPoint::Lead { .. } => 5,
            FailedPoint::InPath { .. } | FailedPoint::OverPin { .. } => 6,
            FailedPoint::PalletIn { .. } | FailedPoint::HookUp { .. } => 7,
        }
    }
}

impl FailedPoint {
    /// What it is of.
    pub fn of(&self) -> PointOf {
        match self {
            FailedPoint::Number { .. }
            | FailedPoint::Early { .. }
            | FailedPoint::Notes { .. }
            | FailedPoint::HookUp { .. } => PointOf::Strike,
            FailedPoint::HeldUp { hammer, .. } | FailedPoint::Lifting { hammer, .. } => {
                PointOf::Lever(*hammer)
            }
            FailedPoint::WarningRun { arm, .. }
            | FailedPoint::Unwarned { arm, .. }
            | FailedPoint::InPath { arm, .. }
            | FailedPoint::OverPin { arm } => PointOf::Lever(*arm),
            FailedPoint::NotDown { by, .. } => PointOf::Lever(*by),
            FailedPoint::Lead { pin, .. } => PointOf::Pin(*pin),
            FailedPoint::PalletIn { pallet, .. } => PointOf::Pin(*pallet),
        }
    }

    /// Whether it says the same of the same part, by however much.
    pub(crate) fn is_like(&self, other: &FailedPoint) -> bool {
        std::mem::discriminant(self) == std::mem::discriminant(other) && self.of() == other.of()
    }
}

/// What does not hold at an hour, point by point; nothing where all is good.
pub fn points(hour: &Hour) -> Vec<FailedPoint> {
    let mut points = number(hour);
    let too_low = hour
        .too_low
        .iter()
        .map(|(arm, short)| FailedPoint::Unwarned {
            arm: *arm,
            short: short.clone(),
        });
    points.extend(too_low);
    for train in hour.trains() {
        let TrainAtHour {
            warned,
            lock,
            sounds,
        } = train;
        if let Some(lock) = lock {
            points.extend(at_rest(&lock.hammers, |hammer, by| FailedPoint::HeldUp {
                hammer,
                by,
            }));
        }
        if let Some(warned) = warned {
            points.extend(while_warned(warned));
        }
        if let Some(lock) = lock {
            points.extend(at_lock(
                lock,
                warned.is_none() && sounds > 0 && hour.too_low.is_empty(),
            ));
        }
    }
    points.sort_by_key(FailedPoint::number);
    points
}

/// Which of the seven points an hour could be judged by: a strike without pins has no sixth, one without a rack no seventh.
pub fn judged(hour: &Hour) -> Vec<u8> {
    let mut judged = vec![1];
    for TrainAtHour { warned, lock, .. } in hour.trains() {
        if let Some(warned) = warned {
            judged.push(4);
            judged.extend((!warned.hammers.is_empty()).then_some(3));
            judged.extend((!warned.arms.is_empty()).then_some(6));
            judged.extend(warned.pallet.is_some().then_some(7));
        }
        if let Some(lock) = lock {
            judged.extend((!lock.hammers.is_empty()).then_some(2));
            judged.extend(lock.warns.is_some().then_some(4));
            judged.extend((lock.lead.is_some() || lock.fall.is_some()).then_some(5));
            judged.extend(lock.hook.is_some().then_some(7));
        }
    }
    judged.sort_unstable();
    judged.dedup();
    judged
}

fn number(hour: &Hour) -> Vec<FailedPoint> {
    let mut points = Vec::new();
    if hour.blows != hour.expected {
        points.push(FailedPoint::Number {
            blows: hour.blows,
            owed: hour.expected,
        });
    }
    if hour.early > 0 {
        points.push(FailedPoint::Early { blows: hour.early });
    }
    if let Some(owed) = hour.owed
        && owed != hour.notes
    {
        let notes = hour.notes;
        points.push(FailedPoint::Notes { notes, owed });
    }
    points
}

/// Hammers that do not lie on their stops, or whose tails the next pin touches.
fn at_rest(
    hammers: &[AtRest],
    point: impl Fn(LeverId, Degrees) -> FailedPoint,
) -> impl Iterator<Item = FailedPoint> {
    (hammers.iter())
        .filter(|hammer| !hammer.at_rest || hammer.until.is_zero())
        .map(move |hammer| point(hammer.lever, hammer.height.clone()))
}

fn while_warned(warned: &Warned) -> Vec<FailedPoint> {
    let mut points: Vec<FailedPoint> = (warned.hammers.iter())
        .filter(|hammer| !hammer.at_rest)
        .map(|hammer| FailedPoint::Lifting {
            hammer: hammer.lever,
            by: hammer.height.clone(),
        })
        .collect();
    let [least, most] = WARNING_RUN.map(|(over, under)| fraction(over, under));
    if warned.turns < least || warned.turns > most {
        points.push(FailedPoint::WarningRun {
            arm: warned.by,
            turns: warned.turns.clone(),
        });
    }
    for arm in &warned.arms {
        if let Some(by) = &arm.in_path {
            points.push(FailedPoint::InPath {
                arm: arm.lever,
                by: by.clone(),
            });
        } else if arm.past.is_zero() {
            points.push(FailedPoint::OverPin { arm: arm.lever });
        }
    }
    points.extend((warned.pallet.iter()).filter_map(|pallet| pallet.in_teeth(true)));
    points
}

fn at_lock(lock: &Lock, unwarned: bool) -> Vec<FailedPoint> {
    let mut points = Vec::new();
    if let Some(arm) = lock.warns
        && unwarned
    {
        let short = Degrees::zero();
        points.push(FailedPoint::Unwarned { arm, short });
    }
    if let Some(part) = &lock.fall
        && *part < fraction(1, 1)
    {
        points.push(FailedPoint::NotDown {
            by: lock.by,
            part: part.clone(),
        });
    }
    if let (Some(pin), Some(lead), Some(least)) = (lock.pin, &lock.lead, &lock.least_lead)
        && *lead < least.degrees
    {
        points.push(FailedPoint::Lead {
            pin,
            lead: lead.clone(),
            least: least.clone(),
        });
    }
    if let Some(hook) = &lock.hook {
        points.extend(hook.pallet.in_teeth(false));
        if !hook.up.is_zero() || !hook.left.is_zero() {
            points.push(FailedPoint::HookUp {
                by: hook.up.clone(),
                left: hook.left.clone(),
            });
        }
    }
    points
}

impl Hour {
    /// Whether all seven points of a good place hold, as far as they can be judged.
    pub fn is_right(&self) -> bool {
        points(self).is_empty()
    }

    /// Whether it struck, and chimed, what it should, and nothing before its time: the first of the points alone.
    pub fn is_number_right(&self) -> bool {
        points(self).iter().all(|point| point.number() > 1)
    }
}

impl Pallet {
    /// That it is in the rack's teeth, if it is.
    pub(crate) fn in_teeth(&self, warned: bool) -> Option<FailedPoint> {
        let (over, under) = IN_THE_RACK;
        let is_in = self.to_go < Degrees::turns(&fraction(over, under));
        is_in.then(|| FailedPoint::PalletIn {
            pallet: self.pin,
            to_go: self.to_go.clone(),
            warned,
        })
    }
}
