//! What drives a train, in words.

use super::list;
use super::measures::{System, energy, number, stress, time};
use super::numbers::decimal;
use crate::page::cautions::{Danger, danger};
use crate::page::named;
use crate::power::{Driven, Told};
use drive::{Fallen, Fitting, PowerFault, Room, Strip, Weight, Wound, Wrong};
use movement::{ArborId, Movement};
use quantity::{Known, Measure, Number, reckon};

/// Every spring and weight, and what comes of it.
pub fn power_text(movement: &Movement, driven: &[Driven], system: System) -> String {
    let mut text = vec![movement.name().to_owned()];
    let mut dangers: Vec<Danger> = Vec::new();
    for one in driven {
        text.push(String::new());
        let arbor = named(&movement.arbor(one.arbor).id);
        match &one.told {
            Told::Spring {
                spring,
                wound,
                instead,
                best,
            } => {
                let what = if spring.barrel {
                    "a spring in a barrel"
                } else {
                    "an open spring with a loop end"
                };
                text.push(format!(
                    "The {arbor} arbor: {what}, {}",
                    strip(&spring.strip, system)
                ));
                does(wound, system, &mut text);
                if let Some(other) = instead {
                    wrong_one(&other.0, &other.1, wound, system, &mut text);
                }
                if let Some(best) = best {
                    belongs(best, system, &mut text);
                }
                dangers.extend([Danger::LetDown, Danger::Click]);
            }
            Told::Lost(room, fitting) => {
                text.push(format!("The {arbor} arbor: a barrel without its spring"));
                lost(room, fitting, system, &mut text);
                dangers.push(Danger::LetDown);
            }
            Told::Weight(weight, fallen) => {
                text.push(format!(
                    "The {arbor} arbor: a weight of {}{}",
                    system.mass(&weight.mass),
                    if weight.pulley {
                        ", on double cord over a pulley"
                    } else {
                        ""
                    }
                ));
                text.push(format!(
                    "  torque on the drum: {}",
                    system.torque(&fallen.torque)
                ));
                if let (Some(turns), Some(cord), Some(gives)) =
                    (&fallen.turns, &fallen.cord, &fallen.energy)
                {
                    text.push(format!(
                        "  the whole fall: {}, {} of cord, {}",
                        number(turns, "turns"),
                        system.length(cord),
                        energy(gives)
                    ));
                } else {
                    text.push("  how many turns it gives is told with `fall_mm`".to_owned());
                }
                dangers.push(Danger::Weight);
            }
        }
        runs(one, &mut text);
        down(movement, one, system, &mut text);
    }
    text.push(String::new());
    text.push(
        "± is one standard deviation. Torque is that of clean coils; a dry or rough spring loses a third, up to a half (The Modern Clock, Chicago 1905, p. 274)."
            .to_owned(),
    );
    dangers.sort();
    dangers.dedup();
    for one in &dangers {
        text.push(format!(
            "Caution. {}",
            danger(&crate::Words::default(), one)
        ));
    }
    text.push(String::new());
    text.join("\n")
}

fn strip(strip: &Strip, system: System) -> String {
    format!(
        "{} wide, {} thick, {} long",
        system.length(&strip.width),
        system.length(&strip.thick),
        system.length(&strip.long)
    )
}

fn does(wound: &Wound, system: System, text: &mut Vec<String>) {
    text.push(format!(
        "  turns: {}, from {} coils let down to {} wound up",
        number(&wound.turns, ""),
        number(&wound.down, ""),
        number(&wound.up, "")
    ));
    if let Some(fill) = &wound.fill {
        let part = fill.value.as_plain();
        let hint = if part > 0.55 {
            "; more than half, so there is little room to wind"
        } else if part < 0.33 {
            "; less than a third"
        } else {
            ""
        };
        text.push(format!(
            "  it fills {} of the room between arbor and wall; half gives the most turns{hint}",
            number(fill, "")
        ));
    }
    text.push(format!(
        "  torque: {} wound up, {} half way, {} at the last turn; {} for each turn",
        system.torque(&wound.torque[0]),
        system.torque(&wound.torque[1]),
        system.torque(&wound.torque[2]),
        system.torque(&wound.per_turn)
    ));
    text.push(format!(
        "  stored: {} wound up, as a kilogram falling {} m; and {} still in it when it is let down",
        energy(&wound.stored),
        decimal(wound.stored.value.as_joules() / 9.81, 1),
        energy(&wound.left)
    ));
    text.push(format!(
        "  stress of the strip wound up: {}",
        stress(&wound.stress)
    ));
}

