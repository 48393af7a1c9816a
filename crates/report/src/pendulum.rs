//! Pendulums and rating, in words.

use crate::en::breaking;
use crate::measures::{
    count_of, gravity, length, mass, measured, number, pace, rate, slant, spread, stress, warmth,
};
use crate::page::cautions::danger;
use crate::{Args, Voice, Words, args, key, say};
use draw::{Drawing, Hanging, hanging};
use quantity::{Known, Length, Pace};
use tasks::Pendulum;
use workshop::pendulum::{NoPendulum, PendulumResult, Rod, SwingFault, Want};

/// All that follows, and what is lacking for the rest.
pub fn pendulum_text(voice: &Voice, told: &Pendulum) -> String {
    let words = voice.words();
    let Pendulum { said, wants, .. } = told;
    let mut text = Vec::new();
    if let Some(movement) = &told.movement {
        text.extend([movement.name().to_owned(), String::new()]);
    }
    text.extend(said.iter().map(|said| one(words, said)));
    if !said.is_empty() {
        text.extend([String::new(), spreads(words)]);
    }
    for one in told.dangers() {
        text.push(say!(words, "caution-line", says = danger(words, &one)));
    }
    if !wants.is_empty() {
        if !said.is_empty() {
            text.push(String::new());
        }
        text.push(say!(words, "pendulum-more"));
        text.extend(wants.iter().map(|w| format!("  {}", want(voice, *w))));
    }
    text.push(String::new());
    breaking(&text.join("\n"))
}

/// What a spread is, and what is not in a rate.
pub fn spreads(words: &Words) -> String {
    say!(words, "pendulum-spreads")
}

/// What is wanted most of all that follows: the nut, the length, the beats.
pub fn answer(said: &[PendulumResult]) -> Option<&PendulumResult> {
    let order = |said: &PendulumResult| match said {
        PendulumResult::NutFor(..) => 0,
        PendulumResult::Against(..) => 1,
        PendulumResult::LengthFor(..) => 2,
        PendulumResult::Torsion(..) => 3,
        PendulumResult::Compound(..) => 4,
        PendulumResult::BeatsOf(..) => 5,
        _ => 6,
    };
    said.iter().min_by_key(|said| order(said))
}

/// Whether it says how long a pendulum is wanted, how the one that is there goes, or what its nut does.
pub fn rates(said: &PendulumResult) -> bool {
    matches!(
        said,
        PendulumResult::LengthFor(..) | PendulumResult::Against(..) | PendulumResult::NutTurn(..)
    )
}

/// The pendulum as it hangs, its length told; an empty drawing where nothing is known of it.
pub fn drawing(words: &Words, told: &Pendulum) -> Drawing {
    let wanted = told.said.iter().find_map(|said| match said {
        PendulumResult::LengthFor(_, length) => Some(*length),
        _ => None,
    });
    let there = told.said.iter().find_map(|said| match said {
        PendulumResult::BeatsOf(length, _) => Some(*length),
        _ => None,
    });
    let half_arc = told.said.iter().find_map(|said| match said {
        PendulumResult::Arc(half, _) => Some(half.value),
        _ => None,
    });
    let long = there.or(wanted);
    hanging(&Hanging {
        length: long.map_or(Length::mm(1.0), |long| long.value),
        half_arc,
        words: long.map_or_else(String::new, |long| length(words, &long)),
    })
}

/// Beats, where the words say of what.
fn beats(words: &Words, x: &Known<Pace>) -> String {
    spread(words, x.value.as_per_hour(), x.spread.as_per_hour())
}

/// One thing that follows.
pub fn one(words: &Words, said: &PendulumResult) -> String {
    match said {
        PendulumResult::Falls(g, given) => say!(
            words,
            "pendulum-falls",
            given = if *given { "yes" } else { "no" },
            gravity = gravity(words, g)
        ),
        PendulumResult::LengthFor(x, long) => say!(
            words,
            "pendulum-length-for",
            beats = beats(words, x),
            long = length(words, long)
        ),
        PendulumResult::BeatsOf(long, x) => say!(
            words,
            "pendulum-beats-of",
            long = length(words, long),
            beats = pace(words, x)
        ),
        PendulumResult::Against(by, _) => say!(words, "pendulum-against", rate = rate(words, by)),
        PendulumResult::Compound(swing) => say!(
            words,
            "pendulum-compound",
            mass = mass(words, &swing.mass),
            long = length(words, &swing.length),
            centre = length(words, &swing.centre)
        ),
        PendulumResult::Arc(half, by) => say!(
            words,
            "pendulum-arc",
            half = slant(words, half),
            rate = rate(words, by)
        ),
        PendulumResult::Wider(to, by) => say!(
            words,
            "pendulum-wider",
            half = slant(words, to),
            rate = rate(words, by)
        ),
        PendulumResult::Warmer(rod, by, gain) => say!(
            words,
            "pendulum-warmer",
            rod = rod_name(words, *rod),
            warmth = warmth(words, by),
            way = if by.value.as_celsius() < 0.0 {
                "colder"
            } else {
                "warmer"
            },
            rate = rate(words, gain)
        ),
        PendulumResult::Buoyed(by) => say!(words, "pendulum-buoyed", rate = rate(words, by)),
        PendulumResult::Thinner(by) => say!(words, "pendulum-thinner", rate = rate(words, by)),
        PendulumResult::Moved(by) => say!(words, "pendulum-moved", rate = rate(words, by)),
        PendulumResult::NutTurn(turn, division) => say!(
            words,
            "pendulum-nut-turn",
            divided = if division.is_some() { "yes" } else { "no" },
            rate = rate(words, turn),
            division = division
                .as_ref()
                .map_or_else(String::new, |x| rate(words, x))
        ),
        PendulumResult::NutFor(gains, longer, turns) => {
            nut_for(words, gains, longer, turns.as_ref())
        }
        PendulumResult::LaidOn(small, below, by) => say!(
            words,
            "pendulum-laid-on",
            way = if small.value.as_g() < 0.0 {
                "off"
            } else {
                "on"
            },
            mass = mass(words, &size(small)),
            below = length(words, below),
            rate = rate(words, by)
        ),
        PendulumResult::Shoulder(gains, small) => {
            let off = small.value.as_g() < 0.0;
            say!(
                words,
                "pendulum-shoulder",
                way = if off { "off" } else { "on" },
                rate = rate(words, gains),
                mass = mass(words, &size(small))
            )
        }
        PendulumResult::Torsion(x, shear) => say!(
            words,
            "pendulum-torsion",
            beats = beats(words, x),
            shear = stress(words, shear)
        ),
        PendulumResult::Thickness(x, thick) => say!(
            words,
            "pendulum-thickness",
            beats = beats(words, x),
            thick = length(words, thick)
        ),
    }
}

