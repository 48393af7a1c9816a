//! Pendulums and rating, in words.

use super::measures::{System, gravity, number, pace, rate, spread};
use super::{list, quoted};
use crate::page::cautions::{Danger, danger};
use quantity::{Known, Slant, Warmth};
use workshop::pendulum::{NoPendulum, Rod, Said, SwingFault, Want};

/// All that follows, and what is lacking for the rest.
pub fn pendulum_text(
    name: Option<&str>,
    (said, wants): (&[Said], &[Want]),
    dangers: &[Danger],
    system: System,
) -> String {
    let mut text = Vec::new();
    if let Some(name) = name {
        text.extend([name.to_owned(), String::new()]);
    }
    text.extend(said.iter().map(|said| one(said, system)));
    if !said.is_empty() {
        text.push(String::new());
        text.push(
            "± is one standard deviation. A rate is that of the pendulum alone: what the escapement does is not in it."
                .to_owned(),
        );
    }
    for one in dangers {
        text.push(format!(
            "Caution. {}",
            danger(&crate::Words::default(), one)
        ));
    }
    if !wants.is_empty() {
        if !said.is_empty() {
            text.push(String::new());
        }
        text.push("To be told more, say:".to_owned());
        text.extend(wants.iter().map(|w| format!("  {}", want(*w))));
    }
    text.push(String::new());
    text.join("\n")
}

/// A length, as it stands on a drawing.
pub fn long(length: &Known<quantity::Length>, system: System) -> String {
    system.length(length)
}

/// One thing that follows.
pub fn one(said: &Said, system: System) -> String {
    let s = system;
    match said {
        Said::Falls(g, true) => format!("Gravity there: {}.", gravity(g)),
        Said::Falls(g, false) => format!("Gravity, wherever clocks go: {}.", gravity(g)),
        Said::LengthFor(beats, length) => format!(
            "{} beats {}: a simple pendulum of {}.",
            spread(beats.value.as_per_hour(), beats.spread.as_per_hour(), ""),
            "an hour",
            s.length(length)
        ),
        Said::BeatsOf(length, beats) => {
            format!("A pendulum of {} beats {}.", s.length(length), pace(beats))
        }
        Said::Against(by, _) => format!(
            "As it hangs the clock {}, as far as its length tells.",
            rate(by)
        ),
        Said::Compound(swing) => format!(
            "All its pieces together, {}, swing as a simple pendulum of {}; their weight hangs {} below the suspension.",
            s.mass(&swing.mass),
            s.length(&swing.length),
            s.length(&swing.centre)
        ),
        Said::Arc(half, by) => format!(
            "Swinging {} to either side it {} against one that hardly swings.",
            slant(half),
            rate(by)
        ),
        Said::Wider(to, by) => format!("At {} to either side it {} more.", slant(to), rate(by)),
        Said::Warmer(rod, by, gain) => format!(
            "A rod of {}, {} {}: the clock {}.",
            rod_name(*rod),
            warmth(by, s),
            if by.value.as_celsius() < 0.0 {
                "colder"
            } else {
                "warmer"
            },
            rate(gain)
        ),
        Said::Buoyed(by) => format!("Borne by the air, against none, it {}.", rate(by)),
        Said::Thinner(by) => format!("With that change of the air it {}.", rate(by)),
        Said::Moved(by) => format!("Moved to the other place, the clock {}.", rate(by)),
        Said::NutTurn(turn, division) => format!(
            "One turn of the nut up {}{}.",
            rate(turn),
            division.as_ref().map_or_else(String::new, |division| {
                format!("; one division {}", rate(division))
            })
        ),
        Said::NutFor(gains, longer, turns) => nut_for(gains, longer, turns.as_ref(), s),
        Said::LaidOn(small, below, by) => format!(
            "{} laid on {} below the suspension: the clock {}.",
            s.mass(small),
            s.length(below),
            rate(by)
        ),
        Said::Shoulder(gains, mass) => {
            let off = mass.value.as_g() < 0.0;
            let size = Known::new(quantity::Mass::g(mass.value.as_g().abs()), mass.spread);
            format!(
                "Or, for a clock that {}: {} {} half way down the rod, where a small weight does most.",
                rate(gains),
                if off { "take off" } else { "lay on" },
                s.mass(&size)
            )
        }
        Said::Torsion(beats) => format!(
            "It turns from side to side {} times {}.",
            spread(beats.value.as_per_hour(), beats.spread.as_per_hour(), ""),
            "an hour"
        ),
        Said::Thickness(beats, thick) => format!(
            "For {} an hour the ribbon must be {} thick.",
            spread(beats.value.as_per_hour(), beats.spread.as_per_hour(), ""),
            s.length(thick)
        ),
    }
}

