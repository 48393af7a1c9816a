//! What drives a train.

use super::{First, MeasuredValue, Version, measured_value};
use drive::{Beside, Fitting, Spring};
use movement::Movement;
use quantity::{Duration, Energy, Known, Length, Mass, Number, Stress, Torque};
use schemars::JsonSchema;
use serde::Serialize;
use tasks::{ArborDrive, Belongs, Driven};

/// What `trundle power` answers: what drives each train, and what comes of it.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PowerAnswer {
    /// The version of this answer's form.
    answer: First,
    /// The version of the program that answers.
    trundle: Version,
    /// The name on the sheet.
    sheet: String,
    /// Every arbor that is driven, in sheet order.
    powers: Vec<Drives>,
}

/// What drives an arbor, and what comes of it.
#[derive(Debug, Serialize, JsonSchema)]
struct Drives {
    /// What drives it.
    #[serde(flatten)]
    by: By,
    /// The turns of a whole winding.
    winding: Winding,
    /// How long it must run; null where that was not asked.
    asked: Option<Asked>,
    /// The arbor with the spring or the drum.
    arbor: String,
    /// How many seconds a winding lasts; null where the train does not tell.
    run_s: Option<MeasuredValue>,
    /// How many blows a winding strikes; null where it is no strike train.
    blows: Option<MeasuredValue>,
    /// The torque that comes down the train, from the driven arbor on.
    train: Vec<At>,
    /// What the train can give the hammer at each blow, in joules; null where it is no strike train.
    blow_j: Option<MeasuredValue>,
}

/// What drives an arbor.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(tag = "kind")]
enum By {
    /// A spring.
    #[serde(rename = "spring")]
    Spring {
        /// What it does.
        spring: Box<Wound>,
        /// Its torque from let down to wound up.
        curve: Vec<Point>,
        /// What another strip in its place would do; null where none was asked about.
        instead: Option<Box<Other>>,
        /// The strip that fills half the barrel and gives the turns; null where none is told.
        fits: Option<Box<Belonging>>,
    },
    /// A barrel without its spring.
    #[serde(rename = "barrel without a spring")]
    Lost {
        /// Turns that it must give.
        turns: MeasuredValue,
        /// The strip that belongs there.
        fits: Box<Strip>,
    },
    /// A weight.
    #[serde(rename = "weight")]
    Weight {
        /// The weight with its pulley, in grams.
        g: MeasuredValue,
        /// Whether the cord goes round a pulley on the weight and back up.
        pulley: bool,
        /// The torque on the drum, in newton millimetres.
        torque_n_mm: MeasuredValue,
        /// Turns of the drum for the whole fall; null where the fall is not known.
        turns: Option<MeasuredValue>,
        /// Cord on the drum for it, in millimetres.
        cord_mm: Option<MeasuredValue>,
        /// What it gives in falling, in joules.
        energy_j: Option<MeasuredValue>,
    },
}

/// The turns of a whole winding.
#[derive(Debug, Serialize, JsonSchema)]
struct Winding {
    /// As they were counted at the key; null where they were not.
    counted: Option<MeasuredValue>,
    /// As spring or fall give them; null where neither tells.
    given: Option<MeasuredValue>,
    /// What a run is told by: the fewer of both.
    used: Option<MeasuredValue>,
    /// Whether the two stand against each other.
    clash: bool,
}

/// How long it must run.
#[derive(Debug, Serialize, JsonSchema)]
struct Asked {
    /// In seconds.
    run_s: MeasuredValue,
    /// In turns of the arbor; null where the train does not tell.
    turns: Option<MeasuredValue>,
}

/// The torque at an arbor.
#[derive(Debug, Serialize, JsonSchema)]
struct At {
    /// The arbor.
    arbor: String,
    /// If nothing were lost on the way, in newton millimetres.
    lossless_n_mm: MeasuredValue,
    /// As much as is likely to be left, in newton millimetres.
    likely_n_mm: MeasuredValue,
}