/// Without its sign.
fn size(mass: &Known<quantity::Mass>) -> Known<quantity::Mass> {
    Known::new(quantity::Mass::g(mass.value.as_g().abs()), mass.spread)
}

fn nut_for(
    words: &Words,
    gains: &Known<quantity::Rate>,
    longer: &Known<Length>,
    turns: Option<&(Known<quantity::Number>, Option<Known<quantity::Number>>)>,
) -> String {
    let up = longer.value.as_mm() < 0.0;
    let long = Known::new(Length::mm(longer.value.as_mm().abs()), longer.spread);
    let size = |x: &Known<quantity::Number>| {
        Known::new(quantity::Number::plain(x.value.as_plain().abs()), x.spread)
    };
    let (way, gains, long) = (
        if up { "up" } else { "down" },
        rate(words, gains),
        length(words, &long),
    );
    match turns {
        None => say!(
            words,
            "pendulum-longer",
            way = way,
            rate = gains,
            long = long
        ),
        Some((turns, divisions)) => say!(
            words,
            "pendulum-nut-for",
            way = way,
            divided = if divisions.is_some() { "yes" } else { "no" },
            rate = gains,
            long = long,
            turns = count_of(words, &size(turns), "turns"),
            divisions = divisions.as_ref().map_or_else(String::new, |x| {
                measured(words, number(words, &size(x)), "divisions")
            })
        ),
    }
}

/// What a rod is of, as a word.
pub fn rod_name(words: &Words, rod: Rod) -> String {
    let name = match rod {
        Rod::Deal => "wood",
        Rod::Steel => "steel",
        Rod::Iron => "iron",
        Rod::Brass => "brass",
        Rod::Zinc => "zinc",
        Rod::Glass => "glass",
        Rod::NickelSteel => "nickel-steel",
        Rod::Quartz => "quartz",
    };
    say!(words, "rod", rod = name)
}

/// What is lacking, and what it would tell.
pub fn want(voice: &Voice, want: Want) -> String {
    let key = match want {
        Want::Length => key!("want-length"),
        Want::Place => key!("want-place"),
        Want::Nut => key!("want-nut"),
        Want::Error => key!("want-error"),
        Want::Warmth => key!("want-warmth"),
        Want::Arc => key!("want-arc"),
        Want::Mass => key!("want-mass"),
        Want::Torsion => key!("want-torsion"),
    };
    let asked: Args<'_> = args![asked = voice.selector()];
    voice.words().say(key, asked)
}

/// Why it cannot be, with the figures that stand against each other.
pub fn no_pendulum(words: &Words, why: &NoPendulum) -> String {
    match why {
        NoPendulum::ForNoTrain {
            length: long,
            beats,
            train,
            wanted,
        } => say!(
            words,
            "pendulum-for-no-train",
            long = length(words, long),
            beats = pace(words, beats),
            train = pace(words, train),
            wanted = length(words, wanted)
        ),
        NoPendulum::Swing(SwingFault::Nothing) => say!(words, "pendulum-weighs-nothing"),
        NoPendulum::Swing(SwingFault::TopHeavy) => say!(words, "pendulum-top-heavy"),
        NoPendulum::TooStiff(beats) => {
            say!(words, "pendulum-too-stiff", beats = pace(words, beats))
        }
        NoPendulum::Below {
            below,
            length: long,
        } => say!(
            words,
            "pendulum-below",
            below = length(words, below),
            long = length(words, long)
        ),
        NoPendulum::Nut {
            pitch,
            length: long,
        } => say!(
            words,
            "pendulum-nut-too-coarse",
            pitch = length(words, pitch),
            long = length(words, long)
        ),
        NoPendulum::NotPositive => say!(words, "pendulum-not-positive"),
        NoPendulum::Boundless => say!(words, "pendulum-boundless"),
    }
}