fn nut_for(
    gains: &Known<quantity::Rate>,
    longer: &Known<quantity::Length>,
    turns: Option<&(Known<quantity::Number>, Option<Known<quantity::Number>>)>,
    s: System,
) -> String {
    let up = longer.value.as_mm() < 0.0;
    let (way, word) = if up {
        ("up", "shorter")
    } else {
        ("down", "longer")
    };
    let long = Known::new(
        quantity::Length::mm(longer.value.as_mm().abs()),
        longer.spread,
    );
    let size = |x: &Known<quantity::Number>| {
        Known::new(quantity::Number::plain(x.value.as_plain().abs()), x.spread)
    };
    match turns {
        None => format!(
            "For a clock that {}: make the pendulum {} {word}.",
            rate(gains),
            s.length(&long)
        ),
        Some((turns, divisions)) => format!(
            "For a clock that {}: turn the nut {way} {}{}; that makes the pendulum {} {word}.",
            rate(gains),
            number(&size(turns), "turns"),
            divisions.as_ref().map_or_else(String::new, |divisions| {
                format!(", which is {}", number(&size(divisions), "divisions"))
            }),
            s.length(&long)
        ),
    }
}

fn slant(x: &Known<Slant>) -> String {
    format!(
        "{}°",
        spread(x.value.as_deg(), x.spread.as_deg(), "").replace(" ± ", "° ± ")
    )
}

fn warmth(x: &Known<Warmth>, system: System) -> String {
    match system {
        System::Metric => spread(x.value.as_celsius().abs(), x.spread.as_celsius(), "°C"),
        System::Inch => spread(
            x.value.as_fahrenheit().abs(),
            x.spread.as_fahrenheit(),
            "°F",
        ),
    }
}

fn rod_name(rod: Rod) -> &'static str {
    match rod {
        Rod::Deal => "wood along its grain",
        Rod::Steel => "steel",
        Rod::Iron => "iron",
        Rod::Brass => "brass",
        Rod::Zinc => "zinc",
        Rod::Glass => "glass",
        Rod::NickelSteel => "nickel steel",
        Rod::Quartz => "quartz",
    }
}

fn want(want: Want) -> &'static str {
    match want {
        Want::Length => {
            "what there is: `--length 39.14in`, `--beats 3600`, or a SHEET with an escape wheel; a pendulum in pieces with `--part`; `--ribbon` with `--disc` or `--balls` for one that turns"
        }
        Want::Place => {
            "where it hangs: `--latitude 51.5 --height 100m`; till then gravity may be anything from equator to pole"
        }
        Want::Nut => {
            "the nut: `--nut-pitch 0.7mm` or `--nut-threads 36` to the inch, and `--nut-divisions 30`"
        }
        Want::Error => {
            "what the clock does: `--gains 12`, or `--gains=-12` for one that loses, in seconds a day"
        }
        Want::Warmth => "the rod: `--rod steel --warmer 10C`",
        Want::Arc => "how far it swings: `--half-arc 2.5` degrees to one side, and `--arc-to 2`",
        Want::Mass => "its mass, for small weights: `--mass 6kg`, and `--small 1g`",
        Want::Torsion => {
            "both the ribbon and what hangs on it: `--ribbon 0.5x0.1x150mm --disc 300g@40mm`"
        }
    }
}

/// Why it cannot be, with the figures that stand against each other.
pub fn no_pendulum(why: &NoPendulum) -> String {
    let s = System::Metric;
    match why {
        NoPendulum::ForNoTrain {
            length,
            beats,
            train,
            wanted,
        } => format!(
            "a pendulum of {} beats {}, and the train asks for {}, which is a pendulum of {}: no nut brings the one to the other; measure and count again",
            s.length(length),
            pace(beats),
            pace(train),
            s.length(wanted)
        ),
        NoPendulum::Swing(SwingFault::Nothing) => {
            "the pieces weigh nothing; expected a mass above 0 in each".to_owned()
        }
        NoPendulum::Swing(SwingFault::TopHeavy) => {
            "the weight of the pieces together lies at the suspension or above it, 0 mm or less below: it does not hang".to_owned()
        }
        NoPendulum::TooStiff(beats) => format!(
            "no ribbon of that width and length turns that wheel {}; a longer or narrower one would",
            pace(beats)
        ),
        NoPendulum::NotPositive => {
            "a length, a mass, a pitch or beats of 0 or less; expected more than 0".to_owned()
        }
    }
}

/// How things are written on a command line.
pub mod forms {
    /// The air now and then.
    pub const AIRS: &str = "FROM..TO in hectopascals, such as `1013..980`";
    /// A piece of a pendulum.
    pub const PIECE: &str = "MASS@PLACE, MASS@FROM..TO or MASS@PLACE:disc=RADIUS";
    /// A strip or ribbon.
    pub const STRIP: &str = "WIDTHxTHICKxLONG, such as `19x0.4x1400mm`";
    /// What turns on a ribbon.
    pub const TURNING: &str = "MASS@RADIUS, such as `300g@40mm`";
}

/// Something that is not in its form.
pub fn bad_form(option: &str, written: &str, form: &str) -> String {
    format!(
        "`{option}` {} is not understood; expected {form}",
        quoted(written)
    )
}

/// A word that is none of those expected.
pub fn bad_word(option: &str, written: &str, words: &[&str]) -> String {
    let words: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
    format!(
        "`{option}` {} is not known; expected {}",
        quoted(written),
        list(&words).replace(" and ", " or ")
    )
}