/// What a spring does.
#[derive(Debug, Serialize, JsonSchema)]
struct Wound {
    /// Turns from let down to wound up.
    turns: MeasuredValue,
    /// Coils tight on the arbor.
    coils_up: MeasuredValue,
    /// Coils at the wall, or let down open.
    coils_down: MeasuredValue,
    /// The part of the room between arbor and wall that it fills; null of an open one.
    fill: Option<MeasuredValue>,
    /// Torque wound up, in newton millimetres.
    torque_up_n_mm: MeasuredValue,
    /// Torque half way, in newton millimetres.
    torque_half_n_mm: MeasuredValue,
    /// Torque at the last turn, in newton millimetres.
    torque_down_n_mm: MeasuredValue,
    /// Torque for each turn, in newton millimetres.
    torque_per_turn_n_mm: MeasuredValue,
    /// What it could give back wound up, in joules.
    stored_j: MeasuredValue,
    /// What is in it still when it is let down as far as it goes, in joules.
    left_j: MeasuredValue,
    /// Of twenty springs that measure so, one holds more than this, in joules.
    left_j_one_in_twenty: f64,
    /// Whether its free turns were counted, on which what is left rests; else they are as is usual.
    free_turns_counted: bool,
    /// Stress of the strip wound up, in newtons to the square millimetre.
    stress_n_per_mm2: MeasuredValue,
    /// What a spring that has taken its set bears, in newtons to the square millimetre.
    bears_n_per_mm2: MeasuredValue,
    /// Whether the stress lies beyond that by more than spreads allow: a count or a measure is likely wrong.
    overstressed: bool,
}

/// What another strip does in the same place.
#[derive(Debug, Serialize, JsonSchema)]
struct Other {
    /// What it does.
    #[serde(flatten)]
    wound: Wound,
    /// Its torque wound up over that of the one that is there; null where that one has none.
    torque_up_over_now: Option<MeasuredValue>,
    /// The same half way down.
    torque_half_over_now: Option<MeasuredValue>,
}

/// A point of a torque curve.
#[derive(Debug, Serialize, JsonSchema)]
struct Point {
    /// Turns from let down.
    turns: f64,
    /// The torque there, in newton millimetres.
    n_mm: MeasuredValue,
}

/// A strip that fits.
#[derive(Debug, Serialize, JsonSchema)]
struct Strip {
    /// How thick, in millimetres.
    thick_mm: MeasuredValue,
    /// How long, in millimetres.
    long_mm: MeasuredValue,
    /// How wide, in millimetres; null where the height of the barrel is not known.
    width_mm: Option<MeasuredValue>,
    /// What it would do; null where its width is not known.
    does: Option<Wound>,
}

/// The strip that fills half a barrel and gives the turns.
#[derive(Debug, Serialize, JsonSchema)]
struct Belonging {
    /// How thick, in millimetres.
    thick_mm: MeasuredValue,
    /// How long, in millimetres.
    long_mm: MeasuredValue,
    /// How wide, in millimetres; null where the height of the barrel is not known.
    width_mm: Option<MeasuredValue>,
    /// What it would do beside the one that is there; null where it cannot be put there.
    does: Option<Other>,
    /// The turns that it gives, with some in hand.
    gives: MeasuredValue,
}

impl PowerAnswer {
    /// Everything that drives.
    pub fn of(movement: &Movement, driven: &[Driven]) -> PowerAnswer {
        PowerAnswer {
            answer: First,
            trundle: Version,
            sheet: movement.name().to_owned(),
            powers: driven.iter().map(|one| drives(movement, one)).collect(),
        }
    }
}

fn mm(x: &Known<Length>) -> MeasuredValue {
    measured_value(x, Length::as_mm)
}

fn plain(x: &Known<Number>) -> MeasuredValue {
    measured_value(x, Number::as_plain)
}

fn torque(x: &Known<Torque>) -> MeasuredValue {
    measured_value(x, Torque::as_n_mm)
}

fn joules(x: &Known<Energy>) -> MeasuredValue {
    measured_value(x, Energy::as_joules)
}

