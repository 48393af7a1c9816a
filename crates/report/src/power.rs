//! What drives a train, in words.

mod instead;

use crate::en::{all_ticked, breaking, decimal, ticked};
use crate::measures::{
    count_of, energy, length, mass, measured, millijoules, number, stress, time, torque,
};
use crate::page::cautions::danger;
use crate::page::named;
use crate::{Locale, Voice, say};
use draw::{Coiled, Drawing, Falling, coiled, falling};
use drive::{
    BarrelRoom, Fitting, Left, PowerFault, RunTime, Spring, SpringFault, Strip, StripMeasure,
    Weight, WeightFall, Winding, Wound,
};
use instead::{belongs, in_place};
use movement::Movement;
use quantity::{Energy, Known, Number};
use tasks::{ArborDrive, Driven, MeasuredThing, Powered};

/// A line that is told, and those that belong beneath it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NestedLine {
    /// It.
    pub says: String,
    /// Beneath it.
    pub beneath: Vec<String>,
}

impl From<String> for NestedLine {
    fn from(says: String) -> NestedLine {
        let beneath = Vec::new();
        NestedLine { says, beneath }
    }
}

/// Every spring and weight, and what comes of it.
pub fn power_text(locale: &Locale, powered: &Powered) -> String {
    let Powered { movement, driven } = powered;
    let mut text = vec![movement.name().to_owned()];
    for one in driven {
        text.extend([String::new(), heading(locale, movement, one)]);
        for line in lines(locale, movement, one) {
            text.push(format!("  {}", line.says));
            text.extend(line.beneath.iter().map(|line| format!("    {line}")));
        }
    }
    text.extend([String::new(), spreads(locale)]);
    for one in powered.dangers() {
        text.push(say!(locale, "caution-line", says = danger(locale, &one)));
    }
    text.push(String::new());
    breaking(&text.join("\n"))
}

/// What a spread is, and what is not in it.
pub fn spreads(locale: &Locale) -> String {
    say!(locale, "power-spreads")
}

/// What it gives, in one sentence.
pub fn answer(locale: &Locale, movement: &Movement, driven: &Driven) -> String {
    let arbor = named(&movement.arbor(driven.arbor).id);
    match &driven.told {
        ArborDrive::Spring { wound, .. } => say!(
            locale,
            "power-says-spring",
            arbor = arbor,
            turns = count_of(locale, &wound.turns, "turns"),
            stored = energy(locale, &wound.stored),
            left = left(locale, &wound.left)
        ),
        ArborDrive::Lost(_, fitting) => say!(
            locale,
            "power-says-lost",
            arbor = arbor,
            thick = length(locale, &fitting.thick),
            long = length(locale, &fitting.long)
        ),
        ArborDrive::Weight(_, fallen) => say!(
            locale,
            "power-says-weight",
            arbor = arbor,
            torque = torque(locale, &fallen.torque)
        ),
    }
}

/// What drives it.
pub fn heading(locale: &Locale, movement: &Movement, driven: &Driven) -> String {
    let arbor = named(&movement.arbor(driven.arbor).id);
    match &driven.told {
        ArborDrive::Spring { spring, .. } => say!(
            locale,
            "power-spring",
            arbor = arbor,
            kind = if spring.barrel { "barrel" } else { "open" },
            strip = strip(locale, &spring.strip)
        ),
        ArborDrive::Lost(..) => say!(locale, "power-lost", arbor = arbor),
        ArborDrive::Weight(weight, _) => say!(
            locale,
            "power-weight",
            arbor = arbor,
            mass = mass(locale, &weight.mass),
            pulley = if weight.pulley { "yes" } else { "no" }
        ),
    }
}

/// All that comes of it.
pub fn lines(locale: &Locale, movement: &Movement, driven: &Driven) -> Vec<NestedLine> {
    let strikes =
        (movement.strike()).is_some_and(|strike| movement.same_train(strike.read_at, driven.arbor));
    let mut lines: Vec<NestedLine> = Vec::new();
    lines.extend(clash(locale, &driven.winding).map(NestedLine::from));
    lines.extend(overstressed(locale, driven).map(NestedLine::from));
    lines.extend(match &driven.told {
        ArborDrive::Spring {
            wound,
            instead,
            best,
            ..
        } => {
            let mut lines = does(locale, wound);
            lines.extend((instead.as_deref()).map(|other| in_place(locale, other, wound, strikes)));
            lines.extend(
                best.as_deref()
                    .map(|best| belongs(locale, best, wound, strikes)),
            );
            lines
        }
        ArborDrive::Lost(room, fitting) => lost(locale, room, fitting),
        ArborDrive::Weight(_, fallen) => falls(locale, fallen),
    });
    lines.push(runs(locale, driven.run.as_ref()).into());
    lines.extend(must_run(locale, driven).map(NestedLine::from));
    lines.extend(down(locale, movement, driven));
    lines
}

