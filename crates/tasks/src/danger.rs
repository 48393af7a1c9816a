//! What can hurt a hand or a part, and where it arises: all of it is common practice, no source; local rules and licensed
//! practice come first. What is said of each is with the words.

use crate::{ArborDrive, Driven, Oiled, Pendulum, Powered, TimingState};
use entries::EntryKind;
use kinematics::turnables;
use movement::{ArborId, Movement, Reached};
use quantity::to_f64;
use timing::Act;
use way::{DrivenBy, sources};
use workshop::oil::State;

/// A danger, and the part it lies in where it is not in all.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum ShiftDanger {
    /// Springs under power as the plates are spread.
    Springs,
    /// Fingers between what may move.
    Fingers,
    /// Nuts and keys near the escape wheel's teeth.
    EscapeTeeth,
    /// Lever springs that bend or fly as the plate lifts.
    LeverSprings,
    /// Power in the train while these arbors are out.
    Runaway(Vec<String>),
    /// A spring turned off the hook of its arbor.
    Hook,
    /// The click and its rivet.
    Click,
    /// Bending what is hard.
    Bending,
    /// A part pulled off, slackened or turned on its arbor.
    Turning,
    /// A spring that is wound, as strong as is said.
    LetDown,
    /// A weight on its cord.
    Weight,
    /// Mercury in a pendulum's jar.
    Mercury,
    /// Luminous dials and hands.
    Luminous,
    /// Ammonia in cleaning baths.
    Ammonia,
    /// Solvents that burn.
    Solvents,
    /// A movement that runs out of its case.
    OutOfCase,
    /// A weight that hangs while it runs.
    HangingWeight,
}

impl ShiftDanger {
    /// All that can be minded while this train is timed.
    pub fn all_in_timing(movement: &Movement) -> Vec<ShiftDanger> {
        let mut all = vec![
            ShiftDanger::Springs,
            ShiftDanger::LeverSprings,
            ShiftDanger::EscapeTeeth,
            ShiftDanger::Fingers,
        ];
        let braking = braking(movement);
        if !braking.is_empty() {
            all.push(ShiftDanger::Runaway(names(movement, &braking)));
        }
        if !turnables(movement).is_empty() {
            all.push(ShiftDanger::Turning);
        }
        all.extend([ShiftDanger::Hook, ShiftDanger::Click, ShiftDanger::Bending]);
        all
    }
}

impl TimingState {
    /// What to mind as what comes next is done.
    pub fn dangers(&self) -> Vec<ShiftDanger> {
        match self.advice.act {
            Act::Look(_) => self.dangers_of_looking(),
            _ => self.dangers_of_doing(),
        }
    }

    /// What to mind as the train is looked at.
    pub fn dangers_of_looking(&self) -> Vec<ShiftDanger> {
        let mut dangers = self.dangers_meanwhile();
        if self.log.entries().is_empty() {
            dangers.push(ShiftDanger::Hook);
        }
        dangers
    }

    /// What to mind whatever is done.
    pub fn dangers_meanwhile(&self) -> Vec<ShiftDanger> {
        self.runaway(&[])
    }

    /// What to mind as what is advised is done.
    pub fn dangers_of_doing(&self) -> Vec<ShiftDanger> {
        let movement = &self.sheet.movement;
        let lifted: Vec<ArborId> = (self.advised().iter())
            .filter(|shift| movement.mesh(shift.mesh).reached == Reached::Plates)
            .filter_map(|shift| movement.far_arbor(shift.mesh))
            .collect();
        let mut dangers = Vec::new();
        if !lifted.is_empty() && self.recalled.openings == 0 {
            dangers.extend([
                ShiftDanger::Springs,
                ShiftDanger::LeverSprings,
                ShiftDanger::EscapeTeeth,
                ShiftDanger::Fingers,
            ]);
        }
        dangers.extend(self.runaway(&lifted));
        match self.advice.act {
            Act::Done | Act::Prove => dangers.push(ShiftDanger::Click),
            Act::NoMesh | Act::Part(_) => dangers.push(ShiftDanger::Bending),
            Act::Turn(_) => dangers.push(ShiftDanger::Turning),
            _ if (self.recalled.bent.iter()).any(|(_, chance)| chance.get() >= 0.5) => {
                dangers.push(ShiftDanger::Bending);
            }
            _ => {}
        }
        dangers
    }