fn drives(movement: &Movement, driven: &Driven) -> Drives {
    let run = driven.run.as_ref();
    let train = driven.train.iter().map(|at| At {
        arbor: movement.arbor(at.arbor).id.clone(),
        lossless_n_mm: torque(&at.lossless),
        likely_n_mm: torque(&at.likely),
    });
    Drives {
        by: by(&driven.told),
        winding: Winding {
            counted: driven.winding.counted.as_ref().map(plain),
            given: driven.winding.given.as_ref().map(plain),
            used: driven.winding.used().as_ref().map(plain),
            clash: driven.winding.clash().is_some(),
        },
        asked: driven.asked.as_ref().map(|(run, turns)| Asked {
            run_s: measured_value(run, Duration::as_s),
            turns: turns.as_ref().map(plain),
        }),
        arbor: movement.arbor(driven.arbor).id.clone(),
        run_s: run.map(|run| measured_value(&run.time, Duration::as_s)),
        blows: run.and_then(|run| run.blows.as_ref()).map(plain),
        train: train.collect(),
        blow_j: driven.blow.as_ref().map(|blow| joules(&blow.energy)),
    }
}

fn by(told: &ArborDrive) -> By {
    match told {
        ArborDrive::Spring {
            spring,
            wound: does,
            instead,
            best,
        } => By::Spring {
            spring: Box::new(wound(does)),
            curve: curve(spring),
            instead: instead.as_ref().map(|other| Box::new(beside(other))),
            fits: best.as_ref().map(|best| Box::new(belonging(best))),
        },
        ArborDrive::Lost(room, fitting) => By::Lost {
            turns: plain(&room.turns),
            fits: Box::new(strip(fitting)),
        },
        ArborDrive::Weight(weight, fallen) => By::Weight {
            g: measured_value(&weight.mass, Mass::as_g),
            pulley: weight.pulley,
            torque_n_mm: torque(&fallen.torque),
            turns: fallen.turns.as_ref().map(plain),
            cord_mm: fallen.cord.as_ref().map(mm),
            energy_j: fallen.energy.as_ref().map(joules),
        },
    }
}

fn wound(w: &drive::Wound) -> Wound {
    Wound {
        turns: plain(&w.turns),
        coils_up: plain(&w.up),
        coils_down: plain(&w.down),
        fill: w.fill.as_ref().map(plain),
        torque_up_n_mm: torque(&w.torque[0]),
        torque_half_n_mm: torque(&w.torque[1]),
        torque_down_n_mm: torque(&w.torque[2]),
        torque_per_turn_n_mm: torque(&w.per_turn),
        stored_j: joules(&w.stored),
        left_j: joules(&w.left.energy),
        left_j_one_in_twenty: w.left.one_in_twenty.as_joules(),
        free_turns_counted: w.left.counted,
        stress_n_per_mm2: measured_value(&w.stress, Stress::as_mpa),
        bears_n_per_mm2: measured_value(&drive::bears(), Stress::as_mpa),
        overstressed: w.overstressed().is_some(),
    }
}

/// What another strip does, and its torque over that of the one that is there.
fn beside(other: &Beside) -> Other {
    let over = |i: usize| other.over.as_ref().map(|over| plain(&over[i]));
    Other {
        wound: wound(&other.wound),
        torque_up_over_now: over(0),
        torque_half_over_now: over(1),
    }
}

/// Torque over turns, from let down to wound up.
fn curve(spring: &Spring) -> Vec<Point> {
    const STEPS: u16 = 16;
    let points = spring.curve(STEPS).into_iter();
    points
        .map(|(turns, at)| Point {
            turns,
            n_mm: torque(&at),
        })
        .collect()
}

fn strip(fitting: &Fitting) -> Strip {
    Strip {
        thick_mm: mm(&fitting.thick),
        long_mm: mm(&fitting.long),
        width_mm: fitting.width.as_ref().map(mm),
        does: fitting.wound.as_ref().map(wound),
    }
}

fn belonging(best: &Belongs) -> Belonging {
    Belonging {
        thick_mm: mm(&best.fitting.thick),
        long_mm: mm(&best.fitting.long),
        width_mm: best.fitting.width.as_ref().map(mm),
        does: best.beside.as_ref().map(beside),
        gives: plain(&best.turns),
    }
}