/// That no spring bears the stress that comes of what was counted and measured on this one.
fn overstressed(locale: &Locale, driven: &Driven) -> Option<String> {
    let ArborDrive::Spring { wound, .. } = &driven.told else {
        return None;
    };
    let bears = wound.overstressed()?;
    Some(say!(
        locale,
        "power-overstressed",
        stress = stress(locale, &wound.stress),
        bears = stress(locale, &bears)
    ))
}

/// How many turns a run that was asked for takes, beside those that there are.
fn must_run(locale: &Locale, driven: &Driven) -> Option<String> {
    let (run, turns) = driven.asked.as_ref()?;
    let time = time(locale, run);
    let Some(turns) = turns else {
        return Some(say!(locale, "power-must-unknown", time = time));
    };
    let gives = driven.winding.given.or(driven.winding.counted);
    let enough = gives.map(|gives| gives.value.as_plain() >= turns.value.as_plain());
    Some(say!(
        locale,
        "power-must",
        enough = match (&driven.told, enough) {
            (ArborDrive::Lost(..), _) | (_, None) => "unknown",
            (_, Some(true)) => "yes",
            (_, Some(false)) => "no",
        },
        time = time,
        turns = count_of(locale, turns, "turns"),
        gives = gives.map_or_else(String::new, |gives| count_of(locale, &gives, "turns"))
    ))
}

fn down(locale: &Locale, movement: &Movement, driven: &Driven) -> Vec<NestedLine> {
    if driven.train.len() < 2 {
        return Vec::new();
    }
    let half = match driven.told {
        ArborDrive::Weight(..) => "no",
        _ => "yes",
    };
    let each = driven.train[1..].iter().map(|at| {
        // In a terminal the figures stand beneath each other.
        let arbor = format!("{:12}", named(&movement.arbor(at.arbor).id));
        let [likely, lossless] = [&at.likely, &at.lossless].map(|x| torque(locale, x));
        say!(
            locale,
            "power-at",
            arbor = arbor,
            likely = likely,
            lossless = lossless
        )
    });
    let mut lines = vec![NestedLine {
        says: say!(locale, "power-down", half = half),
        beneath: each.collect(),
    }];
    if let Some(blow) = &driven.blow {
        let arbor = named(&movement.arbor(blow.arbor).id);
        let energy = millijoules(locale, &blow.energy);
        lines.push(say!(locale, "power-blow", arbor = arbor, energy = energy).into());
    }
    lines
}

fn strip(locale: &Locale, strip: &Strip) -> String {
    let [wide, thick, long] = [&strip.width, &strip.thick, &strip.long].map(|x| length(locale, x));
    say!(locale, "strip", wide = wide, thick = thick, long = long)
}

fn does(locale: &Locale, wound: &Wound) -> Vec<NestedLine> {
    let [turns, down, up] = [&wound.turns, &wound.down, &wound.up].map(|x| number(locale, x));
    let mut lines = vec![say!(locale, "power-turns", turns = turns, down = down, up = up).into()];
    if let Some(fill) = &wound.fill {
        let part = fill.value.as_plain();
        let much = if part > 0.55 {
            "much"
        } else if part < 0.33 {
            "little"
        } else {
            "right"
        };
        let part = number(locale, fill);
        lines.push(say!(locale, "power-fill", much = much, part = part).into());
    }
    let [up, half, down] = [0, 1, 2].map(|i| torque(locale, &wound.torque[i]));
    lines.push(
        say!(
            locale,
            "power-torque",
            up = up,
            half = half,
            down = down,
            turn = torque(locale, &wound.per_turn)
        )
        .into(),
    );
    lines.push(
        say!(
            locale,
            "power-stored",
            stored = energy(locale, &wound.stored),
            fall = kilogram_falls(locale, wound.stored.value),
            left = left(locale, &wound.left)
        )
        .into(),
    );
    lines.push(
        say!(
            locale,
            "power-stress",
            stress = stress(locale, &wound.stress)
        )
        .into(),
    );
    lines
}

/// How far a kilogram falls for so much energy: in metres, and where it is less than a tenth in millimetres; never nothing.
fn kilogram_falls(locale: &Locale, x: Energy) -> String {
    let metres = x.as_joules() / 9.81;
    if metres >= 0.1 {
        return measured(locale, locale.decimal(metres, 1), "m");
    }
    let millimetres = 1000.0 * metres;
    let places = usize::from(millimetres < 9.5);
    measured(locale, locale.decimal(millimetres.max(0.1), places), "mm")
}

