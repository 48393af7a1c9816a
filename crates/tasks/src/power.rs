//! What drives each train of a sheet, and what comes of it.

use crate::{QuestionFault, Refusal, pendulum::strip};
use drive::{
    At, BarrelRoom, Beside, Blow, Fitting, PowerSource, RunTime, Spring, Strip, Weight, WeightFall,
    Winding, Wound, at_blow, beside, down_the_train, fallen, fitting_strip, on_sheet, runs, wound,
};
use movement::{ArborId, Movement};
use quantity::{Duration, Known, Length, Number, propagate, to_f64};

/// What is asked beside the sheet.
#[derive(Debug, Clone, Default)]
pub struct PowerAsk {
    /// A strip in place of the one that is there: `WIDTHxTHICKxLONG`.
    pub instead: Option<String>,
    /// How long it must run on a winding, to find the strip that does it.
    pub runs: Option<String>,
    /// The arbor it is asked of, where there are several.
    pub on: Option<String>,
}

/// What drives a sheet's trains.
#[derive(Debug)]
pub struct Powered {
    /// The movement.
    pub movement: Movement,
    /// Each arbor with a spring or a weight.
    pub driven: Vec<Driven>,
}

/// One arbor that is driven, and what comes of it.
#[derive(Debug, Clone)]
pub struct Driven {
    /// The arbor with the spring or the drum.
    pub arbor: ArborId,
    /// What drives it.
    pub told: ArborDrive,
    /// How long a winding lasts, where the train tells time or blows.
    pub run: Option<RunTime>,
    /// The turns of a winding, as counted and as given.
    pub winding: Winding,
    /// How long it must run, where that was asked, and in how many turns, where the train tells.
    pub asked: Option<(Known<Duration>, Option<Known<Number>>)>,
    /// Torque down the train.
    pub train: Vec<At>,
    /// What is there for the hammer at each blow.
    pub blow: Option<Blow>,
}

/// What drives an arbor.
#[derive(Debug, Clone)]
pub enum ArborDrive {
    /// A spring.
    Spring {
        /// It.
        spring: Spring,
        /// What it does.
        wound: Wound,
        /// What another strip in its place would do.
        instead: Option<Box<Beside>>,
        /// The strip that fills half the barrel and gives the turns.
        best: Option<Box<Belongs>>,
    },
    /// A barrel without its spring, and the strip that belongs there.
    Lost(BarrelRoom, Fitting),
    /// A weight.
    Weight(Weight, WeightFall),
}

/// The strip that fills half a barrel and gives so many turns.
#[derive(Debug, Clone)]
pub struct Belongs {
    /// The turns it gives, with some in hand.
    pub turns: Known<Number>,
    /// It.
    pub fitting: Fitting,
    /// What it does there, beside the one that is there; nothing where it cannot be put there.
    pub beside: Option<Beside>,
}

/// Works what drives each train: torque, turns, energy, run, and what comes down the train.
///
/// # Errors
/// The sheet's faults, what is missing on it, or what cannot be, with both figures.
pub fn power(sheet: &[u8], ask: &PowerAsk) -> Result<Powered, Refusal> {
    let movement = crate::check(sheet)?.movement;
    let powers = on_sheet(&movement).map_err(QuestionFault::Power)?;
    let on = ask
        .on
        .as_deref()
        .map(|id| {
            let unknown = || QuestionFault::unknown_arbor(&movement, id);
            movement.find_arbor(id).ok_or_else(unknown)
        })
        .transpose()?;
    let other = ask
        .instead
        .as_deref()
        .map(|text| strip("instead", text))
        .transpose()?
        .map(|[width, thick, long]| Strip { width, thick, long });
    let run: Option<Known<Duration>> = crate::run(ask.runs.as_deref())?;
    let springs = (powers.iter()).any(|(arbor, power)| {
        on.is_none_or(|on| on == *arbor) && matches!(power, PowerSource::Spring(_))
    });
    if other.is_some() && !springs {
        return Err(QuestionFault::NoSpring.into());
    }
    let mut driven = Vec::new();
    for (arbor, power) in powers {
        if on.is_some_and(|on| on != arbor) {
            continue;
        }
        let told = drive_of(&movement, arbor, &power, other, run).map_err(|why| {
            QuestionFault::Drives {
                arbor: movement.arbor(arbor).id.clone(),
                why,
            }
        })?;
        driven.push(told);
    }
    if driven.is_empty() {
        let on = on.map(|on| movement.arbor(on).id.clone());
        return Err(QuestionFault::NothingDrives(on.unwrap_or_default()).into());
    }
    Ok(Powered { movement, driven })
}