fn parts<Q: Measure>(a: &Known<Q>, b: &Known<Q>) -> Known<Number> {
    reckon([a.given(), b.given()], |[a, b]| a / b)
}

fn wrong_one(other: &Strip, does: &Wound, here: &Wound, system: System, text: &mut Vec<String>) {
    text.push(format!("  In its place, {}:", strip(other, system)));
    text.push(format!(
        "    turns: {}, in place of {}",
        number(&does.turns, ""),
        number(&here.turns, "")
    ));
    let ratio = parts(&does.torque[1], &here.torque[1]);
    let much = ratio.value.as_plain();
    let means = if much > 1.3 {
        ": more wear on every pivot, and a wider swing"
    } else if much < 0.75 {
        ": it may not go through the day's end"
    } else {
        ""
    };
    text.push(format!(
        "    torque half way: {}, {} of what it was{means}",
        system.torque(&does.torque[1]),
        number(&ratio, "")
    ));
    text.push(format!("    stored: {}", energy(&does.stored)));
}

fn belongs(best: &Fitting, system: System, text: &mut Vec<String>) {
    text.push(format!(
        "  A strip that fills half the room and gives the turns of a winding with some in hand: {} thick, {} long",
        system.length(&best.thick),
        system.length(&best.long)
    ));
}

fn lost(room: &Room, fitting: &Fitting, system: System, text: &mut Vec<String>) {
    text.push(format!(
        "  {} inside, an arbor of {}, and {} to be given",
        system.length(&room.barrel),
        system.length(&room.arbor),
        number(&room.turns, "turns")
    ));
    text.push(format!(
        "  the strip that fills half the room and gives them with some in hand: {} thick, {} long",
        system.length(&fitting.thick),
        system.length(&fitting.long)
    ));
    match (&fitting.width, &fitting.wound) {
        (Some(width), Some(wound)) => {
            text.push(format!(
                "  as wide as the barrel lets it: {}",
                system.length(width)
            ));
            does(wound, system, text);
        }
        _ => {
            text.push("  how wide, and with what torque, is told with `barrel_high_mm`".to_owned());
        }
    }
}

fn runs(driven: &Driven, text: &mut Vec<String>) {
    let Some(run) = &driven.run else {
        text.push(
            "  how long that runs is told with `turn_s` on an arbor of its train, or a strike"
                .to_owned(),
        );
        return;
    };
    let blows = run
        .blows
        .as_ref()
        .map_or_else(String::new, |blows| format!(", {}", number(blows, "blows")));
    text.push(format!("  a winding lasts {}{blows}", time(&run.time)));
}

fn down(movement: &Movement, driven: &Driven, system: System, text: &mut Vec<String>) {
    if driven.train.len() < 2 {
        return;
    }
    let half = match driven.told {
        Told::Weight(..) => "",
        _ => ", half way down",
    };
    text.push(format!(
        "  Torque down the train{half}; in brackets if nothing were lost in teeth and pivots:"
    ));
    for at in &driven.train[1..] {
        text.push(format!(
            "    {:12} {}  ({})",
            named(&movement.arbor(at.arbor).id),
            system.torque(&at.likely),
            system.torque(&at.lossless)
        ));
    }
    if let Some(blow) = &driven.blow {
        text.push(format!(
            "  For the hammer, on the {} arbor: {} at each blow",
            named(&movement.arbor(blow.arbor).id),
            millijoules(&blow.energy)
        ));
    }
}

