//! What another strip in a spring's place would do, in words.

use super::{NestedLine, strip};
use crate::measures::{count_of, energy, length, number, torque};
use crate::{Words, say};
use drive::assumed::FELT;
use drive::{Beside, Wound};
use quantity::{Known, Number};
use tasks::Belongs;

/// The torque of another strip beside that of the one that is there, and what follows.
fn torques(words: &Words, other: &Beside, here: &Wound, strikes: bool) -> Vec<String> {
    let [up, half] = [0, 1].map(|i| torque(words, &other.wound.torque[i]));
    let [up_now, half_now] = [0, 1].map(|i| torque(words, &here.torque[i]));
    let mut told = vec![say!(
        words,
        "power-beside",
        up = up,
        up_now = up_now,
        half = half,
        half_now = half_now
    )];
    told.extend(follows(words, other, strikes));
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
fn follows(words: &Words, other: &Beside, strikes: bool) -> Option<String> {
    let (over, paces) = (other.over?, other.paces()?);
    let felt = [0, 1].map(|i| Felt::of(&over[i]));
    let [up_pace, half_pace] = [0, 1].map(|i| number(words, &paces[i]));
    let train = if strikes { "strike" } else { "going" };
    let follows = if felt[0] == felt[1] {
        say!(
            words,
            "power-follows-all",
            train = train,
            felt = felt[0].key(),
            up_pace = up_pace,
            pace = half_pace
        )
    } else {
        let up = say!(
            words,
            "power-follows-up",
            train = train,
            felt = felt[0].key(),
            pace = up_pace
        );
        let half = say!(
            words,
            "power-follows-half",
            train = train,
            felt = felt[1].key(),
            pace = half_pace
        );
        format!("{up}; {half}")
    };
    let [up, half] = [0, 1].map(|i| number(words, &over[i]));
    Some(say!(
        words,
        "power-follows",
        up = up,
        half = half,
        follows = follows
    ))
}

/// What another strip in its place would do.
pub(super) fn in_place(words: &Words, other: &Beside, here: &Wound, strikes: bool) -> NestedLine {
    let [turns, before] = [&other.wound.turns, &here.turns].map(|x| number(words, x));
    let mut beneath = vec![say!(
        words,
        "power-instead-turns",
        turns = turns,
        before = before
    )];
    beneath.extend(torques(words, other, here, strikes));
    beneath.push(say!(
        words,
        "power-instead-stored",
        stored = energy(words, &other.wound.stored)
    ));
    NestedLine {
        says: say!(words, "power-instead", strip = strip(words, &other.strip)),
        beneath,
    }
}

/// The strip that belongs there, beside the one that is there.
pub(super) fn belongs(words: &Words, best: &Belongs, here: &Wound, strikes: bool) -> NestedLine {
    let [thick, long] = [&best.fitting.thick, &best.fitting.long].map(|x| length(words, x));
    let beside = best.beside.as_ref();
    NestedLine {
        says: say!(
            words,
            "power-belongs",
            turns = count_of(words, &best.turns, "turns"),
            thick = thick,
            long = long
        ),
        beneath: beside.map_or_else(Vec::new, |other| torques(words, other, here, strikes)),
    }
}
