//! Pendulums and rating, in words.

use crate::en::breaking;
use crate::measures::{
    count_of, gravity, length, mass, measured, number, pace, rate, slant, spread, stress, warmth,
};
use crate::page::cautions::danger;
use crate::{Args, Locale, Voice, args, key, say};
use draw::{Drawing, Hanging, hanging};
use quantity::{Known, Length, Measure, Pace};
use tasks::Pendulum;
use workshop::pendulum::{
    NoPendulum, NutTurned, OtherSuspension, PendulumResult, Rod, SwingFault, Want,
};

/// All that follows, and what is lacking for the rest.
pub fn pendulum_text(voice: &Voice, told: &Pendulum) -> String {
    let locale = voice.locale();
    let Pendulum { said, wants, .. } = told;
    let mut text = Vec::new();
    if let Some(movement) = &told.movement {
        text.extend([movement.name().to_owned(), String::new()]);
    }
    text.extend(said.iter().map(|said| one(locale, said)));
    if !said.is_empty() {
        text.extend([String::new(), spreads(locale)]);
    }
    for one in told.dangers() {
        text.push(say!(locale, "caution-line", says = danger(locale, &one)));
    }
    if !wants.is_empty() {
        if !said.is_empty() {
            text.push(String::new());
        }
        text.push(say!(locale, "pendulum-more"));
        text.extend(wants.iter().map(|w| format!("  {}", want(voice, *w))));
    }
    text.push(String::new());
    breaking(&text.join("\n"))
}

/// What a spread is, and what is not in a rate.
pub fn spreads(locale: &Locale) -> String {
    say!(locale, "pendulum-spreads")
}

/// What is wanted most of all that follows: the nut, the length, the beats.
pub fn answer(said: &[PendulumResult]) -> Option<&PendulumResult> {
    let order = |said: &PendulumResult| match said {
        PendulumResult::NutFor(..) => 0,
        PendulumResult::Resuspended(other, ..) if other.strip.is_some() => 1,
        PendulumResult::Against(..) => 2,
        PendulumResult::LengthFor(..) => 3,
        PendulumResult::Torsion(..) => 4,
        PendulumResult::Compound(..) => 5,
        PendulumResult::BeatsOf(..) => 6,
        _ => 7,
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
pub fn drawing(locale: &Locale, told: &Pendulum) -> Drawing {
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
        words: long.map_or_else(String::new, |long| length(locale, &long)),
    })
}

/// Beats, where the words say of what.
fn beats(locale: &Locale, x: &Known<Pace>) -> String {
    spread(locale, x.value.as_per_hour(), x.spread.as_per_hour())
}

/// One thing that follows.
pub fn one(locale: &Locale, said: &PendulumResult) -> String {
    match said {
        PendulumResult::Falls(g, given) => say!(
            locale,
            "pendulum-falls",
            given = if *given { "yes" } else { "no" },
            gravity = gravity(locale, g)
        ),
        PendulumResult::LengthFor(x, long) => say!(
            locale,
            "pendulum-length-for",
            beats = beats(locale, x),
            long = length(locale, long)
        ),
        PendulumResult::BeatsOf(long, x) => say!(
            locale,
            "pendulum-beats-of",
            long = length(locale, long),
            beats = pace(locale, x)
        ),
        PendulumResult::Against(by, _) => say!(locale, "pendulum-against", rate = rate(locale, by)),
        PendulumResult::Compound(swing) => say!(
            locale,
            "pendulum-compound",
            mass = mass(locale, &swing.mass),
            long = length(locale, &swing.length),
            centre = length(locale, &swing.centre)
        ),
        PendulumResult::Arc(half, by) => say!(
            locale,
            "pendulum-arc",
            half = slant(locale, half),
            rate = rate(locale, by)
        ),
        PendulumResult::Wider(to, by) => say!(
            locale,
            "pendulum-wider",
            half = slant(locale, to),
            rate = rate(locale, by)
        ),
        PendulumResult::Warmer(rod, by, gain) => say!(
            locale,
            "pendulum-warmer",
            rod = rod_name(locale, *rod),
            warmth = warmth(locale, by),
            way = if by.value.as_celsius() < 0.0 {
                "colder"
            } else {
                "warmer"
            },
            rate = rate(locale, gain)
        ),
        PendulumResult::Buoyed(by) => say!(locale, "pendulum-buoyed", rate = rate(locale, by)),
        PendulumResult::Thinner(by) => say!(locale, "pendulum-thinner", rate = rate(locale, by)),
        PendulumResult::Moved(by) => say!(locale, "pendulum-moved", rate = rate(locale, by)),
        PendulumResult::NutTurn(turn, division) => say!(
            locale,
            "pendulum-nut-turn",
            divided = if division.is_some() { "yes" } else { "no" },
            rate = rate(locale, turn),
            division = division
                .as_ref()
                .map_or_else(String::new, |x| rate(locale, x))
        ),
        PendulumResult::NutFor(gains, longer, turns) => {
            nut_for(locale, gains, longer, turns.as_ref())
        }
        PendulumResult::LaidOn(small, below, by) => say!(
            locale,
            "pendulum-laid-on",
            way = if small.value.as_g() < 0.0 {
                "off"
            } else {
                "on"
            },
            mass = mass(locale, &unsigned(small)),
            below = length(locale, below),
            rate = rate(locale, by)
        ),
        PendulumResult::Shoulder(gains, small) => {
            let off = small.value.as_g() < 0.0;
            say!(
                locale,
                "pendulum-shoulder",
                way = if off { "off" } else { "on" },
                rate = rate(locale, gains),
                mass = mass(locale, &unsigned(small))
            )
        }
        PendulumResult::Suspended(bend, stiff) => say!(
            locale,
            "pendulum-suspended",
            turns = length(locale, &bend.turns),
            shorter = length(locale, &bend.shorter),
            stiff = stress(locale, stiff)
        ),
        PendulumResult::Resuspended(other, longer, turns) => {
            let does = other_strip(locale, other);
            let right = put_right(locale, longer, turns.as_ref());
            format!("{does} {right}")
        }
        PendulumResult::Torsion(x, shear) => say!(
            locale,
            "pendulum-torsion",
            beats = beats(locale, x),
            shear = stress(locale, shear)
        ),
        PendulumResult::Thickness(x, thick) => say!(
            locale,
            "pendulum-thickness",
            beats = beats(locale, x),
            thick = length(locale, thick)
        ),
    }
}