fn drive_of(
    movement: &Movement,
    arbor: ArborId,
    power: &PowerSource,
    other: Option<Strip>,
    run: Option<Known<Duration>>,
) -> Result<Driven, drive::SpringFault> {
    let told = match power {
        PowerSource::Spring(spring) => sprung(movement, arbor, spring, other, run)?,
        PowerSource::Lost(room) => {
            let mut room = *room;
            if let Some(turns) = run.and_then(|run| turns_for(movement, arbor, run)) {
                room.turns = turns;
            }
            ArborDrive::Lost(room, fitting_strip(&room)?)
        }
        PowerSource::Weight(weight) => ArborDrive::Weight(*weight, fallen(weight)),
    };
    let (torque, turns) = match &told {
        ArborDrive::Spring { wound, .. } => (Some(wound.torque[1]), Some(wound.turns)),
        ArborDrive::Lost(room, fitting) => (
            fitting.wound.as_ref().map(|wound| wound.torque[1]),
            Some(room.turns),
        ),
        ArborDrive::Weight(_, fallen) => (Some(fallen.torque), fallen.turns),
    };
    let train = torque.map_or_else(Vec::new, |torque| down_the_train(movement, arbor, torque));
    let counted = movement.arbor(arbor).measured("winding_turns").map(to_f64);
    let winding = Winding {
        counted: counted.map(Winding::at_the_key),
        given: turns,
        falls: matches!(told, ArborDrive::Weight(..)),
    };
    Ok(Driven {
        arbor,
        blow: at_blow(movement, &train),
        train,
        run: (winding.used()).and_then(|turns| runs(movement, arbor, turns)),
        winding,
        asked: run.map(|run| (run, turns_for(movement, arbor, run))),
        told,
    })
}

/// Turns of an arbor in a run.
fn turns_for(movement: &Movement, arbor: ArborId, run: Known<Duration>) -> Option<Known<Number>> {
    let per_hour = to_f64(&kinematics::per_hour(movement, arbor)?);
    Some(propagate([run.given()], |[s]| s / 3600.0 * per_hour))
}

fn sprung(
    movement: &Movement,
    arbor: ArborId,
    spring: &Spring,
    other: Option<Strip>,
    run: Option<Known<Duration>>,
) -> Result<ArborDrive, drive::SpringFault> {
    let high = movement.arbor(arbor).measured("barrel_high_mm").map(to_f64);
    if let Some(barrel) = high {
        for strip in [Some(spring.strip), other].into_iter().flatten() {
            let strip = strip.width.value.as_mm();
            if strip >= barrel {
                return Err(drive::SpringFault::TooWide { strip, barrel });
            }
        }
    }
    let here = wound(spring)?;
    let instead = other.map(|strip| beside(spring, strip)).transpose()?;
    let best = if spring.barrel {
        let turns = run.and_then(|run| turns_for(movement, arbor, run));
        let written = movement.arbor(arbor).measured("winding_turns").map(to_f64);
        let turns = turns.or(written.map(|n| Known::sure(Number::plain(n))));
        turns
            .map(|turns| belongs(spring, high, turns))
            .transpose()?
    } else {
        None
    };
    Ok(ArborDrive::Spring {
        spring: *spring,
        wound: here,
        instead: instead.map(Box::new),
        best: best.map(Box::new),
    })
}

/// The strip that fills half the barrel and gives the turns, beside the one that is there.
fn belongs(
    spring: &Spring,
    high: Option<f64>,
    turns: Known<Number>,
) -> Result<Belongs, drive::SpringFault> {
    let mut fitting = fitting_strip(&BarrelRoom {
        barrel: spring.outside,
        arbor: spring.arbor,
        high: high.map(|mm| Known::new(Length::mm(mm), Length::mm(0.05))),
        turns,
    })?;
    // As wide as the one that is there, where the barrel's height is not known.
    let width = *fitting.width.get_or_insert(spring.strip.width);
    let strip = Strip {
        width,
        thick: Known::sure(fitting.thick.value),
        long: Known::sure(fitting.long.value),
    };
    Ok(Belongs {
        turns,
        fitting,
        beside: beside(spring, strip).ok(),
    })
}