    /// That what stops or slows the train is out, or is lifted for the first time.
    fn runaway(&self, lifted: &[ArborId]) -> Vec<ShiftDanger> {
        let movement = &self.sheet.movement;
        let mut loose = braking(movement);
        loose.retain(|arbor| {
            self.recalled.out.contains(arbor)
                || (lifted.contains(arbor) && !self.lifted_before(*arbor))
        });
        match loose.is_empty() {
            true => Vec::new(),
            false => vec![ShiftDanger::Runaway(names(movement, &loose))],
        }
    }

    /// Whether an arbor was lifted in an earlier shift that counts.
    fn lifted_before(&self, arbor: ArborId) -> bool {
        let movement = &self.sheet.movement;
        self.log.standing().any(|entry| match &entry.told {
            entries::EntryContent::Known(EntryKind::Shift(meshes)) => meshes.iter().any(|at| {
                (movement.find_mesh(&at.mesh)).and_then(|mesh| movement.far_arbor(mesh))
                    == Some(arbor)
            }),
            _ => false,
        })
    }
}

impl Pendulum {
    /// What to mind.
    pub fn dangers(&self) -> Vec<ShiftDanger> {
        match self.mercury {
            true => vec![ShiftDanger::Mercury],
            false => Vec::new(),
        }
    }
}

impl Powered {
    /// What to mind of all that drives.
    pub fn dangers(&self) -> Vec<ShiftDanger> {
        let each = self.driven.iter().flat_map(|one| one.dangers().iter());
        let mut dangers: Vec<ShiftDanger> = each.cloned().collect();
        dangers.sort();
        dangers.dedup();
        dangers
    }
}

impl Driven {
    fn dangers(&self) -> &'static [ShiftDanger] {
        match self.told {
            ArborDrive::Spring { .. } => &[ShiftDanger::LetDown, ShiftDanger::Click],
            ArborDrive::Lost(..) => &[ShiftDanger::LetDown],
            ArborDrive::Weight(..) => &[ShiftDanger::Weight],
        }
    }
}

impl Oiled {
    /// What to mind, in the state it is in.
    pub fn dangers(&self) -> Vec<ShiftDanger> {
        match self.state {
            State::Running => vec![ShiftDanger::Luminous],
            State::Clean | State::Gummed => vec![
                ShiftDanger::LetDown,
                ShiftDanger::Luminous,
                ShiftDanger::Solvents,
                ShiftDanger::Ammonia,
            ],
        }
    }
}

/// What to mind as a movement is listened to: it runs, and mostly out of its case.
pub fn dangers_of_listening(movement: Option<&Movement>) -> Vec<ShiftDanger> {
    let mut dangers = vec![ShiftDanger::OutOfCase];
    let sources = movement.map(sources).unwrap_or_default();
    if sources
        .iter()
        .any(|source| source.power == DrivenBy::Weight)
    {
        dangers.push(ShiftDanger::HangingWeight);
    }
    dangers
}

fn names(movement: &Movement, arbors: &[ArborId]) -> Vec<String> {
    let name = |id: &ArborId| movement.arbor(*id).id.clone();
    arbors.iter().map(name).collect()
}

/// The arbors that stop or slow the train: those of single pins, and of the fly, which turns fastest.
fn braking(movement: &Movement) -> Vec<ArborId> {
    let Some(strike) = movement.strike() else {
        return Vec::new();
    };
    let mut braking: Vec<ArborId> = movement
        .witnesses()
        .filter(|(_, witness)| witness.repeats.get() == 1)
        .map(|(_, witness)| witness.on)
        .collect();
    let magnitude = |arbor: ArborId| to_f64(movement.turns(arbor)).abs();
    let fastest = movement
        .arbors()
        .map(|(id, _)| id)
        .filter(|id| movement.same_train(*id, strike.read_at))
        .max_by(|a, b| magnitude(*a).total_cmp(&magnitude(*b)));
    braking.extend(fastest);
    braking.sort();
    braking.dedup();
    braking
}