/// What another strip does.
fn other_strip(locale: &Locale, other: &OtherSuspension) -> String {
    let way = if other.lower.value.as_mm() < 0.0 {
        "higher"
    } else {
        "lower"
    };
    let (by, rate) = (
        length(locale, &unsigned(&other.lower)),
        rate(locale, &other.gains),
    );
    match &other.strip {
        None => say!(locale, "pendulum-thicker", way = way, by = by, rate = rate),
        Some(strip) => say!(
            locale,
            "pendulum-other-strip",
            wide = length(locale, &strip.width),
            thick = length(locale, &strip.thick),
            long = length(locale, &strip.long),
            way = way,
            by = by,
            rate = rate
        ),
    }
}

/// What is done for the rate that another strip gave.
fn put_right(locale: &Locale, longer: &Known<Length>, turns: Option<&NutTurned>) -> String {
    let way = if longer.value.as_mm() < 0.0 {
        "up"
    } else {
        "down"
    };
    let long = length(locale, &unsigned(longer));
    let Some((turns, divisions)) = turns else {
        return say!(locale, "pendulum-right-length", way = way, long = long);
    };
    say!(
        locale,
        "pendulum-right-nut",
        way = way,
        divided = if divisions.is_some() { "yes" } else { "no" },
        long = long,
        turns = count_of(locale, &unsigned(turns), "turns"),
        divisions = divisions.as_ref().map_or_else(String::new, |x| {
            measured(locale, number(locale, &unsigned(x)), "divisions")
        })
    )
}

/// Without its sign.
fn unsigned<Q: Measure>(of: &Known<Q>) -> Known<Q> {
    Known::new(Q::of(of.value.base().abs()), of.spread)
}

fn nut_for(
    locale: &Locale,
    gains: &Known<quantity::Rate>,
    longer: &Known<Length>,
    turns: Option<&NutTurned>,
) -> String {
    let up = longer.value.as_mm() < 0.0;
    let long = unsigned(longer);
    let (way, gains, long) = (
        if up { "up" } else { "down" },
        rate(locale, gains),
        length(locale, &long),
    );
    match turns {
        None => say!(
            locale,
            "pendulum-longer",
            way = way,
            rate = gains,
            long = long
        ),
        Some((turns, divisions)) => say!(
            locale,
            "pendulum-nut-for",
            way = way,
            divided = if divisions.is_some() { "yes" } else { "no" },
            rate = gains,
            long = long,
            turns = count_of(locale, &unsigned(turns), "turns"),
            divisions = divisions.as_ref().map_or_else(String::new, |x| {
                measured(locale, number(locale, &unsigned(x)), "divisions")
            })
        ),
    }
}

/// What a rod is of, as a word.
pub fn rod_name(locale: &Locale, rod: Rod) -> String {
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
    say!(locale, "rod", rod = name)
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
        Want::Suspension => key!("want-suspension"),
        Want::Torsion => key!("want-torsion"),
    };
    let asked: Args<'_> = args![asked = voice.selector()];
    voice.locale().say(key, asked)
}

/// Why it cannot be, with the figures that stand against each other.
pub fn no_pendulum(locale: &Locale, why: &NoPendulum) -> String {
    match why {
        NoPendulum::ForNoTrain {
            length: long,
            beats,
            train,
            wanted,
        } => say!(
            locale,
            "pendulum-for-no-train",
            long = length(locale, long),
            beats = pace(locale, beats),
            train = pace(locale, train),
            wanted = length(locale, wanted)
        ),
        NoPendulum::Swing(SwingFault::Nothing) => say!(locale, "pendulum-weighs-nothing"),
        NoPendulum::Swing(SwingFault::TopHeavy) => say!(locale, "pendulum-top-heavy"),
        NoPendulum::TooStiff(beats) => {
            say!(locale, "pendulum-too-stiff", beats = pace(locale, beats))
        }
        NoPendulum::Below {
            below,
            length: long,
        } => say!(
            locale,
            "pendulum-below",
            below = length(locale, below),
            long = length(locale, long)
        ),
        NoPendulum::Nut {
            pitch,
            length: long,
        } => say!(
            locale,
            "pendulum-nut-too-coarse",
            pitch = length(locale, pitch),
            long = length(locale, long)
        ),
        NoPendulum::Suspension { long, length: hung } => say!(
            locale,
            "pendulum-suspension-long",
            strip = length(locale, long),
            long = length(locale, hung)
        ),
        NoPendulum::NotPositive => say!(locale, "pendulum-not-positive"),
        NoPendulum::Boundless => say!(locale, "pendulum-boundless"),
    }
}
