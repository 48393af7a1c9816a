//! What another strip in a spring's place would do, in words.

use super::{NestedLine, strip};
use crate::measures::{count_of, energy, length, number, torque};
use crate::{Locale, say};
use drive::assumed::FELT;
use drive::{Beside, Wound};
use quantity::{Known, Number};
use tasks::Belongs;

/// The torque of another strip beside that of the one that is there, and what follows.
fn torques(locale: &Locale, other: &Beside, here: &Wound, strikes: bool) -> Vec<String> {
    let [up, half] = [0, 1].map(|i| torque(locale, &other.wound.torque[i]));
    let [up_now, half_now] = [0, 1].map(|i| torque(locale, &here.torque[i]));
    let mut told = vec![say!(
        locale,
        "power-beside",
        up = up,
        up_now = up_now,
        half = half,
        half_now = half_now
    )];
    told.extend(follows(locale, other, strikes));
    told
}

/// How the torque of another strip is felt beside that of the one that is there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Felt {
    More,
    Less,
    Like,
}

impl Felt {
    /// Of one torque over the other.
    fn of(over: &Known<Number>) -> Felt {
        let more = over.value.as_plain() - 1.0;
        if more > FELT.value {
            Felt::More
        } else if more < -FELT.value {
            Felt::Less
        } else {
            Felt::Like
        }
    }

    fn key(self) -> &'static str {
        match self {
            Felt::More => "more",
            Felt::Less => "less",
            Felt::Like => "like",
        }
    }
}

/// What follows from the torque of another strip, wound up and half way: each is told for itself where they differ.
fn follows(locale: &Locale, other: &Beside, strikes: bool) -> Option<String> {
    let (over, paces) = (other.over?, other.paces()?);
    let felt = [0, 1].map(|i| Felt::of(&over[i]));
    let [up_pace, half_pace] = [0, 1].map(|i| number(locale, &paces[i]));
    let train = if strikes { "strike" } else { "going" };
    let follows = if felt[0] == felt[1] {
        say!(
            locale,
            "power-follows-all",
            train = train,
            felt = felt[0].key(),
            up_pace = up_pace,
            pace = half_pace
        )
    } else {
        let up = say!(
            locale,
            "power-follows-up",
            train = train,
            felt = felt[0].key(),
            pace = up_pace
        );
        let half = say!(
            locale,
            "power-follows-half",
            train = train,
            felt = felt[1].key(),
            pace = half_pace
        );
        format!("{up}; {half}")
    };
    let [up, half] = [0, 1].map(|i| number(locale, &over[i]));
    Some(say!(
        locale,
        "power-follows",
        up = up,
        half = half,
        follows = follows
    ))
}

/// What another strip in its place would do.
pub(super) fn in_place(locale: &Locale, other: &Beside, here: &Wound, strikes: bool) -> NestedLine {
    let [turns, before] = [&other.wound.turns, &here.turns].map(|x| number(locale, x));
    let mut beneath = vec![say!(
        locale,
        "power-instead-turns",
        turns = turns,
        before = before
    )];
    beneath.extend(torques(locale, other, here, strikes));
    beneath.push(say!(
        locale,
        "power-instead-stored",
        stored = energy(locale, &other.wound.stored)
    ));
    NestedLine {
        says: say!(locale, "power-instead", strip = strip(locale, &other.strip)),
        beneath,
    }
}

/// The strip that belongs there, beside the one that is there.
pub(super) fn belongs(locale: &Locale, best: &Belongs, here: &Wound, strikes: bool) -> NestedLine {
    let [thick, long] = [&best.fitting.thick, &best.fitting.long].map(|x| length(locale, x));
    let beside = best.beside.as_ref();
    NestedLine {
        says: say!(
            locale,
            "power-belongs",
            turns = count_of(locale, &best.turns, "turns"),
            thick = thick,
            long = long
        ),
        beneath: beside.map_or_else(Vec::new, |other| torques(locale, other, here, strikes)),
    }
}