/// What is in it still. Where its spread would reach below nothing it is told by its mean and by what one in twenty passes.
fn left(locale: &Locale, left: &Left) -> String {
    let (mean, spread) = (
        left.energy.value.as_joules(),
        left.energy.spread.as_joules(),
    );
    let nothing = left.one_in_twenty.as_joules() < LEAST_J;
    let how = match (left.counted, mean > 2.0 * spread) {
        (true, _) if nothing => "counted-nothing",
        (true, true) => "counted",
        (true, false) => "counted-about",
        (false, _) if nothing => "guessed-nothing",
        (false, _) => "guessed",
    };
    say!(
        locale,
        "power-left",
        how = how,
        known = energy(locale, &left.energy),
        about = about(locale, left.energy.value, "about"),
        most = about(locale, left.one_in_twenty, "known")
    )
}

/// Joules below which it is not said how few.
const LEAST_J: f64 = 0.01;

/// Energy that is known to its size only; never nothing.
fn about(locale: &Locale, x: Energy, kind: &'static str) -> String {
    let joules = x.as_joules();
    let places = match joules {
        10.0.. => 0,
        0.095..10.0 => 1,
        _ => 2,
    };
    let number = locale.decimal(joules.max(LEAST_J), places);
    let number = measured(locale, number, "j");
    let kind = if joules < LEAST_J { "less" } else { kind };
    say!(locale, "power-about", kind = kind, number = number)
}

/// That turns as counted and as given cannot both be right.
fn clash(locale: &Locale, winding: &Winding) -> Option<String> {
    let [counted, given] = winding.clash()?;
    let fewer = counted.value.as_plain() <= given.value.as_plain();
    Some(say!(
        locale,
        "power-clash",
        by = if winding.falls { "fall" } else { "spring" },
        counted = count_of(locale, &counted, "turns"),
        given = count_of(locale, &given, "turns"),
        used = if fewer { "counted" } else { "given" }
    ))
}

fn lost(locale: &Locale, room: &BarrelRoom, fitting: &Fitting) -> Vec<NestedLine> {
    let [barrel, arbor] = [&room.barrel, &room.arbor].map(|x| length(locale, x));
    let turns = count_of(locale, &room.turns, "turns");
    let [thick, long] = [&fitting.thick, &fitting.long].map(|x| length(locale, x));
    let mut lines = vec![
        say!(
            locale,
            "power-room",
            barrel = barrel,
            arbor = arbor,
            turns = turns
        )
        .into(),
        say!(locale, "power-room-strip", thick = thick, long = long).into(),
    ];
    match (&fitting.width, &fitting.wound) {
        (Some(width), Some(wound)) => {
            lines.push(say!(locale, "power-room-width", width = length(locale, width)).into());
            lines.extend(does(locale, wound));
        }
        _ => lines.push(say!(locale, "power-room-unknown").into()),
    }
    lines
}

fn falls(locale: &Locale, fallen: &WeightFall) -> Vec<NestedLine> {
    let torque = torque(locale, &fallen.torque);
    let whole = match (&fallen.turns, &fallen.cord, &fallen.energy) {
        (Some(turns), Some(cord), Some(gives)) => say!(
            locale,
            "power-fall",
            turns = count_of(locale, turns, "turns"),
            cord = length(locale, cord),
            energy = energy(locale, gives)
        ),
        _ => say!(locale, "power-fall-unknown"),
    };
    vec![
        say!(locale, "power-drum", torque = torque).into(),
        whole.into(),
    ]
}

fn runs(locale: &Locale, run: Option<&RunTime>) -> String {
    let Some(run) = run else {
        return say!(locale, "power-runs-unknown");
    };
    let blows = (run.blows.as_ref()).map(|blows| count_of(locale, blows, "blows"));
    let with = if blows.is_some() { "blows" } else { "time" };
    say!(
        locale,
        "power-runs",
        with = with,
        time = time(locale, &run.time),
        blows = blows.unwrap_or_default()
    )
}

/// What drives the first arbor: a spring wound up and let down, with its torque, or a weight and its fall. Nothing where
/// a lost spring's width, or a weight's fall, is not known.
pub fn drawing(locale: &Locale, powered: &Powered) -> Option<Drawing> {
    (powered.driven.iter()).find_map(|driven| drawn(locale, driven))
}

/// What drives one arbor, drawn so.
pub fn drawn(locale: &Locale, driven: &Driven) -> Option<Drawing> {
    match &driven.told {
        ArborDrive::Spring { spring, wound, .. } => Some(sprung(locale, spring, wound)),
        ArborDrive::Lost(room, fitting) => {
            let spring = fitting.in_the_room(room)?;
            Some(sprung(locale, &spring, fitting.wound.as_ref()?))
        }
        ArborDrive::Weight(weight, fallen) => Some(falling(&Falling {
            drum: weight.drum.value,
            fall: weight.fall?.value,
            pulley: weight.pulley,
            words: at_the_weight(locale, weight, fallen),
        })),
    }
}