fn millijoules(x: &Known<quantity::Energy>) -> String {
    super::measures::spread(
        1000.0 * x.value.as_joules(),
        1000.0 * x.spread.as_joules(),
        "mJ",
    )
}

/// Words for the picture of a spring.
pub fn on_the_drawing(wound: &Wound, system: System) -> [String; 4] {
    [
        format!("wound up, {} coils", decimal(wound.up.value.as_plain(), 1)),
        format!(
            "let down, {} coils",
            decimal(wound.down.value.as_plain(), 1)
        ),
        "turns wound".to_owned(),
        format!(
            "torque: {} to {}",
            system.torque(&wound.torque[2]),
            system.torque(&wound.torque[0])
        ),
    ]
}

/// Words for the picture of a weight: at its fall, and at its drum.
pub fn at_the_weight(weight: &Weight, fallen: &Fallen, system: System) -> [String; 2] {
    let turns = fallen
        .turns
        .as_ref()
        .map_or_else(String::new, |turns| format!(", {}", number(turns, "turns")));
    [
        weight
            .fall
            .as_ref()
            .map_or_else(String::new, |fall| system.length(fall)),
        format!("{}{turns}", system.mass(&weight.mass)),
    ]
}

/// That there is too little to draw.
pub fn nothing_to_draw() -> &'static str {
    "too little is known to draw what drives it: a lost spring needs `barrel_high_mm`, a weight `fall_mm`"
}

/// What cannot be, with both figures.
pub fn wrong(movement: &Movement, arbor: ArborId, why: &Wrong) -> String {
    let on = named(&movement.arbor(arbor).id);
    let d = |x: &f64| decimal(*x, 1);
    match why {
        Wrong::Arbor { arbor, barrel } => format!(
            "the {on} arbor: a spring arbor of {} mm in a barrel of {} mm leaves no room for a spring; measure both again",
            d(arbor),
            d(barrel)
        ),
        Wrong::NoRoom { strip, room } => format!(
            "the {on} arbor: that strip's edge covers {} mm², and there are {} mm² between arbor and wall: the barrel cannot hold it and wind it; half the room is right",
            d(strip),
            d(room)
        ),
        Wrong::TooWide { strip, barrel } => format!(
            "the {on} arbor: a strip {} mm wide in a barrel {} mm high inside: the cover does not close; some tenths of air are needed",
            d(strip),
            d(barrel)
        ),
        Wrong::NoTurns { up, down } => format!(
            "the {on} arbor: {} coils wound up and {} let down: no turn to give; measure strip and barrel again",
            d(up),
            d(down)
        ),
    }
}

/// What is missing on the sheet.
pub fn power_fault(movement: &Movement, fault: &PowerFault) -> String {
    match fault {
        PowerFault::Nothing => "no spring and no weight is on the sheet; write on the arbor that is wound `spring_width_mm`, `spring_thick_mm`, `spring_long_mm`, `spring_arbor_mm` and `barrel_inside_mm` (or `spring_opens_mm` for an open spring), or `weight_g`, `drum_mm`, `cord_mm` (or `double_cord_mm`) and `fall_mm`".to_owned(),
        PowerFault::Missing { arbor, keys } => {
            let keys: Vec<String> = keys.iter().map(|key| format!("`{key}`")).collect();
            format!(
                "the {} arbor has no {}; what is measured there tells nothing without",
                named(&movement.arbor(*arbor).id),
                list(&keys)
            )
        }
        PowerFault::NotPositive { arbor, key } => format!(
            "`{key}` on the {} arbor is 0 or less; expected more than 0",
            named(&movement.arbor(*arbor).id)
        ),
    }
}

/// An arbor that nothing drives.
pub fn nothing_on(arbor: &str) -> String {
    format!("no spring and no weight on the {} arbor", named(arbor))
}
