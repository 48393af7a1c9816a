//! What drives each train of a sheet, and what comes of it.

use crate::{Refusal, pendulum::strip};
use draw::{Coiled, Drawing, Falling, coiled, falling};
use drive::{
    Power, Room, Spring, Strip, Winding, Wound, at_blow, beside, down_the_train, fallen,
    fitting_strip, on_sheet, runs, wound,
};
use movement::{ArborId, Movement};
use quantity::{Duration, Known, Length, Number, reckon, to_f64};
use report::power::{Belongs, Driven, Told};
use report::{Voice, Words};

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

/// Works what drives each train: torque, turns, energy, run, and what comes down the train.
///
/// # Errors
/// The sheet's faults, what is missing on it, or what cannot be, with both figures.
pub fn power(sheet: &[u8], ask: &PowerAsk, voice: &Voice) -> Result<Powered, Refusal> {
    let words = voice.words();
    let movement = crate::check(sheet)?.movement;
    let question = Refusal::told;
    let powers = on_sheet(&movement)
        .map_err(|why| question(report::power::power_fault(words, &movement, &why)))?;
    let on = ask
        .on
        .as_deref()
        .map(|id| {
            let unknown = || Refusal::Question(report::Why::unknown_arbor(&movement, id));
            movement.find_arbor(id).ok_or_else(unknown)
        })
        .transpose()?;
    let other = ask
        .instead
        .as_deref()
        .map(|text| strip(voice, "instead", text))
        .transpose()?
        .map(|[width, thick, long]| Strip { width, thick, long });
    let run: Option<Known<Duration>> = crate::run(voice, ask.runs.as_deref())?;
    let springs = (powers.iter()).any(|(arbor, power)| {
        on.is_none_or(|on| on == *arbor) && matches!(power, Power::Spring(_))
    });
    if other.is_some() && !springs {
        return Err(question(report::power::no_spring(words)));
    }
    let mut driven = Vec::new();
    for (arbor, power) in powers {
        if on.is_some_and(|on| on != arbor) {
            continue;
        }
        let told = told(&movement, arbor, &power, (other, run))
            .map_err(|why| question(report::power::wrong(words, &movement, arbor, &why)))?;
        driven.push(told);
    }
    if driven.is_empty() {
        return Err(question(report::power::nothing_on(
            words,
            on.map(|on| movement.arbor(on).id.as_str())
                .unwrap_or_default(),
        )));
    }
    Ok(Powered { movement, driven })
}

fn told(
    movement: &Movement,
    arbor: ArborId,
    power: &Power,
    (other, run): (Option<Strip>, Option<Known<Duration>>),
) -> Result<Driven, drive::Wrong> {
    let told = match power {
        Power::Spring(spring) => sprung(movement, arbor, spring, other, run)?,
        Power::Lost(room) => {
            let mut room = *room;
            if let Some(turns) = run.and_then(|run| turns_for(movement, arbor, run)) {
                room.turns = turns;
            }
            Told::Lost(room, fitting_strip(&room)?)
        }
        Power::Weight(weight) => Told::Weight(*weight, fallen(weight)),
    };
    let (torque, turns) = match &told {
        Told::Spring { wound, .. } => (Some(wound.torque[1]), Some(wound.turns)),
        Told::Lost(room, fitting) => (
            fitting.wound.as_ref().map(|wound| wound.torque[1]),
            Some(room.turns),
        ),
        Told::Weight(_, fallen) => (Some(fallen.torque), fallen.turns),
    };
    let train = torque.map_or_else(Vec::new, |torque| down_the_train(movement, arbor, torque));
    let counted = movement.arbor(arbor).measured("winding_turns").map(to_f64);
    let winding = Winding {
        counted: counted.map(Winding::at_the_key),
        given: turns,
        falls: matches!(told, Told::Weight(..)),
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
    Some(reckon([run.given()], |[s]| s / 3600.0 * per_hour))
}

fn sprung(
    movement: &Movement,
    arbor: ArborId,
    spring: &Spring,
    other: Option<Strip>,
    run: Option<Known<Duration>>,
) -> Result<Told, drive::Wrong> {
    let high = movement.arbor(arbor).measured("barrel_high_mm").map(to_f64);
    if let Some(barrel) = high {
        for strip in [Some(spring.strip), other].into_iter().flatten() {
            let strip = strip.width.value.as_mm();
            if strip >= barrel {
                return Err(drive::Wrong::TooWide { strip, barrel });
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
    Ok(Told::Spring {
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
) -> Result<Belongs, drive::Wrong> {
    let mut fitting = fitting_strip(&Room {
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

impl Powered {
    /// What drives the first arbor: a spring wound up and let down, with its torque, or a weight and its fall. Nothing where
    /// a lost spring's width, or a weight's fall, is not known.
    pub fn drawing(&self, words: &Words) -> Option<Drawing> {
        self.driven.iter().find_map(|driven| drawn(driven, words))
    }
}

/// What drives one arbor, drawn so.
pub fn drawn(driven: &Driven, words: &Words) -> Option<Drawing> {
    match &driven.told {
        Told::Spring { spring, wound, .. } => Some(sprung_drawing(spring, wound, words)),
        Told::Lost(room, fitting) => {
            let spring = fitting.in_the_room(room)?;
            Some(sprung_drawing(&spring, fitting.wound.as_ref()?, words))
        }
        Told::Weight(weight, fallen) => Some(falling(&Falling {
            drum: weight.drum.value,
            fall: weight.fall?.value,
            pulley: weight.pulley,
            words: report::power::at_the_weight(words, weight, fallen),
        })),
    }
}

fn sprung_drawing(spring: &Spring, wound: &Wound, words: &Words) -> Drawing {
    coiled(&Coiled {
        outside: spring.outside.value,
        arbor: spring.arbor.value,
        thick: spring.strip.thick.value,
        coils: [wound.up.value.as_plain(), wound.down.value.as_plain()],
        barrel: spring.barrel,
        curve: spring.curve(40),
        words: report::power::on_the_drawing(words, wound),
    })
}