fn sprung(locale: &Locale, spring: &Spring, wound: &Wound) -> Drawing {
    coiled(&Coiled {
        outside: spring.outside.value,
        arbor: spring.arbor.value,
        thick: spring.strip.thick.value,
        coils: [wound.up.value.as_plain(), wound.down.value.as_plain()],
        barrel: spring.barrel,
        curve: spring.curve(40),
        words: on_the_drawing(locale, wound),
    })
}

/// Words for the picture of a spring.
fn on_the_drawing(locale: &Locale, wound: &Wound) -> [String; 4] {
    let coils = |x: &Known<Number>| locale.decimal(x.value.as_plain(), 1);
    let [down, up] = [2, 0].map(|i| torque(locale, &wound.torque[i]));
    [
        say!(locale, "power-drawn-up", coils = coils(&wound.up)),
        say!(locale, "power-drawn-down", coils = coils(&wound.down)),
        say!(locale, "power-drawn-turns"),
        say!(locale, "power-drawn-torque", down = down, up = up),
    ]
}

/// Words for the picture of a weight: at its fall, and at its drum.
fn at_the_weight(locale: &Locale, weight: &Weight, fallen: &WeightFall) -> [String; 2] {
    let turns = fallen.turns.as_ref().map_or_else(String::new, |turns| {
        format!(", {}", count_of(locale, turns, "turns"))
    });
    [
        weight
            .fall
            .as_ref()
            .map_or_else(String::new, |fall| length(locale, fall)),
        format!("{}{turns}", mass(locale, &weight.mass)),
    ]
}

/// That there is too little to draw.
pub fn nothing_to_draw(locale: &Locale) -> String {
    say!(locale, "power-nothing-to-draw")
}

/// What cannot be, with both figures.
pub(crate) fn wrong(locale: &Locale, on: &str, why: &SpringFault) -> String {
    let on = named(on);
    let d = |x: &f64| locale.pointed(decimal(*x, 1));
    match why {
        SpringFault::Arbor { arbor, barrel } => say!(
            locale,
            "power-wrong-arbor",
            on = on,
            arbor = d(arbor),
            barrel = d(barrel)
        ),
        SpringFault::NoRoom { strip, room } => say!(
            locale,
            "power-wrong-room",
            on = on,
            strip = d(strip),
            room = d(room)
        ),
        SpringFault::TooWide { strip, barrel } => say!(
            locale,
            "power-wrong-wide",
            on = on,
            strip = d(strip),
            barrel = d(barrel)
        ),
        SpringFault::NoTurns { up, down } => {
            say!(
                locale,
                "power-wrong-turns",
                on = on,
                up = d(up),
                down = d(down)
            )
        }
        SpringFault::NoStrip { which, mm } => say!(
            locale,
            "power-wrong-strip",
            on = on,
            which = match which {
                StripMeasure::Width => "width",
                StripMeasure::Thick => "thick",
                StripMeasure::Long => "long",
            },
            mm = locale.pointed(decimal(*mm, 3))
        ),
        SpringFault::Free { free, up } => {
            say!(
                locale,
                "power-wrong-free",
                on = on,
                free = d(free),
                up = d(up)
            )
        }
    }
}

/// What is missing on the sheet.
pub(crate) fn power_fault(voice: &Voice, fault: &PowerFault) -> String {
    let locale = voice.locale();
    if let Voice::Page(_) = voice {
        return power_lacks(locale, fault);
    }
    match fault {
        PowerFault::Nothing => say!(locale, "power-nothing"),
        PowerFault::Missing { arbor, keys } => {
            say!(
                locale,
                "power-missing",
                arbor = named(arbor),
                keys = locale.list(&all_ticked(keys))
            )
        }
        PowerFault::NotPositive { arbor, key } => say!(
            locale,
            "power-not-positive",
            key = ticked(key),
            arbor = named(arbor)
        ),
    }
}

/// The same where there is a box for what is missing.
fn power_lacks(locale: &Locale, fault: &PowerFault) -> String {
    let called = |key: &&'static str| {
        let thing = MeasuredThing::all().find(|thing| thing.key() == *key);
        thing.map(|thing| say!(locale, "box-thing", thing = thing.word(), part = ""))
    };
    match fault {
        PowerFault::Nothing => say!(locale, "power-lacks-all"),
        PowerFault::Missing { arbor, keys } => {
            let things: Vec<String> = keys.iter().filter_map(called).collect();
            say!(
                locale,
                "power-lacks",
                arbor = named(arbor),
                things = things.join("; ")
            )
        }
        PowerFault::NotPositive { arbor, key } => say!(
            locale,
            "power-lacks-size",
            arbor = named(arbor),
            thing = called(key).unwrap_or_default()
        ),
    }
}
